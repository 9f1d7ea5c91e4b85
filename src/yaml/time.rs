//! Calendar dates, moments and time zones, as people write them.

use jiff::civil;
use jiff::tz::{AmbiguousOffset, Offset, TimeZone};
use serde_json::{Value, json};

use super::record::{Reader, Reads};
use super::schema::{Schemas, single_value};
use super::tree::NodeId;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;
use crate::base::value::EntryPath;

/// A day of the calendar.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Date(pub civil::Date);

const DATE: &str = "a date as year-month-day: 2026-05-14";

impl Date {
    /// The day written as `2026-05-14`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.split('-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let digits = |part: &str| part.chars().all(|c| c.is_ascii_digit());
        if parts.next().is_some() || (year.len(), month.len(), day.len()) != (4, 2, 2) {
            return None;
        }
        if !(digits(year) && digits(month) && digits(day)) {
            return None;
        }
        civil::Date::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?).ok().map(Date)
    }
}

/// For a day written another way: the ways it may have been meant.
fn date_guess(text: &str) -> Option<String> {
    let parts: Vec<i16> =
        text.split(['-', '/', '.']).map(|part| part.trim().parse().ok()).collect::<Option<_>>()?;
    let [a, b, c] = parts.as_slice() else { return None };
    let candidates = if *a > 31 { vec![(*a, *b, *c)] } else { vec![(*c, *a, *b), (*c, *b, *a)] };
    let mut dates: Vec<String> = Vec::new();
    for (year, month, day) in candidates {
        let year = if (0..100).contains(&year) { year + 2000 } else { year };
        let parts = (i8::try_from(month).ok(), i8::try_from(day).ok());
        if let (Some(month), Some(day)) = parts
            && let Ok(date) = civil::Date::new(year, month, day)
            && !dates.contains(&date.to_string())
        {
            dates.push(date.to_string());
        }
    }
    if dates.is_empty() { None } else { Some(dates.join(" or ")) }
}

impl Reads for Date {
    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let text = reader.text(node)?;
        let date = Date::parse(text);
        if date.is_none() {
            let problem = Problem::new(ProblemKind::BadTime, reader.span(node))
                .found(text)
                .accepts(DATE)
                .nearest(date_guess(text));
            reader.report(problem);
        }
        date
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Date>("date", |_| json!({ "description": DATE, "type": "string" }))
    }
}

/// A moment: a day and a time of day, with an offset from universal time or in the zone of the place.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Moment {
    /// What the calendar and the clock on the wall show.
    pub local: civil::DateTime,
    /// How far that clock is from universal time, if it is written.
    pub offset: Option<Offset>,
    /// Where it is written.
    pub at: Span,
}

/// Why a moment cannot be placed in time.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NoInstant {
    /// It has no offset and the place has no known zone.
    NoZone,
    /// The clocks there show it twice.
    Twice,
    /// The clocks there never show it.
    Never,
}

const MOMENT: &str =
    "a day and a time: 2026-05-14 14:30, or 2026-05-14 2:30 pm, or with the offset 2026-05-14 14:30 -04:00";

impl Moment {
    /// The instant it names, in seconds and parts of seconds since 1970 in universal time.
    pub fn instant(&self, zone: Option<&Zone>) -> Result<jiff::Timestamp, NoInstant> {
        if let Some(offset) = self.offset {
            return offset.to_timestamp(self.local).map_err(|_| NoInstant::Never);
        }
        let zone = zone.ok_or(NoInstant::NoZone)?;
        let placed = zone.zone.to_ambiguous_timestamp(self.local);
        match placed.offset() {
            AmbiguousOffset::Unambiguous { .. } => placed.unambiguous().map_err(|_| NoInstant::Never),
            AmbiguousOffset::Gap { .. } => Err(NoInstant::Never),
            AmbiguousOffset::Fold { .. } => Err(NoInstant::Twice),
        }
    }

    fn parse(text: &str, at: Span) -> Option<Self> {
        let (day, rest) = text.split_at_checked(10)?;
        let date = Date::parse(day)?;
        let rest = rest.strip_prefix(['T', ' ', 't'])?.trim();
        let (clock, offset) = split_offset(rest)?;
        Some(Moment { local: date.0.to_datetime(parse_clock(clock.trim())?), offset, at })
    }
}

/// The time of day and the offset behind it, if there is one.
fn split_offset(text: &str) -> Option<(&str, Option<Offset>)> {
    if let Some(clock) = text.strip_suffix(['Z', 'z']) {
        return Some((clock, Some(Offset::UTC)));
    }
    let Some(at) = text.rfind(['+', '-', '\u{2212}']) else { return Some((text, None)) };
    let (clock, offset) = text.split_at_checked(at)?;
    let west = !offset.starts_with('+');
    let digits: String = offset.chars().filter(char::is_ascii_digit).collect();
    let (hours, minutes) = match digits.len() {
        2 => (digits.parse::<i32>().ok()?, 0),
        4 => (digits.get(..2)?.parse().ok()?, digits.get(2..)?.parse().ok()?),
        _ => return None,
    };
    if minutes > 59 {
        return None;
    }
    let seconds = (hours * 60 + minutes) * 60;
    Some((clock, Some(Offset::from_seconds(if west { -seconds } else { seconds }).ok()?)))
}

/// `14:30`, `14:30:15`, `2:30 pm`.
fn parse_clock(text: &str) -> Option<civil::Time> {
    let small = text.to_ascii_lowercase();
    let (clock, half) = match (small.strip_suffix("am"), small.strip_suffix("pm")) {
        (Some(clock), _) => (clock.trim(), Some(0)),
        (_, Some(clock)) => (clock.trim(), Some(12)),
        _ => (small.as_str(), None),
    };
    let mut parts = clock.split(':');
    let hour: i8 = parts.next()?.parse().ok()?;
    let minute: i8 = parts.next()?.parse().ok()?;
    let second: i8 = parts.next().map_or(Some(0), |part| part.parse().ok())?;
    if parts.next().is_some() {
        return None;
    }
    let hour = match half {
        Some(half) if (1..=12).contains(&hour) => hour % 12 + half,
        Some(_) => return None,
        None => hour,
    };
    civil::Time::new(hour, minute, second, 0).ok()
}

impl Reads for Moment {
    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let moment = Moment::parse(reader.text(node)?, reader.span(node));
        match moment {
            Some(moment) => reader.moments.push(moment),
            None => reader.report_value(node, ProblemKind::BadTime, MOMENT),
        }
        moment
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Moment>("moment", |_| json!({ "description": MOMENT, "type": "string" }))
    }
}

/// A time zone of the zone database.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Zone {
    /// Its name: `America/New_York`.
    pub name: String,
    /// Its clock changes.
    pub zone: TimeZone,
}

const ZONE: &str = "a zone of the zone database, by region and town: America/New_York";

impl Reads for Zone {
    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let name = reader.text(node)?;
        match TimeZone::get(name) {
            Ok(zone) if name.contains('/') || name == "UTC" => Some(Zone { name: name.to_owned(), zone }),
            _ => {
                reader.report_value(node, ProblemKind::BadTime, ZONE);
                None
            }
        }
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Zone>("zone", |_| {
            let mut schema = single_value();
            if let Some(schema) = schema.as_object_mut() {
                schema.insert("description".to_owned(), json!(ZONE));
            }
            schema
        })
    }
}

/// The moments that the clocks of a zone show twice or never.
#[must_use]
pub fn check_clocks(moments: &[Moment], zone: Option<&Zone>) -> Vec<Problem> {
    let Some(zone) = zone else { return Vec::new() };
    let mut problems = Vec::new();
    for moment in moments.iter().filter(|moment| moment.offset.is_none()) {
        let (what, before, after) = match zone.zone.to_ambiguous_timestamp(moment.local).offset() {
            AmbiguousOffset::Unambiguous { .. } => continue,
            AmbiguousOffset::Gap { before, after } => ("which the clocks there never show", before, after),
            AmbiguousOffset::Fold { before, after } => ("which the clocks there show twice", before, after),
        };
        let problem = Problem::new(ProblemKind::ClockChange, moment.at)
            .found(format!("{}, {what}", shown(moment.local)))
            .accepts(format!("the time with its offset: {0} {before} or {0} {after}", shown(moment.local)));
        problems.push(problem);
    }
    problems
}

/// A moment as it would be written.
fn shown(local: civil::DateTime) -> String {
    local.to_string().replace('T', " ")
}
