//! Statements of one design that cannot all be true: each is told once, with its places, and nothing is told of a house
//! that is written down consistently. What the designs come to was worked out by hand.

use proptest::prelude::*;

use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::Sources;
use undercroft::base::value::{Answer, Value};
use undercroft::base::vocabulary::{Answers, FactId, ROOT};
use undercroft::design::read;
use undercroft::facts::catalogue;
use undercroft::facts::contradictions::contradictions;
use undercroft::facts::{Facts, vocabulary};
use undercroft::yaml::{scan, splice};

const RANCH: &str = include_str!("../examples/01-two-area-ranch/design.yaml");
const COLONIAL: &str = include_str!("../examples/05-sump-and-drain-loop/design.yaml");

fn told(text: &str) -> (Vec<Problem>, Sources) {
    let mut sources = Sources::new();
    let id = sources.add("design.yaml", text);
    let (tree, problems) = scan::read(id, text);
    assert!(problems.is_empty(), "{problems:#?}\n{text}");
    let design = read(sources.get(id).unwrap(), &tree).0;
    let mut facts = Facts::new(&design);
    (contradictions(&mut facts, &sources), sources)
}

/// One small change to a house, and what has to be told of it.
struct Case {
    house: &'static str,
    changes: &'static [(&'static str, &'static str)],
    removed: &'static [&'static str],
    kind: ProblemKind,
    /// Words of the sentence.
    says: &'static [&'static str],
    /// What stands at each of the places that have to be named.
    at: &'static [&'static str],
}

use ProblemKind::{CannotBe, Contradiction};

const DISCHARGE: &str = "systems.main.discharge";
const BATH: &str = "building.openings.bath_window.from_discharge";

const CASES: &[Case] = &[
    // The stack then ends at 18 ft 6 in + 9 ft = 27 ft 6 in; 27 ft 6 in - 24 ft = 3 ft 6 in.
    Case {
        house: RANCH,
        changes: &[("systems.main.runs.stack.up", "9 ft"), ("systems.main.discharge.above_roof", "unknown")],
        removed: &[],
        kind: Contradiction,
        says: &[
            "line 108 says 24 ft",
            "fan (line 97) and stack (line 114) give 27 ft 6 in",
            "differ by 3 ft 6 in",
        ],
        at: &["24 ft", "18 ft 6 in", "9 ft"],
    },
    // A fan with a plug has a cord.
    Case {
        house: RANCH,
        changes: &[("systems.main.wiring.connection", "cord and plug"), ("systems.main.wiring.cord", "none")],
        removed: &[],
        kind: Contradiction,
        says: &["wiring connection (line", "wiring cord (line", "do not go together"],
        at: &["cord and plug", "none"],
    },
    // The second side runs from corner to corner across the fourth.
    Case {
        house: "undercroft: 1\nfoundation:\n  areas:\n    cellar: {kind: slab, outline: [[0 ft, 0 ft], [20 ft, 20 ft], [20 ft, 0 ft], [0 ft, 20 ft]]}\n",
        changes: &[],
        removed: &[],
        kind: CannotBe,
        says: &[
            "The corners of cellar make no outline",
            "the side after corner 1 meets the side after corner 3",
        ],
        at: &["[[0 ft, 0 ft], [20 ft, 20 ft], [20 ft, 0 ft], [0 ft, 20 ft]]"],
    },
    // 30 ft along a floor of 20 ft.
    Case {
        house: "undercroft: 1\nfoundation:\n  areas:\n    cellar: {kind: slab, size: 20 ft x 10 ft, corner: [0 ft, 0 ft]}\ndiagnostics:\n  communication:\n    pull: {in: cellar, holes: {far: {at: [30 ft, 5 ft, 0 ft]}}}\n",
        changes: &[],
        removed: &[],
        kind: CannotBe,
        says: &["far", "cellar"],
        at: &["[30 ft, 5 ft, 0 ft]"],
    },
    Case {
        house: "undercroft: 1\nfoundation:\n  areas:\n    cellar: {kind: slab, size: 20 ft x 10 ft, corner: [0 ft, 0 ft]}\nstart_up:\n  field:\n    near: {in: cellar, from_walls: {west: 22 ft, south: 5 ft}}\n",
        changes: &[],
        removed: &[],
        kind: CannotBe,
        says: &["near", "cellar"],
        at: &["{west: 22 ft, south: 5 ft}"],
    },
    // A slab by its size needs no corner for that.
    Case {
        house: "undercroft: 1\nfoundation:\n  areas:\n    cellar: {kind: slab, size: 20 ft x 10 ft}\nstart_up:\n  field:\n    near: {in: cellar, from_walls: {west: 22 ft, south: 5 ft}}\n",
        changes: &[],
        removed: &[],
        kind: CannotBe,
        says: &["near", "cellar"],
        at: &["{west: 22 ft, south: 5 ft}"],
    },
    // An opening from 5 ft to 25 ft in a footing that ends at 20 ft.
    Case {
        house: "undercroft: 1\nfoundation:\n  footings:\n    middle: {kind: inner, line: [[0 ft, 10 ft], [20 ft, 10 ft]], opening: [[5 ft, 10 ft], [25 ft, 10 ft]], passes_gas: no}\n",
        changes: &[],
        removed: &[],
        kind: CannotBe,
        says: &["The opening in middle reaches beyond the footing"],
        at: &["[[5 ft, 10 ft], [25 ft, 10 ft]]", "[[0 ft, 10 ft], [20 ft, 10 ft]]"],
    },
    // 13 ft - 9 ft 6 in = 3 ft 6 in, and not 3 ft.
    Case {
        house: "undercroft: 1\nsite: {ground: {main: 1 ft}}\nbuilding: {roof: {edge: {above_ground: 9 ft 6 in}}}\nsystems:\n  main:\n    discharge: {above_roof_edge: 3 ft, above_ground: 13 ft}\n",
        changes: &[],
        removed: &[],
        kind: Contradiction,
        says: &["the height above the origin of discharge", "differ by 6 in"],
        at: &["3 ft", "13 ft"],
    },
    // 28 ft - 26 ft 6 in is 1 ft 6 in.
    Case {
        house: COLONIAL,
        changes: &[("systems.main.discharge.above_roof_edge", "2 ft")],
        removed: &[],
        kind: Contradiction,
        says: &["28 ft", "28 ft 6 in", "differ by 6 in"],
        at: &["28 ft", "2 ft", "26 ft 6 in"],
    },
    // The roof is nowhere higher than 23 ft 2 in, so that an outlet at 24 ft stands at least 10 in above it.
    Case {
        house: RANCH,
        changes: &[("systems.main.discharge.above_roof", "6 in")],
        removed: &[],
        kind: Contradiction,
        says: &["how high the outlet stands above the roof surface", "differ by at least 4 in"],
        at: &["6 in", "23 ft 2 in"],
    },
    // 39 ft off the east wall of a slab of 40 ft is 1 ft east of the corner; the runs lead to 30 ft.
    Case {
        house: RANCH,
        changes: &[("systems.main.suction_points.s1.from_walls.east", "39 ft")],
        removed: &[],
        kind: Contradiction,
        says: &["the place east of the origin of s1", "differ by 29 ft"],
        at: &["39 ft", "30 ft"],
    },
    // 24 ft - 15 ft 4 in = 8 ft 8 in.
    Case {
        house: RANCH,
        changes: &[("building.openings.kitchen_window.from_discharge", "{top_below: 7 ft}")],
        removed: &[],
        kind: Contradiction,
        says: &["the drop from the discharge to kitchen_window", "says 7 ft", "differ by 1 ft 8 in"],
        at: &["7 ft"],
    },
    // sqrt(12^2 + 5^2) = 13.
    Case {
        house: RANCH,
        changes: &[(BATH, "{away: 12 ft, top_below: 5 ft, straight: 14 ft}")],
        removed: &[],
        kind: Contradiction,
        says: &["the straight distance", "says 14 ft", "give 13 ft", "differ by 1 ft"],
        at: &["14 ft", "12 ft", "5 ft"],
    },
    Case {
        house: RANCH,
        changes: &[("foundation.areas.crawl.size", "20 ft x 16 ft")],
        removed: &[],
        kind: Contradiction,
        says: &["how far crawl reaches from east to west", "20 ft", "16 ft", "differ by 4 ft"],
        at: &["20 ft x 16 ft"],
    },
    Case {
        house: RANCH,
        changes: &[(
            "foundation.sumps",
            "{pit: {in: basement, at: [4 ft, 4 ft, 0 ft], from_walls: {west: 6 ft}}}",
        )],
        removed: &[],
        kind: Contradiction,
        says: &["the place east of the origin of pit", "differ by 2 ft"],
        at: &["4 ft", "6 ft"],
    },
    Case {
        house: RANCH,
        changes: &[(
            "diagnostics",
            "{communication: {first: {in: basement, holes: {far: {at: [4 ft, 4 ft, 0 ft], from_walls: {south: 5 ft}}}}}}",
        )],
        removed: &[],
        kind: Contradiction,
        says: &["the place north of the origin of far", "differ by 1 ft"],
        at: &["4 ft", "5 ft"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.fan.at", "{point: [30 ft, 14 ft, 18 ft 6 in], above_ground: 13 ft}")],
        removed: &[],
        kind: Contradiction,
        says: &["the height above the origin of fan", "19 ft 6 in", "differ by 1 ft"],
        at: &["18 ft 6 in", "13 ft", "6 ft 6 in"],
    },
    // What cannot be, whatever the numbers.
    Case {
        house: RANCH,
        changes: &[("systems.main.runs.drop.from", "drop")],
        removed: &[],
        kind: CannotBe,
        says: &["drop begins at its own end"],
        at: &["drop"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.runs.riser.from", "drop")],
        removed: &[],
        kind: CannotBe,
        says: &["begin each at the end of another of them, in a ring", "riser", "ceiling", "drop"],
        at: &["drop", "riser", "ceiling"],
    },
    Case {
        house: RANCH,
        changes: &[(BATH, "{straight: 3 ft, top_below: 8 ft 6 in}")],
        removed: &[],
        kind: CannotBe,
        says: &["tape to bath_window (straight) is shorter", "(top below)"],
        at: &["3 ft", "8 ft 6 in"],
    },
    Case {
        house: RANCH,
        changes: &[(BATH, "{straight: 15 ft, around: 12 ft, top_below: 8 ft 6 in}")],
        removed: &[],
        kind: CannotBe,
        says: &["tape to bath_window (around) is shorter"],
        at: &["12 ft", "15 ft"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.discharge.through_side_wall", "yes")],
        removed: &["systems.main.runs"],
        kind: CannotBe,
        says: &["come out of a side wall", "stand above the roof"],
        at: &["yes", "22 in"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.discharge.through_side_wall", "yes")],
        removed: &["systems.main.discharge.above_roof"],
        kind: CannotBe,
        says: &["come out of a side wall", "stack goes through the roof"],
        at: &["yes"],
    },
    Case {
        house: RANCH,
        changes: &[
            ("systems.main.discharge.through_side_wall", "no"),
            ("systems.main.runs.stack.pierces", "{gable: {kind: outer wall}}"),
        ],
        removed: &[],
        kind: CannotBe,
        says: &["not to come out of a side wall", "goes through a wall and through nothing else"],
        at: &["no", "{gable: {kind: outer wall}}"],
    },
    // The kitchen lies under the attic, and the top of its window at 15 ft 4 in.
    Case {
        house: RANCH,
        changes: &[("systems.main.fan.at", "[30 ft, 14 ft, 8 ft 6 in]")],
        removed: &["systems.main.runs", "systems.main.suction_points"],
        kind: CannotBe,
        says: &["said to stand in attic", "below the top of kitchen_window in kitchen"],
        at: &["attic", "[30 ft, 14 ft, 8 ft 6 in]"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.fan.in", "crawl"), ("building.spaces.den.floor", "8 ft")],
        removed: &[],
        kind: CannotBe,
        says: &["said to stand in crawl", "above the floor of den, under which it lies"],
        at: &["crawl", "8 ft"],
    },
    Case {
        house: COLONIAL,
        changes: &[("systems.main.fan.at", "[10 ft, 29 ft 6 in, 5 ft]")],
        removed: &["systems.main.runs", "systems.main.suction_points"],
        kind: CannotBe,
        says: &["in no well, and yet lower than the ground"],
        at: &["[10 ft, 29 ft 6 in, 5 ft]", "no"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.suction_points.s1.from_walls", "{north: 2 ft, east: 44 ft}")],
        removed: &["systems.main.runs"],
        kind: CannotBe,
        says: &["s1 lies outside of basement"],
        at: &["40 ft x 24 ft"],
    },
    // 12 ft - 5 ft 3 in = 6 ft 9 in, and the ground is at 7 ft.
    Case {
        house: COLONIAL,
        changes: &[("systems.main.runs.foot.down", "5 ft 3 in")],
        removed: &[
            "systems.main.runs.sump_drop",
            "systems.main.runs.loop_drop",
            "systems.main.runs.wall_drop",
            "systems.main.suction_points",
        ],
        kind: CannotBe,
        says: &["foot ends in the open air, and yet lower than the ground"],
        at: &["5 ft 3 in", "[outdoors]"],
    },
    // The foot stands at 29 ft 6 in, and the basement ends at 28 ft.
    Case {
        house: COLONIAL,
        changes: &[("systems.main.runs.wall_drop.from", "foot")],
        removed: &[],
        kind: CannotBe,
        says: &["wall_drop is said to pass basement", "begins outside of basement"],
        at: &["foot", "[basement]"],
    },
    Case {
        house: COLONIAL,
        changes: &[("building.stories", "1")],
        removed: &[],
        kind: CannotBe,
        says: &["bedroom is said to be on story 2, and the building to have 1"],
        at: &["1", "2"],
    },
    // What cannot draw, or that no pipe reaches.
    Case {
        house: RANCH,
        changes: &[("foundation.areas.crawl.membrane", "none")],
        removed: &[],
        kind: CannotBe,
        says: &["s2 draws from under a membrane, and crawl is said to have none"],
        at: &["membrane", "none"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.suction_points.s1.kind", "sump")],
        removed: &[],
        kind: CannotBe,
        says: &["s1 draws through the lid of a sump, and the house is said to have no sump"],
        at: &["sump", "none"],
    },
    Case {
        house: RANCH,
        changes: &[("foundation.areas.basement.kind", "earth floor")],
        removed: &[],
        kind: CannotBe,
        says: &["s1 draws from under a slab, and basement has none: its kind is earth floor"],
        at: &["slab", "earth floor"],
    },
    Case {
        house: COLONIAL,
        changes: &[("foundation.walls.north_block.kind", "poured concrete")],
        removed: &[],
        kind: CannotBe,
        says: &["at_wall draws from the cores of a block wall, and the wall is poured concrete"],
        at: &["block wall", "poured concrete"],
    },
    Case {
        house: RANCH,
        changes: &[],
        removed: &["systems.main.runs.crawl_drop.to"],
        kind: CannotBe,
        says: &["No run of pipe ends at s2, so nothing draws there"],
        at: &["membrane"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.runs.drop.pierces", "{roof: {flashing: yes}}")],
        removed: &[],
        kind: CannotBe,
        says: &["drop goes down, and is said to go through the roof"],
        at: &["{roof: {flashing: yes}}"],
    },
    // Done, on a day that has not come: the file is of 2026-05-12.
    Case {
        house: RANCH,
        changes: &[("job.investigated", "2027-05-04")],
        removed: &[],
        kind: CannotBe,
        says: &["looked over on 2027-05-04, and the file is of 2026-05-12"],
        at: &["2027-05-04", "2026-05-12"],
    },
    Case {
        house: RANCH,
        changes: &[
            ("radon_tests.april.start", "2028-04-14 09:00"),
            ("radon_tests.april.stop", "2028-04-16 10:00"),
        ],
        removed: &[],
        kind: CannotBe,
        says: &["The radon test april is said to have begun on 2028-04-14, and the file is of 2026-05-12"],
        at: &["2028-04-14 09:00", "2026-05-12"],
    },
    // A gauge of 5 in WC, and a fan that pulls 4.2 in WC with no air moving.
    Case {
        house: RANCH,
        changes: &[("systems.main.gauge.mark", "7 in WC")],
        removed: &[],
        kind: CannotBe,
        says: &["marked on the gauge is more than the gauge can show"],
        at: &["7 in WC", "5 in WC"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.gauge.mark", "4.5 in WC")],
        removed: &[],
        kind: CannotBe,
        says: &["marked on the gauge is more than the fan can pull"],
        at: &["4.5 in WC"],
    },
    // The basement is on story 0 and the attic on story 2; over the basement lies the hall closet among others.
    Case {
        house: RANCH,
        changes: &[("systems.main.runs.riser.through", "[attic, basement]")],
        removed: &[],
        kind: CannotBe,
        says: &["riser is said to go from attic straight into basement, and between them lies story 1"],
        at: &["[attic, basement]", "2", "0"],
    },
    Case {
        house: RANCH,
        changes: &[("systems.main.runs.crawl_drop.down", "0 ft")],
        removed: &[],
        kind: CannotBe,
        says: &["crawl_drop is said to go no distance at all"],
        at: &["0 ft"],
    },
    // Nothing stands about the discharge, and yet the tape goes round something.
    Case {
        house: RANCH,
        changes: &[(
            "building.openings.hall_skylight.from_discharge",
            "{straight: 8 ft, around: 12 ft, top_below: 1 ft}",
        )],
        removed: &[],
        kind: CannotBe,
        says: &["The tape to hall_skylight goes round something, and nothing is said to stand between"],
        at: &["12 ft"],
    },
];

#[test]
fn each_is_told_once_with_its_places() {
    let mut wrong = Vec::new();
    for case in CASES {
        let text = splice::lay_over(case.house, case.changes, case.removed).unwrap();
        let (problems, sources) = told(&text);
        let [only] = problems.as_slice() else {
            wrong.push(format!("{:?}: {problems:#?}", case.changes));
            continue;
        };
        let places: Vec<&str> = std::iter::once(only.at)
            .chain(only.also.iter().map(|(at, _)| *at))
            .map(|at| sources.slice(at))
            .collect();
        let says = case.says.iter().all(|words| only.found.contains(words));
        let at = case.at.iter().all(|words| places.contains(words));
        if only.kind != case.kind || !says || !at {
            wrong.push(format!("{:?}: {}\n  at {places:?}", case.changes, only.found));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_examples_contradict_themselves_nowhere() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut seen = 0;
    for example in std::fs::read_dir(folder).unwrap() {
        let path = example.unwrap().path().join("design.yaml");
        let Ok(text) = std::fs::read_to_string(&path) else { continue };
        let (problems, _) = told(&text);
        assert!(problems.is_empty(), "{}: {problems:#?}", path.display());
        seen += 1;
    }
    assert!(seen >= 5);
}

/// The value of a fact, the list at the root and the name of the thing given.
fn ask(text: &str, list: &str, name: &str, fact: &str) -> Answer<Value> {
    let mut sources = Sources::new();
    let id = sources.add("design.yaml", text);
    let (tree, _) = scan::read(id, text);
    let design = read(sources.get(id).unwrap(), &tree).0;
    let mut facts = Facts::new(&design);
    let list = vocabulary().find_fact(ROOT.kind, list).unwrap();
    let Answer::Known { value: Value::Things(things), .. } = facts.ask(list, ROOT) else { panic!("no list") };
    let thing = things.items.iter().copied().find(|it| facts.name_of(*it) == name).unwrap();
    let fact = vocabulary().find_fact(thing.kind, fact).unwrap();
    facts.ask(fact, thing)
}

/// A stack without a fan is written from its discharge on: it comes down through the roof.
#[test]
fn the_houses_with_a_passive_stack_contradict_themselves_nowhere() {
    for house in [
        include_str!("../rules/irc-radon/cases/new-home.yaml"),
        include_str!("../rules/epa-1994/cases/passive.yaml"),
    ] {
        let (problems, _) = told(house);
        assert!(problems.is_empty(), "{problems:#?}");
    }
}

#[test]
fn nothing_is_concluded_from_what_cannot_be() {
    let changed = |changes: &[(&str, &str)]| splice::lay_over(RANCH, changes, &[]).unwrap();
    let unknown = |text: &str, list: &str, name: &str, fact: &str| {
        let answer = ask(text, list, name, fact);
        assert!(matches!(answer, Answer::Unknown(_)), "{name}.{fact}: {answer:?}");
    };
    let low = changed(&[("systems.main.fan.at", "[30 ft, 14 ft, 8 ft 6 in]")]);
    unknown(&low, "fans", "fan", "in");
    unknown(&low, "fans", "fan", "outdoors");
    let both = changed(&[(&format!("{DISCHARGE}.through_side_wall"), "yes")]);
    unknown(&both, "discharges", "discharge", "through_roof");
    let ring = changed(&[("systems.main.runs.drop.from", "drop")]);
    unknown(&ring, "runs", "drop", "downstream");
    let round = changed(&[(
        "building.openings.hall_skylight.from_discharge",
        "{straight: 8 ft, around: 12 ft, top_below: 1 ft}",
    )]);
    unknown(&round, "openings", "hall_skylight", "around");
    // If the tape of 3 ft is right, the top may lie as far above as below.
    let tape = changed(&[(BATH, "{straight: 3 ft, top_below: 8 ft 6 in}")]);
    let Answer::Known { value: Value::Number(drop), .. } =
        ask(&tape, "openings", "bath_window", "top_below_discharge")
    else {
        panic!("a range")
    };
    let feet = |feet: f64| feet * 0.3048;
    let (low, high) = drop.to_f64_bounds();
    assert!((low - feet(-3.0)).abs() < 1e-9 && (high - feet(8.5)).abs() < 1e-9, "{low} to {high}");
}

#[test]
fn a_stated_tolerance_takes_the_place_of_the_fraction() {
    let with = |height: &str| {
        let changes =
            [("systems.main.discharge.height", height), ("systems.main.discharge.above_roof", "unknown")];
        told(&splice::lay_over(RANCH, &changes, &[]).unwrap()).0.len()
    };
    // The stack ends at 24 ft.
    assert_eq!(with("{value: 23 ft 8 in, within: 4 in}"), 0);
    assert_eq!(with("{value: 23 ft 8 in, within: 2 in}"), 1);
    assert_eq!(with("23 ft 11 in"), 0, "no more than both may be rounded");
    assert_eq!(with("23 ft 8 in"), 1);
}

/// A length in eighths of an inch, written as the trade writes it.
fn written(eighths: i64) -> String {
    let (feet, rest) = (eighths / 96, eighths % 96);
    let (inches, part) = (rest / 8, rest % 8);
    let fraction = match part {
        0 => String::new(),
        2 | 6 => format!(" {}/4", part / 2),
        4 => " 1/2".to_owned(),
        odd => format!(" {odd}/8"),
    };
    if fraction.is_empty() {
        format!("{feet} ft {inches} in")
    } else {
        format!("{feet} ft {inches}{fraction} in")
    }
}

/// To the nearest eighth of an inch, from 64ths.
fn rounded(sixty_fourths: i64) -> i64 {
    (sixty_fourths + 4).div_euclid(8)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    /// A house with everything at places chosen at random in 64ths of an inch, each taped to the nearest eighth.
    #[test]
    fn a_house_written_down_consistently_contradicts_itself_nowhere(
        ground in 0_i64..6_000, fan in 12_000_i64..16_000, up in 2_000_i64..6_000, edge in 10_000_i64..13_000,
        x in 1_000_i64..20_000, y in 1_000_i64..15_000, wide in 24_000_i64..36_000, deep in 18_000_i64..24_000,
        away in 2_000_i64..9_000, drop in 500_i64..6_000, moved in 0_usize..6, by in 40_i64..400,
    ) {
        let outlet = fan + up;
        // Each taped distance, in eighths.
        let mut taped = [
            rounded(outlet), rounded(outlet - ground), rounded(outlet - edge), rounded(wide - x), rounded(deep - y),
            rounded(isqrt(away * away + drop * drop)),
        ];
        let house = |taped: &[i64; 6]| {
            let [height, above_ground, above_edge, east, north, straight] = taped.map(written);
            format!(
                "undercroft: 1\nsite: {{ground: {{main: {}}}}}\nbuilding:\n  roof: {{edge: {}}}\n  openings:\n    \
                 w: {{from_discharge: {{away: {}, top_below: {}, straight: {straight}}}}}\nfoundation:\n  areas:\n    \
                 a: {{kind: slab, size: {} x {}, corner: [0 ft, 0 ft]}}\nsystems:\n  main:\n    \
                 fan: {{at: [{}, {}, {}]}}\n    discharge: {{height: {height}, above_ground: {above_ground}, \
                 above_roof_edge: {above_edge}}}\n    runs:\n      stack: {{from: fan, up: {}, to: discharge}}\n      \
                 drop: {{from: fan, down: 1 ft 0 1/8 in, to: s}}\n    suction_points:\n      \
                 s: {{kind: slab, in: a, from_walls: {{east: {east}, north: {north}}}}}\n",
                written(rounded(ground)), written(rounded(edge)), written(rounded(away)), written(rounded(drop)),
                written(rounded(wide)), written(rounded(deep)),
                written(rounded(x)), written(rounded(y)), written(rounded(fan)), written(rounded(up)),
            )
        };
        let (problems, _) = told(&house(&taped));
        prop_assert!(problems.is_empty(), "{:#?}\n{}", problems, house(&taped));
        // One of them moved by 5 in or more, which is more than all that was rounded.
        taped[moved] += by;
        let (problems, _) = told(&house(&taped));
        prop_assert_eq!(problems.len(), 1, "{:#?}\n{}", problems, house(&taped));
    }
}

/// The whole root next to a square's.
fn isqrt(square: i64) -> i64 {
    let mut root = (square as f64).sqrt() as i64;
    while root * root > square {
        root -= 1;
    }
    while (root + 1) * (root + 1) <= square {
        root += 1;
    }
    root
}

/// What is only reckoned on from others is not asked for when contradictions are looked for.
#[test]
fn who_asks_everything_first_is_told_no_other_contradictions() {
    for case in CASES {
        let text = splice::lay_over(case.house, case.changes, case.removed).unwrap();
        let (before, sources) = told(&text);
        let (id, source) = sources.iter().next().unwrap();
        let design = read(source, &scan::read(id, &text).0).0;
        let mut facts = Facts::new(&design);
        for (number, fact) in catalogue::all().enumerate() {
            for thing in facts.things().all(fact.of) {
                let _ = facts.ask(FactId(u16::try_from(number).unwrap()), thing);
            }
        }
        assert_eq!(contradictions(&mut facts, &sources), before, "{text}");
    }
}

#[test]
fn a_skylight_given_by_its_corners_is_in_the_roof_and_says_nothing_of_the_floor_of_the_attic() {
    // Its top lies at 20 ft, the fan in the attic at 18 ft 6 in, and the hall under the attic.
    let corners =
        "{kind: skylight, opens: yes, into: hall, corners: [[10 ft, 6 ft, 19 ft], [12 ft, 8 ft, 20 ft]]}";
    let text = splice::lay_over(RANCH, &[("building.openings.hall_skylight", corners)], &[]).unwrap();
    assert_eq!(told(&text).0, []);
    // A window as high as that cannot be there.
    let window = corners.replace("skylight", "window");
    let text = splice::lay_over(RANCH, &[("building.openings.hall_skylight", window.as_str())], &[]).unwrap();
    assert!(told(&text).0.iter().any(|one| one.found.contains("below the top of hall_skylight in hall")));
}

#[test]
fn a_mark_on_the_gauge_that_the_fan_can_bring_about_is_told_nothing() {
    // 1.6 in WC is less than the 4.2 in WC of the fan and the 5 in WC of the gauge.
    let text = splice::lay_over(RANCH, &[("systems.main.gauge.mark", "1.6 in WC")], &[]).unwrap();
    assert_eq!(told(&text).0, []);
}
