//! What the program answers to the check values on soil, fill and the suction round pits.

use serde_json::Value;
use undercroft::base::number::Number;
use undercroft::calc::air::Air;
use undercroft::calc::amounts::*;
use undercroft::calc::soil::bessel::{Bessel, bessel};
use undercroft::calc::soil::ground::{self, Layer, Ring, Stone};
use undercroft::calc::soil::hollow::{self, Face, HollowWall, Top};
use undercroft::calc::soil::radial::{self, Edge, Pit, Pits, Tight};

use super::inputs::Inputs;

fn permeability(i: &Inputs) -> Option<Permeability> {
    Permeability::from_si(i.float("permeability_m2")?)
}

fn layer(i: &Inputs) -> Option<Layer> {
    let along = ground::transmissivity(permeability(i)?, i.length("layer_thickness_m")?, i.viscosity()?);
    Some(Layer { transmissivity: along.ok()?, leakage: Leakage::from_si(i.float("leakage_m_s_pa")?)? })
}

fn place(pair: (f64, f64)) -> Option<(Length, Length)> {
    Some((Length::from_si(pair.0)?, Length::from_si(pair.1)?))
}

/// A face of block, or a wall of it with closed tops and without holes, at one end of what it lets through.
fn block(i: &Inputs) -> Option<Number> {
    let least = i.text("end")? == "least";
    if let Some(named) = i.text("block_face") {
        let face = hollow::face(if named == "coated" { Face::Coated } else { Face::Bare });
        let (low, high) = face.bounds();
        return Some(Number::exact(if least { low } else { high }));
    }
    let sides: Vec<f64> = i.0["block_wall_m"].as_array()?.iter().filter_map(Value::as_f64).collect();
    let [long, high] = sides.as_slice() else { return None };
    let (long, high, none) = (Length::from_si(*long)?, Length::from_si(*high)?, Area::from_si(0.0)?);
    let wall = HollowWall {
        long: (long, long),
        high: (high, high),
        inner: Face::Bare,
        top: Top::Closed,
        holes: (none, none),
    };
    let (low, high) = hollow::leaks(&wall).ok()?;
    Some(if least { low.to_number() } else { high.to_number() })
}

/// Several pits in a wide layer.
fn several(i: &Inputs, id: &str) -> Option<Number> {
    let layer = layer(i)?;
    let list = |key: &str| -> Option<Vec<f64>> { i.0[key].as_array()?.iter().map(Value::as_f64).collect() };
    let (radii, suctions) = (list("pit_radius_m")?, list("pit_suction_pa")?);
    let pit = |(radius, suction): (&f64, &f64)| {
        Some(Pit { radius: Length::from_si(*radius)?, suction: Pressure::from_si(*suction)? })
    };
    let pits: Vec<Pit> = radii.iter().zip(&suctions).map(pit).collect::<Option<_>>()?;
    let places: Vec<_> = i.pairs("points_m")?.into_iter().map(place).collect::<Option<_>>()?;
    let at = || Some((i.0["at_m"][0].as_f64()?, i.0["at_m"][1].as_f64()?));
    if id.contains("naive_sum") {
        let (x, y) = at()?;
        let each = pits.iter().zip(&places).map(|(pit, (a, b))| {
            let far = Length::from_si((x - a.to_si()).hypot(y - b.to_si()))?;
            Some(radial::suction(&layer, pit, Edge::None, far).ok()?.to_si())
        });
        return Some(Pressure::from_si(each.collect::<Option<Vec<f64>>>()?.iter().sum())?.to_number());
    }
    let all: Vec<_> = places.into_iter().zip(pits).collect();
    let pits = Pits::new(&layer, &all).ok()?;
    if i.has("at_m") {
        return Some(pits.suction(place(at()?)?).to_number());
    }
    Some(pits.flows().first()?.to_number())
}

pub(super) fn answer(case: &Value) -> Option<Number> {
    let i = Inputs(&case["inputs"]);
    let id = case["id"].as_str()?;
    if let Some(function) = i.text("function") {
        let kind = match function {
            "I0" => Bessel::I0,
            "I1" => Bessel::I1,
            "K0" => Bessel::K0,
            "K1" => Bessel::K1,
            _ => return None,
        };
        return Some(bessel(kind, i.plain("x")?).ok()?.to_number());
    }
    if i.has("points_m") {
        return several(&i, id);
    }
    if i.has("block_face") || i.has("block_wall_m") {
        return block(&i);
    }
    let air = || {
        let density = i.density("density_kg_m3").or(Density::from_si(1.2))?;
        Some(Air { density, viscosity: i.viscosity()? })
    };
    if i.has("beta_1_m") {
        let inertia = Inertia::from_si(i.float("beta_1_m")?)?;
        let ring = Ring {
            stone: Stone { permeability: permeability(&i)?, inertia },
            thickness: i.length("layer_thickness_m")?,
            inner: i.length("pit_radius_m")?,
            outer: i.length("outer_radius_m")?,
        };
        return match i.flow("flow_m3_s") {
            Some(flow) => Some(ground::ring_loss(&ring, flow, &air()?).ok()?.to_number()),
            None => {
                Some(ground::ring_flow(&ring, i.pressure("pressure_drop_pa")?, &air()?).ok()?.to_number())
            }
        };
    }
    if i.has("particle_m") {
        let stone = ground::stone(i.length("particle_m")?, i.plain("porosity")?).ok()?;
        if let Some(speed) = i.float("superficial_velocity_m_s") {
            return Some(ground::loss_along(&stone, Speed::from_si(speed)?, &air()?).ok()?.to_number());
        }
        let slow = id.contains(".k.");
        return Some(if slow { stone.permeability.to_number() } else { stone.inertia.to_number() });
    }
    if let Some(speed) = i.float("hydraulic_conductivity_m_s") {
        return Some(ground::by_seepage(Speed::from_si(speed)?).ok()?.to_number());
    }
    if i.has("mean_grain_m") {
        let (voids, wet) = (i.plain("porosity")?, i.plain("saturation_fraction")?);
        return Some(ground::by_grain(i.length("mean_grain_m")?, voids, wet).ok()?.to_number());
    }
    if i.has("permeability_darcy") {
        return Some(ground::darcys(i.plain("permeability_darcy")?).ok()?.to_number());
    }
    if id == "subslab.pit.vs.core" {
        let (k, mu) = (Permeability::from_si(1e-11)?, Viscosity::from_si(1.8e-5)?);
        let pit = ground::hollow(k, mu, i.length("pit_radius_m")?).ok()?;
        let hole = ground::bare_hole(k, mu, i.length("hole_radius_m")?).ok()?;
        return pit.to_number().divide(&hole.to_number());
    }
    if i.has("hole_radius_m") {
        let hole = ground::bare_hole(permeability(&i)?, i.viscosity()?, i.length("hole_radius_m")?).ok()?;
        return Some(Flow::from_si(hole.to_si() * i.float("suction_pa")?)?.to_number());
    }
    if id == "subslab.pit.hemisphere.Q" {
        let pit = ground::hollow(permeability(&i)?, i.viscosity()?, i.length("pit_radius_m")?).ok()?;
        return Some(Flow::from_si(pit.to_si() * i.float("pit_suction_pa")?)?.to_number());
    }
    if id == "subslab.pit.hemisphere.p" {
        let (radius, at) = (i.length("pit_radius_m")?, i.length("r_m")?);
        return Some(ground::beyond_hollow(radius, i.pressure("pit_suction_pa")?, at).ok()?.to_number());
    }
    let pit = || Some(Pit { radius: i.length("pit_radius_m")?, suction: i.pressure("pit_suction_pa")? });
    if i.has("outer_radius_m") {
        let along = i.float("transmissivity_m3_s_pa").unwrap_or(5e-5);
        let along = Transmissivity::from_si(along)?;
        let tight = Tight { transmissivity: along, pit: pit()?, edge: i.length("outer_radius_m")? };
        return match i.length("r_m") {
            Some(at) => Some(radial::tight_suction(&tight, at).ok()?.to_number()),
            None => Some(radial::tight_inflow(&tight).ok()?.to_number()),
        };
    }
    match id {
        "subslab.transmissivity" => {
            let along =
                ground::transmissivity(permeability(&i)?, i.length("layer_thickness_m")?, i.viscosity()?);
            return Some(along.ok()?.to_number());
        }
        "subslab.lambda" => return Some(ground::reach(&layer(&i)?).ok()?.to_number()),
        _ => {}
    }
    let (layer, pit) = (layer(&i)?, pit()?);
    let edge = match i.text("boundary") {
        Some("p=0 at R") => Edge::Open(i.length("slab_radius_m")?),
        Some(_) => Edge::Sealed(i.length("slab_radius_m")?),
        None => Edge::None,
    };
    if let Some(wanted) = i.pressure("target_pa") {
        return Some(radial::radius_of(&layer, &pit, wanted).ok()?.to_number());
    }
    match i.length("r_m") {
        Some(at) => Some(radial::suction(&layer, &pit, edge, at).ok()?.to_number()),
        None => Some(radial::inflow(&layer, &pit, edge).ok()?.to_number()),
    }
}
