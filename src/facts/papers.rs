//! Facts of papers: which there are, what each tells, how long it is kept, and when somebody looks at the system again.

use crate::base::number::{Dimension, Number};
use crate::base::time::Date;
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::{ROOT, Thing};
use crate::design::model::papers::{Paper, PaperKind, PaperTells};
use crate::yaml::entry::{Entry, Here};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get, words};
use super::kinds::Kind;
use super::radon_tests::{CALENDAR, instant, test};
use super::things::of;
use super::whole::lacking;
use crate::base::value::Listed;

fn paper<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Paper) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.papers, get)
}

/// Whether a paper tells something: known as soon as what it tells is listed.
fn tells(ask: &mut Ask<'_>, it: Thing, what: PaperTells) -> Answer<bool> {
    paper(ask, it, |ask, paper| {
        ask.read(&paper.here, &paper.tells).then(|list| {
            let Some(list) = list else { return Answer::known(false) };
            let mut missing = Vec::new();
            for item in &list.items {
                match item.answer() {
                    Answer::Known { value: Some(word), .. } if *word == what => return Answer::known(true),
                    Answer::Known { .. } => {}
                    Answer::Unknown(more) => missing = unite(missing, more),
                }
            }
            if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
        })
    })
}

/// # Meaning
/// The day on which the last test of radon in air after start-up ended.
/// # Formula
/// The latest of the days on which such tests ended, by the clocks of the site.
/// # Valid for
/// Designs with at least one such test.
/// # Accuracy
/// A calendar day.
/// # Source
/// The record of the tests.
/// # Errors
/// Unknown while an end is not stated, or the list of tests is not known to be whole.
/// # Example
/// Tests that ended on 2026-06-19 and on 2026-07-03: the third of July.
pub(crate) fn last_test(ask: &mut Ask<'_>) -> Answer<Date> {
    let design = ask.design();
    let want = design.radon_tests.want(&design.here);
    ask.several(ROOT, "tests").then(|tests| {
        let mut missing = tests.open.clone();
        let mut last: Option<Date> = None;
        for it in tests.items {
            match test(ask, it, |ask, test| instant(ask, &test.here, &test.stop)) {
                Answer::Known { value, .. } => last = last.max(Some(value.date())),
                Answer::Unknown(more) => missing = unite(missing, more),
            }
        }
        match last {
            Some(day) if missing.is_empty() => Answer::known(day),
            _ if missing.is_empty() => Answer::missing(Missing {
                reason: Reason::NotComputable("no test was made after start-up".to_owned()),
                ..want
            }),
            _ => Answer::Unknown(missing),
        }
    })
}

/// A day of the plan for looking after the system.
fn planned<'d>(
    ask: &mut Ask<'d>,
    key: &'static str,
    get: fn(&'d crate::design::model::papers::Upkeep) -> &'d Entry<Date>,
) -> Answer<Date> {
    let papers = &ask.design().papers;
    ask.value_inside(&papers.here, &papers.upkeep, key, |upkeep| (&upkeep.here, get(upkeep))).map(|day| *day)
}

fn months(from: Answer<Date>, to: Answer<Date>) -> Answer<Number> {
    from.both(to).map(|(from, to)| Number::whole(from.months_until(to)))
}

const TELLS: &[Entries] = &[&["papers.list.*.tells"]];

const fn tells_of(
    name: &'static str,
    meaning: &'static str,
    get: fn(&mut Ask<'_>, Thing) -> Answer<bool>,
) -> Fact {
    Fact::stated(Kind::Paper, name, meaning, TELLS, Get::Truth(get))
}

/// Facts of papers as a whole.
pub(super) const PAPERS: &[Fact] = &[
    Fact::stated(
        Kind::Papers,
        "list",
        "The papers that are kept or handed over; complete as written.",
        &[&["papers.list"]],
        Get::Things(Kind::Paper, |ask, _| {
            let papers = &ask.design().papers;
            let open = lacking(ask, &papers.here, &papers.list);
            Answer::known(Listed::open(ask.things().all(Kind::Paper), open))
        }),
    ),
    Fact::stated(
        Kind::Papers,
        "warranty_years",
        "For how many years the work is warranted; nought where it is not.",
        &[&["papers.warranty_years"]],
        Get::Number(Dimension::ONE, |ask, _| {
            let papers = &ask.design().papers;
            ask.read(&papers.here, &papers.warranty_years)
                .map(|years| Number::whole(years.map_or(0, |years| i64::from(years.0))))
        }),
    ),
    Fact::stated(
        Kind::Papers,
        "test_kit_left",
        "Whether a kit for a test over months was left in the dwelling.",
        &[&["papers.test_kit_left"]],
        Get::Truth(|ask, _| {
            let papers = &ask.design().papers;
            ask.yes_or_no(&papers.here, &papers.test_kit_left)
        }),
    ),
    Fact {
        of: Kind::Papers,
        name: "months_to_next_test",
        meaning: "The months of the calendar from the last radon test after start-up to the next one that is planned; one that is begun counts.",
        formula: "the months from the day on which the last test ended to the planned day",
        source: CALENDAR,
        needs: &[&[
            "radon_tests",
            "radon_tests.*.when",
            "radon_tests.*.stop",
            "site.zone",
            "papers.upkeep",
            "papers.upkeep.next_test",
        ]],
        get: Get::Number(Dimension::ONE, |ask, _| {
            let last = last_test(ask);
            let next = planned(ask, "next_test", |upkeep| &upkeep.next_test);
            months(last, next)
        }),
    },
    Fact {
        of: Kind::Papers,
        name: "months_to_next_look",
        meaning: "The months of the calendar from start-up to the next look at the system that is planned; one that is begun counts.",
        formula: "the months from the day of start-up to the planned day",
        source: CALENDAR,
        needs: &[&["start_up.on", "papers.upkeep", "papers.upkeep.next_look"]],
        get: Get::Number(Dimension::ONE, |ask, _| {
            let start_up = &ask.design().start_up;
            let from = ask.value(&start_up.here, &start_up.on).map(|day| *day);
            let next = planned(ask, "next_look", |upkeep| &upkeep.next_look);
            months(from, next)
        }),
    },
];

fn here_of<'d, T>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: fn(&'d Paper) -> (&'d Here, &'d Entry<T>),
) -> Answer<bool> {
    paper(ask, it, |ask, paper| {
        let (here, entry) = get(paper);
        ask.is_there(here, entry)
    })
}

/// Facts of one paper.
pub(super) const PAPER: &[Fact] = &[
    Fact::stated(
        Kind::Paper,
        "kind",
        "What the paper is.",
        &[&["papers.list.*.kind"]],
        Get::Word(words::<PaperKind>, |ask, it| paper(ask, it, |ask, p| ask.stated_word(&p.here, &p.kind))),
    ),
    Fact::stated(
        Kind::Paper,
        "done",
        "Whether the paper exists.",
        &[&["papers.list.*.done"]],
        Get::Truth(|ask, it| paper(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.done))),
    ),
    Fact::stated(
        Kind::Paper,
        "handed_over",
        "Whether the paper was handed over or sent: a day is stated for it.",
        &[&["papers.list.*.handed_over"]],
        Get::Truth(|ask, it| here_of(ask, it, |p| (&p.here, &p.handed_over))),
    ),
    Fact::stated(
        Kind::Paper,
        "signed",
        "Whether the paper is signed.",
        &[&["papers.list.*.signed"]],
        Get::Truth(|ask, it| paper(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.signed))),
    ),
    tells_of(
        "tells_contractor",
        "Whether the paper tells who does the work, with licence or certificate.",
        |ask, it| tells(ask, it, PaperTells::Contractor),
    ),
    tells_of(
        "tells_work_and_time",
        "Whether the paper tells what is done and how long it takes.",
        |ask, it| tells(ask, it, PaperTells::WorkAndTime),
    ),
    tells_of(
        "tells_solvents",
        "Whether the paper tells what solvents do and how the rooms are aired.",
        |ask, it| tells(ask, it, PaperTells::Solvents),
    ),
    tells_of("tells_rules_kept", "Whether the paper tells the rules that the work keeps to.", |ask, it| {
        tells(ask, it, PaperTells::RulesKept)
    }),
    tells_of(
        "tells_departures",
        "Whether the paper tells where the work departs from the rules.",
        |ask, it| tells(ask, it, PaperTells::Departures),
    ),
    tells_of("tells_price", "Whether the paper tells what the work costs.", |ask, it| {
        tells(ask, it, PaperTells::Price)
    }),
    tells_of(
        "tells_running_cost",
        "Whether the paper tells what the system costs to run in a year.",
        |ask, it| tells(ask, it, PaperTells::RunningCost),
    ),
    tells_of(
        "tells_upgrade_cost",
        "Whether the paper tells what bringing an older system up to the rules costs.",
        |ask, it| tells(ask, it, PaperTells::UpgradeCost),
    ),
    tells_of("tells_warranty", "Whether the paper tells what is warranted and for how long.", |ask, it| {
        tells(ask, it, PaperTells::Warranty)
    }),
    tells_of("tells_contract", "Whether the paper tells the contract.", |ask, it| {
        tells(ask, it, PaperTells::Contract)
    }),
    tells_of("tells_permits", "Whether the paper tells the permits.", |ask, it| {
        tells(ask, it, PaperTells::Permits)
    }),
    tells_of("tells_test_results", "Whether the paper tells the results of radon tests.", |ask, it| {
        tells(ask, it, PaperTells::TestResults)
    }),
    tells_of(
        "tells_investigation",
        "Whether the paper tells what was found when the building was looked over.",
        |ask, it| tells(ask, it, PaperTells::Investigation),
    ),
    tells_of(
        "tells_hazards",
        "Whether the paper tells dangers that were found in the building.",
        |ask, it| tells(ask, it, PaperTells::Hazards),
    ),
    tells_of("tells_how_it_works", "Whether the paper tells how the system works.", |ask, it| {
        tells(ask, it, PaperTells::HowItWorks)
    }),
    tells_of("tells_upkeep", "Whether the paper tells how the system is looked after.", |ask, it| {
        tells(ask, it, PaperTells::Upkeep)
    }),
    tells_of(
        "tells_inspections",
        "Whether the paper tells what is looked at from time to time, and how often.",
        |ask, it| tells(ask, it, PaperTells::Inspections),
    ),
    tells_of(
        "tells_start_up_readings",
        "Whether the paper tells what gauges and other instruments read at start-up.",
        |ask, it| tells(ask, it, PaperTells::StartUpReadings),
    ),
    tells_of(
        "tells_where_things_are",
        "Whether the paper tells where gauges, test ports and switches are.",
        |ask, it| tells(ask, it, PaperTells::WhereThingsAre),
    ),
    tells_of(
        "tells_what_to_do",
        "Whether the paper tells what to do when a gauge or alarm shows that something is wrong.",
        |ask, it| tells(ask, it, PaperTells::WhatToDo),
    ),
    tells_of("tells_energy", "Whether the paper tells the energy the fan takes in a year.", |ask, it| {
        tells(ask, it, PaperTells::Energy)
    }),
    tells_of("tells_phone", "Whether the paper tells whom to call.", |ask, it| {
        tells(ask, it, PaperTells::Phone)
    }),
    tells_of("tells_state_office", "Whether the paper tells the state office to call.", |ask, it| {
        tells(ask, it, PaperTells::StateOffice)
    }),
    tells_of(
        "tells_retest_advice",
        "Whether the paper tells that the house should be tested again, and how often.",
        |ask, it| tells(ask, it, PaperTells::RetestAdvice),
    ),
    tells_of(
        "tells_further_reduction",
        "Whether the paper tells that less radon is better even below the level at which one must act.",
        |ask, it| tells(ask, it, PaperTells::FurtherReduction),
    ),
    tells_of(
        "tells_bearing_walls",
        "Whether the paper tells footings and walls that bear load.",
        |ask, it| tells(ask, it, PaperTells::BearingWalls),
    ),
    tells_of("tells_drains", "Whether the paper tells the drains.", |ask, it| {
        tells(ask, it, PaperTells::Drains)
    }),
    tells_of(
        "tells_heating",
        "Whether the paper tells ducts and equipment for heating and cooling.",
        |ask, it| tells(ask, it, PaperTells::Heating),
    ),
    tells_of(
        "tells_entry_routes",
        "Whether the paper tells where soil gas is thought to come in.",
        |ask, it| tells(ask, it, PaperTells::EntryRoutes),
    ),
    tells_of("tells_pipe_route", "Whether the paper tells where the pipe goes.", |ask, it| {
        tells(ask, it, PaperTells::PipeRoute)
    }),
    tells_of(
        "tells_fan_and_gauge",
        "Whether the paper tells where fan and warning device are.",
        |ask, it| tells(ask, it, PaperTells::FanAndGauge),
    ),
];
