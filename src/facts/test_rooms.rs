//! Facts of where the device of a radon test stood, and of which part of the house a test speaks.

use crate::base::number::Dimension;
use crate::base::value::{Answer, Listed, Missing, unite};
use crate::base::vocabulary::{ROOT, Thing};
use crate::design::model::tests::{DevicePlace, RadonTest, TestWhen};
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Length, Measure};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get};
use super::foundation::AREA_SPACE;
use super::kinds::Kind;
use super::radon_tests::{place, test};
use super::spaces::spaces_said_to_lie_above;
use super::things::SpaceMember;

/// Whether there is such a thing in the room: a distance is stated, and not the word `none`.
fn is_by(
    ask: &mut Ask<'_>,
    it: Thing,
    key: &'static str,
    get: for<'d> fn(&'d DevicePlace) -> &'d Entry<Measure<Length>>,
) -> Answer<bool> {
    test(ask, it, |ask, test| {
        ask.read_inside(&test.here, &test.place, key, |place| (&place.here, get(place)))
            .map(|value| value.is_some())
    })
}

/// # Meaning
/// The rooms that are the lowest above a part of the foundation in which people can stay.
/// # Formula
/// Its own space when people can stay there, otherwise the spaces right above that.
/// # Valid for
/// Foundations with at most one space in which nobody stays under the rooms.
/// # Accuracy
/// Names.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when the space, whether people can stay in it, or what lies above it is not stated.
/// # Example
/// A crawlspace with `under: [den]`: the den.
fn rooms_over(ask: &mut Ask<'_>, area: Thing) -> Answer<Vec<Thing>> {
    ask.one(area, "in").then(|own| {
        ask.truth(own, "occupied").then(|occupied| {
            if occupied {
                return Answer::known(vec![own]);
            }
            let Some(SpaceMember::Named(name, space)) = ask.things().space(own) else {
                return Answer::known(Vec::new());
            };
            let named = ask.read(&space.here, &space.under).then(|list| {
                let items = list.map(|list| list.0.items.as_slice()).unwrap_or_default();
                ask.spaces_called(items)
            });
            named.map(|mut rooms| {
                let others = spaces_said_to_lie_above(ask, name);
                rooms.extend(others.into_iter().filter(|other| !rooms.contains(other)).collect::<Vec<_>>());
                rooms
            })
        })
    })
}

/// The tests in the lowest rooms above a part of the foundation.
fn tests_over(ask: &mut Ask<'_>, area: Thing) -> Answer<Listed<Thing>> {
    let rooms = rooms_over(ask, area);
    rooms.both(ask.several(ROOT, "tests")).map(|(rooms, tests)| {
        let mut open: Vec<Missing> = tests.open;
        let mut items = Vec::new();
        for it in tests.items {
            match ask.one(it, "in") {
                Answer::Known { value, .. } if rooms.contains(&value) => items.push(it),
                Answer::Known { .. } => {}
                Answer::Unknown(missing) => open = unite(open, missing),
            }
        }
        Listed::open(items, open)
    })
}

/// # Meaning
/// Whether the device stood where one stood before the work.
/// # Formula
/// Some test before the work has the same spot, or, where no spot is named, was made in the same room.
/// # Valid for
/// Tests of air.
/// # Accuracy
/// Names.
/// # Source
/// The record of the tests.
/// # Errors
/// Unknown when neither the spot nor the room of either is stated, and while no test before the work is listed.
/// # Example
/// Both tests with `spot: B1`: yes.
fn where_tested_before(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let design = ask.design();
    let want = design.radon_tests.want(&design.here);
    test(ask, it, |ask, own| {
        let mut missing = Vec::new();
        let mut earlier = false;
        for (_, other) in design.radon_tests.things() {
            if ask.read(&other.here, &other.when).value().flatten() != Some(&TestWhen::Before) {
                continue;
            }
            earlier = true;
            match same_place(ask, own, other) {
                Answer::Known { value: true, .. } => return Answer::known(true),
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        match (earlier, missing.is_empty()) {
            (true, true) => Answer::known(false),
            (true, false) => Answer::Unknown(missing),
            (false, _) => Answer::missing(want),
        }
    })
}

pub(super) fn same_place<'d>(ask: &mut Ask<'d>, one: &'d RadonTest, other: &'d RadonTest) -> Answer<bool> {
    if !one.spot.is_missing() && !other.spot.is_missing() {
        let spots = ask.value(&one.here, &one.spot).both(ask.value(&other.here, &other.spot));
        return spots.map(|(one, other)| one == other);
    }
    let rooms = ask.value(&one.here, &one.space).both(ask.value(&other.here, &other.space));
    rooms.map(|(one, other)| one.as_str() == other.as_str())
}

const fn far(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    get: fn(&mut Ask<'_>, Thing) -> Answer<crate::base::number::Number>,
) -> Fact {
    Fact::stated(Kind::Test, name, meaning, needs, Get::Number(Dimension::LENGTH, get))
}

const fn by(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    get: fn(&mut Ask<'_>, Thing) -> Answer<bool>,
) -> Fact {
    Fact::stated(Kind::Test, name, meaning, needs, Get::Truth(get))
}

/// Facts of places of tests.
pub(super) const TEST_ROOMS: &[Fact] = &[
    far(
        "from_ceiling",
        "How far from the ceiling the device stood.",
        &[&["radon_tests.*.place.below_ceiling"]],
        |ask, it| place(ask, it, "below_ceiling", |place| &place.below_ceiling),
    ),
    far(
        "from_objects",
        "How far from other things the device stood.",
        &[&["radon_tests.*.place.from_objects"]],
        |ask, it| place(ask, it, "from_objects", |place| &place.from_objects),
    ),
    far(
        "from_device",
        "How far from the next device the device stood.",
        &[&["radon_tests.*.place.from_device"]],
        |ask, it| place(ask, it, "from_device", |place| &place.from_device),
    ),
    far(
        "from_ducts",
        "How far from the nearest grille or duct of the heating and cooling the device stood.",
        &[&["radon_tests.*.place.from_ducts"]],
        |ask, it| place(ask, it, "from_ducts", |place| &place.from_ducts),
    ),
    by(
        "has_ducts",
        "Whether there is a grille or duct of the heating and cooling where the device stood.",
        &[&["radon_tests.*.place.from_ducts"]],
        |ask, it| is_by(ask, it, "from_ducts", |place| &place.from_ducts),
    ),
    far(
        "from_heat",
        "How far from the nearest source of heat the device stood.",
        &[&["radon_tests.*.place.from_heat"]],
        |ask, it| place(ask, it, "from_heat", |place| &place.from_heat),
    ),
    by(
        "has_heat",
        "Whether there is a source of heat where the device stood.",
        &[&["radon_tests.*.place.from_heat"]],
        |ask, it| is_by(ask, it, "from_heat", |place| &place.from_heat),
    ),
    far(
        "from_sump",
        "How far from the nearest sump the device stood.",
        &[&["radon_tests.*.place.from_sump"]],
        |ask, it| place(ask, it, "from_sump", |place| &place.from_sump),
    ),
    by(
        "has_sump",
        "Whether there is a sump where the device stood.",
        &[&["radon_tests.*.place.from_sump"]],
        |ask, it| is_by(ask, it, "from_sump", |place| &place.from_sump),
    ),
    far(
        "from_washer",
        "How far from the nearest washer or dryer the device stood.",
        &[&["radon_tests.*.place.from_washer"]],
        |ask, it| place(ask, it, "from_washer", |place| &place.from_washer),
    ),
    by(
        "has_washer",
        "Whether there is a washer or dryer where the device stood.",
        &[&["radon_tests.*.place.from_washer"]],
        |ask, it| is_by(ask, it, "from_washer", |place| &place.from_washer),
    ),
    by(
        "has_openings",
        "Whether there is an opening to the outdoors where the device stood.",
        &[&["radon_tests.*.place.from_openings"]],
        |ask, it| is_by(ask, it, "from_openings", |place| &place.from_openings),
    ),
    by(
        "where_tested_before",
        "Whether the device stood where one stood before the work.",
        &[&["radon_tests", "radon_tests.*.when", "radon_tests.*.spot", "radon_tests.*.in"]],
        where_tested_before,
    ),
    by(
        "disturbed",
        "Whether draughts, heat, sun or damp reached the device.",
        &[&["radon_tests.*.place.disturbed"]],
        |ask, it| {
            test(ask, it, |ask, t| {
                ask.yes_or_no_inside(&t.here, &t.place, "disturbed", |place| (&place.here, &place.disturbed))
            })
        },
    ),
    by(
        "beside_another",
        "Whether it is averaged with a test that stood beside it.",
        &[&["radon_tests.*.beside"]],
        |ask, it| test(ask, it, |ask, t| ask.is_there(&t.here, &t.beside)),
    ),
    by(
        "listed",
        "Whether the device is listed by the programme that applies.",
        &[&["radon_tests.*.listed"]],
        |ask, it| test(ask, it, |ask, t| ask.yes_or_no(&t.here, &t.listed)),
    ),
    by(
        "by_certified",
        "Whether whoever placed the device has a licence or certificate.",
        &[&["radon_tests.*.licence"]],
        |ask, it| test(ask, it, |ask, t| ask.is_there(&t.here, &t.licence)),
    ),
    Fact {
        of: Kind::Area,
        name: "tests",
        meaning: "The radon tests after start-up in the lowest rooms above the area in which people can stay.",
        formula: "the tests in its own space when people can stay there, otherwise in the spaces right above that",
        source: "the meaning of the words",
        needs: &[AREA_SPACE, ROOMS, &["radon_tests", "radon_tests.*.when", "radon_tests.*.in"]],
        get: Get::Things(Kind::Test, tests_over),
    },
    Fact {
        of: Kind::Area,
        name: "under_rooms",
        meaning: "Whether there is a room above the area in which people can stay, its own space among them.",
        formula: "people can stay in its own space, or some space right above that is one in which they can",
        source: "the meaning of the words",
        needs: &[AREA_SPACE, ROOMS],
        get: Get::Truth(under_rooms),
    },
];

const ROOMS: Entries = &["building.spaces.*.occupied", "building.spaces.*.under", "building.spaces.*.above"];

fn under_rooms(ask: &mut Ask<'_>, area: Thing) -> Answer<bool> {
    rooms_over(ask, area).then(|rooms| {
        let mut missing = Vec::new();
        for room in rooms {
            match ask.truth(room, "occupied") {
                Answer::Known { value: true, .. } => return Answer::known(true),
                Answer::Known { .. } => {}
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
    })
}
