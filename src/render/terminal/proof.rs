//! The proof of a book on the page: what came of its cases, and what of its limits.

use super::Look;
use super::excerpt::{Mark, excerpt};
use super::sheet::{Sheet, Tone};
use crate::base::text::Sources;
use crate::judge::prove::{Came, CaseRun, LimitProof, ProofReport, RuleProof};
use crate::render::phrases::{count, limit_words, verdict};
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
