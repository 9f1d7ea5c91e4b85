//! The catalogue of facts: what every fact says of itself, what it looks at, and what it comes to on designs that
//! were worked out by hand.

use std::collections::{BTreeMap, BTreeSet};

use undercroft::base::number::{Comparison, Dimension, Number, Quantity, Ratio};
use undercroft::base::text::Source;
use undercroft::base::text::SourceId;
use undercroft::base::truth::Truth;
use undercroft::base::value::{Answer, Listed, Reason, Value};
use undercroft::base::vocabulary::{Answers, FactType, KindId, ROOT, Thing};
use undercroft::design::{Design, read};
use undercroft::facts::{Facts, catalogue, vocabulary};

/// The designs under `examples/`, with their names.
fn examples() -> Vec<(String, String)> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    let mut found: Vec<(String, String)> = std::fs::read_dir(root)
        .unwrap()
        .filter_map(|folder| {
            let folder = folder.unwrap().path();
            let text = std::fs::read_to_string(folder.join("design.yaml")).ok()?;
            Some((folder.file_name().unwrap().to_string_lossy().into_owned(), text))
        })
        .collect();
    found.sort();
    assert!(found.len() >= 4, "the examples were not found");
    found
}

fn design(text: &str) -> Design {
    let source = Source::new("design.yaml", text);
    let (tree, problems) = undercroft::yaml::scan::read(SourceId(0), source.text());
    assert!(problems.is_empty(), "{problems:#?}");
    read(&source, &tree).0
}

/// The value of a path such as `openings.kitchen_window.clearance`: a list at the root, a name in it, a fact.
fn ask(facts: &mut Facts<'_>, list: &str, name: &str, fact: &str) -> Answer<Value> {
    let thing = thing(facts, list, name);
    let id = vocabulary().find_fact(thing.kind, fact).unwrap_or_else(|| panic!("no fact {fact}"));
    facts.ask(id, thing)
}

fn listed(facts: &mut Facts<'_>, list: &str) -> Listed<Thing> {
    let id = vocabulary().find_fact(ROOT.kind, list).unwrap_or_else(|| panic!("no list {list}"));
    match facts.ask(id, ROOT) {
        Answer::Known { value: Value::Things(things), .. } => things,
        other => panic!("{list}: {other:?}"),
    }
}

fn thing(facts: &mut Facts<'_>, list: &str, name: &str) -> Thing {
    let things = listed(facts, list);
    let found = things.items.iter().find(|it| facts.name_of(**it) == name).copied();
    found.unwrap_or_else(|| panic!("no {name} in {list}"))
}

fn length(text: &str) -> Number {
    Quantity::parse(text, Dimension::LENGTH).unwrap().number
}

fn known(answer: Answer<Value>) -> Value {
    match answer {
        Answer::Known { value, .. } => value,
        Answer::Unknown(missing) => panic!("unknown for want of {missing:#?}"),
    }
}

fn number(answer: Answer<Value>) -> Number {
    match known(answer) {
        Value::Number(number) => number,
        other => panic!("{other:?} is no number"),
    }
}

fn wanting(answer: Answer<Value>) -> Vec<String> {
    match answer {
        Answer::Unknown(missing) => missing.into_iter().map(|missing| missing.entry.to_string()).collect(),
        Answer::Known { value, .. } => panic!("known: {value:?}"),
    }
}

#[test]
fn every_fact_says_what_it_is_and_where_it_comes_from() {
    let mut seen = BTreeSet::new();
    for fact in catalogue::all() {
        let name = format!("{:?}.{}", fact.of, fact.name);
        assert!(seen.insert(name.clone()), "{name} stands twice");
        assert!(fact.meaning.ends_with('.') && fact.meaning.len() > 15, "{name}: {}", fact.meaning);
        assert_eq!(fact.formula.is_empty(), fact.source.is_empty(), "{name}: a formula has a source");
        let plain = fact.name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
        assert!(plain, "{name} is not a plain word");
    }
    let vocabulary = vocabulary();
    assert_eq!(vocabulary.facts.len(), seen.len());
    let kinds: BTreeSet<&str> = vocabulary.kinds.iter().map(|kind| kind.name.as_str()).collect();
    assert_eq!(kinds.len(), vocabulary.kinds.len(), "two kinds of one name");
    let lists: BTreeSet<&str> = vocabulary.words.iter().map(|list| list.name.as_str()).collect();
    assert_eq!(lists.len(), vocabulary.words.len(), "two lists of words of one name");
    for list in &vocabulary.words {
        let words: BTreeSet<&str> = list.words.iter().map(|(word, _)| word.as_str()).collect();
        assert_eq!(words.len(), list.words.len(), "{}: a word stands twice", list.name);
        assert!(list.words.iter().all(|(_, meaning)| !meaning.is_empty()), "{}", list.name);
    }
    // Every kind but the whole is reached from somewhere.
    for (at, kind) in vocabulary.kinds.iter().enumerate().skip(1) {
        let id = KindId(u16::try_from(at).unwrap());
        let reached = vocabulary.facts.iter().any(|fact| match fact.of_type {
            FactType::One(kind) | FactType::Things(kind) => kind == id,
            _ => false,
        });
        assert!(reached, "nothing leads to {}", kind.name);
    }
}

/// Whether a path is one that a pattern speaks of: `*` is one name, `**` is any rest.
fn fits(pattern: &str, path: &str) -> bool {
    let path = path.replace('[', ".").replace(']', "");
    let pattern = pattern.replace('[', ".").replace(']', "");
    let (mut pattern, mut path) = (pattern.split('.'), path.split('.'));
    loop {
        match (pattern.next(), path.next()) {
            (Some("**"), _) => return true,
            (Some("*"), Some(_)) => {}
            (Some(a), Some(b)) if a == b => {}
            (None, None) => return true,
            _ => return false,
        }
    }
}

#[test]
fn a_fact_looks_at_no_entry_that_it_does_not_name() {
    let mut wrong = BTreeMap::new();
    for (name, text) in examples() {
        let design = design(&text);
        let mut facts = Facts::new(&design);
        for (number, fact) in catalogue::all().enumerate() {
            let id = undercroft::base::vocabulary::FactId(u16::try_from(number).unwrap());
            for thing in facts.things().all(fact.of) {
                for path in facts.looked_at(id, thing) {
                    if !fact.entries().iter().any(|pattern| fits(pattern, path.as_str())) {
                        wrong
                            .entry(format!("{:?}.{}", fact.of, fact.name))
                            .or_insert_with(BTreeSet::new)
                            .insert(format!("{path} in {name}"));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn asking_twice_works_nothing_out_twice() {
    let text = &examples()[0].1;
    let design = design(text);
    let mut facts = Facts::new(&design);
    let all = |facts: &mut Facts<'_>| {
        let mut answers = Vec::new();
        for (number, fact) in catalogue::all().enumerate() {
            let id = undercroft::base::vocabulary::FactId(u16::try_from(number).unwrap());
            for thing in facts.things().all(fact.of) {
                answers.push(facts.ask(id, thing));
            }
        }
        answers
    };
    let first = all(&mut facts);
    let worked_out = facts.worked_out();
    assert_eq!(all(&mut facts), first);
    assert_eq!(facts.worked_out(), worked_out);
}
