//! Facts of discharges.

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::building::RoofKind;
use crate::design::model::fan::{Cap, Direction, Discharge};
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Measure, Wanted};

use super::ask::Ask;
use super::catalogue::{Fact, Get, with_places, words};
use super::contradictions::outlet as ways_out;
use super::heights::{self, spoken};
use super::join::agree;
use super::kinds::Kind;
use super::outlet::{self, discharge};
use super::penetrations;
use super::places::{self, Along};
use super::statements::settle;
use super::system::{self, system_of};

fn from_nought(_: &mut Ask<'_>) -> Answer<Number> {
    Answer::known(Number::whole(0))
}

/// How high the outlet stands above something: as stated, or the difference of the two heights.
fn above<W: Wanted>(
    ask: &mut Ask<'_>,
    it: Thing,
    stated: fn(&Discharge) -> &Entry<Measure<W>>,
    base: impl FnOnce(&mut Ask<'_>) -> Answer<Number>,
) -> Answer<Number> {
    discharge(ask, it, |ask, record| {
        let entry = stated(record);
        let direct = ask.statement(entry.want(&record.here), |ask| ask.quantity(&record.here, entry));
        let worked_out = ask.statement(record.height.want(&record.here), |ask| {
            let height = places::coordinate(ask, it, Along::Up);
            height.both(base(ask)).map(|(height, base)| &height - &base)
        });
        // Where neither can be told, what the difference lacks is nearer to what people write.
        let found = match (&direct.value, &worked_out.value) {
            (Answer::Unknown(_), _) => vec![worked_out, direct],
            _ => vec![direct, worked_out],
        };
        let key = spoken(&record.here, entry.key);
        settle(ask, |_| key, Dimension::LENGTH, found, || entry.want(&record.here))
    })
}

/// # Meaning
/// How high the rim of the outlet stands above the finished ground nearest to it.
/// # Formula
/// As stated, or the height of the outlet less that of the nearest ground.
/// # Valid for
/// Every outlet; with several heights of ground, exact where the nearest can be told.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// 25 Pa. Code 240.308(b)(3) asks for the ground nearest the outlet.
/// # Errors
/// Unknown when a height is not stated; in doubt when two statements differ.
/// # Example
/// An outlet at 24 ft over ground at 6 ft 6 in: 17 ft 6 in.
fn above_nearest_ground(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let near = places::near(ask, it);
    above(ask, it, |record| &record.above_ground, |ask| heights::nearest_ground(ask, &near))
}

/// # Meaning
/// How high the rim of the outlet stands above the highest finished ground that is stated.
/// # Formula
/// The height of the outlet less that of the highest ground.
/// # Valid for
/// Every outlet.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when a height is not stated.
/// # Example
/// An outlet at 24 ft, ground at 2 ft and 6 ft 6 in: 17 ft 6 in.
fn above_highest_ground(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let height = places::coordinate(ask, it, Along::Up);
    height.both(heights::all_ground(ask)).map(|(height, ground)| &height - &ground.highest)
}

/// # Meaning
/// How high the rim of the outlet stands above the edge of the roof nearest to it; negative below it.
/// # Formula
/// As stated, or the height of the outlet less that of the nearest edge.
/// # Valid for
/// Every outlet; with several edges, exact where the nearest can be told.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// 25 Pa. Code 240.308(b)(1) asks for the immediate edge of the roof.
/// # Errors
/// Unknown when a height is not stated; in doubt when two statements differ.
/// # Example
/// An outlet at 24 ft over an edge at 17 ft 2 in: 6 ft 10 in.
fn above_roof_edge(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let near = places::near(ask, it);
    above(ask, it, |record| &record.above_roof_edge, |ask| heights::nearest_edge(ask, &near))
}

/// # Meaning
/// How high the rim of the outlet stands above the highest edge of the roof; negative below it.
/// # Formula
/// The height of the outlet less that of the highest edge.
/// # Valid for
/// Every outlet.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when a height is not stated.
/// # Example
/// An outlet at 24 ft, edges at 10 ft and 17 ft 2 in: 6 ft 10 in.
fn above_highest_eave(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let height = places::coordinate(ask, it, Along::Up);
    height.both(heights::all_edges(ask)).map(|(height, edges)| &height - &edges.highest)
}

/// # Meaning
/// How high the rim of the outlet stands straight up above the roof, at the uphill side of the pipe.
/// # Formula
/// As stated: the discharge, its height or its place may say so. Or the height of the outlet less that of the roof below
/// it, where the roof is described closely enough; the roof rises by pitch times half the width of the pipe to its
/// uphill side.
/// # Valid for
/// Outlets for which it is measured, or that stand over a roof whose slopes are known.
/// # Accuracy
/// As measured; worked out, to what the roof rises over half the width of the pipe.
/// # Source
/// The measurement; the meaning of a pitch.
/// # Errors
/// Unknown when it is not stated and the roof is not described; in doubt when two statements differ.
/// # Example
/// `above_roof: 22 in`.
fn above_roof_surface(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    discharge(ask, it, |ask, record| {
        let here = &record.here;
        let mut found = Vec::new();
        found.extend(heights::counted(ask, here, &record.above_roof, from_nought, true));
        if let Some(level) = ask.read(here, &record.height).value().flatten()
            && !level.above_roof.is_missing()
        {
            found.extend(heights::counted(ask, &level.here, &level.above_roof, from_nought, true));
        }
        if let Some(place) = ask.read(here, &record.at).value().flatten()
            && !place.above_roof.is_missing()
        {
            found.extend(heights::counted(ask, &place.here, &place.above_roof, from_nought, true));
        }
        let height = record.height.want(here);
        let closely = ask.told(height.clone(), |ask| over_the_surface(ask, it));
        match closely {
            Some(closely) => found.push(closely),
            None if found.is_empty() => {}
            None => found.extend(ask.told(height, |ask| over_the_roof(ask, it))),
        }
        let what = |_: &Ask<'_>| "how high the outlet stands above the roof surface".to_owned();
        settle(ask, what, Dimension::LENGTH, found, || record.above_roof.want(here))
    })
}

/// How high an outlet of this height stands above the roof at the uphill side of its pipe.
fn over_the_surface(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let height = places::coordinate(ask, it, Along::Up);
    height.both(places::uphill_of(ask, it)).map(|(height, uphill)| &height - &uphill)
}

/// Between what an outlet of this height stands above the roof, whose surface lies somewhere from its lowest edge to
/// its ridge.
fn over_the_roof(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let height = places::coordinate(ask, it, Along::Up);
    let roof = heights::all_edges(ask).both(heights::ridge(ask));
    height.both(roof).map(|(height, (edges, ridge))| {
        let (least, most) = (&height - &ridge, &height - &edges.lowest);
        Number::between(least.low(), most.high().max(least.low()))
    })
}

/// Whether the pipe goes out through the roof rather than up the side of the house: the run that ends there
/// pierces the roof.
fn through_roof(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    discharge(ask, it, |ask, record| {
        let here = &record.here;
        let side_wall = ask.yes_or_no(here, &record.through_side_wall);
        let by_wall = match side_wall {
            Answer::Known { value: true, .. } => Answer::known(false),
            _ => Answer::missing(record.through_side_wall.want(here)),
        };
        let by_run = match places::run_to_discharge(ask, it) {
            Some(run) => penetrations::pierces_roof(ask, run),
            // That it leaves by no side wall is said; which way it does leave only the run can tell.
            None if record.through_side_wall.known().is_some() => match ask.things().system_of(it) {
                Some(own) => {
                    system::system(ask, own, |_, system| Answer::missing(system.runs.want(&system.here)))
                }
                None => Answer::missing(record.through_side_wall.want(here)),
            },
            None => Answer::missing(record.through_side_wall.want(here)),
        };
        if let Some(cannot) = ask.aside("way out", it, |ask| ways_out::way_out(ask, it)) {
            return cannot.unknown();
        }
        agree(by_run, by_wall, &[record.through_side_wall.want(here)])
    })
}

/// Whether the run at a discharge passes the open air.
fn outdoors(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let Some(own) = ask.things().system_of(it) else { return ask.cannot(it, "it belongs to no system") };
    match places::run_to_discharge(ask, it) {
        Some(run) => ask.truth(run, "outdoors"),
        None => system::system(ask, own, |_, system| Answer::missing(system.runs.want(&system.here))),
    }
}

fn direction(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    discharge(ask, it, |ask, record| ask.stated_word(&record.here, &record.direction))
}

fn rain_cap(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    discharge(ask, it, |ask, record| {
        ask.read(&record.here, &record.cap).map(|cap| cap.is_some_and(|cap| *cap == Cap::RainCap))
    })
}

/// Facts of discharges.
pub(super) const DISCHARGES: &[Fact] = &[
    Fact::stated(
        Kind::Discharge,
        "system",
        "The system whose air leaves there.",
        &[],
        Get::One(Kind::System, system_of),
    ),
    Fact {
        of: Kind::Discharge,
        name: "height",
        meaning: "The height of the outlet above the origin.",
        formula: "as stated, or by tape from what it is measured from, or where the last run ends",
        source: "the measurements",
        needs: with_places![],
        get: Get::Number(Dimension::LENGTH, |ask, it| places::coordinate(ask, it, Along::Up)),
    },
    Fact {
        of: Kind::Discharge,
        name: "above_nearest_ground",
        meaning: "How high the outlet stands above the finished ground nearest to it.",
        formula: "as stated, or its height less that of the nearest ground",
        source: "the ground nearest the outlet: Pennsylvania Code, title 25, 240.308(b)(3)",
        needs: with_places![],
        get: Get::Number(Dimension::LENGTH, above_nearest_ground),
    },
    Fact {
        of: Kind::Discharge,
        name: "above_highest_ground",
        meaning: "How high the outlet stands above the highest finished ground that is stated.",
        formula: "its height less that of the highest ground",
        source: "the meaning of the words",
        needs: with_places![],
        get: Get::Number(Dimension::LENGTH, above_highest_ground),
    },
    Fact {
        of: Kind::Discharge,
        name: "above_roof_edge",
        meaning: "How high the outlet stands above the edge of the roof nearest to it; negative below it.",
        formula: "as stated, or its height less that of the nearest edge",
        source: "the immediate edge of the roof: Pennsylvania Code, title 25, 240.308(b)(1)",
        needs: with_places![],
        get: Get::Number(Dimension::LENGTH, above_roof_edge),
    },
    Fact {
        of: Kind::Discharge,
        name: "above_highest_eave",
        meaning: "How high the outlet stands above the highest edge of the roof; negative below it.",
        formula: "its height less that of the highest edge",
        source: "the meaning of the words",
        needs: with_places![],
        get: Get::Number(Dimension::LENGTH, above_highest_eave),
    },
    Fact {
        of: Kind::Discharge,
        name: "above_roof_surface",
        meaning: "How high the outlet stands straight up above the roof, at the uphill side of the pipe.",
        formula: "as stated",
        source: "the measurement",
        needs: with_places![&["systems.*.discharge.above_roof"]],
        get: Get::Number(Dimension::LENGTH, above_roof_surface),
    },
    Fact {
        of: Kind::Discharge,
        name: "through_roof",
        meaning: "Whether the pipe goes out through the roof rather than up the side of the house.",
        formula: "the run that ends there goes through the roof",
        source: "the entries",
        needs: &[&[
            "systems.*.discharge.through_side_wall",
            "systems.*.runs",
            "systems.*.runs.*.from",
            "systems.*.runs.*.to",
            "systems.*.runs.*.pierces",
            "systems.*.runs.*.pierces.*.kind",
        ]],
        get: Get::Truth(through_roof),
    },
    Fact::stated(
        Kind::Discharge,
        "direction",
        "Which way the gas leaves.",
        &[&["systems.*.discharge.direction"]],
        Get::Word(words::<Direction>, direction),
    ),
    Fact::stated(
        Kind::Discharge,
        "rain_cap",
        "Whether a cap that turns the gas aside or down covers the outlet.",
        &[&["systems.*.discharge.cap"]],
        Get::Truth(rain_cap),
    ),
    Fact::stated(
        Kind::Discharge,
        "screen",
        "The clear width of the mesh of the screen over the outlet.",
        &[&["systems.*.discharge.screen.mesh"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            discharge(ask, it, |ask, record| {
                ask.quantity_inside(&record.here, &record.screen, "mesh", |screen| {
                    (&screen.here, &screen.mesh)
                })
            })
        }),
    ),
    Fact::stated(
        Kind::Discharge,
        "screened",
        "Whether a screen covers the outlet.",
        &[&["systems.*.discharge.screen"]],
        Get::Truth(|ask, it| discharge(ask, it, |ask, record| ask.is_there(&record.here, &record.screen))),
    ),
    Fact {
        of: Kind::Discharge,
        name: "outdoors",
        meaning: "Whether the gas leaves into the open air.",
        formula: "the run that ends at the outlet passes the open air",
        source: "the entries",
        needs: &[&[
            "systems.*.runs",
            "systems.*.runs.*.from",
            "systems.*.runs.*.to",
            "systems.*.runs.*.through",
        ]],
        get: Get::Truth(outdoors),
    },
    Fact::stated(
        Kind::Discharge,
        "over_flat_roof",
        "Whether the roof has no slope to speak of.",
        &[&["building.roof", "building.roof.kind"]],
        Get::Truth(|ask, _| {
            let building = &ask.design().building;
            let kind =
                ask.value_inside(&building.here, &building.roof, "kind", |roof| (&roof.here, &roof.kind));
            kind.map(|kind| *kind == RoofKind::Flat)
        }),
    ),
    Fact::stated(
        Kind::Discharge,
        "from_roof_edge",
        "The level distance from the outlet to the nearest edge of the roof.",
        &[&["systems.*.discharge.from_roof_edge"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            discharge(ask, it, |ask, record| ask.quantity(&record.here, &record.from_roof_edge))
        }),
    ),
    Fact::stated(
        Kind::Discharge,
        "from_ridge",
        "The level distance from the outlet to the ridge.",
        &[&["systems.*.discharge.from_ridge"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            discharge(ask, it, |ask, record| ask.quantity(&record.here, &record.from_ridge))
        }),
    ),
    Fact::stated(
        Kind::Discharge,
        "reason_stated",
        "Whether a reason is stated for an outlet below the roof.",
        &[&["systems.*.discharge.reason"]],
        Get::Truth(|ask, it| discharge(ask, it, |ask, record| ask.is_there(&record.here, &record.reason))),
    ),
    Fact::stated(
        Kind::Discharge,
        "test_planned",
        "Whether it is stated how it is shown that the gas of an outlet below the roof does not come back in.",
        &[&["systems.*.discharge.test_plan"]],
        Get::Truth(|ask, it| discharge(ask, it, |ask, record| ask.is_there(&record.here, &record.test_plan))),
    ),
    Fact::stated(
        Kind::Discharge,
        "support_below",
        "How far below the outlet the nearest support of the pipe sits.",
        &[&["systems.*.discharge.support.below_outlet"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            discharge(ask, it, |ask, record| {
                ask.quantity_inside(&record.here, &record.support, "below_outlet", |support| {
                    (&support.here, &support.below_outlet)
                })
            })
        }),
    ),
    Fact {
        of: Kind::Discharge,
        name: "outside_diameter",
        meaning: "The outside diameter of the outlet.",
        formula: "as stated, or by the trade size, material and schedule of the run that ends there",
        source: "the nominal diameters of the pipe standards",
        needs: &[outlet::WIDTH],
        get: Get::Number(Dimension::LENGTH, |ask, it| {
            outlet::radius(ask, it).map(|radius| &radius * &Number::whole(2))
        }),
    },
];
