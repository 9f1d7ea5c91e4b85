//! What a rule asks, said in words, for every form of the grammar.

use undercroft::base::vocabulary::{Saying, Vocabulary};
use undercroft::render::asked;
use undercroft::rulebook::checked::{CheckedBook, CheckedRule};

use super::broken_rules::shown;
use super::garden::{RULE, Shelf, vocabulary};

fn rule(requires: &str, limits: &str, vocabulary: &Vocabulary) -> CheckedRule {
    let (head, rest) = RULE.split_once("applies:").unwrap();
    let rest = rest.split_once("unmet:").unwrap().1;
    let rest = rest.split_once("corrections:").unwrap().1.split_once("cautions:").unwrap().1;
    let text = format!(
        "{head}limits: {limits}\nrequires: |\n  {requires}\nunmet: \"{{hedge}} is too wide.\"\ncautions:{rest}"
    );
    let shelf = Shelf::with_rule(&text);
    match CheckedBook::load(&shelf.files(), vocabulary) {
        Ok(book) => (*book.rules[0]).clone(),
        Err(problems) => panic!("{}", shown(&problems, &shelf.sources)),
    }
}

fn said(requires: &str) -> String {
    let vocabulary = vocabulary();
    let asked = asked::requires(&rule(requires, "{}", &vocabulary), &vocabulary);
    asked.parts.join(if asked.any { " | " } else { " & " })
}

#[test]
fn every_form_of_the_grammar_has_words() {
    for (written, words) in [
        ("hedge.clipped", "the hedge is clipped"),
        ("not hedge.clipped", "the hedge is not clipped"),
        ("not not hedge.clipped", "the hedge is clipped"),
        (
            "hedge.clipped and hedge.height <= 2 ft",
            "the hedge is clipped & the height of the hedge is at most 2 ft",
        ),
        (
            "hedge.clipped or hedge.height > 2 ft",
            "the hedge is clipped | the height of the hedge is more than 2 ft",
        ),
        (
            "not (hedge.clipped and hedge.height <= 2 ft)",
            "the hedge is not clipped, or the height of the hedge is more than 2 ft",
        ),
        ("3 ft < hedge.height", "the height of the hedge is more than 3 ft"),
        ("not (hedge.height = 2 ft)", "the height of the hedge is not 2 ft"),
        (
            "hedge.height between 2 ft and 6 ft",
            "the height of the hedge is between 2 ft and 6 ft, or at one of them",
        ),
        (
            "not (hedge.height between 2 ft and 6 ft)",
            "the height of the hedge is less than 2 ft or more than 6 ft",
        ),
        ("hedge.in.soil is heavy_clay", "the soil of the in of the hedge is heavy clay"),
        ("hedge.plant is not one of yew, beech", "the plant of the hedge is not yew or beech"),
        ("not (hedge.plant is not yew)", "the plant of the hedge is yew"),
        ("hedge.in.soil < clay", "the soil of the in of the hedge is less than clay"),
        ("hedge.in.beside is main_path", "the beside of the in of the hedge is the main path"),
        (
            "every bed in beds has (bed.sunny), or met if there are none",
            "for each of beds: it is sunny (where there are none, this holds)",
        ),
        (
            "some bed in beds has (bed.soil is clay and bed.sunny)",
            "for at least one of beds: its soil is clay, and it is sunny",
        ),
        ("not (some bed in beds has (bed.sunny))", "for none of beds: it is sunny"),
        (
            "some bed in beds has (some own in bed.hedges has (own.clipped))",
            "for at least one of beds: for at least one of its hedges: that hedge is clipped",
        ),
        ("count of beds >= 2", "the number of beds is at least 2"),
        (
            "count of bed in beds where (bed.sunny) >= 2",
            "the number of beds for which it is sunny is at least 2",
        ),
        (
            "sum of bed.length * bed.width over bed in beds <= lawn",
            "the sum, over beds, of its length times its width is at most the lawn",
        ),
        (
            "least of path.width over path in paths >= 3 ft",
            "the least, over paths, of its width is at least 3 ft",
        ),
        (
            "hedge.height + 6 in <= 2 * hedge.clearance",
            "the height of the hedge and 6 in together is at most 2 times the clearance of the hedge",
        ),
        (
            "hedge.clipped or hedge.clipped and (hedge.in.sunny or open_to_visitors)",
            "the hedge is clipped | all of this: the hedge is clipped; the in of the hedge is sunny, or open to visitors holds",
        ),
    ] {
        assert_eq!(said(written), words, "{written}");
    }
}

#[test]
fn a_number_with_two_sides_is_said_by_the_side() {
    let mut garden = vocabulary();
    for fact in garden.facts.iter_mut().filter(|fact| fact.name == "clearance") {
        fact.said = Saying {
            label: "height".to_owned(),
            phrase: "{} reaches".to_owned(),
            fails: String::new(),
            sides: Some(("above the path".to_owned(), "below the path".to_owned())),
        };
    }
    let said = |requires: &str, limits: &str| {
        asked::requires(&rule(requires, limits, &garden), &garden).parts.concat()
    };
    assert_eq!(
        said("hedge.clearance >= reach", "{reach: {value: 3 ft, words: at least}}"),
        "the hedge reaches at least 3 ft above the path"
    );
    assert_eq!(
        said("hedge.clearance > reach", "{reach: {value: 0 ft, words: more than}}"),
        "the hedge reaches above the path, by however little"
    );
}
