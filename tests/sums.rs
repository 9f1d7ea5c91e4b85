//! What is worked out of water and ice, of the pressure in the house, of wiring and running cost and of radon results,
//! each held against arithmetic done by hand.

use undercroft::base::number::{Dimension, Number, Quantity};
use undercroft::base::text::{Source, SourceId};
use undercroft::base::value::{Answer, Reason, Value};
use undercroft::base::vocabulary::{Answers, ROOT, Thing};
use undercroft::design::{Design, read};
use undercroft::facts::{Facts, vocabulary};

/// Soil gas of 10 °C, saturated, at sea level; 20 ft of bare 4 in pipe outdoors.
const HOUSE: &str = r#"undercroft: 1
site: {zone: America/New_York, altitude: 0 ft, winter_design: 14 degF, soil_gas_temperature: 50 degF, soil_gas_humidity: 100 %, electricity_price: $0.16/kWh, degree_days: 5400 F-days}
building:
  leakage: {flow: 1400 cfm, at: 50 Pa}
  spaces:
    basement: {kind: basement, conditioned: yes}
    kitchen: {kind: kitchen, conditioned: yes}
  appliances:
    water_heater: {fuel: gas, venting: natural draft, in: basement}
    furnace: {fuel: gas, venting: direct vent, in: basement}
  air_movers:
    dryer: {kind: dryer, exhaust: 150 cfm}
    hood: {kind: kitchen hood, exhaust: 200 cfm}
looked_for:
  air_movers: {by: J. Ames, on: 2026-05-12}
foundation:
  sumps:
    pit: {in: basement}
  drains:
    floor: {kind: floor drain, in: basement, to: soil, guard: water trap, trap_depth: 2 in}
    laundry: {kind: floor drain, in: basement, to: sewer, guard: water trap, trap_depth: 2 in}
systems:
  main:
    design_point: {flow: 60 cfm, from_house: 0 %}
    fan:
      shut_off: 1.6 in WC
      current: 0.75 A
      curve: [[40 cfm, 1.4 in WC, 90 W], [90 cfm, 1 in WC, 80 W]]
    pipe: {material: PVC, schedule: 40, size: 4 in, insulation: none}
    runs:
      stack: {from: fan, to: discharge, length: 20 ft, through: outdoors}
      line:
        from: fan
        to: s1
        length: 16 ft
        slope: 1/8 in per ft
        through: basement
        hangers: {spacing: 8 ft}
        low_points: {middle: {sag: 6 in, drained: no}}
    suction_points:
      s1: {kind: sump, in: basement, sump: pit, suction: 0.5 in WC}
    wiring:
      circuit: {breaker: 15 A, voltage: 120 V, other_loads: {lights: 2.4 A}, wire: 14 AWG, strands: solid, length: 100 ft}
radon_tests:
  spring: {of: air, when: before, in: basement, result: 14.2 pCi/L}
  summer: {of: air, when: after, in: basement, result: 1.4 pCi/L, equilibrium: 40 %, beside: twin}
  twin: {of: air, when: sale, in: basement, result: 1.8 pCi/L}
"#;

fn house(changes: &[(&str, &str)], removals: &[&str]) -> Design {
    let text = undercroft::yaml::splice::lay_over(HOUSE, changes, removals).unwrap();
    let source = Source::new("design.yaml", text.as_str());
    let (tree, problems) = undercroft::yaml::scan::read(SourceId(0), source.text());
    assert!(problems.is_empty(), "{problems:#?}");
    let (design, problems) = read(&source, &tree);
    assert!(problems.is_empty(), "{problems:#?}");
    design
}

fn fact(facts: &mut Facts<'_>, list: &str, name: &str, fact: &str) -> Answer<Value> {
    let found = |facts: &mut Facts<'_>, of: Thing, name: &str| {
        facts.ask(vocabulary().find_fact(of.kind, name).unwrap_or_else(|| panic!("no fact {name}")), of)
    };
    let thing = match found(facts, ROOT, list) {
        Answer::Known { value: Value::Thing(one), .. } => one,
        Answer::Known { value: Value::Things(all), .. } => all
            .items
            .into_iter()
            .find(|it| name.is_empty() || facts.name_of(*it) == name)
            .unwrap_or_else(|| panic!("no {name}")),
        other => panic!("{list}: {other:?}"),
    };
    found(facts, thing, fact)
}

/// The bounds of a number in some unit of its dimension.
fn bounds(design: &Design, of: (&str, &str, &str), unit: &str, dimension: Dimension) -> (f64, f64) {
    let (list, name, fact_name) = of;
    let mut facts = Facts::new(design);
    let number = match fact(&mut facts, list, name, fact_name) {
        Answer::Known { value: Value::Number(number), .. } => number,
        other => panic!("{of:?}: {other:?}"),
    };
    let one = Quantity::parse(&format!("1 {unit}"), dimension).unwrap().number.to_f64_mid();
    let (low, high) = number.to_f64_bounds();
    (low / one, high / one)
}

fn near((low, high): (f64, f64), (by_hand_low, by_hand_high): (f64, f64), within: f64) {
    let off = |a: f64, b: f64| (a - b).abs();
    assert!(
        off(low, by_hand_low) <= within && off(high, by_hand_high) <= within,
        "{low} to {high}, and by hand {by_hand_low} to {by_hand_high}"
    );
}

fn truth(design: &Design, of: (&str, &str, &str)) -> Option<bool> {
    match fact(&mut Facts::new(design), of.0, of.1, of.2) {
        Answer::Known { value: Value::Truth(truth), .. } => Some(truth),
        Answer::Known { value, .. } => panic!("{value:?}"),
        Answer::Unknown(_) => None,
    }
}

/// What is missing, by its entry; why, where it cannot be worked out.
fn lacking(design: &Design, of: (&str, &str, &str)) -> Vec<String> {
    match fact(&mut Facts::new(design), of.0, of.1, of.2) {
        Answer::Unknown(missing) => missing
            .into_iter()
            .map(|one| match one.reason {
                Reason::NotComputable(why) => why,
                _ => one.entry.to_string(),
            })
            .collect(),
        Answer::Known { value, .. } => panic!("{of:?} is known: {value:?}"),
    }
}

/// Kelvins as degrees Celsius.
fn celsius((low, high): (f64, f64)) -> (f64, f64) {
    (low - 273.15, high - 273.15)
}

fn temperature(design: &Design, of: (&str, &str, &str)) -> (f64, f64) {
    match fact(&mut Facts::new(design), of.0, of.1, of.2) {
        Answer::Known { value: Value::Number(number), .. } => celsius(number.to_f64_bounds()),
        other => panic!("{of:?}: {other:?}"),
    }
}

const STACK: (&str, &str, &str) = ("runs", "stack", "");

fn stack(fact: &'static str) -> (&'static str, &'static str, &'static str) {
    (STACK.0, STACK.1, fact)
}

#[test]
fn streams_that_meet_are_as_warm_as_the_air_that_they_carry_makes_them() {
    let design = house(
        &[
            ("systems.main.runs.line", "{from: fan, length: 16 ft, through: basement}"),
            ("systems.main.runs.warm", "{from: line, to: s1, length: 2 ft, through: basement}"),
            ("systems.main.runs.cold", "{from: line, to: s2, length: 20 ft, through: outdoors}"),
            ("systems.main.suction_points.s1.flow", "45 cfm"),
            ("systems.main.suction_points.s2", "{kind: sump, in: basement, sump: pit, flow: 15 cfm}"),
        ],
        &[],
    );
    let of = |run| ("runs", run, "gas_out");
    near(temperature(&design, of("warm")), (10.0, 10.0), 1e-9);
    // As along the riser below, with a quarter of its air, which carries 8.878 W/K: -10 + 20 exp(-9.756 x 2.189 / 8.878) is
    // -8.20 °C, and with 3.077 it is -0.64 °C.
    near(temperature(&design, of("cold")), (-8.20, -0.64), 0.02);
    // Three parts at 10 °C and one part so cold: 5.45 to 7.34 °C.
    near(temperature(&design, ("runs", "line", "gas_in")), (5.45, 7.34), 0.02);
}

#[test]
fn gas_cools_along_a_bare_riser_as_by_hand() {
    // Films of 5 to 16 and 8 to 25 W/(m2 K): U from 1/(1/5 + 1/8) = 3.077 to 1/(1/16 + 1/25) = 9.756.
    // 4.5 in is 0.1143 m, 20 ft are 6.096 m: pi D L = 2.189 m2. 60 cfm are 0.028317 m3/s, of 1.2466 kg/m3 at 10 °C and
    // sea level (US Standard Atmosphere 1976): 0.03530 kg/s, which carry 35.51 W/K at 1006 J/(kg K).
    // -10 + 20 exp(-3.077 x 2.189 / 35.51) = 6.54 °C, and with 9.756 it is 0.96 °C.
    let design = house(&[], &[]);
    near(temperature(&design, stack("gas_in")), (10.0, 10.0), 1e-9);
    near(temperature(&design, stack("gas_out")), (0.96, 6.54), 0.01);
    assert_eq!(truth(&design, stack("freezes")), Some(false));
    // ASHRAE, saturation pressures: 1228.0 Pa at 10 °C, 971 Pa at 6.54 °C, 655 Pa at 0.96 °C. Humidity ratios of 0.007630,
    // 0.006018 and 0.004047. 0.028317 x (101325 - 1228) / (287.042 x 283.15) = 0.034874 kg/s of dry air, for 86 400 s.
    near(bounds(&design, stack("condensate"), "kg", Dimension::MASS), (4.86, 10.80), 0.06);
    near(bounds(&design, ("systems", "main", "condensate"), "kg", Dimension::MASS), (4.86, 10.80), 0.06);
    near(bounds(&design, stack("ice"), "L", Dimension::VOLUME), (0.0, 0.0), 1e-9);
    near(bounds(&design, stack("insulation_needed"), "m2 K/W", Dimension::INSULATION), (0.0, 0.0), 1e-9);
}

#[test]
fn little_gas_freezes_on_its_way_and_insulation_holds_against_it() {
    // -22 °F is -30 °C. 10 cfm carry 5.919 W/K: -30 + 40 exp(-3.077 x 2.189 / 5.919) = -17.2 °C at best.
    let cold = ("site.winter_design", "-22 degF");
    let little = house(&[cold, ("systems.main.design_point.flow", "10 cfm")], &[]);
    assert_eq!(truth(&little, stack("freezes")), Some(true));
    // 5.919 x ln(40/30) / (U x pi x 0.1143): 1.541 m for 3.077, 0.486 m for 9.756
    near(bounds(&little, stack("frost_reach"), "m", Dimension::LENGTH), (0.486, 1.541), 0.002);
    // 2.189 / (5.919 x ln(40/30)) = 1.2855 m2 K/W, less 1/5 + 1/8 or 1/16 + 1/25
    near(
        bounds(&little, stack("insulation_needed"), "m2 K/W", Dimension::INSULATION),
        (0.9606, 1.1831),
        0.001,
    );
    // 60 cfm may freeze, by the films of air; behind R-4 (0.7044 m2 K/W) it leaves at 7.1 to 7.7 °C.
    assert_eq!(truth(&house(&[cold], &[]), stack("freezes")), None);
    let round = house(&[cold, ("systems.main.runs.stack.insulation", "R-4")], &[]);
    near(temperature(&round, stack("gas_out")), (7.06, 7.67), 0.01);
    assert_eq!(truth(&round, stack("freezes")), Some(false));
}

#[test]
fn what_falls_out_waits_for_what_is_not_stated_and_says_where_a_formula_ends() {
    let nobody_said = house(&[], &["site.winter_design"]);
    assert_eq!(lacking(&nobody_said, stack("gas_out")), ["site.winter_design"]);
    let too_much = house(&[("systems.main.design_point.flow", "30000 cfm")], &[]);
    let why = lacking(&too_much, stack("condensate")).join("; ");
    assert!(
        why.starts_with("the flow would be 30000 cfm; what is known of it holds from 0 cfm to 21189 cfm"),
        "{why}"
    );
    // Where the soil gas was not measured it may be anything usual, and the end of the pipe is so much less certain.
    let not_measured = house(&[], &["site.soil_gas_temperature"]);
    let (low, high) = temperature(&not_measured, stack("gas_out"));
    assert!(low < 0.96 && high > 6.54, "{low} to {high}");
}

#[test]
fn a_run_in_heated_rooms_keeps_its_gas_warm_and_is_not_on_the_worksheet_of_ice() {
    let design = house(&[], &[]);
    assert_eq!(truth(&design, ("runs", "line", "passes_cold")), Some(false));
    near(temperature(&design, ("runs", "line", "gas_out")), (10.0, 10.0), 1e-9);
    // 9 ft of it in the cold, as somebody stated
    let some = house(&[("systems.main.runs.line.in_cold", "9 ft")], &[]);
    assert_eq!(truth(&some, ("runs", "line", "passes_cold")), Some(true));
    near(bounds(&some, ("runs", "line", "cold_length"), "ft", Dimension::LENGTH), (9.0, 9.0), 1e-9);
}

#[test]
fn a_sag_holds_water_until_it_closes_the_pipe() {
    let design = house(&[], &[]);
    let line = |fact| ("runs", "line", fact);
    // 16 ft at 1/8 in per ft: 2 in, less 1 part in 18 000 for the slant
    near(bounds(&design, line("fall"), "in", Dimension::LENGTH), (2.0, 2.0), 2e-4);
    // 6 in deep, less 1/8 in per ft x 4 ft: 5 1/2 in, more than 4.026 in of bore
    near(bounds(&design, line("standing_water"), "in", Dimension::LENGTH), (5.5, 5.5), 1e-9);
    assert_eq!(truth(&design, line("closes")), Some(true));
    // Slopes of 5.5/48 and 6.5/48: 3.1416 x 4.026^3 / 8 x (48/5.5 + 48/6.5) = 412.9 cubic inches
    near(bounds(&design, line("closing_pool"), "cu in", Dimension::VOLUME), (412.9, 412.9), 0.1);
    // 412.9 cubic inches are 6.766 L; at 10.80 kg a day 0.6265 day
    near(bounds(&design, line("closes_after"), "days", Dimension::TIME), (0.6265, 0.6265), 0.004);
    let shallow = house(&[("systems.main.runs.line.low_points.middle.sag", "1 in")], &[]);
    near(bounds(&shallow, line("standing_water"), "in", Dimension::LENGTH), (0.5, 0.5), 1e-9);
    assert_eq!(lacking(&shallow, line("closing_pool")), ["water does not come to close it"]);
    let not_said = house(&[], &["systems.main.runs.line.low_points.middle.sag"]);
    assert_eq!(lacking(&not_said, line("standing_water")), ["systems.main.runs.line.low_points.middle.sag"]);
}

#[test]
fn suction_lifts_water_as_high_as_it_is_counted() {
    let design = house(&[], &[]);
    // Inches of water by definition: 2 in of trap less 1.6 in WC; 0.5 in WC at the sump.
    near(bounds(&design, ("drains", "floor", "trap_margin"), "in", Dimension::LENGTH), (0.4, 0.4), 1e-6);
    // A trap just as deep as the fan pulls has nothing to spare, and nothing lacking either.
    let as_deep = house(&[("foundation.drains.floor.trap_depth", "1.6 in")], &[]);
    assert_eq!(bounds(&as_deep, ("drains", "floor", "trap_margin"), "in", Dimension::LENGTH), (0.0, 0.0));
    let sump = ("sumps", "pit", "water_lifted");
    near(bounds(&design, sump, "in", Dimension::LENGTH), (0.5, 0.5), 1e-6);
    assert_eq!(truth(&design, ("drains", "laundry", "trap_pulled_on")), Some(false));
    assert_eq!(lacking(&design, ("drains", "laundry", "trap_margin")), ["no system pulls on a trap of it"]);
    // Without the suction at the point it may be anything up to what the fan pulls.
    let at_most = house(&[], &["systems.main.suction_points.s1.suction"]);
    near(bounds(&at_most, sump, "in", Dimension::LENGTH), (0.0, 1.6), 1e-6);
    let not_said = house(&[], &["foundation.drains.floor.trap_depth"]);
    assert_eq!(
        lacking(&not_said, ("drains", "floor", "trap_margin")),
        ["foundation.drains.floor.trap_depth"]
    );
}

#[test]
fn the_house_falls_under_the_open_air_by_the_law_of_its_leaks() {
    // 350 cfm out of 1400 cfm: 50 Pa x (1/4)^(1/0.6) = 4.96 Pa, and with 0.7 it is 6.90 Pa.
    let design = house(&[], &[]);
    let building = ("building", "", "pressure_fall");
    near(bounds(&design, ("building", "", "blown_out"), "cfm", Dimension::FLOW), (350.0, 350.0), 1e-6);
    near(bounds(&design, building, "Pa", Dimension::PRESSURE), (4.96, 6.90), 0.01);
    let heater = ("appliances", "water_heater", "pressure_fall");
    near(bounds(&design, heater, "Pa", Dimension::PRESSURE), (4.96, 6.90), 0.01);
    assert_eq!(truth(&design, ("appliances", "furnace", "draws_by_itself")), Some(false));
    // What the system draws out of the house is anything up to all, where nobody says: 350 to 410 cfm.
    let not_said = house(&[], &["systems.main.design_point.from_house"]);
    near(bounds(&not_said, ("building", "", "blown_out"), "cfm", Dimension::FLOW), (350.0, 410.0), 1e-6);
}

#[test]
fn the_pressure_in_the_house_waits_for_every_exhaust_and_for_the_leakage() {
    let building = ("building", "", "pressure_fall");
    let no_flow = house(&[], &["building.air_movers.hood.exhaust", "building.leakage.flow"]);
    assert_eq!(lacking(&no_flow, building), ["building.air_movers.hood.exhaust", "building.leakage.flow"]);
    let nobody_looked = house(&[], &["looked_for.air_movers"]);
    assert_eq!(lacking(&nobody_looked, building), ["looked_for.air_movers"]);
    let too_soft = house(&[("building.leakage.at", "4 Pa")], &[]);
    let why = lacking(&too_soft, building).join("; ");
    assert!(why.starts_with("the pressure of the leakage test would be "), "{why}");
}

#[test]
fn shares_of_a_circuit_and_the_running_cost_come_out_by_hand() {
    let design = house(&[], &[]);
    let circuit = |fact| ("circuits", "", fact);
    let alone = house(&[("systems.main.wiring.circuit.other_loads", "none")], &[]);
    // 2 x 100 ft x 0.75 A x 3.07 ohms for 1000 ft = 0.4605 V (National Electrical Code, chapter 9, table 8), of 120 V
    near(bounds(&alone, circuit("drop_share"), "%", Dimension::ONE), (0.38375, 0.38375), 1e-9);
    // 0.75 A + 2.4 A of 15 A; 0.75 A of 15 A
    near(bounds(&design, circuit("load_share"), "%", Dimension::ONE), (21.0, 21.0), 1e-9);
    near(bounds(&design, circuit("fan_share"), "%", Dimension::ONE), (5.0, 5.0), 1e-9);
    // 60 cfm lie between the points of 90 W and 80 W: 8760 h of each, at 16 cents
    let fan = |fact| ("fans", "", fact);
    near(bounds(&design, fan("power_drawn"), "W", Dimension::POWER), (80.0, 90.0), 1e-9);
    near(bounds(&design, fan("energy_a_year"), "kWh", Dimension::ENERGY), (700.8, 788.4), 1e-6);
    let cost = fact(&mut Facts::new(&design), "fans", "", "cost_a_year");
    let Answer::Known { value: Value::Number(cost), .. } = cost else { panic!("{cost:?}") };
    near(cost.to_f64_bounds(), (112.128, 126.144), 1e-6);
    // 30 % of 60 cfm is 0.0084951 m3/s; x 1.24663 kg/m3 x 1006 J/(kg K) x 3000 x 86 400 K s = 767.1 kWh
    let drawn = house(&[("systems.main.design_point.from_house", "30 %")], &[]);
    let lost = ("systems", "main", "heat_lost");
    near(bounds(&drawn, lost, "kWh", Dimension::ENERGY), (767.1, 767.1), 0.1);
}

#[test]
fn running_cost_waits_for_what_is_not_stated_and_no_curve_is_drawn_on() {
    let fan = |fact| ("fans", "", fact);
    let no_price = house(&[], &["site.electricity_price"]);
    assert_eq!(lacking(&no_price, fan("cost_a_year")), ["site.electricity_price"]);
    let beyond = house(&[("systems.main.design_point.flow", "95 cfm")], &[]);
    assert_eq!(
        lacking(&beyond, fan("power_drawn")),
        ["the air that it moves lies beyond the ends of its curve"]
    );
    let no_breaker = house(&[], &["systems.main.wiring.circuit.breaker"]);
    assert_eq!(lacking(&no_breaker, ("circuits", "", "load_share")), ["systems.main.wiring.circuit.breaker"]);
}

#[test]
fn results_are_told_in_both_units_against_the_test_before_and_with_the_one_beside() {
    let design = house(&[], &[]);
    let mut facts = Facts::new(&design);
    let both = fact(&mut facts, "tests", "summer", "in_both");
    assert_eq!(both, Answer::known(Value::Text("1.4 pCi/L, 51.8 Bq/m3".to_owned())));
    // (14.2 - 1.4) / 14.2; (1.4 + 1.8) / 2; 0.4 / 1.6; 1.4 x 0.01 x 0.4
    let test = |fact| ("tests", "summer", fact);
    near(bounds(&design, test("reduced_share"), "%", Dimension::ONE), (90.14, 90.14), 0.01);
    near(bounds(&design, test("mean_beside"), "pCi/L", Dimension::CONCENTRATION), (1.6, 1.6), 1e-9);
    near(bounds(&design, test("apart_share"), "%", Dimension::ONE), (25.0, 25.0), 1e-9);
    near(bounds(&design, test("decay_products"), "WL", Dimension::DECAY_ENERGY), (0.0056, 0.0056), 1e-9);
    let nobody_measured = house(&[], &["radon_tests.summer.equilibrium"]);
    near(
        bounds(&nobody_measured, test("decay_products"), "WL", Dimension::DECAY_ENERGY),
        (0.0014, 0.0126),
        1e-9,
    );
    let none_before = house(&[("radon_tests.spring.in", "kitchen")], &[]);
    assert_eq!(lacking(&none_before, test("reduced_share")), ["no test before the work was made there"]);
    let nothing_before = house(&[("radon_tests.spring.result", "0 pCi/L")], &[]);
    let why = lacking(&nothing_before, test("reduced_share")).join("; ");
    assert!(why.starts_with("the level before would be 0 pCi/L"), "{why}");
}

#[test]
fn whole_numbers_stay_whole() {
    let design = house(&[], &[]);
    let load = fact(&mut Facts::new(&design), "circuits", "", "load_share");
    let Answer::Known { value: Value::Number(share), .. } = load else { panic!("{load:?}") };
    assert_eq!(share, Quantity::parse("21 %", Dimension::ONE).unwrap().number);
    assert!(matches!(share, Number::Exact(_)));
}
