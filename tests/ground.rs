//! The ground under a floor as facts: what a made-up communication test was made with comes out of it again, and a block wall under
//! suction takes nothing from the rest.

use std::f64::consts::PI;
use std::fmt::Write as _;

use undercroft::base::value::{Answer, Value};
use undercroft::facts::Facts;

use super::facts::ask;

fn bounds(text: &str, list: &str, name: &str, fact: &str) -> (f64, f64) {
    let design = super::facts::design(text);
    let mut facts = Facts::new(&design);
    match ask(&mut facts, list, name, fact) {
        Answer::Known { value: Value::Number(number), .. } => number.to_f64_bounds(),
        other => panic!("{name} {fact}: {other:?}"),
    }
}

fn holds((low, high): (f64, f64), true_value: f64, within: f64) -> bool {
    low <= true_value && true_value <= high && low > true_value / within && high < true_value * within
}

/// A round slab with a hole in its middle, tested with a vacuum of 1000 Pa.
///
/// Suction round a pit in the middle of a round slab with a sealed edge is `q/(2 pi T) (K0(r/L) + B I0(r/L))`, B = K1(R/L)/I1(R/L).
/// With L = 4 m, R = 6 m and a hole of 0.1 m radius, by the tables of Abramowitz and Stegun 9.8 and 9.11:
/// K1(1.5) = 0.27739, I1(1.5) = 0.98167, B = 0.28257;
/// at the hole K0(0.025) = 3.8056, I0(0.025) = 1.0002, together 4.0882;
/// at 2 m K0(0.5) = 0.92442, I0(0.5) = 1.06348, together 1.22493, which is 299.6 Pa;
/// at 4 m K0(1) = 0.42102, I0(1) = 1.26607, together 0.77877, which is 190.5 Pa.
fn round_slab(flow: &str) -> String {
    // 48 corners on a circle of as much area as one of 6 m
    let turn = 2.0 * PI / 48.0;
    let far = 6.0 * (turn / turn.sin()).sqrt();
    let mut corners = String::new();
    for n in 0..48 {
        let angle = turn * f64::from(n);
        write!(corners, "[{:.4} m, {:.4} m], ", far * angle.cos(), far * angle.sin()).unwrap();
    }
    let corners = corners.trim_end_matches(", ");
    format!(
        "\
undercroft: 1
site: {{soil_gas_temperature: 55 degF}}
foundation:
  areas:
    cellar: {{kind: slab, outline: [{corners}], under_slab: {{kind: gravel, depth: 100 mm, probe: clean}}}}
systems:
  main:
    suction_points:
      s1: {{kind: slab, in: cellar, at: {{plan: [0 m, 0 m]}}, pit: {{width: 200 mm}}}}
diagnostics:
  communication:
    pull:
      in: cellar
      at: {{plan: [0 m, 0 m]}}
      hole: 200 mm
      suction: 1000 Pa
{flow}      holes:
        near: {{at: {{plan: [2 m, 0 m]}}, off: 0 Pa, on: -299.6 Pa}}
        far: {{at: {{plan: [0 m, -4 m]}}, off: 0 Pa, on: -190.5 Pa}}
"
    )
}

/// T = 5e-6 draws 2 pi T 1000 Pa / 4.0882 = 7.684e-3 m3/s.
const FLOW: &str = "      flow: 7.684 L/s\n";

#[test]
fn a_made_up_test_gives_back_the_reach_the_leakage_and_the_permeability_it_was_made_with() {
    let text = round_slab(FLOW);
    let of = |fact: &str| bounds(&text, "areas", "cellar", fact);
    assert!(holds(of("suction_reach"), 4.0, 1.2), "{:?}", of("suction_reach"));
    // c = T / L^2 = 5e-6 / 16 over pi 36 m2
    let leaks = 5e-6 / 16.0 * PI * 36.0;
    assert!(holds(of("air_leaking_in"), leaks, 1.5), "{:?} {leaks}", of("air_leaking_in"));
    // k = T mu / h with mu = 1.785e-5 Pa s at 55 degF (Sutherland): 8.925e-10 m2; a darcy is 9.8692e-13 m2
    let darcys = 5e-6 * 1.785e-5 / 0.1 / 9.869_2e-13;
    assert!(holds(of("permeability"), darcys, 1.2), "{:?} {darcys}", of("permeability"));
    // the pit of the point is the hole of the test
    assert!(holds(of("air_given"), 7.684e-6, 1.2), "{:?}", of("air_given"));
}

#[test]
fn a_test_without_its_air_tells_the_reach_and_leaves_the_rest_as_wide_as_the_ground_may_be() {
    let text = round_slab("");
    assert!(holds(bounds(&text, "areas", "cellar", "suction_reach"), 4.0, 1.2));
    let (low, high) = bounds(&text, "areas", "cellar", "permeability");
    // clean stone, 1e-9 to 1e-6 m2
    assert!(low < 1.05e-9 / 9.869_2e-13 && high > 0.95e-6 / 9.869_2e-13, "{low} {high}");
}

const WALL: &str = "\
undercroft: 1
site: {altitude: 0 ft, soil_gas_temperature: 55 degF}
foundation:
  areas:
    cellar: {kind: slab, in: cellar, size: 30 ft x 20 ft, corner: [0 ft, 0 ft], under_slab: {kind: gravel, depth: 4 in, probe: clean}}
  walls:
    north: {kind: hollow block, of: cellar, side: north, height: 7 ft, top: solid block, holes_closed: yes, coated_inside: no}
building:
  spaces:
    cellar: {kind: basement}
systems:
  main:
    fan: {axis: vertical, curve: [[0 cfm, 2 in WC, 80 W], [200 cfm, 0 in WC, 40 W]], curve_density: 0.075 lb/ft3}
    discharge: {cap: none}
    pipe: {material: PVC, schedule: 40, size: 4 in}
    runs:
      stack: {from: fan, up: 20 ft, to: discharge, fittings: none}
      riser: {from: fan, down: 10 ft, fittings: none}
      one: {from: riser, down: 4 ft, to: s1, fittings: none}
      two: {from: riser, down: 4 ft, to: at_wall, fittings: none}
    suction_points:
      s1: {kind: slab, in: cellar, at: {plan: [15 ft, 10 ft]}, pit: {width: 18 in}}
      at_wall: {kind: block wall, in: cellar, wall: north}
";

#[test]
fn a_point_in_a_block_wall_has_its_air_and_the_floor_keeps_its_numbers() {
    let of = |text: &str, list: &str, name: &str, fact: &str| bounds(text, list, name, fact);
    let (air_low, air_high) = of(WALL, "suction_points", "at_wall", "worked_flow");
    let (low, high) = of(WALL, "suction_points", "at_wall", "worked_suction");
    assert!(0.0 < air_low && air_low < air_high && 0.0 < low && low < high);
    // 30 ft x 7 ft is 19.51 m2; at the least 3.5e-6 m/(s Pa) of bare block at the suction that is least
    assert!(air_high > 19.51 * 3.5e-6 * low, "{air_high} {low}");
    // where all lies open to the suction of the wall, 2 x 3.9e-4 m/(s Pa): 7.6e-3 m3/s for each pascal, and what the fan can move
    assert!(air_high < 200.0 * 4.72e-4, "{air_high}");
    let plain = WALL.replace("      at_wall: {kind: block wall, in: cellar, wall: north}\n", "");
    let plain = plain.replace("      two: {from: riser, down: 4 ft, to: at_wall, fittings: none}\n", "");
    // the layer is what it is without the wall
    for fact in ["suction_reach", "permeability", "air_leaking_in"] {
        assert_eq!(of(WALL, "areas", "cellar", fact), of(&plain, "areas", "cellar", fact), "{fact}");
    }
    // a wall may hold suction under the floor or let it go: never less certain than without
    let (weak, strong) = of(WALL, "areas", "cellar", "weakest_suction");
    let (plain_weak, plain_strong) = of(&plain, "areas", "cellar", "weakest_suction");
    assert!(
        0.0 <= weak && weak <= plain_weak && strong <= 1.1 * plain_strong,
        "{weak} {plain_weak} {strong}"
    );
}

#[test]
fn a_block_wall_of_which_little_is_said_is_wider_and_still_comes_out() {
    let of = |text: &str| bounds(text, "suction_points", "at_wall", "worked_suction");
    let (low, high) = of(WALL);
    for (from, to) in [
        (", height: 7 ft", ""),
        (", coated_inside: no", ""),
        (", side: north", ""),
        (", top: solid block", ""),
        (", holes_closed: yes", ", holes: 30 sq in"),
        (", wall: north}", "}"),
    ] {
        assert!(WALL.contains(from));
        let (wide_low, wide_high) = of(&WALL.replace(from, to));
        assert!(wide_low <= low * 1.001 && wide_high >= high * 0.999, "{from}: {wide_low} {wide_high}");
    }
    let open = of(&WALL.replace("top: solid block", "top: open"));
    assert!(open.1 < 0.3 * high, "open tops let go of the suction: {open:?}, {high}");
}

/// A slab given by its size, with all that lies in it taped off its walls.
const BY_SIZE: &str = "\
undercroft: 1
site: {altitude: 0 ft, soil_gas_temperature: 55 degF}
foundation:
  areas:
    cellar: {kind: slab, in: cellar, size: 40 ft x 24 ft, wanted_suction: 1 Pa, under_slab: {kind: gravel, depth: 4 in, probe: clean}}
building:
  spaces:
    cellar: {kind: basement}
systems:
  main:
    fan: {axis: vertical, curve: [[0 cfm, 2 in WC, 80 W], [200 cfm, 0 in WC, 40 W]], curve_density: 0.075 lb/ft3}
    discharge: {cap: none}
    pipe: {material: PVC, schedule: 40, size: 4 in}
    runs:
      stack: {from: fan, up: 20 ft, to: discharge, fittings: none}
      riser: {from: fan, down: 10 ft, fittings: none}
      one: {from: riser, down: 4 ft, to: s1, fittings: none}
      two: {from: riser, down: 4 ft, to: s2, fittings: none}
    suction_points:
      s1: {kind: slab, in: cellar, from_walls: {west: 10 ft, south: 12 ft}, pit: {width: 18 in}}
      s2: {kind: slab, in: cellar, at: {from_walls: {east: 4 ft, north: 3 ft}}, pit: {width: 18 in}}
diagnostics:
  communication:
    pull:
      in: cellar
      at: {from_walls: {west: 8 ft, south: 8 ft}}
      hole: 2 in
      suction: 5 kPa
      flow: 30 cfm
      holes:
        near: {from_walls: {west: 14 ft, south: 8 ft}, on: -40 Pa}
        far: {from_walls: {east: 6 ft, north: 4 ft}, on: -10 Pa}
start_up:
  field:
    south_east: {in: cellar, from_walls: {east: 2 ft, south: 2 ft}, on: -3 Pa}
";

/// The same with its corner, and with more entries.
fn by_size(corner: Option<&str>, changes: &[(&str, &str)]) -> String {
    let corner =
        corner.map(|corner| ("size: 40 ft x 24 ft", format!("size: 40 ft x 24 ft, corner: {corner}")));
    let changed = changes.iter().map(|(from, to)| (*from, (*to).to_owned()));
    changed.chain(corner).fold(BY_SIZE.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, &to)
    })
}

/// Facts that ask only for places within the area.
const WITHIN: [(&str, &str, &str); 11] = [
    ("areas", "cellar", "suction_reach"),
    ("areas", "cellar", "permeability"),
    ("areas", "cellar", "weakest_suction"),
    ("areas", "cellar", "half_suction"),
    ("areas", "cellar", "share_held"),
    ("areas", "cellar", "weakest_with_next"),
    ("areas", "cellar", "longest_link"),
    ("suction_points", "s1", "from_edge"),
    ("suction_points", "s2", "from_edge"),
    ("suction_points", "s1", "worked_suction"),
    ("test_holes", "south_east", "worked_suction"),
];

#[test]
fn a_slab_by_its_size_alone_has_what_it_has_wherever_it_lies() {
    let alone = by_size(None, &[]);
    for corner in ["[0 ft, 0 ft]", "[103 ft, -57 ft 3 in]"] {
        let placed = by_size(Some(corner), &[]);
        for (list, name, fact) in WITHIN {
            let ((low, high), (a, b)) = (bounds(&alone, list, name, fact), bounds(&placed, list, name, fact));
            assert!(low > 0.0 && low <= high, "{name} {fact}: {low} {high}");
            let near = |one: f64, other: f64| (one - other).abs() <= 1e-6 * other.abs();
            assert!(near(low, a) && near(high, b), "{name} {fact} at {corner}: {low} {high} and {a} {b}");
        }
    }
    // 10 ft off the west wall; between (10 ft, 12 ft) and (36 ft, 21 ft) lie 26 ft one way and 9 ft the other
    let foot = 0.3048;
    let link = foot * f64::from(26 * 26 + 9 * 9).sqrt();
    for (list, name, fact, right) in [
        ("suction_points", "s1", "from_edge", 10.0 * foot),
        ("suction_points", "s2", "from_edge", 3.0 * foot),
        ("areas", "cellar", "longest_link", link),
    ] {
        let (low, high) = bounds(&alone, list, name, fact);
        assert!((low - right).abs() < 1e-9 && (high - right).abs() < 1e-9, "{name} {fact}: {low} {high}");
    }
}

#[test]
fn what_is_given_by_the_plan_of_the_site_asks_for_the_corner_of_a_slab_by_its_size() {
    let corner = "foundation.areas.cellar.corner";
    let by_plan = |list: &'static str, name: &'static str, fact: &'static str, changes: &[(&str, &str)]| {
        let design = super::facts::design(&by_size(None, changes));
        let wanting = super::facts::wanting(ask(&mut Facts::new(&design), list, name, fact));
        assert!(wanting.iter().any(|entry| entry == corner), "{name} {fact}: {wanting:?}");
        // with the corner it comes out
        bounds(&by_size(Some("[0 ft, 0 ft]"), changes), list, name, fact);
    };
    // the place of the next point on the plan
    by_plan("areas", "cellar", "next_point_east", &[]);
    by_plan("areas", "cellar", "next_point_north", &[]);
    // a pit, a test hole, a footing and another slab that may lie in the middle of this one, all on the plan
    let pit = ("from_walls: {west: 10 ft, south: 12 ft}", "at: {plan: [10 ft, 12 ft]}");
    by_plan("areas", "cellar", "weakest_suction", &[pit]);
    by_plan("areas", "cellar", "longest_link", &[pit]);
    by_plan("suction_points", "s1", "from_edge", &[pit]);
    let hole = ("from_walls: {east: 2 ft, south: 2 ft}", "at: {plan: [38 ft, 2 ft]}");
    by_plan("test_holes", "south_east", "worked_suction", &[hole]);
    let inner =
        "  footings:\n    middle: {kind: inner, line: [[20 ft, 0 ft], [20 ft, 16 ft]], passes_gas: no}\n";
    let inner = format!("{inner}building:\n");
    by_plan("areas", "cellar", "weakest_suction", &[("building:\n", &inner)]);
    let pad =
        "    pad: {kind: slab, outline: [[20 ft, 10 ft], [24 ft, 10 ft], [24 ft, 14 ft], [20 ft, 14 ft]]}\n";
    let pad = format!("{pad}building:\n");
    by_plan("areas", "cellar", "weakest_suction", &[("building:\n", &pad)]);
}
