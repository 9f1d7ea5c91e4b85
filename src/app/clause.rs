//! One requirement: what it asks, why, where it comes from, how sure that is, its numbers and its cases.

use super::host::Host;
use super::{Status, library};
use crate::base::near::nearest;
use crate::render::amended::decision;
use crate::render::terminal::Look;
use crate::render::terminal::clause::{Claim, ClauseSheet, clause, several};
use crate::render::terminal::sheet::{Sheet, Tone, sentence};
use crate::render::visible::one_line;
use crate::review::Library;
use crate::review::books::vocabulary;
use crate::review::proving::cases_of;
use crate::rulebook::cases::{Case, Outcome};
use crate::rulebook::checked::{CheckedBook, CheckedRule};

/// Shows the requirement of this name; several when the name is only a part; the nearest when there is none.
pub fn run(host: &mut dyn Host, name: &str, folders: &[String], look: Look) -> Status {
    let library = match library::or_tell(host, folders, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let rules: Vec<(&CheckedBook, &CheckedRule)> = library
        .all()
        .0
        .into_iter()
        .flat_map(|book| book.rules.iter().map(move |rule| (book, rule)))
        .collect();
    let wanted = name.trim().to_lowercase().replace(' ', "-");
    let exact: Vec<_> = rules
        .iter()
        .filter(|(book, rule)| rule.name == wanted || format!("{}/{}", book.name, rule.name) == wanted)
        .copied()
        .collect();
    let withdrawn = withdrawn(&library, &wanted, &look);
    if !exact.is_empty() || !withdrawn.is_empty() {
        let pages: Vec<String> = exact
            .iter()
            .map(|(book, rule)| {
                let claims = claims(book, rule, &library);
                clause(
                    &ClauseSheet {
                        book,
                        rule,
                        vocabulary: vocabulary(),
                        sources: &library.sources,
                        claims: &claims,
                    },
                    &look,
                )
            })
            .chain(withdrawn)
            .collect();
        host.print(&pages.join("\n"));
        return Status::Fine;
    }
    let words: Vec<&str> = wanted.split('-').filter(|word| !word.is_empty()).collect();
    let partly: Vec<_> = rules
        .iter()
        .filter(|(_, rule)| {
            let text = format!("{} {} {}", rule.name, rule.title, rule.subject).to_lowercase();
            !words.is_empty() && words.iter().all(|word| text.contains(word))
        })
        .copied()
        .collect();
    if !partly.is_empty() {
        host.print(&several(name, &partly, &look));
        return Status::Fine;
    }
    let near = nearest(&wanted, rules.iter().map(|(_, rule)| rule.name.as_str()));
    let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
    host.tell(&format!(
        "No requirement is called \"{}\".{hint}\nLook for a word of it, such as: undercroft clause label\n",
        one_line(name)
    ));
    Status::CouldNotRead
}

/// That a requirement of this name is out of force in a book, for each book that withdraws it.
fn withdrawn(library: &Library, wanted: &str, look: &Look) -> Vec<String> {
    let books = library.all().0.into_iter();
    let named = books.flat_map(|book| book.withdrawn.iter().map(move |one| (book, one)));
    named
        .filter(|(book, one)| one.rule == wanted || format!("{}/{}", book.name, one.rule) == wanted)
        .map(|(book, one)| {
            let mut sheet = Sheet::new(look);
            let what = format!(
                "{} (\"{}\") is withdrawn in {} and not asked there.",
                one.title, one.rule, book.name
            );
            sheet.paragraph(0, &what, Tone::Heading);
            sheet.row("by", &decision(&one.amendment));
            sheet.row("why", &sentence(one.amendment.because.trim()));
            sheet.finish()
        })
        .collect()
}

/// The cases of a rule as their author claims them; none when they cannot be read, which `prove` tells.
fn claims(book: &CheckedBook, rule: &CheckedRule, library: &Library) -> Vec<Claim> {
    let cases = cases_of(library, book, rule).unwrap_or_default();
    let word = |verdict: Outcome| {
        Outcome::WORDS.iter().find(|(_, one)| *one == verdict).map_or("", |(word, _)| *word)
    };
    cases
        .into_iter()
        .map(|case| Claim { verdict: word(case.verdict).to_owned(), how: worked(&case), words: case.claim })
        .collect()
}

/// A case as a worked example: the design it starts from, what is laid over it, what is taken away.
fn worked(case: &Case) -> String {
    let mut said = format!("the {}", case.from);
    if let Some(thing) = &case.thing {
        said = format!("{thing} of {said}");
    }
    for change in &case.with {
        let text = change.text.split_whitespace().collect::<Vec<_>>().join(" ");
        said.push_str(&format!("; {}: {text}", change.path));
    }
    for (path, _) in &case.missing {
        said.push_str(&format!("; without {path}"));
    }
    if let Some(stage) = case.stage {
        said.push_str(&format!("; stage: {}", stage.word()));
    }
    said
}
