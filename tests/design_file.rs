//! The design file: what reads, what is refused and how it is told, and the schema that describes it.

mod by_hand;
mod faults;
mod keys;
mod schema;
mod shop;
mod suggestions;

use undercroft::base::number::Ratio;
use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::Sources;
use undercroft::base::time::Date;
use undercroft::base::value::Reason;
use undercroft::design::model::pipe::PipeSize;
use undercroft::design::model::place::Side;
use undercroft::design::model::wiring::WireGauge;
use undercroft::design::things::find;
use undercroft::design::{self, Design};
use undercroft::yaml::entry::Stands;
use undercroft::yaml::scan;
use undercroft::yaml::words::Words;

const RANCH: &str = include_str!("design_files/ranch.yaml");

/// Reads a design; the problems of the tree come first.
fn read(text: &str) -> (Design, Vec<Problem>, Sources) {
    let mut sources = Sources::new();
    let id = sources.add("design.yaml", text);
    let (tree, mut problems) = scan::read(id, text);
    let source = sources.get(id).unwrap();
    let (design, more) = design::read(source, &tree);
    problems.extend(more);
    (design, problems, sources)
}

#[test]
fn the_ranch_reads_without_a_problem() {
    let (_, problems, sources) = read(RANCH);
    let told: Vec<String> =
        problems.iter().map(|problem| format!("{problem:?} at {}", sources.slice(problem.at))).collect();
    assert!(told.is_empty(), "{told:#?}");
}

/// How the entry at a path stands.
fn stands(design: &Design, path: &str) -> Option<Stands> {
    design.entries().into_iter().find(|entry| entry.path.as_str() == path).map(|entry| entry.stands)
}

#[test]
fn the_five_states_are_told_apart() {
    let state = |written: &str| {
        let (design, problems, _) = read(&RANCH.replacen("altitude: 820 ft", written, 1));
        (stands(&design, "site.altitude").unwrap(), problems.len())
    };
    assert_eq!(state("snow: 1 ft"), (Stands::Missing, 0));
    assert_eq!(state("altitude:"), (Stands::Missing, 0));
    assert_eq!(state("altitude: ~"), (Stands::Missing, 0));
    assert_eq!(state("altitude: unknown"), (Stands::Unknown, 0));
    assert_eq!(
        state("altitude: none"),
        (Stands::Unreadable, 1),
        "an altitude is no thing that can be lacking"
    );
    assert_eq!(stands(&read(RANCH).0, "foundation.sumps"), Some(Stands::None));
    assert_eq!(state("altitude: \"unknown\""), (Stands::Unreadable, 1));
    assert_eq!(state("altitude: 820"), (Stands::Unreadable, 1));
    assert_eq!(state("altitude: 820 ft"), (Stands::Known, 0));
}

#[test]
fn what_is_missing_says_why_it_is() {
    let reason = |written: &str| {
        let (design, _, _) = read(&RANCH.replacen("altitude: 820 ft", written, 1));
        let missing = design.site.altitude.want(&design.site.here);
        assert_eq!(missing.entry.as_str(), "site.altitude");
        missing.reason
    };
    assert_eq!(reason("snow: 1 ft"), Reason::NotStated);
    assert_eq!(reason("altitude: unknown"), Reason::StatedUnknown);
    assert_eq!(reason("altitude: 820"), Reason::Unreadable);
}

#[test]
fn an_empty_file_has_every_section_and_nothing_in_it() {
    for text in ["undercroft: 1\n", "undercroft: 1\nbuilding: unknown\nfoundation: none\n"] {
        let (design, problems, _) = read(text);
        assert!(problems.is_empty(), "{problems:?}");
        assert_eq!(design.building.roof.want(&design.building.here).entry.as_str(), "building.roof");
        assert!(design.entries().iter().filter(|entry| entry.stands == Stands::Known).count() == 1);
    }
    let (design, _, _) = read("undercroft: 1\nbuilding: unknown\nfoundation: none\n");
    assert_eq!(stands(&design, "building.roof"), Some(Stands::Unknown));
    assert_eq!(stands(&design, "foundation.sumps"), Some(Stands::None));
}

#[test]
fn a_file_without_its_version_is_told_so() {
    let (_, problems, _) = read("job: {title: House}\n");
    assert_eq!(problems.iter().map(|problem| problem.kind).collect::<Vec<_>>(), [ProblemKind::NoVersion]);
}

#[test]
fn no_thing_of_a_list_is_lost_when_nothing_of_it_can_be_read() {
    let text =
        "undercroft: 1\nbuilding:\n  openings: {a: window, b: unknown, c: , d: none, e: {kind: window}}\n";
    let (design, problems, sources) = read(text);
    let names: Vec<&str> = design.openings().map(|opening| opening.name).collect();
    assert_eq!(names, ["a", "b", "c", "e"]);
    assert_eq!(stands(&design, "building.openings.a.kind"), Some(Stands::Unreadable));
    assert_eq!(stands(&design, "building.openings.b.kind"), Some(Stands::Unknown));
    assert_eq!(stands(&design, "building.openings.c.kind"), Some(Stands::Missing));
    assert_eq!(stands(&design, "building.openings.e.kind"), Some(Stands::Known));
    assert_eq!(problems.len(), 1);
    assert_eq!(sources.slice(problems[0].at), "window");
}

#[test]
fn an_unknown_kind_keeps_the_rest_of_the_thing() {
    let (design, problems, _) = read(&RANCH.replacen("kind: skylight", "kind: hole in the roof", 1));
    assert_eq!(problems.len(), 1);
    let skylight = design.openings().find(|opening| opening.name == "hall_skylight").unwrap().thing;
    assert!(skylight.kind.known().is_none());
    assert!(skylight.from_discharge.known().unwrap().straight.known().is_some());
}

#[test]
fn an_unknown_key_costs_nothing_else() {
    let (design, problems, _) = read(&RANCH.replacen("  stage: design", "  stagee: design", 1));
    assert_eq!(problems.len(), 1);
    assert_eq!(stands(&design, "job.stage"), Some(Stands::Missing));
    assert!(design.job.work.known().is_some());
}

#[test]
fn words_for_sizes_stand_in_order() {
    assert!(PipeSize::find("3 in") < PipeSize::find("4 in"));
    assert!(PipeSize::find("1 1/2 in") < PipeSize::find("2 in"));
    assert!(WireGauge::find("14 AWG") < WireGauge::find("12 AWG"));
    assert_eq!([PipeSize::ORDERED, WireGauge::ORDERED, Side::ORDERED], [true, true, false]);
}

#[test]
fn a_measured_value_is_a_range_and_keeps_who_measured_it() {
    let long = "edge: {value: 11 ft, within: 1 in, by: J. Ames, on: 2026-05-14}";
    let (design, problems, _) = read(&RANCH.replacen("edge: 17 ft 2 in", long, 1));
    assert!(problems.is_empty(), "{problems:?}");
    let edge = design.building.roof.known().unwrap().edge.known().unwrap();
    let z = edge.z.known().unwrap();
    // 11 ft 1 in and 10 ft 11 in, in metres: 133 and 131 times 0.0254.
    assert_eq!(z.number().high(), Ratio::parse_decimal("3.3782").unwrap());
    assert_eq!(z.number().low(), Ratio::parse_decimal("3.3274").unwrap());
    assert_eq!(z.by.as_deref(), Some("J. Ames"));
    assert_eq!(z.on, Date::parse("2026-05-14").ok());
}

#[test]
fn places_are_taken_by_tape_or_by_coordinates() {
    for at in [
        "[30 ft, 14 ft, 18 ft 6 in]",
        "[30 ft, 14 ft, unknown]",
        "{point: [30 ft, 14 ft, 18 ft 6 in]}",
        "{above_floor: 3 ft, from_walls: {north: 10 ft, east: 10 ft}}",
        "{from: kitchen_window, south: 3 ft, up: 2 ft}",
        "{above_roof_edge: 2 ft, from_discharge: {left: 3 ft, straight: 5 ft}}",
        "{plan: [30 ft, 14 ft], above_ground: {value: 20 ft, within: 1 in}}",
    ] {
        let (design, problems, _) =
            read(&RANCH.replacen("at: [30 ft, 14 ft, 18 ft 6 in]", &format!("at: {at}"), 1));
        assert!(problems.is_empty(), "{at}: {problems:?}");
        let system = design.all_systems().next().unwrap().thing;
        assert!(system.fan.known().unwrap().at.known().is_some());
    }
    let (design, _, _) =
        read(&RANCH.replacen("at: [30 ft, 14 ft, 18 ft 6 in]", "at: [30 ft, 14 ft, unknown]", 1));
    assert_eq!(stands(&design, "systems.main.fan.at.point[1]"), Some(Stands::Known));
    assert_eq!(stands(&design, "systems.main.fan.at.point[2]"), Some(Stands::Unknown));
}

#[test]
fn things_are_listed_in_the_order_written_and_found_by_name() {
    let (design, _, sources) = read(RANCH);
    let runs: Vec<&str> = design.runs().map(|run| run.name).collect();
    assert_eq!(runs, ["stack", "riser", "ceiling", "drop", "crawl_side", "crawl_drop"]);
    let riser = find(design.runs(), "riser", Some("main")).unwrap();
    assert_eq!(riser.path.as_str(), "systems.main.runs.riser");
    assert_eq!(sources.slice(riser.at), "riser");
    assert!(find(design.runs(), "main.riser", None).is_some());
    assert!(find(design.runs(), "riser", Some("other")).is_none());
    let crawl = design.areas().find(|area| area.name == "crawl").unwrap();
    assert_eq!(design.space_over(crawl).unwrap().path.as_str(), "building.spaces.crawl");
}

#[test]
fn two_systems_may_use_the_same_names() {
    let second = "\n  spare:\n    runs:\n      riser: {from: fan, up: 3 ft, to: s1}\n    suction_points:\n      s1: {kind: slab}\n";
    let text = RANCH.trim_end().to_owned() + second;
    let (_, problems, _) = read(&text);
    assert!(problems.is_empty(), "{problems:?}");
    // From outside of both, the name alone does not tell which is meant.
    let (_, problems, sources) = read(&(text.clone() + "start_up: {readings: {a: {of: s1}}}\n"));
    assert_eq!(problems.len(), 1);
    assert_eq!((problems[0].kind, sources.slice(problems[0].at)), (ProblemKind::NotTogether, "s1"));
    assert!(problems[0].accepts.contains("main.s1 or spare.s1"));
    let (_, problems, _) = read(&(text + "start_up: {readings: {a: {of: spare.s1}}}\n"));
    assert!(problems.is_empty(), "{problems:?}");
}
