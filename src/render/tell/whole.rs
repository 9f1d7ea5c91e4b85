//! The whole review in words, in the order a person needs it.

use std::collections::BTreeSet;
use std::rc::Rc;

use super::finding::{Background, card, standing, weighs};
use super::first::{self, of, set_aside};
use super::numbers::Styles;
use super::told::{BookLine, Card, Section, Told, Weighs};
use super::{departures, looked, variances, wanted};
use crate::base::hands;
use crate::base::value::Reason;
use crate::findings::Coverage;
use crate::findings::finding::{Comes, Finding, Standing, is_open};
use crate::findings::looked::LookedAt;
use crate::findings::narrow::Narrowed;
use crate::judge::verdict::Verdict;
use crate::render::amended::{decision, decisions};
use crate::render::phrases::{self, count, day};
use crate::render::terminal::Show;
use crate::render::terminal::sheet::capital;
use crate::review::{Review, books};
use crate::rulebook::checked::{CheckedBook, Obligation, Stops};

/// The headings under which stands what decides; what is to be measured follows upon them.
const DECIDE: [&str; 3] = ["Unmet", "Not as asked; disputed whether it is a duty", "Can't tell yet"];

/// What the findings have in common of which it is disputed whether they are duties.
const DISPUTED: &str = "Sources disagree whether these are duties or advice, and the text itself is not held. They keep the \
outcome open until the local office says which.";

/// What no page of this program is.
pub const IS_NOT: &str = "This page is no permit, no approval and no radon measurement. Where work can hurt \
(ladders, live wires, flue gas, dust, asbestos, tight spaces) the local code and licensed people decide.";

/// The review in words.
#[must_use]
pub fn tell(review: &Review<'_>, show: Show) -> Told {
    let styles = Styles::default();
    let background = background(review, &styles);
    let shown = review.shown();
    let (sections, (wanted, lists)) = hands::both(
        || sections(&shown, &self::background(review, &Styles::default()), show),
        || (wanted::wanted(review), lists(&shown, &background, show)),
    );
    let judged = review.was_judged();
    let headline = first::headline(review);
    Told {
        title: title_of(review),
        about: about(review),
        radon: radon(review),
        books: review
            .used
            .iter()
            .map(|used| BookLine {
                name: used.book.name.clone(),
                decides_nothing: first::decides_nothing(used, review),
                standing: standing(used.standing).to_owned(),
                title: used.book.title.clone(),
                edition: used.book.edition.clone(),
                nature: phrases::in_few_words(&used.book.legal_nature),
            })
            .collect(),
        notes: notes(review),
        stops: first::stops(&review.findings, &background),
        counts: if judged {
            first::counts(&review.findings)
        } else {
            "No requirement of a book that counts was judged.".to_owned()
        },
        aside: first::aside(review),
        duties: first::duties(&review.findings, &background),
        others: first::others(&review.findings, &background)
            .into_iter()
            .chain(departures::cause(&review.departures))
            .chain(variances::cause(&review.variances))
            .collect(),
        unread: first::unread(review),
        before_running: first::before_running(&review.findings, &background),
        later: first::later(&review.findings, &background),
        wanted,
        problems: review.book_problems.iter().chain(&review.problems).cloned().collect(),
        part: part(review),
        sections: sections
            .into_iter()
            .chain(variances::section(&review.variances, &background))
            .chain(departures::section(&review.departures, &review.findings, &background))
            .collect(),
        lists: lists
            .into_iter()
            .chain(looked::lines(&review.looked, &review.findings, &background))
            .chain(departures::lines(&review.departures))
            .collect(),
        coverage: review.coverage.iter().map(|one| coverage(one, review, show)).collect(),
        cautions: cautions(&shown, &background),
        is_not: IS_NOT.to_owned(),
        verdict: first::verdict(review, &headline),
        headline: capital(&headline),
        last: last(review),
    }
}

fn background<'a>(review: &'a Review<'_>, styles: &'a Styles) -> Background<'a> {
    Background {
        sources: &review.sources,
        styles,
        used: &review.used,
        vocabulary: books::vocabulary(),
        on_file: &review.variances,
        name_of: review,
    }
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

/// The results of the radon tests, each with its occasion and day.
fn radon(review: &Review<'_>) -> String {
    let told: Vec<String> = review
        .job
        .radon
        .iter()
        .map(|one| {
            let occasion = one.when.as_deref().unwrap_or(&one.name);
            let ended = one.ended.as_deref().map(|ended| format!(" ({})", day(ended))).unwrap_or_default();
            format!("{occasion} {}{ended}", one.result)
        })
        .collect();
    if told.is_empty() { String::new() } else { format!("Radon measured: {}", told.join(", ")) }
}

/// Which part of the review is shown, if not all.
fn part(review: &Review<'_>) -> String {
    let Some(Narrowed { asked, shown }) = &review.narrowed else { return String::new() };
    let or = |names: Vec<&str>| names.join(" or ");
    let words = |list: &[String]| or(list.iter().map(String::as_str).collect());
    let parts = [
        ("about", words(&asked.about)),
        ("at", words(&asked.places)),
        ("by", words(&asked.books)),
        ("due", or(asked.due.iter().map(|stage| stage.word()).collect())),
        ("asked with", or(asked.weights.iter().map(|weight| weight.word()).collect())),
    ];
    let said: Vec<String> = parts
        .iter()
        .filter(|(_, names)| !names.is_empty())
        .map(|(what, names)| format!("{what} {names}"))
        .collect();
    format!(
        "Below stands a part of this review: {}. It is {} of {}. What it comes to counts all of them.",
        said.join(", "),
        shown.len(),
        count(review.findings.len(), "finding", "findings")
    )
}

fn notes(review: &Review<'_>) -> Vec<String> {
    let mut notes = review.notes.clone();
    notes.extend(looked::note(&review.looked));
    if review.on.is_none() {
        notes.push(
            "No day is stated, so nothing that depends on a date is told. State the date of the job, or a day for the review."
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

fn sections(list: &[Finding], background: &Background<'_>, show: Show) -> Vec<Section> {
    let everything = show == Show::Everything;
    let mut taken = vec![false; list.len()];
    let mut sections = Vec::new();
    let mut section = |heading: &str, weighs: Weighs, lead: &str, wanted: &dyn Fn(&Finding) -> bool| {
        let mut cards: Vec<Card> = Vec::new();
        for (finding, taken) in list.iter().zip(&mut taken) {
            if !*taken && wanted(finding) {
                *taken = true;
                cards.push(card(finding, background));
            }
        }
        if !cards.is_empty() {
            let decides = DECIDE.contains(&heading);
            sections.push(Section {
                heading: heading.to_owned(),
                weighs,
                decides,
                lead: lead.to_owned(),
                cards,
            });
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
    section("Unmet", Weighs::Unmet, "", &|finding| finding.counts() && finding.comes() == Comes::Unmet);
    section("Not as asked; disputed whether it is a duty", Weighs::Open, DISPUTED, &|finding| {
        finding.counts() && finding.comes() == Comes::Disputed
    });
    if everything {
        section("Can't tell yet", Weighs::Open, "", &|finding| {
            finding.counts() && finding.comes() == Comes::Open
        });
    }
    section("Variance on file", Weighs::Silent, "Not as asked, and permitted.", &|finding| {
        finding.comes() == Comes::Varied
    });
    section("Advice not followed", Weighs::Open, "Advice fails nothing.", &|finding| {
        finding.counts() && finding.comes() == Comes::NotFollowed
    });
    let (aside, why) = set_aside(list);
    section(&format!("Not as asked in books {aside}"), Weighs::Silent, why, &|finding| {
        matches!(finding.comes(), Comes::Unmet | Comes::Disputed | Comes::NotFollowed)
    });
    if everything {
        section(&format!("Can't tell yet in books {aside}"), Weighs::Silent, why, &|finding| {
            finding.comes() == Comes::Open
        });
        section("Met", Weighs::Met, "", &|finding| finding.verdict() == Verdict::Met);
        section("Not applicable", Weighs::Silent, "", &|finding| finding.verdict() == Verdict::NotApplicable);
        section("Not yet due", Weighs::Silent, "", &|finding| finding.verdict() == Verdict::NotYetDue);
    }
    sections
}

/// What cannot be told yet, a line to each with what would settle it: duties, advice, books for information.
fn lists(list: &[Finding], background: &Background<'_>, show: Show) -> Vec<(String, Vec<String>)> {
    if show == Show::Everything {
        return Vec::new();
    }
    let mut lines: Vec<(u8, String)> = list
        .iter()
        .filter(|finding| finding.comes() == Comes::Open && finding.stops().is_none())
        .map(|finding| {
            let clause = finding.headline();
            let (class, aside) = match clause {
                Some(clause) if clause.standing == Standing::Withheld => (2, " (decides nothing)"),
                Some(_) if !finding.counts() => (2, " (for information)"),
                Some(clause) if clause.obligation != Obligation::Shall => (1, " (advice)"),
                _ => (0, ""),
            };
            let missing = clause.map(|clause| clause.missing.as_slice()).unwrap_or_default();
            let stated = missing.iter().filter(|one| one.reason != Reason::Reckoned);
            let needs: Vec<Rc<str>> = stated.map(|one| background.styles.worded.of(&one.entry)).collect();
            let needs = match (needs.is_empty(), missing.is_empty()) {
                (false, _) => format!(": needs {}", needs.join("; ")),
                (true, false) => ": a test or a reading has to settle it".to_owned(),
                (true, true) => String::new(),
            };
            (class, format!("{}{aside}{needs}.", of(finding, background)))
        })
        .collect();
    lines.sort_by_key(|(class, _)| *class);
    let lines: Vec<String> = lines.into_iter().map(|(_, line)| line).collect();
    if lines.is_empty() { Vec::new() } else { vec![("Can't tell yet".to_owned(), lines)] }
}

/// What was checked of a book; of one that decides nothing no more than in numbers, unless everything is wanted.
fn coverage(one: &Coverage, review: &Review<'_>, show: Show) -> super::told::Coverage {
    let in_full = one.standing.counts() || show == Show::Everything;
    let book = review.used.iter().find(|used| used.book.name == one.book).map(|used| used.book);
    let clauses = |list: &[(String, String)]| -> Vec<String> {
        if !in_full && !list.is_empty() {
            return vec![format!(
                "{}, listed where everything is shown",
                count(list.len(), "clause", "clauses")
            )];
        }
        list.iter().map(|(section, what)| said_to_the_eye(section, what, review)).collect()
    };
    let came: Vec<String> = one.came.iter().map(|(comes, n)| phrases::counted(*n, *comes)).collect();
    let asked: usize = one.came.values().sum();
    let title = |name: &String| {
        let rule = book.and_then(|book| book.rules.iter().find(|rule| rule.name == *name));
        format!("\"{}\"", rule.map_or(name, |rule| &rule.title))
    };
    let on_memory = if one.met_on_trust.is_empty() {
        String::new()
    } else if !in_full {
        format!("{} met on the word of a memory or of a similar standard", one.met_on_trust.len())
    } else {
        format!(
            "{} met on the word of a memory or of a similar standard: {}",
            one.met_on_trust.len(),
            one.met_on_trust.iter().map(title).collect::<Vec<_>>().join(", ")
        )
    };
    super::told::Coverage {
        book: book.map_or_else(
            || one.book.clone(),
            |book| format!("{}: {}, {}", book.name, book.title, book.edition),
        ),
        in_law: book.map_or_else(String::new, |book| match in_full {
            true => book.legal_nature.trim().to_owned(),
            false => phrases::in_few_words(&book.legal_nature),
        }),
        checked: format!(
            "{}, asked {}: {}",
            count(one.requirements, "requirement", "requirements"),
            if asked == 1 { "once".to_owned() } else { format!("{asked} times") },
            if came.is_empty() { "no verdict".to_owned() } else { came.join(", ") }
        ),
        to_the_eye: book.map(|book| clauses(&book.left_to_the_eye)).unwrap_or_default(),
        not_held: book.map(|book| clauses(&book.not_held)).unwrap_or_default(),
        amended: book.map(amended).unwrap_or_default(),
        on_memory,
    }
}

/// A clause by its section, with how it was found where somebody looked.
fn said_to_the_eye(section: &str, what: &str, review: &Review<'_>) -> String {
    let seen = review.looked.iter().find(|one| one.of == LookedAt::Eye(what.to_owned()));
    let seen =
        seen.map(|one| format!(" ({} when it was looked at)", looked::saw(one.saw))).unwrap_or_default();
    if section.is_empty() { format!("{what}{seen}") } else { format!("{section}: {what}{seen}") }
}

/// What a book changes in the requirements that it takes over, and which of them it takes out of force.
fn amended(book: &CheckedBook) -> Vec<String> {
    let changed = book.rules.iter().filter_map(|rule| {
        decisions(rule).map(|decisions| format!("{} (\"{}\"), changed: {decisions}", rule.title, rule.name))
    });
    let withdrawn = book.withdrawn.iter().map(|one| {
        format!("{} (\"{}\"), no longer asked: {}", one.title, one.rule, decision(&one.amendment))
    });
    changed.chain(withdrawn).collect()
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

fn last(review: &Review<'_>) -> String {
    let due = |counts: bool| {
        let list = review.findings.iter();
        list.filter(|finding| finding.counts() == counts && finding.verdict() == Verdict::NotYetDue).count()
    };
    let aside = match due(false) {
        0 => String::new(),
        more => format!(" (and {more} {})", set_aside(&review.findings).0),
    };
    let on_file = variances::last(&review.variances);
    format!("{on_file}{}{aside} not yet due at this stage.", count(due(true), "requirement", "requirements"))
}

impl super::finding::Names for Review<'_> {
    fn name(&self, thing: crate::base::vocabulary::Thing) -> String {
        self.names.get(&thing).cloned().unwrap_or_default()
    }
}
