//! What each sort of link takes at a flow.

use crate::calc::air::Air;
use crate::calc::amounts::Amount;
use crate::calc::friction::factor_si;

use super::{Law, Run, Setting};

/// The least slope the solver works with, in Pa s/m3: a stand-in where a law is flat, which moves steps but no answer.
const FLATTEST: f64 = 1e-3;

/// Pressure lost at a flow and its slope.
fn run_si(run: &Run, air: &Air, flow: f64) -> (f64, f64) {
    let (area, d) = (run.section.area().to_si(), run.section.hydraulic_diameter().to_si());
    let (rho, mu) = (air.density.to_si(), air.viscosity.to_si());
    let (length, size) = (run.length.to_si(), flow.abs());
    let square = 0.5 * rho / (area * area);
    let k = run.fittings.to_si();
    let by_flow = rho * d / (area * mu);
    let re = size * by_flow;
    let (mut loss, mut slope) = (k * square * size * size, 2.0 * k * square * size);
    if re <= crate::calc::friction::LAMINAR {
        let smooth = 32.0 * mu * length / (d * d * area);
        loss += smooth * size;
        slope += smooth;
    } else {
        let (f, by_re) = factor_si(re, run.roughness.to_si() / d);
        let along = length / d * square;
        loss += f * along * size * size;
        slope += along * size * (2.0 * f + by_re * by_flow * size);
    }
    (flow.signum() * loss - run.draught.to_si(), slope)
}

/// What a link takes at a flow and how steeply that rises; `None` for one that lets pass a given flow or nothing.
pub(super) fn taken_si(law: &Law, air: &Air, flow: f64) -> Option<(f64, f64)> {
    let (loss, slope) = match law {
        Law::Run(run) => run_si(run, air, flow),
        Law::Fan(curve) => {
            let (rise, slope) = curve.drawn_out_si(flow);
            (-rise, -slope)
        }
        Law::Point(law) => law.suction_si(flow),
        Law::Seep(by) => (flow / by, 1.0 / by),
        Law::Valve(section, Setting::Takes(k)) => {
            let square = 0.5 * k.to_si() * air.density.to_si() / section.area().to_si().powi(2);
            (square * flow * flow.abs(), 2.0 * square * flow.abs())
        }
        Law::Valve(_, Setting::Lets(_) | Setting::Closed) => return None,
    };
    Some((loss, slope.max(FLATTEST)))
}

/// The flow that a link is bound to; `None` for one that follows a law.
pub(super) fn bound_si(law: &Law) -> Option<f64> {
    match law {
        Law::Valve(_, Setting::Lets(flow)) => Some(flow.to_si()),
        Law::Valve(_, Setting::Closed) => Some(0.0),
        _ => None,
    }
}
