//! The fittings of runs, held against what a person counts on a sketch.

use undercroft::base::value::Answer;
use undercroft::calc::amounts::{Amount, Angle};
use undercroft::facts::Facts;
use undercroft::facts::fittings::{Fitted, Why, fittings_of};
use undercroft::yaml::words::Words;

use super::facts::thing;

fn design(runs: &str) -> String {
    format!(
        "undercroft: 1\nsystems:\n  main:\n    fan: {{axis: vertical}}\n    pipe: {{size: 4 in}}\n    runs:\n{runs}    \
         suction_points:\n      s1: {{kind: slab}}\n      s2: {{kind: slab}}\n      s3: {{kind: slab}}\n"
    )
}

/// The fittings of a run as words: `2 x 45 elbow 4 in`, with the other size and with whom a piece is counted.
fn of(runs: &str, run: &str) -> Vec<String> {
    let design = super::facts::design(&design(runs));
    let mut facts = Facts::new(&design);
    let it = thing(&mut facts, "runs", run);
    match fittings_of(&mut facts, it) {
        Answer::Known { value, .. } => value.iter().map(|one| words(&facts, one)).collect(),
        Answer::Unknown(missing) => {
            missing.iter().map(|missing| format!("wants {}", missing.entry)).collect()
        }
    }
}

fn words(facts: &Facts<'_>, one: &Fitted) -> String {
    let other = one.other_size.map(|size| format!(" by {}", size.spelling())).unwrap_or_default();
    let with = one.counted_with.map(|it| format!(", counted with {}", facts.things().name(it)));
    let count = if one.count == 1 { String::new() } else { format!("{} x ", one.count) };
    format!("{count}{} {}{other}{}", one.kind.spelling(), one.size.spelling(), with.unwrap_or_default())
}

#[test]
fn a_run_that_goes_on_in_another_direction_begins_with_an_elbow() {
    let runs = "      \
        riser: {from: fan, down: 8 ft}\n      \
        line: {from: riser, north: 6 ft, slope: 1/4 in per ft}\n      \
        drop: {from: line, down: 4 ft, to: s1}\n";
    assert_eq!(of(runs, "riser"), Vec::<String>::new());
    assert_eq!(of(runs, "line"), ["90 elbow 4 in"]);
    assert_eq!(of(runs, "drop"), ["90 elbow 4 in"]);
}

#[test]
fn a_run_that_goes_straight_on_is_coupled_and_one_of_another_size_is_reduced() {
    let runs = "      \
        riser: {from: fan, down: 8 ft}\n      \
        lower: {from: riser, down: 6 ft}\n      \
        thin: {from: lower, down: 4 ft, size: 3 in, to: s1}\n";
    assert_eq!(of(runs, "lower"), ["coupling 4 in"]);
    assert_eq!(of(runs, "thin"), ["reducer 3 in by 4 in"]);
}

#[test]
fn where_two_runs_begin_one_goes_straight_and_the_other_leaves_by_the_side() {
    let runs = "      \
        riser: {from: fan, down: 8 ft}\n      \
        on: {from: riser, down: 4 ft, to: s1}\n      \
        side: {from: riser, east: 6 ft, size: 2 in, to: s2}\n";
    // One tee of 4 in, brought down to 2 in at its side; the air of the straight one only passes it.
    assert_eq!(of(runs, "on"), ["tee through 4 in, counted with side"]);
    assert_eq!(of(runs, "side"), ["tee turn 2 in by 4 in", "reducer 2 in by 4 in"]);
}

#[test]
fn where_both_turn_the_wider_one_takes_the_elbow_behind_the_tee() {
    let runs = "      \
        riser: {from: fan, down: 8 ft}\n      \
        side: {from: riser, east: 6 ft, size: 2 in, to: s2}\n      \
        on: {from: riser, north: 4 ft, to: s1}\n";
    assert_eq!(of(runs, "on"), ["tee through 4 in, counted with side", "90 elbow 4 in"]);
    assert_eq!(of(runs, "side"), ["tee turn 2 in by 4 in", "reducer 2 in by 4 in"]);
}

#[test]
fn two_that_part_in_opposite_directions_share_one_tee() {
    let runs = "      \
        line: {from: fan, down: 8 ft}\n      \
        left: {from: line, west: 6 ft, to: s1}\n      \
        right: {from: line, east: 4 ft, to: s2}\n      \
        below: {from: line, down: 4 ft, to: s3}\n";
    // With a third one straight on there is nothing to share: it takes two tees in its line.
    assert_eq!(
        of(runs, "below"),
        ["tee through 4 in, counted with left", "tee through 4 in, counted with right"]
    );
    assert_eq!(of(runs, "left"), ["tee turn 4 in"]);
    let two = runs.split("      below").next().unwrap();
    assert_eq!(of(two, "left"), ["tee turn 4 in"]);
    assert_eq!(of(two, "right"), ["tee turn 4 in, counted with left"]);
}

#[test]
fn a_branch_at_half_a_right_angle_leaves_by_a_wye() {
    let runs = "      \
        line: {from: fan, down: 8 ft}\n      \
        on: {from: line, down: 4 ft, to: s1}\n      \
        slant: {from: line, down: 4 ft, east: 4 ft, to: s2}\n";
    assert_eq!(of(runs, "on"), ["wye through 4 in, counted with slant"]);
    assert_eq!(of(runs, "slant"), ["wye side 4 in"]);
}

#[test]
fn a_turn_that_no_elbow_makes_takes_two() {
    // Down 4 ft and 3 ft across: 36.87 degrees off plumb (a triangle of 3, 4 and 5).
    let runs = "      \
        line: {from: fan, down: 8 ft}\n      \
        slant: {from: line, down: 4 ft, east: 3 ft, to: s1}\n";
    assert_eq!(of(runs, "slant"), ["2 x 22 1/2 elbow 4 in"]);
    // Back up: a half turn.
    let runs = "      \
        line: {from: fan, down: 8 ft}\n      \
        back: {from: line, up: 4 ft, to: s1}\n";
    assert_eq!(of(runs, "back"), ["2 x 90 elbow 4 in"]);
}

#[test]
fn a_run_turns_at_its_points() {
    // Straight down, then north, then off to the north-east: 90 and 45 degrees.
    let runs = "      line: {from: fan, points: [[0 ft, 0 ft, 9 ft], [0 ft, 0 ft, 1 ft], [0 ft, 6 ft, 1 ft], [5 ft, 11 ft, 1 ft]], to: s1}\n";
    assert_eq!(of(runs, "line"), ["90 elbow 4 in", "45 elbow 4 in"]);
    let read = super::facts::design(&design(runs));
    let mut facts = Facts::new(&read);
    let it = thing(&mut facts, "runs", "line");
    let Answer::Known { value, .. } = fittings_of(&mut facts, it) else { panic!("not known") };
    assert!(value.iter().all(Fitted::is_implied));
    let turns: Vec<(usize, f64)> = value
        .iter()
        .map(|one| match &one.why {
            Why::Turn { leg, angle } => (*leg, Angle::to_si(*angle).round()),
            other => panic!("{other:?}"),
        })
        .collect();
    assert_eq!(turns, [(0, 90.0), (1, 45.0)]);
}

#[test]
fn what_a_run_states_is_all_it_has() {
    let runs = "      \
        riser: {from: fan, down: 8 ft}\n      \
        line: {from: riser, north: 6 ft, fittings: [long 90 elbow, {kind: 45 elbow, count: 2}, {kind: reducer, to_size: 3 in}]}\n      \
        drop: {from: line, down: 4 ft, to: s1, fittings: none}\n";
    assert_eq!(of(runs, "line"), ["long 90 elbow 4 in", "2 x 45 elbow 4 in", "reducer 4 in by 3 in"]);
    assert_eq!(of(runs, "drop"), Vec::<String>::new());
}

#[test]
fn a_run_that_is_drawn_toward_the_others_joins_them_the_same_way() {
    let runs = "      \
        riser: {from: fan, down: 8 ft}\n      \
        line: {from: s1, south: 6 ft, to: riser}\n";
    // Its end comes in from the north, at a right angle to the riser.
    assert_eq!(of(runs, "line"), ["90 elbow 4 in"]);
}

#[test]
fn at_the_fan_a_run_turns_where_it_leaves_across_the_axis_and_is_reduced_to_its_port() {
    let runs = "      side: {from: fan, east: 8 ft, to: s1}\n";
    assert_eq!(of(runs, "side"), ["90 elbow 4 in"]);
    let text =
        design("      line: {from: fan, down: 8 ft, to: s1}\n").replace("axis: vertical", "inlet: 6 in");
    let read = super::facts::design(&text);
    let mut facts = Facts::new(&read);
    let it = thing(&mut facts, "runs", "line");
    let Answer::Known { value, .. } = fittings_of(&mut facts, it) else { panic!("not known") };
    assert_eq!(value.iter().map(|one| words(&facts, one)).collect::<Vec<_>>(), ["reducer 4 in by 6 in"]);
}

#[test]
fn what_cannot_be_told_names_what_is_missing() {
    let runs = "      \
        riser: {from: fan, length: 8 ft}\n      \
        line: {from: riser, north: 6 ft, to: s1}\n";
    assert_eq!(of(runs, "line"), ["wants systems.main.runs.riser.points"]);
    let runs = "      line: {north: 6 ft, to: s1}\n";
    assert_eq!(of(runs, "line"), ["wants systems.main.runs.line.from"]);
}
