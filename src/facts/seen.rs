//! Facts of what is seen from a discharge: openings, neighbours' openings, intakes, chimneys, walls, walking
//! surfaces.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::design::model::openings::{IntakeKind, OpeningKind, SurfaceKind};
use crate::design::model::place::{FromDischarge, Level};
use crate::yaml::entry::{Entry, Here, ListOf};
use crate::yaml::measure::{Height, Measure};
use crate::yaml::shape;

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, words};
use super::contradictions::impossible::Impossible;
use super::contradictions::tape;
use super::heights::{self, Near};
use super::kinds::Kind;
use super::looked;
use super::outlet::{self, OUTLET};
use super::outlines::{self, Bounds};
use super::places::{self, Along};
use super::statements::{Statement, half_step, settle};
use super::system::system_of;
use super::things::{kind_of, of};

/// What is written of where something lies that is seen from a discharge.
#[derive(Clone, Copy)]
struct Lies<'d> {
    here: &'d Here,
    corners: Option<&'d Entry<ListOf<shape::Point>>>,
    from_discharge: &'d Entry<FromDischarge>,
    top: &'d Entry<Level>,
}

fn lies<'d>(ask: &Ask<'d>, it: Thing) -> Option<Lies<'d>> {
    let at = it.number as usize;
    let things = ask.things();
    match kind_of(it)? {
        Kind::Opening => things.openings.get(at).map(|member| member.it).map(of_opening),
        Kind::NeighbourOpening => things.neighbour_openings.get(at).map(|member| member.it).map(of_opening),
        Kind::Intake => things.intakes.get(at).map(|member| member.it).map(|intake| Lies {
            here: &intake.here,
            corners: Some(&intake.corners),
            from_discharge: &intake.from_discharge,
            top: &intake.top,
        }),
        Kind::Chimney => things.chimneys.get(at).map(|member| member.it).map(|chimney| Lies {
            here: &chimney.here,
            corners: None,
            from_discharge: &chimney.from_discharge,
            top: &chimney.top,
        }),
        Kind::WalkingSurface => things.walking_surfaces.get(at).map(|member| member.it).map(|surface| Lies {
            here: &surface.here,
            corners: None,
            from_discharge: &surface.from_discharge,
            top: &surface.height,
        }),
        _ => None,
    }
}

fn of_opening(opening: &crate::design::model::openings::Opening) -> Lies<'_> {
    Lies {
        here: &opening.here,
        corners: Some(&opening.corners),
        from_discharge: &opening.from_discharge,
        top: &opening.top,
    }
}

/// The discharge from which a thing is seen.
fn seen_from(ask: &Ask<'_>, it: Thing) -> Answer<Thing> {
    match ask.things().seen_from(it) {
        Some(discharge) => Answer::known(discharge),
        None => ask.cannot(it, "it is seen from no discharge"),
    }
}

/// What the tape says from the discharge; it must be clear from which.
fn by_tape<'d>(ask: &mut Ask<'d>, lies: &Lies<'d>) -> Answer<Option<&'d FromDischarge>> {
    let want = lies.from_discharge.want(lies.here);
    let several = ask.things().discharges.len() > 1;
    ask.read(lies.here, lies.from_discharge).then(|tape| match tape {
        Some(_) if several => {
            let why = "it does not say from which of several discharges".to_owned();
            Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
        }
        tape => Answer::known(tape),
    })
}

/// What a person would measure: one of the distances from the discharge.
fn want_tape(lies: &Lies<'_>, key: &str) -> Missing {
    match lies.from_discharge.known() {
        Some(tape) => {
            Missing { entry: tape.here.path.key(key), reason: Reason::NotStated, at: Some(tape.here.at) }
        }
        None => {
            let want = lies.from_discharge.want(lies.here);
            Missing { entry: want.entry.key(key), ..want }
        }
    }
}

/// A height below or above: the one, or the other with its sign turned.
fn below_or_above<'d>(
    ask: &mut Ask<'d>,
    here: &'d Here,
    below: &'d Entry<Measure<Height>>,
    above: &'d Entry<Measure<Height>>,
) -> Option<Statement<'d>> {
    let mut found = Vec::new();
    for (entry, turn) in [(below, false), (above, true)] {
        let stated = ask.statement(entry.want(here), |ask| {
            let stated = ask.quantity(here, entry);
            if turn { stated.map(|number| number.negate()) } else { stated }
        });
        if !entry.is_missing() {
            found.push(stated);
        }
    }
    let want = found.first()?.want.clone();
    if found.len() < 2 {
        return found.pop();
    }
    let by = found.iter().flat_map(|one| one.by.clone()).collect();
    let what = |_: &Ask<'d>| format!("a height from the discharge ({})", want.entry);
    let value = settle(ask, what, Dimension::LENGTH, found, || want.clone());
    Some(Statement { value, want, by, own_slack: None })
}

/// How far the nearest point of a thing lies above or below the outlet, by the tape.
fn drop_by_tape<'d>(ask: &mut Ask<'d>, tape: &'d FromDischarge) -> Answer<Number> {
    let here = &tape.here;
    let bottom = below_or_above(ask, here, &tape.bottom_below, &tape.bottom_above);
    let Some(top) = below_or_above(ask, here, &tape.top_below, &tape.top_above) else {
        return match bottom.map(|bottom| bottom.value) {
            Some(Answer::Known { value, doubts }) if value.high().is_negative() => {
                Answer::Known { value: value.negate(), doubts }
            }
            _ => Answer::missing(tape.top_below.want(here)),
        };
    };
    top.value.then(|top| {
        if !top.low().is_negative() {
            return Answer::known(top);
        }
        let zero = Number::whole(0);
        match bottom {
            Some(bottom) => bottom.value.map(|bottom| {
                let parts = [zero, top, bottom.negate()];
                Number::greatest(&parts).unwrap_or_else(|| Number::whole(0))
            }),
            None => {
                let most = top.negate().high().max(Ratio::ZERO);
                let doubts = vec![tape.bottom_below.want(here)];
                Answer::Known { value: Number::between(Ratio::ZERO, most), doubts }
            }
        }
    })
}

/// The level distance, by the tape: whatever way it lies, or along the wall and out from it.
fn level_by_tape<'d>(ask: &mut Ask<'d>, tape: &'d FromDischarge) -> Option<Statement<'d>> {
    let here = &tape.here;
    if !tape.away.is_missing() {
        return Some(ask.statement(tape.away.want(here), |ask| ask.quantity(here, &tape.away)));
    }
    let _ = ask.read(here, &tape.away);
    let entry = match (tape.left.is_missing(), tape.right.is_missing()) {
        (true, true) => {
            let _ = (ask.quantity(here, &tape.left), ask.quantity(here, &tape.right));
            return None;
        }
        (true, false) => &tape.right,
        _ => &tape.left,
    };
    Some(ask.statement(entry.want(here), |ask| {
        let sideways = ask.quantity(here, entry);
        let out = ask.quantity(here, &tape.out);
        sideways.both(out).then(|(sideways, out)| match (&sideways.squared() + &out.squared()).sqrt() {
            Some(level) => Answer::known(level),
            None => Answer::missing(entry.want(here)),
        })
    }))
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
fn clearance(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    let mut found = Vec::new();
    if let Some(corners) = lies.corners
        && !corners.is_missing()
    {
        found.push(ask.statement(corners.want(lies.here), |ask| {
            let bounds = corner_bounds(ask, &lies, corners);
            bounds.both(seen_from(ask, it)).then(|(bounds, from)| outlet::distance(ask, from, &bounds))
        }));
    } else if let Some(corners) = lies.corners {
        let _ = ask.read(lies.here, corners);
    }
    match by_tape(ask, &lies) {
        Answer::Known { value: Some(tape), .. } => found.extend(straight(ask, tape, found.is_empty())),
        Answer::Known { .. } => {}
        Answer::Unknown(missing) if !lies.from_discharge.is_missing() => {
            found.push(ask.statement(lies.from_discharge.want(lies.here), |_| Answer::Unknown(missing)));
        }
        Answer::Unknown(_) => {}
    }
    let settled = settle_seen(ask, it, "straight distance", found, || want_tape(&lies, "straight"));
    as_far_as_tapes_can_be(&lies, settled, |tape| tape)
}

/// Where a tape cannot span what it has to, a distance lies anywhere from what the tape says to what it had to span.
/// A drop is between so much above and so much below.
fn as_far_as_tapes_can_be(
    lies: &Lies<'_>,
    settled: Answer<Number>,
    at_least: impl FnOnce(Number) -> Number,
) -> Answer<Number> {
    let Some(tape) = lies.from_discharge.known() else { return settled };
    let Some(cannot) = tape::from_discharge("", tape).into_iter().next() else { return settled };
    let lengths = [
        tape.straight.known().map(|one| one.number()),
        tape.around.known().map(|one| one.number()),
        tape.left.known().map(|one| one.number()),
        tape.right.known().map(|one| one.number()),
        tape.out.known().map(|one| one.number()),
        tape.away.known().map(|one| one.number()),
        tape.top_below.known().map(|one| one.number().abs()),
        tape.bottom_above.known().map(|one| one.number().abs()),
    ];
    let lengths: Vec<Number> = lengths.into_iter().flatten().collect();
    let (Some(least), Some(most)) = (Number::least(&lengths), Number::greatest(&lengths)) else {
        return settled;
    };
    match settled {
        Answer::Known { value, doubts } => {
            let value = value.hull(&at_least(least)).hull(&most);
            Answer::Known { value, doubts: unite(doubts, cannot.doubts()) }
        }
        unknown => unknown,
    }
}

/// Statements of how something lies from the outlet, settled.
fn settle_seen<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    what: &str,
    found: Vec<Statement<'d>>,
    none: impl FnOnce() -> Missing,
) -> Answer<Number> {
    let what = |ask: &Ask<'d>| format!("the {what} from the discharge to {}", ask.things().name(it));
    settle(ask, what, Dimension::LENGTH, found, none)
}

/// The box around the corners of a thing, noted as a number that a statement is made of.
fn corner_bounds<'d>(
    ask: &mut Ask<'d>,
    lies: &Lies<'d>,
    corners: &'d Entry<ListOf<shape::Point>>,
) -> Answer<Bounds> {
    let bounds = outlines::bounds(ask, lies.here, corners);
    ask.is_number(None, &outlines::slack(corners) * &Ratio::from(2));
    bounds
}

/// The straight distance, by the tape: measured, or from the level distance and the drop. The latter is told as
/// lacking something only where nothing else tells.
fn straight<'d>(ask: &mut Ask<'d>, tape: &'d FromDischarge, alone: bool) -> Vec<Statement<'d>> {
    let here = &tape.here;
    let mut found = Vec::new();
    let measured = ask.statement(tape.straight.want(here), |ask| ask.quantity(here, &tape.straight));
    if !tape.straight.is_missing() {
        found.push(measured);
    }
    if let Some(level) = level_by_tape(ask, tape) {
        let drop = ask.statement(tape.top_below.want(here), |ask| drop_by_tape(ask, tape));
        let want = level.want.clone();
        let value = level.value.clone().both(drop.value).then(|(level, drop)| {
            match (&level.squared() + &drop.squared()).sqrt() {
                Some(straight) => Answer::known(straight),
                None => Answer::missing(want.clone()),
            }
        });
        let tells = matches!(value, Answer::Known { .. });
        if tells || (alone && found.is_empty()) {
            let mut by = level.by;
            by.extend(drop.by);
            found.push(Statement { value, want, by, own_slack: None });
        }
    }
    found
}

/// # Meaning
/// The length of a string drawn tight round whatever solid stands between, from the nearest edge of the outlet to
/// the nearest point of a thing.
/// # Formula
/// As measured; the straight distance where nothing solid is listed about the discharge and somebody looked for it at
/// least that far.
/// # Valid for
/// Things for which it is measured, or where no obstacle is listed and the list is complete.
/// # Accuracy
/// As the straight distance, or as measured.
/// # Source
/// The measurement.
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
        return match ask.aside("what stands between", it, |ask| goes_round_nothing(ask, it)) {
            Some(cannot) => cannot.unknown(),
            None => measured,
        };
    }
    let building = &ask.design().building;
    let straight = clearance(ask, it);
    let none_listed = match ask.read(&building.here, &building.obstacles) {
        Answer::Known { value: None, .. } => return straight,
        Answer::Known { value: Some(list), .. } => list.items.is_empty() && building.obstacles.whole,
        Answer::Unknown(_) => building.obstacles.is_missing(),
    };
    if !none_listed {
        return Answer::missing(want);
    }
    // What stands between is no farther off than the thing itself.
    let far = straight.clone().value().unwrap_or_else(|| Number::whole(0));
    match looked::as_far_as(ask, &far, |looked_for| &looked_for.obstacles) {
        Answer::Known { .. } => straight,
        Answer::Unknown(why) if why.iter().any(|it| matches!(it.reason, Reason::LookedOnly(_))) => {
            Answer::Unknown(why)
        }
        Answer::Unknown(_) => Answer::missing(want),
    }
}

/// What is wrong with a tape drawn round something that is longer than the straight one, where everything that stands
/// about the discharge was looked for and there is nothing.
pub(super) fn goes_round_nothing(ask: &mut Ask<'_>, it: Thing) -> Option<Impossible> {
    let tape = lies(ask, it)?.from_discharge.known()?;
    let around = tape.around.known()?.number();
    let straight = clearance(ask, it).value()?;
    let slack = &half_step(&tape.around) + &half_step(&tape.straight);
    if &straight.high() + &slack >= around.low() {
        return None;
    }
    let building = &ask.design().building;
    let roof = building.roof.known();
    let others = building.chimneys.things().count()
        + roof.map_or(0, |roof| roof.walls_above.things().count() + roof.parapets.things().count());
    let nothing = building.obstacles.things().next().is_none() && building.obstacles.whole && others == 0;
    let looked = building.obstacles.is_none()
        || looked::as_far_as(ask, &straight, |looked_for| &looked_for.obstacles).value().is_some();
    if !(nothing && looked) {
        return None;
    }
    let name = ask.things().name(it);
    let obstacles = if building.obstacles.is_none() {
        building.obstacles.want(&building.here)
    } else {
        let looked_for = &ask.design().looked_for;
        looked_for.obstacles.want(&looked_for.here)
    };
    let what = format!("The tape to {name} goes round something, and nothing is said to stand between");
    let todo = "List what stands between under building, obstacles (the ridge or a corner of the house itself counts \
                as well), or take `around` out: with nothing between, the straight distance counts";
    Some(
        Impossible::new(what, todo)
            .at(tape.around.want(&tape.here), "longer than the straight distance")
            .at(obstacles, "nothing was found to stand there"),
    )
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
    if let Some(corners) = lies.corners
        && !corners.is_missing()
    {
        found.push(ask.statement(corners.want(lies.here), |ask| {
            let top = corner_bounds(ask, &lies, corners).map(|bounds| top_of(&bounds));
            height_of_outlet(ask, it).both(top).map(|(outlet, top)| &outlet - &top)
        }));
    }
    if !lies.top.is_missing() {
        found.push(ask.statement(lies.top.want(lies.here), |ask| {
            let top = heights::level_near(ask, lies.here, lies.top, &Near::default());
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

/// The height of the top of what has these corners.
pub(super) fn top_of_corners<'d>(
    ask: &mut Ask<'d>,
    here: &'d Here,
    corners: &'d Entry<ListOf<shape::Point>>,
) -> Answer<Number> {
    let bounds = outlines::bounds(ask, here, corners);
    ask.is_number(None, outlines::slack(corners));
    bounds.map(|bounds| top_of(&bounds))
}

fn top_of(bounds: &Bounds) -> Number {
    let [_, _, (low, high)] = &bounds.high;
    Number::between(low.clone(), high.clone())
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
            let top = heights::level_near(ask, &wall.here, &wall.top, &Near::default());
            height_of_outlet(ask, it).both(top).map(|(outlet, top)| &outlet - &top)
        },
    )
}

/// The level distance from the nearest edge of the outlet to a wall that rises above the roof.
fn wall_across(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let several = ask.things().discharges.len() > 1;
    of(
        ask,
        it,
        |things| &things.walls_above,
        |ask, wall| {
            let stated = ask.quantity(&wall.here, &wall.from_discharge);
            if several && !wall.from_discharge.is_missing() {
                let why = "it does not say from which of several discharges".to_owned();
                let want = wall.from_discharge.want(&wall.here);
                return Answer::missing(Missing { reason: Reason::NotComputable(why), ..want });
            }
            stated
        },
    )
}

fn level_distance(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let Some(lies) = lies(ask, it) else { return ask.cannot(it, "its place is not worked out") };
    let want = want_tape(&lies, "away");
    by_tape(ask, &lies).then(|tape| match tape.and_then(|tape| level_by_tape(ask, tape)) {
        Some(level) => level.value,
        None => Answer::missing(want),
    })
}

const TAPE: Entries = &["building.openings.*.from_discharge", "building.openings.*.from_discharge.**"];
const CORNERS: Entries = &["building.openings.*.corners", "building.openings.*.corners.**"];
const TOP: Entries = &["building.openings.*.top", "building.openings.*.top.**"];
const NEIGHBOUR: Entries = &["building.neighbours.*.openings.**"];
const INTAKE: Entries = &["building.intakes.**"];
const CHIMNEY: Entries = &["building.chimneys.**"];
const SURFACE: Entries = &["building.walking_surfaces.**"];
const WALL: Entries = &["building.roof.walls_above.**"];
const OBSTACLES: Entries = &[
    "building.obstacles",
    "looked_for.obstacles",
    "looked_for.obstacles.within",
    "looked_for.obstacles.not_seen",
];
const RUNS_TO: Entries = &["systems.*.runs.*.to"];

/// A distance to what is seen from a discharge.
const fn distance(
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
const AROUND: &str = "as measured, or the straight distance where nothing solid stands between";
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
        &[TAPE, CORNERS, OUTLET, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        clearance,
    ),
    distance(
        Kind::Opening,
        "around",
        "The length of a string drawn tight round whatever stands between, from the outlet to the opening.",
        AROUND,
        &[TAPE, CORNERS, OBSTACLES, OUTLET, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        around,
    ),
    distance(
        Kind::Opening,
        "top_below_discharge",
        "How far the outlet stands above the top of the opening; negative where the top is the higher.",
        DROP,
        &[TAPE, CORNERS, TOP, RUNS_TO, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
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
        &[NEIGHBOUR, OUTLET, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        clearance,
    ),
    distance(
        Kind::NeighbourOpening,
        "around",
        "The length of a string drawn tight round whatever stands between, from the outlet to the neighbour's opening.",
        AROUND,
        &[NEIGHBOUR, OBSTACLES, OUTLET, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        around,
    ),
    distance(
        Kind::NeighbourOpening,
        "top_below_discharge",
        "How far the outlet stands above the top of the neighbour's opening; negative where the top is the higher.",
        DROP,
        &[NEIGHBOUR, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
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
        &[INTAKE, OUTLET, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        clearance,
    ),
    distance(
        Kind::Intake,
        "top_below_discharge",
        "How far the outlet stands above the top of the intake; negative where the top is the higher.",
        DROP,
        &[INTAKE, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        top_below,
    ),
    discharge_of(Kind::Chimney),
    system_seen(Kind::Chimney),
    distance(
        Kind::Chimney,
        "clearance",
        "The straight distance from the nearest edge of the outlet to the nearest point of the chimney, by tape.",
        CLEARANCE,
        &[CHIMNEY],
        clearance,
    ),
    distance(
        Kind::Chimney,
        "top_below_discharge",
        "How far the outlet stands above the top of the chimney; negative where the top is the higher.",
        DROP,
        &[CHIMNEY, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        top_below,
    ),
    discharge_of(Kind::WallAboveRoof),
    system_seen(Kind::WallAboveRoof),
    distance(
        Kind::WallAboveRoof,
        "across",
        "The level distance from the nearest edge of the outlet to the wall.",
        "as measured",
        &[WALL],
        wall_across,
    ),
    distance(
        Kind::WallAboveRoof,
        "top_below_discharge",
        "How far the outlet stands above the top of the wall; negative where the wall is the higher.",
        "the height of the outlet less that of the top",
        &[WALL, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
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
    distance(
        Kind::WalkingSurface,
        "across",
        "The level distance from the nearest edge of the outlet to the walking surface, by tape.",
        "as measured, or along the wall and out from it",
        &[SURFACE],
        level_distance,
    ),
    distance(
        Kind::WalkingSurface,
        "top_below_discharge",
        "How far the outlet stands above the walking surface; negative where that is the higher.",
        DROP,
        &[SURFACE, places::DISCHARGE_PLACE, places::RUN_PLACES, places::FAN_PLACE],
        top_below,
    ),
];
