//! What the program answers to the check values on units.

use serde_json::Value;
use undercroft::base::number::{Number, Quantity};

/// The inputs that are quantities, each with the unit its name stands for.
const INPUTS: &[(&str, &str)] = &[
    ("pressure_inwc", "in WC"),
    ("pressure_inwc_60F", "in WC at 60 °F"),
    ("pressure_pa", "Pa"),
    ("flow_cfm", "cfm"),
    ("volume_us_gal", "gal"),
    ("volume_us_floz", "fl oz"),
];

/// The quantity in the unit that the value is told in; `None` for inputs that nothing here answers.
pub(super) fn answer(case: &Value) -> Option<Number> {
    let inputs = case["inputs"].as_object()?;
    let density = inputs.get("water_density_kg_m3").and_then(Value::as_f64);
    let conventional = density.is_none_or(|density| (density - 1000.0).abs() < f64::EPSILON);
    let known = |key: &str| key == "water_density_kg_m3" || INPUTS.iter().any(|(name, _)| *name == key);
    if !conventional || !inputs.keys().all(|key| known(key)) {
        return None;
    }
    let (name, unit) = INPUTS.iter().find(|(name, _)| inputs.contains_key(*name))?;
    let given = Quantity::parse_any(&format!("{} {unit}", inputs[*name])).ok()?;
    let told_in = match case["unit"].as_str()? {
        "in.WC (conventional, 1000 kg/m3)" => "in WC",
        other => other,
    };
    let one = Quantity::parse(&format!("1 {told_in}"), given.dimension).ok()?;
    given.number.divide(&one.number)
}
