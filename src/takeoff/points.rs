//! Suction points of every kind: pits, holes, pipe with holes, boots and what else they take.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::design::model::foundation::CollectorKind;
use crate::design::model::suction::{InletKind, Pit, SuctionKind, SuctionPoint};
use crate::yaml::words::Words;

use super::desk::{Desk, most, spoken, want};
use super::pipe::Laid;
use super::sealing::{Opening, Ring, ring};
use super::usual;
use super::{Group, Line};

/// Counts what suction points take.
pub(super) fn points(desk: &mut Desk<'_, '_>, laid: &[Laid<'_>]) {
    let systems: Vec<_> = desk.design.systems.things().enumerate().collect();
    for (owner, (system_name, system)) in systems {
        for (key, point) in system.suction_points.things() {
            let name = desk.called(key, system_name);
            let ends = |run: &&Laid<'_>| {
                let named = |end: Option<&str>| end == Some(key);
                run.system == owner
                    && (named(run.run.to.known().map(|to| to.as_str()))
                        || named(run.run.from.known().map(|from| from.as_str())))
            };
            let run = laid.iter().find(ends);
            let Some(kind) = point.kind.known() else {
                desk.lacks(Group::Points, format!("what {name} takes"), want(&point.kind, &point.here, None));
                continue;
            };
            match kind {
                SuctionKind::Slab => {
                    pit(desk, &name, point);
                    cored(desk, &name, point, run, "slab");
                }
                SuctionKind::DrainLoop => drain_loop(desk, &name, point, run),
                SuctionKind::BlockWall => block_wall(desk, &name, point, run),
                SuctionKind::Membrane | SuctionKind::Sump | SuctionKind::Crawlspace => {
                    sealed(desk, &name, point, run, 1, Answer::Unknown(Vec::new()));
                }
                SuctionKind::Collector | SuctionKind::Outdoors => {
                    if !point.hole.is_missing() {
                        cored(desk, &name, point, run, "slab");
                    }
                }
            }
            inlet(desk, &name, point, run);
            if point.detachable.known() == Some(&true) && *kind == SuctionKind::Sump {
                detachable(desk, &name, point, run);
            }
        }
    }
}

/// Counts what gathers soil gas under new floors.
pub(super) fn collectors(desk: &mut Desk<'_, '_>) {
    let areas: Vec<_> = desk.design.foundation.areas.things().collect();
    for (_, area) in areas {
        for (key, one) in area.collectors.things() {
            let name = spoken(key);
            let size = one.size.known().map_or("", |size| size.spelling());
            let part = match one.kind.known() {
                Some(CollectorKind::PerforatedPipe) => "pipe with holes",
                Some(CollectorKind::Mat) => "soil gas mat",
                Some(CollectorKind::Tee | CollectorKind::Box) => {
                    let part = if one.kind.known() == Some(&CollectorKind::Box) {
                        "box with openings"
                    } else {
                        "tee with open arms"
                    };
                    desk.add(Line::of(Group::Points, part, size).count(1, name, &one.here));
                    continue;
                }
                Some(CollectorKind::Channel) => continue,
                None => {
                    desk.lacks(Group::Points, format!("what {name} takes"), want(&one.kind, &one.here, None));
                    continue;
                }
            };
            let along = one.line.known().and_then(|line| line.length.known());
            match one.length.known().or(along) {
                Some(length) => {
                    let line = Line::of(Group::Points, part, size);
                    desk.add(line.length(&most(&length.number()), name, &one.here));
                }
                None => desk.lacks(
                    Group::Points,
                    format!("the {part} of {name}"),
                    want(&one.length, &one.here, None),
                ),
            }
        }
    }
}

/// What a pit holds, by its volume or by its width and depth.
fn volume_of(pit: &Pit) -> Option<Ratio> {
    if let Some(volume) = pit.volume.known() {
        return Some(most(&volume.number()));
    }
    let (width, depth) = (most(&pit.width.known()?.number()), most(&pit.depth.known()?.number()));
    let quarter = Number::pi().high().checked_div(&Ratio::from(4))?;
    Some(width.squared() * depth * quarter)
}

fn pit(desk: &mut Desk<'_, '_>, name: &str, point: &SuctionPoint) {
    if point.pit.is_none() {
        return;
    }
    let what = format!("the pit of {name}");
    let Some(pit) = point.pit.known() else {
        desk.lacks(Group::Points, what, want(&point.pit, &point.here, Some("volume")));
        return;
    };
    let Some(volume) = volume_of(pit) else {
        desk.lacks(Group::Points, what, want(&pit.volume, &pit.here, None));
        return;
    };
    let round = "as wide at its bottom as at its top, and round";
    let by_size = pit.volume.known().is_none();
    let mut dug =
        Line::of(Group::Points, "soil to dig out and carry off", "").volume(&volume, name, &pit.here);
    let bucket = usual::bucket();
    let whole = volume.checked_div(&bucket.value).and_then(|count| count.ceil().to_int());
    let mut carried = Line::of(Group::Points, "buckets for it", "")
        .count(u32::try_from(whole.unwrap_or(0)).unwrap_or(0), name, &pit.here)
        .assumes(bucket.said);
    if by_size {
        dug = dug.assumes(round);
        carried = carried.assumes(round);
    }
    desk.add(dug);
    desk.add(carried);
    if let Some(fill) = pit.filled_with.known() {
        desk.add(
            Line::of(Group::Points, fill.spelling(), "to fill the pit").volume(&volume, name, &pit.here),
        );
    }
}

/// The width of the hole of a point, or what is missing of it.
fn hole_of(point: &SuctionPoint) -> Answer<Ratio> {
    match point.hole.known() {
        Some(hole) => match hole.width.known() {
            Some(width) => Answer::known(most(&width.number())),
            None => Answer::Unknown(want(&hole.width, &hole.here, None)),
        },
        None => Answer::Unknown(want(&point.hole, &point.here, None)),
    }
}

fn cored(desk: &mut Desk<'_, '_>, name: &str, point: &SuctionPoint, run: Option<&Laid<'_>>, through: &str) {
    let size = match point.hole.known().and_then(|hole| hole.width.known()) {
        Some(width) => width.quantity.to_string(),
        None => {
            let Answer::Unknown(missing) = hole_of(point) else { return };
            desk.lacks(Group::Holes, format!("the size of the core hole of {name}"), missing);
            match run.and_then(|run| run.size) {
                Some(size) => format!("for {} pipe", size.spelling()),
                None => "for the pipe".to_owned(),
            }
        }
    };
    let here = point.hole.known().map_or(&point.here, |hole| &hole.here);
    desk.add(Line::of(Group::Holes, "core hole", format!("{size}, through {through}")).count(1, name, here));
    sealed(desk, name, point, run, 1, hole_of(point));
}

/// What closes the gap where the pipe comes to the point.
fn sealed(
    desk: &mut Desk<'_, '_>,
    name: &str,
    point: &SuctionPoint,
    run: Option<&Laid<'_>>,
    count: u32,
    hole: Answer<Ratio>,
) {
    if point.sealed_with.is_none() {
        return;
    }
    let own = point.hole.known().and_then(|hole| hole.closed_with.known());
    let Some(with) = point.sealed_with.known().or(own).copied() else {
        let missing = want(&point.sealed_with, &point.here, None);
        desk.lacks(Group::Sealing, format!("what closes the gap round {name}"), missing);
        return;
    };
    let Some(run) = run else {
        let why = "no run is said to end there".to_owned();
        let reason = Reason::NotComputable(why);
        let missing = Missing { entry: point.here.path.clone(), reason, at: Some(point.here.at) };
        desk.lacks(Group::Sealing, format!("what closes the gap round {name}"), vec![missing]);
        return;
    };
    let backer = point.hole.known().and_then(|hole| hole.backer.known()).copied();
    let of = Opening { what: name.to_owned(), here: &point.here, with };
    let hole = match hole {
        Answer::Unknown(missing) if missing.is_empty() => match hole_of(point) {
            // What goes through a sheet or a lid leaves no gap but the cut round the pipe.
            Answer::Unknown(_) => {
                return on_the_sheet(desk, of, run, count);
            }
            known => known,
        },
        other => other,
    };
    ring(desk, of, Ring { run, hole, backer, count });
}

/// What closes the cut round a pipe in a sheet or a lid.
fn on_the_sheet(desk: &mut Desk<'_, '_>, of: Opening<'_>, run: &Laid<'_>, count: u32) {
    use crate::design::model::membrane::ClosedBy;
    if matches!(of.with, ClosedBy::Boot | ClosedBy::Gasket) {
        return ring(desk, of, Ring { run, hole: Answer::Unknown(Vec::new()), backer: None, count });
    }
    let outside = crate::facts::fittings::outside_of(desk.facts, run.it);
    let what = format!("what closes the cut round {}", of.what);
    let Some(outside) = desk.or_lacks(Group::Sealing, what, outside) else { return };
    let round = outside.high() * Number::pi().high() * Ratio::from(i64::from(count));
    super::sealing::along(desk, of, &round);
}

fn drain_loop(desk: &mut Desk<'_, '_>, name: &str, point: &SuctionPoint, run: Option<&Laid<'_>>) {
    let drains = &desk.design.foundation.drain_loops;
    let its = point.drain_loop.known().and_then(|named| drains.thing(named.as_str()));
    let size = its.and_then(|drain| drain.size.known()).map_or("of the loop's size", |size| size.spelling());
    desk.add(
        Line::of(Group::Points, "tee or saddle to tie into the drain loop", size)
            .count(1, name, &point.here)
            .note("Water has to go on running through it."),
    );
    cored(desk, name, point, run, "slab");
}

fn block_wall(desk: &mut Desk<'_, '_>, name: &str, point: &SuctionPoint, run: Option<&Laid<'_>>) {
    let count = match point.holes.known() {
        Some(count) => count.0,
        None => {
            let missing = want(&point.holes, &point.here, None);
            desk.lacks(Group::Holes, format!("the holes in the wall of {name}"), missing);
            return;
        }
    };
    let size = run.and_then(|run| run.size);
    let size = match point.hole.known().and_then(|hole| hole.width.known()) {
        Some(width) => width.quantity.to_string(),
        None => size.map_or("for the pipe".to_owned(), |size| format!("for {} pipe", size.spelling())),
    };
    let line = Line::of(Group::Holes, "hole", format!("{size}, through block wall"));
    desk.add(line.count(count, name, &point.here));
    sealed(desk, name, point, run, count, hole_of(point));
    if count > 1 {
        let line = Line::of(Group::Points, "branch to a further hole in the wall", "")
            .count(count - 1, name, &point.here)
            .note("Its pipe and fittings are not drawn in the file and not counted: draw each as a run.");
        desk.add(line);
    }
}

/// What the pipe ends in.
fn inlet(desk: &mut Desk<'_, '_>, name: &str, point: &SuctionPoint, run: Option<&Laid<'_>>) {
    let own = point.inlet.known();
    let size = own.and_then(|inlet| inlet.size.known()).copied().or(run.and_then(|run| run.size));
    let size = size.map_or(String::new(), |size| size.spelling().to_owned());
    let length = point.perforated.known().or(own.and_then(|inlet| inlet.length.known()));
    if let Some(length) = length {
        let part = match own.and_then(|inlet| inlet.kind.known()) {
            Some(InletKind::Mat) => "soil gas mat",
            _ => "pipe with holes",
        };
        let line =
            Line::of(Group::Points, part, size.clone()).length(&most(&length.number()), name, &point.here);
        desk.add(line);
    }
    let part = match own.and_then(|inlet| inlet.kind.known()) {
        Some(InletKind::Tee) => "tee with open arms",
        Some(InletKind::Box) => "box with openings",
        _ => return,
    };
    desk.add(Line::of(Group::Points, part, size).count(1, name, &point.here));
}

/// The coupling by which a suction pipe comes off a lid, where the run does not state it among its fittings.
fn detachable(desk: &mut Desk<'_, '_>, name: &str, point: &SuctionPoint, run: Option<&Laid<'_>>) {
    let Some(run) = run.filter(|run| run.run.fittings.is_missing()) else { return };
    let line = Line::of(Group::Fittings, "flexible coupling", run.pipe())
        .count(1, name, &point.here)
        .note("With one at a sump the pipe comes off the lid.")
        .assumes("the pipe at a sump lid comes off by a flexible coupling");
    desk.add(line);
}
