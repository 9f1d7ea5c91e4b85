//! What the program answers to the check values on pipe and conduit.

use serde_json::Value;
use undercroft::base::number::{Number, Ratio};
use undercroft::calc::amounts::*;
use undercroft::calc::holes;
use undercroft::calc::pipe_sizes::{self, Series, Wall};
use undercroft::calc::section::Section;

use super::inputs::Inputs;

/// A number of inches or square inches out of one in metres.
fn inches(number: &Number, power: i8) -> Option<Number> {
    number.divide(&Number::exact(Ratio::parse_decimal("0.0254")?.pow(power)?))
}

fn tenths(inches: f64) -> u32 {
    (inches * 10.0).round() as u32
}

pub(super) fn answer(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    let id = case["id"].as_str()?;
    if let Some(size) = i.text("trade_size") {
        let hundredths = match size {
            "1/2" => 50,
            "3/4" => 75,
            "1" => 100,
            "1-1/4" => 125,
            "1-1/2" => 150,
            "2" => 200,
            "2-1/2" => 250,
            "3" => 300,
            "3-1/2" => 350,
            "4" => 400,
            _ => return None,
        };
        let (outside, wall) = pipe_sizes::metallic_tubing(hundredths)?;
        let inside = &outside - &wall - &wall;
        return inches(&Number::exact(if id.contains(".od.") { outside } else { inside }), 1);
    }
    if i.has("od_min_mm") {
        let ratio = |key: &str| Ratio::parse_decimal(&i.0[key].to_string());
        let outside = Number::between(ratio("od_min_mm")?, ratio("od_max_mm")?);
        let wall = Number::between(ratio("wall_min_mm")?, ratio("wall_max_mm")?);
        let (low, high) = pipe_sizes::inside_range(&outside, &wall)?.bounds();
        return Number::exact(low + high).divide(&Number::whole(2));
    }
    if i.has("a_in") {
        let section = Section::rectangle(i.length("a_in")?, i.length("b_in")?).ok()?;
        return match id.split('.').nth(2)? {
            "dh" => inches(&section.hydraulic_diameter().to_number(), 1),
            "deq" => inches(&section.round_equivalent().to_number(), 1),
            "area" => inches(&section.area().to_number(), 2),
            _ => None,
        };
    }
    if i.has("core_hole_in") {
        let gap = holes::around(i.length("core_hole_in")?, i.length("pipe_od_in")?).ok()?;
        return match id.split('.').nth(2)? {
            "gap" => inches(&gap.width.to_number(), 1),
            "area" => inches(&gap.area.to_number(), 2),
            _ => None,
        };
    }
    let (series, wall, tenths) = match (i.text("standard"), id) {
        (_, id) if id.contains("d1785s40") => (Series::IronPipe, Wall::Forty, tenths(i.float("nps_in")?)),
        (Some(name), _) if name.starts_with("ASTM D2949") => (Series::SewerPipe, Wall::ThinVent, 30),
        (Some("ASTM D2729 3 in"), _) => (Series::SewerPipe, Wall::ThinDrain, 30),
        (Some("ASTM D2729 4 in"), _) => (Series::SewerPipe, Wall::ThinDrain, 40),
        (Some("ASTM D3034 SDR 35 4 in"), _) => (Series::SewerPipe, Wall::Sdr35, 40),
        (Some("ASTM D3034 SDR 35 6 in"), _) => (Series::SewerPipe, Wall::Sdr35, 60),
        _ => return None,
    };
    let wanted = match id {
        id if id.contains(".od") => pipe_sizes::outside_diameter(series, tenths)?,
        id if id.contains("wall") => pipe_sizes::least_wall(wall, tenths)?,
        id if id.contains("id_nom") => pipe_sizes::inside_diameter(wall, tenths)?,
        _ => return None,
    };
    inches(&Number::exact(wanted), 1)
}
