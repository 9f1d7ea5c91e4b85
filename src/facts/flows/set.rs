//! How valves are to be set so that suction points have the suction that they are designed for.

use std::collections::BTreeSet;

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Plain, Pressure};
use crate::calc::valves;
use crate::facts::ask::Ask;
use crate::facts::system::system_of;

use super::built::{Side, Sides, Together, WhyNot, solved};
use super::piping::{Stands, closes};
use super::worked::{Span, not_worked, points_of, together, variants, way};

/// # Meaning
/// How far the valve of a run is to be open, as a share of its way, for the suction point behind it to have the suction that it is
/// designed for; with every other such valve set for its own point at once.
/// # Formula
/// The fall of pressure over the valve with these points at their suctions, over the pressure of the speed, is what the valve has to
/// take; the table of its kind tells at which opening it takes so much.
/// # Valid for
/// Valves with one suction point behind them whose suction is designed.
/// # Accuracy
/// A range: valves of one kind differ by 30 % and more at small openings, so a valve is set by its gauge; this tells where to begin.
/// # Source
/// Weisbach's experiments as handbooks reprint them; the network as in [`super::worked`].
/// # Errors
/// Unknown where the run has no valve, several points lie behind it, no suction is designed, or even the open valve leaves too
/// little.
/// # Example
/// A point that would have 2 in WC with the valve open, designed for 1 in WC: the valve takes the other inch.
pub(super) fn opening(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let how = closes(ask, it);
    system_of(ask, it).both(how).then(|(system, how)| {
        together(ask, system).then(|together| {
            let all: Vec<_> =
                together.systems.iter().flat_map(|one| &one.pipes).map(|pipe| pipe.it).collect();
            let mut to_set = together;
            for pipe in all {
                match to_give(ask, &to_set, pipe) {
                    Answer::Known { value: None, .. } if pipe == it => {
                        return ask.cannot(it, "not one suction point alone lies behind its valve");
                    }
                    Answer::Known { value: None, .. } => {}
                    Answer::Known { value: Some(stands), .. } => set(&mut to_set, pipe, stands),
                    Answer::Unknown(missing) if pipe == it => return Answer::Unknown(missing),
                    // The valve of another point for which nobody says what is wanted stays as it stands.
                    Answer::Unknown(_) => {}
                }
            }
            match taken(&to_set, it) {
                Ok(takes) => shares(ask, it, how, &to_set, takes),
                Err(why) => not_worked(ask, system, &why),
            }
        })
    })
}

/// How the valve of a run is to stand; nothing where it has none, or not one point alone lies behind it.
fn to_give(ask: &mut Ask<'_>, of: &Together, it: Thing) -> Answer<Option<Stands>> {
    let system = of.systems.iter().find(|one| one.pipes.iter().any(|pipe| pipe.it == it));
    let Some((pipes, at)) = system.and_then(|one| {
        let at = one.pipes.iter().position(|pipe| pipe.it == it)?;
        Some((&one.pipes, at))
    }) else {
        return Answer::known(None);
    };
    let Some(pipe) = pipes.get(at).filter(|pipe| pipe.valve.is_some() && !pipe.after) else {
        return Answer::known(None);
    };
    let behind: BTreeSet<Thing> = points_of(pipes, &way(pipes, at), pipe);
    let mut points = behind.into_iter();
    let (Some(point), None) = (points.next(), points.next()) else { return Answer::known(None) };
    ask.number(point, "designed_suction").both(closes(ask, it)).then(|(suction, how)| {
        match Pressure::from_number(&suction) {
            Some(suction) => Answer::known(Some(Stands::ToGive(how, point, suction))),
            None => ask.cannot(point, "it is designed for too great a suction"),
        }
    })
}

fn set(of: &mut Together, it: Thing, stands: Stands) {
    let pipes = of.systems.iter_mut().flat_map(|one| &mut one.pipes);
    pipes.filter(|pipe| pipe.it == it).for_each(|pipe| pipe.valve = Some(stands));
}

/// What the valve has to take: most where the fan is strong, the pipe takes least and the ground gives least.
fn taken(of: &Together, it: Thing) -> Result<Span, WhyNot> {
    let mut takes: Option<Span> = None;
    for swapped in variants(of).iter().copied() {
        for side in [Side::Least, Side::Most] {
            let sides = Sides {
                pipe: &|_| side,
                ground: &|_| side,
                fan: &|_| side.other(),
                air: side.other(),
                swapped,
            };
            let solved = solved(of, &sides)?;
            if let Some(own) = solved.valves.get(&it) {
                takes = Some(takes.map_or(Span::of(own.to_si()), |span| span.with(own.to_si())));
            }
        }
    }
    Ok(takes.unwrap_or(Span::of(0.0)))
}

/// The openings at which a valve takes so much: the wider, the less it takes.
fn shares(ask: &Ask<'_>, it: Thing, how: valves::ValveKind, of: &Together, takes: Span) -> Answer<Number> {
    let pipe = of.systems.iter().flat_map(|one| &one.pipes).find(|pipe| pipe.it == it);
    let wide = pipe.map(|pipe| pipe.section.least.hydraulic_diameter());
    let at = |takes: f64| valves::opening(how, Plain::from_si(takes)?, wide?).ok();
    match (at(takes.high), at(takes.low)) {
        (Some(low), Some(high)) => match (Span::of(low.to_si()).with(high.to_si())).number() {
            Some(share) => Answer::known(share),
            None => ask.cannot(it, "no opening takes so much"),
        },
        _ => ask.cannot(it, "it would have to be closed further than valves of its kind were measured"),
    }
}
