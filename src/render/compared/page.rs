//! The page of a comparison: what turned, and because of what; then what moved, entry by entry and rule by rule.

use super::{SideName, Sides, because, books, comes, headline, turned};
use crate::base::vocabulary::{FactShape, KindId, Vocabulary};
use crate::findings::compare::account::Account;
use crate::findings::compare::{Comparison, FindingChange, How, NumberChange, Turn, Why};
use crate::findings::finding::Comes;
use crate::render::phrases::{self, count, day, spoken};
use crate::render::tell::numbers::with_sides;
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone, capital};
use crate::review::books::vocabulary;

/// No more lines than this stand in one list.
const MOST_LINES: usize = 400;

/// The whole page.
#[must_use]
pub fn page(comparison: &Comparison, old: &Account, new: &Account, sides: &Sides, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, "What changed from one version to the next", Tone::Heading);
    sheet.row("older", &side(&sides.old));
    sheet.row("newer", &side(&sides.new));
    sheet.blank();
    sheet.paragraph(0, &counts(comparison), Tone::Heading);
    sheet.paragraph(0, &because::moved(comparison, old, new), Tone::Ink);
    if tried(comparison) {
        sheet.paragraph(0, TRIED, Tone::Ink);
    }
    if let Some(said) = no_difference(comparison) {
        sheet.paragraph(0, said, Tone::Ink);
    }
    for (turn, heading, tone) in [
        (Turn::New, "New", Tone::Unmet),
        (Turn::OpenOtherwise, "Still open, in another way", Tone::Open),
        (Turn::Settled, "Settled", Tone::Met),
    ] {
        let found: Vec<&FindingChange> = comparison.of(turn).collect();
        if !found.is_empty() {
            sheet.rule(heading);
            found.iter().take(MOST_LINES).for_each(|one| card(&mut sheet, one, tone));
        }
    }
    still_open(&mut sheet, comparison);
    otherwise(&mut sheet, comparison);
    numbers_only(&mut sheet, comparison);
    design(&mut sheet, comparison);
    if !comparison.books.is_empty() {
        sheet.rule("The books");
        comparison.books.iter().for_each(|book| books::book(&mut sheet, book));
    }
    variances(&mut sheet, comparison);
    sheet.blank();
    sheet.paragraph(0, NOT, Tone::Quiet);
    sheet.paragraph(0, &last(comparison), Tone::Heading);
    sheet.finish()
}

const NOT: &str = "This page says what changed, not whether the newer version will do: review says that. It is no \
permit, no approval and no radon measurement.";

const TRIED: &str = "Each cause that is named below was tried: with it alone moved, and all else left as it was, the \
verdict turns. Where it is otherwise, that is said.";

/// Whether a cause was told from others by judging anew.
fn tried(comparison: &Comparison) -> bool {
    comparison.findings.iter().flat_map(|one| &one.clauses).any(|one| one.why.how == How::Alone)
}

fn side(of: &SideName) -> String {
    let what = if of.is_review { "a review made before" } else { "reviewed now" };
    let on = of.day.as_deref().map_or_else(|| "no day".to_owned(), day);
    let notes = if of.notes.is_empty() { String::new() } else { format!(" with {}", of.notes.join(", ")) };
    let unread = if of.outcome == "could not read" { "; something in it could not be read" } else { "" };
    format!("{}{notes}, {what}, stage: {}, for {on}{unread}", of.file, of.stage)
}

fn counts(comparison: &Comparison) -> String {
    let n = |turn: Turn| comparison.of(turn).count();
    let open = n(Turn::StillOpen) + n(Turn::OpenOtherwise);
    let mut said = format!("{} new, {} settled, {} still open", n(Turn::New), n(Turn::Settled), open);
    let rest = n(Turn::Otherwise);
    if rest > 0 {
        said.push_str(&format!(", {rest} changed otherwise"));
    }
    let as_before = comparison.as_before + n(Turn::OtherNumbers);
    format!("{said}, {as_before} as before.")
}

/// What is said where nothing that counts differs.
fn no_difference(comparison: &Comparison) -> Option<&'static str> {
    let turned = comparison.findings.iter().any(|one| !one.clauses.is_empty());
    let stated = &comparison.stated;
    match (comparison.moved.is_empty(), turned) {
        (true, false) if !stated.renamed.is_empty() => {
            Some("Things go by other names; all else that is stated is the same.")
        }
        (true, false) if stated.bytes_moved => Some(
            "The files differ in layout, comments, order or spelling alone. All that is stated is the same.",
        ),
        (true, false) => Some("The files are the same to the last byte."),
        (false, false) => Some("No verdict turned."),
        _ => None,
    }
}

/// One finding that turned.
fn card(sheet: &mut Sheet<'_>, one: &FindingChange, tone: Tone) {
    let Some(finding) = one.finding() else { return };
    sheet.blank();
    sheet.paragraph(0, &format!("{} ({})", headline(finding), turned(one.came(), one.comes())), tone);
    let said = one.is.as_ref().and_then(|is| is.clauses.first()).map_or("", |clause| clause.said.as_str());
    if !said.is_empty() {
        sheet.paragraph(2, &capital(said), Tone::Ink);
    }
    if let Some(was) = &one.identity_was {
        sheet.row("before", &format!("known as {was}"));
    }
    if !finding.stops.is_empty() {
        let stops = if finding.stops == "drilling" {
            "no hole is drilled before it is met"
        } else {
            "the fan is not left running before it is met"
        };
        sheet.toned_row("waits", stops, Tone::Stop);
    }
    numbers(sheet, one);
    let missing = one.is.as_ref().filter(|is| is.comes == Comes::Open).and_then(|is| is.clauses.first());
    if let Some(clause) = missing {
        sheet.row("to settle", &clause.missing.join(", "));
    }
    for (said, why) in whys(one) {
        sheet.row("clause", &said);
        because::rows(why).iter().for_each(|(label, text)| sheet.row(label, text));
    }
}

/// The clauses that turned, those of one cause together.
fn whys(one: &FindingChange) -> Vec<(String, &Why)> {
    let mut found: Vec<(Vec<String>, &Why)> = Vec::new();
    let several = one.clauses.len() > 1;
    for clause in &one.clauses {
        let (was, is) = (clause.requirement_was.as_deref(), clause.requirement_is.as_deref());
        let mut said = match (was, is) {
            (Some(was), Some(is)) if was != is => format!("{is}, before it {was}"),
            (was, is) => is.or(was).unwrap_or("").to_owned(),
        };
        let apart = (clause.was, clause.is) != (one.came(), one.comes());
        if several && apart {
            said.push_str(&format!(" ({})", turned(clause.was, clause.is)));
        }
        match found.iter_mut().find(|(_, why)| **why == clause.why) {
            Some((all, _)) => all.push(said),
            None => found.push((vec![said], &clause.why)),
        }
    }
    found.into_iter().map(|(all, why)| (all.join("; "), why)).collect()
}

fn numbers(sheet: &mut Sheet<'_>, one: &FindingChange) {
    let mut said: Vec<String> = one.numbers.iter().map(|number| number_said(number, one)).collect();
    said.dedup();
    for (at, number) in said.iter().enumerate() {
        sheet.row(if at == 0 || sheet.look().plain { "numbers" } else { "" }, number);
    }
}

/// A number that moved: what it is of, what it was and is.
fn number_said(number: &NumberChange, one: &FindingChange) -> String {
    let finding = one.finding();
    let kind = finding.map_or("", |finding| finding.kind.as_str());
    let shape = shape(vocabulary(), kind, &number.fact);
    let label = shape.map_or_else(|| spoken(&number.fact), FactShape::label);
    let own = finding.is_some_and(|finding| finding.name == number.of) || number.of.is_empty();
    let of = if own { String::new() } else { format!(" of {}", spoken(&number.of)) };
    let (was, is) = (with_sides(&number.was, shape), with_sides(&number.is, shape));
    format!("{label}{of}: was {was}, is {is}")
}

/// The fact of this name; of a kind of thing first, else of any.
fn shape<'v>(vocabulary: &'v Vocabulary, kind: &str, fact: &str) -> Option<&'v FactShape> {
    let at = vocabulary.kinds.iter().position(|one| one.name == kind);
    let kind = at.and_then(|at| u16::try_from(at).ok()).map(KindId);
    let named = || vocabulary.facts.iter().filter(|one| one.name == fact);
    named().find(|one| Some(one.of) == kind).or_else(|| named().next())
}

fn still_open(sheet: &mut Sheet<'_>, comparison: &Comparison) {
    let found: Vec<&FindingChange> = comparison.of(Turn::StillOpen).collect();
    if found.is_empty() {
        return;
    }
    sheet.rule("Still open, as before");
    // Where nothing of one moved there is nothing to say of it but that it is there.
    let moved = |one: &&&FindingChange| !one.numbers.is_empty() || !one.clauses.is_empty();
    let told: Vec<&&FindingChange> = found.iter().filter(moved).collect();
    let rest = found.len() - told.len();
    if rest > 0 {
        let what = count(rest, "finding is", "findings are");
        sheet.item(
            &format!("{what} open as before, with nothing of them moved. See them with: undercroft review, or here with --as json"),
            Tone::Ink,
        );
    }
    for one in told.into_iter().take(MOST_LINES) {
        let Some(finding) = one.finding() else { continue };
        let numbers: Vec<String> = one.numbers.iter().map(|number| number_said(number, one)).collect();
        let numbers = if numbers.is_empty() { String::new() } else { format!("; {}", numbers.join("; ")) };
        sheet.item(&format!("{} ({}){numbers}", headline(finding), phrases::comes(finding.comes)), Tone::Ink);
        for (said, why) in whys(one) {
            let because: Vec<String> = why.causes.iter().map(because::one).collect();
            sheet.hanging(4, 6, &format!("{said}; because of {}", because.join("; ")), Tone::Ink);
        }
    }
}

/// What turned and is open neither before nor after: together by what it was, what it is and why.
fn otherwise(sheet: &mut Sheet<'_>, comparison: &Comparison) {
    let mut groups: Vec<(String, Why, Vec<String>)> = Vec::new();
    for one in comparison.of(Turn::Otherwise) {
        let Some(finding) = one.finding() else { continue };
        let turned = match one.clauses.first() {
            Some(clause) => turned(clause.was, clause.is),
            None => turned(one.came(), one.comes()),
        };
        let why = one.clauses.first().map(|clause| clause.why.clone()).unwrap_or_default();
        let name = headline(finding);
        match groups.iter_mut().find(|(said, own, _)| *said == turned && *own == why) {
            Some((_, _, names)) => names.push(name),
            None => groups.push((turned, why, vec![name])),
        }
    }
    if groups.is_empty() {
        return;
    }
    sheet.rule("Changed otherwise, and not open");
    for (turned, why, names) in groups.iter().take(MOST_LINES) {
        sheet.blank();
        sheet.paragraph(0, &capital(turned), Tone::Heading);
        names.iter().for_each(|name| sheet.item(name, Tone::Ink));
        because::rows(why).iter().for_each(|(label, text)| sheet.row(label, text));
    }
}

fn numbers_only(sheet: &mut Sheet<'_>, comparison: &Comparison) {
    let found: Vec<&FindingChange> = comparison.of(Turn::OtherNumbers).collect();
    if found.is_empty() {
        return;
    }
    sheet.rule("Other numbers, the same verdict");
    for one in found.iter().take(MOST_LINES) {
        let Some(finding) = one.finding() else { continue };
        let said: Vec<String> = one.numbers.iter().map(|number| number_said(number, one)).collect();
        sheet
            .item(&format!("{} ({}); {}", headline(finding), comes(one.comes()), said.join("; ")), Tone::Ink);
    }
}

fn design(sheet: &mut Sheet<'_>, comparison: &Comparison) {
    let stated = &comparison.stated;
    if stated.entries.is_empty() && stated.renamed.is_empty() && stated.unclear.is_empty() {
        return;
    }
    sheet.rule("The design, entry by entry");
    for one in &stated.renamed {
        let new = one.is.rsplit('.').next().unwrap_or(&one.is);
        sheet
            .item(&format!("{} is called {new} now; all that is said of it is the same", one.was), Tone::Ink);
    }
    for one in stated.entries.iter().take(MOST_LINES) {
        sheet.item(&because::entry(one), Tone::Ink);
    }
    for one in &stated.unclear {
        let said = format!(
            "Under {}, {} went and {} came. Whether these are the same under new names cannot be told: what is said of them differs, or is said of several.",
            one.list,
            one.went.join(", "),
            one.came.join(", ")
        );
        sheet.item(&said, Tone::Open);
    }
}

fn variances(sheet: &mut Sheet<'_>, comparison: &Comparison) {
    if comparison.variances.is_empty() {
        return;
    }
    sheet.rule("The variances");
    for (name, was, is) in &comparison.variances {
        let said = super::was_is(was.as_deref().map(holds), is.as_deref().map(holds));
        sheet.item(&format!("{}: {said}", spoken(name)), Tone::Ink);
    }
}

/// How a variance stands, as the review page says it.
fn holds(word: &str) -> &str {
    if word == "live" { "on file" } else { word }
}

/// The last line: whether something that has to be is worse than it was.
fn last(comparison: &Comparison) -> String {
    let newly = |comes: Comes| comparison.findings.iter().filter(|one| one.newly(comes)).count();
    let (unmet, open) = (newly(Comes::Unmet), newly(Comes::Open) + newly(Comes::Disputed));
    let duties = |n: usize| count(n, "thing that has to be met is", "things that have to be met are");
    match (unmet, open) {
        (0, 0) => "Nothing that has to be met turned for the worse.".to_owned(),
        (0, open) => format!("{} newly open.", duties(open)),
        (unmet, 0) => format!("{} newly unmet.", duties(unmet)),
        (unmet, open) => format!("{} newly unmet, {open} newly open.", duties(unmet)),
    }
}
