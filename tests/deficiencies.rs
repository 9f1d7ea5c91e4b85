//! What inspectors find: small houses with exactly one thing done wrong, as states, counties and courses tell of it. The
//! fault is found by rule and thing, and nothing else that is asked for comes out unmet that the sound house meets.

use std::collections::BTreeSet;

use undercroft::judge::verdict::Verdict;
use undercroft::review::{Input, Library, Review, review};
use undercroft::rulebook::checked::Obligation;
use undercroft::yaml::splice::lay_over;

/// A house, the sound one that it is but for some entries, the requirement that has to find its fault, and everything mandatory that
/// comes of it, as subject and thing.
struct Deficiency {
    house: &'static str,
    /// Who reports it; how often it is found, no state has published.
    told_by: &'static str,
    sound: &'static str,
    changes: &'static [(&'static str, &'static str)],
    removed: &'static [&'static str],
    found_by: &'static [&'static str],
    unmet: &'static [&'static str],
}

const DEFICIENCIES: &[Deficiency] = &[
    Deficiency {
        house: "fan-in-the-basement",
        told_by: "Boulder County, Colorado: photographs of radon systems",
        sound: "sound",
        changes: &[
            ("systems.main.fan.at", "[16 ft, 12 ft, 5 ft]"),
            ("systems.main.fan.in", "basement"),
            ("systems.main.runs.stack.up", "19 ft"),
            ("systems.main.runs.stack.through", "[basement, closet, attic, outdoors]"),
            (
                "systems.main.runs.stack.pierces",
                "{roof: {kind: roof, flashing: yes, fire_rated: none}, attic_floor: {kind: ceiling, fire_rated: attic_floor, fire_stop: collar, sealed: yes}, closet_floor: {kind: floor, fire_rated: none, sealed: yes}}",
            ),
            ("systems.main.runs.riser.down", "1 ft"),
            ("systems.main.runs.riser.through", "[basement]"),
            ("systems.main.runs.riser.pierces", "none"),
            ("systems.main.runs.riser.insulation", "none"),
            ("systems.main.labels.closet_pipe.of", "stack"),
            ("systems.main.labels.attic_pipe.of", "stack"),
            ("systems.main.wiring.disconnect.in", "basement"),
        ],
        removed: &[],
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
        told_by: "Boulder County, Colorado: photographs of radon systems",
        sound: "sound",
        changes: &[
            ("systems.main.fan.sealed_housing", "no"),
            ("systems.main.fan.continuous", "no"),
            ("systems.main.fan.listed", "no"),
        ],
        removed: &[],
        found_by: &["epa-1994/fan-housing-sealed", "boulder-county/fan-made-for-radon"],
        unmet: &["electrical/listed of fan fan", "fan/continuous of fan fan", "fan/housing of fan fan"],
    },
    Deficiency {
        house: "metal-duct",
        told_by: "Boulder County, Colorado: photographs of radon systems",
        sound: "sound",
        changes: &[
            ("systems.main.runs.riser.material", "steel"),
            ("systems.main.runs.riser.joints", "pushed together"),
        ],
        removed: &[],
        found_by: &["epa-1994/pipe-joints-glued", "boulder-county/pipe-that-can-be-sealed"],
        unmet: &["pipe/joints of run riser"],
    },
    Deficiency {
        house: "outlet-under-the-eave",
        told_by: "Boulder County, Colorado: photographs of radon systems, which show the ice on it",
        sound: "sound",
        changes: &[
            ("systems.main.fan.at", "[16 ft, 26 ft, 14 ft]"),
            ("systems.main.fan.in", "outdoors"),
            ("systems.main.fan.weatherproof", "yes"),
            (
                "systems.main.discharge",
                "{height: 14 ft, through_side_wall: yes, direction: level, toward: north, side: north, cap: none, screen: 1/2 in}",
            ),
            ("systems.main.runs.stack.north", "1 ft"),
            ("systems.main.runs.stack.slope", "1/4 in per ft"),
            ("systems.main.runs.stack.through", "[outdoors]"),
            ("systems.main.runs.stack.pierces", "none"),
            ("systems.main.runs.stack.low_points", "none"),
            ("systems.main.runs.stack.hangers.spacing", "1 ft"),
            ("systems.main.runs.riser.down", "7 ft"),
            ("systems.main.runs.riser.through", "[outdoors, basement]"),
            ("systems.main.runs.riser.pierces", "{rim: {kind: rim joist, sealed: yes, fire_rated: none}}"),
            ("systems.main.runs.across.south", "14 ft"),
            ("systems.main.runs.crawl_side.from", "across"),
            ("systems.main.suction_points.s1.from_walls.north", "12 ft"),
            (
                "systems.main.labels.fan_label",
                "{on: fan, of: fan, in: outdoors, says: [what it is], legible_from: 3 ft, durable: yes}",
            ),
            (
                "systems.main.labels.outdoor_pipe",
                "{on: pipe, of: stack, in: outdoors, says: [what it is], legible_from: 3 ft, durable: yes}",
            ),
            ("systems.main.wiring.disconnect.weatherproof", "yes"),
            ("systems.main.wiring.disconnect.in", "outdoors"),
        ],
        removed: &[
            "systems.main.runs.stack.up",
            "systems.main.runs.across.north",
            "systems.main.labels.closet_pipe",
            "systems.main.labels.attic_pipe",
        ],
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
        told_by: "Boulder County, Colorado: photographs of radon systems",
        sound: "sound",
        changes: &[(
            "building.openings.dormer_window",
            "{kind: window, opens: yes, into: parlor, from_discharge: {straight: 4 ft, top_below: 1 ft}}",
        )],
        removed: &[],
        found_by: &["epa-1994/discharge-clear-of-openings", "pennsylvania-2019/discharge-clear-of-openings"],
        unmet: &["discharge/openings of opening dormer_window"],
    },
    Deficiency {
        house: "open-ring-round-the-pipe",
        told_by: "Boulder County, Colorado: photographs of radon systems",
        sound: "sound",
        changes: &[
            ("systems.main.runs.drop.pierces.slab.sealed", "no"),
            ("systems.main.runs.crawl_side.pierces.crawl_wall.sealed", "no"),
            (
                "systems.main.suction_points.s1.hole",
                "{width: 5 in, closed_with: none, backer: no, gap: 1/4 in}",
            ),
            ("systems.main.suction_points.s1.sealed_with", "none"),
        ],
        removed: &[],
        found_by: &["epa-1994/suction-hole-sealed", "boulder-county/passages-sealed"],
        unmet: &["suction/gap-sealed of suction_point s1"],
    },
    Deficiency {
        house: "label-left-blank",
        told_by: "inspections in Indiana, as the trade body tells of them",
        sound: "sound",
        changes: &[("systems.main.labels.system_label.says", "[what it is, retest advice]")],
        removed: &[],
        found_by: &["epa-1994/system-label"],
        unmet: &["labels/system of system main"],
    },
    Deficiency {
        house: "pump-left-disconnected",
        told_by: "Minnesota Department of Health, statement of need for the licensing of mitigators, 2018",
        sound: "sound",
        changes: &[("foundation.sumps.pit.still_pumps", "no")],
        removed: &[],
        found_by: &["work-safety/sump-still-pumps"],
        unmet: &["sump/still-pumps of sump pit"],
    },
    Deficiency {
        house: "fire-collar-missing",
        told_by: "Minnesota Department of Health, statement of need for the licensing of mitigators, 2018",
        sound: "sound",
        changes: &[("systems.main.runs.riser.pierces.attic_floor.fire_stop", "none")],
        removed: &[],
        found_by: &["epa-1994/fire-walls-kept-whole"],
        unmet: &["pipe/fire-rating of penetration attic_floor"],
    },
    Deficiency {
        house: "pit-not-dug-out",
        told_by: "a talk of Kansas State University and Colorado on what has to be mended most often, 2017",
        sound: "sound",
        changes: &[
            ("systems.main.suction_points.s1.pit", "none"),
            ("systems.main.suction_points.s1.no_pit_because", "none"),
        ],
        removed: &[],
        found_by: &["sgm-sf-2020/pit-dug", "epa-1994/pit-dug"],
        unmet: &["suction/pit-volume of suction_point s1"],
    },
    Deficiency {
        house: "pipe-pitched-wrong",
        told_by: "a talk of Kansas State University and Colorado on what has to be mended most often, 2017",
        sound: "sound",
        changes: &[("systems.main.runs.across.slope", "-1/4 in per ft")],
        removed: &[],
        found_by: &["epa-1994/pipe-drains-to-soil"],
        unmet: &["pipe/slope of run across"],
    },
    Deficiency {
        house: "ventilator-in-place-of-a-sheet",
        told_by: "a course for mitigators in Illinois",
        sound: "sound",
        changes: &[
            (
                "building.air_movers",
                "{ventilator: {kind: heat recovery, in: crawl, exhaust: 60 cfm, supply: 60 cfm}}",
            ),
            ("foundation.areas.crawl.bare_soil", "150 sq ft"),
            ("foundation.areas.crawl.membrane", "none"),
        ],
        removed: &[
            "systems.main.runs.crawl_side",
            "systems.main.runs.crawl_drop",
            "systems.main.suction_points.s2",
            "systems.main.labels.sheet_label",
        ],
        found_by: &["illinois-existing/bare-soil-covered"],
        unmet: &["membrane/coverage of area crawl"],
    },
    Deficiency {
        house: "rough-in-beside-the-eave",
        told_by: "the radon programme of Minnesota, 2025",
        sound: "sound-rough-in",
        changes: &[
            ("foundation.rough_in.clear_height", "14 in"),
            ("foundation.rough_in.clear_width", "9 in"),
        ],
        removed: &[],
        found_by: &["rrnc-2020/room-for-a-later-fan"],
        unmet: &["fan/clear-space of rough_in rough in"],
    },
];

fn house(name: &str) -> String {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/deficiencies");
    std::fs::read_to_string(folder.join(name).with_extension("yaml")).unwrap()
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
        assert!(!one.told_by.is_empty() && !one.changes.is_empty(), "{}", one.house);
        let sound = house(one.sound);
        let text = lay_over(&sound, one.changes, one.removed).unwrap();
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
