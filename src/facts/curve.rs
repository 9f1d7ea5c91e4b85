//! Facts of a fan's curve, stretch by stretch, so that a rule can ask for so much air against so much suction.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Listed, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::fan::{CurvePoint, Fan};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get};
use super::kinds::Kind;
use super::things::of;
use super::whole::lacking;

/// One end of a stretch: its air and its suction.
struct End {
    air: Number,
    suction: Number,
}

fn end<'d>(ask: &mut Ask<'d>, point: &'d CurvePoint) -> Answer<End> {
    let air = ask.quantity(&point.here, &point.flow);
    let suction = ask.quantity(&point.here, &point.pressure);
    air.both(suction).map(|(air, suction)| End { air, suction })
}

/// The two ends of a stretch, that with less air first.
fn ends(ask: &mut Ask<'_>, it: Thing) -> Answer<(End, End)> {
    match ask.things().curve_pieces.get(it.number as usize).map(|piece| piece.ends) {
        Some((one, other)) => end(ask, one)
            .both(end(ask, other))
            .map(|(one, other)| if one.air.low() <= other.air.low() { (one, other) } else { (other, one) }),
        None => ask.cannot(it, "it is not in the file"),
    }
}

fn at_least_air(ask: &mut Ask<'_>, it: Thing, get: fn(End) -> Number) -> Answer<Number> {
    ends(ask, it).map(|(least, _)| get(least))
}

fn at_most_air(ask: &mut Ask<'_>, it: Thing, get: fn(End) -> Number) -> Answer<Number> {
    ends(ask, it).map(|(_, most)| get(most))
}

fn nought(number: Option<&Number>) -> bool {
    number.and_then(Number::as_exact).is_some_and(Ratio::is_zero)
}

/// What is lacking of a curve for it to tell of all the air the fan can move: it goes from no air to no suction.
fn lacking_ends<'d>(ask: &mut Ask<'d>, fan: &'d Fan) -> Vec<Missing> {
    let open = lacking(ask, &fan.here, &fan.curve);
    if !open.is_empty() {
        return open;
    }
    let points: Vec<&'d CurvePoint> = fan.curve.members().collect();
    let ends: Vec<End> = points.into_iter().filter_map(|point| end(ask, point).value()).collect();
    let from_no_air = ends.iter().any(|end| nought(Some(&end.air)));
    let to_no_suction = ends.iter().any(|end| nought(Some(&end.suction)));
    if from_no_air && to_no_suction {
        return Vec::new();
    }
    let why = "the curve does not go from no air to no suction".to_owned();
    vec![Missing { reason: Reason::NotComputable(why), ..fan.curve.want(&fan.here) }]
}

fn curve(ask: &mut Ask<'_>, it: Thing) -> Answer<Listed<Thing>> {
    of(
        ask,
        it,
        |things| &things.fans,
        |ask, fan| {
            let open = lacking_ends(ask, fan);
            Answer::known(Listed::open(ask.things().owned(Kind::CurvePiece, it.number), open))
        },
    )
}

const POINTS: Entries = &["systems.*.fan.curve.**"];

const fn of_an_end(name: &'static str, meaning: &'static str, dimension: Dimension, get: Worked) -> Fact {
    Fact::stated(Kind::CurvePiece, name, meaning, &[POINTS], Get::Number(dimension, get))
}

type Worked = fn(&mut Ask<'_>, Thing) -> Answer<Number>;

/// Facts of the curves of fans.
pub(super) const CURVES: &[Fact] = &[
    Fact::stated(
        Kind::Fan,
        "curve",
        "The stretches of the fan's curve; complete where the curve goes from no air to no suction.",
        &[&["systems.*.fan.curve"], POINTS],
        Get::Things(Kind::CurvePiece, curve),
    ),
    of_an_end("least_air", "The least air of the stretch.", Dimension::FLOW, |ask, it| {
        at_least_air(ask, it, |end| end.air)
    }),
    of_an_end("most_air", "The most air of the stretch.", Dimension::FLOW, |ask, it| {
        at_most_air(ask, it, |end| end.air)
    }),
    of_an_end(
        "suction_at_least_air",
        "The suction of the fan where the stretch has the least air.",
        Dimension::PRESSURE,
        |ask, it| at_least_air(ask, it, |end| end.suction),
    ),
    of_an_end(
        "suction_at_most_air",
        "The suction of the fan where the stretch has the most air.",
        Dimension::PRESSURE,
        |ask, it| at_most_air(ask, it, |end| end.suction),
    ),
];
