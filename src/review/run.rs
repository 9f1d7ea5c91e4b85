//! The pipeline: bytes, tree, design and problems, facts, books, outcomes, findings.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::books::{DESIGN, Library, SHOP};
use super::built::departures;
use super::proving::prove_rules;
use super::{Digests, Explained, Input, JobWords, RadonResult, Review};
use crate::base::digest::sha256_hex;
use crate::base::hands;
use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{Source, Sources, Span};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Value};
use crate::base::vocabulary::{Answers, Thing};
use crate::design::model::job::{JobStage, Standing as Stated};
use crate::design::model::shop::ShopFile;
use crate::design::model::tests::TestOf;
use crate::design::notes::Head;
use crate::design::{self, Design};
use crate::facts::ask::Ask;
use crate::facts::contradictions::contradictions;
use crate::findings::finding::is_open;
use crate::findings::looked::looked;
use crate::findings::variance::variances;
use crate::findings::{Finding, Standing, Used, coverage, gather, wanted};
use crate::judge;
use crate::judge::mutants::Tried;
use crate::judge::prove::RuleProof;
use crate::judge::trace::{Trace, replay};
use crate::judge::verdict::Verdict;
use crate::rulebook::checked::{CheckedRule, Stage};
use crate::yaml::entry::State;
use crate::yaml::lay::Difference;
use crate::yaml::scan;
use crate::yaml::tree::Tree;
use crate::yaml::words::Words;

/// No more problems than this are kept of one review.
const MOST_PROBLEMS: usize = 1_000;

/// For no more clauses than this it is worked out why they came out so.
const MOST_EXPLAINED: usize = 5_000;

/// Reviews one design by the books that it names and those that every review uses.
#[must_use]
pub fn review<'l>(input: &Input<'_>, library: &'l Library) -> Review<'l> {
    let mut sources = library.sources.clone();
    let ahead = named_in(input.bytes, library);
    let read = hands::meanwhile(&ahead, |name| _ = library.book(name), || read_design(&mut sources, input));
    let Read { design, mut problems, differences, heads, field_notes } = read;
    let refused = problems.iter().find(|problem| problem.kind.refuses_the_file()).cloned();
    if let Some(refusal) = &refused {
        problems = vec![refusal.clone()];
    } else if let Some((name, bytes)) = input.shop {
        problems.extend(read_shop(&mut sources, name, bytes).1);
    }
    let mut notes = input.notes.clone();
    if problems.len() > MOST_PROBLEMS {
        let more = problems.len() - MOST_PROBLEMS;
        problems.truncate(MOST_PROBLEMS);
        notes.push(format!(
            "At least {more} more places could not be read; the first {MOST_PROBLEMS} are told."
        ));
    }
    let (stage, job) = (input.stage.unwrap_or_else(|| stage(&design)), job_words(&design));
    let on = input.on.map(str::to_owned).or_else(|| design.job.date.known().map(|date| date.to_string()));
    let design = Arc::new(design);
    let mut review = Review {
        design: Arc::clone(&design),
        sources,
        job,
        stage,
        on,
        notes,
        problems,
        book_problems: Vec::new(),
        silent: Vec::new(),
        used: Vec::new(),
        findings: Vec::new(),
        variances: Vec::new(),
        departures: Vec::new(),
        looked: Vec::new(),
        wanted: Vec::new(),
        coverage: Vec::new(),
        digests: Digests {
            design: sha256_hex(input.bytes),
            shop: input.shop.map(|(_, bytes)| sha256_hex(bytes)),
            field_notes,
        },
        names: BTreeMap::new(),
        narrowed: None,
    };
    if refused.is_some() {
        return review;
    }
    let mut ask = Ask::new(&design);
    let put_up = || books(&design, library, review.on.as_deref());
    let ((mut used, book_problems, silent), contradictory) =
        hands::both(put_up, || contradictions(&mut ask, &review.sources));
    review.problems.extend(contradictory);
    review.book_problems = book_problems;
    review.silent = silent;
    out_of_date(&mut used, &design, &mut review);
    unproven(&mut used, library, &design, &mut review);
    for doubt in used.iter().flat_map(|used| &used.book.doubts) {
        if !review.problems.contains(doubt) {
            review.problems.push(doubt.clone());
        }
    }
    let list: Vec<_> = used.iter().map(|used| used.book).collect();
    // What a variance permits may let another clause give the headline.
    let explained = match input.explained {
        Explained::OnThePage if !design.variances.is_missing() => Explained::Open,
        explained => explained,
    };
    let outcomes = judge::judge(&list, stage, &mut ask);
    let mut findings = gather(&used, outcomes, &ask);
    explain(&mut findings, &used, stage, explained, &mut ask);
    review.problems.sort_by_key(|problem| (problem.at, problem.kind));
    review.notes.extend(books_on_books(&used));
    review.notes.extend(decided_later(&used, library, review.on.as_deref()));
    for book in &list {
        if judge::covers(book, &mut ask) == Truth::False {
            review.notes.push(format!(
                "{} does not cover this design, so none of its requirements is asked here. It covers: {}",
                book.title,
                book.covers.trim()
            ));
        }
    }
    review.variances =
        variances(&design, &mut findings, &used, (stage, review.on.as_deref()), &review.sources, &mut ask);
    review.departures = departures(&differences, &findings, &used, stage, &review.sources, &mut ask);
    review.looked = looked(&design, &heads, &findings, &used);
    review.names = names(&findings, &ask);
    let by = design.job.by.known().map(|by| by.0.as_str());
    review.wanted = wanted(&findings, by, review.on.as_deref());
    review.coverage = coverage(&used, &findings);
    review.findings = findings;
    review.used = used;
    review
}

/// The books that a design most likely asks for, told before it is read: those whose name begins a line.
fn named_in<'l>(bytes: &[u8], library: &'l Library) -> Vec<&'l str> {
    let text = std::str::from_utf8(bytes).unwrap_or("");
    let keys = text.lines().filter_map(|line| line.split(':').next());
    let keys: BTreeSet<&str> = keys.map(str::trim).collect();
    library.names().filter(|name| keys.contains(name)).collect()
}

/// What is wrong with the text of a design, and nothing else of it.
#[must_use]
pub fn problems_of(text: &str) -> Vec<Problem> {
    read_text(text).1
}

/// A design from its text alone.
#[must_use]
pub fn read_text(text: &str) -> (Design, Vec<Problem>) {
    let mut sources = Sources::new();
    sources.add("", "");
    let input = Input { bytes: text.as_bytes(), ..Input::default() };
    let read = read_design(&mut sources, &input);
    (read.design, read.problems)
}

/// What was read.
pub(super) struct Read {
    pub(super) design: Design,
    pub(super) problems: Vec<Problem>,
    differences: Vec<Difference>,
    /// What each file says of itself, the design first.
    heads: Vec<Head>,
    field_notes: Vec<(String, String)>,
}

pub(super) fn read_design(sources: &mut Sources, input: &Input<'_>) -> Read {
    sources.replace(DESIGN, input.name, String::from_utf8_lossy(input.bytes));
    let (tree, mut problems) = scan::read_bytes(DESIGN, input.bytes);
    let mut papers = Vec::with_capacity(input.field_notes.len());
    for (name, bytes) in &input.field_notes {
        let id = sources.add(*name, String::from_utf8_lossy(bytes));
        let (tree, faults) = scan::read_bytes(id, bytes);
        papers.push((id, tree, faults, sha256_hex(bytes)));
    }
    let blank = Source::new("", "");
    let source = |id| sources.get(id).unwrap_or(&blank);
    let notes: Vec<(&Source, &Tree)> = papers.iter().map(|(id, tree, ..)| (source(*id), tree)).collect();
    let built = design::read_built(source(DESIGN), &tree, &notes);
    let mut more = built.problems;
    let field_notes = built
        .heads
        .iter()
        .filter_map(|head| papers.iter().find(|(id, ..)| *id == head.source))
        .map(|(id, _, _, digest)| (source(*id).name().to_owned(), digest.clone()))
        .collect();
    let papers = papers.into_iter().map(|(id, tree, faults, _)| (id, tree, faults));
    let design_faults = std::mem::take(&mut problems);
    for (id, tree, faults) in std::iter::once((DESIGN, tree, design_faults)).chain(papers) {
        // What could not be read as YAML at all is told once, not again by every key that is then missing.
        if tree.root().is_none() && !faults.is_empty() {
            more.retain(|problem| problem.at.source != id);
        }
        problems.extend(faults);
    }
    problems.extend(more);
    for problem in &mut problems {
        // A second line with the version is where a second design was put behind the first.
        if problem.kind == ProblemKind::DuplicateKey && problem.found == built.design.version.key {
            problem.kind = ProblemKind::SeveralDocuments;
            problem.found = "a line that starts a second design".to_owned();
        }
    }
    problems.sort_by_key(|problem| (problem.at, problem.kind));
    let heads = std::iter::once(built.designed).chain(built.heads).collect();
    Read { design: built.design, problems, differences: built.differences, heads, field_notes }
}

/// A shop file, as far as there is text in it, and what is wrong with it.
pub(super) fn read_shop(sources: &mut Sources, name: &str, bytes: &[u8]) -> (Option<ShopFile>, Vec<Problem>) {
    sources.replace(SHOP, name, String::from_utf8_lossy(bytes));
    let (tree, mut problems) = scan::read_bytes(SHOP, bytes);
    let source = sources.get(SHOP).filter(|_| tree.root().is_some());
    let shop = source.map(|source| {
        let (shop, more) = design::read_shop(source, &tree);
        problems.extend(more);
        shop
    });
    (shop, problems)
}

/// At which stage a design is reviewed: the one it states, else as a drawing.
#[must_use]
pub fn stage(design: &Design) -> Stage {
    match design.job.stage.known() {
        Some(JobStage::Installed) => Stage::Installed,
        Some(JobStage::Operating) => Stage::Operating,
        Some(JobStage::Design) | None => Stage::Design,
    }
}

fn job_words(design: &Design) -> JobWords {
    JobWords {
        title: design.job.title.known().map(|title| title.0.clone()),
        work: design.job.work.known().map(|work| work.spelling().to_owned()),
        stage: design.job.stage.known().map(|stage| stage.spelling().to_owned()),
        radon: radon_results(design),
    }
}

fn radon_results(design: &Design) -> Vec<RadonResult> {
    let air = design
        .radon_tests
        .things()
        .filter(|(_, test)| !matches!(test.of.known(), Some(TestOf::Water | TestOf::Vapours)));
    let mut results: Vec<RadonResult> = air
        .filter_map(|(name, test)| {
            Some(RadonResult {
                name: name.to_owned(),
                when: test.when.known().map(|when| when.spelling().to_owned()),
                result: test.result.known()?.quantity.to_string(),
                ended: test.stop.known().map(|stop| stop.clock.day().to_string()),
            })
        })
        .collect();
    results.sort_by(|a, b| a.ended.cmp(&b.ended));
    results
}

/// The books that every review uses, then those that the design names, in its order, each as it counts on this day.
/// What is wrong with a book silences that book alone.
pub(super) fn books<'l>(
    design: &Design,
    library: &'l Library,
    on: Option<&str>,
) -> (Vec<Used<'l>>, Vec<Problem>, Vec<(String, usize)>) {
    let mut used: Vec<Used<'l>> = Vec::new();
    let mut problems = Vec::new();
    let mut silent = Vec::new();
    let mut take = |name: &str, standing: Standing, at: Span| match library.book_on(name, on) {
        Some(Ok(book)) => {
            if !used.iter().any(|one| one.book.name == book.name) {
                used.push(Used { book, standing, in_force: true, proven: true });
            }
        }
        // A fault of a book is one of each book that builds on it too, and is told once.
        Some(Err(faults)) => {
            silent.push((name.to_owned(), faults.len()));
            for fault in faults {
                if !problems.contains(fault) {
                    problems.push(fault.clone());
                }
            }
        }
        None => problems.push(
            Problem::new(ProblemKind::UnknownBook, at)
                .found(name)
                .accepts(library.names().collect::<Vec<_>>().join(", "))
                .nearest(nearest(name, library.names())),
        ),
    };
    let always: Vec<&str> = library.always().collect();
    let named = design.job.rulebooks.known().map(|named| named.items.as_slice()).unwrap_or_default();
    let names = always.iter().copied().chain(named.iter().map(|item| item.name.as_str()));
    library.put_up(&names.collect::<Vec<_>>());
    for name in &always {
        take(name, Standing::Always, design.here.at);
    }
    // A book of which it cannot be read what it is for this job is not used; the entry is told.
    for item in named.iter().filter(|item| !matches!(item.state, State::Unreadable)) {
        let standing = match item.state.known() {
            Some(Stated::Adopted) => Standing::Adopted,
            Some(Stated::ByContract) => Standing::ByContract,
            // A book without a readable standing is shown; whether it counts is not guessed.
            Some(Stated::ForInformation) | None => Standing::ForInformation,
        };
        take(&item.name, standing, item.name_at);
    }
    // Behind a fault in the writing the books may well be named.
    let was_read = !matches!(design.job.rulebooks.state, State::Unreadable) && design.job.rulebooks.whole;
    if named.is_empty() && problems.is_empty() && was_read {
        problems.push(
            Problem::new(ProblemKind::UnknownBook, design.job.rulebooks.at)
                .accepts(library.names().collect::<Vec<_>>().join(", ")),
        );
    }
    (used, problems, silent)
}

/// What has to be said of books that stand in the place of others, or count beside those they build on.
fn books_on_books(used: &[Used<'_>]) -> Vec<String> {
    let mut notes = Vec::new();
    for one in used {
        if one.book.in_place {
            notes.push(format!(
                "{} is the book brought along; it stands in the place of the one of that name that comes with the program.",
                one.book.name
            ));
        }
        let below = |other: &&Used<'_>| one.book.builds_on.contains(&other.book.name);
        for other in
            used.iter().filter(below).filter(|other| other.standing.counts() && one.standing.counts())
        {
            notes.push(format!(
                "{} builds on {}, and both count here: what {} changes still counts unchanged by {}. Name only one of them if that is not meant.",
                one.book.name, other.book.name, one.book.name, other.book.name
            ));
        }
    }
    notes
}

/// What has to be said of amendments that are decided only after the day of the review: they do not count yet.
fn decided_later(used: &[Used<'_>], library: &Library, on: Option<&str>) -> Vec<String> {
    let Some(on) = on else { return Vec::new() };
    let mut notes = Vec::new();
    for one in used {
        for later in library.decided_after(&one.book.name, on) {
            let decided = &later.decided;
            let title = one.book.rule(&later.of_rule).map_or(later.of_rule.as_str(), |rule| &rule.title);
            let what = if later.withdraws { "no longer asked" } else { "asked otherwise" };
            notes.push(format!(
                "\"{title}\" ({}/{}) is {what} from {} on: {}, {}. That is after the day of this review, so here it counts as it was before.",
                one.book.name, later.of_rule, decided.on, decided.document, decided.by
            ));
        }
    }
    notes
}

/// Says of every book whose time is over, or has not come, on the day of the review.
fn out_of_date(used: &mut [Used<'_>], design: &Design, review: &mut Review<'_>) {
    let Some(on) = &review.on else { return };
    for Used { book, in_force, .. } in used {
        if !book.is_in_force(on) {
            *in_force = false;
            let item = design.job.rulebooks.known().and_then(|named| named.item(&book.name));
            let at = item.map_or(design.here.at, |item| item.name_at);
            let when = match (&book.from, &book.until) {
                (Some(from), Some(until)) => format!("from {from} until {until}"),
                (Some(from), None) => format!("from {from}"),
                (None, Some(until)) => format!("until {until}"),
                (None, None) => String::new(),
            };
            review.problems.push(
                Problem::new(ProblemKind::BookOutOfDate, at)
                    .found(book.name.clone())
                    .accepts(format!("a day on which {} is in force: {when}", book.name)),
            );
        }
    }
}

/// Says of every book that was brought along whether its own cases bear it out: one with a wrong number or a wrong case
/// decides nothing.
fn unproven(used: &mut [Used<'_>], library: &Library, design: &Design, review: &mut Review<'_>) {
    for Used { book, proven, .. } in used {
        if !library.was_brought(&book.name) {
            continue;
        }
        // What it takes over unchanged from a book that comes with the program is proven there.
        let own = |rule: &CheckedRule| {
            library.was_brought(&rule.authors.book) || rule.authors.amended().next().is_some()
        };
        let wrong: Vec<String> = match prove_rules(library, book, Tried::Nothing, own) {
            Ok(report) => {
                report.rules.into_iter().filter(RuleProof::is_contradicted).map(|rule| rule.name).collect()
            }
            Err(faults) => {
                for fault in faults {
                    if !review.book_problems.contains(&fault) {
                        review.book_problems.push(fault);
                    }
                }
                Vec::new()
            }
        };
        if wrong.is_empty() {
            continue;
        }
        *proven = false;
        let item = design.job.rulebooks.known().and_then(|named| named.item(&book.name));
        let at = item.map_or(design.here.at, |item| item.name_at);
        let folder = library.brought_from(&book.name).unwrap_or_else(|| "FOLDER".to_owned());
        review.problems.push(
            Problem::new(ProblemKind::BookUnproven, at)
                .found(format!("{}: {}", book.name, wrong.join(", ")))
                .accepts(format!(
                    "a book that its cases bear out; they are run by: undercroft rulebook prove {} --rulebooks {folder}",
                    book.name
                )),
        );
    }
}

/// Works out why, for every clause that is told in full. What is not told counts as if it were, so that a page tells
/// no more of a review than a report.
fn explain(
    findings: &mut [Finding],
    used: &[Used<'_>],
    stage: Stage,
    explained: Explained,
    ask: &mut dyn Answers,
) {
    let mut left = MOST_EXPLAINED;
    for finding in findings {
        let waits = finding.stops().is_some();
        for (at, clause) in finding.clauses.iter_mut().enumerate() {
            if left == 0 {
                return;
            }
            if explained != Explained::Everything && !is_open(clause.verdict) {
                continue;
            }
            left -= 1;
            let told = at == 0 && (waits || clause.verdict == Verdict::Unmet);
            let rule = used.get(clause.book).and_then(|used| used.book.rules.get(clause.rule));
            if let Some(rule) = rule
                && (told || explained != Explained::OnThePage)
            {
                clause.trace = Some(Box::new(replay(rule, clause.about, stage, ask)));
            }
        }
    }
}

/// The names of all things that the traces speak of.
fn names(findings: &[Finding], ask: &dyn Answers) -> BTreeMap<Thing, String> {
    let mut names = BTreeMap::new();
    let mut note = |thing: Thing| {
        names.entry(thing).or_insert_with(|| ask.name_of(thing));
    };
    let traces =
        findings.iter().flat_map(|finding| &finding.clauses).filter_map(|clause| clause.trace.as_deref());
    for Trace { decisive, compared, .. } in traces {
        for one in decisive {
            note(one.thing);
            match &one.value {
                Answer::Known { value: Value::Thing(thing), .. } => note(*thing),
                Answer::Known { value: Value::Things(things), .. } => {
                    things.items.iter().copied().for_each(&mut note)
                }
                _ => {}
            }
        }
        for side in compared.iter().flat_map(|one| [&one.left, &one.right]) {
            if let Some((_, thing)) = side.fact {
                note(thing);
            }
        }
    }
    names
}
