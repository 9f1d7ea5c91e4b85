//! What inspectors find: small houses with exactly one thing done wrong, as states, counties and courses tell of it. The
//! fault is found by rule and thing, and nothing else that is asked for comes out unmet that the sound house meets.
//!
//! Each house says in its first lines who found its fault. None of them counts how often: no state has published that.

use std::collections::BTreeSet;

use undercroft::judge::verdict::Verdict;
use undercroft::review::{Input, Library, Review, review};
use undercroft::rulebook::checked::Obligation;

/// A house, the sound one that it differs from, the requirement that has to find its fault, and everything mandatory that
/// comes of it, as subject and thing.
struct Deficiency {
    house: &'static str,
    sound: &'static str,
    found_by: &'static [&'static str],
    unmet: &'static [&'static str],
}

const DEFICIENCIES: &[Deficiency] = &[
    Deficiency {
        house: "fan-in-the-basement",
        sound: "sound",
        found_by: &[
            "epa-1994/fan-outside-conditioned-space",
            "pennsylvania-2019/fan-outside-conditioned-space",
            "boulder-county/fan-outside-living-space",
        ],
        unmet: &[
            "fan/below-ground of fan fan",
            "fan/beneath-conditioned of fan fan",
            "fan/conditioned of fan fan",
            "fan/leaks-outdoors of fan fan",
            "pipe/pressure-side of run stack",
        ],
    },
    Deficiency {
        house: "fan-not-made-for-radon",
        sound: "sound",
        found_by: &["epa-1994/fan-housing-sealed", "boulder-county/fan-made-for-radon"],
        unmet: &["electrical/listed of fan fan", "fan/continuous of fan fan", "fan/housing of fan fan"],
    },
    Deficiency {
        house: "metal-duct",
        sound: "sound",
        found_by: &["epa-1994/pipe-joints-glued", "boulder-county/pipe-that-can-be-sealed"],
        unmet: &["pipe/joints of run riser"],
    },
    Deficiency {
        house: "outlet-under-the-eave",
        sound: "sound",
        found_by: &[
            "epa-1994/discharge-above-eave",
            "pennsylvania-2019/discharge-above-roof-edge",
            "pennsylvania-2019/discharge-points-up",
            "boulder-county/discharge-above-eave",
        ],
        unmet: &[
            "discharge/below-roof of discharge discharge",
            "discharge/direction of discharge discharge",
            "discharge/ground of discharge discharge",
            "discharge/highest-eave of discharge discharge",
            "discharge/roof-edge of discharge discharge",
        ],
    },
    Deficiency {
        house: "outlet-beside-a-window",
        sound: "sound",
        found_by: &["epa-1994/discharge-clear-of-openings", "pennsylvania-2019/discharge-clear-of-openings"],
        unmet: &["discharge/openings of opening dormer_window"],
    },
    Deficiency {
        house: "open-ring-round-the-pipe",
        sound: "sound",
        found_by: &["epa-1994/suction-hole-sealed", "boulder-county/passages-sealed"],
        unmet: &["suction/gap-sealed of suction_point s1"],
    },
    Deficiency {
        house: "label-left-blank",
        sound: "sound",
        found_by: &["epa-1994/system-label"],
        unmet: &["labels/system of system main"],
    },
    Deficiency {
        house: "pump-left-disconnected",
        sound: "sound",
        found_by: &["work-safety/sump-still-pumps"],
        unmet: &["sump/still-pumps of sump pit"],
    },
    Deficiency {
        house: "fire-collar-missing",
        sound: "sound",
        found_by: &["epa-1994/fire-walls-kept-whole"],
        unmet: &["pipe/fire-rating of penetration attic_floor"],
    },
    Deficiency {
        house: "pit-not-dug-out",
        sound: "sound",
        found_by: &["sgm-sf-2020/pit-dug", "epa-1994/pit-dug"],
        unmet: &["suction/pit-volume of suction_point s1"],
    },
    Deficiency {
        house: "pipe-pitched-wrong",
        sound: "sound",
        found_by: &["epa-1994/pipe-drains-to-soil"],
        unmet: &["pipe/slope of run across"],
    },
    Deficiency {
        house: "ventilator-in-place-of-a-sheet",
        sound: "sound",
        found_by: &["illinois-existing/bare-soil-covered"],
        unmet: &["membrane/coverage of area crawl"],
    },
    Deficiency {
        house: "rough-in-beside-the-eave",
        sound: "sound-rough-in",
        found_by: &["rrnc-2020/room-for-a-later-fan"],
        unmet: &["fan/clear-space of rough_in rough in"],
    },
];

fn house(name: &str) -> String {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/deficiencies");
    std::fs::read_to_string(folder.join(name).with_extension("yaml")).unwrap()
}

/// The lines that name the rulebooks of a house.
fn rulebooks(text: &str) -> &str {
    let from = text.find("  rulebooks:\n").unwrap();
    let to = text[from..].find("\nsite:\n").unwrap() + from;
    &text[from..to]
}

fn reviewed<'l>(library: &'l Library, text: &str) -> Review<'l> {
    let review = review(&Input { name: "house.yaml", bytes: text.as_bytes(), ..Input::default() }, library);
    assert!(review.problems.is_empty(), "{:#?}", review.problems);
    review
}

/// Every clause that came out unmet: finding, book and rule, and whether it is mandatory.
fn unmet(review: &Review<'_>) -> Vec<(String, String, bool)> {
    let mut all = Vec::new();
    for finding in &review.findings {
        for clause in finding.clauses.iter().filter(|clause| clause.verdict == Verdict::Unmet) {
            let book = review.used[clause.book].book;
            let rule = format!("{}/{}", book.name, book.rules[clause.rule].name);
            all.push((finding.identity.clone(), rule, clause.obligation == Obligation::Shall));
        }
    }
    all
}

fn mandatory(all: &[(String, String, bool)]) -> BTreeSet<&str> {
    all.iter().filter(|(_, _, shall)| *shall).map(|(finding, _, _)| finding.as_str()).collect()
}

#[test]
fn what_inspectors_find_is_found_by_rule_and_thing_and_nothing_else_is() {
    let library = Library::with(&[]);
    for one in DEFICIENCIES {
        let text = house(one.house);
        let sound = house(one.sound);
        let sound = sound.replace(rulebooks(&sound), rulebooks(&text));
        let (faulty, whole) = (unmet(&reviewed(&library, &text)), unmet(&reviewed(&library, &sound)));
        for rule in one.found_by {
            assert!(
                faulty.iter().any(|(_, by, _)| by == rule),
                "{}: {rule} does not find it: {faulty:#?}",
                one.house
            );
            assert!(
                whole.iter().all(|(_, by, _)| by != rule),
                "{}: {rule} finds it in the sound house",
                one.house
            );
        }
        let before = mandatory(&whole);
        let came: BTreeSet<&str> = mandatory(&faulty).difference(&before).copied().collect();
        assert_eq!(came, one.unmet.iter().copied().collect(), "{}", one.house);
    }
}

#[test]
fn every_house_says_who_found_its_fault_and_is_looked_at() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/deficiencies");
    let mut looked_at = 0;
    for file in std::fs::read_dir(folder).unwrap() {
        let name = file.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned();
        if DEFICIENCIES.iter().any(|one| one.sound == name) {
            continue;
        }
        assert!(DEFICIENCIES.iter().any(|one| one.house == name), "{name} is looked at by nothing");
        assert!(house(&name).contains("# Found by: "), "{name} does not say who found it");
        looked_at += 1;
    }
    assert_eq!(looked_at, DEFICIENCIES.len());
}
