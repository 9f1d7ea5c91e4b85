//! How much air a suction point gives for how much suction: as a test at it shows, or as the ground lets through.

use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Flow, Plain, Pressure};
use crate::calc::suction_law::{NotFitted, SuctionLaw};
use crate::design::model::readings::CommunicationTest;
use crate::design::model::suction::SuctionKind;
use crate::facts::ask::Ask;
use crate::facts::suction::point;
use crate::facts::worked::out_of_range;

use super::piping::Bounds;

/// What a suction point gives.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Gives {
    /// As read at it, at one suction or several: with which least comes, and with which most.
    Tested {
        laws: Bounds<SuctionLaw>,
        /// Read at one suction only: beyond it the two change places.
        only_at: Option<Pressure>,
    },
    /// As the ground of this area lets through.
    Ground(Thing),
}

/// Readings are taken to be as good as this.
const READ: f64 = 0.05;

/// What a suction point gives.
pub(super) fn gives(ask: &mut Ask<'_>, it: Thing) -> Answer<Gives> {
    let readings = readings(ask, it);
    let mut wanting = Vec::new();
    match readings {
        Answer::Known { value, .. } if !value.is_empty() => return tested(ask, it, &value),
        Answer::Known { .. } => {}
        // A test that is there and cannot be read is not passed over.
        Answer::Unknown(missing) => wanting = missing,
    }
    if !wanting.is_empty() {
        return Answer::Unknown(wanting);
    }
    let kind = point(ask, it, |ask, record| {
        ask.value(&record.here, &record.kind).map(|kind| (*kind, record.kind.want(&record.here)))
    });
    kind.then(|(kind, want)| match kind {
        SuctionKind::Crawlspace | SuctionKind::Outdoors => {
            let why = "how much air it gives takes a communication test at it".to_owned();
            Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
        }
        _ => ask.one(it, "area").map(Gives::Ground),
    })
}

/// Suction and air as read at this point by the communication tests that name it.
fn readings(ask: &mut Ask<'_>, it: Thing) -> Answer<Vec<(Pressure, Flow)>> {
    let name = ask.things().name(it);
    let diagnostics = &ask.design().diagnostics;
    let _ = ask.read(&diagnostics.here, &diagnostics.communication);
    let mut readings = Answer::known(Vec::new());
    for (_, test) in diagnostics.communication.things() {
        let at = ask.read(&test.here, &test.suction_point).value().flatten();
        if at.is_some_and(|at| at.as_str() == name) {
            readings = readings.both(of_test(ask, test)).map(|(mut all, more)| {
                all.extend(more);
                all
            });
        }
    }
    readings
}

/// What one test read. A test of which neither steps nor flow are stated tells only how far suction is felt.
fn of_test<'d>(ask: &mut Ask<'d>, test: &'d CommunicationTest) -> Answer<Vec<(Pressure, Flow)>> {
    let pair = |(suction, flow)| Some((Pressure::from_number(&suction)?, Flow::from_number(&flow)?));
    let listed = |pairs: Vec<Option<(Pressure, Flow)>>| pairs.into_iter().flatten().collect::<Vec<_>>();
    if !test.steps.is_missing() {
        let steps = ask.value(&test.here, &test.steps);
        return steps.then(|steps| {
            let each: Vec<_> = steps
                .members()
                .map(|step| {
                    let suction = ask.quantity(&step.here, &step.suction);
                    suction.both(ask.quantity(&step.here, &step.flow)).map(pair)
                })
                .collect();
            Answer::all(each).map(listed)
        });
    }
    if test.flow.is_missing() {
        let _ = ask.read(&test.here, &test.flow);
        return Answer::known(Vec::new());
    }
    let suction = ask.quantity(&test.here, &test.suction);
    suction.both(ask.quantity(&test.here, &test.flow)).map(|both| listed(vec![pair(both)]))
}

fn tested(ask: &mut Ask<'_>, it: Thing, readings: &[(Pressure, Flow)]) -> Answer<Gives> {
    ask.assume("what was read in the communication test is good to 5 %");
    let alone = readings.first().filter(|first| readings.iter().all(|(suction, _)| *suction == first.0));
    let laws = match alone {
        Some((suction, flow)) => {
            ask.assume(
                "a suction point that was tested at one suction gives air as ground does between the loosest \
                 (with the root of the suction) and the tightest (as the suction)",
            );
            let by = |exponent: &str, share: f64| {
                let (flow, exponent) = (scaled(*flow, share), Plain::written(exponent));
                exponent.map(|exponent| SuctionLaw::through(flow, *suction, exponent))
            };
            (by("1", 1.0 - READ), by("0.5", 1.0 + READ))
        }
        None => match SuctionLaw::fitted(readings) {
            Ok(fitted) => {
                let stray = fitted.stray.to_si().max(READ);
                let middle = readings.first().map(|(suction, _)| *suction);
                let by = |share: f64| {
                    let suction = middle?;
                    let flow = fitted.law.flow(suction).ok()?;
                    Some(SuctionLaw::through(scaled(flow, share), suction, fitted.law.exponent()))
                };
                (by(1.0 - stray), by(1.0 + stray))
            }
            Err(NotFitted::TooFewReadings) => (None, None),
            Err(NotFitted::OutOfRange(range)) => return out_of_range(ask, it, &range),
        },
    };
    match laws {
        (Some(Ok(least)), Some(Ok(most))) => Answer::known(Gives::Tested {
            laws: Bounds { least, most },
            only_at: alone.map(|(suction, _)| *suction),
        }),
        (Some(Err(range)), _) | (_, Some(Err(range))) => out_of_range(ask, it, &range),
        _ => ask.cannot(it, "no law of air and suction goes through what its tests read"),
    }
}

fn scaled(flow: Flow, by: f64) -> Flow {
    Flow::from_si(flow.to_si() * by).unwrap_or(flow)
}

/// The suction points of a system with what each gives.
pub(super) fn of_system(ask: &mut Ask<'_>, points: &[Thing]) -> Answer<Vec<(Thing, Gives)>> {
    let mut missing: Vec<Missing> = Vec::new();
    let mut found = Vec::new();
    for it in points {
        let stated = point(ask, *it, |_, _| Answer::known(()));
        match stated.then(|()| gives(ask, *it)) {
            Answer::Known { value, .. } => found.push((*it, value)),
            Answer::Unknown(more) => missing = unite(missing, more),
        }
    }
    if missing.is_empty() { Answer::known(found) } else { Answer::Unknown(missing) }
}
