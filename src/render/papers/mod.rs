//! What people hold in their hands, as plain data: parts one behind another, before anybody decides on a browser or a
//! printer. The back-ends are [`super::html`] and [`super::pdf`].

pub mod excerpt;
pub mod labels;
pub mod packet;
pub mod report;
pub mod sheets;
pub(in crate::render) mod true_size;

use super::tell::told::Weighs;
use crate::base::number::Quantity;
use crate::drawing::Sheet;
use excerpt::Shown;

/// A paper.
#[derive(Clone, PartialEq, Debug)]
pub struct Paper {
    /// What it is called.
    pub title: String,
    /// What it is of: file, work, stage, day.
    pub about: Vec<String>,
    /// Its parts, in order.
    pub parts: Vec<Part>,
    /// What it was made of, in full: at the end of the whole.
    pub foot: Vec<String>,
    /// What stands on every printed sheet: what it is not, books and editions, digests, day, version. May be empty.
    pub running: Vec<String>,
    /// The texts that it quotes, to look up: name and lines.
    pub quoted: Vec<Quoted>,
}

/// A text that a paper quotes.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Quoted {
    /// The name of the file.
    pub name: String,
    /// Its lines, made safe to show.
    pub lines: Vec<String>,
}

/// A part of a paper.
#[derive(Clone, PartialEq, Debug)]
pub enum Part {
    /// A heading: how deep, from two, its words, and the name by which it can be led to.
    Heading(u8, String, String),
    /// A paragraph.
    Words(String),
    /// What the whole comes to, set apart.
    Banner(Weighs, String, Vec<String>),
    /// A list.
    List(Vec<Item>),
    /// A table.
    Table(Table),
    /// A drawing, under the name by which it can be led to.
    Drawing(String, Box<Sheet>),
    /// A finding, with all that belongs to it.
    Finding(Box<Told>),
    /// Something that is wrong with a file.
    Fault(Box<Fault>),
    /// Lines of a form: what is known stands on them, and the rest is filled in by hand.
    Blanks(Vec<Blank>),
    /// A sign to cut out and put up, drawn at its true size.
    Sign(Box<Sign>),
    /// A line of this length, by which it is seen whether a printer keeps the size.
    Measure(Box<Quantity>),
    /// What follows begins on a new sheet.
    NewSheet,
}

/// A line of a form.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Blank {
    /// What belongs on it.
    pub label: String,
    /// What stands on it; empty for one that is filled in by hand.
    pub words: String,
    /// What is said beside it, such as why it is left blank; may be empty.
    pub note: String,
}

impl Blank {
    /// A line with what is known of it.
    #[must_use]
    pub fn of(label: &str, words: Option<String>) -> Self {
        Blank { label: label.to_owned(), words: words.unwrap_or_default(), note: String::new() }
    }
}

/// A sign to cut out and put up.
#[derive(Clone, PartialEq, Debug)]
pub struct Sign {
    /// Its lines: each with the words on it and the room behind them for what is filled in by hand, where there is any.
    pub lines: Vec<(String, bool)>,
    /// How high its capital letters are.
    pub letters: Quantity,
    /// How many are printed.
    pub copies: usize,
}

/// What is filled in by hand: boxes to tick, and lines to write on.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Answer {
    /// Its number and what it is of, where several are told together.
    pub of: Option<(usize, String)>,
    /// What is said of this one alone; may be empty.
    pub said: String,
    /// What one ticks.
    pub ticks: Vec<String>,
    /// What stands in front of each line.
    pub write: Vec<String>,
}

/// A line of a list.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Item {
    /// How it weighs.
    pub weighs: Weighs,
    /// What it says.
    pub words: String,
    /// Where it leads: the names of findings, each with what it is called.
    pub leads: Vec<(String, String)>,
}

/// A table.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Table {
    /// What it is of.
    pub caption: String,
    /// The heads of its columns.
    pub head: Vec<String>,
    /// Its rows, each with as many cells as there are heads.
    pub rows: Vec<Vec<String>>,
    /// How wide its columns are beside each other.
    pub shares: Vec<u8>,
    /// Whether every cell has a frame, because some are written in by hand.
    pub ruled: bool,
}

/// A finding in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Told {
    /// Its number on this paper and on the drawings, if it has one.
    pub number: Option<usize>,
    /// The name by which it can be led to.
    pub anchor: String,
    /// How it weighs.
    pub weighs: Weighs,
    /// Its verdict.
    pub verdict: String,
    /// What is asked for.
    pub title: String,
    /// What it is asked of; empty for the whole.
    pub thing: String,
    /// What was found.
    pub sentence: String,
    /// Labels and what belongs to them.
    pub rows: Vec<(String, String)>,
    /// The books that ask for it.
    pub books: Vec<String>,
    /// The lines that decided.
    pub shown: Vec<Shown>,
    /// The clauses that ask for it, on a form: what stands there in small letters.
    pub cited: Vec<String>,
    /// What is to be filled in, on a form.
    pub answers: Vec<Answer>,
}

/// Something that is wrong with a file, in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Fault {
    /// How it weighs.
    pub weighs: Weighs,
    /// What is wrong.
    pub what: String,
    /// Labels and what belongs to them.
    pub rows: Vec<(String, String)>,
    /// Where it stands.
    pub shown: Vec<Shown>,
}

/// A name to be led to: what is no letter or digit becomes a stroke.
#[must_use]
pub fn anchor(front: &str, identity: &str) -> String {
    let mut name = format!("{front}-");
    for c in identity.chars() {
        if c.is_ascii_alphanumeric() {
            name.push(c.to_ascii_lowercase());
        } else if c.is_ascii() {
            name.push('-');
        } else {
            // So that two names in another script are not one.
            name.push_str(&format!("{:x}", u32::from(c)));
        }
    }
    name
}
