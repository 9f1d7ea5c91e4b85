//! A review as a paper: what it comes to, what to do, every finding with its reasons, what was checked and what not.

use std::collections::BTreeMap;

use super::excerpt::lines;
use super::{Fault, Item, Paper, Part, Quoted, Table, Told, anchor};
use crate::base::problem::{Problem, Weight};
use crate::base::text::Sources;
use crate::drawing::{Sheet, numbers};
use crate::findings::compare::account::Program;
use crate::render::phrases::{caution, count, day};
use crate::render::tell::told::{self, Card, Section, Weighs};
use crate::render::terminal::Show;
use crate::render::terminal::excerpt::Mark;
use crate::render::terminal::problems::place;
use crate::render::visible::one_line;
use crate::render::{tell, words};
use crate::review::{DESIGN, Review, books};

/// The review as a paper, with these drawings of the design, each under its name.
#[must_use]
pub fn report(review: &Review<'_>, show: Show, program: &Program, drawings: Vec<(String, Sheet)>) -> Paper {
    let told = tell::tell(review, show);
    let mut desk = Desk { review, numbers: numbers(review), parts: Vec::new() };
    desk.front(&told);
    if review.refusal().is_some() {
        desk.faults(&told);
    } else if show != Show::Summary {
        desk.drawings(drawings);
        desk.details(&told);
    }
    desk.parts.push(Part::Heading(2, "What this page is not".to_owned(), "what-it-is-not".to_owned()));
    desk.parts.push(Part::Words(told.is_not.clone()));
    Paper {
        title: told.title.clone(),
        about: vec![told.about.clone(), told.radon.clone()],
        parts: desk.parts,
        foot: made_of(review, program),
        running: running(review, program),
        quoted: quoted(&review.sources),
    }
}

/// So many characters of a digest are printed at the foot of a sheet: enough to hold two sheets against each other.
const SHORT_DIGEST: usize = 16;

/// What stands at the foot of every sheet: what it is not, and what it was made of, in short.
#[must_use]
pub fn running(review: &Review<'_>, program: &Program) -> Vec<String> {
    let short = |digest: &str| digest.chars().take(SHORT_DIGEST).collect::<String>();
    let mut named = Vec::new();
    for used in &review.used {
        let edition = if used.book.edition.is_empty() { "no edition" } else { used.book.edition.as_str() };
        let digest = used.book.digest(books::vocabulary());
        named.push(format!("{} ({edition}) {}", used.book.name, short(&digest)));
    }
    let named = if named.is_empty() { "none".to_owned() } else { named.join("; ") };
    let on = review.on.as_deref().map_or_else(|| "no day".to_owned(), day);
    vec![
        "Not a permit, not an approval, not a radon measurement. The local code and licensed people decide."
            .to_owned(),
        format!(
            "Undercroft {}. Reviewed for {on}. Design sha256 {}, {}.",
            program.version,
            short(&review.digests.design),
            one_line(review.name())
        ),
        format!("Rulebooks, with the first digits of their digests: {named}."),
    ]
}

/// What a review was made of: the digests of design and books, the day, the version of the program.
#[must_use]
pub fn made_of(review: &Review<'_>, program: &Program) -> Vec<String> {
    let digest = |name: &str, digest: &str| format!("{}: sha256 {digest}", one_line(name));
    let mut said = vec![format!("Undercroft {}", program.version)];
    said.push(match &review.on {
        Some(day) => format!("Reviewed for {day}, at the stage {}", review.stage.word()),
        None => format!("Reviewed for no day, at the stage {}", review.stage.word()),
    });
    said.push(digest(review.name(), &review.digests.design));
    if let (Some(shop), Some(of)) = (review.sources.get(crate::review::SHOP), &review.digests.shop) {
        said.push(digest(shop.name(), of));
    }
    said.extend(review.digests.field_notes.iter().map(|(name, of)| digest(name, of)));
    for used in &review.used {
        let edition =
            if used.book.edition.is_empty() { String::new() } else { format!(", {}", used.book.edition) };
        said.push(format!("{}{edition}: {}", used.book.name, used.book.digest(books::vocabulary())));
    }
    said
}

/// The design, line by line, so that a finding can lead to its lines.
fn quoted(sources: &Sources) -> Vec<Quoted> {
    let Some(design) = sources.get(DESIGN) else { return Vec::new() };
    let line = |at: usize| {
        let range = design.line_range(at).unwrap_or(0..0);
        let text = design.text().get(range).unwrap_or("");
        one_line(text.trim_start_matches('\u{feff}')).into_owned()
    };
    vec![Quoted {
        name: one_line(design.name()).into_owned(),
        lines: (0..design.line_count()).map(line).collect(),
    }]
}

struct Desk<'a> {
    review: &'a Review<'a>,
    numbers: BTreeMap<String, usize>,
    parts: Vec<Part>,
}

impl Desk<'_> {
    fn heading(&mut self, words: &str) {
        self.parts.push(Part::Heading(2, words.to_owned(), anchor("part", words)));
    }

    fn list(&mut self, heading: &str, lines: &[String], weighs: Weighs) {
        if lines.is_empty() {
            return;
        }
        self.heading(heading);
        let item = |line: &String| Item { weighs, words: line.clone(), leads: Vec::new() };
        self.parts.push(Part::List(lines.iter().map(item).collect()));
    }

    /// What it comes to, what must wait, and what to do.
    fn front(&mut self, told: &told::Told) {
        let weighs = if !told.stops.is_empty() {
            Weighs::Stops
        } else if !told.duties.is_empty() || !told.unread.is_empty() {
            Weighs::Unmet
        } else {
            // A calm frame: what is still open is said in words.
            Weighs::Silent
        };
        let more = [&told.counts, &told.aside, &told.part, &told.unread, &told.last];
        let more = more.into_iter().filter(|line| !line.is_empty()).cloned().collect();
        self.parts.push(Part::Banner(weighs, told.headline.clone(), more));
        self.list("Work that must wait", &told.stops, Weighs::Stops);
        self.list("To know beforehand", &told.notes, Weighs::Open);
        self.books(told);
        self.contents(told);
        self.list("Before the fan is left running", &told.before_running, Weighs::Stops);
        self.list("Later", &told.later, Weighs::Silent);
        let cautions: Vec<String> = told.cautions.iter().map(|one| caution(one)).collect();
        self.list("Careful", &cautions, Weighs::Silent);
    }

    fn books(&mut self, told: &told::Told) {
        if told.books.is_empty() {
            return;
        }
        self.heading("Held against");
        let standing = |book: &told::BookLine| match book.decides_nothing.as_str() {
            "" => book.standing.clone(),
            why => format!("{}, but {why}", book.standing),
        };
        let row = |book: &told::BookLine| {
            vec![
                book.name.clone(),
                format!("{}, {}", book.title, book.edition),
                standing(book),
                book.nature.clone(),
            ]
        };
        self.parts.push(Part::Table(Table {
            caption: "The rulebooks that were used".to_owned(),
            head: ["book", "title and edition", "for this job", "in law"].map(str::to_owned).to_vec(),
            rows: told.books.iter().map(row).collect(),
            shares: vec![2, 4, 2, 3],
            ruled: false,
        }));
    }

    /// The findings by name, each leading to where it is told.
    fn contents(&mut self, told: &told::Told) {
        let line = |card: &Card| Item {
            weighs: card.weighs,
            words: card.verdict.clone(),
            leads: vec![(anchor("finding", &card.identity), called(card))],
        };
        for section in told.sections.iter().filter(|section| is_short(section)) {
            self.parts.push(Part::Heading(3, section.heading.clone(), anchor("list", &section.heading)));
            self.parts.push(Part::List(section.cards.iter().map(line).collect()));
        }
    }

    fn drawings(&mut self, drawings: Vec<(String, Sheet)>) {
        if drawings.is_empty() {
            return;
        }
        self.heading("Drawings");
        for (name, sheet) in drawings {
            self.parts.push(Part::Heading(3, sheet.title.clone(), anchor("drawing", &name)));
            self.parts.push(Part::Drawing(name, Box::new(sheet)));
        }
    }

    fn details(&mut self, told: &told::Told) {
        self.faults(told);
        let (deciding, rest): (Vec<&Section>, Vec<&Section>) =
            told.sections.iter().partition(|section| section.decides || section.weighs == Weighs::Stops);
        deciding.into_iter().for_each(|section| self.section(section));
        self.wanted(told);
        rest.into_iter().for_each(|section| self.section(section));
        for (heading, lines) in &told.lists {
            self.list(heading, lines, Weighs::Open);
        }
        self.coverage(told);
    }

    fn section(&mut self, section: &Section) {
        self.heading(&section.heading);
        if !section.lead.is_empty() {
            self.parts.push(Part::Words(section.lead.clone()));
        }
        for card in &section.cards {
            let told = self.finding(card);
            self.parts.push(Part::Finding(Box::new(told)));
        }
    }

    fn wanted(&mut self, told: &told::Told) {
        if told.wanted.is_empty() {
            return;
        }
        self.heading("What to measure or settle next");
        let row = |wanted: &told::Wanted| {
            let first = if wanted.first.is_empty() { String::new() } else { format!(" ({})", wanted.first) };
            vec![
                format!("{}{first}", wanted.what),
                wanted.to_do.clone(),
                wanted.write.clone(),
                wanted.asked_for_by.to_string(),
            ]
        };
        self.parts.push(Part::Table(Table {
            caption: "Entries that would settle something, the most useful first".to_owned(),
            head: ["what", "where", "write", "asked for by"].map(str::to_owned).to_vec(),
            rows: told.wanted.iter().map(row).collect(),
            shares: vec![4, 4, 3, 1],
            ruled: false,
        }));
    }

    fn faults(&mut self, told: &told::Told) {
        if told.problems.is_empty() {
            return;
        }
        let n = count(told.problems.len(), "place to mend", "places to mend");
        self.heading(&format!("In the file: {n}"));
        for problem in &told.problems {
            let fault = self.fault(problem);
            self.parts.push(Part::Fault(Box::new(fault)));
        }
    }

    fn fault(&self, problem: &Problem) -> Fault {
        let said = words::of(problem);
        let mut marks = vec![Mark { at: problem.at, words: String::new() }];
        marks.extend(problem.also.iter().map(|(at, what)| Mark { at: *at, words: what.clone() }));
        Fault {
            weighs: match problem.kind.weight() {
                Weight::Doubt => Weighs::Open,
                Weight::Entry | Weight::Whole => Weighs::Unmet,
            },
            what: said.what,
            rows: vec![
                ("where".to_owned(), place(&self.review.sources, problem)),
                ("why".to_owned(), said.why),
                ("to mend".to_owned(), said.todo),
            ],
            shown: lines(&self.review.sources, &marks),
        }
    }

    fn finding(&self, card: &Card) -> Told {
        let mut rows = Vec::new();
        if !card.place.is_empty() {
            rows.push(("where".to_owned(), card.place.clone()));
        }
        rows.extend(card.rows.iter().cloned());
        Told {
            number: self.numbers.get(&card.identity).copied(),
            anchor: anchor("finding", &card.identity),
            weighs: card.weighs,
            verdict: card.verdict.clone(),
            title: card.title.trim_matches('"').to_owned(),
            thing: card.thing.clone(),
            sentence: card.sentence.clone(),
            rows,
            books: card.books.clone(),
            shown: lines(&self.review.sources, &card.marks),
            cited: Vec::new(),
            answers: Vec::new(),
        }
    }

    fn coverage(&mut self, told: &told::Told) {
        if told.coverage.is_empty() {
            return;
        }
        self.heading("What was checked, and what was not");
        for one in &told.coverage {
            self.parts.push(Part::Heading(3, one.book.clone(), anchor("checked", &one.book)));
            let mut lines = vec![format!("In law: {}", one.in_law), format!("Checked: {}", one.checked)];
            if !one.on_memory.is_empty() {
                lines.push(format!("On trust: {}", one.on_memory));
            }
            lines.extend(one.to_the_eye.iter().map(|line| format!("By eye: {line}")));
            lines.extend(one.not_held.iter().map(|line| format!("Text not held: {line}")));
            lines.extend(one.amended.iter().map(|line| format!("Amended: {line}")));
            let item = |words: String| Item { weighs: Weighs::Silent, words, leads: Vec::new() };
            self.parts.push(Part::List(lines.into_iter().map(item).collect()));
        }
    }
}

/// A finding by name: what is asked for, and of what.
fn called(card: &Card) -> String {
    let title = card.title.trim_matches('"');
    if card.thing.is_empty() { title.to_owned() } else { format!("{title}: {}", card.thing) }
}

/// Whether a section is one that a person looks up by name: not the long lists of what is met.
fn is_short(section: &Section) -> bool {
    !matches!(section.weighs, Weighs::Met) && section.decides || section.weighs == Weighs::Stops
}
