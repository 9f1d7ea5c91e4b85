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

/// What the calendar and the clock on a wall show: a moment only once it is known how far that clock is from
/// universal time.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct ClockReading {
    local: civil::DateTime,
    offset: Option<Offset>,
}

/// A moment, with the offset from universal time that clocks showed where it was noted.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Instant {
    moment: Timestamp,
    offset: Offset,
}

/// A time zone with its rules.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Zone(TimeZone);

/// Why a reading of a clock names no instant.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum NoInstant {
    /// It has no offset and the place has no known zone.
    NoZone,
    /// The clocks there show it twice.
    Twice,
    /// The clocks there never show it.
    Never,
}

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

/// What is accepted as a date.
pub const DATE: &str = "the date as year-month-day, such as 2026-05-14";
/// What is accepted as a moment.
pub const MOMENT: &str = "the day and the time, such as 2026-05-14 14:30";
/// What is accepted as a zone.
pub const ZONE: &str = "the zone by region and town, such as America/New_York";

/// A number written in nothing but digits.
fn digits(text: &str) -> Option<i64> {
    let plain = !text.is_empty() && text.len() <= 4 && text.bytes().all(|byte| byte.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// A day of the calendar, in the years that buildings and their papers are from.
fn civil_date(year: i64, month: i64, day: i64) -> Option<Date> {
    if !(1600..=2400).contains(&year) {
        return None;
    }
    let date =
        civil::Date::new(i16::try_from(year).ok()?, i8::try_from(month).ok()?, i8::try_from(day).ok()?);
    date.ok().map(Date)
}

/// What is wrong with a text that is no date, with the date that may be meant.
fn date_fault(body: &str) -> TimeFault {
    let dates =
        other_order(body).or_else(|| month_in_letters(body).map(|date| vec![date])).unwrap_or_default();
    match dates.as_slice() {
        [] => TimeFault::new(body, too_late(body).unwrap_or_else(|| DATE.to_owned())),
        [one] => TimeFault { nearest: Some(one.clone()), ..TimeFault::new(body, "") },
        [month_first, day_first, ..] => {
            let day = day_first.rsplit('-').next().unwrap_or("");
            let accepts = format!(
                "the date as year-month-day: {month_first}, or {day_first} if the first number, {}, is the day",
                day.trim_start_matches('0')
            );
            TimeFault::new(body, accepts)
        }
    }
}

/// What is wrong with the thirtieth of February.
fn too_late(body: &str) -> Option<String> {
    let numbers: Vec<i64> = body.split('-').map(digits).collect::<Option<_>>()?;
    let [year, month, day] = numbers.as_slice() else { return None };
    let first = civil_date(*year, *month, 1)?;
    (*day > 28)
        .then(|| format!("a day that the calendar has: that month has {} days", first.0.days_in_month()))
}

/// The date of `May 12, 2026` and `12 May 2026`.
fn month_in_letters(text: &str) -> Option<String> {
    const MONTHS: [&str; 12] =
        ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let words: Vec<&str> = text.split([' ', ',', '.', '-', '/']).filter(|word| !word.is_empty()).collect();
    let [a, b, year] = words.as_slice() else { return None };
    let number = |word: &str| digits(word.trim_end_matches(|c: char| c.is_alphabetic()));
    let month = |word: &str| {
        let start = word.get(..3)?.to_lowercase();
        MONTHS.iter().position(|month| *month == start).and_then(|at| i64::try_from(at + 1).ok())
    };
    let (month, day) = match (month(a), month(b)) {
        (Some(month), _) => (month, number(b)?),
        (None, Some(month)) => (month, number(a)?),
        (None, None) => return None,
    };
    let year = number(year)?;
    civil_date(if year < 100 { year + 2000 } else { year }, month, day).map(|date| date.to_string())
}

/// The dates that may be meant by one that is written in another order, the one with the month first first.
fn other_order(text: &str) -> Option<Vec<String>> {
    let numbers: Vec<i64> =
        text.split(['/', '.', '-']).map(|part| digits(part.trim())).collect::<Option<_>>()?;
    let [a, b, c] = numbers.as_slice() else { return None };
    let orders = if *a > 31 { vec![(*a, *b, *c)] } else { vec![(*c, *a, *b), (*c, *b, *a)] };
    let mut dates: Vec<String> = Vec::new();
    for (year, month, day) in orders {
        let year = if year < 100 { year + 2000 } else { year };
        let date = civil_date(year, month, day).map(|date| date.to_string());
        dates.extend(date.filter(|date| !dates.contains(date)));
    }
    (!dates.is_empty()).then_some(dates)
}

impl Date {
    /// Reads a date: year, month and day in digits, joined by hyphens.
    pub fn parse(text: &str) -> Result<Date, TimeFault> {
        let body = text.trim();
        let parts: Vec<&str> = body.split('-').collect();
        if let [year, month, day] = parts.as_slice()
            && (year.len(), month.len(), day.len()) == (4, 2, 2)
            && let (Some(year), Some(month), Some(day)) = (digits(year), digits(month), digits(day))
            && let Some(date) = civil_date(year, month, day)
        {
            return Ok(date);
        }
        Err(date_fault(body))
    }

    /// How many days later another date is; negative when it is earlier. The first day is not counted.
    #[must_use]
    pub fn days_until(self, later: Date) -> i64 {
        self.0.duration_until(later.0).as_hours() / 24
    }

    /// How many months of the calendar it takes to reach a later date; one that is begun counts. Nought or less when the
    /// date is not later.
    #[must_use]
    pub fn months_until(self, later: Date) -> i64 {
        let years = i64::from(later.0.year()) - i64::from(self.0.year());
        let months = i64::from(later.0.month()) - i64::from(self.0.month());
        years * 12 + months + i64::from(later.0.day() > self.0.day())
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
        let names: Vec<String> = ZONES.available().map(|known| known.as_str().to_owned()).collect();
        let near = nearest(body, names.iter().map(String::as_str));
        Err(TimeFault { nearest: near, ..TimeFault::new(body, ZONE) })
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        self.0.iana_name().unwrap_or("UTC")
    }
}

impl ClockReading {
    /// Reads a date and a time of day, perhaps with an offset (`-04:00`, `Z`). The hour may be told with am or pm.
    pub fn parse(text: &str) -> Result<ClockReading, TimeFault> {
        let body = text.trim();
        let read = || {
            let (day, rest) = body.split_at_checked(10)?;
            let date = Date::parse(day).ok()?;
            let (clock, offset) = split_offset(rest.strip_prefix(['T', 't', ' '])?.trim());
            let local = date.0.to_datetime(time_of_day(clock)?);
            let offset = match offset {
                Some(offset) => Some(read_offset(offset)?),
                None => None,
            };
            Some(ClockReading { local, offset })
        };
        read().ok_or_else(|| TimeFault::new(body, MOMENT))
    }

    /// The instant it names. An offset that is written beside it comes before the zone of the place.
    pub fn instant(self, zone: Option<&Zone>) -> Result<Instant, NoInstant> {
        let offset = match (self.offset, zone) {
            (Some(offset), _) => offset,
            (None, None) => return Err(NoInstant::NoZone),
            (None, Some(zone)) => match zone.0.to_ambiguous_timestamp(self.local).offset() {
                AmbiguousOffset::Unambiguous { offset } => offset,
                AmbiguousOffset::Gap { .. } => return Err(NoInstant::Never),
                AmbiguousOffset::Fold { .. } => return Err(NoInstant::Twice),
            },
        };
        let moment = offset.to_timestamp(self.local).map_err(|_| NoInstant::Never)?;
        Ok(Instant { moment, offset })
    }

    /// The day that the calendar on the wall shows.
    #[must_use]
    pub fn day(self) -> Date {
        Date(self.local.date())
    }

    /// Whether one clock showed this later than the other reading; false for readings with different offsets.
    #[must_use]
    pub fn is_after_on_the_same_clock(self, other: ClockReading) -> bool {
        self.offset == other.offset && self.local > other.local
    }

    /// What is wrong with it when the clocks of the zone show it twice or never.
    #[must_use]
    pub fn clock_fault(self, zone: &Zone) -> Option<TimeFault> {
        if self.offset.is_some() {
            return None;
        }
        let (what, before, after) = match zone.0.to_ambiguous_timestamp(self.local).offset() {
            AmbiguousOffset::Unambiguous { .. } => return None,
            AmbiguousOffset::Gap { before, after } => ("which the clocks there never show", before, after),
            AmbiguousOffset::Fold { before, after } => ("which the clocks there show twice", before, after),
        };
        let (before, after) = (offset_text(before), offset_text(after));
        Some(TimeFault {
            kind: ProblemKind::ClockChange,
            found: format!("{self}, {what}"),
            accepts: format!("the time with its offset: {self} {before} or {self} {after}"),
            nearest: None,
        })
    }
}

impl std::fmt::Display for ClockReading {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (hour, minute, second) = (self.local.hour(), self.local.minute(), self.local.second());
        write!(out, "{} {hour:02}:{minute:02}:{second:02}", Date(self.local.date()))?;
        self.offset.map_or(Ok(()), |offset| write!(out, " {}", offset_text(offset)))
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
