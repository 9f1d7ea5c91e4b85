//! What the program answers to the check values on air, friction, fittings and fans.

use serde_json::Value;
use undercroft::base::number::{Number, Quantity};
use undercroft::calc::air::{self, Air};
use undercroft::calc::amounts::*;
use undercroft::calc::fan_curve::{self, FanCurve, FanPoint};
use undercroft::calc::fittings::{self, Crane, Entrance, InDiameters};
use undercroft::calc::friction::{self, Formula};
use undercroft::calc::house::{self, Tightness};
use undercroft::calc::section::Section;

use super::inputs::Inputs;

pub(super) fn air(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    if i.has("house_leak_cfm50") {
        let house = Tightness { flow_at_50: i.flow("house_leak_cfm50")?, exponent: i.plain("exponent_n")? };
        return Some(house::fall_of_pressure(&house, i.flow("net_exhaust_cfm")?).ok()?.to_number());
    }
    let sea = Pressure::written("101325 Pa")?;
    if i.has("height_above_or_below_neutral_m") {
        let inside = air::dry_density(i.celsius("inside_c")?, sea).ok()?;
        let outside = air::dry_density(i.celsius("outside_c")?, sea).ok()?;
        let height = i.length("height_above_or_below_neutral_m")?;
        return Some(air::draught(height, outside, inside).ok()?.to_number());
    }
    if i.has("soil_gas_density_kg_m3") {
        let (inside, outside) = (i.density("soil_gas_density_kg_m3")?, i.density("outdoor_density_kg_m3")?);
        return Some(air::draught(i.length("height_m")?, outside, inside).ok()?.to_number());
    }
    if i.has("altitude_m") {
        return Some(air::pressure_at(i.length("altitude_m")?).ok()?.to_number());
    }
    let temperature = i.celsius("temperature_c")?;
    if i.has("rh") {
        return Some(
            air::damp_density(temperature, i.pressure("pressure_pa")?, i.plain("rh")?).ok()?.to_number(),
        );
    }
    if i.has("pressure_pa") {
        return Some(air::dry_density(temperature, i.pressure("pressure_pa")?).ok()?.to_number());
    }
    Some(air::viscosity(temperature).ok()?.to_number())
}

fn gas(i: &Inputs) -> Option<Air> {
    Some(Air { density: i.density("density_kg_m3")?, viscosity: i.viscosity()? })
}

pub(super) fn friction(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    let unit = case["unit"].as_str()?;
    if i.has("pa_per_m") {
        let one = Quantity::parse("1 in WC per 100 ft", Gradient::DIMENSION).ok()?;
        return Gradient::from_si(i.float("pa_per_m")?)?.to_number().divide(&one.number);
    }
    if i.has("friction_inwc_per_100ft") {
        let loss = Gradient::written(&format!("{} in WC per 100 ft", i.float("friction_inwc_per_100ft")?))?;
        let d =
            friction::diameter_for(i.flow("flow_cfm")?, loss, &gas(&i)?, i.length("roughness_m")?).ok()?;
        return d.to_number().divide(&Length::written("1 in")?.to_number());
    }
    if i.has("reynolds") {
        let formula = match case["id"].as_str()? {
            id if id.contains("haaland") => Formula::Haaland,
            id if id.contains("swamee") => Formula::SwameeJain,
            _ => Formula::Colebrook,
        };
        let rough = i.plain("relative_roughness").or(Plain::from_si(0.0))?;
        return Some(friction::factor(i.plain("reynolds")?, rough, formula).ok()?.to_number());
    }
    let section = if i.has("a_in") {
        Section::rectangle(i.length("a_in")?, i.length("b_in")?)
    } else {
        Section::round(i.length("inside_diameter_m")?)
    };
    let (section, flow) = (section.ok()?, i.flow("flow_m3_s")?);
    if unit == "-" {
        return Some(friction::reynolds(&section, flow, &gas(&i)?).ok()?.to_number());
    }
    Some(friction::gradient(&section, flow, &gas(&i)?, i.length("roughness_m")?).ok()?.to_number())
}

pub(super) fn fittings(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    let id = case["id"].as_str()?;
    let any = Length::written("3 in")?;
    if id.starts_with("fitting.irc_a22.") || id.starts_with("fitting.eqlen.") && !i.has("K") {
        let fitting = match id.split('.').nth(2)? {
            name if name.starts_with("ell90") => InDiameters::QuarterBend,
            name if name.starts_with("ell45") => InDiameters::EighthBend,
            name if name.starts_with("tee_branch") => InDiameters::TeeBranch,
            name if name.starts_with("bend_r1p33") => InDiameters::BendOfOneAndAThird,
            name if name.starts_with("bend_r1") => InDiameters::BendOfOne,
            name if name.starts_with("bend_r2") => InDiameters::BendOfTwo,
            _ => return None,
        };
        let length = fittings::equivalent_pipe(fitting, i.length("inside_diameter_in")?).ok()?;
        return length.to_number().divide(&Length::written("1 ft")?.to_number());
    }
    if let Some(k) = i.plain("K") {
        if i.has("darcy_f") {
            let f = i.plain("darcy_f")?;
            return Some(
                fittings::pipe_for_coefficient(k, i.length("inside_diameter_m")?, f).ok()?.to_number(),
            );
        }
        let speed = Speed::from_si(i.float("velocity_m_s")?)?;
        return Some(fittings::loss(k, i.density("density_kg_m3")?, speed).ok()?.to_number());
    }
    let crane = |fitting| fittings::crane(fitting, i.length("inside_diameter_m")?).ok();
    let joined = || {
        let share = Plain::from_si(i.float("q_branch")? / (i.float("q_branch")? + i.float("q_run")?))?;
        let angle = i.degrees("angle_deg").or(Angle::from_si(90.0))?;
        fittings::joining(i.length("d_run_m")?, i.length("d_branch_m")?, share, angle).ok()
    };
    let kind = id.strip_prefix("fitting.")?;
    let found = match kind {
        "entrance.flush.crane" => fittings::entrance(Entrance::FlushCrane, any).ok()?,
        "entrance.flush.rennels" => fittings::entrance(Entrance::FlushRennels, any).ok()?,
        "entrance.projecting.crane" => fittings::entrance(Entrance::Projecting, any).ok()?,
        "entrance.rounded.rennels" => {
            let rounded = Entrance::Rounded(i.length("radius_m")?);
            fittings::entrance(rounded, i.length("inside_diameter_m")?).ok()?
        }
        "exit.free" => fittings::open_end(),
        _ if kind.contains(".std.crane.") && kind.starts_with("bend90") => crane(Crane::QuarterBend)?,
        _ if kind.contains(".std.crane.") && kind.starts_with("bend45") => crane(Crane::EighthBend)?,
        _ if kind.starts_with("bend") => {
            let rough = Plain::from_si(i.float("roughness_m")? / i.float("inside_diameter_m")?)?;
            let (angle, radius) = (i.degrees("angle_deg")?, i.plain("bend_diameters")?);
            fittings::bend(angle, radius, i.plain("reynolds")?, rough).ok()?
        }
        _ if kind.starts_with("miter") => fittings::miter(i.degrees("angle_deg")?).ok()?,
        "expansion.3to4.borda" => fittings::sudden_widening(i.length("d1_m")?, i.length("d2_m")?).ok()?,
        _ if kind.starts_with("expansion") => {
            let (small, large) = (i.length("d1_m")?, i.length("d2_m")?);
            fittings::widening_cone(small, large, i.degrees("total_angle_deg")?, i.plain("reynolds")?).ok()?
        }
        _ if kind.starts_with("contraction") => {
            // its source says that it was worked out with this friction factor
            let (large, small, f) = (i.length("d1_m")?, i.length("d2_m")?, Plain::from_si(0.024)?);
            fittings::narrowing_cone(large, small, i.degrees("total_angle_deg")?, f).ok()?
        }
        _ if kind.starts_with("gate.open") => crane(Crane::Gate)?,
        _ if kind.starts_with("ball.open") => crane(Crane::Ball)?,
        _ if kind.starts_with("butterfly.open") => crane(Crane::Butterfly)?,
        _ if kind.contains("converging.branch") => joined()?.branch,
        _ if kind.contains("converging.run") => joined()?.through,
        _ if kind.contains("hooper2k") => {
            let d = i.length("inside_diameter_in")?;
            fittings::hooper(i.plain("K1")?, i.plain("Kinf")?, i.plain("reynolds")?, d).ok()?
        }
        _ => return None,
    };
    Some(found.to_number())
}

/// A curve from pairs of flow and pressure in SI units, measured in air of a density.
pub(super) fn curve(i: &Inputs, key: &str, density: f64) -> Option<FanCurve> {
    let points: Option<Vec<FanPoint>> = i
        .pairs(key)?
        .into_iter()
        .map(|(q, p)| {
            Some(FanPoint { flow: Flow::from_si(q)?, pressure: Pressure::from_si(p)?, power: None })
        })
        .collect();
    FanCurve::new(&points?, Density::from_si(density)?).ok()
}

pub(super) fn fan(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    // a straight curve from a pressure and a power down to nothing
    let fan = |flow: f64, pressure: f64, power: f64, density: f64| {
        let point = |q: f64, p: f64| {
            Some(FanPoint {
                flow: Flow::from_si(q)?,
                pressure: Pressure::from_si(p)?,
                power: Power::from_si(power),
            })
        };
        FanCurve::new(&[point(0.0, pressure)?, point(flow, 0.0)?], Density::from_si(density)?).ok()
    };
    let nothing = Flow::from_si(0.0)?;
    if i.has("system_pa_per_m3s2") {
        let resistance = i.float("system_pa_per_m3s2")?;
        let system = |flow: Flow| Pressure::from_si(resistance * flow.to_si().powi(2)).expect("a pressure");
        return Some(curve(&i, "curve_m3s_pa", 1.2)?.against(system).ok()?.flow.to_number());
    }
    if i.has("curve_m3s_pa") {
        return Some(curve(&i, "curve_m3s_pa", 1.2)?.pressure(i.flow("flow_m3_s")?).ok()?.to_number());
    }
    if let Some(ratio) = i.plain("speed_ratio") {
        let (flow, pressure) = (i.float("flow1_m3_s").unwrap_or(1.0), i.float("pressure1_pa").unwrap_or(1.0));
        let slow = fan(flow, pressure, i.float("power1_w").unwrap_or(1.0), 1.2)?.at_speed(ratio).ok()?;
        return Some(match case["unit"].as_str()? {
            "m3/s" => slow.last_flow().to_number(),
            "Pa" => slow.shut_off().to_number(),
            _ => slow.power(nothing)?.to_number(),
        });
    }
    if i.has("rated_density_kg_m3") {
        let (pressure, power) =
            (i.float("rated_pressure_pa").unwrap_or(1.0), i.float("rated_power_w").unwrap_or(1.0));
        let rated = fan(1.0, pressure, power, i.float("rated_density_kg_m3")?)?;
        let thin = rated.in_air_of(i.density("actual_density_kg_m3")?).ok()?;
        let pressure = i.has("rated_pressure_pa");
        return Some(if pressure { thin.shut_off().to_number() } else { thin.power(nothing)?.to_number() });
    }
    if i.has("density_lb_ft3") {
        return Some(fan_curve::standard_air().to_number());
    }
    let power = fan_curve::air_power(i.flow("flow_m3_s")?, i.pressure("pressure_pa")?).ok()?.to_number();
    match i.float("electrical_w") {
        Some(drawn) => power.divide(&Power::from_si(drawn)?.to_number()),
        None => Some(power),
    }
}
