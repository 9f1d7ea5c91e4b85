//! Facts of runs: what is round them, by which standards they are made and joined, what they stand in the way of.

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::pipe::{CementStandard, Pipe, PipeStandard};
use crate::yaml::entry::Entry;

use super::ask::{Ask, word_id};
use super::catalogue::{Fact, Get, words};
use super::kinds::Kind;
use super::runs::{of_pipe, run};
use super::system::system;
use super::things::thing;

fn insulation(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let want = ask.things().here(it).map(|here| here.path.key("insulation").key("r"));
    of_pipe(ask, it, "insulation", |run| &run.insulation, |pipe| &pipe.insulation).then(|round| match round {
        Some(round) => ask.quantity(&round.here, &round.r),
        None if want.is_some() => Answer::known(Number::whole(0)),
        None => ask.cannot(it, "it is not in the file"),
    })
}

fn jacket(ask: &mut Ask<'_>, it: Thing, vapour: bool) -> Answer<bool> {
    of_pipe(ask, it, "insulation", |run| &run.insulation, |pipe| &pipe.insulation).then(|round| match round {
        Some(round) if vapour => ask.yes_or_no(&round.here, &round.vapour_jacket),
        Some(round) => ask.yes_or_no(&round.here, &round.weather_jacket),
        None => Answer::known(false),
    })
}

fn standard(ask: &mut Ask<'_>, it: Thing) -> Answer<WordId> {
    let want = ask.things().here(it).map(|here| here.path.key("standard"));
    of_pipe(ask, it, "standard", |run| &run.standard, |pipe| &pipe.standard).then(|word| match word {
        Some(word) => Answer::known(word_id(*word)),
        None => Answer::missing(ask.want_at(want.as_ref().map_or("", |path| path.as_str()))),
    })
}

fn of_all<'d, T: 'd, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    key: &'static str,
    get: impl FnOnce(&'d Pipe) -> &'d Entry<T>,
    found: impl FnOnce(&'d T) -> R,
) -> Answer<R> {
    let owner = ask.things().owner(it).unwrap_or(u32::MAX);
    system(ask, thing(Kind::System, owner), |ask, system| {
        ask.value_inside(&system.here, &system.pipe, key, |pipe| (&pipe.here, get(pipe))).map(found)
    })
}

/// Facts of runs that turn on how they are made and on what is round them.
pub(super) const JACKETS: &[Fact] = &[
    Fact::stated(
        Kind::Run,
        "insulation",
        "How well the run, or all pipe where the run says nothing, is insulated; nothing where it is bare.",
        &[&[
            "systems.*.runs.*.insulation",
            "systems.*.runs.*.insulation.r",
            "systems.*.pipe.insulation",
            "systems.*.pipe.insulation.r",
        ]],
        Get::Number(Dimension::INSULATION, insulation),
    ),
    Fact::stated(
        Kind::Run,
        "vapour_jacket",
        "Whether a jacket keeps vapour out of the insulation of the run.",
        &[&[
            "systems.*.runs.*.insulation",
            "systems.*.runs.*.insulation.vapour_jacket",
            "systems.*.pipe.insulation",
            "systems.*.pipe.insulation.vapour_jacket",
        ]],
        Get::Truth(|ask, it| jacket(ask, it, true)),
    ),
    Fact::stated(
        Kind::Run,
        "weather_jacket",
        "Whether a jacket keeps weather and sun off the insulation of the run.",
        &[&[
            "systems.*.runs.*.insulation",
            "systems.*.runs.*.insulation.weather_jacket",
            "systems.*.pipe.insulation",
            "systems.*.pipe.insulation.weather_jacket",
        ]],
        Get::Truth(|ask, it| jacket(ask, it, false)),
    ),
    Fact::stated(
        Kind::Run,
        "sweat_harms",
        "Whether water that sweats on the run would harm what lies below it.",
        &[&["systems.*.runs.*.sweat_harms"]],
        Get::Truth(|ask, it| run(ask, it, |ask, r| ask.yes_or_no(&r.here, &r.sweat_harms))),
    ),
    Fact::stated(
        Kind::Run,
        "standard",
        "The standard printed on the run's pipe, or on all pipe where the run says nothing.",
        &[&["systems.*.runs.*.standard", "systems.*.pipe.standard"]],
        Get::Word(words::<PipeStandard>, standard),
    ),
    Fact::stated(
        Kind::Run,
        "cement",
        "The standard of the cement with which the pipe is joined.",
        &[&["systems.*.pipe.cement_standard"]],
        Get::Word(words::<CementStandard>, |ask, it| {
            of_all(ask, it, "cement_standard", |pipe| &pipe.cement_standard, |word| word_id(*word))
        }),
    ),
    Fact::stated(
        Kind::Run,
        "primed",
        "Whether a primer is used before the cement.",
        &[&["systems.*.pipe.primer"]],
        Get::Truth(|ask, it| of_all(ask, it, "primer", |pipe| &pipe.primer, |primer| *primer)),
    ),
    Fact::stated(
        Kind::Run,
        "blocks_something",
        "Whether the run blocks a door, a window, a panel, a cleanout or an appliance.",
        &[&["systems.*.runs.*.blocks"]],
        Get::Truth(|ask, it| run(ask, it, |ask, r| ask.is_there(&r.here, &r.blocks))),
    ),
];
