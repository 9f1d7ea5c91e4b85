//! Clock changes of 2026 in the United States (8 March and 1 November, at 2 in the morning): 15 U.S.C. 260a.

use super::*;

fn new_york() -> Zone {
    Zone::named("America/New_York").unwrap()
}

fn read(text: &str) -> ClockReading {
    ClockReading::parse(text).unwrap()
}

fn at(text: &str) -> Instant {
    read(text).instant(Some(&new_york())).unwrap()
}

fn hours(number: i64) -> Number {
    Number::whole(number * 3600)
}

#[test]
fn dates_are_read_in_one_order_only() {
    assert_eq!(Date::parse(" 2026-05-12 ").unwrap().to_string(), "2026-05-12");
    let meant = |text: &str| Date::parse(text).unwrap_err().nearest;
    assert_eq!(meant("5/13/2026").as_deref(), Some("2026-05-13"));
    assert_eq!(meant("13.5.2026").as_deref(), Some("2026-05-13"));
    let both = Date::parse("5/12/2026").unwrap_err();
    assert_eq!(both.nearest, None, "neither is preferred");
    assert!(both.accepts.contains("2026-05-12, or 2026-12-05 if the first number, 5, is the day"));
    assert_eq!(meant("May 12, 2026").as_deref(), Some("2026-05-12"));
    assert_eq!(meant("12 Mai 2026"), None);
    assert_eq!(meant("5/28/26").as_deref(), Some("2026-05-28"));
    assert_eq!(meant("2026-5-2").as_deref(), Some("2026-05-02"));
    for refused in
        ["2026-02-29", "2026-13-01", "0026-05-12", "20260512", "tomorrow", "", "2026-05-12x", "５-05-12"]
    {
        assert_eq!(Date::parse(refused).unwrap_err().kind, ProblemKind::BadTime, "{refused}");
    }
    assert!(Date::parse("2024-02-29").is_ok());
}

#[test]
fn days_are_counted_without_the_first() {
    let date = |text| Date::parse(text).unwrap();
    assert_eq!(date("2026-03-01").days_until(date("2026-03-31")), 30);
    assert_eq!(date("2024-02-28").days_until(date("2024-03-01")), 2);
    assert_eq!(date("2026-05-12").days_until(date("2026-05-11")), -1);
    assert_eq!(date("2026-02-27").plus_days(2), Some(date("2026-03-01")));
}

#[test]
fn hours_are_hours_over_a_change_of_the_clocks() {
    assert_eq!(at("2026-03-07 12:00").until(at("2026-03-08 12:00")), hours(23));
    assert_eq!(at("2026-10-31 12:00").until(at("2026-11-01 12:00")), hours(25));
    assert_eq!(at("2026-05-12 12:00").until(at("2026-05-13 12:00")), hours(24));
    assert_eq!(at("2026-05-12 12:00").until(at("2026-05-12 11:00")), hours(-1));
}

#[test]
fn a_time_that_clocks_show_never_or_twice_is_not_guessed() {
    let zone = new_york();
    let never = read("2026-03-08 02:30");
    assert_eq!(never.instant(Some(&zone)), Err(NoInstant::Never));
    assert_eq!(never.clock_fault(&zone).unwrap().kind, ProblemKind::ClockChange);
    let twice = read("2026-11-01 01:30");
    assert_eq!(twice.instant(Some(&zone)), Err(NoInstant::Twice));
    let fault = twice.clock_fault(&zone).unwrap();
    assert_eq!(fault.found, "2026-11-01 01:30:00, which the clocks there show twice");
    assert!(fault.accepts.ends_with("2026-11-01 01:30:00 -04:00 or 2026-11-01 01:30:00 -05:00"));
    let first = read("2026-11-01 01:30 -04:00");
    assert_eq!(first.clock_fault(&zone), None);
    let second = read("2026-11-01 01:30 -05:00").instant(None).unwrap();
    assert_eq!(first.instant(None).unwrap().until(second), hours(1));
    assert_eq!(read("2026-11-01 03:30").clock_fault(&zone), None);
}

#[test]
fn instants_are_read_with_an_offset_or_in_the_zone() {
    assert_eq!(at("2026-05-12T14:30").to_string(), "2026-05-12T14:30:00-04:00");
    assert_eq!(at("2026-01-12 2:30 pm").to_string(), "2026-01-12T14:30:00-05:00");
    assert_eq!(at("2026-01-12 12:05 AM").to_string(), "2026-01-12T00:05:00-05:00");
    assert_eq!(at("2026-05-12 14:30:05Z").to_string(), "2026-05-12T14:30:05Z");
    assert_eq!(at("2026-05-12 14:30+0530").to_string(), "2026-05-12T14:30:00+05:30");
    assert_eq!(read("2026-05-12 14:30").instant(None), Err(NoInstant::NoZone));
    for refused in [
        "2026-05-12",
        "2026-05-12 25:00",
        "2026-05-12 2:3",
        "2026-05-12 14:30 pm",
        "2026-05-12 14:30 +99:00",
        "2026-05-12 0:30 am",
        "14:30",
        "2026-05-12 14:30 EST",
        "2026-05-1½ 14:30",
        "2026-05-12 14:30 +5",
    ] {
        assert_eq!(ClockReading::parse(refused).unwrap_err().kind, ProblemKind::BadTime, "{refused}");
    }
}

#[test]
fn the_date_of_an_instant_depends_on_where_one_looks() {
    let late = at("2026-05-12 23:30");
    assert_eq!(late.date().to_string(), "2026-05-12");
    assert_eq!(late.date_in(&Zone::named("Europe/London").unwrap()).to_string(), "2026-05-13");
}

#[test]
fn zones_are_known_by_their_names() {
    assert_eq!(new_york().name(), "America/New_York");
    let fault = Zone::named("America/NewYork").unwrap_err();
    assert_eq!(fault.nearest.as_deref(), Some("America/New_York"));
    assert!(Zone::named("../../etc/passwd").is_err());
    assert!(Zone::named("").is_err());
}
