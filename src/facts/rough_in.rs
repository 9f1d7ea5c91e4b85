//! Facts of a pipe roughed in for a later system, and of the place kept for its fan.

use crate::base::number::Dimension;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::pipe::ShortPipe;

use super::ask::Ask;
use super::catalogue::{Fact, Get};
use super::kinds::Kind;
use super::whole::lacking;
use crate::base::value::Listed;

fn rough_in<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d ShortPipe) -> Answer<R>,
) -> Answer<R> {
    match ask.things().rough_in {
        Some(pipe) => get(ask, pipe),
        None => ask.cannot(it, "it is not in the file"),
    }
}

/// Facts of pipes roughed in.
pub(super) const ROUGH_INS: &[Fact] = &[
    Fact::stated(
        Kind::Design,
        "rough_ins",
        "The pipe roughed in for a later system: none or one.",
        &[&["foundation.rough_in"]],
        Get::Things(Kind::RoughIn, |ask, _| {
            let foundation = &ask.design().foundation;
            let open = lacking(ask, &foundation.here, &foundation.rough_in);
            Answer::known(Listed::open(ask.things().all(Kind::RoughIn), open))
        }),
    ),
    Fact::stated(
        Kind::RoughIn,
        "in",
        "The space in which the pipe ends, where a fan would go.",
        &[&["foundation.rough_in.ends_in"]],
        Get::One(Kind::Space, |ask, it| {
            rough_in(ask, it, |ask, pipe| {
                let want = pipe.ends_in.want(&pipe.here);
                ask.value(&pipe.here, &pipe.ends_in).then(|name| ask.space_called(want, name.as_str()))
            })
        }),
    ),
    Fact::stated(
        Kind::RoughIn,
        "clear_height",
        "The clear height round the place for a fan.",
        &[&["foundation.rough_in.clear_height"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            rough_in(ask, it, |ask, pipe| ask.quantity(&pipe.here, &pipe.clear_height))
        }),
    ),
    Fact::stated(
        Kind::RoughIn,
        "clear_width",
        "The clear width round the place for a fan.",
        &[&["foundation.rough_in.clear_width"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            rough_in(ask, it, |ask, pipe| ask.quantity(&pipe.here, &pipe.clear_width))
        }),
    ),
    Fact::stated(
        Kind::RoughIn,
        "electrical_box",
        "Whether a circuit ends in an electrical box at the place for a fan.",
        &[&["foundation.rough_in.electrical_box"]],
        Get::Truth(|ask, it| rough_in(ask, it, |ask, pipe| ask.yes_or_no(&pipe.here, &pipe.electrical_box))),
    ),
    Fact::stated(
        Kind::RoughIn,
        "has_receptacle",
        "Whether there is a receptacle for a fan.",
        &[&["foundation.rough_in.receptacle"]],
        Get::Truth(|ask, it| rough_in(ask, it, |ask, pipe| ask.is_there(&pipe.here, &pipe.receptacle))),
    ),
    Fact::stated(
        Kind::RoughIn,
        "receptacle_distance",
        "How far the receptacle is from the place for a fan.",
        &[&["foundation.rough_in.receptacle"]],
        Get::Number(Dimension::LENGTH, |ask, it| {
            rough_in(ask, it, |ask, pipe| ask.quantity(&pipe.here, &pipe.receptacle))
        }),
    ),
    Fact::stated(
        Kind::RoughIn,
        "alarm_power",
        "Whether power is ready where an alarm would hang.",
        &[&["foundation.rough_in.alarm_power"]],
        Get::Truth(|ask, it| rough_in(ask, it, |ask, pipe| ask.yes_or_no(&pipe.here, &pipe.alarm_power))),
    ),
    Fact::stated(
        Kind::RoughIn,
        "reachable",
        "Whether one can get to the place for a fan to put one in.",
        &[&["foundation.rough_in.reachable"]],
        Get::Truth(|ask, it| rough_in(ask, it, |ask, pipe| ask.yes_or_no(&pipe.here, &pipe.reachable))),
    ),
    Fact::stated(
        Kind::RoughIn,
        "rooftop_power",
        "Whether there is an approved supply of power on the roof for a fan there.",
        &[&["foundation.rough_in.rooftop_power"]],
        Get::Truth(|ask, it| rough_in(ask, it, |ask, pipe| ask.yes_or_no(&pipe.here, &pipe.rooftop_power))),
    ),
];
