//! The requirements in force in a design on the page: which file, line and amendment made each so.

use super::sheet::{Sheet, Tone};
use crate::base::text::Sources;
use crate::render::amended::{change, changes, decision, place};
use crate::render::phrases::count;
use crate::rulebook::authors::Withdrawn;
use crate::rulebook::checked::CheckedBook;

/// Every requirement of some books, with who made it what it is.
pub fn in_force(sheet: &mut Sheet<'_>, books: &[&CheckedBook], sources: &Sources) {
    for book in books {
        let amended = book.rules.iter().filter(|rule| rule.authors.amended().next().is_some()).count();
        let mut heading =
            format!("In force by {}: {}", book.name, count(book.rules.len(), "requirement", "requirements"));
        if amended > 0 {
            heading.push_str(&format!(", {amended} of them amended"));
        }
        sheet.heading(&heading, Tone::Heading);
        for rule in &book.rules {
            sheet.item(&format!("{}: {}", rule.name, place(sources, rule.at)), Tone::Ink);
            for (_, said) in changes(rule, sources) {
                sheet.hanging(4, 6, &format!("amended, {said}"), Tone::Open);
            }
        }
        for Withdrawn { rule, at, amendment, .. } in &book.withdrawn {
            sheet.item(&format!("{rule}: {}", place(sources, *at)), Tone::Quiet);
            let by = format!("{}; {}", place(sources, amendment.at), decision(amendment));
            sheet.hanging(4, 6, &format!("withdrawn, not in force ({by})"), Tone::Open);
        }
    }
}

/// What an amendment changed in a field, for a page of one requirement.
pub fn amended_rows(sheet: &mut Sheet<'_>, rule: &crate::rulebook::checked::CheckedRule, sources: &Sources) {
    if rule.authors.amendments.is_empty() {
        return;
    }
    sheet.heading("Amendments in force", Tone::Heading);
    for amendment in &rule.authors.amendments {
        sheet.row("by", &decision(amendment));
        sheet.row("where", &format!("{} ({})", place(sources, amendment.at), amendment.book));
        for one in &amendment.changes {
            let mut author = rule.authors.fields.get(&one.field);
            while let Some(here) = author.filter(|here| here.at != one.to_at) {
                author = here.replaced.as_deref();
            }
            if let Some(author) = author {
                sheet.row(
                    "changes",
                    &format!("{}: {}", crate::render::amended::field(&one.field), change(author)),
                );
            }
        }
        sheet.row("why", &amendment.because);
    }
}
