//! Formulas of nature held to numbers of the design: over the whole of every range, and in words where a number lies
//! outside of what the formula holds for.

use crate::base::number::quantity::{Style, show};
use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, OutOfRange};

use super::ask::{Ask, in_doubt};
use super::catalogue::Entries;
use super::join::either;
use super::kinds::Kind;
use super::layout::stack_of;
use super::suction::point;
use super::wiring::its_fan;

/// What cannot be worked out because an input lies outside the range of a formula: which, what it would be, and from where
/// to where the formula holds.
pub(super) fn out_of_range<T>(ask: &Ask<'_>, it: Thing, range: &OutOfRange) -> Answer<T> {
    let style = Style::default_for(range.dimension);
    let shown = |number: &Number| show(number, range.dimension, &style);
    let (given, low, high) = (shown(&range.given()), shown(&range.low()), shown(&range.high()));
    let why = format!("{} would be {given}; what is known of it holds from {low} to {high}", range.what);
    ask.cannot(it, &why)
}

/// What a formula comes to over the whole of the ranges that go into it. It must rise or fall all the way with each of
/// them, so that its least and its greatest lie at ends. Where an input is missing, or an end lies outside of what the
/// formula holds for, it cannot be told.
pub(super) fn worked<A: Amount, const N: usize>(
    ask: &Ask<'_>,
    it: Thing,
    inputs: [Answer<Number>; N],
    formula: impl Fn([&Number; N]) -> Option<Result<A, OutOfRange>>,
) -> Answer<Number> {
    Answer::all(inputs).then(|inputs| {
        let mut found: Option<Number> = None;
        for ends in all_ends(&inputs) {
            let ends: Vec<Number> = ends.into_iter().map(Number::exact).collect();
            let worked = match <[&Number; N]>::try_from(ends.iter().collect::<Vec<_>>()) {
                Ok(ends) => formula(ends),
                Err(_) => None,
            };
            let number = match worked {
                Some(Ok(amount)) => amount.to_number(),
                Some(Err(error)) => return out_of_range(ask, it, &error),
                None => return ask.cannot(it, "a number in it is larger than anything about a house"),
            };
            found = Some(found.map_or(number.clone(), |so_far| so_far.hull(&number)));
        }
        match found {
            Some(number) => Answer::known(number),
            None => ask.cannot(it, "nothing goes into it"),
        }
    })
}

/// What air that was read is read from.
pub(super) const READ_AIR: Entries =
    &["start_up.readings", "start_up.readings.*.of", "start_up.readings.*.flow"];

/// The air that a run carries: what it is designed to carry, or what was read in it, or else what fan, pipe and ground let through.
pub(super) fn air_of(ask: &mut Ask<'_>, run: Thing) -> Answer<Number> {
    let designed = ask.number(run, "flow");
    let stated = or_read(ask, designed, run);
    or_reckoned(ask, run, stated, RECKONED_AIR, |ask| ask.number(run, "worked_flow"))
}

/// Whether nothing at all is said: what is said badly gives way to nothing.
pub(super) fn not_said(missing: &[Missing]) -> bool {
    missing.iter().all(|one| matches!(one.reason, Reason::NotStated | Reason::StatedUnknown))
}

/// Whether what is missing is air that is designed, in whose place the reckoned was taken.
pub(super) fn is_of_air(missing: &Missing) -> bool {
    missing.entry.as_str().ends_with(".flow")
}

/// What is designed, or else the air that was read in the run at start-up, where one system alone has readings.
fn or_read(ask: &mut Ask<'_>, designed: Answer<Number>, run: Thing) -> Answer<Number> {
    let silent = matches!(&designed, Answer::Unknown(missing) if not_said(missing));
    if !silent || ask.things().count(Kind::System) != 1 {
        return designed;
    }
    let start_up = &ask.design().start_up;
    let _ = ask.read(&start_up.here, &start_up.readings);
    for (name, reading) in start_up.readings.things() {
        let of = ask.read(&reading.here, &reading.of).value().flatten().map_or(name, |of| of.as_str());
        if ask.things().named(Kind::Run, None, of) == Some(run)
            && let Answer::Known { value, doubts } = ask.quantity(&reading.here, &reading.flow)
        {
            ask.assume("the air is what was read at start-up, as nobody says what it is designed to be");
            return Answer::Known { value, doubts };
        }
    }
    designed
}

/// The air that a system moves: what it is designed for, that of the run which ends at its discharge, or else what fan, pipe and
/// ground let through.
pub(super) fn air_of_system(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let designed = ask.number(it, "design_air");
    let stack = stack_of(ask, it);
    let of_stack = stack.clone().then(|stack| ask.number(stack, "flow"));
    let stated = either(designed, of_stack);
    let stated = match stack.clone() {
        Answer::Known { value, .. } => or_read(ask, stated, value),
        Answer::Unknown(_) => stated,
    };
    or_reckoned(ask, it, stated, RECKONED_AIR, |ask| {
        stack.clone().then(|stack| ask.number(stack, "worked_flow"))
    })
}

const RECKONED_AIR: &str =
    "the air is what was reckoned of fan, pipe and ground, as nobody says what it is designed to be";
const RECKONED_SUCTION: &str =
    "the suction is what was reckoned of fan, pipe and ground, as nobody says what it is designed to be";

/// What is designed, or else what was reckoned, which is in doubt for want of it. What is missing is what is designed, and what could not
/// be reckoned leaves no trace.
fn or_reckoned<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    designed: Answer<Number>,
    so_said: &'static str,
    reckoned: impl Fn(&mut Ask<'d>) -> Answer<Number>,
) -> Answer<Number> {
    let Answer::Unknown(missing) = designed else { return designed };
    if !not_said(&missing) {
        return Answer::Unknown(missing);
    }
    if ask.aside("reckoned", it, |ask| reckoned(ask).value()).is_none() {
        return Answer::Unknown(missing);
    }
    match reckoned(ask) {
        Answer::Known { value, .. } => {
            ask.assume(so_said);
            Answer::Known { value, doubts: missing }
        }
        Answer::Unknown(_) => Answer::Unknown(missing),
    }
}

/// The suction at a suction point: what it is designed to have, or else what fan, pipe and ground leave it; where that cannot be told
/// either, anything up to what the fan pulls with no air moving.
pub(super) fn suction_at(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    point(ask, it, |ask, point| {
        let want = point.suction.want(&point.here);
        let designed = ask.quantity(&point.here, &point.suction);
        match or_reckoned(ask, it, designed, RECKONED_SUCTION, |ask| ask.number(it, "worked_suction")) {
            Answer::Unknown(missing) => {
                let most = its_fan(ask, it).then(|fan| ask.number(fan, "shut_off"));
                match most {
                    Answer::Known { value, .. } => {
                        in_doubt(Number::between(Ratio::ZERO, value.high()), || want)
                    }
                    Answer::Unknown(_) => Answer::Unknown(missing),
                }
            }
            stated => stated,
        }
    })
}

/// Every way to take one end of each range.
fn all_ends(inputs: &[Number]) -> Vec<Vec<Ratio>> {
    inputs.iter().fold(vec![Vec::new()], |so_far, input| {
        let (low, high) = input.bounds();
        let ends = if low == high { vec![low] } else { vec![low, high] };
        let longer = so_far.iter().flat_map(|taken| {
            ends.iter().map(|end| taken.iter().cloned().chain([end.clone()]).collect::<Vec<Ratio>>())
        });
        longer.collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::{Source, SourceId};
    use crate::base::vocabulary::ROOT;
    use crate::calc::amounts::{Length, Plain};
    use crate::calc::water::fall;

    fn number(text: &str) -> Answer<Number> {
        Answer::known(Number::exact(Ratio::parse_decimal(text).unwrap()))
    }

    fn range(low: &str, high: &str) -> Answer<Number> {
        let end = |text: &str| Ratio::parse_decimal(text).unwrap();
        Answer::known(Number::between(end(low), end(high)))
    }

    fn falls(run: Answer<Number>, slope: Answer<Number>) -> Answer<Number> {
        let source = Source::new("design.yaml", "undercroft: 1\n");
        let (tree, _) = crate::yaml::scan::read(SourceId(0), source.text());
        let design = crate::design::read(&source, &tree).0;
        worked(&Ask::new(&design), ROOT, [run, slope], |[run, slope]| {
            Some(fall(Length::from_number(run)?, Plain::from_number(slope)?))
        })
    }

    #[test]
    fn ranges_go_through_a_formula_from_end_to_end() {
        // 2 m at 1/4: half a metre; 2 to 4 m at -1/4 to 1/2: from -1 m to 2 m
        assert_eq!(falls(number("2"), number("0.25")), number("0.5"));
        assert_eq!(falls(range("2", "4"), range("-0.25", "0.5")), range("-1", "2"));
    }

    #[test]
    fn a_number_outside_of_a_formula_is_told_with_the_range() {
        let Answer::Unknown(missing) = falls(number("2"), range("0", "11")) else { panic!("known") };
        let Some(Reason::NotComputable(why)) = missing.first().map(|one| one.reason.clone()) else {
            panic!("{missing:?}")
        };
        assert_eq!(why, "the slope would be 11; what is known of it holds from -10 to 10");
    }
}
