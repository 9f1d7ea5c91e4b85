//! What a book takes over from the books it builds on: their rules as it amends them, their documents, their
//! clauses that no program judges, and the designs their cases start from.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};

use super::amend::{self, Amended, Patch};
use super::authors::Withdrawn;
use super::checked::{BaseDesign, CheckedBook, CheckedRule, SourceDocument};
use super::load::Below;
use super::rule::Surroundings;
use super::scope::Covers;

/// What came of the rules of the books below.
#[derive(Default)]
pub(super) struct Taken {
    pub(super) rules: Vec<Arc<CheckedRule>>,
    pub(super) withdrawn: Vec<Withdrawn>,
    pub(super) doubts: Vec<Problem>,
    pub(super) problems: Vec<Problem>,
}

/// Takes over the documents and the open clauses of the books below. Two documents of one name have to be
/// the same.
pub(super) fn take_documents(book: &mut CheckedBook, below: Below<'_>) -> Vec<Problem> {
    let mut problems = Vec::new();
    for base in below.books {
        for document in &base.sources {
            match book.sources.iter().find(|one| one.name == document.name) {
                None => book.sources.push(document.clone()),
                Some(own) if same_document(own, document) => {}
                Some(own) => problems.push(
                    Problem::new(ProblemKind::NameClash, own.at)
                        .found(format!("`{}`, a document of a book below and another one here", own.name))
                        .accepts("a name that no document of a book below has, or the same words for it")
                        .also(document.at, "the document below"),
                ),
            }
        }
        let take = |own: &mut Vec<(String, String)>, more: &[(String, String)]| {
            for one in more {
                if !own.contains(one) {
                    own.push(one.clone());
                }
            }
        };
        take(&mut book.left_to_the_eye, &base.left_to_the_eye);
        take(&mut book.not_held, &base.not_held);
    }
    problems
}

fn same_document(a: &SourceDocument, b: &SourceDocument) -> bool {
    SourceDocument { at: b.at, ..a.clone() } == *b
}

/// The designs of the books below, the nearest book's first.
pub(super) fn base_designs(below: Below<'_>) -> Vec<BaseDesign> {
    let mut found: Vec<BaseDesign> = Vec::new();
    for design in below.books.iter().flat_map(|book| &book.base_designs) {
        if !found.contains(design) {
            found.push(design.clone());
        }
    }
    found
}

/// What the books below cover; nothing when they do not agree about it.
pub(super) fn covers_when(below: Below<'_>) -> Option<Covers> {
    let mut all = below.books.iter().map(|book| &book.covers_when);
    let first = all.next()?;
    if all.all(|one| one.as_ref().map(|one| &one.expr.node) == first.as_ref().map(|one| &one.expr.node)) {
        first.clone()
    } else {
        None
    }
}

/// Takes over the rules of the books below, as the amendments change them. Beside `own`, the rules of the
/// book itself, none of them may have a name twice.
pub(super) fn take_rules(
    own: &[CheckedRule],
    patches: Vec<Patch>,
    below: Below<'_>,
    around: &Surroundings<'_>,
) -> Taken {
    let mut taken = Taken::default();
    let mut bases: BTreeMap<&str, &Arc<CheckedRule>> = BTreeMap::new();
    for book in below.books {
        add_new(&mut taken.doubts, &book.doubts);
        add_new(&mut taken.withdrawn, &book.withdrawn);
        for rule in &*book.rules {
            match bases.get(rule.name.as_str()) {
                None => {
                    bases.insert(&rule.name, rule);
                }
                // The same rule by two ways.
                Some(other) if Arc::ptr_eq(other, rule) => {}
                Some(other) if other.authors == rule.authors && other.at == rule.at => {}
                Some(other) => taken.problems.push(collide(rule, other, around)),
            }
        }
    }
    let mut by_rule = sort_out(patches, &bases, below, around, &mut taken);
    for (name, base) in bases {
        let withdrawn_elsewhere = taken.withdrawn.iter().find(|one| one.rule == name && one.at == base.at);
        if let Some(other) = withdrawn_elsewhere {
            taken.problems.push(
                Problem::new(ProblemKind::RulesCollide, base.at)
                    .found(format!("`{name}`, which one book below withdraws and another keeps"))
                    .accepts("one of the two books under `builds_on`, or the same amendment in both")
                    .also(other.amendment.at, "withdrawn here"),
            );
            continue;
        }
        let patches = by_rule.remove(name).unwrap_or_default();
        let result = if patches.is_empty() {
            Ok(Amended::Changed(Arc::clone(base)))
        } else {
            amend::amend(base, patches, below.sources, around, &mut taken.doubts)
        };
        match result {
            Err(problems) => taken.problems.extend(problems),
            Ok(Amended::Withdrawn(amendment)) => taken.withdrawn.push(Withdrawn {
                book: base.authors.book.clone(),
                rule: base.name.clone(),
                title: base.title.clone(),
                source: base.source.clone(),
                at: base.at,
                amendment,
            }),
            Ok(Amended::Changed(rule)) => {
                if let Some(other) = own.iter().find(|one| one.name == rule.name) {
                    taken.problems.push(collide(other, &rule, around));
                }
                taken.rules.push(rule);
            }
        }
    }
    taken
}

fn add_new<T: Clone + PartialEq>(to: &mut Vec<T>, more: &[T]) {
    for one in more {
        if !to.contains(one) {
            to.push(one.clone());
        }
    }
}

fn collide(rule: &CheckedRule, other: &CheckedRule, around: &Surroundings<'_>) -> Problem {
    let place = |rule: &CheckedRule| rule.authors.amendments.last().map_or(rule.at, |amendment| amendment.at);
    let found = format!("`{}`, in `{}` and `{}`", rule.name, rule.authors.book, other.authors.book);
    let problem = Problem::new(ProblemKind::RulesCollide, place(rule));
    if rule.authors.book == around.book {
        let accepts = format!(
            "another name, or an amendment that withdraws `{}/{}` first",
            other.authors.book, other.name
        );
        return problem.found(found).accepts(accepts).also(place(other), "the rule of the book below");
    }
    problem
        .found(format!("{found}, which do not agree"))
        .accepts("only one of the two books under `builds_on`")
        .also(place(other), "the other one")
}

/// Puts each amendment to the rule that it names, in the order of their names; tells those that name nothing.
fn sort_out<'a>(
    mut patches: Vec<Patch>,
    bases: &BTreeMap<&'a str, &Arc<CheckedRule>>,
    below: Below<'_>,
    around: &Surroundings<'_>,
    taken: &mut Taken,
) -> BTreeMap<&'a str, Vec<Patch>> {
    patches.sort_by(|a, b| a.amendment.name.cmp(&b.amendment.name));
    let mut by_rule: BTreeMap<&'a str, Vec<Patch>> = BTreeMap::new();
    for patch in patches {
        let (of_book, of_rule) = (&patch.amendment.of_book, &patch.amendment.of_rule);
        let named = below.books.iter().find(|book| book.name == *of_book);
        let there = named.and_then(|book| book.rule(of_rule));
        if let (Some(_), Some((name, _))) = (there, bases.get_key_value(of_rule.as_str())) {
            by_rule.entry(name).or_default().push(patch);
            continue;
        }
        taken.problems.push(names_nothing(&patch, named.copied(), below, around));
    }
    by_rule
}

/// The rules whose names share the most words with what was written, each with its book; nothing where many do, or where no
/// more than one word is shared.
fn most_words<'b>(
    written: &str,
    rules: impl Iterator<Item = (&'b CheckedBook, &'b CheckedRule)>,
) -> Option<String> {
    let words = |text: &str| -> BTreeSet<String> {
        text.split(|c: char| !c.is_alphanumeric())
            .filter(|word| word.len() > 2)
            .map(str::to_lowercase)
            .collect()
    };
    let wanted = words(written);
    let mut best: ((usize, Reverse<usize>), Vec<String>) = ((2, Reverse(usize::MAX)), Vec::new());
    for (book, rule) in rules {
        let own = words(&rule.name);
        let rank = (own.intersection(&wanted).count(), Reverse(own.len()));
        if rank > best.0 {
            best = (rank, Vec::new());
        }
        if rank == best.0 {
            best.1.push(format!("{}/{}", book.name, rule.name));
        }
    }
    match best.1.as_slice() {
        [] => None,
        [one] => Some(one.clone()),
        several if several.len() <= MOST_LIKE => {
            Some(several.iter().map(|one| format!("`{one}`")).collect::<Vec<_>>().join(" or "))
        }
        _ => None,
    }
}

/// No more rules than so are named as like a wrong one.
const MOST_LIKE: usize = 3;

/// What is told of an amendment whose rule is not there.
fn names_nothing(
    patch: &Patch,
    named: Option<&CheckedBook>,
    below: Below<'_>,
    around: &Surroundings<'_>,
) -> Problem {
    let (of_book, of_rule) = (&patch.amendment.of_book, &patch.amendment.of_rule);
    let problem = Problem::new(ProblemKind::AmendsNothing, patch.names_at);
    if of_book == around.book {
        return problem
            .found(format!("`{of_book}/{of_rule}`, a rule of this book itself"))
            .accepts("a rule of a book that this one builds on; a rule of one's own is changed in its file");
    }
    let withdrawn = below.books.iter().flat_map(|book| &book.withdrawn).find(|one| one.rule == *of_rule);
    if let (Some(withdrawn), Some(_)) = (withdrawn, named) {
        return problem
            .found(format!("`{of_book}/{of_rule}`, which is withdrawn already"))
            .accepts("a rule that is in force there, or a rule of one's own")
            .also(withdrawn.amendment.at, "withdrawn here");
    }
    let rules = || below.books.iter().flat_map(|book| book.rules.iter().map(move |rule| (book, rule)));
    let all: Vec<String> = rules().map(|(book, rule)| format!("{}/{}", book.name, rule.name)).collect();
    // A rule by the name of a book further below is there by the name of the book in between.
    let same = rules().find(|(_, rule)| rule.name == *of_rule);
    let near = match same {
        Some((book, rule)) => Some(format!("{}/{}", book.name, rule.name)),
        None => nearest(&format!("{of_book}/{of_rule}"), all.iter().map(String::as_str)),
    };
    // Who has its words, but not all of them or not in that order, means the one with most of them.
    let meant = named.map_or_else(|| below.books.to_vec(), |book| vec![book]);
    let by_words =
        most_words(of_rule, meant.iter().flat_map(|book| book.rules.iter().map(move |rule| (*book, rule))));
    let near = by_words.filter(|_| same.is_none()).or(near);
    let problem = problem.found(format!("`{of_book}/{of_rule}`")).nearest(near);
    if below.books.is_empty() {
        return problem.accepts("a rule of a book that this one names under `builds_on`");
    }
    let names = below.books.iter().map(|book| book.name.as_str());
    problem.accepts(format!("a rule of {}", super::expr::quoted(names)))
}
