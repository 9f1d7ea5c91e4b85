//! Promise 6: a difference names its cause: design, book, program, variance or date. A mere shift of lines is no
//! difference.

use serde_json::Value;
use undercroft::app::host::memory::Memory;
use undercroft::findings::compare::account::Program;
use undercroft::findings::compare::{Account, Cause, Comparison, Factor, How, Turn, compare};
use undercroft::render::json::account;
use undercroft::review::{Explained, Input, Library, review};
use undercroft::yaml::splice::lay_over;

use super::variances_hold_on::{Dice, reformatted, respelled, shuffled, two_variances};
use crate::commands::{Came, call, example, example_names};

const WINDOW: &str = "discharge/openings of opening bath_window";
const RULE: &str = "pennsylvania-2019/discharge-clear-of-openings";
const STRAIGHT: &str = "building.openings.bath_window.from_discharge.straight";

fn said(library: &Library, text: &str) -> Account {
    let input = Input {
        name: "a.yaml",
        bytes: text.as_bytes(),
        explained: Explained::Everything,
        ..Input::default()
    };
    account(&review(&input, library), &Program::own()).unwrap()
}

/// A world with the two designs, and a copy of the book of the state with these changes of its files.
fn world(old: &str, new: &str, book: &[(&str, &str, &str)]) -> Memory {
    let mut world = Memory::with([("old.yaml", old), ("new.yaml", new)]);
    let came = call(&mut world, &["rulebook", "export", "pennsylvania-2019", "books", "--in-place"]);
    assert_eq!(came.status, 0, "{}", came.told);
    for (file, from, to) in book {
        let text = world.files.get_mut(&format!("books/pennsylvania-2019/{file}")).unwrap();
        let was = String::from_utf8(text.clone()).unwrap();
        assert!(was.contains(from), "{file}: {from}");
        *text = was.replacen(from, to, 1).into_bytes();
    }
    world
}

fn report(came: &Came) -> Value {
    serde_json::from_str(&came.printed).unwrap_or_else(|_| panic!("{}{}", came.printed, came.told))
}

/// The comparison of the two designs of a world as JSON, with these options.
fn compared(world: &mut Memory, options: &[&str]) -> Value {
    let mut arguments = vec!["compare", "old.yaml", "new.yaml", "--as", "json"];
    arguments.extend(options);
    report(&call(world, &arguments))
}

/// The same of two reviews made before, so that nothing can be tried.
fn of_reviews(world: &mut Memory, old: &[&str], new: &[&str]) -> Value {
    for (design, json, options) in [("old.yaml", "old.json", old), ("new.yaml", "new.json", new)] {
        let mut arguments = vec!["review", design, "--as", "json"];
        arguments.extend(options);
        let printed = call(world, &arguments).printed;
        world.files.insert(json.into(), printed.into_bytes());
    }
    report(&call(world, &["compare", "old.json", "new.json", "--as", "json"]))
}

fn finding<'v>(report: &'v Value, identity: &str) -> &'v Value {
    let found = report["findings"].as_array().unwrap().iter().find(|one| one["identity"] == identity);
    found.unwrap_or_else(|| panic!("{identity} did not turn:\n{report:#}"))
}

/// What moved under the one clause of a finding that turned, and how that is known.
fn why(report: &Value, identity: &str) -> (Vec<String>, String) {
    let clauses = finding(report, identity)["clauses"].as_array().unwrap();
    let clause = clauses.iter().find(|one| one["requirement_is"] == RULE || one["requirement_was"] == RULE);
    let clause = clause.unwrap_or_else(|| panic!("{clauses:#?}"));
    let moved = clause["causes"].as_array().unwrap().iter();
    let moved = moved.map(|one| one["moved"].as_str().unwrap().to_owned()).collect();
    (moved, clause["known_by"].as_str().unwrap().to_owned())
}

fn changed(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "{from}");
    text.replacen(from, to, 1)
}

#[test]
fn a_shift_of_lines_another_order_another_layout_and_another_spelling_are_no_difference() {
    let library = Library::with(&[]);
    let mut dice = Dice(6);
    let mut texts: Vec<String> = example_names().iter().map(|name| example(&name[..2])).collect();
    texts.push(two_variances());
    let mut rounds = 0;
    for text in texts {
        let old = said(&library, &text);
        let tree: serde_yaml::Value = serde_yaml::from_str(&text).unwrap();
        for round in 0..3 {
            let new = match round {
                0 => format!("# one\n\n# two\n{text}"),
                1 => reformatted(&text, &mut dice),
                _ => {
                    let mut tree = shuffled(tree.clone(), &mut dice);
                    respelled(&mut tree, &mut dice);
                    reformatted(&serde_yaml::to_string(&tree).unwrap(), &mut dice)
                }
            };
            let Comparison { stated, books, variances, moved, findings, .. } =
                compare(&old, &said(&library, &new), &[]);
            assert!(stated.known && stated.entries.is_empty(), "{:#?}\n{new}", stated.entries);
            assert!(stated.renamed.is_empty() && stated.unclear.is_empty());
            assert!(books.is_empty() && variances.is_empty() && moved.is_empty(), "{moved:?}");
            for one in findings {
                assert!(
                    one.turn == Turn::StillOpen && one.clauses.is_empty() && one.numbers.is_empty(),
                    "{one:#?}"
                );
            }
            rounds += 1;
        }
    }
    assert!(rounds >= 24, "{rounds}");
}

#[test]
fn a_number_of_the_design_is_named_with_what_it_was_and_is() {
    let old = example("07");
    let new = format!("# shifted\n{}", changed(&old, "straight: 8 ft 3 in", "straight: 11 ft"));
    let mut world = world(&old, &new, &[]);
    for report in [compared(&mut world, &[]), of_reviews(&mut world, &[], &[])] {
        assert_eq!(report["moved"], serde_json::json!(["design"]));
        assert_eq!(why(&report, WINDOW), (vec!["design".into()], "nothing else moved".into()));
        let cause = &finding(&report, WINDOW)["clauses"][0]["causes"][0];
        let entry = &cause["entries"][0];
        assert_eq!(
            (&entry["entry"], &entry["was"], &entry["is"]),
            (&STRAIGHT.into(), &"8 ft 3 in".into(), &"11 ft".into())
        );
        assert_eq!(cause["entries"].as_array().unwrap().len(), 1);
    }
    let page = call(&mut world, &["compare", "old.yaml", "new.yaml", "--width", "160"]).printed;
    assert!(page.contains("from_discharge.straight: was 8 ft 3 in, is 11 ft (line 60)"), "{page}");
}

#[test]
fn a_limit_of_a_book_is_named_with_what_it_was_and_is() {
    let text = changed(&example("07"), "straight: 8 ft 3 in", "straight: 11 ft");
    let rule = "discharge/discharge-clear-of-openings.yaml";
    let mut world = world(&text, &text, &[(rule, "10 ft", "12 ft")]);
    let with = ["--rulebooks", "books"];
    for report in [compared(&mut world, &["--new-rulebooks", "books"]), of_reviews(&mut world, &[], &with)] {
        assert_eq!(report["moved"], serde_json::json!(["book"]));
        assert_eq!(why(&report, WINDOW), (vec!["book".into()], "nothing else moved".into()));
        let cause = &finding(&report, WINDOW)["clauses"][0]["causes"][0];
        assert_eq!(cause["book"], "pennsylvania-2019");
        assert_eq!(cause["rule"]["limits"][0]["was"], "at least 10 ft");
        assert_eq!(cause["rule"]["limits"][0]["is"], "at least 12 ft");
        assert_ne!(cause["rule"]["fingerprint_was"], cause["rule"]["fingerprint_is"]);
    }
    let came =
        call(&mut world, &["compare", "old.yaml", "new.yaml", "--new-rulebooks", "books", "--width", "160"]);
    // The cases of the book no longer bear it out, so that it decides nothing.
    assert_eq!(came.status, 3);
    let page = came.printed;
    assert!(page.contains("the book pennsylvania-2019: discharge-clear-of-openings, clearance: was at least 10 ft, is at least 12 ft"), "{page}");
}

#[test]
fn a_verb_a_condition_a_withdrawn_and_an_added_rule_are_named_as_the_book() {
    let text = changed(&example("07"), "straight: 8 ft 3 in", "straight: 9 ft");
    let rule = "discharge/discharge-clear-of-openings.yaml";
    let mut world = world(&text, &text, &[(rule, "obligation: shall", "obligation: should")]);
    let report = compared(&mut world, &["--new-rulebooks", "books"]);
    assert_eq!(why(&report, WINDOW).0, ["book"]);
    assert_eq!(finding(&report, WINDOW)["is"], "advice not followed");
    let fields = &finding(&report, WINDOW)["clauses"][0]["causes"][0]["rule"]["fields"];
    assert_eq!((&fields[0]["field"], &fields[0]["is"]), (&"verb".into(), &"should".into()));
    // Gone from the book, and come to it.
    let file = format!("books/pennsylvania-2019/{rule}");
    world.files.remove(&file);
    let report = compared(&mut world, &["--new-rulebooks", "books"]);
    assert_eq!(why(&report, WINDOW).0, ["book"]);
    let rule = |report: &Value| finding(report, WINDOW)["clauses"][0]["causes"][0]["rule"]["change"].clone();
    assert_eq!(
        (finding(&report, WINDOW)["turn"].as_str(), rule(&report)),
        (Some("settled"), "withdrawn".into())
    );
    let report = compared(&mut world, &["--old-rulebooks", "books"]);
    assert_eq!((finding(&report, WINDOW)["turn"].as_str(), rule(&report)), (Some("new"), "added".into()));
}

#[test]
fn what_a_book_covers_is_named_when_it_moved() {
    let text = changed(&example("07"), "straight: 8 ft 3 in", "straight: 9 ft");
    let covers = "building.stories <= 3";
    let mut world = world(&text, &text, &[("book.yaml", covers, "building.stories > 3")]);
    let report = compared(&mut world, &["--new-rulebooks", "books"]);
    assert_eq!(why(&report, WINDOW).0, ["book"], "{report:#}");
    assert_eq!(report["books"][0]["covers"]["is"], "building.stories > 3");
}

#[test]
fn a_book_that_gives_no_verdicts_on_one_side_is_named() {
    let text = example("07");
    let mut world = world(&text, &text, &[("book.yaml", "title:", "titel:")]);
    let report = compared(&mut world, &["--new-rulebooks", "books"]);
    assert_eq!(report["moved"], serde_json::json!(["book"]));
    assert_eq!(why(&report, WINDOW).0, ["book"]);
    assert_eq!(report["books"][0]["edition_is"], Value::Null);
    let came =
        call(&mut world, &["compare", "old.yaml", "new.yaml", "--new-rulebooks", "books", "--width", "160"]);
    assert_eq!(came.status, 2);
    assert!(came.printed.contains("on the other it has a fault or is not at hand"), "{}", came.printed);
}

#[test]
fn a_passed_day_is_named_with_the_variance_that_it_ended() {
    let text = example("07");
    let mut world = world(&text, &text, &[]);
    let (before, after) = ("2028-05-31", "2028-06-01");
    let tried = compared(&mut world, &["--old-on", before, "--on", after]);
    for report in [tried, of_reviews(&mut world, &["--on", before], &["--on", after])] {
        assert_eq!(report["moved"], serde_json::json!(["date"]));
        assert_eq!(why(&report, WINDOW), (vec!["date".into()], "nothing else moved".into()));
        let cause = &finding(&report, WINDOW)["clauses"][0]["causes"][0];
        assert_eq!((&cause["was"], &cause["is"]), (&before.into(), &after.into()));
        assert_eq!(cause["variance"], "bath_window discharge-clear-of-openings");
        assert_eq!(report["variances"][0]["is"], "lapsed");
    }
}

#[test]
fn a_variance_that_came_went_or_was_rewritten_is_named() {
    let with = example("07");
    let without = &with[..with.find("\nvariances:").unwrap() + 1];
    let mut one = world(without, &with, &[]);
    for report in [compared(&mut one, &[]), of_reviews(&mut one, &[], &[])] {
        assert_eq!(report["moved"], serde_json::json!(["variance"]));
        assert_eq!(why(&report, WINDOW).0, ["variance"]);
        assert_eq!(finding(&report, WINDOW)["turn"], "settled");
    }
    let mut two = world(&with, &changed(&with, "until: 2028-05-31", "until: 2026-06-01"), &[]);
    let report = compared(&mut two, &[]);
    assert_eq!(why(&report, WINDOW).0, ["variance"]);
    let entries = &finding(&report, WINDOW)["clauses"][0]["causes"][0]["entries"];
    assert_eq!((&entries[0]["was"], &entries[0]["is"]), (&"2028-05-31".into(), &"2026-06-01".into()));
}

#[test]
fn another_program_is_named_and_what_it_may_hide_is_said() {
    let old = example("07");
    let new = changed(&old, "straight: 8 ft 3 in", "straight: 11 ft");
    let mut world = world(&old, &old, &[]);
    of_reviews(&mut world, &[], &[]);
    let text = String::from_utf8(world.files["old.json"].clone()).unwrap();
    let own = format!("\"version\": \"{}\"", env!("CARGO_PKG_VERSION"));
    // An earlier program that came to another verdict on the same design.
    let earlier = changed(&text, &own, "\"version\": \"0.0.9\"")
        .replace("\"comes_to\": \"variance on file\"", "\"comes_to\": \"met\"");
    world.files.insert("old.json".into(), earlier.clone().into_bytes());
    let report = report(&call(&mut world, &["compare", "old.json", "new.json", "--as", "json"]));
    assert_eq!(report["moved"], serde_json::json!(["program"]));
    assert_eq!(why(&report, WINDOW), (vec!["program".into()], "nothing else moved".into()));
    // Where the design moved too, the two reviews cannot tell them apart, and say so.
    world.files.insert("new.yaml".into(), new.into_bytes());
    world.files.insert("old.json".into(), text.replace(&own, "\"version\": \"0.0.9\"").into_bytes());
    let came = call(&mut world, &["compare", "old.json", "new.yaml", "--as", "json"]);
    let report: Value = serde_json::from_str(&came.printed).unwrap();
    let expected = (vec!["design".to_owned(), "program".into()], "one or several of these".to_owned());
    assert_eq!(why(&report, WINDOW), expected);
}

/// Which causes are singled out when the distance and the limit both move.
fn both(old: &str, new: &str, limit: &str) -> (Vec<String>, String) {
    let at =
        |distance: &str| changed(&example("07"), "straight: 8 ft 3 in", &format!("straight: {distance}"));
    let rule = "discharge/discharge-clear-of-openings.yaml";
    let mut world = world(&at(old), &at(new), &[(rule, "10 ft", limit)]);
    why(&compared(&mut world, &["--new-rulebooks", "books"]), WINDOW)
}

#[test]
fn of_several_causes_the_one_that_did_it_is_singled_out_by_judging_anew() {
    let named = |list: &[&str]| list.iter().map(|one| (*one).to_owned()).collect::<Vec<_>>();
    assert_eq!(both("11 ft", "9 ft", "9 ft 6 in"), (named(&["design"]), "tried alone".into()));
    assert_eq!(both("11 ft", "11 ft 6 in", "12 ft"), (named(&["book"]), "tried alone".into()));
    assert_eq!(both("11 ft", "9 ft", "12 ft"), (named(&["design", "book"]), "tried, each alone".into()));
    assert_eq!(
        both("11 ft", "10 ft 6 in", "11 ft"),
        (named(&["design", "book"]), "tried, only together".into())
    );
}

#[test]
fn a_renamed_thing_is_no_difference_and_one_renamed_and_changed_is_told_as_not_known() {
    let old = example("07");
    let new = old.replace("bath_window", "bath_light");
    let mut one = world(&old, &new, &[]);
    let report = compared(&mut one, &[]);
    assert_eq!(report["moved"], serde_json::json!([]), "{report:#}");
    assert_eq!(report["stated"]["entries"], serde_json::json!([]));
    let renamed = report["stated"]["renamed"].as_array().unwrap();
    assert!(renamed.iter().any(|one| one["is"] == "building.openings.bath_light"), "{renamed:?}");
    assert_eq!(report["findings"], serde_json::json!([]));
    // With another distance besides, it may be another window.
    let mut two = world(&old, &changed(&new, "straight: 8 ft 3 in", "straight: 8 ft"), &[]);
    let report = compared(&mut two, &[]);
    let unclear = &report["stated"]["unclear"];
    let openings = unclear.as_array().unwrap().iter().find(|one| one["list"] == "building.openings").unwrap();
    assert_eq!((&openings["went"][0], &openings["came"][0]), (&"bath_window".into(), &"bath_light".into()));
    assert_eq!(finding(&report, &WINDOW.replace("window", "light"))["turn"], "new");
    let page = call(&mut two, &["compare", "old.yaml", "new.yaml"]).printed;
    assert!(page.contains("cannot be told"), "{page}");
}

#[test]
fn things_that_come_and_go_and_another_stage_are_named() {
    let old = example("07");
    let near = "building.openings.new_window";
    let value = "{kind: window, opens: yes, into: bath, from_discharge: {straight: 5 ft, top_below: 1 ft}}";
    let new = lay_over(&old, &[(near, value)], &[]).unwrap();
    let identity = "discharge/openings of opening new_window";
    let mut one = world(&old, &new, &[]);
    let report = compared(&mut one, &[]);
    assert_eq!(finding(&report, identity)["turn"], "new");
    let entry = &finding(&report, identity)["clauses"][0]["causes"][0]["entries"][0];
    assert_eq!((&entry["entry"], &entry["is_thing"]), (&near.into(), &true.into()));
    let stage = lay_over(&old, &[("job.stage", "installed")], &[]).unwrap();
    let library = Library::with(&[]);
    let comparison = compare(&said(&library, &old), &said(&library, &stage), &[]);
    let turned: Vec<_> = comparison.findings.iter().flat_map(|one| &one.clauses).collect();
    assert!(turned.len() >= 4, "{}", turned.len());
    for clause in turned {
        let [Cause::Design(entries)] = clause.why.causes.as_slice() else { panic!("{clause:#?}") };
        assert_eq!(
            entries.iter().map(|one| one.entry.as_str()).collect::<Vec<_>>(),
            ["job.stage"],
            "{clause:#?}"
        );
    }
}

/// Entries of a design that can be taken away or given another value, with the text to lay over.
fn edits(library: &Library, text: &str) -> Vec<(String, Option<String>)> {
    let stated = said(library, text).stated.unwrap();
    let plain = stated.iter().filter(|one| !one.is_thing && !one.entry.contains('['));
    let mut edits = Vec::new();
    for one in plain.filter(|one| !one.entry.starts_with("variances.") && one.entry != "undercroft") {
        edits.push((one.entry.clone(), None));
        let other = match one.means.as_str() {
            "yes" => Some("no"),
            "no" => Some("yes"),
            _ => one.says.ends_with(" in").then_some("1 in"),
        };
        edits.extend(other.map(|other| (one.entry.clone(), Some(other.to_owned()))));
    }
    edits
}

fn edited(text: &str, edits: &[&(String, Option<String>)]) -> Option<String> {
    let set: Vec<(&str, &str)> =
        edits.iter().filter_map(|(entry, to)| Some((entry.as_str(), to.as_deref()?))).collect();
    let gone: Vec<&str> =
        edits.iter().filter(|(_, to)| to.is_none()).map(|(entry, _)| entry.as_str()).collect();
    lay_over(text, &set, &gone).ok()
}

#[test]
fn every_verdict_that_turns_names_the_entry_that_turned_it() {
    let library = Library::with(&[]);
    let mut turned = 0;
    for number in ["01", "07"] {
        let text = example(number);
        let old = said(&library, &text);
        for edit in edits(&library, &text).iter().step_by(9) {
            let Some(new) = edited(&text, &[edit]) else { continue };
            let comparison = compare(&old, &said(&library, &new), &[]);
            for one in &comparison.findings {
                for clause in &one.clauses {
                    turned += 1;
                    let told = clause.why.causes.iter().any(|cause| match cause {
                        Cause::Design(entries) => {
                            entries.iter().any(|entry| edit.0.starts_with(&entry.entry))
                        }
                        // The day of the job is the day of the review.
                        Cause::Date(..) => edit.0 == "job.date",
                        _ => false,
                    });
                    assert!(told, "{number} {edit:?}: {} {:#?}", one.identity, clause);
                }
            }
        }
    }
    assert!(turned >= 40, "{turned}");
}

#[test]
fn of_two_entries_the_one_that_did_it_is_among_those_named() {
    let library = Library::with(&[]);
    let text = example("01");
    let old = said(&library, &text);
    let all = edits(&library, &text);
    let mut dice = Dice(7);
    let (mut turned, mut singled) = (0, 0);
    for _ in 0..9 {
        let (one, other) = (&all[dice.below(all.len())], &all[dice.below(all.len())]);
        if one.0.starts_with(&other.0) || other.0.starts_with(&one.0) {
            continue;
        }
        let texts = [edited(&text, &[one, other]), edited(&text, &[one]), edited(&text, &[other])];
        let [Some(both), Some(first), Some(second)] = texts else { continue };
        let comparison = compare(&old, &said(&library, &both), &[]);
        let alone = [first, second].map(|text| compare(&old, &said(&library, &text), &[]));
        for finding in &comparison.findings {
            for clause in &finding.clauses {
                let did = |of: &Comparison| {
                    of.findings.iter().filter(|own| own.identity == finding.identity).any(|own| {
                        own.clauses
                            .iter()
                            .any(|own| own.requirement_is == clause.requirement_is && own.is == clause.is)
                    })
                };
                let [by_first, by_second] = [did(&alone[0]), did(&alone[1])];
                turned += 1;
                let named = |entry: &str| {
                    clause.why.causes.iter().any(|cause| match cause {
                        Cause::Design(entries) | Cause::SomeOfDesign(entries) => {
                            entries.iter().any(|own| entry.starts_with(&own.entry))
                        }
                        _ => false,
                    })
                };
                assert!(
                    !by_first || by_second || named(&one.0),
                    "{one:?} {other:?} {} {clause:#?}",
                    finding.identity
                );
                assert!(
                    !by_second || by_first || named(&other.0),
                    "{one:?} {other:?} {} {clause:#?}",
                    finding.identity
                );
                singled += usize::from(named(&one.0) != named(&other.0));
            }
        }
    }
    assert!(turned >= 5 && singled * 2 >= turned, "{turned} {singled}");
}

#[test]
fn a_review_that_lacks_what_is_asked_says_so_and_names_nothing_by_guess() {
    let old = example("07");
    let new = changed(&old, "straight: 8 ft 3 in", "straight: 11 ft");
    let mut world = world(&old, &new, &[]);
    of_reviews(&mut world, &[], &[]);
    // What an earlier program wrote: no entries, and no rules of the books.
    for name in ["old.json", "new.json"] {
        let mut value: Value = serde_json::from_slice(&world.files[name]).unwrap();
        let review = value["reviews"][0].as_object_mut().unwrap();
        review.remove("stated");
        for book in review["books"].as_array_mut().unwrap() {
            book.as_object_mut().unwrap().remove("rules");
        }
        world.files.insert(name.into(), serde_json::to_vec(&value).unwrap());
    }
    let came = call(&mut world, &["compare", "old.json", "new.json", "--as", "json"]);
    let report: Value = serde_json::from_str(&came.printed).unwrap();
    assert_eq!(report["stated"]["known"], false);
    assert_eq!(why(&report, WINDOW), (vec!["design".into()], "nothing else moved".into()));
    assert_eq!(finding(&report, WINDOW)["clauses"][0]["causes"][0]["entries"], serde_json::json!([]));
    let page = call(&mut world, &["compare", "old.json", "new.json"]).printed;
    assert!(page.contains("which entry it was cannot be told"), "{page}");
    // With nothing that moved, no cause is made up.
    let library = Library::with(&[]);
    let mut was = said(&library, &old);
    was.findings.iter_mut().filter(|one| one.identity == WINDOW).for_each(|one| {
        one.comes = undercroft::findings::Comes::Met;
        one.clauses.iter_mut().for_each(|clause| clause.comes = undercroft::findings::Comes::Met);
    });
    let comparison = compare(&was, &said(&library, &old), &[]);
    let clause = &comparison.findings[0].clauses[0];
    assert_eq!((clause.why.causes.len(), clause.why.how), (0, How::NotTold));
    assert_eq!(comparison.moved, Vec::<Factor>::new());
}
