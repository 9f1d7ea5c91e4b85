//! The first part of a page in words: what must wait, what it comes to, what is not as asked, what comes later.

use std::collections::BTreeMap;

use super::finding::{Background, card, thing, title};
use super::spot;
use super::told::{Cause, Weighs};
use crate::base::problem::{Problem, ProblemKind, Weight};
use crate::design::said::in_words;
use crate::findings::finding::{Comes, Finding};
use crate::findings::{Exit, Standing, Used};
use crate::judge::verdict::Verdict;
use crate::render::phrases::{self, count, day};
use crate::render::terminal::sheet::capital;
use crate::render::words;
use crate::review::Review;
use crate::rulebook::checked::{Obligation, Stage, Stops};

/// What must wait, each with why: what is known to be in the way first.
pub(super) fn stops(list: &[Finding], background: &Background<'_>) -> Vec<String> {
    let mut said = Vec::new();
    for (work, words) in [(Stops::Drilling, "Do not drill"), (Stops::StartUp, "Do not leave the fan running")]
    {
        let mut waiting: Vec<&Finding> =
            list.iter().filter(|finding| finding.stops() == Some(work)).collect();
        waiting.sort_by_key(|finding| finding.verdict() != Verdict::Unmet);
        for finding in waiting {
            let why = match finding.verdict() {
                Verdict::Unmet => {
                    let said = card(finding, background).sentence;
                    said.trim_end_matches("Do not drill.").trim_end().to_owned()
                }
                _ => not_settled(finding, background),
            };
            said.push(format!("{words}: {why}"));
        }
    }
    said
}

/// How it begins that something is not known which is a question of yes or no.
const NOT_KNOWN: &str = "not known ";

/// Why work waits that nobody has settled, with the entries that would settle it.
fn not_settled(finding: &Finding, background: &Background<'_>) -> String {
    let missing = finding.headline().map(|clause| clause.missing.as_slice()).unwrap_or_default();
    let why = match missing {
        [one] => spot::not_known(one).map(|what| format!("{NOT_KNOWN}{what}")),
        _ => None,
    };
    let why = why.unwrap_or_else(|| {
        let thing = thing(finding, background.vocabulary);
        let comma = if thing.is_empty() { "" } else { "," };
        format!("{}{comma} is not settled yet", of(finding, background))
    });
    let entries: Vec<String> = missing.iter().map(|one| in_words(one.entry.as_str())).collect();
    match entries.as_slice() {
        // What is not known was said.
        [_] if why.starts_with(NOT_KNOWN) => format!("{why}."),
        [] => format!("{why}."),
        entries => format!("{why}. Still to state: {}.", entries.join("; ")),
    }
}

/// A finding in a few words: what is asked for, in quotation marks because it names the demand and not the fault,
/// and of what.
pub(super) fn of(finding: &Finding, background: &Background<'_>) -> String {
    let thing = thing(finding, background.vocabulary);
    let title = title(finding, background);
    if thing.is_empty() { format!("\"{title}\"") } else { format!("\"{title}\", {thing}") }
}

fn number(list: &[Finding], wanted: &dyn Fn(&Finding) -> bool) -> usize {
    list.iter().filter(|finding| wanted(finding)).count()
}

/// What the review comes to, in one sentence that promises nothing.
pub(super) fn headline(review: &Review<'_>) -> String {
    let list = &review.findings;
    let duties = |comes| number(list, &|one| one.counts() && one.comes() == comes && one.binds());
    let unmet = match number(list, &|one| one.counts() && one.comes() == Comes::Unmet) {
        1 => "1 requirement that has to be met is not met".to_owned(),
        n => format!("{n} requirements that have to be met are not met"),
    };
    match review.exit() {
        Exit::CouldNotRead if list.iter().any(|one| one.binds_at(Verdict::Unmet)) => {
            format!("Not all could be read, so this review is not complete. {}.", capital(&unmet))
        }
        Exit::CouldNotRead if !review.was_judged() => {
            "Not all could be read. Nothing was judged, which is never a success.".to_owned()
        }
        Exit::CouldNotRead => "Not all could be read, so this review is not complete.".to_owned(),
        Exit::Unmet if unmet.starts_with('0') => {
            "Something that work has to wait for is not as asked.".to_owned()
        }
        Exit::Unmet => format!("{unmet}."),
        Exit::NothingJudged => "Nothing was judged, which is never a success.".to_owned(),
        Exit::NotInForce => {
            let books: Vec<String> = review.out_of_force().map(|used| used.book.name.clone()).collect();
            format!("Nothing is decided, because {} not in force on the day of this review.", are(&books))
        }
        Exit::NotProven => {
            let books: Vec<String> = review.unproven().map(|used| used.book.name.clone()).collect();
            format!("Nothing is decided, because {} not borne out by its own cases.", are(&books))
        }
        Exit::Undetermined { .. } => undetermined(duties(Comes::Open), duties(Comes::Disputed)),
        Exit::Met => {
            let books = if aside(review).is_empty() { "" } else { " in the books that count" };
            let beside =
                if duties(Comes::Varied) > 0 { ", beside what a variance on file permits" } else { "" };
            format!("Nothing that has to be met at this stage is unmet or open{books}{beside}.")
        }
    }
}

fn are(names: &[String]) -> String {
    match names {
        [one] => format!("{one} is"),
        several => format!("{} are", several.join(" and ")),
    }
}

fn undetermined(open: usize, disputed: usize) -> String {
    let open_words = format!("{} cannot be told yet", count(open, "requirement", "requirements"));
    let disputed_words = format!(
        "of {} that {} not as asked it is disputed whether {}",
        count(disputed, "requirement", "requirements"),
        if disputed == 1 { "is" } else { "are" },
        if disputed == 1 { "it is a duty" } else { "they are duties" },
    );
    match (open, disputed) {
        (0, 0) => "Something that work has to wait for cannot be told yet.".to_owned(),
        (_, 0) => format!("Nothing that has to be met is known to be unmet, but {open_words}."),
        (0, _) => format!("Not decided: {disputed_words}."),
        _ => format!("Not decided: {open_words}, and {disputed_words}."),
    }
}

/// The same at the end of the page, behind the work that must wait.
pub(super) fn verdict(review: &Review<'_>, headline: &str) -> String {
    let waits = |work| review.findings.iter().any(|finding| finding.stops() == Some(work));
    let lead = match (waits(Stops::Drilling), waits(Stops::StartUp)) {
        (true, true) => "Do not drill yet, and do not leave the fan running yet. ",
        (true, false) => "Do not drill yet. ",
        (false, true) => "Do not leave the fan running yet. ",
        (false, false) => "",
    };
    format!("{lead}{}", capital(headline))
}

/// What the findings that do not count are of, and why they do not: books for information, or some of them such as are to
/// decide and cannot.
pub(super) fn set_aside(list: &[Finding]) -> (&'static str, &'static str) {
    let mut clauses = list.iter().filter(|one| !one.counts()).flat_map(|one| &one.clauses);
    match clauses.any(|clause| clause.standing == Standing::Withheld) {
        true => (
            "that decide nothing",
            "They are not in force, or not borne out by their own cases, or only shown.",
        ),
        false => ("for information", "These books do not decide for this job."),
    }
}

/// The verdicts of the books that count, in numbers; those for information behind them.
pub(super) fn counts(list: &[Finding]) -> String {
    let mut parts = Vec::new();
    for comes in Comes::ALL {
        let n = number(list, &|one| one.counts() && one.comes() == comes);
        if n > 0 || !matches!(comes, Comes::Disputed | Comes::NotFollowed | Comes::Varied) {
            let mut part = phrases::counted(n, comes);
            let advice = number(list, &|one| {
                one.counts()
                    && one.comes() == Comes::Open
                    && one.headline().is_some_and(|clause| clause.obligation != Obligation::Shall)
            });
            if comes == Comes::Open && advice > 0 {
                part.push_str(&format!(" ({advice} of them advice)"));
            }
            parts.push(part);
        }
    }
    let counted = number(list, &Finding::counts);
    let aside = list.len() - counted;
    let aside = if aside == 0 { String::new() } else { format!("; {aside} more {}", set_aside(list).0) };
    format!("{}: {}{aside}.", count(counted, "finding", "findings"), parts.join(", "))
}

/// How many clauses of each book that is used for information and decides nothing are not met.
pub(super) fn aside(review: &Review<'_>) -> String {
    let said: Vec<String> = review
        .used
        .iter()
        .enumerate()
        .filter(|(_, used)| !used.standing.counts())
        .filter_map(|(at, used)| {
            let clauses = review.findings.iter().flat_map(|finding| &finding.clauses);
            let unmet = clauses.filter(|clause| clause.book == at && clause.comes() == Comes::Unmet).count();
            let are = if unmet == 1 { "is" } else { "are" };
            let name = &used.book.name;
            (unmet > 0).then(|| format!("{} of {name} {are} not met", count(unmet, "clause", "clauses")))
        })
        .collect();
    let books = match said.len() {
        0 => return String::new(),
        1 => "that book is used for information and decides nothing here",
        _ => "those books are used for information and decide nothing here",
    };
    format!("{}; {books}.", said.join(", "))
}

/// What is not as asked, by requirement, in the order in which the findings are shown.
fn by_requirement(list: &[&Finding], background: &Background<'_>) -> Vec<(String, Vec<String>)> {
    let mut groups: Vec<(String, Vec<String>)> = Vec::new();
    let mut at: BTreeMap<String, usize> = BTreeMap::new();
    for finding in list {
        let title = title(finding, background);
        let place = *at.entry(title.clone()).or_insert_with(|| {
            groups.push((title, Vec::new()));
            groups.len() - 1
        });
        if let Some((_, names)) = groups.get_mut(place) {
            names.push(thing(finding, background.vocabulary));
        }
    }
    groups
}

/// The duties that are not as asked, by requirement.
pub(super) fn duties(list: &[Finding], background: &Background<'_>) -> Vec<Cause> {
    let unmet: Vec<&Finding> =
        list.iter().filter(|one| one.counts() && one.comes() == Comes::Unmet).collect();
    by_requirement(&unmet, background)
        .into_iter()
        .map(|(title, names)| {
            let names = names.into_iter().filter(|name| !name.is_empty()).collect();
            Cause { weighs: Weighs::Unmet, what: format!("Unmet: \"{title}\""), names }
        })
        .collect()
}

/// What is not as asked and decides nothing: one line for what is disputed, one for advice, one for books for
/// information.
pub(super) fn others(list: &[Finding], background: &Background<'_>) -> Vec<Cause> {
    let titles = |wanted: &dyn Fn(&Finding) -> bool| -> (usize, Vec<String>) {
        let found: Vec<&Finding> = list.iter().filter(|one| wanted(one)).collect();
        let groups = by_requirement(&found, background);
        let said = groups.into_iter().map(|(title, names)| match names.len() {
            1 => format!("\"{title}\""),
            n => format!("\"{title}\" ({n})"),
        });
        (found.len(), said.collect())
    };
    let mut all = Vec::new();
    let (n, names) = titles(&|one| one.counts() && one.comes() == Comes::Disputed);
    if n > 0 {
        let what = format!("Not as asked, disputed whether a duty ({n})");
        all.push(Cause { weighs: Weighs::Open, what, names });
    }
    let (n, names) = titles(&|one| one.counts() && one.comes() == Comes::NotFollowed);
    if n > 0 {
        all.push(Cause { weighs: Weighs::Open, what: format!("Advice not followed ({n})"), names });
    }
    let aside = |one: &Finding| {
        !one.counts() && matches!(one.comes(), Comes::Unmet | Comes::Disputed | Comes::NotFollowed)
    };
    let (n, names) = titles(&aside);
    if n > 0 {
        let what = format!("Not as asked in books {} ({n})", set_aside(list).0);
        all.push(Cause { weighs: Weighs::Silent, what, names });
    }
    all
}

/// What could not be read, and which books gave nothing.
#[must_use]
pub fn unread(review: &Review<'_>) -> String {
    let number = |weight| review.problems.iter().filter(|problem| problem.kind.weight() == weight).count();
    let mut parts = Vec::new();
    for (book, faults) in &review.silent {
        parts.push(format!("the book {book} has {} and gave no verdict", count(*faults, "fault", "faults")));
    }
    let in_books: usize = review.silent.iter().map(|(_, faults)| faults).sum();
    let unknown = review.book_problems.len().saturating_sub(in_books);
    if unknown > 0 {
        parts.push(count(unknown, "fault in the list of rulebooks", "faults in the list of rulebooks"));
    }
    if number(Weight::Whole) > 0 {
        parts.push("the file could not be used".to_owned());
    }
    if number(Weight::Entry) > 0 {
        parts.push(count(number(Weight::Entry), "entry could not be read", "entries could not be read"));
    }
    let against: Vec<&Problem> = review.problems.iter().filter(|one| is_against(one)).collect();
    let doubts = number(Weight::Doubt).saturating_sub(against.len());
    if doubts > 0 {
        parts.push(format!("{} to look at again", count(doubts, "entry", "entries")));
    }
    let mut said = if parts.is_empty() { String::new() } else { format!("{}.", capital(&parts.join(", "))) };
    if let Some(first) = against.first() {
        let how_many =
            count(against.len(), "thing that cannot be as stated", "things that cannot be as stated");
        let sentence = words::of(first).what;
        let sentence = sentence.split_once(". ").map_or(sentence.as_str(), |(_, found)| found);
        said = format!("{} {}: {sentence}", said, how_many).trim_start().to_owned();
    }
    said
}

/// Whether a problem is about statements that cannot all be true.
fn is_against(problem: &Problem) -> bool {
    matches!(problem.kind, ProblemKind::Contradiction | ProblemKind::CannotBe)
}

/// Why a book that is used decides nothing: it is not in force on the day of the review, or its own cases do not bear
/// it out.
pub(super) fn decides_nothing(used: &Used<'_>, review: &Review<'_>) -> String {
    if used.in_force {
        let proven = if used.proven { "" } else { "not borne out by its own cases" };
        return proven.to_owned();
    }
    let on = review.on.as_deref().map_or("this day".to_owned(), day);
    let when = match (&used.book.from, &used.book.until) {
        (Some(from), Some(until)) => format!("only from {} until {}", day(from), day(until)),
        (Some(from), None) => format!("only from {}", day(from)),
        (None, Some(until)) => format!("only until {}", day(until)),
        (None, None) => String::new(),
    };
    format!("not in force on {on}, {when}")
}

fn counted_later(list: &[Finding]) -> impl Iterator<Item = &Finding> {
    list.iter().filter(|one| one.counts() && one.comes() == Comes::NotYetDue)
}

fn before_start_up(finding: &Finding) -> bool {
    finding.clauses.iter().any(|clause| clause.standing.counts() && clause.stops == Some(Stops::StartUp))
}

/// What has to be done before the fan is left running and cannot be asked at this stage.
pub(super) fn before_running(list: &[Finding], background: &Background<'_>) -> Vec<String> {
    let waiting: Vec<&Finding> = counted_later(list).filter(|one| before_start_up(one)).collect();
    by_requirement(&waiting, background)
        .into_iter()
        .map(|(title, names)| {
            let names: Vec<String> = names.into_iter().filter(|name| !name.is_empty()).collect();
            let of = if names.is_empty() { String::new() } else { format!(": {}", names.join(", ")) };
            format!("Still to come before the fan is left running: \"{title}\"{of}.")
        })
        .collect()
}

/// What else comes due once the system is built, and once it runs, by name.
pub(super) fn later(list: &[Finding], background: &Background<'_>) -> Vec<String> {
    let mut said = Vec::new();
    for (stage, words) in [(Stage::Installed, "Due once it is built"), (Stage::Operating, "Due once it runs")]
    {
        let due = |one: &Finding| {
            one.headline().and_then(|clause| background.rule(clause)).is_some_and(|rule| rule.due == stage)
        };
        let waiting: Vec<&Finding> =
            counted_later(list).filter(|one| due(one) && !before_start_up(one)).collect();
        if waiting.is_empty() {
            continue;
        }
        let names: Vec<String> = by_requirement(&waiting, background)
            .into_iter()
            .map(|(title, names)| match names.len() {
                1 => format!("\"{title}\""),
                n => format!("\"{title}\" ({n} times)"),
            })
            .collect();
        said.push(format!("{words}: {}.", names.join("; ")));
    }
    said
}
