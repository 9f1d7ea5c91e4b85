//! The packet for a permit: cover, scope, drawings, every clause of the books that count in the order of the code, what
//! was not checked, variances, what was taken for granted, the worksheet, the takeoff, and the labels.

use std::collections::BTreeSet;

use super::vouched::Vouchers;
use super::{Made, Parts, books, clauses, cover, scope};
use crate::findings::variance::{Holds, OnFile};
use crate::judge::verdict::Verdict;
use crate::render::papers::report::{made_of, running};
use crate::render::papers::{Paper, Part, labels};
use crate::render::phrases::{caution, count, day};
use crate::render::takeoff::paper as takeoff;
use crate::render::tell::finding::Background;
use crate::render::tell::numbers::Styles;
use crate::render::tell::told::{Told, Weighs};
use crate::render::tell::variances;
use crate::render::terminal::Show;
use crate::render::terminal::sheet::{capital, sentence};
use crate::render::visible::one_line;
use crate::render::worksheet::paper as worksheet;
use crate::render::{tell, words};
use crate::review::{Review, books as known_books};

/// The packet for a permit.
#[must_use]
pub fn permit(made: Made<'_>) -> Paper {
    let review = made.review;
    let told = tell::tell(review, Show::Everything);
    let mut parts = Parts::default();
    cover::cover(&mut parts, review);
    parts.new_sheet();
    comes_to(&mut parts, review, &told);
    parts.heading("Scope of work");
    parts.list(scope::scope(&review.design).iter().map(|line| capital(line)));
    for (name, sheet) in made.drawings {
        parts.0.push(Part::Drawing(name, Box::new(sheet)));
    }
    every_clause(&mut parts, review);
    on_file(&mut parts, &review.variances);
    granted(&mut parts, review);
    parts.heading("Worksheet");
    parts.0.extend(worksheet::parts(made.worksheet));
    parts.heading("What it takes");
    parts.0.extend(takeoff::parts(made.counted, review.stage));
    parts.heading("Careful");
    parts.list(cautions(review).into_iter().map(caution));
    parts.words(told.is_not.clone());
    parts.new_sheet();
    parts.heading("Labels");
    parts.0.extend(labels::parts(review));
    Paper {
        title: "Submittal for a permit: soil-gas mitigation".to_owned(),
        about: vec![one_line(review.name()).into_owned()],
        parts: parts.0,
        foot: made_of(review, &made.program),
        running: running(review, &made.program),
        quoted: Vec::new(),
    }
}

/// What the review comes to, and the books it was held against.
fn comes_to(parts: &mut Parts, review: &Review<'_>, told: &Told) {
    parts.heading("What the review comes to");
    let weighs = match (told.stops.is_empty(), told.duties.is_empty() && told.unread.is_empty()) {
        (false, _) => Weighs::Stops,
        (true, false) => Weighs::Unmet,
        (true, true) => Weighs::Silent,
    };
    let more = [&told.counts, &told.aside, &told.radon, &told.unread, &told.last];
    let more = more.into_iter().filter(|line| !line.is_empty()).cloned().collect();
    parts.0.push(Part::Banner(weighs, told.headline.clone(), more));
    parts.list(told.stops.iter().chain(&told.notes).cloned());
    books::used(parts, review);
    if !told.problems.is_empty() {
        parts.under("In the file", "faults");
        parts.list(told.problems.iter().map(|problem| {
            let said = words::of(problem);
            format!("{} {}", sentence(&said.what), sentence(&said.todo))
        }));
    }
}

/// Every clause of every book that counts, in the order of its code.
fn every_clause(parts: &mut Parts, review: &Review<'_>) {
    let styles = Styles::default();
    let background = Background {
        sources: &review.sources,
        styles: &styles,
        used: &review.used,
        vocabulary: known_books::vocabulary(),
        on_file: &review.variances,
        name_of: review,
    };
    let vouchers = Vouchers::of(review);
    parts.heading("Clauses in the order of the code");
    parts.words(
        "Each requirement of the rulebooks that count for this job stands here once; in brackets are the verb of \
         its source and how its text is known. \"As stated\" is what whoever drew up the design wrote; where somebody \
         measured, found or verified it, the name stands there. The last column is the inspector's.",
    );
    let counting = || review.used.iter().enumerate().filter(|(_, used)| used.standing.counts());
    for (at, used) in counting() {
        let edition =
            if used.book.edition.is_empty() { String::new() } else { format!(", {}", used.book.edition) };
        parts.under(&format!("{}{edition}", used.book.title), "clauses");
        books::changed(parts, used.book);
        clauses::of_book(parts, at, used, &review.findings, &background, &vouchers);
        books::not_checked(parts, used.book);
    }
    if counting().next().is_none() {
        parts.words("No rulebook is adopted or asked for by contract, so there are none.");
    }
}

/// The variances of the design, each with how it stands.
fn on_file(parts: &mut Parts, list: &[OnFile]) {
    parts.heading("Variances");
    if list.is_empty() {
        return parts.words("None is on file.");
    }
    parts.list(list.iter().map(|one| {
        let of = if one.thing.is_empty() { String::new() } else { format!(" of {}", one.thing) };
        let said = variances::rows(one).into_iter().map(|(label, words)| format!("{label}: {words}"));
        let holds = if one.holds == Holds::Live { "in force" } else { "excuses nothing now" };
        sentence(&format!("{}{of}; {holds}; {}", one.requirement, said.collect::<Vec<_>>().join("; ")))
    }));
}

/// What to beware of in any work that a requirement of this job asks for.
fn cautions<'r>(review: &Review<'r>) -> BTreeSet<&'r str> {
    let clauses = review.findings.iter().flat_map(|finding| &finding.clauses);
    let asked = clauses.filter(|clause| clause.verdict != Verdict::NotApplicable);
    let rules = asked.filter_map(|clause| review.used.get(clause.book)?.book.rules.get(clause.rule));
    rules.flat_map(|rule| &rule.cautions).map(String::as_str).collect()
}

/// What was taken for granted on the way to any verdict.
fn granted(parts: &mut Parts, review: &Review<'_>) {
    let clauses = review.findings.iter().flat_map(|finding| &finding.clauses);
    let counting = clauses.filter(|clause| clause.standing.is_to_decide());
    let assumed: BTreeSet<&String> =
        counting.filter_map(|clause| clause.trace.as_ref()).flat_map(|trace| &trace.assumed).collect();
    parts.heading("Taken for granted");
    if assumed.is_empty() {
        parts.words("Nothing was taken for granted on the way to a verdict. What the worksheet and the takeoff take for granted stands with them.");
    }
    parts.list(assumed.into_iter().map(|one| capital(&sentence(one))));
    let departures = review.departures.len();
    if departures > 0 {
        let when = review.on.as_deref().map(day).unwrap_or_default();
        let what = count(departures, "entry was", "entries were");
        parts.words(format!(
            "{what} found or built otherwise than designed, as of {when}; the review tells which."
        ));
    }
}
