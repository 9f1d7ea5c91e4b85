//! How the program's own short words are said to a person.

use crate::base::problem::Weight;
use crate::base::value::Reason;
use crate::base::vocabulary::{Called, KindId, Vocabulary};
use crate::findings::Comes;
use crate::judge::verdict::Verdict;
use crate::render::terminal::sheet::capital;
use crate::rulebook::checked::{Basis, CheckedBook, LimitWords, Obligation, Stage, Stops};

/// A verdict.
#[must_use]
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Met => "met",
        Verdict::Unmet => "unmet",
        Verdict::Undetermined => "can't tell yet",
        Verdict::NotApplicable => "not applicable",
        Verdict::NotYetDue => "not yet due",
        Verdict::Varied => "variance on file",
    }
}

/// What a finding comes to.
#[must_use]
pub fn comes(comes: Comes) -> &'static str {
    match comes {
        Comes::Unmet => verdict(Verdict::Unmet),
        Comes::Disputed => "not as asked; disputed whether it is a duty",
        Comes::Open => verdict(Verdict::Undetermined),
        Comes::NotFollowed => "advice, not followed",
        Comes::Met => verdict(Verdict::Met),
        Comes::NotApplicable => verdict(Verdict::NotApplicable),
        Comes::NotYetDue => verdict(Verdict::NotYetDue),
        Comes::Varied => verdict(Verdict::Varied),
    }
}

/// How many came to this, as a part of a count.
#[must_use]
pub fn counted(n: usize, comes: Comes) -> String {
    match comes {
        Comes::Disputed => format!("{n} not as asked, disputed whether a duty"),
        Comes::NotFollowed => count(n, "piece of advice not followed", "pieces of advice not followed"),
        other => format!("{n} {}", self::comes(other)),
    }
}

/// How sure one is of what the source says.
#[must_use]
pub fn basis(basis: Basis) -> &'static str {
    match basis {
        Basis::Read => "its text was read",
        Basis::ReadInPart => "part of its text was read",
        Basis::Secondary => "its text was not read; taken from one that tells what it says",
        Basis::SimilarStandard => "its text was not read; taken from a standard of the same family",
        Basis::Memory => "its text was not at hand; written from memory",
        Basis::CommonPractice => "no source; common practice of careful people",
    }
}

/// The same in a word or two.
#[must_use]
pub fn basis_short(basis: Basis) -> &'static str {
    match basis {
        Basis::Read => "text read",
        Basis::ReadInPart => "text read in part",
        Basis::Secondary => "known at second hand",
        Basis::SimilarStandard => "known from a similar standard",
        Basis::Memory => "from memory",
        Basis::CommonPractice => "common practice, no source",
    }
}

/// The weight of a requirement.
#[must_use]
pub fn obligation(obligation: Obligation, disputed: bool) -> String {
    let verb = match obligation {
        Obligation::Shall => "shall: it has to be",
        Obligation::Should => "should: it is advice, and fails nothing",
        Obligation::May => "may: it is permitted or offered",
    };
    if disputed { format!("{verb}; sources disagree about the verb") } else { verb.to_owned() }
}

/// When a requirement can first be asked for.
#[must_use]
pub fn due(stage: Stage) -> &'static str {
    match stage {
        Stage::Design => "on the drawing",
        Stage::Installed => "once it is built",
        Stage::Operating => "once it runs",
    }
}

/// The work that waits for a requirement.
#[must_use]
pub fn stops(stops: Stops) -> &'static str {
    match stops {
        Stops::Drilling => "no hole is drilled before it is met",
        Stops::StartUp => "the fan is not left running before it is met",
    }
}

/// How a limit's words place the limit itself.
#[must_use]
pub fn limit_words(words: LimitWords) -> &'static str {
    match words {
        LimitWords::AtLeast => "at least",
        LimitWords::AtMost => "at most",
        LimitWords::MoreThan => "more than",
        LimitWords::LessThan => "less than",
    }
}

/// What a person does about an entry that does not tell, as a phrase.
#[must_use]
pub fn reason(reason: &Reason) -> String {
    match reason {
        Reason::NotStated => "not stated".to_owned(),
        Reason::StatedUnknown => "stated as unknown".to_owned(),
        Reason::Unreadable => "could not be read".to_owned(),
        Reason::CutOff => "may stand in the lines that were not read".to_owned(),
        Reason::NotSaidComplete => "nobody has said that this is all of them".to_owned(),
        Reason::LookedOnly(far) => format!("looked for only so far: {far}; what lies beyond is not known"),
        Reason::Imprecise => "measure closer: what is stated lies on both sides of the limit".to_owned(),
        Reason::TakenForGranted => {
            "what is taken for granted lies on both sides of the limit: measure it".to_owned()
        }
        Reason::Reckoned => {
            "it is only reckoned, and the limit lies within what it can be; a test or a reading settles it"
                .to_owned()
        }
        Reason::Contradiction => "two statements disagree".to_owned(),
        Reason::Circular => {
            "it is given by way of itself; something in the round has to be given without the rest".to_owned()
        }
        // Some reasons say it themselves.
        Reason::NotComputable(why) if why.contains("cannot be worked out") => why.clone(),
        Reason::NotComputable(why) => format!("cannot be worked out: {why}"),
    }
}

/// How bad a problem is, as a heading.
#[must_use]
pub fn weight(weight: Weight) -> &'static str {
    match weight {
        Weight::Doubt => "read, but perhaps not as meant",
        Weight::Entry => "could not be read, so it counts as not stated",
        Weight::Whole => "could not be used at all",
    }
}

/// A count with its noun in the right number.
#[must_use]
pub fn count(n: usize, one: &str, many: &str) -> String {
    if n == 1 { format!("1 {one}") } else { format!("{n} {many}") }
}

/// A date as 2026-05-12 said as one says it: 12 May 2026. Anything else stays as it is.
#[must_use]
pub fn day(date: &str) -> String {
    const MONTHS: [&str; 12] = [
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
        "November",
        "December",
    ];
    let mut parts = date.split('-');
    let read = (|| {
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        let month = MONTHS.get(month.parse::<usize>().ok()?.checked_sub(1)?)?;
        let day: u8 = day.parse().ok()?;
        let year: u16 = year.parse().ok()?;
        parts.next().is_none().then(|| format!("{day} {month} {year}"))
    })();
    read.unwrap_or_else(|| date.to_owned())
}

/// From when until when a book is in force, as far as it says.
#[must_use]
pub fn in_force(book: &CheckedBook) -> String {
    match (&book.from, &book.until) {
        (None, None) => "the book does not say".to_owned(),
        (Some(from), None) => format!("from {}", day(from)),
        (None, Some(until)) => format!("until {}", day(until)),
        (Some(from), Some(until)) => format!("from {} until {}", day(from), day(until)),
    }
}

/// A name as written in a file, said as words: `hall_skylight` as "hall skylight".
#[must_use]
pub fn spoken(name: &str) -> String {
    name.replace(['_', '-'], " ")
}

/// What to beware of, as a sentence for paper. What is safe to do, the local code and licensed people say.
#[must_use]
pub fn caution(of: &str) -> String {
    let said = match of.to_lowercase().as_str() {
        "ladder" => "set it on firm ground, secure it, and do not work on it alone",
        "roof edge" => "only for those who are trained and tied",
        "confined space" => "test and air a crawlspace or pit before anybody goes in, with somebody outside",
        "live wiring" => "shut the circuit off and prove it dead; this is for a licensed electrician",
        "asbestos" => "cut, sand or scrape nothing that may hold it before it was tested",
        "flue gas" => "where a flue spills or an alarm sounds, switch the fan off, leave, and call",
        "carbon monoxide" => "keep an alarm in the house; where it sounds, leave and call",
        "solvent fumes" => "air the room, and keep flames and sparks away",
        "tensioned cables" => "a cut cable can kill; nobody drills before they are found and marked",
        "gas line" => "have it marked before anybody drills or digs",
        "attic" => "step on the framing alone; mind heat, nails and old insulation",
        "lead" => "old paint may hold it; have it tested before it is sanded or cut",
        _ => return format!("{}.", capital(&spoken(of))),
    };
    format!("{}: {said}.", capital(&spoken(of)))
}

/// What a thing is called in a sentence: `the kitchen window`, `the pipe run "out"`.
#[must_use]
pub fn called(vocabulary: &Vocabulary, kind: KindId, name: &str) -> String {
    let bare = matches!(vocabulary.kind(kind), Some(shape) if shape.called == Called::Bare);
    let named = named(vocabulary, kind, name);
    // The open air is no thing among others.
    if bare || name == "outdoors" || named.is_empty() || named.starts_with("the ") {
        named
    } else {
        format!("the {named}")
    }
}

/// What a thing is called in a heading: `kitchen window`, `pipe run "out"`.
#[must_use]
pub fn named(vocabulary: &Vocabulary, kind: KindId, name: &str) -> String {
    let spoken = self::spoken(name);
    let level = vocabulary.kind(kind).filter(|shape| shape.name == "level");
    if let Some(storey) = level.and_then(|_| spoken.strip_prefix("storey ")) {
        return floor(storey);
    }
    let Some(shape) = vocabulary.kind(kind).filter(|shape| shape.called == Called::WithKind) else {
        return spoken;
    };
    let label = shape.label();
    let noun = label.rsplit(' ').next().unwrap_or(&label);
    let says_it = spoken.split(' ').any(|word| word.trim_end_matches(|c: char| c.is_ascii_digit()) == noun);
    if says_it || spoken == self::spoken(&shape.name) { spoken } else { format!("{label} \"{spoken}\"") }
}

/// A storey by its number, as one says it: the ground floor is 1.
#[must_use]
pub fn floor(storey: &str) -> String {
    match storey {
        "0" => "the floor below the ground floor".to_owned(),
        "1" => "the ground floor".to_owned(),
        "2" => "the floor above the ground floor".to_owned(),
        more => format!("floor {more}, with the ground floor as 1"),
    }
}

/// The first words of a longer sentence, up to where it first draws breath.
#[must_use]
pub fn in_few_words(text: &str) -> String {
    let end = text.find(['.', ';', ':']).unwrap_or(text.len());
    text.get(..end).unwrap_or(text).trim().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::vocabulary::KindShape;

    #[test]
    fn a_thing_is_called_with_its_kind_unless_its_name_says_it() {
        let shape = |name: &str, label: &str, called| KindShape {
            name: name.to_owned(),
            label: label.to_owned(),
            called,
            meaning: String::new(),
        };
        let vocabulary = Vocabulary::of(
            vec![
                shape("run", "pipe run", Called::WithKind),
                shape("opening", "", Called::ByName),
                shape("level", "floor", Called::Bare),
            ],
            Vec::new(),
            Vec::new(),
        );
        let said = |kind, name: &str| called(&vocabulary, KindId(kind), name);
        assert_eq!(said(0, "out"), "the pipe run \"out\"");
        assert_eq!(said(0, "attic_run"), "the attic run");
        assert_eq!(said(1, "kitchen_window"), "the kitchen window");
        assert_eq!(said(2, "storey 1"), "the ground floor");
        assert_eq!(named(&vocabulary, KindId(0), "main_line"), "pipe run \"main line\"");
    }

    #[test]
    fn days_are_said_as_one_says_them() {
        assert_eq!(day("2026-05-12"), "12 May 2026");
        assert_eq!(day("2026-13-12"), "2026-13-12");
        assert_eq!(day("spring"), "spring");
    }

    #[test]
    fn verdict_words_promise_nothing() {
        for one in Comes::ALL {
            for word in ["approved", "certified", "safe", "pass", "fail", "ok"] {
                let said = comes(one);
                assert!(!said.split(' ').any(|own| own == word), "{said}");
            }
        }
    }
}
