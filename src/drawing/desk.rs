//! What every drawing needs at hand: the design to ask, how its numbers are written, what could not be drawn, and the
//! findings with their numbers.

use crate::base::number::quantity::{Style, show, show_worked_out};
use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing};
use crate::base::vocabulary::{Answers, Thing};
use crate::calc::geometry::PlanPoint;
use crate::design::model::pipe::Run;
use crate::design::model::systems::System;
use crate::design::said::in_words;
use crate::facts::Facts;
use crate::facts::catalogue::number_of;
use crate::facts::drawn::{self, Stands};
use crate::facts::kinds::Kind;
use crate::yaml::measure::Measure;
use crate::yaml::shape::Size;
use crate::yaml::words::Words;

use super::numbered::Numbered;
use super::scene::{Part, Spot};
use super::signs::Key;
use super::view::Flag;

/// The desk a drawing is made at.
pub(crate) struct Desk<'a, 'd> {
    pub(crate) ask: &'a mut Facts<'d>,
    /// The findings with their numbers.
    pub(crate) numbered: &'a [Numbered],
    /// What is not drawn, and why.
    pub(crate) left_out: Vec<String>,
    /// What lies too far off to be drawn.
    pub(crate) beyond: Vec<String>,
    /// What was taken for granted.
    pub(crate) assumed: Vec<String>,
    /// Numbers of the file that lie far from what was worked out.
    pub(crate) at_odds: Vec<String>,
    /// Where things are drawn, by kind and name.
    pub(crate) places: Vec<(Kind, String, Spot)>,
    /// Areas that are drawn apart, because it is not known where on the site they lie, each with its south-west corner.
    pub(crate) apart: Vec<(Thing, PlanPoint)>,
    /// Whether the file is written in metres.
    metric: bool,
}

/// The title over what is not drawn.
pub(crate) const NOT_KNOWN: &str = "Not drawn, because it is not known";

/// A range as it is written on a drawing: its two ends.
fn as_span(said: String) -> String {
    match said.strip_prefix("between ") {
        Some(ends) => ends.replacen(" and ", " to ", 1),
        None => said,
    }
}

/// A name as it is said.
pub(crate) fn spoken(name: &str) -> String {
    name.replace('_', " ")
}

/// What would have to be stated, in a phrase for whoever has no file in front of them.
pub(crate) fn wanting(missing: &[Missing]) -> String {
    let mut entries: Vec<String> =
        missing.iter().map(|one| one.entry.as_str()).filter(|it| !it.is_empty()).map(in_words).collect();
    entries.dedup();
    match entries.as_slice() {
        [] => "where it is cannot be told".to_owned(),
        [one] => format!("not known: {one}"),
        [one, other] => format!("not known: {one}; {other}"),
        [one, other, more @ ..] => format!("not known: {one}; {other}; and {} more", more.len()),
    }
}

impl<'a, 'd> Desk<'a, 'd> {
    pub(crate) fn new(ask: &'a mut Facts<'d>, numbered: &'a [Numbered]) -> Self {
        let metric = is_metric(ask);
        Desk {
            ask,
            numbered,
            left_out: Vec::new(),
            beyond: Vec::new(),
            assumed: Vec::new(),
            at_odds: Vec::new(),
            places: Vec::new(),
            apart: Vec::new(),
            metric,
        }
    }

    /// The things of a kind.
    pub(crate) fn all(&self, kind: Kind) -> Vec<Thing> {
        self.ask.things().all(kind)
    }

    /// What a thing is called.
    pub(crate) fn name(&self, it: Thing) -> String {
        spoken(&self.ask.name_of(it))
    }

    fn style(&self, dimension: Dimension) -> Style {
        if self.metric { Style::metric_for(dimension) } else { Style::default_for(dimension) }
    }

    /// A length, as people of the place say it: as it is where it was written down, and otherwise as it can be read off a
    /// tape, with both of its ends where they differ so.
    pub(crate) fn length(&self, number: &Number) -> String {
        if number.as_exact().is_some() {
            return as_span(show(number, Dimension::LENGTH, &self.style(Dimension::LENGTH)));
        }
        let (low, high) = number.to_f64_bounds();
        let (low, high) = (self.by_tape(low), self.by_tape(high));
        if low == high { low } else { format!("{low} to {high}") }
    }

    /// A length that came out of a drawing: to the last sixteenth of an inch, or to the millimetre.
    pub(crate) fn length_near(&self, number: &Number) -> String {
        self.by_tape(number.to_f64_mid())
    }

    fn by_tape(&self, metres: f64) -> String {
        let (steps_in_a_metre, step) =
            if self.metric { (1000.0, (1, 1000)) } else { (16.0 / 0.0254, (254, 160_000)) };
        let near = Ratio::from_f64((metres * steps_in_a_metre).round())
            .and_then(|steps| Some(Number::exact(&steps * &Ratio::new(step.0, step.1)?)));
        let Some(near) = near else { return String::new() };
        show(&near, Dimension::LENGTH, &self.style(Dimension::LENGTH))
    }

    /// The same of so many metres.
    pub(crate) fn length_of(&self, metres: f64) -> String {
        self.by_tape(metres)
    }

    /// Whether the file is written in metres.
    pub(crate) fn is_metric(&self) -> bool {
        self.metric
    }

    /// A number that was worked out.
    pub(crate) fn worked(&self, number: &Number, dimension: Dimension) -> String {
        as_span(show_worked_out(number, dimension, &self.style(dimension)))
    }

    /// A share of the whole.
    pub(crate) fn share(&self, number: &Number) -> String {
        show_worked_out(number, Dimension::ONE, &Style::percent())
    }

    /// Keeps what was taken for granted where a number was worked out that is shown.
    pub(crate) fn rests_on(&mut self, it: Thing, fact: &str) {
        let Some(id) = number_of(it.kind, fact) else { return };
        for said in &self.ask.origin(id, it).assumed {
            let said = said.trim_end_matches('.').to_owned();
            self.assume(said);
        }
    }

    /// That something is not drawn, and what is missing.
    pub(crate) fn leave_out(&mut self, what: &str, missing: &[Missing]) {
        let known = format!("{what}: ");
        // What it is of was said.
        let said = format!("{known}{}", wanting(missing).replace(&known, ""));
        if !self.left_out.iter().any(|one| one.starts_with(&known)) {
            self.left_out.push(said);
        }
    }

    pub(crate) fn assume(&mut self, said: String) {
        if !self.assumed.contains(&said) {
            self.assumed.push(said);
        }
    }

    /// Where something stands on the plan. Nothing where that cannot be told, which is then said.
    pub(crate) fn on_plan(&mut self, what: &str, stands: &Stands) -> Option<Spot> {
        let both = stands.east.clone().both(stands.north.clone());
        match both {
            Answer::Known { value: (east, north), .. } => {
                self.in_doubt(what, &[&east, &north]);
                Some(Spot::at(east.to_f64_mid(), north.to_f64_mid()))
            }
            Answer::Unknown(missing) => {
                self.leave_out(what, &missing);
                None
            }
        }
    }

    /// Where a suction point, a sump or a test hole stands on the plan: in its area, where that is drawn apart.
    pub(crate) fn in_its_area(&mut self, what: &str, it: Thing) -> Option<Spot> {
        for (area, corner) in self.apart.clone() {
            if let Some(at) = drawn::stands_apart(self.ask, it, area) {
                let (corner, at) = (spot(&corner), spot(&at));
                return Some(corner.moved(at.x, at.y));
            }
        }
        let stands = drawn::stands(self.ask, it);
        self.on_plan(what, &stands)
    }

    /// Says that something is drawn in the middle of where it can be.
    pub(crate) fn in_doubt(&mut self, what: &str, numbers: &[&Number]) {
        if numbers.iter().any(|number| !number.is_point()) {
            self.assume(format!(
                "{what}: its place is known only within bounds, and it is drawn in the middle of them"
            ));
        }
    }

    /// The systems with their names.
    pub(crate) fn systems(&self) -> Vec<(&'d str, &'d System)> {
        self.ask.design().systems.things().collect()
    }

    /// The trade size of a run, as written: its own, or that of all pipe.
    pub(crate) fn pipe_size(&self, it: Thing, run: &Run) -> Option<&'static str> {
        if let Some(size) = run.size.known() {
            return Some(size.spelling());
        }
        let system = self.ask.things().system_of(it)?;
        let (_, system) = self.systems().into_iter().nth(system.number as usize)?;
        Some(system.pipe.known()?.size.known()?.spelling())
    }

    /// Keeps where something is drawn, for the flags of findings.
    pub(crate) fn keep(&mut self, kind: Kind, it: Thing, at: Spot) {
        self.places.push((kind, self.ask.name_of(it), at));
    }

    /// Flags for the findings that are about something on the drawing, and the list of them: what is unmet stands on every
    /// sheet, whether or not it shows the thing.
    pub(crate) fn flagged(&self) -> (Vec<Flag>, Part) {
        let mut flags: Vec<(Spot, Option<Key>, bool, Vec<usize>)> = Vec::new();
        let mut lines = Vec::new();
        let mut elsewhere = 0;
        for one in self.numbered {
            let place = self.places.iter().find(|(kind, name, _)| one.is_about(*kind, name));
            let said = format!("{} {}", one.mark(), one.words);
            let Some((kind, _, at)) = place else {
                match one.is_always_told() {
                    true => lines.push(format!("{said} (has no place on this sheet)")),
                    false => elsewhere += 1,
                }
                continue;
            };
            lines.push(said);
            let permitted = one.is_permitted();
            let sign = sign_of(*kind);
            let same = |known: &Option<Key>, also: bool| *known == sign && also == permitted;
            match flags.iter_mut().find(|(spot, known, also, _)| same(known, *also) && spot.away(*at) < 0.05)
            {
                Some((.., numbers)) => numbers.push(one.number),
                None => flags.push((*at, sign, permitted, vec![one.number])),
            }
        }
        if elsewhere > 0 {
            let more = if lines.is_empty() { "" } else { "and " };
            lines.push(format!(
                "{more}{elsewhere} of things that have no place on this sheet; none of them is known to be unmet"
            ));
        }
        let flag = |(at, sign, permitted, numbers): (Spot, Option<Key>, bool, Vec<usize>)| Flag {
            at,
            sign,
            words: format!("{}{}", if permitted { "V" } else { "" }, in_short(&numbers)),
        };
        (flags.into_iter().map(flag).collect(), Part { title: "Findings".to_owned(), lines })
    }

    /// What is said beside every drawing.
    pub(crate) fn notes(&self) -> Vec<Part> {
        let part = |title: &str, lines: &[String]| Part { title: title.to_owned(), lines: lines.to_vec() };
        vec![
            part("Stated and worked out lie far apart", &self.at_odds),
            part("Taken for granted", &self.assumed),
            part(NOT_KNOWN, &self.left_out),
            part("Not drawn, because it lies beyond this sheet", &self.beyond),
        ]
    }
}

/// With which sign a thing of a kind stands on a sheet.
fn sign_of(kind: Kind) -> Option<Key> {
    match kind {
        Kind::Fan => Some(Key::Fan),
        Kind::Discharge => Some(Key::Discharge),
        Kind::SuctionPoint => Some(Key::Point),
        Kind::Sump => Some(Key::Sump),
        Kind::Drain => Some(Key::Drain),
        Kind::TestHole => Some(Key::TestHole),
        Kind::Chimney => Some(Key::Chimney),
        _ => None,
    }
}

/// Numbers with those in a row put together: `1, 4-6`.
fn in_short(numbers: &[usize]) -> String {
    let mut rows: Vec<(usize, usize)> = Vec::new();
    for number in numbers {
        match rows.last_mut() {
            Some((_, last)) if *last + 1 == *number => *last = *number,
            _ => rows.push((*number, *number)),
        }
    }
    let rows = rows.into_iter().map(|(from, to)| match to - from {
        0 => from.to_string(),
        1 => format!("{from}, {to}"),
        _ => format!("{from}-{to}"),
    });
    rows.collect::<Vec<_>>().join(", ")
}

/// A quantity as it is written.
pub(crate) fn as_written<W>(measure: &Measure<W>) -> String {
    show(&measure.quantity.number, measure.quantity.dimension, &measure.quantity.style)
}

/// A name with what sort of thing it is, where the name does not tell that already.
pub(crate) fn with_its_kind(name: &str, kind: Option<&str>) -> String {
    match kind {
        Some(kind) if !name.split(' ').any(|word| word == kind) => format!("{name}, {kind}"),
        _ => name.to_owned(),
    }
}

/// A slope as it is written; one that is written with a minus falls the other way.
pub(crate) fn slope_as_written<W>(slope: &Measure<W>) -> String {
    let written = as_written(slope);
    match written.strip_prefix(['-', '\u{2212}']) {
        Some(unsigned) => format!("{unsigned} away from the suction side"),
        None => written,
    }
}

/// A size in plan as it is written.
pub(crate) fn size_as_written(size: &Size) -> String {
    let sides = |sides: &crate::base::number::quantity::Size| {
        let one = |side: &crate::base::number::Quantity| show(&side.number, side.dimension, &side.style);
        format!("{} x {}", one(&sides.first), one(&sides.second))
    };
    match size {
        Size::Rectangle(of) => sides(of),
        Size::L(first, second) => format!("L of {} and {}", sides(first), sides(second)),
    }
}

/// A point of a plan.
pub(crate) fn spot(point: &PlanPoint) -> Spot {
    Spot::at(point.x.to_f64(), point.y.to_f64())
}

/// Whether lengths of the file are written in metres: those of the first area or fan that has any.
fn is_metric(ask: &Facts<'_>) -> bool {
    let design = ask.design();
    let of_size = |size: &Size| match size {
        Size::Rectangle(sides) | Size::L(sides, _) => sides.first.style.clone(),
    };
    let areas = design.foundation.areas.things().map(|(_, area)| area);
    let by_area = areas.filter_map(|area| {
        let corner =
            area.outline.members().next().and_then(|point| Some(point.x.known()?.quantity.style.clone()));
        area.size.known().map(of_size).or(corner)
    });
    let fans = design.systems.things().filter_map(|(_, system)| system.fan.known());
    let by_fan =
        fans.filter_map(|fan| Some(fan.at.known()?.point.known()?.x.known()?.quantity.style.clone()));
    let lengths = ask.things().all(Kind::Run).into_iter().filter_map(|it| drawn::run(ask, it));
    let by_run = lengths.filter_map(|run| Some(run.length.known()?.quantity.style.clone()));
    let first = by_area.chain(by_fan).chain(by_run).next();
    first.is_some_and(|style| {
        let said = show(&Number::whole(7), Dimension::LENGTH, &style);
        said.ends_with('m')
    })
}
