//! A report read back: what a review said, without the form it was given. A report of an earlier program may lack
//! some of it; what it lacks is not known, and nothing is put in its place.

use serde_json::{Map, Value};

use super::{NAME, THING, comes_word};
use crate::findings::compare::account::{
    Account, BookSaid, ClauseSaid, FindingSaid, LimitSaid, MadeOf, NumberSaid, Program, RuleSaid, Stated,
    VarianceSaid,
};
use crate::findings::finding::{Comes, Standing};
use crate::review::Review;

/// Why a text is no report of reviews.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum NotAReview {
    /// It is written in another way altogether.
    NotJson,
    /// It says that it is something else.
    OtherForm(String),
    /// It is of a version that this program does not read.
    OtherVersion(String),
    /// It is a part of a review.
    Part,
    /// It says that it is one, and this is not as it should be.
    Broken(String),
}

/// What the reviews of a report say.
///
/// # Errors
/// When the text is no report of reviews.
pub fn accounts(text: &str) -> Result<Vec<Account>, NotAReview> {
    let value: Value = serde_json::from_str(text).map_err(|_| NotAReview::NotJson)?;
    of_document(&value)
}

/// What a review made just now says; nothing where it cannot be given a form, which structures of words, lists and
/// numbers always can.
#[must_use]
pub fn account(review: &Review<'_>, program: &Program) -> Option<Account> {
    let document = super::document(vec![super::report(review)], program);
    accounts(&document).ok().and_then(|found| found.into_iter().next())
}

/// What the reviews of a document say.
pub(super) fn of_document(value: &Value) -> Result<Vec<Account>, NotAReview> {
    let form = value.get("form").and_then(Value::as_str);
    match form {
        Some(super::NAME_OF_FORM) => {}
        Some(other) => return Err(NotAReview::OtherForm(other.to_owned())),
        None => return Err(NotAReview::NotJson),
    }
    if value.get("version") != Some(&Value::from(super::FORM)) {
        let found = value.get("version").map_or_else(|| "none".to_owned(), ToString::to_string);
        return Err(NotAReview::OtherVersion(found));
    }
    let reviews = value.get("reviews").and_then(Value::as_array);
    if reviews.is_some_and(|reviews| reviews.iter().any(|review| review.get("part").is_some())) {
        return Err(NotAReview::Part);
    }
    let read = || -> Result<Vec<Account>, &'static str> {
        let whole = Part(value.as_object().ok_or("form")?);
        let program = whole.part("program")?;
        let program =
            Program { version: program.text("version")?, built_from: program.or_empty("built_from") };
        let one = |review: Part<'_>| account_of(review, &program);
        whole.parts("reviews")?.into_iter().map(one).collect()
    };
    read().map_err(|key| NotAReview::Broken(key.to_owned()))
}

/// Names the key that is not as it should be.
type Read<T> = Result<T, &'static str>;

/// An object of the report.
#[derive(Clone, Copy)]
struct Part<'v>(&'v Map<String, Value>);

impl<'v> Part<'v> {
    fn text(self, key: &'static str) -> Read<String> {
        self.maybe(key).ok_or(key)
    }

    fn maybe(self, key: &str) -> Option<String> {
        self.0.get(key).and_then(Value::as_str).map(str::to_owned)
    }

    fn or_empty(self, key: &str) -> String {
        self.maybe(key).unwrap_or_default()
    }

    fn truth(self, key: &'static str) -> Read<bool> {
        self.0.get(key).and_then(Value::as_bool).ok_or(key)
    }

    fn part(self, key: &'static str) -> Read<Part<'v>> {
        self.0.get(key).and_then(Value::as_object).map(Part).ok_or(key)
    }

    fn parts(self, key: &'static str) -> Read<Vec<Part<'v>>> {
        let list = self.0.get(key).and_then(Value::as_array).ok_or(key)?;
        list.iter().map(|one| one.as_object().map(Part).ok_or(key)).collect()
    }

    fn comes(self) -> Read<Comes> {
        let word = self.text("comes_to")?;
        Comes::ALL.into_iter().find(|comes| comes_word(*comes) == word).ok_or("comes_to")
    }
}

fn account_of(of: Part<'_>, program: &Program) -> Read<Account> {
    let list = |key| of.parts(key);
    Ok(Account {
        file: of.text("file")?,
        program: program.clone(),
        day: of.maybe("day"),
        stage: of.text("reviewed_at_stage")?,
        outcome: of.text("outcome")?,
        made_of: made_of(of)?,
        // A report of an earlier program does not hold them.
        stated: list("stated")
            .ok()
            .map(|all| all.into_iter().map(stated).collect::<Read<_>>())
            .transpose()?,
        books: list("books")?.into_iter().map(book).collect::<Read<_>>()?,
        findings: list("findings")?.into_iter().map(finding).collect::<Read<_>>()?,
        variances: list("variances")?.into_iter().map(variance).collect::<Read<_>>()?,
    })
}

fn made_of(of: Part<'_>) -> Read<Vec<MadeOf>> {
    let digests = of.part("digests")?;
    let file = |role: &str, name: String, digest: String| MadeOf { role: role.to_owned(), name, digest };
    let mut found = vec![file("design", of.text("file")?, digests.text("design")?)];
    found.extend(digests.maybe("shop").map(|digest| file("shop", String::new(), digest)));
    for notes in digests.parts("field_notes")? {
        found.push(file("field notes", notes.text("file")?, notes.text("digest")?));
    }
    Ok(found)
}

fn stated(of: Part<'_>) -> Read<Stated> {
    let is = of.text("is")?;
    Ok(Stated {
        entry: of.text("entry")?,
        says: of.text("says")?,
        means: of.text("means")?,
        is_name: is == NAME,
        is_thing: is == THING,
        line: of.0.get("line").and_then(Value::as_u64).and_then(|line| u32::try_from(line).ok()).unwrap_or(0),
        file: of.maybe("file"),
    })
}

fn book(of: Part<'_>) -> Read<BookSaid> {
    let rules = of.parts("rules").ok();
    Ok(BookSaid {
        name: of.text("name")?,
        title: of.text("title")?,
        edition: of.text("edition")?,
        standing: of.text("standing")?,
        in_force: of.truth("in_force")?,
        digest: of.text("digest")?,
        covers_when: of.or_empty("covers_when"),
        rules: rules.map(|all| all.into_iter().map(rule).collect::<Read<_>>()).transpose()?,
    })
}

fn rule(of: Part<'_>) -> Read<RuleSaid> {
    let limit = |of: Part<'_>| -> Read<LimitSaid> {
        let (name, shown) = (of.text("name")?, of.text("shown")?);
        Ok(LimitSaid { name, words: of.text("words")?, shown, means: of.text("means")? })
    };
    Ok(RuleSaid {
        name: of.text("name")?,
        title: of.text("title")?,
        subject: of.text("subject")?,
        fingerprint: of.text("fingerprint")?,
        obligation: of.text("obligation")?,
        disputed: of.truth("disputed")?,
        due: of.text("due")?,
        stops: of.text("stops")?,
        document: of.text("document")?,
        section: of.text("section")?,
        basis: of.text("basis")?,
        limits: of.parts("limits")?.into_iter().map(limit).collect::<Read<_>>()?,
        each: of.text("each")?,
        applies: of.text("applies")?,
        requires: of.text("requires")?,
        interpretation: of.text("interpretation")?,
    })
}

fn finding(of: Part<'_>) -> Read<FindingSaid> {
    let about = of.part("about")?;
    Ok(FindingSaid {
        identity: of.text("identity")?,
        subject: of.text("subject")?,
        title: of.text("title")?,
        scope: about.text("scope")?,
        kind: about.or_empty("kind"),
        name: about.or_empty("name"),
        entry: about.or_empty("entry"),
        comes: of.comes()?,
        stops: of.or_empty("stops"),
        clauses: of.parts("clauses")?.into_iter().map(clause).collect::<Read<_>>()?,
    })
}

fn clause(of: Part<'_>) -> Read<ClauseSaid> {
    let mut rests_on = Vec::new();
    for fact in of.parts("decided_by")? {
        for entry in fact.parts("entries")? {
            rests_on.push(entry.text("entry")?);
        }
    }
    let missing: Vec<String> =
        of.parts("missing")?.into_iter().filter_map(|one| one.maybe("entry")).collect();
    rests_on.extend(missing.iter().cloned());
    rests_on.retain(|entry| !entry.is_empty());
    let mut numbers = Vec::new();
    for compared in of.parts("compared")? {
        for side in [compared.part("left")?, compared.part("right")?] {
            if let Some(fact) = side.maybe("fact") {
                let end = |key: &str| side.0.get(key).map(ToString::to_string).unwrap_or_default();
                let means = format!("{} to {}", end("low"), end("high"));
                numbers.push(NumberSaid { fact, of: side.or_empty("of"), shown: side.text("shown")?, means });
            }
        }
    }
    Ok(ClauseSaid {
        requirement: of.text("requirement")?,
        fingerprint: of.text("fingerprint")?,
        comes: of.comes()?,
        counts: {
            let said = of.text("standing")?;
            let aside = [Standing::ForInformation, Standing::Withheld];
            !aside.into_iter().any(|one| said == super::standing_word(one))
        },
        is_duty: of.text("obligation")? == crate::rulebook::checked::Obligation::Shall.word(),
        said: of.or_empty("said"),
        numbers,
        rests_on,
        missing,
        variance: of.maybe("variance"),
    })
}

fn variance(of: Part<'_>) -> Read<VarianceSaid> {
    let changed = |of: Part<'_>| -> Read<(String, String, String)> {
        Ok((of.text("what")?, of.or_empty("was"), of.text("is")?))
    };
    let text = |key: &str| of.maybe(key);
    Ok(VarianceSaid {
        identity: of.text("identity")?,
        holds: of.text("holds")?,
        until: text("until"),
        on: text("on"),
        changed: of.parts("changed")?.into_iter().map(changed).collect::<Read<_>>()?,
        requirement_moved: text("requirement_now").is_some(),
        finding: text("finding"),
        requirement: of.text("requirement")?,
    })
}
