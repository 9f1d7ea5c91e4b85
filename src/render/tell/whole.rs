//! The whole review in words, in the order a person needs it.

use std::collections::{BTreeMap, BTreeSet};

use super::departures;
use super::finding::{Background, card, missing, standing, thing, title, weighs};
use super::told::{BookLine, Card, Cause, Section, Told, Wanted, Weighs};
use crate::base::problem::{Problem, ProblemKind, Weight};
use crate::findings::finding::{Finding, is_open};
use crate::findings::{self, Coverage};
use crate::judge::verdict::Verdict;
use crate::render::phrases::{self, count, day};
use crate::render::terminal::Show;
use crate::render::terminal::sheet::capital;
use crate::render::words;
use crate::review::describe::describe;
use crate::review::{Review, books};
use crate::rulebook::checked::{Obligation, Stops};

/// What no page of this program is.
pub const IS_NOT: &str = "This page is no permit, no approval and no radon measurement. Where work can hurt \
(ladders, live wires, flue gas, dust, asbestos, tight spaces) the local code and licensed people decide.";

/// The review in words.
#[must_use]
pub fn tell(review: &Review<'_>, show: Show) -> Told {
    let background = Background {
        sources: &review.sources,
        used: &review.used,
        vocabulary: books::vocabulary(),
        name_of: review,
    };
    let judged = review.was_judged();
    Told {
        title: title_of(review),
        about: about(review),
        books: review
            .used
            .iter()
            .map(|used| BookLine {
                standing: capital(standing(used.standing)),
                title: used.book.title.clone(),
                edition: used.book.edition.clone(),
                nature: in_few_words(&used.book.legal_nature),
            })
            .collect(),
        notes: notes(review),
        stops: stops(&review.findings, &background),
        counts: if judged { counts(&review.findings) } else { "No requirement was judged.".to_owned() },
        causes: causes(&review.findings, &background)
            .into_iter()
            .chain(departures::cause(&review.departures))
            .collect(),
        unread: unread(review),
        wanted: review.wanted.iter().map(|one| wanted(one, review)).collect(),
        problems: review.book_problems.iter().chain(&review.problems).cloned().collect(),
        sections: sections(&review.findings, &background, show)
            .into_iter()
            .chain(departures::section(&review.departures, &review.findings, &background))
            .collect(),
        lists: lists(&review.findings, &background, show)
            .into_iter()
            .chain(departures::lines(&review.departures))
            .collect(),
        coverage: review.coverage.iter().map(|one| coverage(one, review)).collect(),
        cautions: cautions(&review.findings, &background),
        is_not: IS_NOT.to_owned(),
        last: last(review, judged),
    }
}

/// The first words of a longer sentence, up to where it first draws breath.
fn in_few_words(text: &str) -> String {
    let end = text.find(['.', ';', ':']).unwrap_or(text.len());
    text.get(..end).unwrap_or(text).trim().to_owned()
}

fn title_of(review: &Review<'_>) -> String {
    review.job.title.clone().unwrap_or_else(|| "A design without a name".to_owned())
}

fn about(review: &Review<'_>) -> String {
    let mut parts = vec![review.name().to_owned()];
    parts.extend(review.job.work.clone());
    if !review.digests.field_notes.is_empty() {
        let names: Vec<&str> = review.digests.field_notes.iter().map(|(name, _)| name.as_str()).collect();
        parts.push(format!("with field notes {}", names.join(" and ")));
    }
    parts.push(match &review.job.stage {
        Some(stage) => format!("stage: {stage}"),
        None => format!("stage not stated, reviewed as {}", review.stage.word()),
    });
    parts.push(match &review.on {
        Some(on) => format!("reviewed for {}", day(on)),
        None => "no day stated".to_owned(),
    });
    parts.join(", ")
}

fn notes(review: &Review<'_>) -> Vec<String> {
    let mut notes = review.notes.clone();
    if review.on.is_none() {
        notes.push(
            "No day is stated, so nothing that depends on a date is told. State job: date, or give one with --on."
                .to_owned(),
        );
    }
    if !review.used.iter().any(|used| used.standing.counts() && !used.book.always)
        && review.book_problems.is_empty()
    {
        notes.push(
            "No book is adopted or asked for by contract, so nothing but the items before drilling and start-up counts."
                .to_owned(),
        );
    }
    notes
}

/// What must wait, each with why: what is known to be in the way first.
fn stops(list: &[Finding], background: &Background<'_>) -> Vec<String> {
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
                _ => format!("nobody has settled \"{}\"", of(finding, background)),
            };
            said.push(format!("{words}: {why}"));
        }
    }
    said
}

/// A finding in a few words: what is asked for, and of what.
fn of(finding: &Finding, background: &Background<'_>) -> String {
    let thing = thing(finding, background.vocabulary);
    let title = title(finding, background);
    if thing.is_empty() { title } else { format!("{title}: {thing}") }
}

/// The verdicts of the books that count, in numbers; those for information behind them.
fn counts(list: &[Finding]) -> String {
    let counted: Vec<&Finding> = list.iter().filter(|finding| finding.counts()).collect();
    let number = |verdict| counted.iter().filter(|finding| finding.verdict() == verdict).count();
    let parts: Vec<String> =
        [Verdict::Unmet, Verdict::Undetermined, Verdict::Met, Verdict::NotApplicable, Verdict::NotYetDue]
            .into_iter()
            .map(|verdict| format!("{} {}", number(verdict), phrases::verdict(verdict)))
            .collect();
    let aside = list.len() - counted.len();
    let aside = if aside == 0 { String::new() } else { format!("; {aside} more for information") };
    format!("{}: {}{aside}.", count(counted.len(), "finding", "findings"), parts.join(", "))
}

/// What is unmet, by requirement, the largest group first; duties before advice, what counts before the rest.
fn causes(list: &[Finding], background: &Background<'_>) -> Vec<Cause> {
    let mut groups: BTreeMap<(u8, String), Vec<String>> = BTreeMap::new();
    for finding in list.iter().filter(|finding| finding.verdict() == Verdict::Unmet) {
        let Some(clause) = finding.headline() else { continue };
        let class = match (finding.counts(), clause.obligation) {
            (true, Obligation::Shall) => 0,
            (true, _) => 1,
            (false, _) => 2,
        };
        groups
            .entry((class, title(finding, background)))
            .or_default()
            .push(thing(finding, background.vocabulary));
    }
    let mut groups: Vec<((u8, String), Vec<String>)> = groups.into_iter().collect();
    groups.sort_by(|((a, _), one), ((b, _), other)| a.cmp(b).then(other.len().cmp(&one.len())));
    groups
        .into_iter()
        .map(|((class, title), names)| {
            let (weighs, lead) = match class {
                0 => (Weighs::Unmet, "Unmet: "),
                1 => (Weighs::Open, "Advice: "),
                _ => (Weighs::Silent, "For information: "),
            };
            let names = names.into_iter().filter(|name| !name.is_empty()).collect();
            Cause { weighs, what: format!("{lead}{title}"), names }
        })
        .collect()
}

fn unread(review: &Review<'_>) -> String {
    let number = |weight| review.problems.iter().filter(|problem| problem.kind.weight() == weight).count();
    let mut parts = Vec::new();
    if !review.book_problems.is_empty() {
        parts.push(count(
            review.book_problems.len(),
            "fault with the rulebooks",
            "faults with the rulebooks",
        ));
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

fn wanted(one: &findings::Wanted, review: &Review<'_>) -> Wanted {
    let entry = one.missing.entry.as_str();
    let mut now = phrases::reason(&one.missing.reason);
    if let Some(at) = one.missing.at
        && let Some(source) = review.sources.get(at.source)
    {
        now.push_str(&format!(", line {}", source.line_column(at.start).line));
    }
    let what = describe(entry).unwrap_or_else(|| phrases::spoken(entry.rsplit('.').next().unwrap_or(entry)));
    let what = what.replace('`', "\"");
    let first = one.stops.map(|stops| match stops {
        Stops::Drilling => "before drilling",
        Stops::StartUp => "before start-up",
    });
    Wanted {
        settles: one.settles.len(),
        first: first.unwrap_or_default().to_owned(),
        what,
        entry: entry.to_owned(),
        write: one.write().unwrap_or_default(),
        now,
    }
}

fn sections(list: &[Finding], background: &Background<'_>, show: Show) -> Vec<Section> {
    let everything = show == Show::Everything;
    let mut taken: BTreeSet<&str> = BTreeSet::new();
    let mut sections = Vec::new();
    let mut section = |heading: &str, weighs: Weighs, lead: &str, wanted: &dyn Fn(&Finding) -> bool| {
        let mut cards: Vec<Card> = Vec::new();
        for finding in list.iter().filter(|finding| wanted(finding)) {
            if taken.insert(&finding.identity) {
                cards.push(card(finding, background));
            }
        }
        if !cards.is_empty() {
            sections.push(Section { heading: heading.to_owned(), weighs, lead: lead.to_owned(), cards });
        }
    };
    section("Before drilling", Weighs::Stops, "None of these can be accepted away.", &|finding| {
        finding.stops() == Some(Stops::Drilling)
    });
    section(
        "Before the fan is left running",
        Weighs::Stops,
        "None of these can be accepted away.",
        &|finding| finding.stops() == Some(Stops::StartUp),
    );
    let duty = |finding: &Finding| {
        finding.counts() && finding.headline().is_some_and(|clause| clause.obligation == Obligation::Shall)
    };
    section("Unmet", Weighs::Unmet, "", &|finding| duty(finding) && finding.verdict() == Verdict::Unmet);
    section("Unmet, where sources disagree whether it is a duty", Weighs::Open, "", &|finding| {
        finding.counts()
            && finding.headline().is_some_and(|clause| clause.verdict == Verdict::Unmet && clause.disputed)
    });
    section("Advice not followed", Weighs::Open, "Advice fails nothing.", &|finding| {
        finding.counts() && finding.verdict() == Verdict::Unmet
    });
    section(
        "Unmet in books for information",
        Weighs::Silent,
        "These books do not count for this job.",
        &|finding| !finding.counts() && finding.verdict() == Verdict::Unmet,
    );
    if everything {
        section("Can't tell yet", Weighs::Open, "", &|finding| finding.verdict() == Verdict::Undetermined);
        section("Met", Weighs::Met, "", &|finding| finding.verdict() == Verdict::Met);
        section("Not applicable", Weighs::Silent, "", &|finding| finding.verdict() == Verdict::NotApplicable);
        section("Not yet due", Weighs::Silent, "", &|finding| finding.verdict() == Verdict::NotYetDue);
    }
    sections
}

/// Findings that need no more than a line: what cannot be told yet, with what would settle it.
fn lists(list: &[Finding], background: &Background<'_>, show: Show) -> Vec<(String, Vec<String>)> {
    if show == Show::Everything {
        return Vec::new();
    }
    let lines: Vec<String> = list
        .iter()
        .filter(|finding| finding.verdict() == Verdict::Undetermined && finding.stops().is_none())
        .filter(|finding| finding.headline().is_none_or(|clause| clause.verdict == Verdict::Undetermined))
        .map(|finding| {
            let aside = match finding.headline() {
                Some(_) if !finding.counts() => ", for information",
                Some(clause) if clause.obligation != Obligation::Shall => ", advice",
                _ => "",
            };
            let needs: Vec<String> = finding
                .headline()
                .map(|clause| clause.missing.iter().map(missing).collect())
                .unwrap_or_default();
            let needs =
                if needs.is_empty() { String::new() } else { format!(" Needs {}.", needs.join("; ")) };
            format!("{}{aside}.{needs}", of(finding, background))
        })
        .collect();
    if lines.is_empty() { Vec::new() } else { vec![("Can't tell yet".to_owned(), lines)] }
}

fn coverage(one: &Coverage, review: &Review<'_>) -> super::told::Coverage {
    let book = review.used.iter().find(|used| used.book.name == one.book).map(|used| used.book);
    let clauses = |list: &[(String, String)]| -> Vec<String> {
        list.iter()
            .map(
                |(section, what)| {
                    if section.is_empty() { what.clone() } else { format!("{section}: {what}") }
                },
            )
            .collect()
    };
    let verdicts: Vec<String> =
        one.verdicts.iter().map(|(verdict, n)| format!("{n} {}", phrases::verdict(*verdict))).collect();
    let on_memory = if one.met_on_trust.is_empty() {
        String::new()
    } else {
        format!(
            "{} met on the word of a memory or of a similar standard: {}",
            one.met_on_trust.len(),
            one.met_on_trust.join(", ")
        )
    };
    super::told::Coverage {
        book: book.map_or_else(|| one.book.clone(), |book| format!("{}, {}", book.title, book.edition)),
        checked: format!(
            "{}, which gave {}",
            count(one.requirements, "requirement", "requirements"),
            if verdicts.is_empty() { "no verdict".to_owned() } else { verdicts.join(", ") }
        ),
        to_the_eye: book.map(|book| clauses(&book.left_to_the_eye)).unwrap_or_default(),
        not_held: book.map(|book| clauses(&book.not_held)).unwrap_or_default(),
        on_memory,
    }
}

/// Cautions of everything that is left to do.
fn cautions(list: &[Finding], background: &Background<'_>) -> Vec<String> {
    let mut all = BTreeSet::new();
    for finding in
        list.iter().filter(|finding| is_open(finding.verdict()) || weighs(finding) == Weighs::Stops)
    {
        for clause in &finding.clauses {
            if let Some(rule) = background.rule(clause) {
                all.extend(rule.cautions.iter().map(|one| capital(&phrases::spoken(one))));
            }
        }
    }
    all.into_iter().collect()
}

fn last(review: &Review<'_>, judged: bool) -> String {
    if !judged {
        return "Nothing was judged, which is never a success.".to_owned();
    }
    let due = |counts: bool| {
        let list = review.findings.iter();
        list.filter(|finding| finding.counts() == counts && finding.verdict() == Verdict::NotYetDue).count()
    };
    let aside = match due(false) {
        0 => String::new(),
        more => format!(", and {more} for information,"),
    };
    format!("{}{aside} not yet due at this stage.", count(due(true), "requirement", "requirements"))
}

impl super::finding::Names for Review<'_> {
    fn name(&self, thing: crate::base::vocabulary::Thing) -> String {
        self.names.get(&thing).cloned().unwrap_or_default()
    }
}
