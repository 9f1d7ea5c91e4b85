//! Where somebody who walks round a house stands to look at a thing. It orders the form for the walk and decides nothing.

use crate::base::value::{Answer, EntryPath};
use crate::base::vocabulary::{Answers, Thing};
use crate::design::model::building::{Space, SpaceKind};

use super::ask::Ask;
use super::kinds::{KINDS, Kind};
use super::labelling::labels_on;
use super::runs;
use super::things::{SpaceMember, kind_of, thing};

/// A place at which one stands on the walk, in the order in which one comes there.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Stand {
    /// At the electrical panel.
    Panel,
    /// In a room: which sort of room, its place in the file, its name.
    In(Room, usize, String),
    /// In every room, one after the other.
    Throughout,
    /// Outside, on the ground.
    Outside,
    /// On the roof, or looking at it.
    Roof,
    /// At the table: what is read off papers and tests.
    Papers,
    /// What has no one place.
    Nowhere,
}

/// A sort of room, in the order in which one comes there: from the bottom of the house to its top.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Room {
    /// A basement.
    Basement,
    /// A crawlspace.
    Crawlspace,
    /// A closet, a garage, any other room.
    Other,
    /// An attic.
    Attic,
}

/// How far one thing may lead to another.
const FARTHEST: u8 = 6;

/// Where one stands to look at a thing.
#[must_use]
pub fn stand(ask: &mut Ask<'_>, it: Thing) -> Stand {
    stand_from(ask, it, FARTHEST)
}

/// Where one stands to look at what an entry speaks of: the innermost thing that it belongs to and that has a place.
#[must_use]
pub fn stand_of_entry(ask: &mut Ask<'_>, entry: &EntryPath) -> Stand {
    let mut steps = entry.as_str().split('.');
    match steps.next().unwrap_or("") {
        "papers" | "radon_tests" | "rounds" | "job" => return Stand::Papers,
        "start_up" => {
            let systems = ask.things().all(Kind::System).into_iter();
            return systems.map(|it| stand(ask, it)).min().unwrap_or(Stand::Papers);
        }
        "looked_for" => {
            return match steps.next().unwrap_or("") {
                "openings" | "intakes" | "chimneys" | "neighbours" | "walking_surfaces" | "obstacles"
                | "walls_above" => Stand::Outside,
                "areas" | "footings" | "walls" | "drains" | "sumps" | "joints" => lowest(ask),
                _ => Stand::Throughout,
            };
        }
        _ => {}
    }
    let mut around: Vec<(usize, Thing)> = Vec::new();
    for (kind, ..) in KINDS {
        for it in ask.things().all(*kind) {
            let Some(path) = ask.entry_of(it) else { continue };
            let rest = entry.as_str().strip_prefix(path.as_str());
            if !path.as_str().is_empty() && rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
            {
                around.push((path.as_str().len(), it));
            }
        }
    }
    around.sort_by_key(|(length, _)| std::cmp::Reverse(*length));
    let found = around.into_iter().map(|(_, it)| stand(ask, it)).find(|stand| *stand != Stand::Nowhere);
    found.unwrap_or(match entry.as_str().split('.').next() {
        Some("building" | "diagnostics") => Stand::Throughout,
        _ => Stand::Nowhere,
    })
}

/// Where one stands to look whether there are more of a kind.
#[must_use]
pub fn stand_of_kind(ask: &Ask<'_>, kind: &str) -> Stand {
    match KINDS.iter().find(|(_, name, _)| *name == kind) {
        Some((kind, ..)) => listed(ask, *kind),
        None => Stand::Nowhere,
    }
}

fn listed(ask: &Ask<'_>, kind: Kind) -> Stand {
    match kind {
        Kind::Circuit => Stand::Panel,
        Kind::Appliance | Kind::AirMover | Kind::Space | Kind::Passage => Stand::Throughout,
        Kind::Area
        | Kind::Wall
        | Kind::Sump
        | Kind::Drain
        | Kind::Joint
        | Kind::Duct
        | Kind::Collector
        | Kind::SuctionPoint
        | Kind::TestHole => lowest(ask),
        kind => by_kind(kind).unwrap_or(Stand::Nowhere),
    }
}

/// The room that lies lowest: where one looks for what is in the ground.
fn lowest(ask: &Ask<'_>) -> Stand {
    let rooms = ask.things().all(Kind::Space).into_iter().map(|it| room(ask, it));
    let below = |stand: &Stand| matches!(stand, Stand::In(Room::Basement | Room::Crawlspace, ..));
    rooms.filter(below).min().unwrap_or(Stand::Nowhere)
}

/// Things that are looked at from outside or read off a paper, whatever is written of them.
fn by_kind(kind: Kind) -> Option<Stand> {
    match kind {
        Kind::Opening | Kind::NeighbourOpening | Kind::Intake | Kind::WalkingSurface | Kind::Ground => {
            Some(Stand::Outside)
        }
        Kind::Chimney | Kind::WallAboveRoof => Some(Stand::Roof),
        Kind::Papers | Kind::Paper | Kind::Test | Kind::Round | Kind::Look | Kind::CurvePiece => {
            Some(Stand::Papers)
        }
        _ => None,
    }
}

fn stand_from(ask: &mut Ask<'_>, it: Thing, left: u8) -> Stand {
    let (Some(kind), Some(left)) = (kind_of(it), left.checked_sub(1)) else { return Stand::Nowhere };
    if let Some(stand) = by_kind(kind) {
        return stand;
    }
    match kind {
        Kind::Circuit => Stand::Panel,
        Kind::Space => room(ask, it),
        Kind::Discharge => match ask.truth(it, "through_roof") {
            Answer::Known { value: false, .. } => Stand::Outside,
            _ => Stand::Roof,
        },
        Kind::Penetration if is_of_roof(ask, it) => Stand::Roof,
        Kind::Run => {
            let spaces = ask.several(it, "spaces");
            let Answer::Known { value, .. } = spaces else { return Stand::Nowhere };
            let stands = value.items.into_iter().map(|space| stand_from(ask, space, left));
            stands.min().unwrap_or(Stand::Nowhere)
        }
        // Where one looks at what tells that it draws, else at its fan, else at where it draws.
        Kind::System => {
            for fact in ["gauges", "fans", "suction_points"] {
                let Answer::Known { value, .. } = ask.several(it, fact) else { continue };
                let stands = value.items.into_iter().map(|one| stand_from(ask, one, left));
                if let Some(stand) = stands.filter(|stand| *stand != Stand::Nowhere).min() {
                    return stand;
                }
            }
            Stand::Nowhere
        }
        Kind::Level => {
            // At the label, else where the pipe passes that storey.
            let labels = labels_on(ask, it).1.into_iter().map(|label| stand_from(ask, label, left));
            if let Some(stand) = labels.filter(|stand| *stand != Stand::Nowhere).min() {
                return stand;
            }
            let storey = ask.number(it, "story").value();
            let mut rooms = rooms_of_pipe(ask, it);
            rooms.retain(|room| storey.is_some() && ask.number(*room, "story").value() == storey);
            rooms.into_iter().map(|room| stand_from(ask, room, left)).min().unwrap_or(Stand::Throughout)
        }
        Kind::SumpPump => stand_from(ask, thing(Kind::Sump, it.number), left),
        Kind::Passage => {
            let entry = ask.entry_of(it);
            let own = ask.design().passages().find(|one| Some(one.path) == entry.as_ref());
            let between = own.and_then(|one| one.thing.between.known());
            let names = between.into_iter().flat_map(|names| names.members()).map(|name| name.as_str());
            let rooms: Vec<Thing> = names.filter_map(|name| ask.things().space_named(name)).collect();
            rooms.into_iter().map(|room| stand_from(ask, room, left)).min().unwrap_or(Stand::Nowhere)
        }
        _ => {
            for fact in ["in", "area", "fan", "run"] {
                if has(ask, kind, fact)
                    && let Answer::Known { value: to, .. } = ask.one(it, fact)
                    && to != it
                {
                    return stand_from(ask, to, left);
                }
            }
            Stand::Nowhere
        }
    }
}

/// The rooms that pipe of the system of a level passes.
fn rooms_of_pipe(ask: &Ask<'_>, level: Thing) -> Vec<Thing> {
    let Some(level) = ask.things().levels.get(level.number as usize).copied() else { return Vec::new() };
    let runs = runs::of_system(ask, level.system).into_iter();
    let names: Vec<_> = runs.flat_map(|run| run.it.through.members()).collect();
    names.into_iter().filter_map(|name| ask.things().space_named(name.as_str())).collect()
}

/// Whether things of a kind can be asked for a fact.
fn has(ask: &Ask<'_>, kind: Kind, fact: &str) -> bool {
    ask.vocabulary().find_fact(kind.id(), fact).is_some()
}

fn is_of_roof(ask: &mut Ask<'_>, it: Thing) -> bool {
    let entry = ask.entry_of(it);
    entry.is_some_and(|entry| entry.as_str().rsplit('.').next() == Some("roof"))
}

fn room(ask: &Ask<'_>, it: Thing) -> Stand {
    match ask.things().space(it) {
        Some(SpaceMember::Named(name, space)) => {
            Stand::In(sort_of(name, space), it.number as usize, name.to_owned())
        }
        Some(SpaceMember::Outdoors) => Stand::Outside,
        None => Stand::Nowhere,
    }
}

/// Which sort of room a space is: as stated, else as its name has it.
fn sort_of(name: &str, space: &Space) -> Room {
    match space.kind.known() {
        Some(SpaceKind::Basement) => Room::Basement,
        Some(SpaceKind::Crawlspace) => Room::Crawlspace,
        Some(SpaceKind::Attic) => Room::Attic,
        Some(_) => Room::Other,
        None if name.contains("crawl") => Room::Crawlspace,
        None if name.contains("attic") => Room::Attic,
        None if name.contains("basement") || name.contains("cellar") => Room::Basement,
        None => match space.below_grade.known() {
            Some(true) => Room::Basement,
            _ => Room::Other,
        },
    }
}
