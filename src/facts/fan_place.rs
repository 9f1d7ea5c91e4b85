//! Facts of a fan's make and of the place it stands in: what closes it in, the room round it, where its leaks go.

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::fan::{Enclosure, Fan};
use crate::yaml::entry::Entry;

use super::ask::Ask;
use super::catalogue::{Fact, Get};
use super::fan::{fan, fan_number, fan_truth};
use super::kinds::Kind;

fn enclosure_truth<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    get: impl FnOnce(&'d Enclosure) -> &'d Entry<bool>,
) -> Answer<bool> {
    fan(ask, it, |ask, fan| {
        ask.yes_or_no_inside(&fan.here, &fan.enclosure, key, |enclosure| (&enclosure.here, get(enclosure)))
    })
}

/// The opening of the enclosure to the open air; nothing where it has none, or where there is no enclosure.
fn vent_area(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    fan(ask, it, |ask, fan| {
        let none = fan.enclosure.is_none()
            || fan.enclosure.known().is_some_and(|enclosure| enclosure.vent_area.is_none());
        if none {
            let _ = ask.read_inside(&fan.here, &fan.enclosure, "vent_area", |it| (&it.here, &it.vent_area));
            return Answer::known(Number::whole(0));
        }
        ask.quantity_inside(&fan.here, &fan.enclosure, "vent_area", |it| (&it.here, &it.vent_area))
    })
}

/// The space that what leaks from the fan goes to: as stated for one that is closed in, else the one it stands in.
fn leaks_to(ask: &mut Ask<'_>, it: Thing) -> Answer<Thing> {
    let stated = fan(ask, it, |ask, fan: &Fan| {
        let want = fan.leaks_to.want(&fan.here);
        ask.read(&fan.here, &fan.leaks_to).then(|name| match name {
            Some(name) => ask.space_called(want, name.as_str()),
            None => Answer::missing(want),
        })
    });
    let boxed = fan(ask, it, |ask, fan: &Fan| ask.is_there(&fan.here, &fan.enclosure));
    match (&stated, boxed) {
        // What is closed in leaks to where somebody says.
        (Answer::Known { .. }, _) | (_, Answer::Known { value: true, .. }) => stated,
        (Answer::Unknown(_), Answer::Known { .. }) => ask.one(it, "in"),
        (Answer::Unknown(_), Answer::Unknown(_)) => {
            ask.assume("a fan of which no box is described stands free");
            ask.one(it, "in")
        }
    }
}

/// Facts of fans and of the places they stand in.
pub(super) const FAN_PLACES: &[Fact] = &[
    Fact::stated(
        Kind::Fan,
        "continuous",
        "Whether the fan is made to run without pause.",
        &[&["systems.*.fan.continuous"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.continuous)),
    ),
    Fact::stated(
        Kind::Fan,
        "overload_resets",
        "Whether the fan starts again by itself after it has cut out because it grew hot.",
        &[&["systems.*.fan.overload_resets"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.overload_resets)),
    ),
    Fact::stated(
        Kind::Fan,
        "condensate_bypass",
        "Whether water is led round the fan.",
        &[&["systems.*.fan.condensate_bypass"]],
        Get::Truth(|ask, it| fan_truth(ask, it, |fan| &fan.condensate_bypass)),
    ),
    Fact::stated(
        Kind::Fan,
        "clear_height",
        "The clear height round the fan.",
        &[&["systems.*.fan.clear_height"]],
        Get::Number(Dimension::LENGTH, |ask, it| fan_number(ask, it, |fan| &fan.clear_height)),
    ),
    Fact::stated(
        Kind::Fan,
        "clear_width",
        "The clear width round the fan.",
        &[&["systems.*.fan.clear_width"]],
        Get::Number(Dimension::LENGTH, |ask, it| fan_number(ask, it, |fan| &fan.clear_width)),
    ),
    Fact::stated(
        Kind::Fan,
        "enclosed",
        "Whether a box, closet or shaft closes the fan in.",
        &[&["systems.*.fan.enclosure"]],
        Get::Truth(|ask, it| fan(ask, it, |ask, fan| ask.is_there(&fan.here, &fan.enclosure))),
    ),
    Fact::stated(
        Kind::Fan,
        "enclosure_sealed",
        "Whether what closes the fan in is sealed against the rooms round it.",
        &[&["systems.*.fan.enclosure", "systems.*.fan.enclosure.sealed"]],
        Get::Truth(|ask, it| enclosure_truth(ask, it, "sealed", |enclosure| &enclosure.sealed)),
    ),
    Fact::stated(
        Kind::Fan,
        "enclosure_weatherproof",
        "Whether rain stays out of what closes the fan in.",
        &[&["systems.*.fan.enclosure", "systems.*.fan.enclosure.weatherproof"]],
        Get::Truth(|ask, it| enclosure_truth(ask, it, "weatherproof", |enclosure| &enclosure.weatherproof)),
    ),
    Fact::stated(
        Kind::Fan,
        "enclosure_reachable",
        "Whether one can get into what closes the fan in.",
        &[&["systems.*.fan.enclosure", "systems.*.fan.enclosure.reachable"]],
        Get::Truth(|ask, it| enclosure_truth(ask, it, "reachable", |enclosure| &enclosure.reachable)),
    ),
    Fact::stated(
        Kind::Fan,
        "enclosure_vent_area",
        "The net free area of the opening to the open air of what closes the fan in; nothing where it has none.",
        &[&["systems.*.fan.enclosure", "systems.*.fan.enclosure.vent_area"]],
        Get::Number(Dimension::AREA, vent_area),
    ),
    Fact {
        of: Kind::Fan,
        name: "leaks_to",
        meaning: "The space that what leaks from the fan goes to.",
        formula: "as stated for one that is closed in, else the space it stands in",
        source: "the entries",
        needs: &[&["systems.*.fan.leaks_to", "systems.*.fan.in", "systems.*.fan.enclosure"]],
        get: Get::One(Kind::Space, leaks_to),
    },
];
