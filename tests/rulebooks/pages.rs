//! The page on the language and the schemas are what the program does.

use std::collections::BTreeSet;
use std::path::Path;

use serde_json::Value;
use undercroft::rulebook::cases::cases;
use undercroft::rulebook::checked::CheckedBook;
use undercroft::rulebook::expr::RESERVED;
use undercroft::rulebook::{keys, schema};
use undercroft::yaml::scan;
use undercroft::yaml::tree::{NodeId, NodeKind, Tree};

use super::broken_rules::shown;
use super::garden::{BOOK, RULE, Shelf, vocabulary};
use super::towns::Desk;

fn file(path: &str) -> std::path::PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(path)
}

fn page() -> String {
    std::fs::read_to_string(file("rules/language.md")).unwrap()
}

/// The blocks of the page that are YAML and whole files.
fn blocks(page: &str) -> Vec<&str> {
    let all = page.split("```yaml\n").skip(1).map(|rest| rest.split("```").next().unwrap());
    all.filter(|block| !block.starts_with("corrections:")).collect()
}

/// The first cells of the table with this heading, without their backquotes.
fn column<'a>(page: &'a str, heading: &str) -> Vec<&'a str> {
    let table = page.split(heading).nth(1).unwrap();
    let rows = table.lines().skip(2).take_while(|line| line.starts_with('|'));
    rows.map(|row| row.split('`').nth(1).unwrap()).collect()
}

#[test]
fn the_page_shows_a_rule_and_a_book_that_load() {
    let page = page();
    let [rule, book, ..] = blocks(&page)[..] else { panic!("the page shows a rule and a book") };
    let shelf = Shelf::new(&[
        ("parks/book.yaml", book),
        ("parks/hedges/hedge-clear-of-path.yaml", rule),
        ("parks/cases/plot.yaml", "hedges: {}\n"),
    ]);
    let loaded = CheckedBook::load(&shelf.files(), &vocabulary())
        .unwrap_or_else(|problems| panic!("{}", shown(&problems, &shelf.sources)));
    assert_eq!(cases(&loaded, &loaded.rules[0], &shelf.sources).unwrap().len(), 2);
}

#[test]
fn the_page_shows_corrections_that_load() {
    let page = page();
    let [rule, book, ..] = blocks(&page)[..] else { panic!("the page shows a rule and a book") };
    let shown_there = page.split("```yaml\n").find(|block| block.starts_with("corrections:")).unwrap();
    let corrections = shown_there.split("```").next().unwrap();
    let (before, rest) = rule.split_once("corrections:").unwrap();
    let (_, after) = rest.split_once("cautions:").unwrap();
    let shelf = Shelf::new(&[
        ("parks/book.yaml", book),
        ("parks/hedges/hedge-clear-of-path.yaml", &format!("{before}{corrections}cautions:{after}")),
        ("parks/cases/plot.yaml", "hedges: {}\n"),
    ]);
    let loaded = CheckedBook::load(&shelf.files(), &vocabulary())
        .unwrap_or_else(|problems| panic!("{}", shown(&problems, &shelf.sources)));
    let changes: Vec<usize> = loaded.rules[0].corrections.iter().map(|one| one.changes.len()).collect();
    assert_eq!(changes, [1, 1, 3, 0]);
}

#[test]
fn the_page_shows_a_town_whose_amendment_applies() {
    let page = page();
    let [rule, book, town, amendment] = blocks(&page)[..] else { panic!("a rule, two books, an amendment") };
    let desk = Desk::of(&[
        ("parks/book.yaml", book),
        ("parks/hedges/hedge-clear-of-path.yaml", rule),
        ("parks/cases/plot.yaml", "hedges: {}\n"),
        ("town/book.yaml", town),
        ("town/amendments/wider-hedges.yaml", amendment),
    ]);
    let (book, rule) = (desk.book("town"), desk.rule());
    assert_eq!(book.doubts, []);
    assert_eq!(rule.limits[0].value.to_string(), "5 ft");
    assert_eq!(cases(book, rule, &desk.sources).unwrap().len(), 3);
}

/// What comes of a rule that applies when this holds.
fn with_condition(expression: &str) -> Result<CheckedBook, String> {
    let rule =
        RULE.replace("applies: open_to_visitors and hedge.in.sunny", &format!("applies: {expression}"));
    assert_ne!(rule, RULE);
    let shelf = Shelf::with_rule(&rule);
    CheckedBook::load(&shelf.files(), &vocabulary()).map_err(|problems| shown(&problems, &shelf.sources))
}

#[test]
fn every_expression_on_the_page_is_taken_or_refused_as_it_says() {
    let page = page();
    let taken = column(&page, "| Written | Holds when |");
    let refused = column(&page, "| Not written | Because |");
    assert!(taken.len() >= 18 && refused.len() >= 9);
    for expression in taken {
        assert_eq!(with_condition(expression).map(|_| ()), Ok(()), "{expression}");
    }
    for expression in refused {
        assert!(with_condition(expression).is_err(), "{expression}");
    }
}

#[test]
fn the_page_names_every_key_and_every_word_of_the_grammar() {
    let page = page();
    let words: BTreeSet<&str> = page.split(|c: char| !c.is_alphanumeric() && c != '_').collect();
    for word in RESERVED {
        assert!(words.contains(word), "{word}");
    }
    let tables = [keys::RULE, keys::CITATION, keys::LIMIT, keys::CASE, keys::BOOK, keys::IN_FORCE];
    let more = [keys::SOURCE, keys::LEFT_TO_THE_EYE, keys::NOT_HELD];
    let amendments = [keys::AMENDMENT, keys::CHANGE, keys::DECISION, keys::AMENDED_CASE];
    let changes = keys::CHANGES.iter().copied();
    for key in tables.into_iter().chain(more).chain(amendments).chain(changes).flatten() {
        assert!(words.contains(key.name), "{}", key.name);
        assert!(key.meaning.ends_with('.'), "{}", key.name);
    }
}

#[test]
fn the_schemas_are_those_of_the_table_of_keys() {
    for (name, made) in [
        ("rule.schema.json", schema::rule()),
        ("book.schema.json", schema::book()),
        ("amendment.schema.json", schema::amendment()),
    ] {
        let wanted = format!("{}\n", serde_json::to_string_pretty(&made).unwrap());
        let path = file("schemas").join(name);
        if std::fs::read_to_string(&path).ok().as_deref() != Some(wanted.as_str()) {
            std::fs::write(&path, wanted).unwrap();
            panic!("schemas/{name} was stale and has been written anew; look at what changed and run again");
        }
    }
}

/// A node as an editor that knows the schema sees it: dates and other words as text, whole numbers and
/// decimals as numbers.
fn as_json(tree: &Tree, id: NodeId) -> Value {
    match &tree.node(id).unwrap().kind {
        NodeKind::Nothing | NodeKind::Twice => Value::Null,
        NodeKind::Scalar { text, .. } => match text.as_str() {
            "true" => Value::Bool(true),
            "false" => Value::Bool(false),
            text => serde_json::from_str(text).ok().filter(Value::is_number).unwrap_or_else(|| text.into()),
        },
        NodeKind::List(items) => items.iter().map(|item| as_json(tree, *item)).collect(),
        NodeKind::Map(pairs) => {
            pairs.iter().map(|pair| (pair.key.clone(), as_json(tree, pair.value))).collect()
        }
    }
}

#[test]
fn the_schemas_take_sound_files_and_refuse_broken_ones() {
    let validator = |schema: &Value| jsonschema::options().offline().build(schema).unwrap();
    let (rule, book) = (validator(&schema::rule()), validator(&schema::book()));
    let json = |text: &str| {
        let (tree, problems) = scan::read(undercroft::base::text::SourceId(0), text);
        assert_eq!(problems, []);
        as_json(&tree, tree.root().unwrap())
    };
    assert!(rule.is_valid(&json(RULE)), "{:?}", rule.iter_errors(&json(RULE)).next());
    assert!(book.is_valid(&json(BOOK)));
    for (from, to) in [
        ("because:", "becuase:"),
        ("obligation: shall", "obligation: must"),
        ("words: at most", "words: no more than"),
        ("  - plant it elsewhere", "  - plant: elsewhere"),
        ("subject: hedges/paths", "subject: Hedges, paths"),
        ("cautions: [thorns]", "cautions: {thorns: many}"),
    ] {
        assert!(RULE.contains(from));
        assert!(!rule.is_valid(&json(&RULE.replace(from, to))), "{to}");
    }
    for (from, to) in
        [("basis: read", "basis: hearsay"), ("title: Rules", "titel: Rules"), ("2020-01-01", "spring")]
    {
        assert!(BOOK.contains(from));
        assert!(!book.is_valid(&json(&BOOK.replace(from, to))), "{to}");
    }
}

/// The YAML files under a folder, in order, with their text.
fn yaml_under(folder: &Path, found: &mut Vec<(String, String)>) {
    let mut entries: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            yaml_under(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "yaml") {
            let name = path.strip_prefix(file("")).unwrap().to_string_lossy().into_owned();
            found.push((name, std::fs::read_to_string(&path).unwrap()));
        }
    }
}

#[test]
fn every_file_of_the_books_fits_its_schema() {
    let mut files = Vec::new();
    yaml_under(&file("rules"), &mut files);
    let validator = |schema: &Value| jsonschema::options().offline().build(schema).unwrap();
    let (rule, book) = (validator(&schema::rule()), validator(&schema::book()));
    let amendment = validator(&schema::amendment());
    let mut faults = Vec::new();
    for (name, text) in files.iter().filter(|(name, _)| !name.contains("/cases/")) {
        let (tree, problems) = scan::read(undercroft::base::text::SourceId(0), text);
        assert_eq!(problems, [], "{name}");
        let json = as_json(&tree, tree.root().unwrap());
        let validator = match name {
            name if name.ends_with("/book.yaml") => &book,
            name if name.contains("/amendments/") => &amendment,
            _ => &rule,
        };
        faults.extend(
            validator.iter_errors(&json).map(|fault| format!("{name} {}: {fault}", fault.instance_path())),
        );
    }
    assert!(files.len() > 30);
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
