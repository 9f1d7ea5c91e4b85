//! Which way the air goes: whether a run is on the discharge side of the fan or on that of the suction points.

use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;

use super::ask::Ask;
use super::kinds::Kind;
use super::runs::run;

/// Where a run's chain of beginnings starts.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Root {
    /// At the fan, with this run.
    Fan(Thing),
    /// At the discharge.
    Discharge,
    /// At a suction point.
    SuctionPoint,
}

fn root(ask: &mut Ask<'_>, it: Thing) -> Answer<Root> {
    ask.between("root", it, |ask| {
        let owner = ask.things().owner(it);
        run(ask, it, |ask, run| {
            let want = run.from.want(&run.here);
            ask.value(&run.here, &run.from).then(|from| match from.as_str() {
                "fan" => Answer::known(Root::Fan(it)),
                "discharge" => Answer::known(Root::Discharge),
                name => {
                    let before = ask.things().named(Kind::Run, owner, name);
                    let point = ask.things().named(Kind::SuctionPoint, owner, name);
                    match (before, point) {
                        (Some(before), _) => root(ask, before),
                        (None, Some(_)) => Answer::known(Root::SuctionPoint),
                        (None, None) => {
                            let why = format!("where {name} hangs on the pipe is not stated");
                            Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
                        }
                    }
                }
            })
        })
    })
}

/// # Meaning
/// Whether a run carries air under pressure: the air has passed the fan.
/// # Formula
/// The runs that hang together from the fan on are followed to their ends: where one ends at the discharge they are
/// all after the fan, where one ends at a suction point all before it. Without a fan nothing is under pressure.
/// # Valid for
/// Runs written outward from the fan.
/// # Accuracy
/// Yes or no.
/// # Source
/// The way the air goes.
/// # Errors
/// Unknown when no end is stated, and when the same runs end at both.
/// # Example
/// `stack: {from: fan, up: 5 ft, to: discharge}` is after the fan.
pub(super) fn downstream(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let Some(owner) = ask.things().owner(it) else { return ask.cannot(it, "it belongs to no system") };
    let system = ask.things().systems.get(owner as usize).map(|system| system.it);
    if let Some(system) = system
        && ask.read(&system.here, &system.fan).value() == Some(None)
    {
        return Answer::known(false);
    }
    root(ask, it).then(|root_of_it| match root_of_it {
        Root::Discharge => Answer::known(true),
        Root::SuctionPoint => Answer::known(false),
        Root::Fan(first) => hangs_after_the_fan(ask, first, owner),
    })
}

/// Whether the runs that hang together from this one at the fan on are after the fan: the same for all of them.
fn hangs_after_the_fan(ask: &mut Ask<'_>, first: Thing, owner: u32) -> Answer<bool> {
    ask.between("after the fan", first, |ask| {
        let (mut after, mut before, mut missing) = (Vec::new(), Vec::new(), Vec::new());
        for other in ask.things().owned(Kind::Run, owner) {
            if root(ask, other).value() != Some(Root::Fan(first)) {
                continue;
            }
            let Some(record) = ask.things().runs.get(other.number as usize).map(|run| run.it) else {
                continue;
            };
            let want = record.to.want(&record.here);
            match ask.read(&record.here, &record.to) {
                Answer::Known { value: Some(to), .. } => match to.as_str() {
                    "discharge" => after.push(want),
                    name if ask.things().named(Kind::SuctionPoint, Some(owner), name).is_some() => {
                        before.push(want)
                    }
                    _ => {}
                },
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        match (after.is_empty(), before.is_empty()) {
            (false, true) => Answer::known(true),
            (true, false) => Answer::known(false),
            (false, false) => {
                let both = after.into_iter().chain(before);
                Answer::Unknown(both.map(|one| Missing { reason: Reason::Contradiction, ..one }).collect())
            }
            (true, true) => Answer::Unknown(missing),
        }
    })
}

/// Whether the air goes from the end of a run to its beginning: on the suction side of a fan, and where the runs are
/// written from the discharge on.
pub(super) fn flows_back(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    root(ask, it).then(|root| match root {
        Root::Discharge => Answer::known(true),
        Root::SuctionPoint => Answer::known(false),
        Root::Fan(_) => downstream(ask, it).map(|after| !after),
    })
}
