//! A review in words, before anybody decides on columns, colours or paper.

use crate::base::problem::Problem;
use crate::render::terminal::excerpt::Mark;

/// How a thing that is told weighs on the page.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Weighs {
    /// Work must wait.
    Stops,
    /// Not as asked.
    Unmet,
    /// Not known yet.
    Open,
    /// As asked.
    Met,
    /// Not asked here, or not now.
    Silent,
}

/// One finding in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Card {
    /// What the finding is known by, or the entry or variance that it is about.
    pub identity: String,
    /// How it weighs.
    pub weighs: Weighs,
    /// Its verdict in words.
    pub verdict: String,
    /// What is asked for.
    pub title: String,
    /// What it is asked of, in plain words; empty for the whole.
    pub thing: String,
    /// Where that stands.
    pub place: String,
    /// What was found, one sentence.
    pub sentence: String,
    /// Labels and what belongs to them: found, needed, why, clause, …
    pub rows: Vec<(String, String)>,
    /// The places that decided.
    pub marks: Vec<Mark>,
    /// The books that ask for it.
    pub books: Vec<String>,
}

/// Findings under one heading.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Section {
    /// The heading.
    pub heading: String,
    /// How they weigh.
    pub weighs: Weighs,
    /// Whether they can decide the outcome.
    pub decides: bool,
    /// A sentence on what they have in common; may be empty.
    pub lead: String,
    /// The findings.
    pub cards: Vec<Card>,
}

/// What is not as asked, for one cause.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cause {
    /// How it weighs.
    pub weighs: Weighs,
    /// The cause.
    pub what: String,
    /// The things it touches.
    pub names: Vec<String>,
}

/// An entry that would settle something.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Wanted {
    /// How many requirements ask for it.
    pub asked_for_by: usize,
    /// The work that waits for it; empty if none does.
    pub first: String,
    /// What to measure or state, in plain words.
    pub what: String,
    /// The same in a few words, with what it is asked of.
    pub says: String,
    /// What to write there: the words to choose from, or an example; empty if that is not known.
    pub write: String,
    /// Where to add it, or what is wrong with it as it stands.
    pub to_do: String,
    /// Whether the reasons to wait name it already.
    pub told_above: bool,
}

/// A book in one line.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct BookLine {
    /// The name by which the design names it.
    pub name: String,
    /// Its standing.
    pub standing: String,
    /// Why it decides nothing, if so.
    pub decides_nothing: String,
    /// Its title.
    pub title: String,
    /// Its edition.
    pub edition: String,
    /// What it is in law.
    pub nature: String,
}

/// What was checked of a book, and what was not.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Coverage {
    /// The book: name, title and edition.
    pub book: String,
    /// What it is in law.
    pub in_law: String,
    /// What of it was checked, by verdict.
    pub checked: String,
    /// Clauses left to the eye: section and what to look at.
    pub to_the_eye: Vec<String>,
    /// Clauses whose text is not held.
    pub not_held: Vec<String>,
    /// Requirements of the books below that it changes or takes out of force, each with whose decision that is.
    pub amended: Vec<String>,
    /// How many are met on the word of a memory or of a similar standard only.
    pub on_memory: String,
}

/// A review in words.
#[derive(Clone, Debug, Default)]
pub struct Told {
    /// What the job is called.
    pub title: String,
    /// The file, the work, the stage, the day.
    pub about: String,
    /// The results of the radon tests, in one line; empty when there are none.
    pub radon: String,
    /// The books that were used.
    pub books: Vec<BookLine>,
    /// Which part of the review the details tell, if not all; else empty.
    pub part: String,
    /// What else has to be known to read this page.
    pub notes: Vec<String>,
    /// Work that must wait, and why: "Do not drill: …".
    pub stops: Vec<String>,
    /// What it all comes to, in one sentence.
    pub headline: String,
    /// The verdicts, counted.
    pub counts: String,
    /// How much of the books that are used for information is not met, in a line; may be empty.
    pub aside: String,
    /// Duties that are not as asked, by requirement, in the order of the findings.
    pub duties: Vec<Cause>,
    /// What is not as asked and decides nothing: disputed, advice, for information, a line for each.
    pub others: Vec<Cause>,
    /// What could not be read, in a line; may be empty.
    pub unread: String,
    /// What has to be done before the fan is left running, and cannot be asked yet.
    pub before_running: Vec<String>,
    /// What comes due later, by name.
    pub later: Vec<String>,
    /// What to measure or state next, the most useful first.
    pub wanted: Vec<Wanted>,
    /// Problems with the files.
    pub problems: Vec<Problem>,
    /// The findings, before drilling first.
    pub sections: Vec<Section>,
    /// Verdicts that need no word, in lists: heading and lines.
    pub lists: Vec<(String, Vec<String>)>,
    /// Per book, what was checked and what not.
    pub coverage: Vec<Coverage>,
    /// Cautions for whoever does the work.
    pub cautions: Vec<String>,
    /// What this page is not.
    pub is_not: String,
    /// What it all comes to, once more, with the work that must wait.
    pub verdict: String,
    /// The last line: what is not yet due.
    pub last: String,
}
