//! A run that goes up to something.

use undercroft::base::problem::ProblemKind;

use super::{ask, length, number, root_of_square_inches, told, wanting};

/// A house of 40 ft by 24 ft whose basement floor is the origin. The fan stands in the attic at 30 ft east, 14 ft
/// north and 19 ft; a riser comes down from it to 8 ft under the basement's ceiling.
fn house(basement: &str, area: &str, roof: &str, runs: &str) -> String {
    let points = [
        ("to: s1", "      s1: {kind: slab, in: slab, pit: {depth: 12 in}}\n"),
        ("to: s2", "      s2: {kind: sump, in: slab, sump: well}\n"),
    ];
    let points: String =
        points.iter().filter(|(end, _)| runs.contains(end)).map(|(_, point)| *point).collect();
    let points = if points.is_empty() { points } else { format!("    suction_points:\n{points}") };
    format!(
        "undercroft: 1
building:
  spaces:
    basement: {{kind: basement{basement}}}
    attic: {{kind: attic}}
  roof: {{{roof}}}
foundation:
  areas:
    slab: {{kind: slab, in: basement{area}}}
  sumps:
    well: {{in: slab, lid: {{top: {{above_floor: 1/2 in}}}}}}
systems:
  main:
    fan: {{at: [30 ft, 14 ft, 19 ft], in: attic}}
    discharge: {{direction: up}}
    runs:
      riser: {{from: fan, down: 11 ft, through: [attic, basement]}}
{runs}
{points}"
    )
}

const SIZE: &str = ", size: 40 ft x 24 ft, corner: [0 ft, 0 ft], top: 0 ft, thickness: 4 in";
const ELL: &str = ", outline: [[0 ft, 0 ft], [40 ft, 0 ft], [40 ft, 10 ft], [24 ft, 10 ft], [24 ft, 24 ft], [0 ft, 24 ft]], top: 0 ft";
const ROOF: &str = "kind: gable, edge: 17 ft, pitch: 6 in 12, ridge_lies: east-west, outline: [[-1 ft, -1 ft], [41 ft, -1 ft], [41 ft, 25 ft], [-1 ft, 25 ft]]";

fn run(line: &str) -> String {
    format!("      it: {{{line}}}")
}

#[test]
fn a_run_to_something_is_as_long_as_by_hand() {
    let rows = [
        // The riser stands at (30, 14), and the north wall 24 ft north of the origin: 10 ft.
        ("from: riser, north: to wall, slope: 0 in per ft, through: basement", "10 ft"),
        ("from: riser, south: to wall, slope: 0 in per ft, through: basement", "14 ft"),
        ("from: riser, east: to wall, slope: 0 in per ft, through: basement", "10 ft"),
        ("from: riser, west: to wall, slope: 0 in per ft, through: basement", "30 ft"),
        // From 8 ft to the floor, to the underside of a slab of 4 in and 12 in further, to a lid that stands 1/2 in
        // above the floor.
        ("from: riser, down: to slab, to: s1", "8 ft"),
        ("from: riser, down: to pit, to: s1", "9 ft 4 in"),
        ("from: riser, down: to lid, to: s2", "7 ft 11 1/2 in"),
        // The ceiling is 8 ft 6 in above the floor of the slab.
        ("from: riser, up: to ceiling, through: basement", "6 in"),
        ("from: riser, up: to fan", "11 ft"),
        // 11 ft in from the north edge of the roof at 25 ft: 17 ft and half of 11 ft are 22 ft 6 in.
        ("from: fan, up: to roof, through: attic", "3 ft 6 in"),
    ];
    for (line, by_hand) in rows {
        let text = house(", ceiling: 8 ft 6 in", SIZE, ROOF, &run(line));
        assert_eq!(number(ask(&text, "runs", "it", "length")), length(by_hand), "{line}");
    }
}

#[test]
fn in_an_ell_it_is_the_wall_before_the_pipe_that_ends_it() {
    // The riser at (30, 14) stands north of the short leg; moved 6 ft south and 10 ft west it is at (20, 8).
    let corner =
        "      corner: {from: riser, south: 6 ft, west: 10 ft, slope: 0 in per ft, through: basement}\n";
    for (line, by_hand) in [
        ("from: corner, east: to wall, slope: 0 in per ft, through: basement", "20 ft"),
        ("from: corner, north: to wall, slope: 0 in per ft, through: basement", "16 ft"),
        ("from: corner, west: to wall, slope: 0 in per ft, through: basement", "20 ft"),
    ] {
        let text = house("", ELL, "edge: 17 ft", &format!("{corner}{}", run(line)));
        assert_eq!(number(ask(&text, "runs", "it", "length")), length(by_hand), "{line}");
    }
    // At (30, 14) the pipe is outside of the ell, whose wall at 24 ft lies behind it.
    let line = "from: riser, east: to wall, slope: 0 in per ft, through: basement";
    let text = house("", ELL, "edge: 17 ft", &run(line));
    let told = told(&text);
    assert!(matches!(told.first(), Some((ProblemKind::CannotBe, _))), "{told:#?}");
    assert!(wanting(ask(&text, "runs", "it", "length")).contains(&"systems.main.runs.it.east".to_owned()));
}

#[test]
fn a_length_to_something_goes_on_with_the_slope() {
    let text =
        house("", SIZE, "", &run("from: riser, north: to wall, slope: 1/2 in per ft, through: basement"));
    // 10 ft at 1/2 in per ft is 5 in: sqrt(120^2 + 5^2).
    assert_eq!(number(ask(&text, "runs", "it", "length")), root_of_square_inches(14_425, 1));
}

#[test]
fn the_entries_that_would_tell_are_asked_for_and_no_others() {
    let no_corner = ", size: 40 ft x 24 ft, top: 0 ft";
    let rows: &[(&str, &str, &str, &str, &[&str])] = &[
        (
            "",
            no_corner,
            "",
            "from: riser, north: to wall, slope: 0 in per ft, through: basement",
            &["foundation.areas.slab.corner"],
        ),
        (
            "",
            "",
            "",
            "from: riser, north: to wall, slope: 0 in per ft, through: basement",
            &["foundation.areas.slab.corner", "foundation.areas.slab.size"],
        ),
        ("", SIZE, "", "from: riser, north: to wall, slope: 0 in per ft", &["systems.main.runs.it.through"]),
        (
            "",
            SIZE,
            "",
            "from: riser, north: to wall, slope: 0 in per ft, through: attic",
            &["building.spaces.attic.outline"],
        ),
        (
            "",
            SIZE,
            "",
            "from: riser, up: to ceiling, through: basement",
            &["building.spaces.basement.ceiling"],
        ),
        (
            ", ceiling: 8 ft",
            "",
            "",
            "from: riser, up: to ceiling, through: basement",
            &["building.spaces.basement.floor"],
        ),
        ("", ", top: 0 ft", "", "from: riser, down: to pit, to: s1", &["foundation.areas.slab.thickness"]),
        ("", SIZE, "", "from: riser, down: to pit", &["systems.main.runs.it.to"]),
        (
            "",
            SIZE,
            "kind: gable, edge: 17 ft",
            "from: fan, up: to roof",
            &["building.roof.outline", "building.roof.pitch", "building.roof.ridge_lies"],
        ),
        ("", SIZE, "kind: shed, edge: 17 ft", "from: fan, up: to roof", &["building.roof.slopes"]),
        ("", SIZE, "edge: 17 ft", "from: fan, up: to roof", &["building.roof.kind"]),
        ("", SIZE, "kind: flat", "from: fan, up: to roof", &["building.roof.edge"]),
    ];
    for (basement, area, roof, line, entries) in rows {
        let text = house(basement, area, roof, &run(line));
        assert_eq!(wanting(ask(&text, "runs", "it", "length")), *entries, "{line}");
    }
}

#[test]
fn the_surface_of_every_form_of_roof_is_as_high_as_by_hand() {
    let outline = "outline: [[0 ft, 0 ft], [40 ft, 0 ft], [40 ft, 24 ft], [0 ft, 24 ft]]";
    let rows = [
        // At (30, 14): 10 ft from the north and from the east side, 14 ft from the south.
        ("kind: flat, edge: 20 ft".to_owned(), "1 ft"),
        // 17 ft + 10 ft / 2 = 22 ft.
        (format!("kind: hip, edge: 17 ft, pitch: 6 in 12, {outline}"), "3 ft"),
        // The ridge lies from north to south over 20 ft east: 10 ft from the east side as well.
        (format!("kind: gable, edge: 17 ft, pitch: 6 in 12, ridge_lies: north-south, {outline}"), "3 ft"),
        // Falls to the south, 14 ft in: 17 ft + 14 ft / 4 = 20 ft 6 in.
        (format!("kind: shed, edge: 17 ft, {outline}, slopes: {{only: {{falls: south, pitch: 3 in 12}}}}"), "1 ft 6 in"),
        // North: 19 ft + 10 ft / 4 = 21 ft 6 in; south: 17 ft + 14 ft / 2 = 24 ft. The lower counts.
        (format!("kind: gable, {outline}, slopes: {{north: {{falls: north, pitch: 3 in 12, edge: 19 ft}}, south: {{falls: south, pitch: 6 in 12, edge: 17 ft}}}}"), "2 ft 6 in"),
        // 2 ft south of it the ridge at 23 ft lies from east to west: 1 ft lower.
        ("kind: gable, ridge: 23 ft, pitch: 6 in 12, ridge_line: [[0 ft, 12 ft], [40 ft, 12 ft]]".to_owned(), "3 ft"),
        // From 17 ft at 26 ft north to 24 ft at 12 ft north: half a foot a foot, 12 ft in: 23 ft.
        ("slopes: {north: {corners: [[0 ft, 26 ft, 17 ft], [40 ft, 26 ft, 17 ft], [40 ft, 12 ft, 24 ft], [0 ft, 12 ft, 24 ft]]}}".to_owned(), "4 ft"),
    ];
    for (roof, by_hand) in rows {
        let text = house("", SIZE, &roof, &run("from: fan, up: to roof, through: attic"));
        assert_eq!(number(ask(&text, "runs", "it", "length")), length(by_hand), "{roof}");
    }
}

#[test]
fn what_does_not_lie_that_way_is_told_once_and_tells_nothing() {
    for (line, says) in [
        // The ceiling is at 7 ft, and the riser ends at 8 ft.
        (
            "from: riser, up: to ceiling, through: basement",
            "said to go up to a ceiling, and yet that lies the other way",
        ),
        (
            "from: fan, down: to roof, through: attic",
            "said to go down to the roof, and yet that lies the other way",
        ),
        ("from: riser, up: to wall, through: basement", "said to go up to a wall"),
        ("from: riser, north: to slab, through: basement", "said to go north to the slab"),
    ] {
        let text = house(", ceiling: 7 ft", SIZE, ROOF, &run(line));
        let told = told(&text);
        assert!(
            matches!(told.as_slice(), [(ProblemKind::CannotBe, found)] if found.contains(says)),
            "{line}: {told:#?}"
        );
        assert!(!wanting(ask(&text, "runs", "it", "length")).is_empty(), "{line}");
    }
}

#[test]
fn two_walls_that_do_not_agree_leave_the_range_between_them() {
    // The space is said to end at 23 ft north, the slab under it at 24 ft: 9 ft or 10 ft from the riser.
    let room = ", outline: [[0 ft, 0 ft], [40 ft, 0 ft], [40 ft, 23 ft], [0 ft, 23 ft]]";
    let text =
        house(room, SIZE, "", &run("from: riser, north: to wall, slope: 0 in per ft, through: basement"));
    let kinds: Vec<_> = told(&text).into_iter().map(|(kind, _)| kind).collect();
    assert_eq!(kinds, [ProblemKind::Contradiction]);
    let range = number(ask(&text, "runs", "it", "length"));
    let (low, high) = (length("9 ft").low(), length("10 ft").high());
    assert_eq!(range.bounds(), (low, high));
}

#[test]
fn the_ridge_is_held_against_pitch_and_width() {
    // 24 ft wide between its edges at 17 ft: 12 ft at 6 in 12 rise 6 ft, to 23 ft.
    let roof = |ridge: &str| {
        format!(
            "kind: gable, edge: 17 ft, ridge: {ridge}, pitch: 6 in 12, ridge_lies: east-west, outline: [[0 ft, 0 ft], [40 ft, 0 ft], [40 ft, 24 ft], [0 ft, 24 ft]]"
        )
    };
    let with =
        |ridge: &str| told(&house("", SIZE, &roof(ridge), &run("from: fan, up: to roof, through: attic")));
    assert_eq!(with("23 ft"), []);
    let told = with("25 ft");
    assert!(
        matches!(told.as_slice(), [(ProblemKind::Contradiction, found)] if found.contains("ridge")),
        "{told:#?}"
    );
}
