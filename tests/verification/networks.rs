//! What the program answers to the check values on networks.

use serde_json::Value;
use undercroft::base::number::Number;
use undercroft::calc::air::Air;
use undercroft::calc::amounts::*;
use undercroft::calc::network::{Network, NodeId, Run, solve};
use undercroft::calc::section::Section;
use undercroft::calc::suction_law::SuctionLaw;

use super::gas;
use super::inputs::Inputs;

fn run(i: &Inputs, of: &Inputs) -> Option<Run> {
    Some(Run {
        section: Section::round(of.length("inside_diameter_m")?).ok()?,
        length: of.length("length_m")?,
        roughness: i.length("roughness_m")?,
        fittings: of.plain("sum_K")?,
        draught: Pressure::from_si(0.0)?,
    })
}

pub(super) fn answer(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    if i.has("dp1_pa") {
        let one = (i.pressure("dp1_pa")?, i.flow("q1_m3_s")?);
        let fitted = SuctionLaw::fitted(&[one, (i.pressure("dp2_pa")?, i.flow("q2_m3_s")?)]).ok()?;
        return Some(match case["unit"].as_str()? {
            "-" => fitted.law.exponent().to_number(),
            _ => fitted.law.at_one_pascal().to_number(),
        });
    }
    let air = Air { density: i.density("density_kg_m3")?, viscosity: i.viscosity()? };
    let mut network = Network::new(air).ok()?;
    let room = Pressure::from_si(0.0)?;
    let (soil, open) = (network.held(room).ok()?, network.held(room).ok()?);
    let (mut points, mut joints): (Vec<NodeId>, Vec<NodeId>) = (Vec::new(), Vec::new());
    let mut flows = Vec::new();
    for key in ["branches", "branches_at_J1", "branches_at_J2"] {
        let Some(list) = i.0.get(key).and_then(Value::as_array) else { continue };
        let joint = network.junction();
        for branch in list {
            let branch = Inputs(branch);
            let pit = network.junction();
            let one = Pressure::from_si(1.0)?;
            let law =
                SuctionLaw::through(Flow::from_si(branch.float("C")?)?, one, branch.plain("n")?).ok()?;
            flows.push(network.suction_point(soil, pit, law).ok()?);
            network.run(pit, joint, run(&i, &branch)?).ok()?;
            points.push(pit);
        }
        if let Some(trunk) = i.0.get("trunk_J1_to_J2").filter(|_| !joints.is_empty()) {
            network.run(joints[0], joint, run(&i, &Inputs(trunk))?).ok()?;
        }
        joints.push(joint);
    }
    let common = ["common", "common_from_J2"].iter().find_map(|key| i.0.get(key)?.as_array())?;
    let mut inlet = *joints.last()?;
    for piece in common {
        let next = network.junction();
        network.run(inlet, next, run(&i, &Inputs(piece))?).ok()?;
        inlet = next;
    }
    let fan = network.fan(inlet, open, gas::curve(&i, "fan_curve_m3s_pa", 1.2)?).ok()?;
    let solution = solve(&network).ok()?;
    let wanted = case["id"].as_str()?.rsplit('.').next()?;
    let numbered = |prefix: &str| wanted.strip_prefix(prefix)?.parse::<usize>().ok()?.checked_sub(1);
    if let Some(flow) = numbered("q").and_then(|at| flows.get(at)) {
        return Some(solution.flow(*flow)?.to_number());
    }
    if let Some(point) = numbered("p").and_then(|at| points.get(at)) {
        return Some(solution.suction(*point)?.to_number());
    }
    match wanted {
        "Q" => Some(solution.flow(fan)?.to_number()),
        "fan_pa" => Some(solution.fans().first()?.1.pressure.to_number()),
        "junction_pa" | "junction1_pa" => Some(solution.suction(joints[0])?.to_number()),
        "junction2_pa" => Some(solution.suction(joints[1])?.to_number()),
        _ => None,
    }
}
