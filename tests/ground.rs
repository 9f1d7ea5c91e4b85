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
