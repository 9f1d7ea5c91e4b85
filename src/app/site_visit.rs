//! A site visit: about twenty questions, each of which may be left blank, and from the answers a design file
//! that says what is still to be measured.

mod questions;
mod starter;

use std::collections::BTreeMap;

use super::Status;
use super::host::Host;
use crate::base::near::nearest;
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone};
use crate::render::visible::one_line;
use crate::render::words;
use crate::review;

pub use questions::{QUESTIONS, Question};
pub use starter::starter;

/// What is wanted of a site visit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The file to write.
    pub file: String,
    /// Answers given beforehand, as `question=words`.
    pub answers: Vec<String>,
    /// Whether to ask for the rest.
    pub ask: bool,
    /// Only list the questions.
    pub only_list: bool,
}

/// The answers, by the names of their questions. What was left blank is not there.
pub type Answers = BTreeMap<&'static str, String>;

/// How often one question is asked before it is left open.
const TRIES: usize = 3;

/// Asks, writes the file, and says what to do next.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    if request.only_list {
        host.print(&listed(&look));
        return Status::Fine;
    }
    let refuse = |host: &mut dyn Host, said: &str| {
        host.tell(&format!("{said}\n"));
        Status::CouldNotRead
    };
    if host.sort_of(&request.file) != super::host::Sort::Absent {
        let name = one_line(&request.file);
        return refuse(host, &format!("{name} is already there, and nothing that is there is written over."));
    }
    let mut answers = Answers::new();
    for given in &request.answers {
        let said = match given.split_once('=') {
            None => Err(format!("\"{}\" is no answer: write it as QUESTION=WORDS.", one_line(given))),
            Some((name, words)) => take(&mut answers, name.trim(), words),
        };
        if let Err(said) = said {
            return refuse(host, &said);
        }
    }
    if request.ask {
        ask_the_rest(host, &mut answers, &look);
    }
    let text = starter(&answers, &request.file);
    match host.create(&request.file, text.as_bytes()) {
        Ok(()) => {
            host.print(&afterwards(&answers, &request.file, &look));
            Status::Fine
        }
        Err(refusal) => {
            let name = one_line(&request.file);
            refuse(host, &format!("{name} {}. {}", refusal.words(), refusal.advice()))
        }
    }
}

/// Takes an answer in if the file still reads with it.
fn take(answers: &mut Answers, name: &str, words: &str) -> Result<(), String> {
    let Some(question) = QUESTIONS.iter().find(|question| question.name == name) else {
        let near = nearest(name, QUESTIONS.iter().map(|question| question.name));
        let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
        return Err(format!(
            "There is no question called \"{}\".{hint} See them with: undercroft site-visit --questions FILE",
            one_line(name)
        ));
    };
    let words = tidy(words);
    if words.is_empty() {
        return Ok(());
    }
    if let Some(words) = question.refuses(&words) {
        return Err(words);
    }
    let mut with = answers.clone();
    with.insert(question.name, words);
    match complaint(&with, question) {
        Some(said) => Err(said),
        None => {
            *answers = with;
            Ok(())
        }
    }
}

/// What the reader of designs says against an answer, if anything.
fn complaint(answers: &Answers, question: &Question) -> Option<String> {
    let problem = review::problems_of(&starter(answers, "")).into_iter().next()?;
    let said = words::of(&problem);
    Some(format!("{} {} It takes: {}.", said.what, said.todo, question.takes))
}

/// One line, without blanks at its ends.
fn tidy(words: &str) -> String {
    one_line(words).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn ask_the_rest(host: &mut dyn Host, answers: &mut Answers, look: &Look) {
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, "A few questions about the house and what you have in mind.", Tone::Heading);
    sheet.paragraph(
        0,
        "Press Enter to leave one open. Write unknown if you looked and could not tell. Write lengths with their unit, as 10 ft 6 in.",
        Tone::Ink,
    );
    host.print(&sheet.finish());
    for question in QUESTIONS {
        if answers.contains_key(question.name) || !(question.when)(answers) {
            continue;
        }
        for _ in 0..TRIES {
            let mut sheet = Sheet::new(look);
            sheet.paragraph(0, question.ask, Tone::Heading);
            sheet.paragraph(2, &format!("for instance: {}", question.takes), Tone::Quiet);
            host.print(&format!("\n{}> ", sheet.finish()));
            let Some(line) = host.next_line() else {
                host.print("\n");
                return;
            };
            match take(answers, question.name, &line) {
                Ok(()) => break,
                Err(said) => {
                    let mut sheet = Sheet::new(look);
                    sheet.paragraph(0, &said, Tone::Unmet);
                    host.print(&sheet.finish());
                }
            }
        }
    }
}

fn afterwards(answers: &Answers, file: &str, look: &Look) -> String {
    let open =
        QUESTIONS.iter().filter(|question| (question.when)(answers) && !answers.contains_key(question.name));
    let open: Vec<&str> = open.map(|question| question.short).collect();
    let file = one_line(file);
    let mut sheet = Sheet::new(look);
    sheet.blank();
    sheet.paragraph(0, &format!("{file} is written."), Tone::Heading);
    if !open.is_empty() {
        sheet.paragraph(0, &format!("Left open: {}.", open.join(", ")), Tone::Ink);
    }
    sheet.paragraph(0, &format!("Next, see what to measure: undercroft review {file}"), Tone::Ink);
    sheet.finish()
}

fn listed(look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, "The questions of a site visit", Tone::Heading);
    for question in QUESTIONS {
        sheet.blank();
        sheet.paragraph(0, question.name, Tone::Heading);
        sheet.paragraph(2, question.ask, Tone::Ink);
        sheet.row("takes", question.takes);
    }
    sheet.finish()
}
