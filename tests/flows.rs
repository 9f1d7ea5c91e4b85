//! Air, suction and loss as pipe, fan and ground let them, held against what is reckoned by other ways.

use undercroft::base::number::Number;
use undercroft::base::value::{Answer, Value};
use undercroft::facts::Facts;

use super::facts::ask;

/// One fan, a stack of 20 ft, a riser of 30 ft in 4 in pipe without fittings, one pit that was tested to give 100 cfm at 1 in WC
/// and 200 cfm at 2 in WC: as much air as suction.
pub(crate) fn design(changes: &[(&str, &str)]) -> String {
    let mut text = "\
undercroft: 1
site: {altitude: 0 ft, soil_gas_temperature: 55 degF, soil_gas_humidity: 100 %}
foundation:
  areas:
    cellar: {kind: slab, in: cellar, size: 30 ft x 20 ft}
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
      riser: {from: fan, down: 30 ft, to: s1, fittings: none}
    suction_points:
      s1: {kind: slab, in: cellar}
diagnostics:
  communication:
    pull: {in: cellar, suction_point: s1, steps: [{suction: 1 in WC, flow: 100 cfm}, {suction: 2 in WC, flow: 200 cfm}]}
"
    .to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replace(from, to);
    }
    text
}

/// What a fact comes to, or the entries that it wants.
fn told(changes: &[(&str, &str)], list: &str, name: &str, fact: &str) -> Result<Number, Vec<String>> {
    let text = design(changes);
    let design = super::facts::design(&text);
    let mut facts = Facts::new(&design);
    match ask(&mut facts, list, name, fact) {
        Answer::Known { value: Value::Number(number), .. } => Ok(number),
        Answer::Unknown(missing) => {
            Err(missing.iter().map(|one| format!("{}: {:?}", one.entry, one.reason)).collect())
        }
        other => panic!("{other:?}"),
    }
}

fn bounds(changes: &[(&str, &str)], list: &str, name: &str, fact: &str) -> (f64, f64) {
    told(changes, list, name, fact).unwrap_or_else(|wants| panic!("{wants:?}")).to_f64_bounds()
}

const CFM: f64 = 4.719_474_432e-4;
const IN_WC: f64 = 249.088_91;

/// What straight pipe of 4.026 in takes, by Swamee and Jain's formula (1976), which stands within 1 % of Colebrook's; density and
/// viscosity of damp air at 55 degF from a psychrometric table: 1.231 kg/m3, 1.79e-5 Pa s. ASHRAE's roughness of plastic duct.
fn straight(flow: f64, length_ft: f64) -> f64 {
    let (d, rho, mu, rough) = (4.026 * 0.0254, 1.231, 1.79e-5, 9.144e-6_f64);
    let speed = flow / (std::f64::consts::PI * d * d / 4.0);
    let reynolds = rho * speed * d / mu;
    let f = 0.25 / (rough / (3.7 * d) + 5.74 / reynolds.powf(0.9)).log10().powi(2);
    f * length_ft * 0.3048 / d * rho * speed * speed / 2.0
}

/// The pressure of the speed in 4 in pipe.
fn of_speed(flow: f64) -> f64 {
    let speed = flow / (std::f64::consts::PI * (4.026_f64 * 0.0254).powi(2) / 4.0);
    1.231 * speed * speed / 2.0
}

/// The air at which the fan makes what pipe and ground take: the pipe's friction, 0.78 at the pit's pipe end, 1 at the outlet.
fn by_halving(fan: impl Fn(f64) -> f64, taken: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 200.0 * CFM);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if fan(middle) > taken(middle) { low = middle } else { high = middle }
    }
    low
}

#[test]
fn a_fan_on_one_pipe_moves_what_pipe_and_ground_take() {
    // The fan's sheet falls evenly; at 55 degF the gas is 1.231/1.2014 as heavy as standard air.
    let fan = |q: f64| 2.0 * IN_WC * (1.0 - q / (200.0 * CFM)) * 1.231 / 1.201_4;
    let taken = |q: f64| q / (100.0 * CFM) * IN_WC + straight(q, 50.0) + 1.78 * of_speed(q);
    let by_hand = by_halving(fan, taken);
    let (low, high) = bounds(&[], "fans", "fan", "worked_flow");
    assert!(low < by_hand && by_hand < high, "{low} {by_hand} {high}");
    assert!((high - low) / by_hand < 0.15, "{low} {high}");
    // The pit's suction is what its law takes: a hundred cfm for an inch.
    let (low, high) = bounds(&[], "suction_points", "s1", "worked_suction");
    let suction = by_hand / (100.0 * CFM) * IN_WC;
    assert!(low < suction && suction < high, "{low} {suction} {high}");
}

/// The same but for the last digits.
fn same(one: (f64, f64), other: (f64, f64)) -> bool {
    (one.0 - other.0).abs() < 1e-12 && (one.1 - other.1).abs() < 1e-12
}

#[test]
fn what_comes_through_a_run_goes_out_of_the_next() {
    let fan = bounds(&[], "fans", "fan", "worked_flow");
    for run in ["stack", "riser"] {
        assert!(same(bounds(&[], "runs", run, "worked_flow"), fan), "{run}");
    }
    assert!(same(bounds(&[], "suction_points", "s1", "worked_flow"), fan));
}

#[test]
fn speed_is_air_over_the_open_area() {
    let (low, high) = bounds(&[], "runs", "riser", "worked_flow");
    // 4.026 in wide: 0.08840 sq ft
    let area = std::f64::consts::PI * (4.026_f64 * 0.0254).powi(2) / 4.0;
    let (slow, fast) = bounds(&[], "runs", "riser", "worked_speed");
    assert!((slow - low / area).abs() < 1e-9 && (fast - high / area).abs() < 1e-9);
}

#[test]
fn longer_or_narrower_pipe_leaves_less_air_and_less_suction() {
    let of = |changes: &[(&str, &str)]| {
        (
            bounds(changes, "fans", "fan", "worked_flow"),
            bounds(changes, "suction_points", "s1", "worked_suction"),
        )
    };
    let (air, suction) = of(&[]);
    for change in [("down: 30 ft", "down: 90 ft"), ("size: 4 in", "size: 3 in")] {
        let (less_air, less_suction) = of(&[change]);
        assert!(less_air.0 < air.0 && less_air.1 < air.1, "{change:?}");
        assert!(less_suction.0 < suction.0 && less_suction.1 < suction.1, "{change:?}");
    }
}

/// Two pits at the ends of two branches of one riser.
const TWO: &[(&str, &str)] = &[
    ("down: 30 ft, to: s1, fittings: none", "down: 10 ft, fittings: none"),
    (
        "    suction_points:\n",
        "      one: {from: riser, down: 20 ft, to: s1, fittings: none}\n      \
         two: {from: riser, north: 20 ft, slope: 1/8 in per ft, to: s2, fittings: [90 elbow]}\n    \
         suction_points:\n      s2: {kind: slab, in: cellar}\n",
    ),
    (
        "    pull:",
        "    other: {in: cellar, suction_point: s2, steps: [{suction: 1 in WC, flow: 40 cfm}, {suction: 2 in WC, flow: 80 cfm}]}\n    pull:",
    ),
];

#[test]
fn two_points_share_what_the_fan_moves() {
    let fan = bounds(TWO, "fans", "fan", "worked_flow");
    let one = bounds(TWO, "suction_points", "s1", "worked_flow");
    let two = bounds(TWO, "suction_points", "s2", "worked_flow");
    assert!(one.0 + two.0 <= fan.1 && fan.0 <= one.1 + two.1);
    // the freer ground gives more at nearly the same suction: 100 to 40
    assert!(one.0 > 1.8 * two.0 && one.1 < 3.5 * two.1, "{one:?} {two:?}");
    assert!(same(bounds(TWO, "runs", "two", "worked_flow"), two));
    assert!(same(bounds(TWO, "runs", "riser", "worked_flow"), fan));
}

#[test]
fn a_closed_valve_lets_nothing_pass_and_leaves_the_rest_more() {
    let mut closed = TWO.to_vec();
    closed.push(("to: s2, fittings", "to: s2, valve: {kind: gate, open: 0 %}, fittings"));
    let (low, high) = bounds(&closed, "suction_points", "s2", "worked_flow");
    assert!(low.abs() < 1e-9 && high.abs() < 1e-9);
    let more = bounds(&closed, "suction_points", "s1", "worked_suction");
    let open = bounds(TWO, "suction_points", "s1", "worked_suction");
    assert!(more.0 > open.0 && more.1 > open.1);
}

#[test]
fn a_valve_that_was_set_by_its_gauge_holds_its_branch_at_that_suction() {
    let mut set = TWO.to_vec();
    set.push(("to: s2, fittings", "to: s2, valve: {kind: gate, set_to: 0.4 in WC}, fittings"));
    // The suction was read at the valve; the branch takes a little of it.
    let (low, high) = bounds(&set, "suction_points", "s2", "worked_suction");
    assert!(low > 0.38 * IN_WC && high < 0.4 * IN_WC, "{low} {high}");
}

#[test]
fn a_run_takes_what_its_valve_takes_too() {
    let half = [("to: s1, fittings: none", "to: s1, valve: {kind: gate, open: 50 %}, fittings: none")];
    let flow = bounds(&half, "runs", "riser", "worked_flow");
    let (low, high) = bounds(&half, "runs", "riser", "worked_loss");
    // Weisbach's gate valve half open takes 2.06 of the pressure of the speed, and his open one 0.14; the pit's pipe end 0.78.
    let middle = 0.5 * (flow.0 + flow.1);
    let pipe = straight(middle, 30.0) + 0.78 * of_speed(middle);
    let with_valve = pipe + 2.2 * of_speed(middle);
    assert!(low < with_valve && with_valve < high, "{low} {with_valve} {high}");
    assert!(pipe < low, "{pipe} {low}");
}

#[test]
fn what_a_valve_takes_that_was_set_by_its_gauge_is_not_told_from_its_opening() {
    let set = [("to: s1, fittings: none", "to: s1, valve: {kind: gate, set_to: 0.4 in WC}, fittings: none")];
    let wants = told(&set, "runs", "riser", "worked_loss").unwrap_err();
    assert!(wants.iter().any(|want| want.contains("set by its gauge")), "{wants:?}");
}

#[test]
fn a_point_tested_at_one_suction_gives_what_lies_between_tight_and_loose_ground() {
    let narrow = bounds(&[], "fans", "fan", "worked_flow");
    let steps = "steps: [{suction: 1 in WC, flow: 100 cfm}, {suction: 2 in WC, flow: 200 cfm}]";
    let one = [(steps, "suction: 2 in WC, flow: 200 cfm")];
    let wide = bounds(&one, "fans", "fan", "worked_flow");
    // read at the shut-off suction of the fan: below it loose ground gives more than in step with the suction
    assert!(wide.0 <= narrow.0 * 1.001 && wide.1 > narrow.1);
}

#[test]
fn the_suction_left_is_what_the_fan_makes_less_what_the_pipe_takes() {
    let flows = [("s1: {kind: slab, in: cellar}", "s1: {kind: slab, in: cellar, flow: 60 cfm}")];
    let (low, high) = bounds(&flows, "suction_points", "s1", "suction_left");
    let q = 60.0 * CFM;
    // 1.4 in WC on the sheet at 60 cfm
    let by_hand = 1.4 * IN_WC * 1.231 / 1.201_4 - straight(q, 50.0) - 1.78 * of_speed(q);
    assert!(low < by_hand && by_hand < high, "{low} {by_hand} {high}");
    assert!(high - low < 0.15 * by_hand);
}

/// 60 cfm through pipe of schedule 40: 3.068 in wide are 7.39 sq in, 1,169 fpm; 4.026 in are 12.73 sq in, 679 fpm. Straight pipe of 30 ft
/// with a pit's pipe end takes, at a friction factor of 0.023: in 3 in `(0.023 x 360 / 3.068 + 0.78) x 0.087 in WC = 0.31 in WC`, in 2 in
/// `(0.023 x 360 / 2.067 + 0.78) x 0.42 in WC = 2.0 in WC`, which is more than the fan makes; the stack takes 0.07 in WC. Of the 1.43 in
/// WC that the fan makes, 1.05 in WC are left with 3 in, 1.27 in WC with 4 in.
#[test]
fn the_smallest_size_is_the_first_that_keeps_suction_and_speed() {
    let size = |wants: &str, speed: &str| {
        let (point, pipe) =
            (format!("in: cellar, flow: 60 cfm, suction: {wants}}}"), "    pipe: {material: PVC");
        let designed = format!("    design_point: {{{speed}}}\n{pipe}");
        let changes = [("in: cellar}\ndiagnostics", format!("{point}\ndiagnostics")), (pipe, designed)];
        let changes: Vec<(&str, &str)> = changes.iter().map(|(from, to)| (*from, to.as_str())).collect();
        let told = told(&changes, "runs", "riser", "smallest_size");
        told.map(|size| {
            let (low, high) = size.to_f64_bounds();
            ((low / 0.0254).round() as i32, (high / 0.0254).round() as i32)
        })
    };
    assert_eq!(size("0.8 in WC", "analysis: none"), Ok((3, 3)));
    assert_eq!(size("0.8 in WC", "air_speed: 1200 fpm"), Ok((3, 3)));
    assert_eq!(size("0.8 in WC", "air_speed: 1100 fpm"), Ok((4, 4)));
    // what 3 in leaves, which lies between with 5 % of the fan's 1.43 and 10 to 25 % of the pipe's 0.38
    assert_eq!(size("1.05 in WC", "analysis: none"), Ok((3, 4)));
    let none = size("1.8 in WC", "analysis: none").unwrap_err().concat();
    assert!(none.contains("widest ordinary size"), "{none}");
}

#[test]
fn a_fan_has_to_spare_what_is_left_beyond_what_is_designed() {
    let flows =
        [("s1: {kind: slab, in: cellar}", "s1: {kind: slab, in: cellar, flow: 60 cfm, suction: 0.8 in WC}")];
    let left = bounds(&flows, "suction_points", "s1", "suction_left");
    let spare = bounds(&flows, "fans", "fan", "suction_to_spare");
    let wanted = 0.8 * IN_WC;
    assert!((left.0 - wanted - spare.0).abs() < 0.01 && (left.1 - wanted - spare.1).abs() < 0.01);
    // 1.43 in WC less 0.16 in WC of pipe and the 0.8 in WC that are wanted
    assert!(spare.0 < 0.47 * IN_WC && 0.47 * IN_WC < spare.1);
}

#[test]
fn what_is_missing_is_asked_for_and_what_cannot_be_is_told_where_it_stands() {
    for (change, entry, says) in [
        (("altitude: 0 ft, ", ""), "site.altitude", "NotStated"),
        (("material: PVC, ", ""), "systems.main.runs.riser.material", "NotStated"),
        (
            (", curve: [[0 cfm, 2 in WC, 80 W], [200 cfm, 0 in WC, 40 W]]", ""),
            "systems.main.fan.curve",
            "NotStated",
        ),
        (
            ("[200 cfm, 0 in WC, 40 W]", "[200 cfm, 3 in WC, 40 W]"),
            "systems.main.fan.curve",
            "the pressure is higher",
        ),
        (
            ("[[0 cfm, 2 in WC, 80 W], [200 cfm, 0 in WC, 40 W]]", "[[0 cfm, 2 in WC]]"),
            "systems.main.fan.curve",
            "at least two points",
        ),
        (
            ("[200 cfm, 0 in WC, 40 W]", "[20 cfm, 1.8 in WC, 40 W]"),
            "systems.main.fan.curve",
            "more than the last point",
        ),
        (
            ("fittings: none}\n    suction", "fittings: [muffler]}\n    suction"),
            "systems.main.runs.riser",
            "differs from maker to maker",
        ),
        (
            ("{suction: 2 in WC, flow: 200 cfm}", "{suction: 2 in WC, flow: 900 cfm}"),
            "systems.main.suction_points.s1",
            "exponent",
        ),
    ] {
        let wants = told(&[change], "fans", "fan", "worked_flow").unwrap_err();
        let found = wants.iter().any(|want| want.starts_with(entry) && want.contains(says));
        assert!(found, "{entry} {says}: {wants:?}");
    }
}

#[test]
fn a_loss_that_the_maker_states_takes_the_place_of_the_table() {
    let with = |loss: &str| {
        let fittings = format!("fittings: [{{kind: muffler, loss: {loss}}}]}}\n    suction");
        bounds(&[("fittings: none}\n    suction", fittings.as_str())], "runs", "riser", "worked_loss")
    };
    assert!(with("4").0 > with("0.5").0 && with("4").1 > with("0.5").1);
}

#[test]
fn a_system_that_no_fan_drives_has_no_air_worked_out() {
    let passive = [(
        "fan: {axis: vertical, curve: [[0 cfm, 2 in WC, 80 W], [200 cfm, 0 in WC, 40 W]], curve_density: 0.075 lb/ft3}",
        "fan: none",
    )];
    let wants = told(&passive, "runs", "riser", "worked_flow").unwrap_err();
    assert!(!wants.is_empty());
}

#[test]
fn a_valve_that_stands_where_it_is_told_to_gives_the_designed_suction() {
    let mut wanted = TWO.to_vec();
    wanted.push(("to: s2, fittings", "to: s2, size: 2 in, valve: {kind: gate, open: 100 %}, fittings"));
    wanted.push(("s2: {kind: slab, in: cellar}", "s2: {kind: slab, in: cellar, suction: 0.4 in WC}"));
    let (low, high) = bounds(&wanted, "runs", "two", "valve_opening");
    assert!(0.0 < low && low <= high && high < 1.0, "{low} {high}");
    let set = format!("to: s2, size: 2 in, valve: {{kind: gate, open: {} %}}, fittings", 50.0 * (low + high));
    let mut stands = TWO.to_vec();
    stands.push(("to: s2, fittings", set.as_str()));
    let (least, most) = bounds(&stands, "suction_points", "s2", "worked_suction");
    assert!(least < 0.4 * IN_WC && 0.4 * IN_WC < most, "{least} {most}");
}

#[test]
fn a_valve_cannot_give_more_than_there_is_and_one_without_a_wish_is_asked_for_it() {
    let mut wanted = TWO.to_vec();
    wanted.push(("to: s2, fittings", "to: s2, valve: {kind: gate, open: 100 %}, fittings"));
    let wants = told(&wanted, "runs", "two", "valve_opening").unwrap_err();
    assert!(wants.iter().any(|one| one.starts_with("systems.main.suction_points.s2.suction")), "{wants:?}");
    wanted.push(("s2: {kind: slab, in: cellar}", "s2: {kind: slab, in: cellar, suction: 5 in WC}"));
    let wants = told(&wanted, "runs", "two", "valve_opening").unwrap_err();
    assert!(wants.iter().any(|one| one.contains("runs.two") && one.contains("too little")), "{wants:?}");
}
