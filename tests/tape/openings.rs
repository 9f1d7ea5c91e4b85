//! Openings by their middle, their width and their height, beside their corners and the heights of their edges.

use undercroft::base::problem::ProblemKind;

use super::{ask, length, number, root_of_square_inches, told, wanting};

/// An outlet of 4 1/2 in that points up from 30 ft east, 14 ft north and 24 ft, and one window.
fn house(window: &str) -> String {
    format!(
        "undercroft: 1
building:
  spaces: {{kitchen: {{floor: 8 ft}}}}
  openings:
    window: {{{window}}}
systems:
  main:
    discharge: {{at: [30 ft, 14 ft, 24 ft], direction: up, outside_diameter: 4 1/2 in}}
"
    )
}

const MIDDLE: &str = "kind: window, side: north, at: [30 ft, 24 ft, 13 ft 6 in], width: 4 ft, height: 44 in";
const CORNERS: &str = "kind: window, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]]";

#[test]
fn a_window_by_its_middle_is_as_far_off_as_one_by_its_corners() {
    // Both have their edges at 28 and 32 ft, in the wall at 24 ft, from 11 ft 8 in to 15 ft 4 in. 10 ft less 2 1/4 in
    // is 117.75 in, and 8 ft 8 in are 104 in: 117.75^2 + 104^2 = 24681.0625.
    for window in [
        CORNERS,
        MIDDLE,
        "kind: window, at: {point: [30 ft, 24 ft, 13 ft 6 in], side: north}, width: 4 ft, height: 44 in",
        "kind: window, side: north, at: {plan: [30 ft, 24 ft]}, width: 4 ft, top: 15 ft 4 in, bottom: 11 ft 8 in",
        "kind: window, side: north, at: {plan: [30 ft, 24 ft]}, width: 4 ft, top: 15 ft 4 in, height: 44 in",
        "kind: window, side: north, at: {plan: [30 ft, 24 ft], z: 13 ft 6 in}, width: 4 ft, height: 44 in",
        "kind: window, side: north, into: kitchen, at: {plan: [30 ft, 24 ft]}, width: 4 ft, height: 44 in, top: {above_floor: 7 ft 4 in}",
        "kind: window, side: north, into: kitchen, at: {plan: [30 ft, 24 ft], above_floor: 5 ft 6 in}, width: 4 ft, height: 44 in",
        "kind: window, side: north, at: {from: discharge, north: 10 ft, east: 0 ft, down: 10 ft 6 in}, width: 4 ft, height: 44 in",
    ] {
        let text = house(window);
        let clearance = number(ask(&text, "openings", "window", "clearance"));
        assert_eq!(clearance, root_of_square_inches(246_810_625, 10_000), "{window}");
        assert_eq!(
            number(ask(&text, "openings", "window", "top_below_discharge")),
            length("8 ft 8 in"),
            "{window}"
        );
        assert_eq!(told(&text), [], "{window}");
    }
}

#[test]
fn what_is_lacking_of_a_middle_is_asked_for() {
    let own = |key: &str| vec![format!("building.openings.window.{key}")];
    for (window, key) in [
        ("kind: window, at: [30 ft, 24 ft, 13 ft 6 in], width: 4 ft, height: 44 in", "side"),
        ("kind: window, side: north, at: [30 ft, 24 ft, 13 ft 6 in], height: 44 in", "width"),
        ("kind: window, side: north, at: [30 ft, 24 ft, 13 ft 6 in], width: 4 ft", "height"),
        ("side: north, at: [30 ft, 24 ft, 13 ft 6 in], width: 4 ft, height: 44 in", "kind"),
        // Where a skylight lies in the slope, its width and height do not tell.
        (
            "kind: skylight, side: north, at: [30 ft, 24 ft, 13 ft 6 in], width: 4 ft, height: 44 in",
            "corners",
        ),
        // A height alone is not where it is on the plan.
        ("kind: window, at: {above_ground: 4 ft}", "from_discharge.straight"),
    ] {
        assert_eq!(wanting(ask(&house(window), "openings", "window", "clearance")), own(key), "{window}");
    }
}

#[test]
fn edges_that_do_not_agree_are_told_once() {
    for (window, says) in [
        // The middle is moved by a foot: 29 to 33 ft against 28 to 32 ft.
        (
            "kind: window, side: north, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]], at: [31 ft, 24 ft, 13 ft 6 in], width: 4 ft, height: 44 in",
            "edge of window",
        ),
        // 2 ft 10 in high instead of 3 ft 8 in: the top is at 14 ft 11 in and the bottom at 12 ft 1 in.
        (
            "kind: window, side: north, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]], at: [30 ft, 24 ft, 13 ft 6 in], width: 4 ft, height: 34 in",
            "of window",
        ),
        (
            "kind: window, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]], width: 36 in",
            "the width of window",
        ),
        (
            "kind: window, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]], height: 36 in",
            "the height of window from bottom to top",
        ),
        (
            "kind: window, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]], top: 16 ft",
            "the height of the top of window",
        ),
        // 11 ft 8 in and 40 in are 15 ft.
        (
            "kind: window, top: 15 ft 4 in, bottom: 11 ft 8 in, height: 40 in, from_discharge: {straight: 14 ft}",
            "of window",
        ),
    ] {
        let told = told(&house(window));
        assert!(
            matches!(told.as_slice(), [(ProblemKind::Contradiction, found)] if found.contains(says)),
            "{window}: {told:#?}"
        );
    }
}

#[test]
fn between_edges_that_do_not_agree_a_distance_is_the_range() {
    // The wall is said to stand at 24 ft and at 26 ft: 117.75 in or 141.75 in level.
    let window = "kind: window, side: north, corners: [[28 ft, 24 ft, 11 ft 8 in], [32 ft, 24 ft, 15 ft 4 in]], at: [30 ft, 26 ft, 13 ft 6 in], width: 4 ft, height: 44 in";
    let (low, high) = number(ask(&house(window), "openings", "window", "clearance")).to_f64_bounds();
    let inches = |square: f64| square.sqrt() * 0.0254;
    assert!((low - inches(117.75 * 117.75 + 104.0 * 104.0)).abs() < 1e-6, "{low}");
    assert!((high - inches(141.75 * 141.75 + 104.0 * 104.0)).abs() < 1e-6, "{high}");
}
