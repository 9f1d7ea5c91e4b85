//! The questions, in the order of a walk through the house.

use super::Answers;
use crate::base::near::nearest;
use crate::render::visible::one_line;

/// What a question takes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub enum Takes {
    /// Any words.
    Text,
    /// A day.
    Date,
    /// A length.
    Length,
    /// Two lengths.
    Size,
    /// The name of a rulebook, or none.
    Book,
    /// One of these words.
    Words(&'static [&'static str]),
}

/// One question.
#[derive(Clone, Copy, Debug)]
pub struct Question {
    /// Its name, by which it can be answered beforehand.
    pub name: &'static str,
    /// The part of the visit it belongs to.
    pub part: &'static str,
    /// What it is about, in a word or two.
    pub short: &'static str,
    /// What is asked.
    pub ask: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// An answer it takes.
    pub example: &'static str,
    /// Whether it is asked after these answers.
    pub when: fn(&Answers) -> bool,
}

impl Question {
    /// What it takes, on one line: all the words there are to choose from, or an example.
    #[must_use]
    pub fn choices(&self, books: &[String]) -> String {
        match self.takes {
            Takes::Words(words) => format!("{} or unknown", words.join(", ")),
            Takes::Book => {
                format!("{} or none; several with a comma between them", books.join(", "))
            }
            Takes::Text | Takes::Date | Takes::Length | Takes::Size => {
                format!("for instance: {}", self.example)
            }
        }
    }

    /// The answer as it is kept: spelled as the file spells it.
    ///
    /// # Errors
    /// When the question takes only certain words and this is none of them; then with what to say.
    pub(super) fn understood(&self, said: &str, books: &[String]) -> Result<String, String> {
        if matches!(said, "?" | "unknown" | "Unknown" | "don't know" | "dont know") {
            return Ok("unknown".to_owned());
        }
        let words: Vec<&str> = match self.takes {
            Takes::Words(words) => words.to_vec(),
            Takes::Book => return several(said, books),
            Takes::Text | Takes::Date | Takes::Length | Takes::Size => return Ok(said.to_owned()),
        };
        let lower = said.to_lowercase();
        let meant =
            SAID_FOR.iter().find(|(other, _)| *other == lower).map_or(lower.as_str(), |(_, word)| *word);
        if let Some(word) = words.iter().find(|word| **word == meant) {
            return Ok((*word).to_owned());
        }
        let mut begin_so = words.iter().copied().filter(|word| word.starts_with(&lower));
        let begins_so = begin_so.next().filter(|_| begin_so.next().is_none());
        let near = nearest(&lower, words.iter().copied()).or(begins_so.map(str::to_owned));
        let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
        Err(format!("\"{}\" is not one of the answers.{hint} Write {}.", one_line(said), self.choices(books)))
    }

    /// What is asked back of numbers without their unit: whether they are feet.
    pub(super) fn in_feet(&self, said: &str) -> Option<String> {
        let bare = |one: &str| {
            let digits = one.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/' | ' '));
            digits && one.starts_with(|c: char| c.is_ascii_digit())
        };
        match self.takes {
            Takes::Length if bare(said) => {
                Some(format!("\"{said}\" has no unit. Write {said} ft, or {said} in if inches are meant."))
            }
            Takes::Size => {
                let (a, b) = said.split_once(['x', 'X', '×', '*'])?;
                let (a, b) = (a.trim(), b.trim());
                (bare(a) && bare(b))
                    .then(|| format!("\"{said}\" has no unit. If feet are meant, write {a} ft x {b} ft."))
            }
            _ => None,
        }
    }

    /// How an answer of this sort is written, in one sentence with one example.
    pub(super) fn how(&self, likely: Option<&str>) -> String {
        let what = match self.takes {
            Takes::Date => "Write the day as year-month-day",
            Takes::Length => "Write a length with its unit",
            Takes::Size => "Write two lengths with x between them, each with its unit",
            Takes::Text | Takes::Book | Takes::Words(_) => "Write plain words",
        };
        match likely {
            Some(likely) => format!("{what}: {likely}."),
            None => format!("{what}, for instance {}.", self.example),
        }
    }
}

/// The books that an answer names, with a comma between them.
///
/// # Errors
/// Which of them there is not, and which are like it.
fn several(said: &str, books: &[String]) -> Result<String, String> {
    let lower = said.to_lowercase();
    if matches!(lower.as_str(), "none" | "no" | "n" | "-") {
        return Ok("none".to_owned());
    }
    let mut named: Vec<&str> = Vec::new();
    for one in lower.split([',', ';']).flat_map(|part| part.split(" and ")).map(str::trim) {
        match books.iter().find(|book| book.to_lowercase() == one) {
            Some(book) if named.contains(&book.as_str()) => {}
            Some(book) => named.push(book),
            None if one.is_empty() => {}
            None => return Err(no_book(one, books)),
        }
    }
    match named.as_slice() {
        [] => Err(no_book(said, books)),
        named => Ok(named.join(AND)),
    }
}

/// What stands between the books of one answer.
pub(super) const AND: &str = ", ";

/// So many books at most are named as like a wrong one.
const MOST_LIKE: usize = 5;

/// That there is no book of this name, with those that it may mean: not all of them once more.
fn no_book(said: &str, books: &[String]) -> String {
    let begins = |part: &str| part.chars().count() > 2 && !part.chars().all(char::is_numeric);
    let parts: Vec<&str> = said.split(|c: char| !c.is_alphanumeric()).filter(|part| begins(part)).collect();
    let alike = |book: &&String| parts.iter().any(|part| book.split('-').any(|own| own.starts_with(part)));
    let near = nearest(said, books.iter().map(String::as_str));
    let mut like: Vec<String> = near.into_iter().collect();
    for book in books.iter().filter(alike) {
        if like.len() < MOST_LIKE && !like.contains(book) {
            like.push(book.clone());
        }
    }
    let hint = match like.as_slice() {
        [] => "They stand above, and are told of by: undercroft rulebook list.".to_owned(),
        like => format!("Perhaps {} was meant.", like.join(" or ")),
    };
    format!(
        "There is no book \"{}\". {hint} Write its name, several with a comma between them, or none.",
        one_line(said)
    )
}

/// What people say for a word of the file.
const SAID_FOR: &[(&str, &str)] = &[
    ("y", "yes"),
    ("n", "no"),
    ("natural gas", "gas"),
    ("lp", "propane"),
    ("lp gas", "propane"),
    ("electric", "none"),
    ("all electric", "none"),
    ("natural", "natural draft"),
    ("outside", "outdoors"),
    ("outdoor", "outdoors"),
    ("crawl", "crawlspace"),
    ("crawl space", "crawlspace"),
    ("horizontal", "level"),
    ("vertical", "up"),
    ("new", "new system"),
    ("both with a sump", "both and sump"),
    ("both and a sump", "both and sump"),
    ("both, sump", "both and sump"),
    ("all three", "both and sump"),
];

const YES_NO: Takes = Takes::Words(&["yes", "no"]);

/// Under what the house stands.
pub(super) const FOUNDATIONS: &[&str] = &["slab", "crawlspace", "both", "sump", "both and sump"];

/// What a slab can be the floor of.
pub(super) const FLOORS: &[&str] = &["basement", "ground"];

fn always(_: &Answers) -> bool {
    true
}

fn is(answers: &Answers, question: &str, wanted: &[&str]) -> bool {
    answers.get(question).is_some_and(|answer| wanted.contains(&answer.as_str()))
}

/// Whether something was answered, and not that it is not known or not there.
pub(super) fn something(answers: &Answers, question: &str) -> bool {
    answers.get(question).is_some_and(|answer| !matches!(answer.as_str(), "none" | "unknown"))
}

/// Whether there is a slab.
pub(super) fn slab(answers: &Answers) -> bool {
    is(answers, "foundation", &["slab", "both", "sump", "both and sump"])
}

/// Whether there is bare soil under a floor.
pub(super) fn crawl(answers: &Answers) -> bool {
    is(answers, "foundation", &["crawlspace", "both", "both and sump"])
}

/// Whether there is a pit for water in the slab.
pub(super) fn sump(answers: &Answers) -> bool {
    is(answers, "foundation", &["sump", "both and sump"])
}

/// Whether something burns fuel, as far as is known.
pub(super) fn burns(answers: &Answers) -> bool {
    something(answers, "fuel")
}

/// Whether an opening was named.
pub(super) fn opening(answers: &Answers) -> bool {
    something(answers, "opening")
}

/// Whether the room of an opening was named.
fn opening_room(answers: &Answers) -> bool {
    opening(answers) && something(answers, "opening-room")
}

/// Whether a slab may be there: there is one, or nobody has said what there is.
fn perhaps_slab(answers: &Answers) -> bool {
    !is(answers, "foundation", &["crawlspace"])
}

const JOB: &str = "The job";
const HOUSE: &str = "The house as you find it";
const DRILL: &str = "What has to be known before anybody drills";
const PLAN: &str = "The system as you mean to build it";

macro_rules! questions {
    ($($part:ident: $name:literal, $short:literal, $ask:literal, $takes:expr, $example:literal, $when:expr;)+) => {
        /// All of them.
        pub const QUESTIONS: &[Question] = &[$(Question {
            name: $name, part: $part, short: $short, ask: $ask, takes: $takes, example: $example, when: $when,
        },)+];
    };
}

questions! {
    JOB: "title", "a name for the job", "What is the job called?", Takes::Text, "Ranch on Mill Road", always;
    JOB: "by", "who looks", "Who is looking?", Takes::Text, "J. Ames", always;
    JOB: "date", "the day", "Which day is it?", Takes::Date, "2026-05-12", always;
    JOB: "work", "the kind of work", "What kind of work is it?",
        Takes::Words(&["new system", "new house", "activation", "alteration", "fan swap", "repair", "taken over", "temporary"]),
        "new system", always;
    JOB: "stage", "how far it has come", "How far has it come?",
        Takes::Words(&["design", "installed", "operating"]), "design", always;
    JOB: "adopted", "the rulebook that is law", "Which rulebook is law here?", Takes::Book, "pennsylvania-2019", always;
    JOB: "contract", "the rulebook of the contract", "Which rulebook does the contract or the lender ask for?",
        Takes::Book, "epa-1994", always;
    JOB: "information", "a rulebook for information", "Which rulebook do you want to see for information, without its deciding anything?",
        Takes::Book, "epa-1994", always;
    HOUSE: "stories", "how many storeys", "How many storeys does the house have above the ground?",
        Takes::Words(&["1", "2", "3", "4", "5"]), "1", always;
    HOUSE: "foundation", "what is under the house",
        "What is under the house: a slab, a crawlspace, both of them, a slab with a sump in it, or all three?",
        Takes::Words(FOUNDATIONS), "slab", always;
    HOUSE: "floor", "whether the slab lies in a basement",
        "Is the slab the floor of a basement, or level with the ground, under the rooms one lives in?",
        Takes::Words(FLOORS), "basement", slab;
    HOUSE: "slab", "the size of the slab", "How long and wide is the slab, inside the walls?",
        Takes::Size, "40 ft x 24 ft", slab;
    HOUSE: "under-slab", "what lies under the slab",
        "What lies under the slab? (a clean dry bit usually means gravel)",
        Takes::Words(&["gravel", "coarse sand", "sand", "silt", "clay", "soil", "mat", "rock"]), "gravel", slab;
    HOUSE: "crawl", "the size of the crawlspace", "How long and wide is the crawlspace?",
        Takes::Size, "20 ft x 16 ft", crawl;
    HOUSE: "sump-lid", "the lid of the sump", "Is the lid of the sump sealed?", YES_NO, "no", sump;
    HOUSE: "fuel", "what burns fuel",
        "What burns fuel in the house? First of all name the fuel of one that draws by its own warmth (natural draft), as many water heaters and all fireplaces do: its flue is turned round most easily.",
        Takes::Words(&["gas", "propane", "oil", "wood", "pellets", "coal", "kerosene", "none"]), "gas", always;
    HOUSE: "appliance", "what it is", "What is it?",
        Takes::Words(&["water heater", "furnace", "boiler", "fireplace", "stove", "space heater", "range", "dryer", "other"]),
        "water heater", burns;
    HOUSE: "venting", "its flue", "How do its gases leave the house?",
        Takes::Words(&["natural draft", "fan-assisted", "power vented", "direct vent", "unvented", "not needed"]),
        "natural draft", burns;
    DRILL: "utilities", "marked utilities", "Have the utilities been marked?", YES_NO, "yes", always;
    DRILL: "asbestos", "asbestos", "Does anything look as if it might hold asbestos: old floor tile, mastic, pipe wrap?",
        YES_NO, "no", always;
    DRILL: "vermiculite", "vermiculite", "Is there vermiculite (loose, light, shiny grains of insulation) where work is done?",
        YES_NO, "no", always;
    DRILL: "post-tension", "tensioned cables", "Are there tensioned cables in the slab?", YES_NO, "no", perhaps_slab;
    DRILL: "tubing", "heating tubes", "Are there heating tubes in the slab?", YES_NO, "no", perhaps_slab;
    DRILL: "ducts", "ducts in the slab", "Are there air ducts in or under the slab?", YES_NO, "no", perhaps_slab;
    PLAN: "fan-place", "the place of the fan", "Where is the fan to stand?",
        Takes::Words(&["attic", "outdoors", "garage", "basement", "crawlspace"]), "attic", always;
    PLAN: "roof-edge", "the height of the roof edge",
        "How high is the roof edge above the ground, where the pipe is to come out?", Takes::Length, "9 ft 6 in", always;
    PLAN: "above-roof", "the height of the discharge", "How far is the end of the pipe to stand above the roof?",
        Takes::Length, "22 in", always;
    PLAN: "direction", "the direction of the discharge", "Which way is it to blow?",
        Takes::Words(&["up", "slanting up", "level", "down"]), "up", always;
    PLAN: "opening", "the nearest opening",
        "Look from there: what is the nearest opening into the house? Write none if there is none within 20 ft.",
        Takes::Words(&["window", "door", "skylight", "garage door", "louver", "other", "none"]), "window", always;
    PLAN: "opening-room", "the room of the opening", "Into which room does it lead? Give the room a name.",
        Takes::Text, "kitchen", opening;
    PLAN: "opening-heated", "whether that room is heated", "Is that room heated or cooled?", YES_NO, "yes", opening_room;
    PLAN: "opening-distance", "how far the opening is",
        "How far is it from the end of the pipe, along a straight tape?", Takes::Length, "14 ft", opening;
    PLAN: "opening-around", "how far the opening is around what stands between",
        "How far is it with the tape drawn tight around whatever solid stands between? The same again if nothing does.",
        Takes::Length, "14 ft", opening;
    PLAN: "opening-below", "how far below the opening is", "How far does its top lie below the end of the pipe?",
        Takes::Length, "8 ft 6 in", opening;
    PLAN: "opening-opens", "whether the opening opens", "Can it be opened?", YES_NO, "yes", opening;
    PLAN: "looked", "whether all openings were looked for",
        "Did you look for every opening within 20 ft of the end of the pipe?", YES_NO, "yes", always;
}
