//! Hours and days round a radon test, over changes of the clocks that took place or are laid down. Source of all
//! changes: the tz database (<https://www.iana.org/time-zones>), files `northamerica`, `europe` and `australasia`; the
//! hours and days between were counted by hand.

use undercroft::base::number::Number;
use undercroft::base::text::{Source, SourceId};
use undercroft::base::value::{Answer, Value};
use undercroft::base::vocabulary::{Answers, ROOT, Thing};
use undercroft::design::{Design, read};
use undercroft::facts::{Facts, vocabulary};

fn design(zone: &str, started: &str, closed: &str, start: &str, stop: &str) -> Design {
    let zone = if zone.is_empty() { String::new() } else { format!("site: {{zone: {zone}}}\n") };
    let text = format!(
        "undercroft: 1\n{zone}start_up: {{fan_started: {started}}}\nradon_tests: {{t: {{of: air, when: after, closed_since: {closed}, start: {start}, stop: {stop}}}}}\n"
    );
    let source = Source::new("design.yaml", text.as_str());
    let (tree, problems) = undercroft::yaml::scan::read(SourceId(0), source.text());
    assert!(problems.is_empty(), "{problems:#?}");
    read(&source, &tree).0
}

fn test_of(facts: &mut Facts<'_>) -> Thing {
    let list = vocabulary().find_fact(ROOT.kind, "tests").unwrap();
    match facts.ask(list, ROOT) {
        Answer::Known { value: Value::Things(things), .. } => things.items[0],
        other => panic!("{other:?}"),
    }
}

/// A fact of the test in minutes, or the entries that it wants.
fn asked(facts: &mut Facts<'_>, name: &str) -> Result<i64, Vec<String>> {
    let it = test_of(facts);
    let id = vocabulary().find_fact(it.kind, name).unwrap();
    match facts.ask(id, it) {
        Answer::Known { value: Value::Number(Number::Exact(seconds)), .. } => {
            Ok(seconds.to_int().unwrap() / 60)
        }
        Answer::Unknown(missing) => Err(missing.iter().map(|one| one.entry.to_string()).collect()),
        other => panic!("{name}: {other:?}"),
    }
}

const HOUR: i64 = 60;
const DAY: i64 = 24 * HOUR;

#[test]
fn hours_are_hours_and_days_are_dates_over_every_kind_of_clock_change() {
    // Zone, fan started, test begun, minutes between, dates between.
    let table = [
        // No change at all.
        ("America/New_York", "2026-06-08 14:00", "2026-06-09 14:00", 24 * HOUR, 1),
        ("America/Phoenix", "2026-03-07 14:00", "2026-03-08 14:00", 24 * HOUR, 1),
        // Put forward by an hour on 8 March 2026, put back on 1 November 2026.
        ("America/New_York", "2026-03-07 14:00", "2026-03-08 14:00", 23 * HOUR, 1),
        ("America/New_York", "2026-10-31 14:00", "2026-11-01 13:00", 24 * HOUR, 1),
        ("America/New_York", "2026-03-07 23:59", "2026-03-08 00:01", 2, 1),
        // The rule in force until 2006: put forward on the first Sunday of April.
        ("America/New_York", "2006-04-01 14:00", "2006-04-02 14:00", 23 * HOUR, 1),
        ("America/New_York", "2006-03-11 14:00", "2006-03-12 14:00", 24 * HOUR, 1),
        // 29 March and 25 October 2026 in Europe.
        ("Europe/London", "2026-03-28 12:00", "2026-03-29 12:00", 23 * HOUR, 1),
        ("Europe/London", "2026-10-24 12:00", "2026-10-25 12:00", 25 * HOUR, 1),
        // Half an hour, put back on 5 April and forward on 4 October 2026.
        ("Australia/Lord_Howe", "2026-04-04 12:00", "2026-04-05 12:00", 24 * HOUR + 30, 1),
        ("Australia/Lord_Howe", "2026-10-03 12:00", "2026-10-04 12:00", 23 * HOUR + 30, 1),
        // The day that was left out: Samoa went from 29 to 31 December 2011.
        ("Pacific/Apia", "2011-12-29 12:00", "2011-12-31 12:00", 24 * HOUR, 2),
        // The thirtieth day, over both sorts of change.
        ("America/New_York", "2026-02-20 09:00", "2026-03-22 09:00", 30 * DAY - HOUR, 30),
        ("America/New_York", "2026-10-10 23:00", "2026-11-09 01:00", 29 * DAY + 3 * HOUR, 30),
        // Begun before the fan.
        ("America/New_York", "2026-06-08 14:00", "2026-06-07 14:00", -24 * HOUR, -1),
    ];
    for (zone, started, begun, minutes, days) in table {
        let design = design(zone, started, started, begun, begun);
        let mut facts = Facts::new(&design);
        let said = format!("{zone}: {started} to {begun}");
        assert_eq!(asked(&mut facts, "hours_to_start"), Ok(minutes), "{said}");
        assert_eq!(asked(&mut facts, "hours_to_end"), Ok(minutes), "{said}");
        assert_eq!(asked(&mut facts, "closed_before"), Ok(minutes), "{said}");
        assert_eq!(asked(&mut facts, "days_to_start"), Ok(days * DAY), "{said}");
        assert_eq!(asked(&mut facts, "days_to_end"), Ok(days * DAY), "{said}");
        assert_eq!(asked(&mut facts, "duration"), Ok(0), "{said}");
    }
}

#[test]
fn a_time_shown_twice_or_never_tells_nothing_until_its_offset_is_written() {
    // Zone, a time that is no instant there, what it is with each offset that clocks had.
    let table = [
        ("America/New_York", "2026-11-01 01:30", [("-04:00", 13 * HOUR + 30), ("-05:00", 14 * HOUR + 30)]),
        ("America/New_York", "2026-03-08 02:30", [("-05:00", 14 * HOUR + 30), ("-04:00", 13 * HOUR + 30)]),
        ("Europe/London", "2026-10-25 01:15", [("+01:00", 13 * HOUR + 15), ("Z", 14 * HOUR + 15)]),
        ("Australia/Lord_Howe", "2026-04-05 01:45", [("+11:00", 13 * HOUR + 45), ("+10:30", 14 * HOUR + 15)]),
        ("Australia/Lord_Howe", "2026-10-04 02:15", [("+10:30", 14 * HOUR + 15), ("+11:00", 13 * HOUR + 45)]),
    ];
    for (zone, time, offsets) in table {
        let (year, rest) = time.split_at(8);
        let day: i64 = rest[..2].parse().unwrap();
        let before =
            if day == 1 { "2026-10-31 12:00".to_owned() } else { format!("{year}{:02} 12:00", day - 1) };
        let bare = design(zone, &before, &before, time, time);
        let mut facts = Facts::new(&bare);
        for fact in ["hours_to_start", "days_to_start", "closed_before"] {
            assert_eq!(
                asked(&mut facts, fact),
                Err(vec!["radon_tests.t.start".into()]),
                "{zone}: {time}: {fact}"
            );
        }
        for (offset, minutes) in offsets {
            let written = format!("{time} {offset}");
            let design = design(zone, &before, &before, &written, &written);
            assert_eq!(asked(&mut Facts::new(&design), "hours_to_start"), Ok(minutes), "{zone}: {written}");
        }
    }
}

#[test]
fn without_the_zone_of_the_place_times_need_their_offsets() {
    let bare = design("", "2026-06-08 14:00", "2026-06-15 20:00", "2026-06-16 09:00", "2026-06-19 09:00");
    let mut facts = Facts::new(&bare);
    for fact in ["hours_to_start", "days_to_end", "closed_before", "duration", "hours_after_start_up"] {
        assert_eq!(asked(&mut facts, fact), Err(vec!["site.zone".into()]), "{fact}");
    }
    let offset = design(
        "",
        "2026-06-08 14:00 -04:00",
        "2026-06-15 20:00 -04:00",
        "2026-06-16 09:00 -04:00",
        "2026-06-16 13:00Z",
    );
    let mut facts = Facts::new(&offset);
    assert_eq!(asked(&mut facts, "closed_before"), Ok(13 * HOUR));
    assert_eq!(asked(&mut facts, "duration"), Ok(0));
    let half =
        design("", "2026-06-08 14:00 -04:00", "unknown", "2026-06-16 09:00", "2026-06-19 09:00 -04:00");
    let mut facts = Facts::new(&half);
    assert_eq!(asked(&mut facts, "hours_to_start"), Err(vec!["site.zone".into()]));
    assert_eq!(asked(&mut facts, "hours_to_end"), Ok(10 * DAY + 19 * HOUR));
    assert_eq!(
        asked(&mut facts, "closed_before"),
        Err(vec!["radon_tests.t.closed_since".into(), "site.zone".into()])
    );
}
