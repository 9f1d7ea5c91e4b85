//! Facts of what is seen from a discharge: openings, neighbours' openings, intakes, chimneys, walls, walking
//! surfaces.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::openings::{IntakeKind, OpeningKind, SurfaceKind};
use crate::design::model::place::FromDischarge;

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, with_places, words};
use super::kinds::Kind;
use super::level;
use super::lies::{Lies, bounds_of, lies, point_of, says_height, says_where, top};
use super::obstacles;
use super::outlet;
use super::outlines::Bounds;
use super::places::{self, Along};
use super::statements::{Statement, settle};
use super::system::system_of;
use super::tape::{as_far_as_tapes_can_be, below_or_above, by_tape, level_by_tape, straight, want_tape};
use super::things::of;

/// The discharge from which a thing is seen.
pub(super) fn seen_from(ask: &Ask<'_>, it: Thing) -> Answer<Thing> {
    match ask.things().seen_from(it) {
        Some(discharge) => Answer::known(discharge),
        None => ask.cannot(it, "it is seen from no discharge"),
    }
}

/// # Meaning
/// The straight distance from the nearest edge of the outlet to the nearest point of a thing.
/// # Formula
/// As measured; or from the corners and the place of the outlet; or from the level distance and the drop:
/// `sqrt(level^2 + drop^2)`.
/// # Valid for
/// Things seen from a single discharge by tape, or whose corners are stated.
/// # Accuracy
/// The root of an exact square for exact lengths; a range where something is known only within bounds, or where two
/// statements differ.
/// # Source
/// Measured from the nearest edge of the outlet: ANSI/AARST CC-1000 9.1.1; elementary geometry.
/// # Errors
/// Unknown when no statement is complete; the first entry that is lacking is named.
/// # Example
/// 12 ft to the left, 0 ft out, top 5 ft below: 13 ft.
pub(super) fn clearance(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    ask.between("clearance", it, |ask| clear(ask, it))
}

fn clear(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    let found = statements_of(ask, it, &lies, outlet::distance, straight);
    let settled = settle_seen(ask, it, "straight distance", found, || want_tape(&lies, "straight"));
    as_far_as_tapes_can_be(&lies, settled, |tape| tape)
}

/// How a distance is worked out from an outlet to the place of a thing.
type Measured = fn(&mut Ask<'_>, Thing, &Bounds) -> Answer<Number>;

/// What a tape says of a distance; the last argument tells whether nothing else is stated.
type Taped<'d> = fn(&mut Ask<'d>, &'d FromDischarge, bool) -> Vec<Statement<'d>>;

/// Whatever is stated of a distance from the outlet: by the edges of a thing, by its place, by the tape.
pub(super) fn statements_of<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    lies: &Lies<'d>,
    measured: Measured,
    taped: Taped<'d>,
) -> Vec<Statement<'d>> {
    let mut found = Vec::new();
    if let Some(edges) = &lies.edges {
        if edges.on_plan() {
            found.push(ask.statement(edges.want(lies.here), |ask| {
                let bounds = bounds_of(ask, it, lies, edges);
                bounds.both(seen_from(ask, it)).then(|(bounds, from)| measured(ask, from, &bounds))
            }));
        } else {
            edges.look(ask, lies.here);
        }
    }
    if let Some(at) = lies.at {
        if at.known().is_some_and(says_where) {
            found.push(ask.statement(at.want(lies.here), |ask| {
                let point = point_of(ask, it, lies, at);
                point.both(seen_from(ask, it)).then(|(point, from)| measured(ask, from, &point))
            }));
        } else {
            let _ = ask.read(lies.here, at);
        }
    }
    match by_tape(ask, lies) {
        Answer::Known { value: Some(tape), .. } => found.extend(taped(ask, tape, found.is_empty())),
        Answer::Known { .. } => {}
        Answer::Unknown(missing) if !lies.from_discharge.is_missing() => {
            found.push(ask.statement(lies.from_discharge.want(lies.here), |_| Answer::Unknown(missing)));
        }
        Answer::Unknown(_) => {}
    }
    found
}

/// Statements of how something lies from the outlet, settled.
pub(super) fn settle_seen<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    what: &str,
    found: Vec<Statement<'d>>,
    none: impl FnOnce() -> Missing,
) -> Answer<Number> {
    let what = |ask: &Ask<'d>| format!("the {what} from the discharge to {}", ask.things().name(it));
    settle(ask, what, Dimension::LENGTH, found, none)
}

/// # Meaning
/// The length of a string drawn tight round whatever solid stands between, from the nearest edge of the outlet to
/// the nearest point of a thing.
/// # Formula
/// As measured; the straight distance where nothing solid is listed about the discharge and somebody looked for it at
/// least that far; the way round the only obstacle that is listed, by its corners, see `calc::geometry::around_to`.
/// # Valid for
/// Things for which it is measured, or where no obstacle is listed, or one that is drawn, and the list is complete.
/// # Accuracy
/// As the straight distance, or as measured; round an obstacle a range.
/// # Source
/// The measurement; elementary geometry.
/// # Errors
/// Unknown where obstacles are listed, or nobody said that there are none, and it is not measured.
/// # Example
/// `around: 13 ft`.
fn around(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    let want = want_tape(&lies, "around");
    let measured = by_tape(ask, &lies).then(|tape| match tape {
        Some(tape) => ask.quantity(&tape.here, &tape.around),
        None => Answer::missing(want.clone()),
    });
    if let Answer::Known { .. } = measured {
        return match ask.aside("what stands between", it, |ask| obstacles::goes_round_nothing(ask, it)) {
            Some(cannot) => cannot.unknown(),
            None => measured,
        };
    }
    let building = &ask.design().building;
    let straight = clearance(ask, it);
    if obstacles::none_between(ask, it, &straight) {
        return obstacles::looked_so_far(ask, straight, want);
    }
    if let Some(way) = obstacles::round_the_only_one(ask, it, &want) {
        return obstacles::looked_so_far(ask, way, want);
    }
    let none_listed = match ask.read(&building.here, &building.obstacles) {
        Answer::Known { value: None, .. } => return straight,
        Answer::Known { value: Some(list), .. } => list.items.is_empty() && building.obstacles.whole,
        Answer::Unknown(_) => building.obstacles.is_missing(),
    };
    if !none_listed {
        return Answer::missing(want);
    }
    obstacles::looked_so_far(ask, straight, want)
}

/// # Meaning
/// How far the outlet stands above the top of a thing; negative where the top is the higher.
/// # Formula
/// As measured; or the height of the outlet less that of the top.
/// # Valid for
/// Things whose top is measured from a single discharge, or whose height is stated.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when no statement is complete; in doubt when two differ.
/// # Example
/// An outlet at 24 ft and a top at 15 ft 4 in: 8 ft 8 in.
fn top_below(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    let mut found = Vec::new();
    let tape = by_tape(ask, &lies);
    if let Answer::Known { value: Some(tape), .. } = &tape {
        found.extend(below_or_above(ask, &tape.here, &tape.top_below, &tape.top_above));
    }
    let says_top = match &lies.edges {
        Some(edges) => edges.says_top(ask, &lies),
        None => {
            let place = lies.at.filter(|at| at.known().is_some_and(says_height));
            let _ = (ask.read(lies.here, lies.top), lies.at.map(|at| ask.read(lies.here, at)));
            let top = (!lies.top.is_missing()).then(|| lies.top.want(lies.here));
            top.or(place.map(|at| at.want(lies.here)))
        }
    };
    if let Some(want) = says_top {
        found.push(ask.statement(want, |ask| {
            let top = top(ask, it);
            height_of_outlet(ask, it).both(top).map(|(outlet, top)| &outlet - &top)
        }));
    }
    if let Answer::Unknown(missing) = tape
        && !lies.from_discharge.is_missing()
    {
        found.push(ask.statement(lies.from_discharge.want(lies.here), |_| Answer::Unknown(missing)));
    }
    let settled = settle_seen(ask, it, "drop", found, || want_tape(&lies, "top_below"));
    as_far_as_tapes_can_be(&lies, settled, |tape| tape.negate())
}

fn height_of_outlet(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    seen_from(ask, it).then(|from| places::coordinate(ask, from, Along::Up))
}

/// How high the outlet stands above the top of a wall that rises above the roof.
fn wall_top_below(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    of(
        ask,
        it,
        |things| &things.walls_above,
        |ask, wall| {
            let top = level::top_of_wall(ask, wall);
            height_of_outlet(ask, it).both(top).map(|(outlet, top)| &outlet - &top)
        },
    )
}

/// The level distance from the nearest edge of the outlet to a wall that rises above the roof: as measured, or by the
/// line of the wall.
fn wall_across(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let several = ask.things().discharges.len() > 1;
    of(
        ask,
        it,
        |things| &things.walls_above,
        |ask, wall| {
            let here = &wall.here;
            let want = wall.from_discharge.want(here);
            let stated = ask.statement(want.clone(), |ask| {
                let stated = ask.quantity(here, &wall.from_discharge);
                if several && !wall.from_discharge.is_missing() {
                    let why = "it does not say from which of several discharges".to_owned();
                    return Answer::missing(Missing { reason: Reason::NotComputable(why), ..want.clone() });
                }
                stated
            });
            let by_line = ask.told(wall.line.want(here), |ask| {
                seen_from(ask, it).then(|from| level::to_line(ask, from, here, &wall.line))
            });
            let found = std::iter::once(stated).chain(by_line).collect();
            settle_seen(ask, it, "level distance", found, || wall.from_discharge.want(here))
        },
    )
}

/// The level distance from the nearest edge of the outlet to a walking surface: by the tape, or by its place on the plan.
fn level_distance(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    let want = want_tape(&lies, "away");
    of(
        ask,
        it,
        |things| &things.walking_surfaces,
        |ask, surface| {
            let taped = ask.statement(want.clone(), |ask| {
                by_tape(ask, &lies).then(|tape| match tape.and_then(|tape| level_by_tape(ask, tape)) {
                    Some(level) => level.value,
                    None => Answer::missing(want.clone()),
                })
            });
            let by_plan = ask.told(surface.outline.want(&surface.here), |ask| {
                seen_from(ask, it).then(|from| level::to_surface(ask, from, it, surface))
            });
            let found = std::iter::once(taped).chain(by_plan).collect();
            settle_seen(ask, it, "level distance", found, || want.clone())
        },
    )
}

pub(super) const OPENING: Entries = &[
    "building.openings.*.kind",
    "building.openings.*.side",
    "building.openings.*.into",
    "building.openings.*.corners",
    "building.openings.*.width",
    "building.openings.*.height",
    "building.openings.*.at",
    "building.openings.*.at.**",
    "building.openings.*.top",
    "building.openings.*.top.**",
    "building.openings.*.bottom",
    "building.openings.*.bottom.**",
    "building.openings.*.from_discharge",
    "building.openings.*.from_discharge.**",
];
pub(super) const NEIGHBOUR: Entries = &[
    "building.neighbours.*.openings.*.kind",
    "building.neighbours.*.openings.*.side",
    "building.neighbours.*.openings.*.into",
    "building.neighbours.*.openings.*.corners",
    "building.neighbours.*.openings.*.width",
    "building.neighbours.*.openings.*.height",
    "building.neighbours.*.openings.*.at",
    "building.neighbours.*.openings.*.at.**",
    "building.neighbours.*.openings.*.top",
    "building.neighbours.*.openings.*.top.**",
    "building.neighbours.*.openings.*.bottom",
    "building.neighbours.*.openings.*.bottom.**",
    "building.neighbours.*.openings.*.from_discharge",
    "building.neighbours.*.openings.*.from_discharge.**",
];
pub(super) const INTAKE: Entries = &[
    "building.intakes.*.side",
    "building.intakes.*.corners",
    "building.intakes.*.width",
    "building.intakes.*.height",
    "building.intakes.*.at",
    "building.intakes.*.at.**",
    "building.intakes.*.top",
    "building.intakes.*.top.**",
    "building.intakes.*.bottom",
    "building.intakes.*.bottom.**",
    "building.intakes.*.from_discharge",
    "building.intakes.*.from_discharge.**",
];
const CHIMNEY: Entries = &[
    "building.chimneys.*.at",
    "building.chimneys.*.at.**",
    "building.chimneys.*.top",
    "building.chimneys.*.top.**",
    "building.chimneys.*.from_discharge",
    "building.chimneys.*.from_discharge.**",
];
pub(super) const SURFACE: Entries = &[
    "building.walking_surfaces.*.height",
    "building.walking_surfaces.*.height.**",
    "building.walking_surfaces.*.from_discharge",
    "building.walking_surfaces.*.from_discharge.**",
];
pub(super) const SURFACE_PLAN: Entries = &[
    "building.walking_surfaces.*.outline",
    "building.walking_surfaces.*.size",
    "building.walking_surfaces.*.at",
    "building.walking_surfaces.*.at.**",
    "building.walking_surfaces.*.from_discharge",
    "building.walking_surfaces.*.from_discharge.**",
];
pub(super) const WALL: Entries = &[
    "building.roof.walls_above.*.height",
    "building.roof.walls_above.*.line",
    "building.roof.walls_above.*.line.points",
    "building.roof.walls_above.*.top",
    "building.roof.walls_above.*.top.**",
];
pub(super) const WALL_PLAN: Entries = &[
    "building.roof.walls_above.*.from_discharge",
    "building.roof.walls_above.*.line",
    "building.roof.walls_above.*.line.points",
];
/// What stands between is looked at where something is listed.
const OBSTACLES: Entries = &[
    "building.obstacles",
    "building.obstacles.*.outline",
    "building.obstacles.*.line",
    "building.obstacles.*.line.points",
    "building.obstacles.*.corners",
    "building.obstacles.*.top",
    "building.obstacles.*.top.**",
    "building.obstacles.*.bottom",
    "building.obstacles.*.bottom.**",
    "building.obstacles.*.from_discharge",
    "building.obstacles.*.from_discharge.**",
    "looked_for.obstacles",
    "looked_for.obstacles.within",
    "looked_for.obstacles.not_seen",
];

/// A distance to what is seen from a discharge.
pub(super) const fn distance(
    of: Kind,
    name: &'static str,
    meaning: &'static str,
    formula: &'static str,
    needs: &'static [Entries],
    get: fn(&mut Ask<'_>, Thing) -> Answer<Number>,
) -> Fact {
    let source = "from the nearest edge of the outlet: ANSI/AARST CC-1000 9.1.1; elementary geometry";
    Fact { of, name, meaning, formula, source, needs, get: Get::Number(Dimension::LENGTH, get) }
}

const CLEARANCE: &str = "as measured; or from corners and the outlet's place; or the root of level distance squared and drop squared";
const AROUND: &str = "as measured; the straight distance where nothing solid stands between; or round the one obstacle that is drawn";
const DROP: &str = "as measured, or the height of the outlet less that of the top";

const fn discharge_of(of: Kind) -> Fact {
    Fact::stated(
        of,
        "discharge",
        "The discharge from which it is seen.",
        &[],
        Get::One(Kind::Discharge, |ask, it| seen_from(ask, it)),
    )
}

const fn system_seen(of: Kind) -> Fact {
    Fact::stated(
        of,
        "system",
        "The system whose discharge it is seen from.",
        &[],
        Get::One(Kind::System, system_of),
    )
}

/// Facts of openings.
pub(super) const OPENINGS: &[Fact] = &[
    discharge_of(Kind::Opening),
    system_seen(Kind::Opening),
    Fact::stated(
        Kind::Opening,
        "kind",
        "What the opening is.",
        &[&["building.openings.*.kind"]],
        Get::Word(words::<OpeningKind>, |ask, it| {
            of(ask, it, |things| &things.openings, |ask, o| ask.stated_word(&o.here, &o.kind))
        }),
    ),
    Fact::stated(
        Kind::Opening,
        "opens",
        "Whether the opening can be opened, or is always open.",
        &[&["building.openings.*.opens"]],
        Get::Truth(|ask, it| {
            of(ask, it, |things| &things.openings, |ask, o| ask.yes_or_no(&o.here, &o.opens))
        }),
    ),
    Fact::stated(
        Kind::Opening,
        "into",
        "The space the opening leads into.",
        &[&["building.openings.*.into"]],
        Get::One(Kind::Space, |ask, it| {
            of(
                ask,
                it,
                |things| &things.openings,
                |ask, o| {
                    let want = o.into.want(&o.here);
                    ask.value(&o.here, &o.into).then(|name| ask.space_called(want, name.as_str()))
                },
            )
        }),
    ),
    distance(
        Kind::Opening,
        "clearance",
        "The straight distance from the nearest edge of the outlet to the nearest point of the opening.",
        CLEARANCE,
        with_places![OPENING, outlet::FACING],
        clearance,
    ),
    distance(
        Kind::Opening,
        "around",
        "The length of a string drawn tight round whatever stands between, from the outlet to the opening.",
        AROUND,
        with_places![OPENING, OBSTACLES, outlet::FACING],
        around,
    ),
    distance(
        Kind::Opening,
        "top_below_discharge",
        "How far the outlet stands above the top of the opening; negative where the top is the higher.",
        DROP,
        with_places![OPENING],
        top_below,
    ),
];

/// Facts of neighbours' openings, intakes and chimneys.
pub(super) const OTHERS: &[Fact] = &[
    discharge_of(Kind::NeighbourOpening),
    system_seen(Kind::NeighbourOpening),
    Fact::stated(
        Kind::NeighbourOpening,
        "kind",
        "What the neighbour's opening is.",
        &[&["building.neighbours.*.openings.*.kind"]],
        Get::Word(words::<OpeningKind>, |ask, it| {
            of(ask, it, |things| &things.neighbour_openings, |ask, o| ask.stated_word(&o.here, &o.kind))
        }),
    ),
    Fact::stated(
        Kind::NeighbourOpening,
        "opens",
        "Whether the neighbour's opening can be opened, or is always open.",
        &[&["building.neighbours.*.openings.*.opens"]],
        Get::Truth(|ask, it| {
            of(ask, it, |things| &things.neighbour_openings, |ask, o| ask.yes_or_no(&o.here, &o.opens))
        }),
    ),
    distance(
        Kind::NeighbourOpening,
        "clearance",
        "The straight distance from the nearest edge of the outlet to the nearest point of the neighbour's opening.",
        CLEARANCE,
        with_places![NEIGHBOUR, outlet::FACING],
        clearance,
    ),
    distance(
        Kind::NeighbourOpening,
        "around",
        "The length of a string drawn tight round whatever stands between, from the outlet to the neighbour's opening.",
        AROUND,
        with_places![NEIGHBOUR, OBSTACLES, outlet::FACING],
        around,
    ),
    distance(
        Kind::NeighbourOpening,
        "top_below_discharge",
        "How far the outlet stands above the top of the neighbour's opening; negative where the top is the higher.",
        DROP,
        with_places![NEIGHBOUR],
        top_below,
    ),
    discharge_of(Kind::Intake),
    system_seen(Kind::Intake),
    Fact::stated(
        Kind::Intake,
        "kind",
        "What the intake brings air to.",
        &[&["building.intakes.*.kind"]],
        Get::Word(words::<IntakeKind>, |ask, it| {
            of(ask, it, |things| &things.intakes, |ask, i| ask.stated_word(&i.here, &i.kind))
        }),
    ),
    distance(
        Kind::Intake,
        "clearance",
        "The straight distance from the nearest edge of the outlet to the nearest point of the intake.",
        CLEARANCE,
        with_places![INTAKE, outlet::FACING],
        clearance,
    ),
    distance(
        Kind::Intake,
        "top_below_discharge",
        "How far the outlet stands above the top of the intake; negative where the top is the higher.",
        DROP,
        with_places![INTAKE],
        top_below,
    ),
    discharge_of(Kind::Chimney),
    system_seen(Kind::Chimney),
    distance(
        Kind::Chimney,
        "clearance",
        "The straight distance from the nearest edge of the outlet to the nearest point of the chimney, by tape.",
        CLEARANCE,
        with_places![CHIMNEY, outlet::FACING],
        clearance,
    ),
    distance(
        Kind::Chimney,
        "top_below_discharge",
        "How far the outlet stands above the top of the chimney; negative where the top is the higher.",
        DROP,
        with_places![CHIMNEY],
        top_below,
    ),
    discharge_of(Kind::WallAboveRoof),
    system_seen(Kind::WallAboveRoof),
    distance(
        Kind::WallAboveRoof,
        "across",
        "The level distance from the nearest edge of the outlet to the wall.",
        "as measured",
        with_places![WALL_PLAN, outlet::FACING],
        wall_across,
    ),
    distance(
        Kind::WallAboveRoof,
        "top_below_discharge",
        "How far the outlet stands above the top of the wall; negative where the wall is the higher.",
        "the height of the outlet less that of the top",
        with_places![WALL],
        wall_top_below,
    ),
    discharge_of(Kind::WalkingSurface),
    system_seen(Kind::WalkingSurface),
    Fact::stated(
        Kind::WalkingSurface,
        "kind",
        "What people stand on.",
        &[&["building.walking_surfaces.*.kind"]],
        Get::Word(words::<SurfaceKind>, |ask, it| {
            of(ask, it, |things| &things.walking_surfaces, |ask, s| ask.stated_word(&s.here, &s.kind))
        }),
    ),
    Fact::stated(
        Kind::WalkingSurface,
        "walled_sides",
        "On how many of its sides walls or parapets stand.",
        &[&["building.walking_surfaces.*.walled_sides"]],
        Get::Number(Dimension::ONE, |ask, it| {
            let sides =
                of(ask, it, |things| &things.walking_surfaces, |ask, s| ask.value(&s.here, &s.walled_sides));
            sides.map(|sides| Number::whole(i64::from(sides.0)))
        }),
    ),
    distance(
        Kind::WalkingSurface,
        "across",
        "The level distance from the nearest edge of the outlet to the walking surface, by tape.",
        "as measured, or along the wall and out from it",
        with_places![SURFACE_PLAN, outlet::FACING],
        level_distance,
    ),
    distance(
        Kind::WalkingSurface,
        "top_below_discharge",
        "How far the outlet stands above the walking surface; negative where that is the higher.",
        DROP,
        with_places![SURFACE],
        top_below,
    ),
];
