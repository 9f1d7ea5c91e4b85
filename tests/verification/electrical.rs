//! What the program answers to the check values on wire: resistances of a table, and the voltage lost along it.

use serde_json::Value;
use undercroft::base::number::{Number, Quantity};
use undercroft::calc::electrical::{Strands, resistance, voltage_drop};

fn quantity(inputs: &Value, key: &str, unit: &str) -> Option<Number> {
    Some(Quantity::parse_any(&format!("{} {unit}", inputs[key].as_f64()?)).ok()?.number)
}

/// Ohms for a thousand feet.
fn by_table(conductor: &str) -> Option<Number> {
    let (gauge, strands) = match conductor.split_once(' ')? {
        (gauge, "solid uncoated copper") => (gauge, Strands::Solid),
        (gauge, "stranded uncoated copper") => (gauge, Strands::Stranded),
        _ => return None,
    };
    let thousand_feet = Quantity::parse_any("1000 ft").ok()?.number;
    Some(&Number::exact(resistance(gauge.parse().ok()?, strands)?) * &thousand_feet)
}

pub(super) fn answer(case: &Value) -> Option<Number> {
    let inputs = &case["inputs"];
    if let Some(conductor) = inputs["conductor"].as_str() {
        return by_table(conductor);
    }
    let length = quantity(inputs, "one_way_ft", "ft")?;
    let current = quantity(inputs, "current_a", "A")?;
    let thousand_feet = Quantity::parse_any("1000 ft").ok()?.number;
    let volts = quantity(inputs, "system_v", "V")?;
    let by_metre = quantity(inputs, "ohm_per_kft", "m")?.divide(&thousand_feet)?;
    let drop = voltage_drop(&length, &current, by_metre.as_exact()?);
    match case["unit"].as_str()? {
        "V" => Some(drop),
        "%" => (&Number::whole(100) * &drop).divide(&volts),
        _ => None,
    }
}
