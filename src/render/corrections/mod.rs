//! Corrections in words: a page, and a report for machines.

pub mod json;
pub mod page;
mod json_places;
mod places;

use crate::base::number::Number;
use crate::base::number::quantity::{Style, show_worked_out};
use crate::base::text::Source;
use crate::base::value::{EntryPath, Missing, Reason};
use crate::base::vocabulary::FactType;
use crate::correct::choose::Conflict;
use crate::correct::cost::{Cost, Figure, is_work};
use crate::correct::{Corrections, Mend, Step, WhyNot};
use crate::design::said::in_words;
use crate::findings::Finding;
use crate::render::phrases::{count, reason, spoken};
use crate::render::takeoff::quantity;
use crate::render::tell::finding::{Background, thing, title};
use crate::render::tell::numbers::is_metric;
use crate::review::books;
use crate::takeoff::Line;
use crate::yaml::draft::Draft;
use crate::yaml::edits::{Edit, Edits};

/// What a name of a blank's remark begins with.
const MEASURE: &str = "measure";

/// What to measure at a blank, in a few words on one line.
#[must_use]
pub fn remark(entry: &str) -> String {
    let words = in_words(entry).replace(['\n', '\r', '#'], " ");
    format!("{MEASURE}: {words}")
}

/// What is left to be said once a correction is made.
pub(super) fn then_say(missing: &Missing) -> String {
    match &missing.reason {
        Reason::LookedOnly(far) => {
            format!("look again about the new place: what is signed in {} goes {far} there", missing.entry)
        }
        _ => format!("{} ({})", in_words(missing.entry.as_str()), missing.entry),
    }
}

/// Why no change of the file is offered.
#[must_use]
pub fn why(why: &WhyNot, finding: &dyn Fn(&str) -> String) -> String {
    match why {
        WhyNot::NoChange => "how this is done is for you to say; no single entry stands for it".to_owned(),
        WhyNot::NotKnown(missing) => {
            let entries: Vec<String> =
                missing.iter().map(|one| format!("{} ({})", one.entry, reason(&one.reason))).collect();
            match entries.as_slice() {
                [] => "the value it would need is not known exactly".to_owned(),
                entries => format!("the value it would need is not known exactly: {}", entries.join("; ")),
            }
        }
        WhyNot::Found(entry) => {
            format!(
                "the entry {entry} says what was found there, and is only changed by finding something else"
            )
        }
        WhyNot::Built(entry) => {
            format!(
                "the entry {entry} describes what is installed already: do the work, then measure it again"
            )
        }
        WhyNot::Measured(entry) => {
            format!("the entry {entry} holds a measured value, which no calculation replaces")
        }
        WhyNot::NotThere(entry) => format!("the design has no {entry}"),
        WhyNot::AlreadyThere(entry) => format!("the entry {entry} is in the file already"),
        WhyNot::Several(before) => {
            format!("several entries under {before} could be meant, and which one is for you to say")
        }
        WhyNot::NoPlace(None) => "no place that was tried for the discharge meets it".to_owned(),
        WhyNot::NoPlace(Some(stuck)) => places::why_stuck(stuck),
        WhyNot::NoHandle => "no entry is known that moves it there as the file is written".to_owned(),
        WhyNot::CannotBeWritten(entry) => {
            format!("the entry {entry} cannot be changed as the file is written; change it by hand")
        }
        WhyNot::StillUnmet(rules) => {
            format!("tried, and it is still not as asked by {}", rules.join(", "))
        }
        WhyNot::Worse(turned) => {
            let mut names: Vec<String> = turned.iter().map(|(identity, _)| finding(identity)).collect();
            names.dedup();
            let more = names.len().saturating_sub(3);
            names.truncate(3);
            let more = if more > 0 { format!(", and {more} more") } else { String::new() };
            format!(
                "tried, and something else would no longer be as asked, or no longer be known: {}{more}",
                names.join("; ")
            )
        }
        WhyNot::LookAnew(entries) => {
            let entries: Vec<&str> = entries.iter().map(EntryPath::as_str).collect();
            format!(
                "what was looked for was looked for about where it stands now. Look again about the new place, and write down how far: {}",
                entries.join("; ")
            )
        }
        WhyNot::NewProblem(found) => {
            format!("tried, and the file could no longer be taken as written: {found}")
        }
    }
}

/// Why corrections cannot be made together.
#[must_use]
pub fn conflict(conflict: &Conflict, finding: &dyn Fn(&str) -> String) -> String {
    match conflict {
        Conflict::OneEntry(one, other, entry) => {
            format!("{one} and {other} want different things of {entry}. Choose one of them.")
        }
        Conflict::OneFinding(one, other) => {
            format!("{one} and {other} mend the same thing in different ways. Choose one of them.")
        }
        Conflict::Together(not) => {
            format!("Each holds alone, and together they do not: {}.", why(not, finding))
        }
    }
}

/// What a finding is called: what is asked for, and of what.
#[must_use]
pub fn called(finding: &Finding, background: &Background<'_>) -> String {
    let thing = thing(finding, background.vocabulary);
    let title = title(finding, background);
    if thing.is_empty() { title } else { format!("{title} ({thing})") }
}

/// What the finding with an identity is called.
#[must_use]
pub fn named(all: &Corrections<'_>, identity: &str, background: &Background<'_>) -> String {
    let found = all.review.findings.iter().find(|finding| finding.identity == identity);
    found.map_or_else(|| spoken(identity), |finding| called(finding, background))
}

/// The finding that something mends.
#[must_use]
pub fn finding<'c>(all: &'c Corrections<'_>, mend: &Mend) -> Option<&'c Finding> {
    all.review.findings.get(mend.finding)
}

/// A step in words: the entry, what it was and what it becomes.
#[must_use]
pub fn step(text: &Draft, step: &Step) -> (String, String, String) {
    let there = step.path().resolve(text.tree()).and_then(|(node, _)| text.tree().node(node));
    let was = there.and_then(|node| text.text().get(node.span.range())).unwrap_or("");
    let was = was.split_whitespace().collect::<Vec<_>>().join(" ");
    let entry = step.path().to_string();
    match step {
        Step::Set(_, value) | Step::Add(_, value) => (entry, was, value.clone()),
        Step::Remove(_) => (entry, was, String::new()),
    }
}

/// Lines that change.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Changed {
    /// The first line, counted from one.
    pub line: u32,
    /// What stood there.
    pub before: Vec<String>,
    /// What stands there then.
    pub after: Vec<String>,
}

/// The lines that edits change.
#[must_use]
pub fn changed(source: &Source, edits: &Edits) -> Vec<Changed> {
    let text = source.text();
    let start_of =
        |byte: usize| text.get(..byte).and_then(|before| before.rfind('\n')).map_or(0, |at| at + 1);
    let end_of =
        |byte: usize| byte + text.get(byte..).map_or(0, |rest| rest.find('\n').unwrap_or(rest.len()));
    let mut groups: Vec<(usize, usize, Vec<Edit>)> = Vec::new();
    for edit in edits.as_slice() {
        let range = edit.span.range();
        let (start, end) = (start_of(range.start), end_of(range.end));
        match groups.last_mut() {
            Some((_, last, group)) if start <= *last => {
                *last = end.max(*last);
                group.push(edit.clone());
            }
            _ => groups.push((start, end, vec![edit.clone()])),
        }
    }
    let mut changed = Vec::new();
    for (start, end, group) in groups {
        let mut after = text.get(start..end).unwrap_or("").to_owned();
        for edit in group.iter().rev() {
            let range = edit.span.range();
            let within = range.start - start..range.end - start;
            if after.get(within.clone()).is_some() {
                after.replace_range(within, &edit.text);
            }
        }
        let lines = |text: &str| text.lines().map(str::to_owned).collect::<Vec<_>>();
        let (mut before, mut after) = (lines(text.get(start..end).unwrap_or("")), lines(&after));
        let mut line = source.line(u32::try_from(start).unwrap_or(u32::MAX));
        while !before.is_empty() && before.first() == after.first() {
            before.remove(0);
            after.remove(0);
            line += 1;
        }
        while !before.is_empty() && before.last() == after.last() {
            before.pop();
            after.pop();
        }
        changed.push(Changed { line, before, after });
    }
    changed
}

/// A number of the worksheet that moves by less than this share of itself is told in the count of such numbers alone.
const WORTH_TELLING: f64 = 0.01;

/// So many lines of the list for the truck are told even where they are little work.
const FEW: usize = 2;

/// What a correction costs, a line for each part of it that is work, and for each number that differs by enough to matter.
#[must_use]
pub fn costs(all: &Corrections<'_>, cost: &Cost) -> Vec<String> {
    let (work, others): (Vec<_>, Vec<_>) = cost.lines.iter().partition(|(line, ..)| is_work(line));
    let mut said: Vec<String> = work.into_iter().map(line_moved).collect();
    if others.len() <= FEW {
        said.extend(others.into_iter().map(line_moved));
    } else {
        said.push(format!("{} more lines of the list for the truck", others.len()));
    }
    let metric = is_metric(all.text.split_whitespace());
    let (moved, barely): (Vec<_>, Vec<_>) = cost.figures.iter().partition(|figure| matters(figure));
    said.extend(moved.into_iter().filter_map(|figure| figure_moved(figure, metric)));
    if !barely.is_empty() {
        let n = count(barely.len(), "other number", "other numbers");
        said.push(format!("{n} of the worksheet, by less than a hundredth"));
    }
    said
}

/// Whether either end of a number moves by enough to be told, or it became known or unknown.
fn matters(figure: &Figure) -> bool {
    let (Some(before), Some(after)) = (&figure.before, &figure.after) else { return true };
    let ((low, high), (new_low, new_high)) = (before.to_f64_bounds(), after.to_f64_bounds());
    let moved = |was: f64, is: f64| (was - is).abs() > WORTH_TELLING * was.abs().max(is.abs());
    moved(low, new_low) || moved(high, new_high)
}

fn line_moved((line, before, after): &(Line, Option<Number>, Option<Number>)) -> String {
    let shown = |number: &Option<Number>| {
        number
            .as_ref()
            .map_or("none".to_owned(), |number| quantity(&Line { quantity: number.clone(), ..line.clone() }))
    };
    let what = if line.size.is_empty() { line.part.clone() } else { format!("{}, {}", line.part, line.size) };
    format!("{what}: {}, was {}", shown(after), shown(before))
}

fn figure_moved(figure: &Figure, metric: bool) -> Option<String> {
    let shape = books::vocabulary().fact(figure.fact)?;
    let FactType::Number(dimension) = shape.of_type else { return None };
    let style = if metric { Style::metric_for(dimension) } else { Style::default_for(dimension) };
    let shown = |number: &Option<Number>| {
        number.as_ref().map_or("not known".to_owned(), |number| show_worked_out(number, dimension, &style))
    };
    let (before, after) = (shown(&figure.before), shown(&figure.after));
    (before != after).then(|| format!("{} of {}: {after}, was {before}", shape.label(), spoken(&figure.name)))
}
