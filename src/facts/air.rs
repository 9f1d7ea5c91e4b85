//! Facts of the air of spaces: vents, and what burns it.

use std::collections::BTreeSet;

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, unite};
use crate::base::vocabulary::{ROOT, Thing};
use crate::design::model::appliances::{AirSource, Venting};
use crate::design::model::building::{PassageKind, Space};
use crate::design::model::openings::OpeningKind;
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Measure, Wanted};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get};
use super::foundation::{AREA_SPACE, floor_of};
use super::kinds::Kind;
use super::looked;
use super::outlines;
use super::spaces::appliance;
use super::statements::settle;
use super::suction;
use super::things::SpaceMember;

/// What tells whether a system draws in a space.
pub(super) const DRAWN_ON: Entries =
    &["systems", "systems.*.suction_points", "systems.*.suction_points.*.in", "foundation.areas.*.in"];

fn space_of<'d>(ask: &Ask<'d>, it: Thing) -> Option<&'d Space> {
    match ask.things().space(it)? {
        SpaceMember::Named(_, space) => Some(space),
        SpaceMember::Outdoors => None,
    }
}

fn in_space<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Space) -> Answer<R>,
) -> Answer<R> {
    match space_of(ask, it) {
        Some(space) => get(ask, space),
        None => ask.cannot(it, "the open air has no walls"),
    }
}

fn number<'d, W: Wanted>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&'d Space) -> &'d Entry<Measure<W>>,
) -> Answer<Number> {
    in_space(ask, it, |ask, space| ask.quantity(&space.here, get(space)))
}

fn truth<'d>(ask: &mut Ask<'d>, it: Thing, get: impl FnOnce(&'d Space) -> &'d Entry<bool>) -> Answer<bool> {
    match space_of(ask, it) {
        Some(space) => ask.yes_or_no(&space.here, get(space)),
        None => Answer::known(false),
    }
}

fn drawn_on(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    match space_of(ask, it) {
        Some(_) => suction::draws_in(ask, it),
        None => Answer::known(false),
    }
}

/// # Meaning
/// The floor that a space takes up.
/// # Formula
/// As stated, or by its size or outline, or the sum of the areas of the foundation in it.
/// # Valid for
/// Spaces of the file.
/// # Accuracy
/// Exact for what is stated exactly.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown when none of these is stated; in doubt where they differ.
/// # Example
/// A crawlspace over one area of 16 ft x 20 ft has 320 sq ft.
fn floor_area(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    in_space(ask, it, |ask, space| {
        let want = space.floor_area.want(&space.here);
        let mut found = Vec::new();
        found.extend(ask.told(want.clone(), |ask| ask.quantity(&space.here, &space.floor_area)));
        found.extend(
            ask.told(space.size.want(&space.here), |ask| ask.value(&space.here, &space.size).map(floor_of)),
        );
        found.extend(ask.told(space.outline.want(&space.here), |ask| {
            outlines::outline(ask, &space.here, &space.outline).map(|outline| Number::exact(outline.area()))
        }));
        if found.is_empty() {
            found.extend(ask.told(want.clone(), |ask| areas_in(ask, it)));
        }
        let what = |ask: &Ask<'_>| format!("the floor of {}", ask.things().name(it));
        settle(ask, what, Dimension::AREA, found, || want.clone())
    })
}

/// The areas of the foundation in a space, added up.
fn areas_in(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let mut sum = Answer::known(Number::whole(0));
    let mut any = false;
    for area in ask.things().all(Kind::Area) {
        match ask.one(area, "in") {
            Answer::Known { value, .. } if value == it => {
                any = true;
                sum = sum.both(ask.number(area, "size")).map(|(sum, size)| &sum + &size);
            }
            Answer::Known { .. } => {}
            Answer::Unknown(missing) => return Answer::Unknown(missing),
        }
    }
    if any { sum } else { ask.cannot(it, "no area of the foundation is in it") }
}

/// # Meaning
/// How far the vent nearest to it is from that corner of a crawlspace which has the farthest to one.
/// # Formula
/// As stated; or, for each corner of the outlines of its areas that points outward, the level distance to the nearest
/// vent into it, and the greatest of these.
/// # Valid for
/// Crawlspaces whose areas have an outline. A vent without a place, or one that nobody looked for, may be nearer.
/// # Accuracy
/// The root of an exact square.
/// # Source
/// Elementary geometry.
/// # Errors
/// Unknown without outlines or vents; between nought and the distance where vents may be missing.
/// # Example
/// A corner at the origin and a vent whose nearer edge is 2 ft along the wall: 2 ft.
fn corner_to_vent(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    in_space(ask, it, |ask, space| {
        let want = space.corner_to_vent.want(&space.here);
        let mut found = Vec::new();
        found.extend(ask.told(want.clone(), |ask| ask.quantity(&space.here, &space.corner_to_vent)));
        found.extend(ask.told(want.clone(), |ask| farthest_corner(ask, it)));
        let what = |ask: &Ask<'_>| format!("the way from a corner of {} to a vent", ask.things().name(it));
        settle(ask, what, Dimension::LENGTH, found, || want.clone())
    })
}

fn farthest_corner(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let building = &ask.design().building;
    let list =
        looked::list_of(ask, Kind::Opening, (&building.here, &building.openings), |looked| &looked.openings);
    let mut open = match list {
        Answer::Known { value, .. } => value.open,
        Answer::Unknown(missing) => missing,
    };
    let mut vents = Vec::new();
    let name = ask.things().name(it);
    for (_, opening) in building.openings.things() {
        let kind = ask.value(&opening.here, &opening.kind);
        let into = ask.value(&opening.here, &opening.into);
        match kind.both(into) {
            Answer::Known { value: (kind, into), .. } => {
                if *kind != OpeningKind::CrawlVent || into.as_str() != name {
                    continue;
                }
            }
            Answer::Unknown(missing) => {
                open = unite(open, missing);
                continue;
            }
        }
        match outlines::bounds(ask, &opening.here, &opening.corners) {
            Answer::Known { value, doubts } => match value.exact() {
                Some(block) => vents.push(block),
                None => open = unite(open, doubts),
            },
            Answer::Unknown(missing) => open = unite(open, missing),
        }
    }
    let mut farthest = Ratio::ZERO;
    let mut any = false;
    let areas: Vec<Thing> = ask.things().all(Kind::Area);
    for area in areas {
        if ask.one(area, "in").value() != Some(it) {
            continue;
        }
        let Some(record) = ask.things().areas.get(area.number as usize).map(|area| area.it) else { continue };
        let outline = match outlines::outline(ask, &record.here, &record.outline) {
            Answer::Known { value, .. } => value,
            Answer::Unknown(missing) => return Answer::Unknown(missing),
        };
        for corner in outline.outward_corners() {
            let at = corner.at(Ratio::ZERO);
            let nearest = vents.iter().map(|vent| vent.plan_distance_squared(&at)).min();
            let Some(nearest) = nearest else { return Answer::Unknown(open) };
            farthest = farthest.max(nearest);
            any = true;
        }
    }
    if !any {
        return ask.cannot(it, "no area of the foundation is in it");
    }
    let far = Number::root(farthest);
    match open.is_empty() {
        true => Answer::known(far),
        false => Answer::Known { value: Number::between(Ratio::ZERO, far.high()), doubts: open },
    }
}

/// Whether a grille or an opening leads from a space to a heated or cooled one.
fn has_air_path(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let building = &ask.design().building;
    let list =
        looked::list_of(ask, Kind::Passage, (&building.here, &building.passages), |looked| &looked.passages);
    let mut open = match list {
        Answer::Known { value, .. } => value.open,
        Answer::Unknown(missing) => missing,
    };
    for (_, passage) in building.passages.things() {
        let kind = ask.value(&passage.here, &passage.kind);
        let between = ask.value(&passage.here, &passage.between).then(|list| ask.spaces_called(&list.items));
        match kind.both(between) {
            Answer::Known { value: (kind, between), .. } => {
                if !matches!(kind, PassageKind::Grille | PassageKind::Opening) || !between.contains(&it) {
                    continue;
                }
                for other in between.into_iter().filter(|other| *other != it) {
                    match ask.truth(other, "conditioned") {
                        Answer::Known { value: true, .. } => return Answer::known(true),
                        Answer::Known { .. } => {}
                        Answer::Unknown(missing) => open = unite(open, missing),
                    }
                }
            }
            Answer::Unknown(missing) => open = unite(open, missing),
        }
    }
    if open.is_empty() { Answer::known(false) } else { Answer::Unknown(open) }
}

/// A space and those it is open to without a door, by way of others too. Whichever of two spaces says that it is open to
/// the other, both are.
fn joined(ask: &mut Ask<'_>, it: Thing) -> Answer<Vec<Thing>> {
    let all = ask.between("spaces open to each other", ROOT, |ask| Answer::known(open_to_each_other(ask)));
    let (links, mut open) = all.value().unwrap_or_default();
    if let Some(record) = space_of(ask, it)
        && let Answer::Unknown(missing) = ask.read(&record.here, &record.open_to)
    {
        open = unite(open, missing);
    }
    let mut found = BTreeSet::from([it]);
    let mut last = 0;
    while found.len() > last {
        last = found.len();
        for (one, other) in &links {
            if found.contains(one) || found.contains(other) {
                found.extend([*one, *other]);
            }
        }
    }
    if open.is_empty() { Answer::known(found.into_iter().collect()) } else { Answer::Unknown(open) }
}

/// The spaces that are said to be open to each other, two by two, and what names no space there is.
fn open_to_each_other(ask: &mut Ask<'_>) -> (Vec<(Thing, Thing)>, Vec<Missing>) {
    let (mut links, mut open) = (Vec::new(), Vec::new());
    for space in ask.things().all(Kind::Space) {
        let Some(record) = space_of(ask, space) else { continue };
        let Some(list) = ask.peek(&record.here, &record.open_to) else { continue };
        match ask.spaces_called(&list.0.items) {
            Answer::Known { value, .. } => links.extend(value.into_iter().map(|other| (space, other))),
            Answer::Unknown(missing) => open = unite(open, missing),
        }
    }
    (links, open)
}

fn air_volume(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    in_space(ask, it, |ask, _| {
        joined(ask, it).then(|spaces| {
            let volumes: Vec<Answer<Number>> =
                spaces.into_iter().map(|space| ask.number(space, "volume")).collect();
            Answer::all(volumes).map(|volumes| Number::sum(&volumes))
        })
    })
}

/// Whether an appliance takes the air it burns from the room: not one that is closed against it, or gets air from outdoors.
pub(super) fn takes_room_air(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    appliance(ask, it, |ask, appliance| {
        let from = ask.value(&appliance.here, &appliance.air_from).map(|from| *from == AirSource::Indoor);
        if matches!(from, Answer::Known { .. }) {
            return from;
        }
        let venting = ask.read(&appliance.here, &appliance.venting).value().flatten();
        match venting {
            Some(Venting::DirectVent | Venting::NotNeeded) => Answer::known(false),
            _ => from,
        }
    })
}

/// Whether the gases of an appliance leave with the help of a fan of its own.
fn has_draft_fan(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    appliance(ask, it, |ask, appliance| {
        ask.value(&appliance.here, &appliance.venting)
            .map(|venting| matches!(venting, Venting::FanAssisted | Venting::PowerVented))
    })
}

/// The heat of all appliances that burn the air of a space and of those open to it: those with a fan in the way of their
/// gases, or those without.
fn burners(ask: &mut Ask<'_>, it: Thing, with_fan: Option<bool>) -> Answer<Number> {
    in_space(ask, it, |ask, _| {
        let building = &ask.design().building;
        let whole = (&building.here, &building.appliances);
        let list = looked::list_of(ask, Kind::Appliance, whole, |looked| &looked.appliances);
        list.both(joined(ask, it)).then(|(list, spaces)| {
            let mut open: Vec<Missing> = list.open;
            let mut sum = Number::whole(0);
            for appliance in list.items {
                let here = ask.one(appliance, "in").map(|space| spaces.contains(&space));
                let room = ask.truth(appliance, "takes_room_air");
                let counts = match (here.value(), room.value()) {
                    (Some(false), _) | (_, Some(false)) => continue,
                    (Some(true), Some(true)) => match with_fan {
                        None => Answer::known(true),
                        Some(fan) => has_draft_fan(ask, appliance).map(|has| has == fan),
                    },
                    (None, _) => ask.one(appliance, "in").map(|_| true),
                    (_, None) => ask.truth(appliance, "takes_room_air"),
                };
                let heat = counts.then(|counts| match counts {
                    true => ask.number(appliance, "input"),
                    false => Answer::known(Number::whole(0)),
                });
                match heat {
                    Answer::Known { value, .. } => sum = &sum + &value,
                    Answer::Unknown(missing) => open = unite(open, missing),
                }
            }
            if open.is_empty() { Answer::known(sum) } else { Answer::Unknown(open) }
        })
    })
}

/// What tells which appliances burn the air of a space.
const BURNERS: Entries = &[
    "building.appliances",
    "building.appliances.*.in",
    "building.appliances.*.venting",
    "building.appliances.*.air_from",
    "building.appliances.*.input",
    "building.spaces.*.open_to",
    "looked_for.appliances",
    "looked_for.appliances.within",
    "looked_for.appliances.not_seen",
];

const fn stated_truth(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    get: Asked,
) -> Fact {
    Fact::stated(Kind::Space, name, meaning, needs, Get::Truth(get))
}

type Asked = fn(&mut Ask<'_>, Thing) -> Answer<bool>;

const fn stated_number(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    dimension: Dimension,
    get: fn(&mut Ask<'_>, Thing) -> Answer<Number>,
) -> Fact {
    Fact::stated(Kind::Space, name, meaning, needs, Get::Number(dimension, get))
}

/// Facts of the air of spaces.
pub(super) const AIR: &[Fact] = &[
    Fact {
        of: Kind::Space,
        name: "drawn_on",
        meaning: "Whether a system has a suction point in the space or under its floor.",
        formula: "some suction point is in it; no, where all suction points are written and none is",
        source: "the entries",
        needs: &[DRAWN_ON],
        get: Get::Truth(drawn_on),
    },
    Fact {
        of: Kind::Space,
        name: "floor_area",
        meaning: "The floor that the space takes up.",
        formula: "as stated, or by its size or outline, or the sum of the areas of the foundation in it",
        source: "elementary geometry",
        needs: &[
            &[
                "building.spaces.*.floor_area",
                "building.spaces.*.size",
                "building.spaces.*.outline",
                "foundation.areas.*.size",
                "foundation.areas.*.outline",
            ],
            AREA_SPACE,
        ],
        get: Get::Number(Dimension::AREA, floor_area),
    },
    stated_number(
        "volume",
        "The volume of the space.",
        &[&["building.spaces.*.volume"]],
        Dimension::VOLUME,
        |ask, it| number(ask, it, |s| &s.volume),
    ),
    stated_number(
        "vent_area",
        "The net free area of the vents of the space to the open air.",
        &[&["building.spaces.*.vent_area"]],
        Dimension::AREA,
        |ask, it| number(ask, it, |s| &s.vent_area),
    ),
    stated_truth(
        "vents_shut",
        "Whether the vents of the space can be shut.",
        &[&["building.spaces.*.vents_shut"]],
        |ask, it| truth(ask, it, |s| &s.vents_shut),
    ),
    Fact {
        of: Kind::Space,
        name: "corner_to_vent",
        meaning: "How far the vent nearest to it is from that corner of the space which has the farthest to one.",
        formula: "as stated, or the greatest, over the corners that point outward, of the level distance to the nearest vent",
        source: "elementary geometry",
        needs: &[
            &[
                "building.spaces.*.corner_to_vent",
                "building.openings",
                "building.openings.*.kind",
                "building.openings.*.into",
                "building.openings.*.corners",
                "looked_for.openings",
                "looked_for.openings.within",
                "looked_for.openings.not_seen",
                "foundation.areas.*.outline",
            ],
            AREA_SPACE,
        ],
        get: Get::Number(Dimension::LENGTH, corner_to_vent),
    },
    stated_truth(
        "cross_aired",
        "Whether the vents of the space lie so that air blows across it.",
        &[&["building.spaces.*.cross_aired"]],
        |ask, it| truth(ask, it, |s| &s.cross_aired),
    ),
    stated_truth(
        "aired_against_radon",
        "Whether the space is aired so that radon goes down.",
        &[&["building.spaces.*.aired_against_radon"]],
        |ask, it| truth(ask, it, |s| &s.aired_against_radon),
    ),
    stated_number(
        "airing_flow",
        "The air that a fan blows out of the space or into it.",
        &[&["building.spaces.*.airing_flow"]],
        Dimension::FLOW,
        |ask, it| number(ask, it, |s| &s.airing_flow),
    ),
    stated_number(
        "dries",
        "The water that a dehumidifier takes out of the air of the space.",
        &[&["building.spaces.*.dries"]],
        Dimension::FLOW,
        |ask, it| number(ask, it, |s| &s.dries),
    ),
    stated_truth(
        "walls_insulated",
        "Whether the outer walls of the space are insulated.",
        &[&["building.spaces.*.walls_insulated"]],
        |ask, it| truth(ask, it, |s| &s.walls_insulated),
    ),
    Fact {
        of: Kind::Space,
        name: "has_air_path",
        meaning: "Whether a grille or an opening without a door leads from the space to a heated or cooled one.",
        formula: "some passage of those kinds joins it with a conditioned space",
        source: "the entries",
        needs: &[&[
            "building.passages",
            "building.passages.*.kind",
            "building.passages.*.between",
            "building.spaces.*.conditioned",
            "looked_for.passages",
            "looked_for.passages.within",
            "looked_for.passages.not_seen",
        ]],
        get: Get::Truth(has_air_path),
    },
    stated_truth(
        "pipes_may_freeze",
        "Whether water pipes in the space can freeze when it is aired or drawn from.",
        &[&["building.spaces.*.pipes_may_freeze"]],
        |ask, it| truth(ask, it, |s| &s.pipes_may_freeze),
    ),
    stated_truth(
        "loose_asbestos",
        "Whether there is asbestos in the space that crumbles.",
        &[&["building.spaces.*.loose_asbestos"]],
        |ask, it| truth(ask, it, |s| &s.loose_asbestos),
    ),
    Fact {
        of: Kind::Space,
        name: "air_volume",
        meaning: "The volume of the space together with those it is open to without a door.",
        formula: "the sum of the volumes of the space and of all that are open to it, by way of others too",
        source: "International Fuel Gas Code 304.5: rooms joined by openings without doors count together",
        needs: &[&["building.spaces.*.volume", "building.spaces.*.open_to"]],
        get: Get::Number(Dimension::VOLUME, air_volume),
    },
    Fact {
        of: Kind::Space,
        name: "burner_input",
        meaning: "The heat of all appliances that burn the air of the space and of those open to it.",
        formula: "the sum of the inputs of the appliances in them that take their air from the room",
        source: "International Fuel Gas Code 304.5: combined input",
        needs: &[BURNERS],
        get: Get::Number(Dimension::POWER, |ask, it| burners(ask, it, None)),
    },
    Fact {
        of: Kind::Space,
        name: "burner_input_with_fan",
        meaning: "The part of that heat whose gases a fan of the appliance drives.",
        formula: "the sum over the appliances that are fan-assisted or power vented",
        source: "International Fuel Gas Code 304.5.2",
        needs: &[BURNERS],
        get: Get::Number(Dimension::POWER, |ask, it| burners(ask, it, Some(true))),
    },
    Fact {
        of: Kind::Space,
        name: "burner_input_without_fan",
        meaning: "The part of that heat whose gases rise by themselves.",
        formula: "the sum over the appliances that are neither fan-assisted nor power vented",
        source: "International Fuel Gas Code 304.5.2",
        needs: &[BURNERS],
        get: Get::Number(Dimension::POWER, |ask, it| burners(ask, it, Some(false))),
    },
];

/// Whether it is known how often leaks change the air of the building. `none` for the leakage says that it is not.
pub(super) fn air_changes_known(ask: &mut Ask<'_>) -> Answer<bool> {
    let building = &ask.design().building;
    ask.read_inside(&building.here, &building.leakage, "air_changes", |l| (&l.here, &l.air_changes))
        .map(|measured| measured.is_some())
}

/// How often leaks alone change the air of the building each hour.
pub(super) fn air_changes(ask: &mut Ask<'_>) -> Answer<Number> {
    let building = &ask.design().building;
    ask.quantity_inside(&building.here, &building.leakage, "air_changes", |l| (&l.here, &l.air_changes))
}
