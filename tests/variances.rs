//! Variances: what is on file excuses what it names, and nothing else, and not for longer.

use undercroft::app::host::memory::Memory;
use undercroft::findings::variance::{Change, Holds, OnFile, Unused};
use undercroft::judge::verdict::Verdict;
use undercroft::render::variance_entry::started;
use undercroft::review::{Input, Library, Review, review};
use undercroft::rulebook::checked::Stops;
use undercroft::yaml::splice::lay_over;

use crate::commands::{call, example};

const WINDOW: &str = "discharge-clear-of-openings of bath_window";
const FINDING: &str = "discharge/openings of opening bath_window";

/// The ranch, with its bath window too near to the discharge and hardly below it.
fn near_window() -> String {
    let near = "{straight: 8 ft 3 in, top_below: 1 ft}";
    lay_over(&example("01"), &[("building.openings.bath_window.from_discharge", near)], &[]).unwrap()
}

fn reviewed<'l>(library: &'l Library, text: &str, on: Option<&str>) -> Review<'l> {
    review(&Input { name: "design.yaml", bytes: text.as_bytes(), on, ..Input::default() }, library)
}

/// The entry that the program starts for what is meant, filled in by somebody.
fn granted(review: &Review<'_>, meant: &str, by: &str) -> String {
    let started = started(review, meant).unwrap();
    let filled = [
        ("reason: ", "reason: the window opens on a light well"),
        ("document: ", "document: 26-017"),
        ("granted_by: ", &format!("granted_by: {by}")),
        ("on: ", "on: 2026-05-10"),
        ("until: ", "until: 2027-05-10"),
    ];
    let line = |line: &str| {
        let key = line.trim_start();
        let found = filled.iter().find(|(start, _)| key.starts_with(start) && key.contains('#'));
        found.map_or(line.to_owned(), |(_, full)| format!("    {full}"))
    };
    started.lines().map(|one| line(one) + "\n").collect()
}

/// The ranch with a near window and a variance for it.
pub(crate) fn with_variance() -> String {
    let library = Library::with(&[]);
    let text = near_window();
    let entry = granted(&reviewed(&library, &text, None), WINDOW, "Town of Alder, building office");
    format!("{text}{entry}")
}

fn verdict(review: &Review<'_>, identity: &str) -> Verdict {
    review.findings.iter().find(|finding| finding.identity == identity).unwrap().verdict()
}

fn only<'r>(review: &'r Review<'_>) -> &'r OnFile {
    assert_eq!(review.variances.len(), 1, "{:?}", review.variances);
    &review.variances[0]
}

/// How the variance of the near window stands after these changes, on this day.
fn stands(changes: &[(&str, &str)], gone: &[&str], on: Option<&str>) -> Holds {
    let library = Library::with(&[]);
    let text = lay_over(&with_variance(), changes, gone).unwrap();
    let review = reviewed(&library, &text, on);
    let holds = only(&review).holds.clone();
    let varied = verdict(&review, FINDING) == Verdict::Varied;
    assert_eq!(varied, holds == Holds::Live, "{holds:?}");
    holds
}

const ENTRY: &str = "variances.bath_window discharge-clear-of-openings";

fn at(key: &str) -> String {
    format!("{ENTRY}.{key}")
}

#[test]
fn a_live_variance_excuses_its_finding_and_is_counted_on_its_own() {
    let library = Library::with(&[]);
    let bare = near_window();
    assert_eq!(verdict(&reviewed(&library, &bare, None), FINDING), Verdict::Unmet);
    let text = with_variance();
    let review = reviewed(&library, &text, None);
    assert!(review.problems.is_empty(), "{:?}", review.problems);
    assert_eq!(only(&review).holds, Holds::Live);
    assert!(!only(&review).self_granted);
    assert_eq!(only(&review).finding.as_deref(), Some(FINDING));
    assert_eq!(verdict(&review, FINDING), Verdict::Varied);
    let mut world = Memory::with([("bare.yaml", bare.as_str()), ("varied.yaml", &text)]);
    assert_eq!(call(&mut world, &["review", "bare.yaml"]).status, 1);
    let came = call(&mut world, &["review", "--width", "160", "varied.yaml"]);
    assert_eq!(came.status, 0, "{}", came.printed);
    for said in [
        "1 variance on file",
        "document 26-017, granted by Town of Alder, building office",
        "1 variance on file.",
    ] {
        assert!(came.printed.contains(said), "{said}\n{}", came.printed);
    }
}

#[test]
fn a_variance_holds_from_its_day_to_its_last_day() {
    let table = [
        (None, Holds::Live), // the day of the job, 2026-05-12
        (Some("2026-05-09"), Holds::NotYet),
        (Some("2026-05-10"), Holds::Live),
        (Some("2027-05-10"), Holds::Live),
        (Some("2027-05-11"), Holds::Lapsed),
    ];
    for (on, holds) in table {
        assert_eq!(stands(&[], &[], on), holds, "{on:?}");
    }
    assert_eq!(stands(&[], &["job.date"], None), Holds::NotYet, "without a day nothing is in force");
    assert_eq!(stands(&[(&at("until"), "none")], &[], Some("2099-01-01")), Holds::Live);
}

#[test]
fn what_a_variance_has_to_state_and_does_not_is_named() {
    for key in ["for", "excuses", "written_against", "reason", "document", "granted_by", "on", "until"] {
        assert_eq!(stands(&[], &[&at(key)], None), Holds::Incomplete(vec![key]), "{key}");
    }
    let library = Library::with(&[]);
    let text = near_window();
    let started = started(&reviewed(&library, &text, None), WINDOW).unwrap();
    let review = reviewed(&library, &format!("{text}{started}"), None);
    assert!(review.problems.is_empty(), "{:?}", review.problems);
    let blank = ["reason", "document", "granted_by", "on", "until"].to_vec();
    assert_eq!(only(&review).holds, Holds::Incomplete(blank), "as it is printed it excuses nothing");
}

#[test]
fn a_variance_that_excuses_nothing_says_why_and_what_may_be_meant() {
    let comes = |changes: &[(&str, &str)]| match stands(changes, &[], None) {
        Holds::Unused(unused) => unused,
        other => panic!("{other:?}"),
    };
    assert_eq!(
        comes(&[(&at("rule"), "pennsylvania-2019/discharge-clear-of-opening")]),
        Unused::NoRequirement { nearest: Some("pennsylvania-2019/discharge-clear-of-openings".into()) }
    );
    assert_eq!(comes(&[(&at("for"), "bath_windw")]), Unused::NoThing { nearest: Some("bath_window".into()) });
    let far = [("building.openings.bath_window.from_discharge", "{straight: 15 ft, top_below: 8 ft 6 in}")];
    assert_eq!(comes(&far), Unused::Comes(Verdict::Met));
    let unknown = [("building.openings.bath_window.from_discharge", "{straight: unknown, top_below: 1 ft}")];
    assert_eq!(comes(&unknown), Unused::Comes(Verdict::Undetermined));
    let shut = [("building.openings.bath_window.opens", "no")];
    assert_eq!(comes(&shut), Unused::Comes(Verdict::NotApplicable));
}

#[test]
fn a_changed_value_or_requirement_brings_the_finding_back_and_says_what_was_and_is() {
    let changed = |changes: &[(&str, &str)]| match stands(changes, &[], None) {
        Holds::Outgrown { values, requirement } => (values, requirement.is_some()),
        other => panic!("{other:?}"),
    };
    let one = |what: &str, was: Option<&str>, is: &str| {
        vec![Change { what: what.into(), was: was.map(str::to_owned), is: is.into() }]
    };
    let window = "building.openings.bath_window.from_discharge";
    let mut both = one("around", Some("8 ft 3 in"), "8 ft 2 in");
    both.extend(one("clearance", Some("8 ft 3 in"), "8 ft 2 in"));
    assert_eq!(changed(&[(window, "{straight: 8 ft 2 in, top_below: 1 ft}")]), (both, false));
    assert_eq!(
        changed(&[(window, "{straight: 8 ft 3 in, top_below: 1 ft 1/16 in}")]).0[0].what,
        "top_below_discharge",
    );
    assert_eq!(changed(&[(&at("written_against"), "r-0123456789abcdef")]), (Vec::new(), true));
    assert_eq!(changed(&[(&at("written_against"), "r-")]), (Vec::new(), true), "too short to tell anything");
    assert_eq!(
        changed(&[(&at("excuses"), "{around: 8 ft 3 in, clearance: 8 ft 3 in}")]),
        (one("top_below_discharge", None, "1 ft"), false)
    );
    let mut world = Memory::with([(
        "a.yaml",
        lay_over(&with_variance(), &[(window, "{straight: 8 ft 2 in, top_below: 1 ft}")], &[])
            .unwrap()
            .as_str(),
    )]);
    let came = call(&mut world, &["review", "a.yaml"]);
    assert_eq!(came.status, 1);
    assert!(came.printed.contains("clearance: was 8 ft 3 in, is 8 ft 2 in"), "{}", came.printed);
    let came = call(&mut world, &["review", "a.yaml", "--on", "2027-06-01"]);
    assert!(came.printed.contains("Its last day was 10 May 2027."), "{}", came.printed);
}

#[test]
fn what_work_has_to_wait_for_cannot_be_excused() {
    let library = Library::with(&[]);
    let text = lay_over(&example("01"), &[("before_drilling.post_tension", "yes")], &[]).unwrap();
    let bare = reviewed(&library, &text, None);
    let said = started(&bare, "slab-not-tensioned").unwrap_err();
    assert!(said.contains("cannot be excused by anybody"), "{said}");
    let own =
        "variances:\n  slab: {rule: work-safety/slab-not-tensioned, for: none, granted_by: Town of Alder}\n";
    let review = reviewed(&library, &format!("{text}{own}"), None);
    assert_eq!(only(&review).holds, Holds::Refused(Stops::Drilling));
    assert_eq!(review.exit(), bare.exit());
}

#[test]
fn a_variance_of_the_job_s_own_people_is_shown_as_such() {
    let library = Library::with(&[]);
    let text = near_window();
    let review_of = |by: &str, contractor: &str| {
        let text = lay_over(&text, &[("job.contractor", contractor)], &[]).unwrap();
        let entry = granted(&reviewed(&library, &text, None), WINDOW, by);
        let text = format!("{text}{entry}");
        let review = reviewed(&library, &text, None);
        assert_eq!(only(&review).holds, Holds::Live);
        only(&review).self_granted
    };
    let firm = "{name: R. Cole, company: Alder Soil Gas Works}";
    assert!(review_of("J. Ames", "unknown"), "whoever drew it up");
    assert!(review_of("j. ames", firm), "however it is written");
    assert!(review_of("R. Cole", firm) && review_of("{name: T. Hale, company: Alder Soil Gas Works}", firm));
    assert!(!review_of("T. Hale", firm));
}

#[test]
fn the_command_line_prints_the_entry_to_paste() {
    let text = near_window();
    let mut world = Memory::with([("a.yaml", text.as_str())]);
    for meant in [
        WINDOW,
        "discharge-clear-of-openings",
        FINDING,
        "pennsylvania-2019/discharge-clear-of-openings",
        "\"Discharge kept clear of openings that open\": bath window",
        "Discharge kept clear of openings that open of bath_window",
    ] {
        let came = call(&mut world, &["review", "a.yaml", "--variance-for", meant]);
        assert_eq!(came.status, 0, "{meant}: {}", came.told);
        for line in [
            "variances:",
            "    rule: pennsylvania-2019/discharge-clear-of-openings",
            "    for: bath_window",
            "      clearance: 8 ft 3 in",
            "      top_below_discharge: 1 ft",
        ] {
            assert!(came.printed.lines().any(|own| own == line), "{meant}: {line}\n{}", came.printed);
        }
    }
    let held_up = lay_over(&text, &[("before_drilling.asbestos_suspected", "yes")], &[]).unwrap();
    let mut other = Memory::with([("a.yaml", held_up)]);
    let came = call(&mut other, &["review", "a.yaml", "--variance-for", "asbestos"]);
    let (_, nobody) = came.told.split_once("excused by nobody").unwrap_or_else(|| panic!("{}", came.told));
    assert!(came.status == 2 && nobody.contains("work-safety/no-asbestos-disturbed"), "{}", came.told);
    let came = call(&mut world, &["review", "a.yaml", "--variance-for", "fan-not-in-well"]);
    assert_eq!((came.status, came.printed.as_str()), (2, ""));
    assert!(
        came.told.contains("pennsylvania-2019/discharge-clear-of-openings of bath_window"),
        "{}",
        came.told
    );
}
