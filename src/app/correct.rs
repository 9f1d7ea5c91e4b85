//! What would mend a design: shown before and after, and written when it is asked for.

use super::designs::Named;
use super::host::{Host, Refusal, Sort};
use super::{Form, Status};
use crate::correct::blanks::blanks;
use crate::correct::choose::{Chosen, Conflict, chosen, first_of_each};
use crate::correct::cost::{Cost, cost, counts};
use crate::correct::{Corrections, corrections, places};
use crate::findings::variance::{name_of, requirement_of};
use crate::render::corrections::{json, page, remark};
use crate::render::terminal::Look;
use crate::render::terminal::refused::refused;
use crate::render::visible::one_line;
use crate::review::{DESIGN, Explained, Input, Library};

/// What is wanted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Request {
    /// The design.
    pub design: Named,
    /// What comes out.
    pub form: Form,
    /// Which corrections, by number or name; none to see them all.
    pub choose: Vec<String>,
    /// Whether to write them into the file.
    pub write: bool,
    /// Whether to put in blanks for what is to be measured, instead.
    pub blanks: bool,
    /// Whether a file may be written that a link leads to, somewhere else.
    pub through_link: bool,
}

/// Shows what would mend a design, or writes what was chosen of it.
pub fn run(host: &mut dyn Host, request: &Request, look: Look) -> Status {
    let (library, papers) = match request.design.laid_out(host, look) {
        Ok(both) => both,
        Err(status) => return status,
    };
    let input = papers.input(request.design.on.as_deref(), Explained::Open);
    if request.blanks {
        return put_blanks(host, request, (&input, &library), look);
    }
    let mut all = corrections(&input, &library);
    places::add(&mut all, &input, &library);
    if let Some(problem) = all.review.refusal() {
        let home = all.review.sources.get(DESIGN);
        host.print(&refused(problem, &all.review.sources, home, &look, "Nothing was judged."));
        return Status::CouldNotRead;
    }
    let status = super::review::of(&all.review, false);
    if request.choose.is_empty() {
        if request.write {
            host.tell("Say which: --choose NUMBER, or --choose all. Nothing was written.\n");
            return Status::CouldNotRead;
        }
        let costs = all_costs(&all, &input);
        host.print(&match request.form {
            Form::Text => page::page(&all, &costs, &look),
            Form::Json => json::document(&all, &costs, None, &[], &host.program()),
        });
        return status;
    }
    let (taken, left_out) = match take(&all, (&input, &library), &request.choose) {
        Ok(taken) => taken,
        Err(said) => {
            host.tell(&said);
            return Status::CouldNotRead;
        }
    };
    match request.form {
        Form::Text => {
            let after = counts(&Input { bytes: taken.text.as_bytes(), ..input.clone() });
            host.print(&page::chosen(&all, &taken, &cost(&counts(&input), &after), &left_out, &look));
        }
        Form::Json => {
            let costs = all_costs(&all, &input);
            host.print(&json::document(&all, &costs, Some(&taken), &left_out, &host.program()));
        }
    }
    if !request.write {
        host.tell("Nothing was written. With --write it goes into the file.\n");
        return status;
    }
    write(host, request, input.bytes, taken.text.as_bytes())
}

/// What each correction costs, by its number.
fn all_costs(all: &Corrections<'_>, input: &Input<'_>) -> Vec<(usize, Cost)> {
    if all.offered().next().is_none() {
        return Vec::new();
    }
    let before = counts(input);
    let of = |text: &str| cost(&before, &counts(&Input { bytes: text.as_bytes(), ..input.clone() }));
    all.offered().map(|(_, _, proven)| (proven.number, of(&proven.text))).collect()
}

/// The corrections that were chosen, together, and those of `all` that were left out.
type Taken = (Chosen, Vec<(usize, Conflict)>);

fn take(
    all: &Corrections<'_>,
    (input, library): (&Input<'_>, &Library),
    wanted: &[String],
) -> Result<Taken, String> {
    if wanted.iter().any(|word| word == "all") {
        let (best, left_out) = first_of_each(all, input, library);
        return match best {
            Some(best) => Ok((best, left_out)),
            None => Err("There is no change of the file to choose. Nothing was written.\n".to_owned()),
        };
    }
    let mut numbers = Vec::new();
    for word in wanted {
        numbers.push(number_of(all, word)?);
    }
    numbers.sort_unstable();
    numbers.dedup();
    chosen(all, input, library, &numbers).map(|taken| (taken, Vec::new())).map_err(|why| {
        let said = crate::render::corrections::conflict(&why, &|identity| identity.to_owned());
        format!("{said} Nothing was written.\n")
    })
}

/// The number of the correction that a person means: by its number, or by the requirement it is for.
fn number_of(all: &Corrections<'_>, word: &str) -> Result<usize, String> {
    let known: Vec<usize> = all.offered().map(|(_, _, proven)| proven.number).collect();
    if let Ok(number) = word.parse::<usize>() {
        return if known.contains(&number) {
            Ok(number)
        } else {
            Err(format!("There is no change {number}. {} Nothing was written.\n", there_are(&known)))
        };
    }
    let (name, thing) = match word.split_once(" of ") {
        Some((name, thing)) => (name.trim(), Some(thing.trim())),
        None => (word.trim(), None),
    };
    let mut fitting = Vec::new();
    for (mend, _, proven) in all.offered() {
        let Some(finding) = all.review.findings.get(mend.finding) else { continue };
        let own = finding.clauses.iter().filter_map(|clause| requirement_of(clause, &all.review.used));
        let is_it = own.into_iter().any(|own| own == name || own.rsplit('/').next() == Some(name));
        if is_it && thing.is_none_or(|thing| name_of(finding) == thing) {
            fitting.push(proven.number);
        }
    }
    match fitting.as_slice() {
        [one] => Ok(*one),
        [] => Err(format!(
            "No change is offered for \"{}\". {} Nothing was written.\n",
            one_line(word),
            there_are(&known)
        )),
        several => {
            let several: Vec<String> = several.iter().map(ToString::to_string).collect();
            Err(format!(
                "\"{}\" can be mended by changes {}. Say which by its number. Nothing was written.\n",
                one_line(word),
                several.join(", ")
            ))
        }
    }
}

fn there_are(known: &[usize]) -> String {
    match known {
        [] => "None is offered for this file.".to_owned(),
        [one] => format!("There is change {one}."),
        [first, .., last] => format!("There are changes {first} to {last}."),
    }
}

/// Puts blanks in for what is to be measured.
fn put_blanks(
    host: &mut dyn Host,
    request: &Request,
    (input, library): (&Input<'_>, &Library),
    look: Look,
) -> Status {
    let review = crate::review::review(input, library);
    let source = review.sources.get(DESIGN);
    if let Some(problem) = review.refusal() {
        host.print(&refused(problem, &review.sources, source, &look, "Nothing was judged."));
        return Status::CouldNotRead;
    }
    let made = blanks(&review, input, library, &remark);
    if let Some(source) = source {
        host.print(&page::blanks(&made, source, &look));
    }
    if !request.write {
        host.tell("Nothing was written. With --write the blanks go into the file.\n");
        return super::review::of(&review, false);
    }
    if made.entries.is_empty() {
        host.tell("Nothing was written: there is no blank to put in.\n");
        return Status::Fine;
    }
    write(host, request, input.bytes, made.text.as_bytes())
}

/// Writes a file anew, if it is still what was read.
fn write(host: &mut dyn Host, request: &Request, was: &[u8], bytes: &[u8]) -> Status {
    let name = one_line(&request.design.file).into_owned();
    if host.sort_of(&request.design.file) == Sort::LinkElsewhere && !request.through_link {
        host.tell(&format!(
            "{name} is a link to a file in another folder. Name that file itself, or say --through-link. Nothing was written.\n"
        ));
        return Status::CouldNotRead;
    }
    match host.replace(&request.design.file, was, bytes) {
        Ok(()) => {
            host.tell(&format!("Written: {name}\n"));
            Status::Fine
        }
        Err(refusal) => {
            let advice = match refusal {
                Refusal::Forbidden => "The file and its folder have to be ones that you may write to.",
                refusal => refusal.advice(),
            };
            host.tell(&format!("{name} {}. {advice} Nothing was written.\n", refusal.words()));
            Status::CouldNotRead
        }
    }
}
