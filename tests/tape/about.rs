//! What stands about a discharge: walking surfaces, walls above the roof, chimneys, obstacles, neighbours.

use undercroft::base::number::Number;
use undercroft::base::problem::ProblemKind;
use undercroft::base::value::{Answer, Value};
use undercroft::base::vocabulary::{Answers, ROOT};
use undercroft::facts::{Facts, vocabulary};

use super::{ask, design, length, number, root_of_square_inches, told, wanting};

/// An outlet of 4 1/2 in that points up from 30 ft east, 14 ft north and 24 ft, over a flat roof at 20 ft.
fn house(building: &str) -> String {
    format!(
        "undercroft: 1
looked_for: {{obstacles: {{within: 30 ft of discharge}}, neighbours: {{within: 100 ft of discharge}}}}
building: {{roof: {{kind: flat, edge: 20 ft, walls_above: {{wall: {{WALL}}}}}}, {building}}}
systems:
  main:
    discharge: {{at: [30 ft, 14 ft, 24 ft], direction: up, outside_diameter: 4 1/2 in}}
"
    )
}

fn with_wall(wall: &str) -> String {
    house("use: one-family").replace("WALL", wall)
}

fn with(building: &str) -> String {
    house(building).replace("WALL", "from_discharge: 40 ft")
}

#[test]
fn a_deck_lies_as_far_off_as_its_place_on_the_plan() {
    // From 14 ft to 34 ft north, less half of 4 1/2 in: 19 ft 9 3/4 in.
    for deck in [
        "outline: [[20 ft, 34 ft], [40 ft, 34 ft], [40 ft, 44 ft], [20 ft, 44 ft]]",
        "at: {plan: [30 ft, 39 ft]}, size: 20 ft x 10 ft",
    ] {
        let text = with(&format!("walking_surfaces: {{deck: {{{deck}}}}}"));
        assert_eq!(
            number(ask(&text, "walking_surfaces", "deck", "across")),
            length("19 ft 9 3/4 in"),
            "{deck}"
        );
        let both = with(&format!("walking_surfaces: {{deck: {{{deck}, from_discharge: {{away: 22 ft}}}}}}"));
        let told = told(&both);
        assert!(matches!(told.as_slice(), [(ProblemKind::Contradiction, _)]), "{deck}: {told:#?}");
    }
    let above = with(
        "walking_surfaces: {deck: {outline: [[20 ft, 4 ft], [40 ft, 4 ft], [40 ft, 44 ft], [20 ft, 44 ft]]}}",
    );
    assert_eq!(number(ask(&above, "walking_surfaces", "deck", "across")), length("0 ft"));
    let nothing = with("walking_surfaces: {deck: {at: {plan: [30 ft, 39 ft]}}}");
    let want = "building.walking_surfaces.deck.from_discharge";
    assert_eq!(wanting(ask(&nothing, "walking_surfaces", "deck", "across")), [want]);
}

#[test]
fn a_wall_above_the_roof_is_known_by_its_line_and_by_its_height() {
    // From 14 ft to 24 ft north, less 2 1/4 in.
    let text = with_wall("line: [[20 ft, 24 ft], [40 ft, 24 ft]], height: 3 ft");
    assert_eq!(number(ask(&text, "walls_above_roof", "wall", "across")), length("9 ft 9 3/4 in"));
    // 3 ft on a flat roof at 20 ft: 1 ft below the outlet at 24 ft.
    assert_eq!(number(ask(&text, "walls_above_roof", "wall", "top_below_discharge")), length("1 ft"));
    let both = with_wall("top: 22 ft, height: 3 ft, from_discharge: 11 ft");
    let told = told(&both);
    assert!(matches!(told.as_slice(), [(ProblemKind::Contradiction, _)]), "{told:#?}");
}

#[test]
fn a_chimney_is_known_by_the_place_of_its_top() {
    // 12 ft 2 1/4 in east of the middle of the outlet, 5 ft lower: 12 ft and 5 ft are 13 ft.
    let text = with("chimneys: {stack: {at: [42 ft 2 1/4 in, 14 ft, 19 ft]}}");
    assert_eq!(number(ask(&text, "chimneys", "stack", "clearance")), length("13 ft"));
    assert_eq!(number(ask(&text, "chimneys", "stack", "top_below_discharge")), length("5 ft"));
}

/// The way round to a window whose nearest point lies 117.75 in off and 104 in down, with one obstacle.
fn around(obstacle: &str) -> Answer<Value> {
    let window = "openings: {window: {kind: window, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]]}}";
    ask(&with(&format!("{window}, obstacles: {{fence: {{{obstacle}}}}}")), "openings", "window", "around")
}

#[test]
fn an_obstacle_that_cannot_stand_between_is_none() {
    // The window is 13 ft 1 in off, and its top at 15 ft 4 in.
    for obstacle in [
        "from_discharge: {straight: 20 ft}",
        "from_discharge: {away: 14 ft}",
        "from_discharge: {straight: 5 ft, top_below: 9 ft}",
        "top: 15 ft",
        "bottom: 24 ft",
        "corners: [[30 ft, 30 ft, 10 ft], [32 ft, 31 ft, 20 ft]]",
        "line: [[0 ft, 40 ft], [60 ft, 40 ft]]",
        "outline: [[0 ft, 40 ft], [60 ft, 40 ft], [60 ft, 41 ft]]",
    ] {
        assert_eq!(number(around(obstacle)), root_of_square_inches(246_810_625, 10_000), "{obstacle}");
    }
    for obstacle in [
        "from_discharge: {straight: 5 ft}",
        "top: 16 ft",
        "bottom: 23 ft",
        "line: [[0 ft, 20 ft], [60 ft, 20 ft]]",
        "what: fence",
    ] {
        assert_eq!(
            wanting(around(obstacle)),
            ["building.openings.window.from_discharge.around"],
            "{obstacle}"
        );
    }
}

#[test]
fn the_way_round_the_only_obstacle_follows_from_its_corners() {
    // The outlet, 24 ft up, stands 10 ft south of the wall with the window, whose top is at 15 ft 4 in. A screen of bricks
    // 1 ft thick stands 4 ft from the outlet, from the roof at 10 ft up to 30 ft, and 40 ft to either side: over its top
    // the string runs 6 ft up and 4 ft across, 1 ft level, then 14 ft 8 in down and 5 ft across.
    let screen = "corners: [[-10 ft, 18 ft, 10 ft], [70 ft, 19 ft, 30 ft]]";
    let Answer::Known { value: Value::Number(way), doubts } = around(screen) else { panic!("not known") };
    let down: f64 = 14.0 + 8.0 / 12.0;
    let feet = 6_f64.hypot(4.0) + 1.0 + down.hypot(5.0);
    let (low, high) = (way.low().to_f64() / 0.3048, way.high().to_f64() / 0.3048);
    assert!(low <= feet && feet <= high && high - low < 1.2, "{low} to {high} for {feet}");
    assert_eq!(doubts[0].entry.as_str(), "building.openings.window.from_discharge.around");
}

/// How far off any opening of a neighbour is that is not listed, in feet, and whether the list is open.
fn others(neighbour: &str) -> (bool, Option<Number>) {
    let text = with(&format!("neighbours: {{next: {{{neighbour}}}}}"));
    let design = design(&text);
    let mut facts = Facts::new(&design);
    let list = vocabulary().find_fact(ROOT.kind, "neighbour_openings").unwrap();
    let Answer::Known { value: Value::Things(listed), .. } = facts.ask(list, ROOT) else { panic!("no list") };
    let name = |fact| vocabulary().fact(fact).unwrap().name.clone();
    let clearance = listed.others.iter().find(|known| name(known.fact) == "clearance");
    (!listed.is_closed(), clearance.map(|known| known.number.clone()))
}

#[test]
fn what_opens_in_a_building_is_no_nearer_than_the_building() {
    assert_eq!(others("from_discharge: {straight: 60 ft}"), (true, Some(length("60 ft"))));
    assert_eq!(others("from_discharge: {left: 30 ft, out: 40 ft}"), (true, Some(length("50 ft"))));
    // From 14 ft to 74 ft north, less 2 1/4 in.
    let outline = "outline: [[0 ft, 74 ft], [40 ft, 74 ft], [40 ft, 90 ft], [0 ft, 90 ft]]";
    assert_eq!(others(outline), (true, Some(length("59 ft 9 3/4 in"))));
    // What was looked for within 100 ft, and a building that stands farther off.
    assert_eq!(others("from_discharge: {straight: 120 ft}"), (true, Some(length("100 ft"))));
    assert_eq!(others("kind: adjacent building"), (true, None));
    let told = told(&with(
        "neighbours: {next: {from_discharge: {straight: 60 ft}, openings: {door: {from_discharge: {straight: 50 ft}}}}}",
    ));
    assert!(
        matches!(told.as_slice(), [(ProblemKind::CannotBe, found)] if found.contains("door is said to be nearer")),
        "{told:#?}"
    );
}

/// A discharge over a gable of 24 ft whose south edge is the origin, and what else is said of it.
fn gable(discharge: &str, rest: &str) -> String {
    format!(
        "undercroft: 1
building: {{roof: {{kind: gable, edge: 17 ft, pitch: 6 in 12, ridge_lies: east-west, outline: [[0 ft, 0 ft], [40 ft, 0 ft], [40 ft, 24 ft], [0 ft, 24 ft]]}}}}
systems: {{main: {{discharge: {{direction: up, outside_diameter: 4 1/2 in, {discharge}}}{rest}}}}}
"
    )
}

#[test]
fn so_high_above_the_roof_is_a_height_where_the_roof_is_known() {
    // 10 ft in from the north edge the roof is at 22 ft; over half of 4 1/2 in it rises another 1 1/8 in.
    let (low, high) = (length("23 ft 10 in").low(), length("23 ft 11 1/8 in").high());
    let height = number(ask(
        &gable("at: {plan: [30 ft, 14 ft]}, above_roof: 22 in", ""),
        "discharges",
        "discharge",
        "height",
    ));
    assert_eq!(height.bounds(), (low, high));
    let (low, high) = (length("22 7/8 in").low(), length("2 ft").high());
    let above =
        number(ask(&gable("at: [30 ft, 14 ft, 24 ft]", ""), "discharges", "discharge", "above_roof_surface"));
    assert_eq!(above.bounds(), (low, high));
    let told_of = told(&gable("at: [30 ft, 14 ft, 24 ft], above_roof: 4 ft", ""));
    assert!(matches!(told_of.as_slice(), [(ProblemKind::Contradiction, _), ..]), "{told_of:#?}");
    assert!(told(&gable("at: [30 ft, 14 ft, 24 ft], above_roof: 23 in", "")).is_empty());
}

#[test]
fn a_straight_tape_is_held_against_the_places_of_its_ends() {
    // 30^2 + 14^2 + 18.5^2 = 1438.25, whose root is 37.924 ft: 37 ft 11 1/8 in.
    let fan = |straight: &str| {
        gable(
            "at: [30 ft, 14 ft, 24 ft]",
            &format!(
                ", fan: {{at: {{point: [30 ft, 14 ft, 18 ft 6 in], from: origin, straight: {straight}}}}}"
            ),
        )
    };
    assert_eq!(told(&fan("37 ft 11 in")), []);
    let told = told(&fan("36 ft"));
    assert!(
        matches!(told.as_slice(), [(ProblemKind::Contradiction, found)] if found.contains("straight distance from origin to the fan")),
        "{told:#?}"
    );
}

#[test]
fn a_place_taped_from_the_discharge_is_where_the_tape_says() {
    // Before the north wall left is east. The middle lies 10 ft and half of 4 1/2 in to the east and to the north of
    // the middle of the outlet, and 5 ft lower; so the top of an intake 12 in high is 4 ft 6 in below the outlet.
    let intake = "intakes: {hood: {side: north, width: 12 in, height: 12 in, at: {side: north, from_discharge: {left: 10 ft, out: 10 ft, top_below: 5 ft}}}}";
    let text = with(intake);
    assert_eq!(number(ask(&text, "intakes", "hood", "top_below_discharge")), length("4 ft 6 in"));
}
