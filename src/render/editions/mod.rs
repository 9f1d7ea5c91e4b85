//! Two books beside each other in words: on a page for people, and as a report for machines.

pub mod json;
pub mod page;

use super::asked::{self, Asked};
use super::phrases;
use super::tell::finding::{Background, thing, title};
use super::tell::numbers::Styles;
use crate::base::text::Sources;
use crate::base::vocabulary::Vocabulary;
use crate::findings::Comes;
use crate::findings::flips::Flip;
use crate::render::words;
use crate::review::adopting::{Adopted, Town};
use crate::review::books;
use crate::rulebook::checked::{CheckedBook, CheckedRule};
use crate::rulebook::editions::{Editions, Moved};

/// One requirement in one of the books.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Side {
    /// Book and name: `epa-1994/discharge-points-up`.
    pub requirement: String,
    /// Its title.
    pub title: String,
    /// Its verb: `shall`, `shall, disputed`.
    pub verb: String,
    /// Its numbers: `clearance at least 10 ft`.
    pub numbers: String,
}

/// What of a requirement is not the same.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Difference {
    /// What: `verb`, `number clearance`.
    pub what: String,
    /// In the first book; empty where there is none.
    pub was: String,
    /// In the second.
    pub is: String,
}

/// A requirement in both books, or in one of them.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Row {
    /// The subject.
    pub subject: String,
    /// In the first book.
    pub old: Option<Side>,
    /// In the second.
    pub new: Option<Side>,
    /// What is not the same, where both have it.
    pub moved: Vec<Difference>,
}

/// A verdict that turns on one design.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Turn {
    /// What the finding is known by.
    pub identity: String,
    /// Its title.
    pub title: String,
    /// What it is about.
    pub thing: String,
    /// What it comes to under the first book; nothing where it is not asked.
    pub was: Option<Comes>,
    /// The same under the second.
    pub is: Option<Comes>,
}

/// A local book on a design.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Local {
    /// Its name.
    pub book: String,
    /// How many requirements it changes or withdraws.
    pub changes: usize,
    /// Why its changes do not fit the second book; none when all of them do.
    pub amiss: Vec<String>,
}

/// What would turn on one design.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct OnDesign {
    /// The file.
    pub file: String,
    /// How the book stands there: `adopted`; or that it was taken so for this comparison.
    pub stands: String,
    /// Local books that build on the first.
    pub local: Vec<Local>,
    /// The verdicts that turn.
    pub turns: Vec<Turn>,
    /// How many do not.
    pub alike: usize,
}

/// Everything about two books.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Told {
    /// The first book and the second: name, title and edition.
    pub books: [(String, String); 2],
    /// The requirements, by subject.
    pub rows: Vec<Row>,
    /// What would turn on one's own designs.
    pub designs: Vec<OnDesign>,
}

/// Two books in words.
#[must_use]
pub fn told(old: &CheckedBook, new: &CheckedBook, editions: &Editions, vocabulary: &Vocabulary) -> Told {
    let of = |book: &CheckedBook| (book.name.clone(), format!("{}, {}", book.title, book.edition));
    let mut rows: Vec<Row> = Vec::new();
    let at = |book: &'_ CheckedBook, place: usize| book.rules.get(place).cloned();
    for pair in &editions.pairs {
        let (Some(was), Some(is)) = (at(old, pair.old), at(new, pair.new)) else { continue };
        rows.push(Row {
            subject: was.subject.clone(),
            old: Some(side(old, &was)),
            new: Some(side(new, &is)),
            moved: pair.moved.iter().map(|moved| difference(moved, &was, &is, vocabulary)).collect(),
        });
    }
    for (book, places, first) in [(old, &editions.only_old, true), (new, &editions.only_new, false)] {
        for rule in places.iter().filter_map(|place| at(book, *place)) {
            let side = Some(side(book, &rule));
            let (old, new) = if first { (side, None) } else { (None, side) };
            rows.push(Row { subject: rule.subject.clone(), old, new, moved: Vec::new() });
        }
    }
    rows.sort_by(|a, b| a.subject.cmp(&b.subject));
    Told { books: [of(old), of(new)], rows, designs: Vec::new() }
}

fn side(book: &CheckedBook, rule: &CheckedRule) -> Side {
    let numbers: Vec<String> = rule
        .limits
        .iter()
        .map(|limit| format!("{} {}", phrases::spoken(&limit.name), asked::limit(limit)))
        .collect();
    Side {
        requirement: format!("{}/{}", book.name, rule.name),
        title: rule.title.clone(),
        verb: verb(rule),
        numbers: numbers.join("; "),
    }
}

fn verb(rule: &CheckedRule) -> String {
    format!("{}{}", rule.obligation.word(), if rule.disputed { ", disputed" } else { "" })
}

fn difference(moved: &Moved, was: &CheckedRule, is: &CheckedRule, vocabulary: &Vocabulary) -> Difference {
    let of = |what: &str, tell: &dyn Fn(&CheckedRule) -> String| Difference {
        what: what.to_owned(),
        was: tell(was),
        is: tell(is),
    };
    match moved {
        Moved::Verb => of("verb", &verb),
        Moved::Due => of("due", &|rule| phrases::due(rule.due).to_owned()),
        Moved::Stops => of("first", &|rule| rule.stops.map_or("", phrases::stops).to_owned()),
        Moved::Each => of("asked of", &|rule| asked::each(rule, vocabulary).unwrap_or_default()),
        Moved::Applies => of("if", &|rule| asked::applies(rule, vocabulary).map(joined).unwrap_or_default()),
        Moved::Limit(name) => of(&format!("number {}", phrases::spoken(name)), &|rule| {
            rule.limits.iter().find(|limit| limit.name == *name).map(asked::limit).unwrap_or_default()
        }),
        Moved::Requires => of("asks", &|rule| joined(asked::requires(rule, vocabulary))),
        Moved::Source => of("clause", &|rule| {
            let source = &rule.source;
            let section =
                if source.section.is_empty() { String::new() } else { format!(" {}", source.section) };
            format!("{}{section} ({})", source.document, phrases::basis_short(source.basis))
        }),
        Moved::ReadAs => of("read as", &|rule| rule.interpretation.trim().to_owned()),
    }
}

fn joined(asked: Asked) -> String {
    asked.parts.join(if asked.any { "; or " } else { "; and " })
}

/// What would turn on one design, in words.
#[must_use]
pub fn on_design(file: &str, adopted: &Adopted<'_>, turned: &[Flip], alike: usize) -> OnDesign {
    let turns = turned.iter().map(|flip| {
        // The titles are those of the book that asks.
        let (review, at) = match (flip.is, flip.was) {
            (Some((_, at)), _) => (&adopted.new, at),
            (None, Some((_, at))) => (&adopted.old, at),
            (None, None) => (&adopted.old, 0),
        };
        let styles = Styles::default();
        let background = Background {
            sources: &review.sources,
            styles: &styles,
            used: &review.used,
            vocabulary: books::vocabulary(),
            on_file: &review.variances,
            name_of: review,
        };
        let finding = review.findings.get(at);
        Turn {
            identity: flip.identity.clone(),
            title: finding.map(|finding| title(finding, &background)).unwrap_or_default(),
            thing: finding.map(|finding| thing(finding, background.vocabulary)).unwrap_or_default(),
            was: flip.was.map(|(comes, _)| comes),
            is: flip.is.map(|(comes, _)| comes),
        }
    });
    OnDesign {
        file: file.to_owned(),
        stands: adopted.stands.clone(),
        local: adopted.towns.iter().map(|town| local(town, &adopted.new.sources)).collect(),
        turns: turns.collect(),
        alike,
    }
}

fn local(town: &Town, sources: &Sources) -> Local {
    let amiss = town.faults.iter().map(|fault| {
        let at = super::amended::place(sources, fault.at);
        let said = words::of(fault);
        format!("{} ({at}) {}", said.what, said.todo)
    });
    Local { book: town.book.clone(), changes: town.changes, amiss: amiss.collect() }
}
