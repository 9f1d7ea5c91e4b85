//! Dates, and instants that everybody agrees on.
//!
//! Windows given in hours are measured between instants, changes of the clocks included; windows given in days
//! are counted between calendar dates. A time of day needs an offset from universal time or the zone of the
//! site. The zone database travels inside the program, so that the same file gives the same answer everywhere.

use std::sync::LazyLock;

use jiff::Timestamp;
use jiff::civil;
use jiff::tz::{AmbiguousOffset, Offset, TimeZone, TimeZoneDatabase};

use super::near::nearest;
use super::number::{Number, Ratio};
use super::problem::{Problem, ProblemKind};
use super::text::Span;

static ZONES: LazyLock<TimeZoneDatabase> = LazyLock::new(TimeZoneDatabase::bundled);

/// A day of the calendar.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub struct Date(civil::Date);

/// A moment, with the offset from universal time that clocks showed where it was noted.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Instant {
    moment: Timestamp,
    offset: Offset,
}

/// A time zone with its rules.
#[derive(Clone, PartialEq, Debug)]
pub struct Zone(TimeZone);

/// Why a text is not a date, a time or a zone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct TimeFault {
    /// `BadTime` or `ClockChange`.
    pub kind: ProblemKind,
    /// What was read.
    pub found: String,
    /// What would be accepted.
    pub accepts: String,
    /// What was likely meant.
    pub nearest: Option<String>,
}

impl TimeFault {
    fn new(found: &str, accepts: impl Into<String>) -> Self {
        let found = found.trim().chars().take(80).collect();
        TimeFault { kind: ProblemKind::BadTime, found, accepts: accepts.into(), nearest: None }
    }

    /// The fault as a problem at a place.
    #[must_use]
    pub fn problem(self, at: Span) -> Problem {
        Problem::new(self.kind, at).found(self.found).accepts(self.accepts).nearest(self.nearest)
    }
}

const DATE_WORDS: &str = "a date as year-month-day, such as 2026-05-12";
const TIME_WORDS: &str = "a date and a time of day, such as 2026-05-12 14:30";

/// Reads a date: year, month and day in digits, joined by hyphens.
pub fn parse_date(text: &str) -> Result<Date, TimeFault> {
    let body = text.trim();
    let parts: Vec<&str> = body.split('-').collect();
    if let [year, month, day] = parts.as_slice()
        && (year.len(), month.len(), day.len()) == (4, 2, 2)
        && let (Some(year), Some(month), Some(day)) = (digits(year), digits(month), digits(day))
    {
        if !(1800..=2199).contains(&year) {
            return Err(TimeFault::new(body, format!("{DATE_WORDS}, in the years 1800 to 2199")));
        }
        return civil_date(year, month, day)
            .ok_or_else(|| TimeFault::new(body, format!("{DATE_WORDS}, that is in the calendar")));
    }
    Err(TimeFault { nearest: other_order(body), ..TimeFault::new(body, DATE_WORDS) })
}

/// A number written in nothing but digits.
fn digits(text: &str) -> Option<i64> {
    let plain = !text.is_empty() && text.len() <= 4 && text.bytes().all(|byte| byte.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

fn civil_date(year: i64, month: i64, day: i64) -> Option<Date> {
    let date =
        civil::Date::new(i16::try_from(year).ok()?, i8::try_from(month).ok()?, i8::try_from(day).ok()?);
    date.ok().map(Date)
}

/// A date that was written in another order, where only one order can be meant.
fn other_order(text: &str) -> Option<String> {
    let numbers: Vec<i64> = text.split(['/', '.', '-', ' ']).map(digits).collect::<Option<_>>()?;
    let [a, b, c] = numbers.as_slice() else { return None };
    let readings: Vec<Date> = if *a > 99 {
        vec![civil_date(*a, *b, *c)]
    } else if *c > 99 {
        vec![civil_date(*c, *a, *b), civil_date(*c, *b, *a)]
    } else {
        vec![]
    }
    .into_iter()
    .flatten()
    .collect();
    match readings.as_slice() {
        [only] => Some(only.to_string()),
        [one, other] if one == other => Some(one.to_string()),
        _ => None,
    }
}

impl Date {
    /// How many days later another date is; negative when it is earlier. The first day is not counted.
    #[must_use]
    pub fn days_until(self, later: Date) -> i64 {
        self.0.duration_until(later.0).as_hours() / 24
    }

    /// The date so many days later; `None` when it leaves the calendar.
    #[must_use]
    pub fn plus_days(self, days: i64) -> Option<Date> {
        self.0.checked_add(jiff::Span::new().try_days(days).ok()?).ok().map(Date)
    }
}

impl std::fmt::Display for Date {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(out, "{:04}-{:02}-{:02}", self.0.year(), self.0.month(), self.0.day())
    }
}

impl Zone {
    /// The zone of that name in the zone database: `America/New_York`.
    pub fn named(name: &str) -> Result<Zone, TimeFault> {
        let body = name.trim();
        let exact = ZONES.available().any(|known| known.as_str() == body);
        if let (true, Ok(zone)) = (exact, ZONES.get(body)) {
            return Ok(Zone(zone));
        }
        let accepts = "the name of a zone, such as America/New_York or America/Chicago";
        let names: Vec<String> = ZONES.available().map(|known| known.as_str().to_owned()).collect();
        let near = nearest(body, names.iter().map(String::as_str));
        Err(TimeFault { nearest: near, ..TimeFault::new(body, accepts) })
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        self.0.iana_name().unwrap_or("UTC")
    }
}

/// Reads an instant: a date and a time of day, with an offset (`-04:00`, `Z`) or in the zone given. The hour may be
/// told with am or pm.
pub fn parse_instant(text: &str, zone: Option<&Zone>) -> Result<Instant, TimeFault> {
    let body = text.trim();
    let fault = || TimeFault::new(body, TIME_WORDS);
    let (day, rest) = body.split_at_checked(10).ok_or_else(fault)?;
    let date = parse_date(day).map_err(|_| fault())?;
    let rest = rest.strip_prefix(['T', 't', ' ']).ok_or_else(fault)?.trim();
    let (clock, offset) = split_offset(rest);
    let local = time_of_day(clock).map(|time| date.0.to_datetime(time)).ok_or_else(fault)?;
    if let Some(offset) = offset {
        let offset = read_offset(offset)
            .ok_or_else(|| TimeFault::new(body, "an offset from universal time, such as -04:00 or Z"))?;
        let moment = offset.to_timestamp(local).map_err(|_| fault())?;
        return Ok(Instant { moment, offset });
    }
    let Some(zone) = zone else {
        let accepts = "a time with its offset, such as 2026-05-12 14:30 -04:00, or the zone of the site";
        return Err(TimeFault::new(body, accepts));
    };
    match zone.0.to_ambiguous_timestamp(local).offset() {
        AmbiguousOffset::Unambiguous { offset } => {
            let moment = offset.to_timestamp(local).map_err(|_| fault())?;
            Ok(Instant { moment, offset })
        }
        AmbiguousOffset::Gap { .. } => Err(TimeFault {
            kind: ProblemKind::ClockChange,
            ..TimeFault::new(body, format!("a time that clocks in {} showed that day", zone.name()))
        }),
        AmbiguousOffset::Fold { before, after } => Err(TimeFault {
            kind: ProblemKind::ClockChange,
            ..TimeFault::new(
                body,
                format!(
                    "{} {clock} {} or {} {clock} {}",
                    date,
                    offset_text(before),
                    date,
                    offset_text(after)
                ),
            )
        }),
    }
}

/// The time of day and, if there is one, the offset behind it.
fn split_offset(text: &str) -> (&str, Option<&str>) {
    if let Some(clock) = text.strip_suffix(['Z', 'z']) {
        return (clock.trim_end(), Some("Z"));
    }
    match text.find(['+', '-', '\u{2212}']) {
        Some(at) => {
            let (clock, offset) = text.split_at(at);
            (clock.trim_end(), Some(offset))
        }
        None => (text, None),
    }
}

fn time_of_day(text: &str) -> Option<civil::Time> {
    let lower = text.to_lowercase();
    let noon = [("am", 0), ("a.m.", 0), ("pm", 12), ("p.m.", 12)];
    let half = noon.iter().find_map(|(word, add)| Some((lower.strip_suffix(word)?.trim_end(), *add)));
    let clock = half.map_or(lower.as_str(), |(clock, _)| clock);
    let parts: Vec<i64> = clock.split(':').map(digits).collect::<Option<_>>()?;
    let two_digits = clock.split(':').skip(1).all(|part| part.len() == 2);
    let (hour, minute, second) = match parts.as_slice() {
        [hour, minute] => (*hour, *minute, 0),
        [hour, minute, second] => (*hour, *minute, *second),
        [hour] if half.is_some() => (*hour, 0, 0),
        _ => return None,
    };
    let hour = match half {
        Some((_, add)) if (1..=12).contains(&hour) => hour % 12 + add,
        Some(_) => return None,
        None => hour,
    };
    if !two_digits {
        return None;
    }
    let part = |value: i64| i8::try_from(value).ok();
    civil::Time::new(part(hour)?, part(minute)?, part(second)?, 0).ok()
}

fn read_offset(text: &str) -> Option<Offset> {
    if text == "Z" {
        return Some(Offset::UTC);
    }
    let sign = if text.starts_with('+') { 1 } else { -1 };
    let body = text.trim_start_matches(['+', '-', '\u{2212}']);
    let (hours, minutes) = body.split_once(':').or_else(|| body.split_at_checked(2))?;
    let minutes = if minutes.is_empty() { "00" } else { minutes };
    if hours.len() != 2 || minutes.len() != 2 {
        return None;
    }
    let (hours, minutes) = (i32::try_from(digits(hours)?).ok()?, i32::try_from(digits(minutes)?).ok()?);
    if hours > 14 || minutes > 59 {
        return None;
    }
    Offset::from_seconds(sign * (hours * 3600 + minutes * 60)).ok()
}

fn offset_text(offset: Offset) -> String {
    let seconds = offset.seconds();
    if seconds == 0 {
        return "Z".to_owned();
    }
    let sign = if seconds < 0 { '-' } else { '+' };
    let minutes = seconds.abs() / 60;
    format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60)
}

impl Instant {
    /// The time that passed until a later instant, as a number of seconds; negative when it is earlier.
    #[must_use]
    pub fn until(self, later: Instant) -> Number {
        Number::exact(Ratio::from_int(later.moment.as_second() - self.moment.as_second()))
    }

    /// The date that clocks and calendars showed where it was noted.
    #[must_use]
    pub fn date(self) -> Date {
        Date(self.offset.to_datetime(self.moment).date())
    }

    /// The date at that instant in a zone.
    #[must_use]
    pub fn date_in(self, zone: &Zone) -> Date {
        Date(zone.0.to_datetime(self.moment).date())
    }
}

impl PartialOrd for Instant {
    fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Instant {
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        self.moment.cmp(&other.moment).then(self.offset.cmp(&other.offset))
    }
}

impl std::fmt::Display for Instant {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let local = self.offset.to_datetime(self.moment);
        let (hour, minute, second) = (local.hour(), local.minute(), local.second());
        let date = Date(local.date());
        write!(out, "{date}T{hour:02}:{minute:02}:{second:02}{}", offset_text(self.offset))
    }
}

#[cfg(test)]
mod tests;
