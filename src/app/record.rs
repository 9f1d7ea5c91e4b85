//! The record of a review, and whether it still stands.

use super::designs::{Papers, gathered, no_day};
use super::host::{Host, Refusal};
use super::review::{Form, Request, of};
use super::{Status, compare};
use crate::base::digest::sha256_hex;
use crate::findings::compare::account::MadeOf;
use crate::findings::compare::compare as hold;
use crate::findings::record::{Moved, moved};
use crate::render::compared::record::{Standing, page, report, written};
use crate::render::compared::{SideName, Sides};
use crate::render::json::{self, Signed, record, recorded};
use crate::render::terminal::Look;
use crate::render::visible::one_line;
use crate::review::made::{made, without_folders};
use crate::review::{self, Explained, Library, Review};

/// What is wrong with what was asked of a record, before anything is read.
#[must_use]
pub fn wrongly_asked(request: &Request) -> Option<String> {
    let named = request.record.as_ref().or(request.against.as_ref())?;
    if request.against.is_some() && !matches!(request.form, Form::Text | Form::Json) {
        return Some("Whether a record stands is told as text or as json.\n".to_owned());
    }
    if request.files.len() != 1 {
        return Some("A record is of one design. Name one design file with it.\n".to_owned());
    }
    if let Some(said) = request.reviewed_on.as_deref().and_then(no_day) {
        return Some(said);
    }
    let by = request.reviewed_by.as_deref().map_or("", str::trim);
    if request.record.is_some() && by.is_empty() {
        return Some(
            "A record says who reviewed. Name them: --reviewed-by \"R. Cole, Town of Alder\"\n".to_owned(),
        );
    }
    (request.record.is_some() && !named.ends_with(".json")).then(|| {
        format!(
            "A record is written as JSON. Give it a name that ends in .json, such as {}.json\n",
            one_line(named)
        )
    })
}

/// Writes the record of a review into a file that is not there yet, and says so.
///
/// # Errors
/// What to tell when it cannot be written; nothing was then.
pub fn write(
    host: &mut dyn Host,
    review: &Review<'_>,
    library: &Library,
    request: &Request,
    into: &str,
) -> Result<String, String> {
    if review.refusal().is_some() {
        return Err(
            "Nothing was recorded: the file cannot be taken as a whole, and nothing of it was judged.\n"
                .to_owned(),
        );
    }
    let Some(on) = request.reviewed_on.clone().or_else(|| review.on.clone()) else {
        return Err("Nothing was recorded: a record says of which day it is, and neither the design nor the command names one. Add: --reviewed-on 2026-06-03\n".to_owned());
    };
    let signed = Signed {
        by: request.reviewed_by.as_deref().map_or("", str::trim).to_owned(),
        on,
        asked_on: request.on.clone(),
    };
    let made = made(review, library, &host.program());
    let text = record(json::report(&without_folders(review, library)), &made, &signed);
    host.create(into, text.as_bytes()).map_err(|refusal| match refusal {
        Refusal::Exists => format!(
            "{} is already there, and a record is never written over. Choose another name. Nothing was changed.\n",
            one_line(into)
        ),
        other => format!("{} {}. {}\n", one_line(into), other.words(), other.advice()),
    })?;
    Ok(written(into, &signed, &made))
}

/// Says whether a record still stands; where it does not, what moved and which verdicts turned.
pub fn check(host: &mut dyn Host, request: &Request, library: &Library, look: Look) -> Status {
    match checked(host, request, library, look) {
        Ok((printed, status)) => {
            host.print(&printed);
            status
        }
        Err(said) => {
            host.tell(&said);
            Status::CouldNotRead
        }
    }
}

fn checked(
    host: &dyn Host,
    request: &Request,
    library: &Library,
    look: Look,
) -> Result<(String, Status), String> {
    let (Some(file), Some(named)) = (request.files.first(), &request.against) else {
        return Err(String::new());
    };
    let bytes = host
        .read(named)
        .map_err(|refusal| format!("{} {}. {}\n", one_line(named), refusal.words(), refusal.advice()))?;
    let text = String::from_utf8_lossy(&bytes);
    let record_was = recorded(&text).map_err(|why| not_a_record(named, &why))?;
    let papers = gathered(host, file, request.shop.as_deref(), &request.field_notes)?;
    let papers = named_as(papers, &record_was.made.files);
    let on = request.on.as_deref().or(record_was.signed.asked_on.as_deref());
    let review = review::review(&papers.input(on, Explained::Everything), library);
    let program = host.program();
    let made = made(&review, library, &program);
    let again = record(json::report(&without_folders(&review, library)), &made, &record_was.signed);
    let mut found: Vec<Moved> = (!record_was.is_whole).then_some(Moved::Record).into_iter().collect();
    found.extend(moved(&record_was.made, &made));
    let same = again == text;
    let account = json::account(&review, &program).ok_or_else(String::new)?;
    let comparison = (!same).then(|| hold(&record_was.account, &account, &[]));
    let side = |file: &str, is_review: bool, of: &crate::findings::compare::Account| SideName {
        file: file.to_owned(),
        is_review,
        notes: if is_review { Vec::new() } else { request.field_notes.clone() },
        stage: of.stage.clone(),
        day: of.day.clone(),
        outcome: of.outcome.clone(),
    };
    let sides =
        Sides { old: side(named, true, &record_was.account), new: side(file, false, &account), tried: false };
    let standing = Standing {
        record: named,
        file,
        signed: &record_was.signed,
        moved: &found,
        comparison: comparison.as_ref(),
        accounts: (&record_was.account, &account),
        sides: &sides,
        program: &program,
    };
    let printed = match request.form {
        Form::Text => page(&standing, &look),
        Form::Json | Form::Sarif | Form::Html | Form::Pdf => report(&standing),
    };
    let own = of(&review, request.accept_undetermined);
    Ok((printed, if same { own } else { own.worst(Status::Undetermined) }))
}

/// The files under the names that the record has for them: what they are called now is no part of what was reviewed.
fn named_as(mut papers: Papers, recorded: &[MadeOf]) -> Papers {
    let of = |role: &'static str| recorded.iter().filter(move |one| one.role == role);
    if let Some(design) = of("design").next() {
        papers.name.clone_from(&design.name);
    }
    if let (Some((name, _)), Some(shop)) = (&mut papers.shop, of("shop").next()) {
        name.clone_from(&shop.name);
    }
    let mut left: Vec<&MadeOf> = of("field notes").collect();
    let mut take = |fits: &dyn Fn(&MadeOf) -> bool| {
        let at = left.iter().position(|one| fits(one))?;
        Some(left.remove(at).name.clone())
    };
    let last = |name: &str| name.rsplit(['/', '\\']).next().unwrap_or(name).to_owned();
    let mut names: Vec<Option<String>> = papers
        .field_notes
        .iter()
        .map(|(_, bytes)| take(&|one| one.digest == format!("sha256:{}", sha256_hex(bytes))))
        .collect();
    for ((name, _), found) in papers.field_notes.iter().zip(&mut names) {
        let own = last(name);
        *found = found.take().or_else(|| take(&|one| last(&one.name) == own));
    }
    for ((name, _), found) in papers.field_notes.iter_mut().zip(names) {
        if let Some(found) = found {
            *name = found;
        }
    }
    papers
}

fn not_a_record(file: &str, why: &json::NotAReview) -> String {
    let file = one_line(file);
    let make = "A record is made with: undercroft review FILE --record RECORD.json --reviewed-by NAME";
    match why {
        json::NotAReview::NotJson => format!("{file} is no record of a review. {make}\n"),
        json::NotAReview::OtherForm(found) => {
            format!("{file} is no record of a review: it says that it is \"{}\". {make}\n", one_line(found))
        }
        json::NotAReview::OtherVersion(_) | json::NotAReview::Part | json::NotAReview::Broken(_) => {
            compare::not_a_review(&file, why)
        }
    }
}
