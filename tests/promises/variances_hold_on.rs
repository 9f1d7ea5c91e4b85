//! Promise 5: variances hold on to the thing and to the value they excused. 200 moves, reformats and reorderings lose
//! none; a changed value or a passed date brings the finding back and says why.

use serde_yaml::{Mapping, Value};
use undercroft::findings::variance::Holds;
use undercroft::judge::verdict::Verdict;
use undercroft::review::{Input, Library, Review, review};

use crate::commands::example;

/// A row of numbers that is the same in every run.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    pub(crate) fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as usize) % most
    }
}

/// The keys of every section in another order.
pub(crate) fn shuffled(value: Value, dice: &mut Dice) -> Value {
    match value {
        Value::Mapping(pairs) => {
            let mut rest: Vec<(Value, Value)> = pairs.into_iter().collect();
            let mut out = Mapping::new();
            while !rest.is_empty() {
                let (key, value) = rest.remove(dice.below(rest.len()));
                out.insert(key, shuffled(value, dice));
            }
            Value::Mapping(out)
        }
        Value::Sequence(items) => {
            Value::Sequence(items.into_iter().map(|item| shuffled(item, dice)).collect())
        }
        other => other,
    }
}

/// The same lengths in other words. 8 ft 3 in is 99 in, and 25.4 mm make an inch: 2514.6 mm.
const SPELLINGS: [(&str, [&str; 4]); 2] = [
    ("8 ft 3 in", ["99 in", "8' 3\"", "8.25 ft", "2514.6 mm"]),
    ("1 ft", ["12 in", "1 ft 0 in", "1'", "304.8 mm"]),
];

pub(crate) fn respelled(value: &mut Value, dice: &mut Dice) {
    match value {
        Value::String(text) => {
            for (plain, others) in SPELLINGS {
                if text == plain && dice.below(2) == 0 {
                    *text = others[dice.below(others.len())].to_owned();
                    return;
                }
            }
        }
        Value::Mapping(pairs) => pairs.iter_mut().for_each(|(_, value)| respelled(value, dice)),
        Value::Sequence(items) => items.iter_mut().for_each(|item| respelled(item, dice)),
        _ => {}
    }
}

/// Comments, empty lines and ends of lines as another editor leaves them.
pub(crate) fn reformatted(text: &str, dice: &mut Dice) -> String {
    let end = if dice.below(2) == 0 { "\n" } else { "\r\n" };
    let mut out = String::new();
    for line in text.lines() {
        match dice.below(12) {
            0 => out.push_str(&format!("# looked at again{end}")),
            1 => out.push_str(end),
            _ => {}
        }
        out.push_str(line);
        out.push_str(end);
    }
    out
}

fn reviewed<'l>(library: &'l Library, text: &str, notes: &str, on: Option<&str>) -> Review<'l> {
    let field_notes = if notes.is_empty() { Vec::new() } else { vec![("notes.yaml", notes.as_bytes())] };
    review(&Input { name: "a.yaml", bytes: text.as_bytes(), field_notes, on, ..Input::default() }, library)
}

/// Every varied finding, in the order of their names.
fn varied(review: &Review<'_>) -> Vec<String> {
    let varied = review.findings.iter().filter(|finding| finding.verdict() == Verdict::Varied);
    let mut names: Vec<String> = varied.map(|finding| finding.identity.clone()).collect();
    names.sort();
    names
}

/// The example with its variance of stated lengths, and a second one of computed lengths.
pub(crate) fn two_variances() -> String {
    let library = Library::with(&[]);
    let text = example("07");
    let near = "kitchen_window: {kind: window, opens: yes, into: kitchen, corners: [[26 ft, 18 ft, 21 ft], [28 ft, 20 ft, 23 ft 6 in]]}";
    let start = text.find("kitchen_window:").unwrap();
    let end = start + text[start..].find('\n').unwrap();
    let text = format!("{}{near}{}", &text[..start], &text[end..]);
    let bare = reviewed(&library, &text, "", None);
    let entry =
        undercroft::render::variance_entry::started(&bare, "discharge-clear-of-openings of kitchen_window");
    let filled: String = entry
        .unwrap()
        .lines()
        .filter(|line| line.starts_with("  "))
        .map(|line| match line.trim().split_once(':') {
            Some(("reason", _)) => "    reason: the same\n".to_owned(),
            Some(("document", _)) => "    document: 26-018\n".to_owned(),
            Some(("granted_by", _)) => "    granted_by: Town of Alder\n".to_owned(),
            Some(("on", _)) => "    on: 2026-05-28\n".to_owned(),
            Some(("until", _)) => "    until: none\n".to_owned(),
            _ => format!("{line}\n"),
        })
        .collect();
    format!("{text}{filled}")
}

#[test]
fn two_hundred_moves_reformats_and_reorderings_lose_no_variance() {
    let library = Library::with(&[]);
    let text = two_variances();
    let whole = varied(&reviewed(&library, &text, "", None));
    assert_eq!(
        whole,
        ["discharge/openings of opening bath_window", "discharge/openings of opening kitchen_window"]
    );
    let tree: Value = serde_yaml::from_str(&text).unwrap();
    let mut dice = Dice(5);
    for round in 0..200 {
        let mut tree = shuffled(tree.clone(), &mut dice);
        respelled(&mut tree, &mut dice);
        // Some sections move into field notes of the same day.
        let mut notes = Mapping::new();
        for section in ["site", "looked_for", "building", "foundation", "systems", "variances"] {
            let pairs = tree.as_mapping_mut().unwrap();
            if dice.below(3) == 0
                && let Some(moved) = pairs.remove(section)
            {
                notes.insert(section.into(), moved);
            }
        }
        let written =
            |value: &Value, dice: &mut Dice| reformatted(&serde_yaml::to_string(value).unwrap(), dice);
        let design = written(&tree, &mut dice);
        let notes = if notes.is_empty() {
            String::new()
        } else {
            let mut whole = Mapping::from_iter([(Value::from("undercroft"), Value::from(1))]);
            whole.extend(notes);
            written(&Value::Mapping(whole), &mut dice)
        };
        let review = reviewed(&library, &design, &notes, None);
        assert_eq!(varied(&review), whole, "{round}: {:#?}\n{design}\n---\n{notes}", review.variances);
        assert!(review.variances.iter().all(|one| one.holds == Holds::Live), "{round}");
    }
}

#[test]
fn a_changed_value_or_a_passed_date_brings_the_finding_back_and_says_why() {
    let library = Library::with(&[]);
    let text = two_variances();
    let bath = "discharge/openings of opening bath_window";
    let kitchen = "discharge/openings of opening kitchen_window";
    let back = |text: &str, on: Option<&str>, of: &str, why: &str| {
        let review = reviewed(&library, text, "", on);
        let finding = review.findings.iter().find(|finding| finding.identity == of).unwrap();
        assert_eq!(finding.verdict(), Verdict::Unmet, "{why}");
        let look = undercroft::render::terminal::Look { width: 120, colour: false, plain: false };
        let page =
            undercroft::app::review::text(&review, undercroft::render::terminal::Show::OpenItems, look);
        assert!(page.contains(why), "{why}\n{page}");
    };
    let changed = |from: &str, to: &str| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    };
    back(
        &changed("straight: 8 ft 3 in", "straight: 8 ft 2 15/16 in"),
        None,
        bath,
        "clearance: was 8 ft 3 in, is 8 ft 2 15/16 in",
    );
    back(
        &changed("top_below: 1 ft", "top_below: 11 in"),
        None,
        bath,
        "top below discharge: was 1 ft, is 11 in",
    );
    back(&changed("[26 ft, 18 ft, 21 ft]", "[26 ft, 17 ft 11 in, 21 ft]"), None, kitchen, "clearance: was ");
    back(&text, Some("2028-06-01"), bath, "Its last day was 31 May 2028.");
    back(&text, Some("2026-05-27"), kitchen, "It was granted on 28 May 2026");
    back(&changed("written_against: r-", "written_against: r-0"), None, bath, "the requirement itself");
}
