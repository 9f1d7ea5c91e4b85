//! What the fittings of a run take.

use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Angle, Length, OutOfRange, Plain};
use crate::calc::fittings::{
    Crane, Entrance, crane, entrance, joining, narrowing_cone, open_end, widening_cone,
};
use crate::design::model::pipe::{FittingKind, PipeSize};
use crate::facts::ask::Ask;
use crate::facts::bores::bore;
use crate::facts::fittings::{Fitted, Why, fittings_of};
use crate::facts::outlet::tenths;
use crate::facts::runs::{run, size};
use crate::facts::worked::out_of_range;
use crate::yaml::words::Words;

/// The coefficients of all fittings of a run, its open end at a suction point or in the open air with them, on the pressure
/// of the speed in the run.
pub(super) fn fittings(ask: &mut Ask<'_>, it: Thing, end: Option<End>, after: bool) -> Answer<Plain> {
    let own = size(ask, it);
    let inside = bore(ask, it).map(|inside| Length::from_number(&inside));
    let each = fittings_of(ask, it);
    own.both(inside).both(each).then(|((own, inside), each)| {
        let Some(inside) = inside else { return ask.cannot(it, "the pipe is too wide") };
        let mut sum = match end.map(|end| end_of(end, inside)) {
            None => 0.0,
            Some(Ok(end)) => end.to_si(),
            Some(Err(range)) => return out_of_range(ask, it, &range),
        };
        for one in &each {
            let taken = match stated_loss(ask, it, one) {
                Answer::Known { value: Some(loss), .. } => Ok(Some(loss)),
                Answer::Known { value: None, .. } => coefficient(one, own, inside, after),
                Answer::Unknown(missing) => return Answer::Unknown(missing),
            };
            match taken {
                Ok(Some(taken)) => sum += f64::from(one.count) * taken.to_si(),
                Ok(None) => {
                    let why = format!(
                        "what a {} takes differs from maker to maker; state its loss beside it",
                        one.kind.spelling()
                    );
                    return ask.cannot(it, &why);
                }
                Err(range) => return out_of_range(ask, it, &range),
            }
        }
        match Plain::from_si(sum) {
            Some(sum) => Answer::known(sum),
            None => ask.cannot(it, "the losses of its fittings are too great"),
        }
    })
}

/// Where air enters a run from the soil, or leaves it into the open.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum End {
    /// A pit, or the space under a membrane.
    Soil,
    /// The open air, by a pipe that is open.
    Open,
    /// The open air, under a cap or past a bend.
    Capped,
}

fn end_of(end: End, inside: Length) -> Result<Plain, OutOfRange> {
    match end {
        End::Soil => entrance(Entrance::Projecting, inside),
        End::Open => Ok(open_end()),
        End::Capped => Ok(twice(open_end())),
    }
}

fn twice(one: Plain) -> Plain {
    times(one, 2.0)
}

fn times(one: Plain, by: f64) -> Plain {
    Plain::from_si(by * one.to_si()).unwrap_or(one)
}

/// The loss that is stated of a fitting.
fn stated_loss(ask: &mut Ask<'_>, it: Thing, fitted: &Fitted) -> Answer<Option<Plain>> {
    let Why::Stated(number) = fitted.why else { return Answer::known(None) };
    run(ask, it, |ask, run| {
        let Some(fitting) = run.fittings.members().nth(number) else { return Answer::known(None) };
        if fitting.loss.is_missing() {
            return Answer::known(None);
        }
        ask.quantity(&fitting.here, &fitting.loss).map(|loss| Plain::from_number(&loss))
    })
}

/// The coefficient of one fitting on the pressure of the speed in a run of size `own`; nothing for one of which no table tells.
fn coefficient(of: &Fitted, own: PipeSize, inside: Length, after: bool) -> Result<Option<Plain>, OutOfRange> {
    let wide = |size: PipeSize| inside.to_si() * f64::from(tenths(size)) / f64::from(tenths(own));
    let at = |size: PipeSize| Length::from_si(wide(size)).unwrap_or(inside);
    // From the speed in a pipe of that size to the speed in the run.
    let on_own = |taken: Plain, size: PipeSize| times(taken, (inside.to_si() / wide(size)).powi(4));
    let by_table = |fitting| crane(fitting, at(of.size)).map(|taken| Some(on_own(taken, of.size)));
    match of.kind {
        FittingKind::Elbow90 => by_table(Crane::QuarterBend),
        FittingKind::LongElbow90 => by_table(Crane::LongBend),
        FittingKind::Elbow45 => by_table(Crane::EighthBend),
        FittingKind::Elbow22 => Ok(by_table(Crane::EighthBend)?.map(|taken| times(taken, 0.5))),
        FittingKind::TeeThrough | FittingKind::WyeThrough => by_table(Crane::TeeThrough),
        FittingKind::TeeTurn => by_table(Crane::TeeBranch),
        FittingKind::WyeSide => {
            let (Some(half), Some(slant)) = (Plain::written("0.5"), Angle::written("45 deg")) else {
                return Ok(None);
            };
            let joined = joining(at(of.size), at(of.size), half, slant)?.branch;
            // The coefficient is on the speed of both flows together, twice that of the branch.
            Ok(Some(on_own(times(joined, 4.0), of.size)))
        }
        FittingKind::Reducer => reducer(of, own, after, &at).map(Some),
        FittingKind::Coupling
        | FittingKind::FlexibleCoupling
        | FittingKind::Union
        | FittingKind::Cleanout
        | FittingKind::CondensateBypass
        | FittingKind::DownspoutAdapter
        | FittingKind::Cap => Ok(Plain::from_si(0.0)),
        FittingKind::Muffler => Ok(None),
    }
}

/// A short cone between two sizes: 60 degrees from wall to wall, as moulded reducers have it.
fn reducer(
    of: &Fitted,
    own: PipeSize,
    after: bool,
    at: &impl Fn(PipeSize) -> Length,
) -> Result<Plain, OutOfRange> {
    let other = of.other_size.unwrap_or(of.size);
    let (small, large) = if tenths(of.size) <= tenths(other) { (of.size, other) } else { (other, of.size) };
    let (Some(cone), Some(flow), Some(factor)) =
        (Angle::written("60 deg"), Plain::written("10000"), Plain::written("0.03"))
    else {
        return Ok(open_end());
    };
    if small == large {
        return Ok(times(open_end(), 0.0));
    }
    // The other end lies nearer to the fan: air goes there before the fan, and comes from there after it.
    let widens = (small == of.size) != after;
    let taken = match widens {
        true => widening_cone(at(small), at(large), cone, flow)?,
        false => narrowing_cone(at(large), at(small), cone, factor)?,
    };
    let ratio = at(own).to_si() / at(small).to_si();
    Ok(times(taken, ratio.powi(4)))
}
