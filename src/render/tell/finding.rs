//! One finding in words: thing, place, found and needed with units, reason, clauses, interpretation, next step.

use std::collections::{BTreeSet, HashSet};

use super::decided::Teller;
use super::numbers::{NOT_KNOWN, Numbers, Styles};
use super::spot;
use super::told::{Card, Weighs};
use super::variances;
use crate::base::text::{Sources, Span};
use crate::base::value::{Answer, Reason, Stated, Value};
use crate::base::vocabulary::{FactId, KindId, Thing, Vocabulary};
use crate::findings::finding::{Clause, Comes, Finding, Standing, Subject, is_open};
use crate::findings::gather::Used;
use crate::findings::variance::OnFile;
use crate::judge::message;
use crate::judge::trace::{Compared, Trace};
use crate::judge::verdict::{About, Decisive, Role, Verdict};
use crate::render::amended;
use crate::render::phrases;
use crate::render::terminal::excerpt::Mark;
use crate::render::terminal::sheet::{capital, sentence};
use crate::review::DESIGN;
use crate::rulebook::checked::{Basis, CheckedRule, Obligation};
use crate::rulebook::expr::typed::Node;

/// What a finding is told from.
#[derive(Clone, Copy, Debug)]
pub struct Background<'a> {
    /// The texts.
    pub sources: &'a Sources,
    /// The books that were used.
    pub used: &'a [Used<'a>],
    /// How quantities are written in them.
    pub styles: &'a Styles,
    /// What a rule can speak of.
    pub vocabulary: &'a Vocabulary,
    /// The variances of the design.
    pub on_file: &'a [OnFile],
    /// The names of things as the file has them.
    pub name_of: &'a dyn Names,
}

/// What things are called in the file.
pub trait Names: std::fmt::Debug {
    /// What the thing is called in the file.
    fn name(&self, thing: Thing) -> String;
}

impl<'a> Background<'a> {
    /// The rule of a clause.
    #[must_use]
    pub fn rule(&self, clause: &Clause) -> Option<&'a CheckedRule> {
        self.used.get(clause.book)?.book.rules.get(clause.rule)
    }
}

/// How a finding weighs on the page.
#[must_use]
pub fn weighs(finding: &Finding) -> Weighs {
    if finding.stops().is_some() {
        return Weighs::Stops;
    }
    match finding.comes() {
        Comes::Unmet => Weighs::Unmet,
        Comes::Disputed | Comes::Open | Comes::NotFollowed => Weighs::Open,
        Comes::Met => Weighs::Met,
        Comes::NotApplicable | Comes::NotYetDue | Comes::Varied => Weighs::Silent,
    }
}

/// What the finding is about, as one says it; empty for the whole.
#[must_use]
pub fn thing(finding: &Finding, vocabulary: &Vocabulary) -> String {
    thing_of(&finding.of, vocabulary)
}

/// The same for what any finding is about.
#[must_use]
pub fn thing_of(of: &Subject, vocabulary: &Vocabulary) -> String {
    let of_name = |name: &String| vocabulary.kinds.iter().position(|kind| kind.name == *name);
    let kind = |name: &String| of_name(name).and_then(|at| u16::try_from(at).ok()).map(KindId);
    match of {
        Subject::Whole => String::new(),
        // What there is only one of is called what it is.
        Subject::Thing { kind, name } if kind == name => String::new(),
        Subject::Thing { kind: of, name } => match kind(of) {
            Some(kind) => phrases::named(vocabulary, kind, name),
            None => phrases::spoken(name),
        },
        Subject::List { kind: of } => match kind(of).and_then(|kind| vocabulary.kind(kind)) {
            Some(kind) => format!("every {}", kind.label()),
            None => format!("every {}", phrases::spoken(of)),
        },
    }
}

/// What is asked for: the title of the requirement that gives the headline.
#[must_use]
pub fn title(finding: &Finding, background: &Background<'_>) -> String {
    finding
        .headline()
        .and_then(|clause| background.rule(clause))
        .map_or_else(|| phrases::spoken(&finding.subject), |rule| rule.title.clone())
}

/// The finding in words.
#[must_use]
pub fn card(finding: &Finding, background: &Background<'_>) -> Card {
    let book = |clause: &Clause| background.used.get(clause.book).map(|used| used.book.name.clone());
    let mut card = Card {
        identity: finding.identity.clone(),
        weighs: weighs(finding),
        verdict: verdict(finding),
        // It names what is asked for, so it stands in quotation marks: it is not the fault.
        title: format!("\"{}\"", title(finding, background)),
        thing: thing(finding, background.vocabulary),
        place: String::new(),
        sentence: String::new(),
        rows: Vec::new(),
        marks: Vec::new(),
        books: finding.clauses.iter().filter_map(book).collect(),
    };
    let Some(clause) = finding.headline() else { return card };
    let Some(rule) = background.rule(clause) else { return card };
    if let Some(trace) = &clause.trace {
        told_by(trace, clause, rule, background, &mut card);
    }
    card.sentence = sentence_of(clause, rule, background);
    card.place = place(finding, &card, background.sources);
    if clause.shown() == Verdict::Undetermined && !clause.missing.is_empty() {
        for (at, missing) in clause.missing.iter().enumerate() {
            let label = if at == 0 { "to settle" } else { "and" };
            card.rows.push((label.into(), spot::to_settle(missing, background.sources)));
        }
    }
    for on_file in finding.clauses.iter().filter_map(|one| background.on_file.get(one.variance?)) {
        card.rows.extend(variances::rows(on_file));
    }
    card.rows.push(("why".into(), sentence(&rule.because)));
    for (at, one) in finding.clauses.iter().enumerate() {
        let label = if at == 0 { "clause" } else { "and" };
        card.rows.push((label.into(), citation(one, finding.comes(), background)));
    }
    if is_open(clause.shown()) {
        card.rows.extend(readings(finding, background));
        if clause.verdict == Verdict::Unmet {
            let lacking = clause.trace.as_ref().and_then(|trace| Numbers::of(trace, background).lacking());
            for (at, advice) in rule.corrections.iter().enumerate() {
                let advice = sentence(&capital(&advice.title));
                card.rows.push(match (at, &lacking) {
                    (0, Some(lacking)) => ("to mend".into(), format!("{advice} {lacking}")),
                    (0, None) => ("to mend".into(), advice),
                    _ => ("or".into(), advice),
                });
            }
        }
    }
    card
}

/// What a clause says, one or two sentences; empty where its verdict says it all.
#[must_use]
pub fn sentence_of(clause: &Clause, rule: &CheckedRule, background: &Background<'_>) -> String {
    let told = || match &clause.trace {
        Some(trace) => {
            let mut numbers = Numbers::of(trace, background);
            capital(&message::text(&trace.message, &mut numbers))
        }
        None => String::new(),
    };
    match clause.verdict {
        Verdict::Unmet => told(),
        Verdict::Undetermined => match (clause.about, clause.missing.as_slice()) {
            (About::List, _) => of_the_rest(clause, rule),
            (_, [one]) => match spot::not_known(one) {
                Some(what) => format!("Not known: {what}."),
                None => NOT_SETTLED.to_owned(),
            },
            _ => NOT_SETTLED.to_owned(),
        },
        Verdict::NotYetDue => format!("It can be asked {}.", phrases::due(rule.due)),
        Verdict::Met | Verdict::NotApplicable | Verdict::Varied => String::new(),
    }
}

/// Why a list is not complete: nobody said so, or nobody looked far enough.
fn of_the_rest(clause: &Clause, rule: &CheckedRule) -> String {
    let looked = clause.missing.iter().find_map(|missing| match &missing.reason {
        Reason::LookedOnly(far) => Some(far),
        _ => None,
    });
    let Some(looked) = looked else {
        return "Nobody has said that the list is complete, so there may be more.".to_owned();
    };
    let asked = clause.trace.as_ref().and_then(|trace| distance_asked(trace, rule));
    let asked = asked.map_or(String::new(), |asked| format!(" Look at least as far as {asked}."));
    format!("These were looked for only so far: {looked}. There may be more beyond.{asked}")
}

/// The limit that a rule sets to a distance that somebody looked.
fn distance_asked(trace: &Trace, rule: &CheckedRule) -> Option<String> {
    let listed = trace.decisive.iter().filter_map(|one| match &one.value {
        Answer::Known { value: Value::Things(listed), .. } => Some(listed.others.iter()),
        _ => None,
    });
    let distances: Vec<FactId> = listed.flatten().map(|known| known.fact).collect();
    let mut asked = None;
    rule.requires.walk(&mut |part| {
        if let Node::Compare(_, left, right) = &part.node
            && let (Node::Fact(_, fact), Node::Limit(limit)) = (&left.node, &right.node)
            && distances.contains(fact)
        {
            asked = asked.take().or_else(|| rule.limit(*limit).map(|limit| limit.value.for_reading()));
        }
    });
    asked
}

/// What is said of a finding that cannot be told, where no better word is at hand.
const NOT_SETTLED: &str = "What is stated does not settle it.";

/// What a finding comes to, with its weight where that is less than a duty's.
#[must_use]
pub fn verdict(finding: &Finding) -> String {
    let said = phrases::comes(finding.comes());
    match finding.headline().map(|clause| clause.obligation) {
        Some(Obligation::May) if finding.comes() == Comes::NotFollowed => "an offer, not taken".to_owned(),
        Some(Obligation::Should) if finding.comes() == Comes::Open => format!("{said}, advice"),
        Some(Obligation::May) if finding.comes() == Comes::Open => format!("{said}, an offer"),
        _ => said.to_owned(),
    }
}

/// How the books that leave something open are read; each with its name where there are several.
fn readings(finding: &Finding, background: &Background<'_>) -> Vec<(String, String)> {
    let mut said: Vec<(&str, &str)> = Vec::new();
    for one in finding.clauses.iter().filter(|one| is_open(one.shown())) {
        let reading = background.rule(one).map_or("", |rule| rule.interpretation.trim());
        let book = background.used.get(one.book).map_or("", |used| used.book.name.as_str());
        if !reading.is_empty() && !said.iter().any(|(_, own)| *own == reading) {
            said.push((book, reading));
        }
    }
    let several = said.len() > 1;
    said.into_iter()
        .map(|(book, reading)| {
            let text = if several { format!("{book}: {reading}") } else { reading.to_owned() };
            ("read as".to_owned(), text)
        })
        .collect()
}

/// The file and line of a finding: that of its thing, else of the first mark.
fn place(finding: &Finding, card: &Card, sources: &Sources) -> String {
    let Some(at) = finding.at.or_else(|| card.marks.first().map(|mark| mark.at)) else {
        return String::new();
    };
    match sources.get(at.source) {
        // The page is about one design, which its head names.
        Some(source) if at.source == DESIGN => format!("line {}", source.line_column(at.start).line),
        Some(source) => format!("{}, line {}", source.name(), source.line_column(at.start).line),
        None => String::new(),
    }
}

/// How what is needed is joined to what is said to be needed before it: as another way to the same end, as more of one of
/// several ways, or as a demand of its own.
fn needed(before: Option<&Compared>, here: &Compared) -> &'static str {
    let Some(before) = before else { return "needed" };
    let shared = before.under.iter().zip(&here.under).take_while(|(a, b)| a == b).count();
    let parted = before.under.get(shared).zip(here.under.get(shared));
    if parted.is_some_and(|(branch, _)| branch.any) {
        "or needed"
    } else if here.under.iter().take(shared).any(|branch| branch.any) {
        "and needed"
    } else {
        "needed"
    }
}

/// Fills in what decided: rows and marks.
fn told_by(trace: &Trace, clause: &Clause, rule: &CheckedRule, background: &Background<'_>, card: &mut Card) {
    let numbers = Numbers::of(trace, background);
    let about = match clause.about {
        About::Thing(thing) => Some(thing),
        About::Whole | About::List => None,
    };
    let teller = Teller { background, numbers: &numbers, about, rule };
    let mut said: BTreeSet<(String, String)> = BTreeSet::new();
    let mut before: Option<&Compared> = None;
    for compared in &trace.compared {
        let told = teller.compared(compared);
        // The same figure held against the same limit once more, by way of another fact, says nothing new.
        if !said.insert((told.value.clone(), told.needed.clone())) {
            continue;
        }
        // Where neither side is known there is nothing to hold against anything.
        if told.value.contains(NOT_KNOWN) && told.needed.contains(NOT_KNOWN) {
            continue;
        }
        let found = format!("{}: {}", told.label, told.value);
        if compared.role == Role::Requires {
            card.rows.push(("found".into(), found));
            card.rows.push((needed(before, compared).into(), told.needed));
            before = Some(compared);
        } else {
            // What makes it be asked is no demand.
            card.rows.push(("asked as".into(), format!("{found}; asked where it is {}", told.needed)));
        }
    }
    let in_numbers = |one: &Decisive| {
        let of = Some((one.fact, one.thing));
        trace.compared.iter().any(|compared| compared.left.fact == of || compared.right.fact == of)
    };
    for one in &trace.decisive {
        if let Some(words) = teller.decisive(one)
            && !in_numbers(one)
            && one.role != Role::List
        {
            let label = match one.role {
                Role::Requires => "found",
                Role::Applies | Role::Covers | Role::List => "asked as",
            };
            let left_out = one.role == Role::Applies && is_open(clause.shown());
            if !left_out && !as_a_matter_of_course(one, clause) {
                card.rows.push((label.into(), words));
            }
        }
    }
    for assumed in &trace.assumed {
        card.rows.push(("assumed".into(), assumed.clone()));
    }
    let marked = |one: &&Decisive| {
        (one.role == Role::Requires || !is_open(clause.shown())) && !as_a_matter_of_course(one, clause)
    };
    for one in trace.decisive.iter().filter(marked) {
        // An entry that stands for another thing is no mark of there being none.
        let none = matches!(&one.value, Answer::Known { value: Value::Things(things), .. } if things.items.is_empty());
        let words = teller.decisive(one).filter(|_| !none);
        let entries = telling(&one.origin.stated);
        for stated in &entries {
            let words = match (&words, entries.as_slice()) {
                (Some(words), [_]) => words.clone(),
                _ => background.styles.worded.of(&stated.entry).to_string(),
            };
            card.marks.push(Mark { at: stated.at, words });
        }
    }
    for missing in &clause.missing {
        // What is not in the file has no place there: the form says where to add it.
        if let Some(at) = missing.at
            && spot::spot(missing, background.sources).is_none()
            && !covers_most(at, background.sources)
        {
            let entry = background.styles.worded.of(&missing.entry);
            let words = format!("{entry} ({})", phrases::reason(&missing.reason));
            card.marks.push(Mark { at, words });
        }
    }
}

/// Whether it only says that the book covers the design, which goes without saying unless that decided.
fn as_a_matter_of_course(one: &Decisive, clause: &Clause) -> bool {
    one.role == Role::Covers && clause.shown() != Verdict::NotApplicable
}

/// Of entries that lie in each other, those that tell more: a short one with all that is in it, else what is in it.
fn telling(stated: &[Stated]) -> Vec<&Stated> {
    const SHORT: usize = 40;
    let is_short = |one: &&Stated| one.at.len() <= SHORT;
    let short: HashSet<&str> = stated.iter().filter(is_short).map(|one| one.entry.as_str()).collect();
    let hold_more: HashSet<&str> = stated.iter().flat_map(|one| around(one.entry.as_str())).collect();
    let kept = |one: &&Stated| {
        let entry = one.entry.as_str();
        !(around(entry).any(|outer| short.contains(outer)) || (!is_short(one) && hold_more.contains(entry)))
    };
    stated.iter().filter(kept).collect()
}

/// The paths of all that an entry lies in.
fn around(path: &str) -> impl Iterator<Item = &str> {
    path.match_indices(['.', '[']).filter_map(|(at, _)| path.get(..at))
}

/// Whether a place is so large that a mark on its first line would say nothing: the whole file, or nearly.
fn covers_most(at: Span, sources: &Sources) -> bool {
    sources.get(at.source).is_some_and(|source| at.len() * 2 > source.text().len())
}

/// A clause in one sentence: the book and the requirement by their names, document and section, verb, how sure, and what
/// it comes to where that differs from the headline. What the book is, the head of the page says.
#[must_use]
pub fn citation(clause: &Clause, headline: Comes, background: &Background<'_>) -> String {
    match (background.used.get(clause.book), background.rule(clause)) {
        (Some(used), Some(rule)) => {
            format!("{}/{}: {}", used.book.name, rule.name, cited(clause, headline, background))
        }
        _ => String::new(),
    }
}

/// The same without the names of the book and the requirement.
#[must_use]
pub fn cited(clause: &Clause, headline: Comes, background: &Background<'_>) -> String {
    let (Some(used), Some(rule)) = (background.used.get(clause.book), background.rule(clause)) else {
        return String::new();
    };
    let document = used.book.sources.iter().find(|source| source.name == rule.source.document);
    let title = document.map_or(rule.source.document.as_str(), |source| source.title.as_str());
    let title = if title == used.book.title || clause.basis == Basis::CommonPractice { "" } else { title };
    let section = match rule.source.section.as_str() {
        "" => String::new(),
        section if section.starts_with(char::is_alphabetic) => section.to_owned(),
        section => format!("section {section}"),
    };
    let mut parts: Vec<String> =
        [title.to_owned(), section].into_iter().filter(|part| !part.is_empty()).collect();
    if clause.disputed {
        parts.push(format!("{}, disputed", clause.obligation.word()));
    } else {
        parts.push(clause.obligation.word().to_owned());
    }
    let basis = phrases::basis_short(clause.basis);
    match amended::decisions(rule) {
        // How well a text is known says nothing of what was decided afterwards.
        Some(by) => parts.push(format!("as amended by {by}; before the amendment: {basis}")),
        None => parts.push(basis.to_owned()),
    }
    if !clause.standing.counts() {
        parts.push(standing(clause.standing).to_owned());
    }
    if clause.comes() != headline {
        parts.push(format!("by this clause {}", phrases::comes(clause.comes())));
    }
    parts.join("; ")
}

/// What a book is for a design, in words.
#[must_use]
pub fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Always => "always used",
        Standing::Adopted => "adopted",
        Standing::ByContract => "by contract",
        Standing::Withheld => "decides nothing",
        Standing::ForInformation => "for information",
    }
}
