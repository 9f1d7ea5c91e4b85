//! The walls round an area or a space: how far things stand off them, and where the next one is.

use crate::base::number::Number;
use crate::base::value::{Answer, Missing, Reason};
use crate::calc::geometry::{Heading, Outline, PlanPoint, ways_out};
use crate::design::model::foundation::Area;
use crate::design::model::place::FromWalls;
use crate::yaml::entry::{Entry, Here};
use crate::yaml::shape::Size;

use super::ask::Ask;
use super::heights;
use super::outlines;
use super::places::Along;
use super::statements::{Statement, half_of};
use super::things::{Member, SpaceMember};

/// The area of this name, or the one over which the space of this name lies.
pub(super) fn area_called<'d>(ask: &mut Ask<'d>, name: &str, want: Missing) -> Answer<&'d Area> {
    let areas = &ask.things().areas;
    let by_name = areas.iter().find(|area| area.name == name);
    let by_space =
        || areas.iter().find(|area| area.it.space.known().is_some_and(|space| space.as_str() == name));
    match by_name.or_else(by_space).map(|area| area.it) {
        Some(area) => Answer::known(area),
        None => Answer::missing(Missing {
            reason: Reason::NotComputable("no area lies there".to_owned()),
            ..want
        }),
    }
}

/// The areas over which a space lies: those that name it, and the one of its name that names no other.
pub(super) fn areas_under<'t, 'd>(ask: &'t Ask<'d>, space: &str) -> Vec<&'t Member<'d, Area>> {
    let under = |area: &&Member<'d, Area>| match area.it.space.known() {
        Some(own) => own.as_str() == space,
        None => area.it.space.is_missing() && area.name == space,
    };
    ask.things().areas.iter().filter(under).collect()
}

/// The only area of this name or under the space of this name; nothing where it cannot be told which is meant.
pub(super) fn only_area<'d>(ask: &Ask<'d>, name: &str) -> Option<Member<'d, Area>> {
    let under = areas_under(ask, name);
    let named = ask.things().areas.iter().find(|area| area.name == name);
    match (named, under.as_slice()) {
        (Some(area), [] | [_]) => Some(*area),
        (None, [only]) => Some(**only),
        _ => None,
    }
}

/// The outline of an area inside its walls, as stated or from its size and its corner.
pub(super) fn outline_of<'d>(ask: &mut Ask<'d>, area: &'d Area) -> Answer<Outline> {
    let here = &area.here;
    if !area.outline.is_missing() {
        let outline = outlines::outline(ask, here, &area.outline);
        ask.is_number(None, outlines::slack_in_plan(&area.outline));
        return outline;
    }
    let corner = ask
        .value(here, &area.corner)
        .then(|corner| ask.quantity(&corner.here, &corner.x).both(ask.quantity(&corner.here, &corner.y)));
    corner.both(size_of(ask, area)).then(|((x, y), size)| {
        let made = x
            .as_exact()
            .zip(y.as_exact())
            .and_then(|(x, y)| outline_at(&PlanPoint::new(x.clone(), y.clone()), size));
        match made {
            Some(outline) => Answer::known(outline),
            None => Answer::missing(Missing { reason: Reason::Imprecise, ..area.corner.want(here) }),
        }
    })
}

/// The size of an area.
pub(super) fn size_of<'d>(ask: &mut Ask<'d>, area: &'d Area) -> Answer<&'d Size> {
    let size = ask.value(&area.here, &area.size);
    ask.is_number(None, area.size.known().map(slack_of).unwrap_or_default());
    size
}

/// The outline of a size with its south-west corner at a place.
pub(super) fn outline_at(corner: &PlanPoint, size: &Size) -> Option<Outline> {
    match size {
        Size::Rectangle(sides) => {
            Outline::rectangle(corner, sides.first.number.as_exact()?, sides.second.number.as_exact()?)
        }
        Size::L(first, second) => Outline::ell(
            corner,
            (first.first.number.as_exact()?, first.second.number.as_exact()?),
            (second.first.number.as_exact()?, second.second.number.as_exact()?),
        ),
    }
    .ok()
}

/// How closely a size is written: half the last fraction of the coarsest of its sides.
fn slack_of(size: &Size) -> crate::base::number::Ratio {
    let of = |sides: &crate::base::number::quantity::Size| {
        half_of(sides.first.step()).max(half_of(sides.second.step()))
    };
    match size {
        Size::Rectangle(sides) => of(sides),
        Size::L(first, second) => of(first).max(of(second)),
    }
}

/// How far an outline reaches along an axis, from its least to its greatest coordinate.
pub(super) fn reach_of(outline: &Outline, along: Along) -> Option<(Number, Number)> {
    let of = |corner: &PlanPoint| if along == Along::East { corner.x.clone() } else { corner.y.clone() };
    let low = outline.corners().iter().map(of).min()?;
    let high = outline.corners().iter().map(of).max()?;
    Some((Number::exact(low), Number::exact(high)))
}

/// The stretch of an area along an axis, between its walls. A rectangle need be known only along that axis.
pub(super) fn between_walls<'d>(ask: &mut Ask<'d>, area: &'d Area, along: Along) -> Answer<(Number, Number)> {
    let here = &area.here;
    let rectangle = match area.size.known() {
        Some(Size::Rectangle(sides)) if area.outline.is_missing() => Some(sides),
        None if area.outline.is_missing() => {
            let corner = ask.value(here, &area.corner).map(|_| ());
            return corner.both(ask.value(here, &area.size)).then(|_| Answer::missing(area.size.want(here)));
        }
        _ => None,
    };
    let Some(sides) = rectangle else {
        return outline_of(ask, area).then(|outline| match reach_of(&outline, along) {
            Some(reach) => Answer::known(reach),
            None => Answer::missing(area.outline.want(here)),
        });
    };
    let corner = ask.value(here, &area.corner).then(|corner| {
        let entry = if along == Along::East { &corner.x } else { &corner.y };
        ask.quantity(&corner.here, entry)
    });
    let _ = ask.read(here, &area.size);
    let side = if along == Along::East { &sides.first } else { &sides.second };
    ask.is_number(Some(&side.style), half_of(side.step()));
    corner.map(|low| (low.clone(), &low + &side.number))
}

/// What distances off walls say of one coordinate.
pub(super) fn off_walls<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<FromWalls>,
    along: Along,
    area: Answer<&'d Area>,
) -> Vec<Statement<'d>> {
    off_walls_by(ask, of, entry, along, |ask| area.clone().then(|area| between_walls(ask, area, along)))
}

/// The same, by the stretch between the walls along that axis.
pub(super) fn off_walls_by<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<FromWalls>,
    along: Along,
    stretch: impl Fn(&mut Ask<'d>) -> Answer<(Number, Number)>,
) -> Vec<Statement<'d>> {
    let Some(walls) = ask.read(of, entry).value().flatten() else { return Vec::new() };
    let (low_side, high_side) = match along {
        Along::East => (&walls.west, &walls.east),
        Along::North => (&walls.south, &walls.north),
        Along::Up => return Vec::new(),
    };
    let low = |ask: &mut Ask<'d>| stretch(ask).map(|(low, _)| low);
    let high = |ask: &mut Ask<'d>| stretch(ask).map(|(_, high)| high);
    let low = heights::counted(ask, &walls.here, low_side, low, true);
    let high = heights::counted(ask, &walls.here, high_side, high, false);
    low.into_iter().chain(high).collect()
}

/// A level way that ends at a wall.
pub(super) struct Toward<'d> {
    /// Which way it goes.
    pub(super) heading: Heading,
    /// Where it begins, along that way.
    pub(super) from: fn(&mut Ask<'d>, crate::base::vocabulary::Thing) -> Answer<Number>,
    /// How far it lies to the side, across that way.
    pub(super) across: fn(&mut Ask<'d>, crate::base::vocabulary::Thing) -> Answer<Number>,
    /// What it is the way of.
    pub(super) it: crate::base::vocabulary::Thing,
}

impl Toward<'_> {
    fn along(&self) -> Along {
        match self.heading {
            Heading::East | Heading::West => Along::East,
            Heading::North | Heading::South => Along::North,
        }
    }

    fn rising(&self) -> bool {
        matches!(self.heading, Heading::East | Heading::North)
    }
}

/// The coordinate of the wall of a space or area at which a level way ends: by the outline of the space, or that of
/// the only area under it.
pub(super) fn wall_that_way<'d>(
    ask: &mut Ask<'d>,
    name: &str,
    toward: &Toward<'d>,
    want: &Missing,
) -> Vec<Statement<'d>> {
    let space = ask.things().space_named(name).and_then(|space| ask.things().space(space));
    let mut found = Vec::new();
    let mut lacks = want.clone();
    match space {
        Some(SpaceMember::Outdoors) => {
            let reason = Reason::NotComputable("the open air has no walls".to_owned());
            let none = Missing { reason, ..want.clone() };
            return vec![ask.statement(want.clone(), |_| Answer::missing(none))];
        }
        Some(SpaceMember::Named(_, space)) => {
            lacks = space.outline.want(&space.here);
            if !space.outline.is_missing() {
                found.push(ask.statement(lacks.clone(), |ask| {
                    let outline = outlines::outline(ask, &space.here, &space.outline);
                    ask.is_number(None, outlines::slack_in_plan(&space.outline));
                    outline.then(|outline| first_out(ask, &outline, toward, want))
                }));
            } else {
                let _ = ask.read(&space.here, &space.outline);
            }
        }
        None => {}
    }
    let Some(area) = only_area(ask, name).map(|area| area.it) else {
        if found.is_empty() {
            found.push(ask.statement(want.clone(), |_| Answer::missing(lacks)));
        }
        return found;
    };
    let wall =
        if area.outline.is_missing() { area.size.want(&area.here) } else { area.outline.want(&area.here) };
    let tells = !area.outline.is_missing() || !area.size.is_missing();
    if tells || found.is_empty() {
        found.push(ask.statement(wall, |ask| {
            if matches!(area.size.known(), Some(Size::L(..))) || !area.outline.is_missing() {
                return outline_of(ask, area).then(|outline| first_out(ask, &outline, toward, want));
            }
            between_walls(ask, area, toward.along())
                .map(|(low, high)| if toward.rising() { high } else { low })
        }));
    }
    found
}

/// The first place at which a way comes out of an outline, from where it begins on.
fn first_out<'d>(
    ask: &mut Ask<'d>,
    outline: &Outline,
    toward: &Toward<'d>,
    want: &Missing,
) -> Answer<Number> {
    let cannot = |why: &str| {
        Answer::missing(Missing { reason: Reason::NotComputable(why.to_owned()), ..want.clone() })
    };
    if let Some(only) = all_that_way(outline, toward) {
        return Answer::known(Number::exact(only));
    }
    let across = (toward.across)(ask, toward.it);
    across.then(|across| {
        let Some(exact) = across.as_exact() else { return cannot("several walls stand that way") };
        let out = ways_out(outline, toward.heading, exact);
        match out.as_slice() {
            [] => cannot("no wall stands that way"),
            [only] => Answer::known(Number::exact(only.clone())),
            several => (toward.from)(ask, toward.it).then(|from| {
                let beyond = |end: crate::base::number::Ratio| {
                    several.iter().find(|wall| if toward.rising() { **wall >= end } else { **wall <= end })
                };
                match (beyond(from.low()), beyond(from.high())) {
                    (Some(a), Some(b)) if a == b => Answer::known(Number::exact(a.clone())),
                    (None, None) => cannot("no wall stands that way"),
                    _ => cannot("several walls stand that way"),
                }
            }),
        }
    })
}

/// The wall of a rectangle that way, which is the same wherever one stands.
fn all_that_way(outline: &Outline, toward: &Toward<'_>) -> Option<crate::base::number::Ratio> {
    let ((west, east), (south, north)) = (reach_of(outline, Along::East)?, reach_of(outline, Along::North)?);
    let whole = (&east - &west).as_exact()? * (&north - &south).as_exact()?;
    let wall = match toward.heading {
        Heading::East => east,
        Heading::West => west,
        Heading::North => north,
        Heading::South => south,
    };
    (outline.area() == whole).then(|| wall.as_exact().cloned()).flatten()
}
