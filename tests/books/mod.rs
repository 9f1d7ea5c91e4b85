//! The books that travel with the program, and the examples: that they load, say where they come from, and that
//! every example comes out as its page says. What their cases come to is held by `promises::rulebooks_earn_trust`.

mod examples;

use std::path::{Path, PathBuf};

use undercroft::base::problem::Problem;
use undercroft::base::text::{SourceId, Sources};
use undercroft::design::Design;
use undercroft::design::model::job::JobStage;
use undercroft::facts::vocabulary;
use undercroft::review::Library;
use undercroft::rulebook::checked::{Basis, CheckedBook, Obligation, Stage};
use undercroft::yaml::scan;

/// The books of the examples.
const BOOKS: [&str; 3] = ["epa-1994", "pennsylvania-2019", "work-safety"];

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// The YAML files of a folder and of those in it, in order.
fn files(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path));
        } else if path.extension().is_some_and(|ext| ext == "yaml") {
            found.push(path);
        }
    }
    found.sort();
    found
}

fn told(sources: &Sources, problems: &[Problem]) -> Vec<String> {
    let line = |problem: &Problem| {
        let source = sources.get(problem.at.source).unwrap();
        let at = source.line_column(problem.at.start).line;
        format!("{}:{at}: {} `{}`; {}", source.name(), problem.kind.name(), problem.found, problem.accepts)
    };
    problems.iter().map(line).collect()
}

fn load(name: &str) -> CheckedBook {
    let folder = root().join("rules");
    let mut sources = Sources::new();
    let mut parts = Vec::new();
    for path in files(&folder.join(name)) {
        let inside = path.strip_prefix(&folder).unwrap().to_string_lossy().replace('\\', "/");
        let text = std::fs::read_to_string(&path).unwrap();
        let id = sources.add(inside.clone(), text);
        parts.push((id, inside));
    }
    let parts: Vec<(SourceId, &str, &str)> =
        parts.iter().map(|(id, path)| (*id, path.as_str(), sources.get(*id).unwrap().text())).collect();
    CheckedBook::load(&parts, vocabulary())
        .unwrap_or_else(|problems| panic!("{:#?}", told(&sources, &problems)))
}

/// A design that was read, and what is wrong with it.
fn read(name: &str, text: &str) -> (Design, Vec<String>) {
    let mut sources = Sources::new();
    let id = sources.add(name, text);
    let source = sources.get(id).unwrap();
    let (tree, mut problems) = scan::read(id, source.text());
    let (design, more) = undercroft::design::read::read(source, &tree);
    problems.extend(more);
    problems.extend(undercroft::design::check::check(&design));
    let told = told(&sources, &problems);
    (design, told)
}

fn stage_of(design: &Design) -> Stage {
    match design.job.stage.known() {
        Some(JobStage::Operating) => Stage::Operating,
        Some(JobStage::Installed) => Stage::Installed,
        _ => Stage::Design,
    }
}

#[test]
fn every_rule_says_where_it_comes_from_and_why() {
    let library = Library::with(&[]);
    let (books, faults) = library.all();
    assert!(faults.is_empty(), "{}", faults.len());
    assert!(books.len() >= 30, "{} books", books.len());
    let mut wrong = Vec::new();
    for book in books {
        let name = book.name.as_str();
        if book.legal_nature.is_empty() || book.covers.is_empty() {
            wrong.push(format!("{name} does not say what it is in law or what it covers"));
        }
        if book.left_to_the_eye.is_empty() && book.not_held.is_empty() {
            wrong.push(format!("{name} claims to hold everything"));
        }
        assert_eq!(book.always, name == "work-safety", "{name}");
        for rule in book.rules.iter().filter(|rule| rule.authors.book == name) {
            let similar = rule.source.basis == Basis::SimilarStandard;
            let practice = rule.source.basis == Basis::CommonPractice;
            let faults = [
                (rule.source.section.is_empty(), "names no section"),
                (rule.corrections.is_empty(), "offers no way out"),
                (rule.because.split_whitespace().count() < 6, "gives no reason worth the name"),
                (
                    similar && !rule.disputed && rule.interpretation.is_empty() && rule.note.is_empty(),
                    "would read as its own text and rests on a similar standard",
                ),
                (
                    practice && name != "work-safety" && rule.obligation == Obligation::Shall,
                    "is common practice and would read as a duty of a code",
                ),
                (!practice && name == "work-safety", "is of a code in the book of common practice"),
                (rule.stops.is_some() && rule.obligation != Obligation::Shall, "stops work and may be left"),
            ];
            wrong.extend(
                faults.iter().filter(|(is, _)| *is).map(|(_, what)| format!("{name}/{} {what}", rule.name)),
            );
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A matter of which several books speak has the same name in all of them, so that one finding gathers them.
#[test]
fn books_share_the_names_of_what_they_both_speak_of() {
    let shared = |one: &str, other: &str| -> Vec<String> {
        let subjects = |name: &str| -> Vec<String> {
            load(name).rules.iter().map(|rule| rule.subject.clone()).collect()
        };
        let other = subjects(other);
        subjects(one).into_iter().filter(|subject| other.contains(subject)).collect()
    };
    let both = shared("epa-1994", "pennsylvania-2019");
    for subject in ["discharge/openings", "discharge/ground", "fan/conditioned", "pipe/slope", "membrane/lap"]
    {
        assert!(both.iter().any(|one| one == subject), "{subject} is not shared: {both:?}");
    }
    assert_eq!(shared("epa-1994", "work-safety"), ["before-drilling/asbestos", "combustion/spillage"]);
}
