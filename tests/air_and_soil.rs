//! Bare soil, the vents of crawlspaces, what burns the air of a room: worked out by hand, in the comments beside it.

use undercroft::base::number::{Dimension, Number, Quantity, Ratio};
use undercroft::base::text::{Source, SourceId};
use undercroft::base::value::{Answer, Value};
use undercroft::base::vocabulary::{Answers, ROOT};
use undercroft::design::{Design, read};
use undercroft::facts::{Facts, vocabulary};

fn design(text: &str) -> Design {
    let source = Source::new("design.yaml", text);
    let (tree, problems) = undercroft::yaml::scan::read(SourceId(0), source.text());
    assert!(problems.is_empty(), "{problems:#?}");
    read(&source, &tree).0
}

/// A fact of the thing with this name in a list at the root.
fn ask(text: &str, list: &str, name: &str, fact: &str) -> Answer<Value> {
    let design = design(text);
    let mut facts = Facts::new(&design);
    let list = vocabulary().find_fact(ROOT.kind, list).unwrap();
    let Answer::Known { value: Value::Things(things), .. } = facts.ask(list, ROOT) else { panic!("no list") };
    let thing = things.items.iter().copied().find(|it| facts.name_of(*it) == name).unwrap();
    facts.ask(vocabulary().find_fact(thing.kind, fact).unwrap(), thing)
}

fn number(text: &str, list: &str, name: &str, fact: &str) -> Number {
    match ask(text, list, name, fact) {
        Answer::Known { value: Value::Number(number), .. } => number,
        other => panic!("{fact}: {other:?}"),
    }
}

fn truth(text: &str, list: &str, name: &str, fact: &str) -> bool {
    match ask(text, list, name, fact) {
        Answer::Known { value: Value::Truth(truth), .. } => truth,
        other => panic!("{fact}: {other:?}"),
    }
}

fn quantity(text: &str, dimension: Dimension) -> Number {
    Quantity::parse(text, dimension).unwrap().number
}

fn square_feet(text: &str) -> Number {
    quantity(text, Dimension::AREA)
}

/// A crawlspace of 16 ft by 20 ft, 320 sq ft, with what is said of it.
fn crawl(said: &str) -> String {
    format!(
        "undercroft: 1\nfoundation:\n  areas:\n    crawl: {{kind: crawlspace, \
         outline: [[0 ft, 0 ft], [16 ft, 0 ft], [16 ft, 20 ft], [0 ft, 20 ft]], {said}}}\n"
    )
}

fn bare(said: &str) -> Number {
    number(&crawl(said), "areas", "crawl", "bare_soil")
}

#[test]
fn bare_soil_is_the_floor_less_sheet_and_piers() {
    assert_eq!(bare("piers: 0, membrane: none"), square_feet("320 sq ft"));
    assert_eq!(bare("membrane: {covers_all: yes}"), Number::whole(0));
    assert_eq!(bare("bare_soil: 12 sq ft, membrane: {covers_all: no}"), square_feet("12 sq ft"));
    // 320 less a sheet of 300 and piers of 8
    assert_eq!(bare("piers: 2, pier_area: 8 sq ft, membrane: {covers: 300 sq ft}"), square_feet("12 sq ft"));
    // a sheet that covers more than there is leaves nothing, and no less than nothing
    assert_eq!(bare("piers: 0, membrane: {covers: 320 sq ft}").high(), Ratio::ZERO);
    // a sheet of 16 ft by 15 ft leaves a strip of 16 ft by 5 ft
    assert_eq!(
        bare("piers: 0, membrane: {outline: [[0 ft, 0 ft], [16 ft, 0 ft], [16 ft, 15 ft], [0 ft, 15 ft]]}"),
        square_feet("80 sq ft")
    );
}

#[test]
fn piers_beside_a_sheet_take_off_any_part_of_their_area() {
    let said = "piers: 2, pier_area: 8 sq ft, membrane: {outline: [[0 ft, 0 ft], [16 ft, 0 ft], [16 ft, 15 ft], [0 ft, 15 ft]]}";
    let found = bare(said);
    assert_eq!(found.low(), square_feet("72 sq ft").low());
    assert_eq!(found.high(), square_feet("80 sq ft").high());
}

#[test]
fn a_slab_in_the_crawlspace_is_no_bare_soil() {
    let text = crawl("piers: 0, membrane: none")
        + "    pad: {kind: slab, outline: [[0 ft, 0 ft], [4 ft, 0 ft], [4 ft, 5 ft], [0 ft, 5 ft]]}\n";
    assert_eq!(number(&text, "areas", "crawl", "bare_soil"), square_feet("300 sq ft"));
    assert_eq!(number(&text, "areas", "pad", "bare_soil"), Number::whole(0));
}

#[test]
fn nothing_is_said_of_soil_where_nobody_says_what_covers_it() {
    for said in ["membrane: {covers_all: no}", "piers: 2, membrane: {covers: 300 sq ft}", "piers: 2"] {
        assert!(matches!(ask(&crawl(said), "areas", "crawl", "bare_soil"), Answer::Unknown(_)), "{said}");
    }
}

/// The crawlspace with vents into it, all of them listed or not.
fn vented(vents: &str, looked: bool) -> String {
    let looked = if looked { "looked_for: {openings: {within: whole building}}\n" } else { "" };
    crawl("piers: 0").replace("undercroft: 1\n", &format!("undercroft: 1\n{looked}"))
        + &format!(
            "building:\n  spaces: {{crawl: {{kind: crawlspace, airing: vented}}}}\n  openings: {{{vents}}}\nsystems: none\n"
        )
}

#[test]
fn the_corner_farthest_from_a_vent_is_measured_along_the_wall() {
    // one vent of a foot in each long wall, its nearer edge 2 ft and its farther edge 13 ft from the corners of that wall
    let vents = "a: {kind: crawl vent, into: crawl, corners: [[2 ft, 0 ft, 1 ft], [3 ft, 0 ft, 2 ft]]}, \
                 b: {kind: crawl vent, into: crawl, corners: [[2 ft, 20 ft, 1 ft], [3 ft, 20 ft, 2 ft]]}, \
                 w: {kind: window, into: crawl, corners: [[15 ft, 0 ft, 1 ft], [16 ft, 0 ft, 2 ft]]}";
    let found = number(&vented(vents, true), "spaces", "crawl", "corner_to_vent");
    assert_eq!(found, quantity("13 ft", Dimension::LENGTH));
    // where nobody looked for all of them, one that is not listed may be nearer
    let found = number(&vented(vents, false), "spaces", "crawl", "corner_to_vent");
    assert_eq!(found.low(), Ratio::ZERO);
    assert_eq!(found.high(), quantity("13 ft", Dimension::LENGTH).high());
}

const ROOMS: &str = "undercroft: 1\nlooked_for: {appliances: {by: N. Vale}}\nbuilding:\n  leakage: {air_changes: \"0.35\"}\n  spaces:\n    \
    cellar: {kind: basement, volume: 4000 cu ft, open_to: stair}\n    stair: {kind: hall, volume: 500 cu ft, open_to: [cellar, hall]}\n    \
    hall: {kind: hall, volume: 1500 cu ft, open_to: stair}\n    study: {kind: room, volume: 900 cu ft, open_to: none}\n  appliances:\n    \
    heater: {kind: water heater, venting: natural draft, in: cellar, input: 40 kBtu/h, air_from: indoor}\n    \
    boiler: {kind: boiler, venting: power vented, in: hall, input: 60 kBtu/h, air_from: indoor}\n    \
    furnace: {kind: furnace, venting: direct vent, in: cellar, input: 80 kBtu/h}\n    \
    stove: {kind: stove, venting: natural draft, in: study, input: 20 kBtu/h, air_from: outdoor openings}\n";

#[test]
fn rooms_that_are_open_to_each_other_count_together() {
    // 4,000 + 500 + 1,500, whichever of them is asked
    for room in ["cellar", "stair", "hall"] {
        assert_eq!(
            number(ROOMS, "spaces", room, "air_volume"),
            quantity("6000 cu ft", Dimension::VOLUME),
            "{room}"
        );
        // 40 + 60; the furnace is closed against the room
        assert_eq!(number(ROOMS, "spaces", room, "burner_input"), quantity("100 kBtu/h", Dimension::POWER));
    }
    let part = |fact| number(ROOMS, "spaces", "cellar", fact);
    assert_eq!(part("burner_input_with_fan"), quantity("60 kBtu/h", Dimension::POWER));
    assert_eq!(part("burner_input_without_fan"), quantity("40 kBtu/h", Dimension::POWER));
    assert_eq!(number(ROOMS, "spaces", "study", "air_volume"), quantity("900 cu ft", Dimension::VOLUME));
    assert_eq!(number(ROOMS, "spaces", "study", "burner_input"), Number::whole(0));
    assert!(truth(ROOMS, "appliances", "heater", "takes_room_air"));
    assert!(!truth(ROOMS, "appliances", "stove", "takes_room_air"));
}

#[test]
fn a_burner_that_nobody_places_leaves_the_heat_of_a_room_open() {
    let text = ROOMS.replace("in: hall, input: 60 kBtu/h, ", "input: 60 kBtu/h, ");
    assert!(matches!(ask(&text, "spaces", "cellar", "burner_input"), Answer::Unknown(_)));
    let text = ROOMS.replace("looked_for: {appliances: {by: N. Vale}}\n", "");
    assert!(matches!(ask(&text, "spaces", "cellar", "burner_input"), Answer::Unknown(_)));
}

#[test]
fn a_size_or_the_areas_below_give_the_floor_of_a_room() {
    let floor = |said: &str| {
        let text =
            crawl("piers: 0") + &format!("building:\n  spaces: {{crawl: {{kind: crawlspace{said}}}}}\n");
        number(&text, "spaces", "crawl", "floor_area")
    };
    assert_eq!(floor(""), square_feet("320 sq ft"));
    assert_eq!(floor(", size: 10 ft x 12 ft"), square_feet("120 sq ft"));
    assert_eq!(floor(", floor_area: 150 sq ft"), square_feet("150 sq ft"));
}
