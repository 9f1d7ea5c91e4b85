//! Places as people tape them: what the words and distances of a design come to, worked out by hand, and which
//! entries are asked for where they do not tell.

use undercroft::base::number::{Dimension, Number, Quantity, Ratio};
use undercroft::base::problem::ProblemKind;
use undercroft::base::text::{Source, SourceId, Sources};
use undercroft::base::value::{Answer, Value};
use undercroft::base::vocabulary::{Answers, ROOT};
use undercroft::design::{Design, read};
use undercroft::facts::contradictions::contradictions;
use undercroft::facts::{Facts, vocabulary};

mod about;
mod extents;
mod openings;

fn design(text: &str) -> Design {
    let source = Source::new("design.yaml", text);
    let (tree, problems) = undercroft::yaml::scan::read(SourceId(0), source.text());
    assert!(problems.is_empty(), "{problems:#?}\n{text}");
    let (design, problems) = read(&source, &tree);
    assert!(problems.is_empty(), "{problems:#?}\n{text}");
    design
}

/// A fact of a thing of a list at the root.
fn ask(text: &str, list: &str, name: &str, fact: &str) -> Answer<Value> {
    let design = design(text);
    let mut facts = Facts::new(&design);
    let list = vocabulary().find_fact(ROOT.kind, list).unwrap_or_else(|| panic!("no list {list}"));
    let Answer::Known { value: Value::Things(things), .. } = facts.ask(list, ROOT) else { panic!("no list") };
    let thing = things.items.iter().copied().find(|it| facts.name_of(*it) == name);
    let thing = thing.unwrap_or_else(|| panic!("no {name}\n{text}"));
    let fact = vocabulary().find_fact(thing.kind, fact).unwrap_or_else(|| panic!("no fact {fact}"));
    facts.ask(fact, thing)
}

fn number(answer: Answer<Value>) -> Number {
    match answer {
        Answer::Known { value: Value::Number(number), .. } => number,
        other => panic!("{other:?}"),
    }
}

/// The entries that would have to be stated, in order.
fn wanting(answer: Answer<Value>) -> Vec<String> {
    match answer {
        Answer::Unknown(missing) => missing.into_iter().map(|missing| missing.entry.to_string()).collect(),
        Answer::Known { value, .. } => panic!("known: {value:?}"),
    }
}

fn length(text: &str) -> Number {
    Quantity::parse(text, Dimension::LENGTH).unwrap().number
}

/// The length whose square is so many square inches.
fn root_of_square_inches(square: i128, parts: i128) -> Number {
    let square = Ratio::new(square, parts).unwrap();
    Number::root(square * Ratio::new(64_516, 100_000_000).unwrap())
}

/// What is told of statements that cannot all be true.
fn told(text: &str) -> Vec<(ProblemKind, String)> {
    let mut sources = Sources::new();
    let _ = sources.add("design.yaml", text);
    let design = design(text);
    let mut facts = Facts::new(&design);
    contradictions(&mut facts, &sources).into_iter().map(|one| (one.kind, one.found)).collect()
}
