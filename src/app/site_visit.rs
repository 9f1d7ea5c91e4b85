//! A site visit: some thirty questions, each of which may be left blank, and from the answers a design file
//! that says what is still to be measured. The file is written anew after every answer, so that nothing is lost
//! whenever a person stops.

mod questions;
mod starter;

use std::collections::BTreeMap;

use super::Status;
use super::host::{Host, Refusal, Sort};
use crate::base::near::nearest;
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone};
use crate::render::visible::one_line;
use crate::review;
use crate::review::books::Library;

use questions::AND;
pub use questions::{QUESTIONS, Question, Takes};
pub use starter::{WITHOUT_BOOK, starter};

/// What is wanted of a site visit.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The file to write.
    pub file: String,
    /// Answers given beforehand, as `question=words`.
    pub answers: Vec<String>,
    /// Whether to ask for the rest.
    pub ask: bool,
}

/// The answers, by the names of their questions. What was left blank is not there.
pub type Answers = BTreeMap<&'static str, String>;

/// How the questions came to an end.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Ended {
    /// All were put.
    All,
    /// There was nothing more to read.
    Input,
}

/// The file that grows with the answers.
struct Growing<'a> {
    file: &'a str,
    stands: Option<String>,
}

impl Growing<'_> {
    /// Writes what is known so far.
    fn keep(&mut self, host: &mut dyn Host, answers: &Answers) -> Result<(), String> {
        let text = starter(answers, self.file);
        let written = match &self.stands {
            None => host.create(self.file, text.as_bytes()),
            Some(was) if *was == text => Ok(()),
            Some(was) => host.replace(self.file, was.as_bytes(), text.as_bytes()),
        };
        let name = one_line(self.file);
        written.map_err(|refusal: Refusal| format!("{name} {}. {}", refusal.words(), refusal.advice()))?;
        self.stands = Some(text);
        Ok(())
    }
}

/// Asks, writes the file, and says what to do next.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    let refuse = |host: &mut dyn Host, said: &str| {
        host.tell(&format!("{said}\n"));
        Status::CouldNotRead
    };
    if host.sort_of(&request.file) != Sort::Absent {
        let name = one_line(&request.file);
        return refuse(
            host,
            &format!(
                "{name} is already there, and nothing that is there is written over. Go on in it with a text editor, or choose another name."
            ),
        );
    }
    let books = books();
    let mut answers = Answers::new();
    for given in &request.answers {
        let said = match given.split_once('=') {
            None => Err(format!("\"{}\" is no answer: write it as QUESTION=WORDS.", one_line(given))),
            Some((name, words)) => take(&mut answers, name.trim(), words, &books).map(|_| ()),
        };
        if let Err(said) = said {
            return refuse(host, &said);
        }
    }
    let mut growing = Growing { file: &request.file, stands: None };
    let mut ended = Ended::All;
    if request.ask {
        match ask_the_rest(host, &mut answers, &books, &mut growing, &look) {
            Ok(how) => ended = how,
            Err(said) => return refuse(host, &said),
        }
    }
    match growing.keep(host, &answers) {
        Ok(()) => {
            host.print(&afterwards(&answers, &request.file, ended, &look));
            Status::Fine
        }
        Err(said) => refuse(host, &said),
    }
}

/// Lists the questions.
pub fn list(host: &mut dyn Host, look: Look) -> Status {
    let books = books();
    let mut sheet = Sheet::new(&look);
    sheet.paragraph(0, "The questions of a site visit", Tone::Heading);
    sheet.paragraph(
        0,
        "Any of them can be answered beforehand: --answer NAME=WORDS. Every one may be left blank.",
        Tone::Ink,
    );
    let mut part = "";
    for question in QUESTIONS {
        if question.part != part {
            part = question.part;
            sheet.rule(part);
        }
        sheet.blank();
        sheet.paragraph(0, question.name, Tone::Heading);
        sheet.paragraph(2, question.ask, Tone::Ink);
        sheet.paragraph(2, &question.choices(&books), Tone::Quiet);
    }
    host.print(&sheet.finish());
    Status::Fine
}

/// The books a person can choose from; those that every review uses are not among them.
fn books() -> Vec<String> {
    let library = Library::with(&[]);
    let always: Vec<&str> = library.always().collect();
    library.names().filter(|name| !always.contains(name)).map(str::to_owned).collect()
}

/// Takes an answer in if the file still reads with it; says what it was taken as, nothing for one left open.
fn take(answers: &mut Answers, name: &str, said: &str, books: &[String]) -> Result<Option<String>, String> {
    let Some(question) = QUESTIONS.iter().find(|question| question.name == name) else {
        let near = nearest(name, QUESTIONS.iter().map(|question| question.name));
        let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
        return Err(format!(
            "There is no question called \"{}\".{hint} See them with: undercroft site-visit --questions",
            one_line(name)
        ));
    };
    let said = tidy(said);
    if said.is_empty() {
        return Ok(None);
    }
    let words = question.understood(&said, books)?;
    if question.takes == Takes::Book
        && let Some((book, other)) = named_already(answers, question.name, &words)
    {
        let short = QUESTIONS.iter().find(|one| one.name == other).map_or(other, |one| one.short);
        return Err(format!("{book} is named already as {short}; name another book, or none."));
    }
    let mut with = answers.clone();
    with.insert(question.name, words.clone());
    if let Some(problem) = review::problems_of(&starter(&with, "")).into_iter().next() {
        return Err(question.in_feet(&said).unwrap_or_else(|| question.how(problem.nearest.as_deref())));
    }
    *answers = with;
    Ok(Some(words))
}

/// The first of these books that was named in answer to another question about books, and that question.
fn named_already<'w>(answers: &Answers, question: &str, words: &'w str) -> Option<(&'w str, &'static str)> {
    let books = || words.split(AND).filter(|book| !matches!(*book, "none" | "unknown"));
    BOOKS.iter().filter(|other| **other != question).find_map(|other| {
        let named = answers.get(*other)?;
        books().find(|book| named.split(AND).any(|one| one == *book)).map(|book| (book, *other))
    })
}

/// The questions about rulebooks.
const BOOKS: &[&str] = &["adopted", "contract", "information"];

/// One line, without blanks at its ends.
fn tidy(words: &str) -> String {
    one_line(words).split_whitespace().collect::<Vec<_>>().join(" ")
}

fn ask_the_rest(
    host: &mut dyn Host,
    answers: &mut Answers,
    books: &[String],
    growing: &mut Growing<'_>,
    look: &Look,
) -> Result<Ended, String> {
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, "Questions about the house and what you have in mind.", Tone::Heading);
    let file = one_line(growing.file);
    for line in [
        "Press Enter to leave one open. Write ? or unknown if you looked and could not tell. Write lengths with their unit, as 10 ft 6 in. Write back to return to the question before.".to_owned(),
        format!("What you answer is kept in {file} after every question. To stop, hold Ctrl and press C; nothing is lost."),
    ] {
        sheet.paragraph(0, &line, Tone::Ink);
    }
    host.print(&sheet.finish());
    let mut part = "";
    let mut put: Vec<usize> = Vec::new();
    let mut at = 0;
    while let Some(question) = QUESTIONS.get(at) {
        if answers.contains_key(question.name) || !(question.when)(answers) {
            at += 1;
            continue;
        }
        let mut sheet = Sheet::new(look);
        if question.part != part {
            part = question.part;
            sheet.rule(part);
        }
        sheet.blank();
        sheet.paragraph(0, question.ask, Tone::Heading);
        sheet.paragraph(2, &question.choices(&left(books, answers, question)), Tone::Quiet);
        host.print(&format!("\n{}> ", sheet.finish()));
        at = loop {
            let Some(line) = host.next_line() else {
                host.print("\n");
                return Ok(Ended::Input);
            };
            if tidy(&line).eq_ignore_ascii_case("back") {
                if let Some((before, question)) = put.pop().and_then(|at| Some((at, QUESTIONS.get(at)?))) {
                    answers.remove(question.name);
                    growing.keep(host, answers)?;
                    break before;
                }
                host.print("This is the first question.\n> ");
                continue;
            }
            let said = match take(answers, question.name, &line, books) {
                Ok(taken) => {
                    growing.keep(host, answers)?;
                    let as_typed = taken.as_deref() == Some(tidy(&line).as_str());
                    match taken {
                        None => host.print("Left open.\n"),
                        Some(taken) if question.name == "opening-below" && taken.starts_with('-') => {
                            host.print(&format!(
                                "Taken as: {taken}, so its top lies above the end of the pipe\n"
                            ));
                        }
                        Some(taken) if !as_typed => host.print(&format!("Taken as: {taken}\n")),
                        Some(_) => {}
                    }
                    put.push(at);
                    break at + 1;
                }
                Err(said) => said,
            };
            let mut sheet = Sheet::new(look);
            sheet.paragraph(0, &said, Tone::Unmet);
            host.print(&format!("{}> ", sheet.finish()));
        };
    }
    Ok(Ended::All)
}

/// The books that a question can still be answered with: those that no other question about books was.
fn left(books: &[String], answers: &Answers, question: &Question) -> Vec<String> {
    let named = |book: &&String| named_already(answers, question.name, book).is_some();
    books.iter().filter(|book| !named(book)).cloned().collect()
}

fn afterwards(answers: &Answers, file: &str, ended: Ended, look: &Look) -> String {
    let open =
        QUESTIONS.iter().filter(|question| (question.when)(answers) && !answers.contains_key(question.name));
    let open: Vec<&str> = open.map(|question| question.short).collect();
    let file = one_line(file);
    let mut sheet = Sheet::new(look);
    sheet.blank();
    if ended == Ended::Input {
        sheet.paragraph(
            0,
            "There was nothing more to read. What was answered until then is kept.",
            Tone::Open,
        );
    }
    sheet.paragraph(0, &format!("{file} is written."), Tone::Heading);
    if !BOOKS.iter().any(|book| questions::something(answers, book)) {
        sheet.paragraph(
            0,
            &format!("No rulebook was chosen. So that something is judged, {WITHOUT_BOOK} is written into it, for information."),
            Tone::Ink,
        );
    }
    if !open.is_empty() {
        sheet.paragraph(0, &format!("Left open: {}.", open.join(", ")), Tone::Ink);
    }
    sheet.paragraph(0, &format!("Next, see what to measure: undercroft review {file}"), Tone::Ink);
    sheet.finish()
}
