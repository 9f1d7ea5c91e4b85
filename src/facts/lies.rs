//! Where something lies that is seen from a discharge: what is written of it, and the box that its edges make.
//!
//! The edges of an opening may be given by its corners, or by its middle with its width and height, or by the heights of
//! its top and bottom. Each edge is settled by itself, so that what does not agree is told of the edge that it is about.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::building::Space;
use crate::design::model::openings::{Intake, Opening, OpeningKind};
use crate::design::model::place::{FromDischarge, Level, Place, Side};
use crate::yaml::entry::{Entry, Here, ListOf};
use crate::yaml::measure::{Length, Measure};
use crate::yaml::name::NameOf;
use crate::yaml::shape;

use super::ask::Ask;
use super::heights::{self, Near};
use super::join::agree;
use super::kinds::Kind;
use super::outlines::{self, Bounds};
use super::places::{self, Along};
use super::statements::{Statement, settle};
use super::things::kind_of;

/// What is written of where something lies that is seen from a discharge.
#[derive(Clone, Copy)]
pub(super) struct Lies<'d> {
    /// Where it is written.
    pub(super) here: &'d Here,
    /// How it lies by tape.
    pub(super) from_discharge: &'d Entry<FromDischarge>,
    /// The height of its top.
    pub(super) top: &'d Entry<Level>,
    /// The place of its top, where that is a point.
    pub(super) at: Option<&'d Entry<Place>>,
    /// What else is written of its edges, where it has any.
    pub(super) edges: Option<Edges<'d>>,
}

/// What is written of the edges of an opening or intake.
#[derive(Clone, Copy)]
pub(super) struct Edges<'d> {
    corners: &'d Entry<ListOf<shape::Point>>,
    at: &'d Entry<Place>,
    width: &'d Entry<Measure<Length>>,
    height: &'d Entry<Measure<Length>>,
    bottom: &'d Entry<Level>,
    side: &'d Entry<Side>,
    kind: Option<&'d Entry<OpeningKind>>,
    into: Option<&'d Entry<NameOf<Space>>>,
}

/// What is written of where a thing lies.
pub(super) fn lies<'d>(ask: &Ask<'d>, it: Thing) -> Option<Lies<'d>> {
    let at = it.number as usize;
    let things = ask.things();
    match kind_of(it)? {
        Kind::Opening => things.openings.get(at).map(|member| of_opening(member.it)),
        Kind::NeighbourOpening => things.neighbour_openings.get(at).map(|member| of_opening(member.it)),
        Kind::Intake => things.intakes.get(at).map(|member| of_intake(member.it)),
        Kind::Chimney => things.chimneys.get(at).map(|member| member.it).map(|chimney| Lies {
            here: &chimney.here,
            from_discharge: &chimney.from_discharge,
            top: &chimney.top,
            at: Some(&chimney.at),
            edges: None,
        }),
        Kind::WalkingSurface => things.walking_surfaces.get(at).map(|member| member.it).map(|surface| Lies {
            here: &surface.here,
            from_discharge: &surface.from_discharge,
            top: &surface.height,
            at: None,
            edges: None,
        }),
        _ => None,
    }
}

fn of_opening(opening: &Opening) -> Lies<'_> {
    Lies {
        here: &opening.here,
        from_discharge: &opening.from_discharge,
        top: &opening.top,
        at: None,
        edges: Some(Edges {
            corners: &opening.corners,
            at: &opening.at,
            width: &opening.width,
            height: &opening.height,
            bottom: &opening.bottom,
            side: &opening.side,
            kind: Some(&opening.kind),
            into: Some(&opening.into),
        }),
    }
}

fn of_intake(intake: &Intake) -> Lies<'_> {
    Lies {
        here: &intake.here,
        from_discharge: &intake.from_discharge,
        top: &intake.top,
        at: None,
        edges: Some(Edges {
            corners: &intake.corners,
            at: &intake.at,
            width: &intake.width,
            height: &intake.height,
            bottom: &intake.bottom,
            side: &intake.side,
            kind: None,
            into: None,
        }),
    }
}

impl<'d> Edges<'d> {
    /// Looks at what might say where the edges are, and does not.
    pub(super) fn look(&self, ask: &mut Ask<'d>, here: &'d Here) {
        let _ = (ask.read(here, self.corners), ask.read(here, self.at));
    }

    /// The entry that says how high the top is, if any does.
    pub(super) fn says_top(&self, ask: &mut Ask<'d>, lies: &Lies<'d>) -> Option<Missing> {
        self.look(ask, lies.here);
        let _ = (ask.read(lies.here, lies.top), ask.read(lies.here, self.bottom));
        if !self.corners.is_missing() {
            return Some(self.corners.want(lies.here));
        }
        if !lies.top.is_missing() {
            return Some(lies.top.want(lies.here));
        }
        if !self.bottom.is_missing() && !self.height.is_missing() && self.upright() {
            return Some(self.bottom.want(lies.here));
        }
        self.at.known().is_some_and(says_height).then(|| self.at.want(lies.here))
    }

    /// Whether something is written of where its edges are on the plan.
    pub(super) fn on_plan(&self) -> bool {
        let place = self.at.known();
        !self.corners.is_missing()
            || place.is_some_and(says_where)
            || (place.is_none() && !self.at.is_missing())
    }

    /// The entry that says where the edges are: the corners, or else the middle.
    pub(super) fn want(&self, here: &Here) -> Missing {
        if self.corners.is_missing() && !self.at.is_missing() {
            self.at.want(here)
        } else {
            self.corners.want(here)
        }
    }
}

/// Whether a place says where on the plan it is, and not only how high.
pub(super) fn says_where(place: &Place) -> bool {
    let level = [&place.north, &place.south, &place.east, &place.west];
    let along_a_wall = |tape: &FromDischarge| {
        !tape.out.is_missing() && (!tape.left.is_missing() || !tape.right.is_missing())
    };
    !place.point.is_missing()
        || !place.plan.is_missing()
        || !place.from_walls.is_missing()
        || level.into_iter().any(|way| !way.is_missing())
        || place.from_discharge.known().is_some_and(along_a_wall)
}

/// The box that the edges of something make.
pub(super) fn bounds_of<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    lies: &Lies<'d>,
    edges: &Edges<'d>,
) -> Answer<Bounds> {
    let mut ends = Vec::new();
    for high in [false, true] {
        for along in [Along::East, Along::North, Along::Up] {
            ends.push(edge(ask, it, lies, edges, along, high));
        }
    }
    let want = edges.want(lies.here);
    Answer::all(ends).then(|ends| {
        let ends: Vec<(Ratio, Ratio)> = ends.iter().map(Number::bounds).collect();
        match <[(Ratio, Ratio); 6]>::try_from(ends) {
            Ok([x0, y0, z0, x1, y1, z1]) => Answer::known(Bounds { low: [x0, y0, z0], high: [x1, y1, z1] }),
            Err(_) => Answer::missing(want),
        }
    })
}

/// The height of the top of a thing.
pub(super) fn top(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    if let Some(edges) = &lies.edges {
        return edge(ask, it, &lies, edges, Along::Up, true);
    }
    let stated = ask.statement(lies.top.want(lies.here), |ask| {
        heights::level_near(ask, lies.here, lies.top, &Near::default())
    });
    let by_place = lies.at.filter(|at| at.known().is_some_and(says_height)).map(|at| {
        ask.statement(at.want(lies.here), |ask| places::middle(ask, it, lies.here, at, None, Along::Up))
    });
    let found = if lies.top.is_missing() && by_place.is_some() {
        by_place.into_iter().collect()
    } else {
        std::iter::once(stated).chain(by_place).collect()
    };
    let what = |ask: &Ask<'_>| format!("the height of the top of {}", ask.things().name(it));
    settle(ask, what, Dimension::LENGTH, found, || lies.top.want(lies.here))
}

/// The point that is the top of something, as a box without width.
pub(super) fn point_of<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    lies: &Lies<'d>,
    at: &'d Entry<Place>,
) -> Answer<Bounds> {
    let east = places::middle(ask, it, lies.here, at, None, Along::East);
    let north = places::middle(ask, it, lies.here, at, None, Along::North);
    east.both(north).both(top(ask, it)).map(|((x, y), z)| {
        let ends = [x.bounds(), y.bounds(), z.bounds()];
        Bounds { low: ends.clone(), high: ends }
    })
}

/// What an edge is called.
fn called(along: Along, high: bool) -> &'static str {
    match (along, high) {
        (Along::East, true) => "place of the east edge",
        (Along::East, false) => "place of the west edge",
        (Along::North, true) => "place of the north edge",
        (Along::North, false) => "place of the south edge",
        (Along::Up, true) => "height of the top",
        (Along::Up, false) => "height of the bottom",
    }
}

/// The coordinate of one edge: by the corners, by the middle with width and height, and for top and bottom as stated.
pub(super) fn edge<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    lies: &Lies<'d>,
    edges: &Edges<'d>,
    along: Along,
    high: bool,
) -> Answer<Number> {
    let here = lies.here;
    let mut found = Vec::new();
    if edges.corners.is_missing() {
        let _ = ask.read(here, edges.corners);
    } else {
        found.push(ask.statement(edges.corners.want(here), |ask| {
            let bounds = outlines::bounds(ask, here, edges.corners);
            ask.is_number(None, outlines::slack(edges.corners));
            bounds.map(|bounds| end_of(&bounds, along, high))
        }));
    }
    if along == Along::Up {
        found.extend(heights_of(ask, lies, edges, high));
    }
    if edges.at.is_missing() {
        let _ = ask.read(here, edges.at);
    } else if along != Along::Up || edges.at.known().is_none_or(says_height) {
        let by_middle =
            ask.statement(edges.at.want(here), |ask| from_middle(ask, it, lies, edges, along, high));
        // Where something else tells, a middle without its width and height is no more than a note.
        if found.is_empty() || matches!(by_middle.value, Answer::Known { .. }) {
            found.push(by_middle);
        }
    }
    let what = |ask: &Ask<'d>| format!("the {} of {}", called(along, high), ask.things().name(it));
    let none = || if along == Along::Up && high { lies.top.want(here) } else { edges.want(here) };
    settle(ask, what, Dimension::LENGTH, found, none)
}

fn end_of(bounds: &Bounds, along: Along, high: bool) -> Number {
    let [x, y, z] = if high { &bounds.high } else { &bounds.low };
    let (low, high) = match along {
        Along::East => x,
        Along::North => y,
        Along::Up => z,
    };
    Number::between(low.clone(), high.clone())
}

/// Whether a place says how high it is.
pub(super) fn says_height(place: &Place) -> bool {
    !place.point.is_missing()
        || !place.z.is_missing()
        || !place.above_ground.is_missing()
        || !place.above_floor.is_missing()
        || !place.above_roof.is_missing()
        || !place.above_roof_edge.is_missing()
        || !place.below_roof_edge.is_missing()
        || place
            .from_discharge
            .known()
            .is_some_and(|tape| !tape.top_below.is_missing() || !tape.top_above.is_missing())
        || !place.up.is_missing()
        || !place.down.is_missing()
}

/// What is stated of the top or of the bottom, with the height between them.
fn heights_of<'d>(ask: &mut Ask<'d>, lies: &Lies<'d>, edges: &Edges<'d>, high: bool) -> Vec<Statement<'d>> {
    let here = lies.here;
    let (own, other) = if high { (lies.top, edges.bottom) } else { (edges.bottom, lies.top) };
    let mut found = Vec::new();
    if own.is_missing() {
        let _ = ask.read(here, own);
    } else {
        found.push(ask.statement(own.want(here), |ask| level(ask, here, edges, own)));
    }
    if !other.is_missing() && !edges.height.is_missing() && edges.upright() {
        found.push(ask.statement(other.want(here), |ask| {
            let other = level(ask, here, edges, other);
            other
                .both(ask.quantity(here, edges.height))
                .map(|(other, height)| if high { &other + &height } else { &other - &height })
        }));
    }
    found
}

impl Edges<'_> {
    /// Whether it may stand upright, so that its height is one from bottom to top.
    fn upright(&self) -> bool {
        self.kind.is_none_or(|kind| kind.known() != Some(&OpeningKind::Skylight))
    }
}

/// A height of an opening, above the floor of the space it leads into where it says so.
fn level<'d>(
    ask: &mut Ask<'d>,
    here: &'d Here,
    edges: &Edges<'d>,
    entry: &'d Entry<Level>,
) -> Answer<Number> {
    let near = Near { plan: None, side: edges.side.known().copied() };
    let _ = ask.read(here, edges.side);
    heights::level_in(ask, here, entry, &near, |ask| match edges.into {
        Some(into) => {
            let want = into.want(here);
            let space = ask.value(here, into).then(|name| ask.space_called(want, name.as_str()));
            space.then(|space| heights::floor_of(ask, space))
        }
        None => {
            let why = "it is in no space whose floor could be meant".to_owned();
            Answer::missing(Missing { reason: Reason::NotComputable(why), ..entry.want(here) })
        }
    })
}

/// An edge by the middle: half the width or the height farther along.
fn from_middle<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    lies: &Lies<'d>,
    edges: &Edges<'d>,
    along: Along,
    high: bool,
) -> Answer<Number> {
    let here = lies.here;
    let middle = places::middle(ask, it, here, edges.at, edges.into, along);
    let wide = stands_in_a_wall(ask, here, edges).then(|side| {
        let entry = match (along, side) {
            (Along::Up, _) => edges.height,
            (Along::East, Side::North | Side::South) | (Along::North, Side::East | Side::West) => edges.width,
            // Across the wall it is no thicker than the wall's face.
            _ => return Answer::known(Number::whole(0)),
        };
        let half = Number::exact(Ratio::new(1, 2).unwrap_or_default());
        ask.quantity(here, entry).map(|wide| &wide * &half)
    });
    middle.both(wide).map(|(middle, half)| if high { &middle + &half } else { &middle - &half })
}

/// The side of the building in whose wall an opening stands upright. Of one that may lie in the roof, width and height
/// do not tell where its edges are.
fn stands_in_a_wall<'d>(ask: &mut Ask<'d>, here: &'d Here, edges: &Edges<'d>) -> Answer<Side> {
    let upright = match edges.kind {
        None => Answer::known(()),
        Some(kind) => ask.value(here, kind).then(|word| match word {
            OpeningKind::Skylight | OpeningKind::AtticVent | OpeningKind::Hatch => {
                let why = "what may lie in the roof has its edges by its corners or by tape".to_owned();
                Answer::missing(Missing { reason: Reason::NotComputable(why), ..edges.corners.want(here) })
            }
            _ => Answer::known(()),
        }),
    };
    let own = ask.value(here, edges.side).map(|side| *side);
    let of_place = match edges.at.known() {
        Some(place) => ask.value(&place.here, &place.side).map(|side| *side),
        None => Answer::missing(edges.side.want(here)),
    };
    upright.both(agree(own, of_place, &[edges.side.want(here)])).map(|((), side)| side)
}

/// Settles the width and height of an opening with what its corners say of them, where nothing else is said of its
/// edges.
pub(super) fn settle_sizes<'d>(ask: &mut Ask<'d>, it: Thing) {
    let Some(lies) = lies(ask, it) else { return };
    let Some(edges) = lies.edges else { return };
    let here = lies.here;
    if edges.corners.is_missing() || !edges.at.is_missing() {
        return;
    }
    let span = |ask: &mut Ask<'d>, along: Along| {
        let bounds = outlines::bounds(ask, here, edges.corners);
        bounds.map(|bounds| &end_of(&bounds, along, true) - &end_of(&bounds, along, false))
    };
    let off = &outlines::slack(edges.corners) * &Ratio::from(2);
    if !edges.width.is_missing() {
        let stated = ask.statement(edges.width.want(here), |ask| ask.quantity(here, edges.width));
        let spanned = ask.statement(edges.corners.want(here), |ask| {
            let both = span(ask, Along::East).both(span(ask, Along::North));
            ask.is_number(None, off.clone());
            both.then(|(east, north)| match (&east.squared() + &north.squared()).sqrt() {
                Some(wide) => Answer::known(wide),
                None => Answer::missing(edges.corners.want(here)),
            })
        });
        let what = |ask: &Ask<'d>| format!("the width of {}", ask.things().name(it));
        let _ = settle(ask, what, Dimension::LENGTH, vec![stated, spanned], || edges.width.want(here));
    }
    let nothing_else = lies.top.is_missing() && edges.bottom.is_missing();
    if !edges.height.is_missing() && nothing_else && edges.upright() {
        let stated = ask.statement(edges.height.want(here), |ask| ask.quantity(here, edges.height));
        let spanned = ask.statement(edges.corners.want(here), |ask| {
            let high = span(ask, Along::Up);
            ask.is_number(None, off.clone());
            high
        });
        let what = |ask: &Ask<'d>| format!("the height of {} from bottom to top", ask.things().name(it));
        let _ = settle(ask, what, Dimension::LENGTH, vec![stated, spanned], || edges.height.want(here));
    }
}
