//! Random designs, random corrections in random order: the laws hold. `UNDERCROFT_CORRECTED=2000` tries more of them.
//! A fault names the number of its design, and the number alone makes the design.

use undercroft::correct::choose::chosen;
use undercroft::review::{Input, Library};
use undercroft::yaml::splice::lay_over;

use super::laws::{holds, one_holds};
use super::of;
use super::workshop::{design, library};
use crate::promises::by_all_hands_to_the_end;

/// A small generator of numbers that look random: the same ones in every run.
struct Dice(u64);

impl Dice {
    /// Those of one design; the first rolls of numbers that lie close together would look alike.
    fn numbered(number: u64) -> Self {
        let mut dice = Self(0x5eed_0bad_cafe_f00d ^ number.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        for _ in 0..8 {
            dice.roll(2);
        }
        dice
    }

    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(sides).unwrap()).unwrap()
    }

    fn of<'t>(&mut self, list: &[&'t str]) -> &'t str {
        list[self.roll(list.len())]
    }
}

/// Entries with what can stand there: right, wrong, unknown, measured, in other units and layouts.
const ENTRIES: &[(&str, &[&str])] = &[
    (
        "systems.main.runs.ceiling.hangers",
        &["{spacing: 9 ft, fixed_to: building}", "{spacing: 2.5 m}", "12 ft", "unknown", "none"],
    ),
    (
        "systems.main.runs.riser.hangers",
        &[
            "{fixed_to: building, spacing: 110 in}",
            "{spacing: {value: 9 ft, within: 1 in}}",
            "{spacing: 5' 6\"}",
        ],
    ),
    ("systems.main.runs.stack.hangers.spacing", &["7 ft 3 in", "2200 mm", "{value: 8 ft, by: J. Ames}"]),
    (
        "foundation.areas.crawl.membrane.lap",
        &["8 in everywhere", "20 cm", "0.9 ft", "11 7/8 in", "unknown", "{value: 8 in, within: 6 in}"],
    ),
    ("systems.main.discharge.direction", &["level", "down", "up", "unknown", "\"level\""]),
    (
        "systems.main.labels",
        &["none", "{fan_label: {on: pipe, says: [what it is]}}", "{a: {on: fan}, b: {on: pipe}}", "unknown"],
    ),
    ("site.moisture", &["humid", "dry"]),
    ("site.snow", &["30 in", "0.8 m", "{value: 30 in, within: 2 in}", "unknown"]),
    ("foundation.areas.crawl.membrane.thickness", &["4 mil", "0.1 mm", "unknown"]),
    (
        "systems.main.design_point",
        &["{flow: 120 cfm, suction: 1.8 in WC}", "{flow: 120 cfm, suction: 300 Pa}", "{suction: 2.2 in WC}"],
    ),
    ("systems.main.discharge.slant", &["100 deg", "{value: 80 deg, within: 5 deg}"]),
    (
        "foundation.areas.crawl.membrane.penetrations",
        &["{pipe: {sealed: no}, post: {sealed: yes}, pier: {sealed: unknown}}", "{pipe: {what: drain pipe}}"],
    ),
    (
        "systems.main.suction_points.s2.inlet",
        &["open end", "{kind: open end}", "{kind: perforated pipe, length: 10 ft}", "unknown"],
    ),
    ("job.stage", &["design", "design", "design", "installed"]),
];

/// A design with some entries changed; lines may end as elsewhere, and remarks may stand anywhere.
fn random(dice: &mut Dice) -> String {
    let mut text = design(&[]);
    for _ in 0..dice.roll(7) {
        let (path, values) = ENTRIES[dice.roll(ENTRIES.len())];
        if let Ok(changed) = lay_over(&text, &[(path, dice.of(values))], &[]) {
            text = changed;
        }
    }
    match dice.roll(4) {
        0 => text.replace('\n', "\r\n"),
        1 => text.replace("\n    labels:", "\n    # ½ of these are up\n    labels:"),
        2 => format!("\u{feff}{text}"),
        _ => text,
    }
}

fn try_one(dice: &mut Dice, library: &Library) -> (usize, usize) {
    let text = random(dice);
    let all = of(&text, library);
    let offered = holds(&all, all.text.as_str(), library);
    let mut numbers: Vec<usize> = (1..=offered).filter(|_| dice.roll(3) > 0).collect();
    for at in (1..numbers.len()).rev() {
        numbers.swap(at, dice.roll(at + 1));
    }
    if numbers.is_empty() {
        return (offered, 0);
    }
    let input = Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() };
    let Ok(together) = chosen(&all, &input, library, &numbers) else { return (offered, 0) };
    let mut sorted = numbers.clone();
    sorted.sort_unstable();
    assert_eq!(
        chosen(&all, &input, library, &sorted).as_ref(),
        Ok(&together),
        "the order of choosing is of no matter"
    );
    // All together keep the laws for each of them.
    for (mend, _, proven) in all.offered().filter(|(_, _, proven)| numbers.contains(&proven.number)) {
        let joint = undercroft::correct::Proven {
            edits: together.edits.clone(),
            text: together.text.clone(),
            steps: all
                .offered()
                .filter(|(_, _, one)| numbers.contains(&one.number))
                .flat_map(|(_, _, one)| one.steps.clone())
                .collect(),
            ..proven.clone()
        };
        one_holds(&text, (&all.review.findings[mend.finding].identity, &joint), &all.review, library);
    }
    (offered, numbers.len())
}

#[test]
fn random_corrections_of_random_designs_in_random_order_keep_the_laws() {
    let many = std::env::var("UNDERCROFT_CORRECTED").ok().and_then(|many| many.parse().ok()).unwrap_or(12);
    let library = library();
    let numbers: Vec<u64> = (1..=many).collect();
    let seen = by_all_hands_to_the_end(&numbers, |number| try_one(&mut Dice::numbered(*number), &library));
    let (offered, together) = seen.iter().fold((0, 0), |(a, b), (one, several)| (a + one, b + several));
    println!("{many} designs, {offered} corrections offered, {together} taken together");
    assert!(offered > numbers.len() / 2, "{offered} corrections for {many} designs");
}
