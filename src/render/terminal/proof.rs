//! The proof of a book on the page: what came of its cases, and what of its limits.

use super::Look;
use super::excerpt::{Mark, excerpt};
use super::sheet::{Sheet, Tone};
use crate::base::number::{Comparison, Quantity, show};
use crate::base::text::Sources;
use crate::base::vocabulary::{WordId, WordsId};
use crate::facts::vocabulary;
use crate::judge::mutants::Change;
use crate::judge::prove::{Came, CaseRun, LimitProof, ProofReport, RuleProof, Survivor};
use crate::render::phrases::{count, limit_words, verdict};
use crate::render::visible::one_line;
use crate::render::words;

/// The page of one book: in one line when all is proven, else with what is not.
#[must_use]
pub fn page(report: &ProofReport, sources: &Sources, look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    let open: Vec<&RuleProof> = report.rules.iter().filter(|rule| !rule.holds()).collect();
    let limits = report.rules.iter().map(|rule| rule.limits.len()).sum();
    let ran = format!(
        "{}: {}, {}, {}",
        report.book,
        count(report.rules.len(), "requirement", "requirements"),
        count(report.cases(), "case", "cases"),
        count(limits, "limit moved", "limits moved"),
    );
    if open.is_empty() {
        sheet.paragraph(0, &format!("{ran}: all as their authors say."), Tone::Met);
        unnoticed(&mut sheet, report, sources);
        return sheet.finish();
    }
    sheet.paragraph(0, &format!("{ran}: {} not proven.", open.len()), Tone::Unmet);
    for rule in open {
        sheet.heading(&rule.name, Tone::Heading);
        if !rule.lacking.is_empty() {
            let lacking: Vec<&str> = rule.lacking.iter().map(|one| verdict(*one)).collect();
            sheet.row(
                "lacks",
                &format!("a case that comes out {}", lacking.join(", and one that comes out ")),
            );
        }
        for case in rule.cases.iter().filter(|case| case.came != Came::AsSaid) {
            told(&mut sheet, case, sources);
        }
        for limit in rule.limits.iter().filter(|limit| !limit.holds()) {
            moved(&mut sheet, limit, sources);
        }
    }
    sheet.finish()
}

/// The changes that no case notices, by rule and line.
fn unnoticed(sheet: &mut Sheet<'_>, report: &ProofReport, sources: &Sources) {
    let (tried, noticed) = report.changes();
    let said =
        format!("{} tried on them, {noticed} noticed by a case.", count(tried, "change was", "changes were"));
    sheet.paragraph(2, &said, Tone::Quiet);
    for rule in report.rules.iter().filter(|rule| !rule.survivors.is_empty()) {
        for Survivor { change, at } in &rule.survivors {
            let Some(source) = sources.get(at.source) else { continue };
            let line = source.line_column(at.start).line;
            let written = one_line(source.slice(*at));
            let words = changed(change, &written);
            sheet.row("unnoticed", &format!("{}, line {line}: {words}", rule.name));
        }
    }
}

/// A change in words: what stands there, and what was tried in its place.
fn changed(change: &Change, written: &str) -> String {
    let word = |list: WordsId, word: WordId| {
        let list = vocabulary().word_list(list);
        let word = list.and_then(|list| list.words.get(usize::from(word.0)));
        word.map_or("another word", |(word, _)| word.as_str())
    };
    match change {
        Change::LeftOut => format!("\"{written}\" left out"),
        Change::Compared(_, now) => format!("\"{written}\" with {} in its place", sign(*now)),
        Change::Joined => format!("\"{written}\" with \"and\" and \"or\" exchanged"),
        Change::Turned => format!("\"{written}\" turned into its contrary"),
        Change::Word(list, was, now) => {
            format!("{} in place of {} in \"{written}\"", word(*list, *now), word(*list, *was))
        }
        Change::WordLess(list, less) => format!("{} left out of \"{written}\"", word(*list, *less)),
        Change::WordMore(list, more) => format!("{} let pass too in \"{written}\"", word(*list, *more)),
        Change::Quantified => format!("\"{written}\" asked of all in place of some, or the other way"),
        Change::IfNone(..) => format!("\"{written}\" with another outcome when there are none"),
        Change::Calculated => format!("\"{written}\" put together in another way"),
        Change::Number(both) => format!("{} in place of {}", shown(&both.1), shown(&both.0)),
    }
}

fn shown(quantity: &Quantity) -> String {
    show(&quantity.number, quantity.dimension, &quantity.style)
}

fn sign(how: Comparison) -> &'static str {
    match how {
        Comparison::Equal => "=",
        Comparison::Less => "<",
        Comparison::AtMost => "<=",
        Comparison::More => ">",
        Comparison::AtLeast => ">=",
    }
}

fn told(sheet: &mut Sheet<'_>, case: &CaseRun, sources: &Sources) {
    sheet.row("case", &case.claim);
    let marks = [Mark { at: case.at, words: format!("should come out {}", verdict(case.expected)) }];
    let drawn = excerpt(sources, None, &marks, sheet.look());
    sheet.raw(&drawn);
    let came = match &case.came {
        Came::AsSaid => "as said".to_owned(),
        Came::Otherwise(other) => verdict(*other).to_owned(),
        Came::NoSuchThing => "the rule is asked of nothing of that name".to_owned(),
        Came::SeveralThings => {
            "the rule is asked of several things that differ; say with at: which one is meant".to_owned()
        }
        Came::NotLaid(problems) => {
            let said: Vec<String> = problems.iter().map(|problem| words::of(problem).what).collect();
            format!("the case cannot be laid over its design. {}", said.join(" "))
        }
    };
    sheet.row("came out", &came);
}

fn moved(sheet: &mut Sheet<'_>, limit: &LimitProof, sources: &Sources) {
    let words = if limit.wrong.is_empty() {
        format!("no case turns when the limit {} is moved, so nothing shows that it decides", limit.name)
    } else {
        format!(
            "on the limit itself, {} is not what comes out in: {}",
            limit_words(limit.words),
            limit.wrong.join("; ")
        )
    };
    sheet.row("limit", &words);
    let marks = [Mark { at: limit.at, words: limit.name.clone() }];
    let drawn = excerpt(sources, None, &marks, sheet.look());
    sheet.raw(&drawn);
}
