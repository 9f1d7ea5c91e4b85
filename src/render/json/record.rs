//! The record of a review: what was reviewed, by whom, of which day, with the digest of everything it was made of, and
//! the review itself. Its form is `schemas/record.schema.json`.

use serde::Serialize;
use serde_json::Value;

use super::read::{NotAReview, of_document};
use super::wire::{Document, Program as WireProgram, Report};
use crate::base::digest::sha256_hex;
use crate::findings::compare::account::{Account, MadeOf, Program};
use crate::findings::record::{BookMade, Made};

/// The version of the form of a record.
const RECORD_FORM: u32 = 1;

/// What a record says that it is.
const NAME_OF_RECORD: &str = "undercroft record of a review";

/// What a record says about itself, to whoever opens it.
const SAYS: &str = "The digests show whether something changed since. They do not show who wrote this: anybody can write \
a record under any name. Where that matters, sign this file by the means of your office.";

/// The digest of the record itself stands last; this is how it stands before it is known.
const OPEN: &str = "\"digest_of_this_record\": \"\"";

/// Who reviewed, and of which day that is.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Signed {
    /// Who.
    pub by: String,
    /// The day.
    pub on: String,
    /// The day that was asked for with the review, if one was.
    pub asked_on: Option<String>,
}

/// A record read back.
#[derive(Clone, PartialEq, Debug)]
pub struct Recorded {
    /// Who reviewed, and when.
    pub signed: Signed,
    /// What it was made of.
    pub made: Made,
    /// What the review says.
    pub account: Account,
    /// Whether it is as it was written, by its own digest.
    pub is_whole: bool,
}

#[derive(Serialize)]
struct Record {
    form: &'static str,
    version: u32,
    says: &'static str,
    reviewed_by: String,
    reviewed_on: String,
    asked_for_day: Option<String>,
    program: WireProgram,
    files: Vec<File>,
    books: Vec<Book>,
    review: Document,
    digest_of_this_record: &'static str,
}

#[derive(Serialize)]
struct File {
    role: String,
    name: String,
    digest: String,
}

#[derive(Serialize)]
struct Book {
    name: String,
    edition: String,
    files: Vec<BookFile>,
}

#[derive(Serialize)]
struct BookFile {
    file: String,
    digest: String,
}

/// The record as text with an end of line.
#[must_use]
pub fn record(report: Report, made: &Made, signed: &Signed) -> String {
    let record = Record {
        form: NAME_OF_RECORD,
        version: RECORD_FORM,
        says: SAYS,
        reviewed_by: signed.by.clone(),
        reviewed_on: signed.on.clone(),
        asked_for_day: signed.asked_on.clone(),
        program: super::program(&made.program),
        files: made.files.iter().map(file).collect(),
        books: made.books.iter().map(book).collect(),
        review: super::whole(vec![report], &made.program),
        digest_of_this_record: "",
    };
    let open = super::to_text(&record) + "\n";
    let digest = format!("\"digest_of_this_record\": \"sha256:{}\"", sha256_hex(open.as_bytes()));
    let (before, after) = open.rsplit_once(OPEN).unwrap_or((&open, ""));
    format!("{before}{digest}{after}")
}

fn file(of: &MadeOf) -> File {
    File { role: of.role.clone(), name: of.name.clone(), digest: of.digest.clone() }
}

fn book(of: &BookMade) -> Book {
    let files = of.files.iter().map(|(file, digest)| BookFile { file: file.clone(), digest: digest.clone() });
    Book { name: of.name.clone(), edition: of.edition.clone(), files: files.collect() }
}

/// Reads a record.
///
/// # Errors
/// When the text is no record of a review.
pub fn recorded(text: &str) -> Result<Recorded, NotAReview> {
    let value: Value = serde_json::from_str(text).map_err(|_| NotAReview::NotJson)?;
    match value.get("form").and_then(Value::as_str) {
        Some(NAME_OF_RECORD) => {}
        Some(other) => return Err(NotAReview::OtherForm(other.to_owned())),
        None => return Err(NotAReview::NotJson),
    }
    if value.get("version") != Some(&Value::from(RECORD_FORM)) {
        let found = value.get("version").map_or_else(|| "none".to_owned(), ToString::to_string);
        return Err(NotAReview::OtherVersion(found));
    }
    let broken = |key: &str| NotAReview::Broken(key.to_owned());
    let of = |value: &Value, key: &str| -> Result<String, NotAReview> {
        value.get(key).and_then(Value::as_str).map(str::to_owned).ok_or_else(|| broken(key))
    };
    let list = |value: &Value, key: &str| -> Result<Vec<Value>, NotAReview> {
        value.get(key).and_then(Value::as_array).cloned().ok_or_else(|| broken(key))
    };
    let document = value.get("review").ok_or_else(|| broken("review"))?;
    let account = of_document(document)?.into_iter().next().ok_or_else(|| broken("review"))?;
    let program = value.get("program").ok_or_else(|| broken("program"))?;
    let files = list(&value, "files")?
        .iter()
        .map(|one| Ok(MadeOf { role: of(one, "role")?, name: of(one, "name")?, digest: of(one, "digest")? }))
        .collect::<Result<_, NotAReview>>()?;
    let books = list(&value, "books")?
        .iter()
        .map(|one| {
            let files = list(one, "files")?
                .iter()
                .map(|file| Ok((of(file, "file")?, of(file, "digest")?)))
                .collect::<Result<_, NotAReview>>()?;
            Ok(BookMade { name: of(one, "name")?, edition: of(one, "edition")?, files })
        })
        .collect::<Result<_, NotAReview>>()?;
    let asked_on = value.get("asked_for_day").and_then(Value::as_str).map(str::to_owned);
    Ok(Recorded {
        signed: Signed { by: of(&value, "reviewed_by")?, on: of(&value, "reviewed_on")?, asked_on },
        made: Made {
            program: Program { version: of(program, "version")?, built_from: of(program, "built_from")? },
            day: account.day.clone(),
            files,
            books,
        },
        is_whole: is_whole(text, &of(&value, "digest_of_this_record")?),
        account,
    })
}

/// Whether the text is what its own digest says.
fn is_whole(text: &str, digest: &str) -> bool {
    let closed = format!("\"digest_of_this_record\": \"{digest}\"");
    let Some((before, after)) = text.rsplit_once(&closed) else { return false };
    format!("sha256:{}", sha256_hex(format!("{before}{OPEN}{after}").as_bytes())) == digest
}
