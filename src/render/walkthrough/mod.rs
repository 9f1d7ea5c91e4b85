//! The walk round the house in words: a form to print, a page for a terminal, field notes to type into.

pub mod page;
pub mod paper;

use crate::correct::form::Wording;
use crate::design::keys::way;
use crate::design::said::{in_words, of};
use crate::facts::walked::{Room, Stand};
use crate::findings::finding::{Clause, Comes, Finding};
use crate::findings::looked::Eye;
use crate::judge::verdict::Verdict;
use crate::render::phrases::{self, count, spoken};
use crate::render::tell::finding::{Background, card, citation, cited, thing, title, verdict, weighs};
use crate::render::tell::numbers::{Numbers, Styles};
use crate::render::tell::spot;
use crate::render::tell::told::Weighs;
use crate::render::tell::wanted::said_of;
use crate::render::terminal::sheet::capital;
use crate::render::visible::one_line;
use crate::review::books;
use crate::review::walk::{Asked, Row, Station, Walk};
use crate::rulebook::checked::Stage;

/// What one ticks behind a requirement.
pub const TICKS: [&str; 3] = ["as it should be", "not as it should be", "could not see it"];

/// The cautions of whoever walks round a house.
const CAUTIONS: [&str; 4] = [
    "Crawlspaces and pits are tight places: know the way out, take somebody along, and stay out where the air may be bad.",
    "In an attic step on the framing alone. Secure the ladder; leave the roof to those who are trained and tied.",
    "Open no panel and touch no wire: that is for a licensed electrician. Where flue gas is smelled or an alarm sounds, leave and call.",
    "Disturb nothing that may hold asbestos or lead. Local code and licensed practice come first.",
];

/// A row in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Line {
    /// Its number on the walk.
    pub number: usize,
    /// The name under which it is written down what was seen.
    pub name: String,
    /// How it weighs.
    pub weighs: Weighs,
    /// What it waits for: that it is not known, or until when it is not due.
    pub waits: String,
    /// What is asked for.
    pub title: String,
    /// What it is asked of; empty for the whole.
    pub thing: String,
    /// What to measure or look for.
    pub find: Vec<Find>,
    /// The numbers: what was designed, what is needed, and by how much it may come out otherwise.
    pub numbers: Vec<(String, String)>,
    /// The clauses, each with book, section, edition and how sure the text is.
    pub clauses: Vec<String>,
    /// The same in short, for a paper that names the books with their editions elsewhere.
    pub cited: Vec<String>,
    /// The books that ask for it.
    pub books: Vec<String>,
}

/// Something to measure or look for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Find {
    /// What it is of; may be empty.
    pub of: String,
    /// What it is.
    pub what: String,
}

impl Find {
    /// Both in one phrase.
    #[must_use]
    pub fn words(&self) -> String {
        said_of(&self.of, &self.what)
    }
}

/// A place on the walk with its rows in words.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Stop {
    /// What the place is called.
    pub heading: String,
    /// Its rows.
    pub lines: Vec<Line>,
}

/// The whole walk in words.
#[must_use]
pub fn told(walk: &Walk<'_>) -> Vec<Stop> {
    let styles = Styles::default();
    let teller = Teller { walk, styles: &styles };
    let mut number = 0;
    let mut stops = Vec::new();
    for (station, rows) in &walk.stations {
        let mut lines = Vec::with_capacity(rows.len());
        for row in rows {
            number += 1;
            lines.push(teller.line(row, number));
        }
        stops.push(Stop { heading: heading(station), lines });
    }
    stops
}

/// What a place is called.
fn heading(station: &Station) -> String {
    let (room, name) = match station {
        Station::BeforeDrilling => return "Before anybody drills".to_owned(),
        Station::At(Stand::Panel) => return "Electrical panel".to_owned(),
        Station::At(Stand::Throughout) => return "All through the house".to_owned(),
        Station::ToTheEye => return "Left to the eye, wherever it is".to_owned(),
        Station::At(Stand::Outside) => return "Outside".to_owned(),
        Station::At(Stand::Roof) => return "Roof".to_owned(),
        Station::At(Stand::Papers) => return "Papers and tests".to_owned(),
        Station::At(Stand::Nowhere) => return "What has no one place".to_owned(),
        Station::At(Stand::In(room, _, name)) => (room, capital(&spoken(name))),
    };
    let sort = match room {
        Room::Basement => "Basement",
        Room::Crawlspace => "Crawlspace",
        Room::Attic => "Attic",
        Room::Other => return name,
    };
    if name.to_lowercase().contains(&sort.to_lowercase()) { name } else { format!("{sort}: {name}") }
}

struct Teller<'a> {
    walk: &'a Walk<'a>,
    styles: &'a Styles,
}

impl Teller<'_> {
    fn line(&self, row: &Row, number: usize) -> Line {
        match &row.of {
            Asked::Eye(eye) => self.eye(eye, row, number),
            Asked::Finding { now, ahead } => {
                let now = self.walk.now.findings.get(*now);
                let ahead = ahead.and_then(|at| self.walk.ahead.findings.get(at));
                match now {
                    Some(now) => self.finding(now, ahead, row, number),
                    None => blank(row, number),
                }
            }
        }
    }

    fn eye(&self, eye: &Eye, row: &Row, number: usize) -> Line {
        let used = |book: usize| self.walk.now.used.get(book);
        let clause = |(book, section): &(usize, String), edition: &dyn Fn(&str) -> String| {
            let used = used(*book)?;
            let section = if section.is_empty() { String::new() } else { format!(", section {section}") };
            Some(format!("{}{section}{}; left to the eye", used.book.name, edition(&used.book.edition)))
        };
        let clauses = |edition: &dyn Fn(&str) -> String| -> Vec<String> {
            eye.clauses.iter().filter_map(|one| clause(one, edition)).collect()
        };
        Line {
            weighs: Weighs::Silent,
            waits: "left to the eye".to_owned(),
            title: capital(&eye.look_for),
            clauses: clauses(&edition),
            cited: clauses(&|_| String::new()),
            books: eye.clauses.iter().filter_map(|(book, _)| Some(used(*book)?.book.name.clone())).collect(),
            ..blank(row, number)
        }
    }

    fn finding(&self, now: &Finding, ahead: Option<&Finding>, row: &Row, number: usize) -> Line {
        let here = background(&self.walk.now, self.styles);
        let there = background(&self.walk.ahead, self.styles);
        let book = |clause: &Clause| here.used.get(clause.book).map(|used| used.book.name.clone());
        let mut numbers: Vec<(String, String)> = Vec::new();
        for (label, words) in ahead.map(|ahead| card(ahead, &there).rows).unwrap_or_default() {
            let label = match label.as_str() {
                "found" => "stated",
                needed if needed.ends_with("needed") => needed,
                _ => continue,
            };
            numbers.push((label.to_owned(), words));
        }
        let trace = ahead.and_then(|ahead| ahead.headline()?.trace.as_deref());
        if let Some(spare) = trace.and_then(|trace| Numbers::of(trace, &there).to_spare()) {
            numbers.push(("tolerance".to_owned(), spare));
        }
        let mut find: Vec<Find> = Vec::new();
        let open = now.clauses.iter().chain(ahead.into_iter().flat_map(|ahead| &ahead.clauses));
        for missing in
            open.filter(|one| one.verdict == Verdict::Undetermined).flat_map(|clause| &clause.missing)
        {
            if missing.entry.as_str().is_empty() {
                continue;
            }
            let mut what = spot::meaning(missing);
            // How a whole section is written, the field notes show.
            let short = way(missing.entry.as_str()).map(|way| way.short());
            if let Some(short) = short.filter(|short| !short.contains(['{', '['])) {
                what.push_str(&format!(" ({short})"));
            }
            let one = Find { of: of(missing.entry.as_str()), what };
            if !find.contains(&one) {
                find.push(one);
            }
        }
        let cite = |clause: &Clause| {
            let edition = here.used.get(clause.book).map(|used| edition(&used.book.edition));
            format!("{}{}", citation(clause, now.comes(), &here), edition.unwrap_or_default())
        };
        let short = |clause: &Clause| {
            format!("{}: {}", book(clause).unwrap_or_default(), cited(clause, now.comes(), &here))
        };
        Line {
            weighs: weighs(now),
            waits: self.waits(now, &here),
            title: title(now, &here).trim_matches('"').to_owned(),
            thing: thing(now, here.vocabulary),
            find,
            numbers,
            clauses: now.clauses.iter().map(cite).collect(),
            cited: now.clauses.iter().map(short).collect(),
            books: now.clauses.iter().filter_map(book).collect(),
            ..blank(row, number)
        }
    }

    fn waits(&self, finding: &Finding, background: &Background<'_>) -> String {
        // What the finding comes to is said as on every other paper, whatever some clause of it waits for.
        if matches!(finding.comes(), Comes::Unmet | Comes::Disputed | Comes::Varied) {
            let said = verdict(finding);
            return if finding.counts() { said } else { format!("{said}, for information") };
        }
        if finding.clauses.iter().any(|clause| clause.verdict == Verdict::Undetermined) {
            return phrases::verdict(Verdict::Undetermined).to_owned();
        }
        if finding.comes() == Comes::Met {
            return "met as drawn: measure it".to_owned();
        }
        let due = finding.clauses.iter().filter(|clause| clause.verdict == Verdict::NotYetDue);
        let due = due.filter_map(|clause| background.rule(clause)).map(|rule| rule.due).min();
        format!("due {}", phrases::due(due.unwrap_or(Stage::Operating)))
    }
}

fn blank(row: &Row, number: usize) -> Line {
    Line {
        number,
        name: row.name.clone(),
        weighs: Weighs::Silent,
        waits: String::new(),
        title: row.name.clone(),
        thing: String::new(),
        find: Vec::new(),
        numbers: Vec::new(),
        clauses: Vec::new(),
        cited: Vec::new(),
        books: Vec::new(),
    }
}

fn edition(edition: &str) -> String {
    if edition.is_empty() { String::new() } else { format!(" ({edition})") }
}

fn background<'a>(review: &'a crate::review::Review<'a>, styles: &'a Styles) -> Background<'a> {
    Background {
        sources: &review.sources,
        styles,
        used: &review.used,
        vocabulary: books::vocabulary(),
        on_file: &review.variances,
        name_of: review,
    }
}

/// What is said in field notes to type into.
#[derive(Debug)]
pub struct InNotes<'a> {
    walk: &'a Walk<'a>,
    styles: Styles,
}

impl<'a> InNotes<'a> {
    /// For this walk.
    #[must_use]
    pub fn of(walk: &'a Walk<'a>) -> Self {
        InNotes { walk, styles: Styles::default() }
    }
}

/// The numbers of rows: `row 3`, `rows 3, 17`.
fn rows(numbers: &[usize]) -> String {
    let all: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    format!("{} {}", if numbers.len() == 1 { "row" } else { "rows" }, all.join(", "))
}

impl Wording for InNotes<'_> {
    fn head(&self) -> Vec<String> {
        let review = &self.walk.now;
        let rows: usize = self.walk.stations.iter().map(|(_, rows)| rows.len()).sum();
        let mut head =
            vec![format!("Field notes of a walk round the house, over {}", one_line(review.name()))];
        head.extend(review.job.title.as_deref().map(|title| one_line(title).into_owned()));
        head.extend(
            [
                "Write what you find in place of unknown. A line with a # says what was designed: where it was built otherwise,",
                "take the # away and write what is there. What is left as it is changes nothing.",
            ]
            .map(str::to_owned),
        );
        head.push(format!("{}, numbered as on the printed form.", count(rows, "row", "rows")));
        head
    }

    fn of_job(&self, key: &str) -> &'static str {
        match key {
            "date" => "the day of the walk, as 2026-06-03",
            "by" => "who looked",
            _ => "installed once the work is done, operating once the fan runs; before that leave it",
        }
    }

    fn to_measure(&self, entry: &str, numbers: &[usize]) -> String {
        let short = way(entry).map(|way| format!("; {}", way.short())).unwrap_or_default();
        let said = format!("{}: {}{short}", rows(numbers), in_words(entry));
        one_line(&said.replace(['\n', '\r', '#'], " ")).into_owned()
    }

    fn as_designed(&self, entry: &str, numbers: &[usize]) -> String {
        format!("{}: as designed; {}", rows(numbers), one_line(&in_words(entry)))
    }

    fn to_tick(&self) -> &'static str {
        "write behind each yes (as it should be), no, or unknown (could not see it); or {found: no, note: what you saw}"
    }

    fn station(&self, station: &Station) -> String {
        one_line(&heading(station)).into_owned()
    }

    fn row(&self, row: &Row) -> String {
        let line = Teller { walk: self.walk, styles: &self.styles }.line(row, 0);
        let of = if line.thing.is_empty() { line.title } else { format!("{}: {}", line.title, line.thing) };
        one_line(&of).into_owned()
    }
}
