//! Where runs meet: at the end of a run, at the fan, at the discharge, at a suction point.

use std::sync::Arc;

use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::pipe::Run;

use crate::facts::ask::Ask;
use crate::facts::downstream::downstream;
use crate::facts::kinds::Kind;
use crate::facts::things::thing;

use super::legs::{Way, legs};

/// A place where runs meet.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Meeting {
    /// The end of a run, from which others go on.
    EndOf(Thing),
    /// The fan: its outlet, or its inlet.
    Fan { outlet: bool },
    /// The discharge.
    Discharge,
    /// A suction point.
    Point(Thing),
}

/// A run that meets others somewhere.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arm {
    /// The run.
    pub(super) run: Thing,
    /// Whether it begins there; otherwise it ends there.
    pub(super) begins: bool,
}

impl Arm {
    /// The way in which it leaves the meeting.
    pub(super) fn way(self, ask: &mut Ask<'_>) -> Answer<Way> {
        let Some(run) = ask.things().runs.get(self.run.number as usize).map(|run| run.it) else {
            return ask.cannot(self.run, "it is not in the file");
        };
        let want = run.points.want(&run.here);
        legs(ask, self.run, run).then(|legs| {
            let found = if self.begins { legs.first().copied() } else { legs.last().map(|way| way.back()) };
            found.map_or_else(|| Answer::missing(want.clone()), Answer::known)
        })
    }
}

fn named(ask: &mut Ask<'_>, it: Thing, name: &str, want: Missing) -> Answer<Meeting> {
    let owner = ask.things().owner(it);
    match name {
        "fan" => downstream(ask, it).map(|outlet| Meeting::Fan { outlet }),
        "discharge" => Answer::known(Meeting::Discharge),
        name => {
            let run = ask.things().named(Kind::Run, owner, name);
            let point = ask.things().named(Kind::SuctionPoint, owner, name);
            match (run, point) {
                (Some(run), _) => Answer::known(Meeting::EndOf(run)),
                (None, Some(point)) => Answer::known(Meeting::Point(point)),
                (None, None) => {
                    let why = format!("where {name} hangs on the pipe is not stated");
                    Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
                }
            }
        }
    }
}

/// Where a run begins.
pub(super) fn beginning<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Meeting> {
    let want = run.from.want(&run.here);
    ask.value(&run.here, &run.from).then(|name| named(ask, it, name.as_str(), want))
}

/// Where a run ends, if it says so: otherwise others may go on from its end.
pub(super) fn end<'d>(ask: &mut Ask<'d>, it: Thing, run: &'d Run) -> Answer<Option<Meeting>> {
    if run.to.is_missing() {
        return Answer::known(None);
    }
    let want = run.to.want(&run.here);
    ask.value(&run.here, &run.to).then(|name| named(ask, it, name.as_str(), want)).map(Some)
}

/// A run with where it begins and where it ends, as far as that can be told.
type Ends = (Thing, Option<Meeting>, Option<Meeting>);

/// Where the runs of a system begin and end, worked out once for all of them.
fn ends(ask: &mut Ask<'_>, owner: u32) -> Arc<[Ends]> {
    let found = ask.between("meetings", thing(Kind::System, owner), |ask| {
        let mut found: Vec<Ends> = Vec::new();
        for it in ask.things().owned(Kind::Run, owner) {
            let Some(run) = ask.things().runs.get(it.number as usize).map(|run| run.it) else { continue };
            found.push((it, beginning(ask, it, run).value(), end(ask, it, run).value().flatten()));
        }
        Answer::known(Arc::from(found))
    });
    found.value().unwrap_or_else(|| Arc::from([]))
}

/// The runs that are said to meet at a place, in the order they are written, those apart that end there only because
/// it is their own end.
pub(super) fn arms(ask: &mut Ask<'_>, of: Thing, meeting: Meeting) -> Vec<Arm> {
    let Some(owner) = ask.things().owner(of) else { return Vec::new() };
    let mut found = Vec::new();
    for (run, begins, ends) in ends(ask, owner).iter() {
        if *begins == Some(meeting) {
            found.push(Arm { run: *run, begins: true });
        }
        if *ends == Some(meeting) {
            found.push(Arm { run: *run, begins: false });
        }
    }
    found
}
