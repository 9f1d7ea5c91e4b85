//! The page of corrections: each finding with the ways to mend it, before and after.

use super::{Changed, called, changed, conflict, costs, finding, named, step, then_say, why};
use crate::correct::choose::{Chosen, Conflict};
use crate::correct::cost::Cost;
use crate::correct::{Choice, Corrections, Mend, Offer, Proven, WhyNot};
use crate::design::said::in_words;
use crate::render::phrases::{count, spoken};
use crate::render::tell::finding::{Background, card};
use crate::render::tell::first::unread;
use crate::render::tell::numbers::Styles;
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone, capital, sentence};
use crate::render::visible::one_line;
use crate::review::{DESIGN, books};
use crate::yaml::draft::Draft;

const CAUTION: &str = "A correction was tried on the file before it is shown, under every rulebook the file names. It is no permit, no \
approval and no radon measurement, and it knows of the house only what the file says. Local code and licensed practice \
come first.";

/// The page.
#[must_use]
pub fn page(all: &Corrections<'_>, costs: &[(usize, Cost)], look: &Look) -> String {
    let styles = Styles::default();
    let background = background(all, &styles);
    let mut sheet = Sheet::new(look);
    let job = all.review.job.title.as_deref().map_or_else(String::new, |title| format!(": {title}"));
    sheet.paragraph(0, &format!("What would mend it{job}"), Tone::Heading);
    sheet.paragraph(0, &one_line(all.review.name()), Tone::Quiet);
    at_a_glance(&mut sheet, all);
    let draft = Draft::new(DESIGN, &all.text);
    for mend in &all.mends {
        one(&mut sheet, all, mend, (&background, &draft, costs));
    }
    super::places::places(&mut sheet, all);
    if all.offered().next().is_some() {
        sheet.rule("How to take them");
        let file = one_line(all.review.name());
        sheet.paragraph(
            0,
            &format!("See one with all its lines: undercroft correct {file} --choose 1"),
            Tone::Ink,
        );
        sheet.paragraph(
            0,
            &format!("Write it into the file:     undercroft correct {file} --choose 1 --write"),
            Tone::Ink,
        );
        sheet.paragraph(
            0,
            "Name several with several --choose; \"--choose all\" takes the first of each.",
            Tone::Ink,
        );
    }
    sheet.blank();
    sheet.paragraph(0, CAUTION, Tone::Quiet);
    sheet.finish()
}

/// What findings are told from.
pub(super) fn background<'a>(all: &'a Corrections<'_>, styles: &'a Styles) -> Background<'a> {
    Background {
        sources: &all.review.sources,
        styles,
        used: &all.review.used,
        vocabulary: books::vocabulary(),
        on_file: &all.review.variances,
        name_of: &all.review,
    }
}

fn at_a_glance(sheet: &mut Sheet<'_>, all: &Corrections<'_>) {
    in_doubt(sheet, all);
    let of = all.mends.len();
    if of == 0 {
        sheet.heading("Nothing that was judged is other than asked, so there is nothing to mend.", Tone::Met);
        return;
    }
    let things = count(of, "thing is", "things are");
    if all.is_built() {
        sheet.heading(
            &format!(
                "{} not as asked. What is built is mended by work, and not by another number.",
                capital(&things)
            ),
            Tone::Unmet,
        );
        sheet.paragraph(0, "Below are work orders. After the work, measure again and write the new values into field notes, each with who measured and when.", Tone::Ink);
        return;
    }
    let mended =
        all.mends.iter().filter(|mend| mend.choices.iter().any(|choice| choice.proven().is_some())).count();
    sheet.heading(
        &format!(
            "{} not as asked; {} by a change of this file.",
            capital(&things),
            if mended == 0 { "none can be mended".to_owned() } else { format!("{mended} can be mended") }
        ),
        Tone::Unmet,
    );
    sheet.paragraph(0, "Nothing was written.", Tone::Ink);
    let choices = all.mends.iter().flat_map(|mend| &mend.choices);
    if choices.into_iter().any(|choice| matches!(choice.offer, Offer::Words(WhyNot::NoChange))) {
        sheet.paragraph(
            0,
            "Where words stand alone, no single entry stands for what they ask; how it is done is for you to say.",
            Tone::Quiet,
        );
    }
}

/// That the file has faults in the writing, which keep things from being judged.
fn in_doubt(sheet: &mut Sheet<'_>, all: &Corrections<'_>) {
    let unread = unread(&all.review);
    if !unread.is_empty() {
        let file = one_line(all.review.name());
        let said = format!(
            "{unread} What rests on that is not judged and not mended here; see where: undercroft review {file}"
        );
        sheet.paragraph(0, &said, Tone::Open);
        sheet.blank();
    }
}

fn one(
    sheet: &mut Sheet<'_>,
    all: &Corrections<'_>,
    mend: &Mend,
    (background, draft, costs): (&Background<'_>, &Draft, &[(usize, Cost)]),
) {
    let Some(finding) = finding(all, mend) else { return };
    let told = card(finding, background);
    sheet.rule(&called(finding, background));
    sheet.paragraph(0, &told.sentence, Tone::Unmet);
    sheet.row("place", &told.place);
    let offers = mend.choices.iter().any(|choice| choice.proven().is_some());
    for choice in &mend.choices {
        match &choice.offer {
            Offer::Edits(proven) => {
                sheet.blank();
                let title = capital(&choice.title);
                let label = format!("change {}", proven.number);
                if let Some(first) = told_already(all, proven) {
                    sheet.row(&label, &sentence(&format!("{title}, the same as change {first}")));
                    continue;
                }
                sheet.row(&label, &sentence(&title));
                offered(sheet, all, proven, (background, draft));
                if let Some((_, cost)) = costs.iter().find(|(number, _)| *number == proven.number) {
                    told_costs(sheet, all, cost);
                }
            }
            Offer::WorkOrder(entries) => {
                sheet.blank();
                sheet.row("to do", &sentence(&capital(&choice.title)));
                let entries: Vec<String> = entries.iter().map(|entry| entry.to_string()).collect();
                let then = match entries.as_slice() {
                    [] => "look or measure again, and write down what the requirement asks as it is then."
                        .to_owned(),
                    entries => {
                        format!(
                            "look or measure again, and write down as it is then: {}.",
                            entries.join(", ")
                        )
                    }
                };
                sheet.row("then", &then);
            }
            // Of several ways one that does not fit the design is none, as long as another does.
            Offer::Words(WhyNot::NotThere(_) | WhyNot::AlreadyThere(_)) if offers => {}
            Offer::Words(not) => in_words_alone(sheet, all, (choice, not), background),
        }
    }
    let rule = finding.headline().and_then(|clause| background.rule(clause));
    if let Some(rule) = rule.filter(|rule| !rule.cautions.is_empty()) {
        let cautions: Vec<String> = rule.cautions.iter().map(|one| spoken(one)).collect();
        sheet.row("careful", &cautions.join(", "));
    }
}

/// The number of an earlier correction that comes to the very same text.
fn told_already(all: &Corrections<'_>, proven: &Proven) -> Option<usize> {
    let same = |other: &&Proven| other.number < proven.number && other.text == proven.text;
    all.offered().map(|(_, _, other)| other).find(same).map(|other| other.number)
}

fn in_words_alone(
    sheet: &mut Sheet<'_>,
    all: &Corrections<'_>,
    (choice, not): (&Choice, &WhyNot),
    background: &Background<'_>,
) {
    sheet.blank();
    sheet.row("in words", &sentence(&capital(&choice.title)));
    // What goes for most of them is said once, at the head of the page.
    if *not != WhyNot::NoChange {
        let reason = why(not, &|identity| named(all, identity, background));
        sheet.row("no change", &sentence(&capital(&reason)));
    }
}

/// What a correction changes, before and after.
fn offered(
    sheet: &mut Sheet<'_>,
    all: &Corrections<'_>,
    proven: &Proven,
    (background, draft): (&Background<'_>, &Draft),
) {
    for one in &proven.steps {
        let (entry, was, then) = step(draft, one);
        let said = match (was.as_str(), then.as_str()) {
            (was, "") => format!("{entry}: taken away, was {was}"),
            ("", then) => format!("{entry}: {then}, new"),
            (was, then) => format!("{entry}: {then}, was {was}"),
        };
        sheet.row("becomes", &one_line(&said));
    }
    let besides: Vec<String> =
        proven.besides.iter().map(|identity| named(all, identity, background)).collect();
    sheet.row("mends too", &besides.join("; "));
    let measure: Vec<String> = proven.measure.iter().map(then_say).collect();
    if !measure.is_empty() {
        sheet.row("then say", &measure.join("; "));
    }
}

fn told_costs(sheet: &mut Sheet<'_>, all: &Corrections<'_>, cost: &Cost) {
    for (at, said) in costs(all, cost).iter().enumerate() {
        sheet.row(if at == 0 { "costs" } else { "and" }, said);
    }
}

/// The page of corrections that were chosen, with every line that changes and what all of it costs.
#[must_use]
pub fn chosen(
    all: &Corrections<'_>,
    chosen: &Chosen,
    cost: &Cost,
    left_out: &[(usize, Conflict)],
    look: &Look,
) -> String {
    let mut sheet = Sheet::new(look);
    let numbers: Vec<String> = chosen.numbers.iter().map(ToString::to_string).collect();
    let what = if numbers.len() == 1 { "Change" } else { "Changes" };
    sheet.paragraph(0, &format!("{what} {}, tried together", numbers.join(", ")), Tone::Heading);
    sheet.paragraph(0, &one_line(all.review.name()), Tone::Quiet);
    if let Some(source) = all.review.sources.get(DESIGN) {
        lines(&mut sheet, &changed(source, &chosen.edits));
    }
    sheet.blank();
    told_costs(&mut sheet, all, cost);
    for one in &chosen.measure {
        sheet.row("then say", &then_say(one));
    }
    if !left_out.is_empty() {
        sheet.blank();
        sheet.paragraph(0, "Left out, because they do not agree with the others:", Tone::Open);
        let styles = Styles::default();
        let background = background(all, &styles);
        for (number, why) in left_out {
            let said = conflict(why, &|identity| named(all, identity, &background));
            sheet.row(&format!("change {number}"), &said);
        }
    }
    sheet.finish()
}

/// The page of a file with blanks.
#[must_use]
pub fn blanks(
    all: &crate::correct::blanks::Blanks,
    source: &crate::base::text::Source,
    look: &Look,
) -> String {
    let mut sheet = Sheet::new(look);
    let many = count(all.entries.len(), "blank", "blanks");
    sheet.paragraph(0, &format!("{} to fill in on site", capital(&many)), Tone::Heading);
    sheet.paragraph(0, &one_line(source.name()), Tone::Quiet);
    lines(&mut sheet, &changed(source, &all.edits));
    if !all.left.is_empty() {
        sheet.blank();
        sheet.paragraph(
            0,
            "Not put in, because a blank there would change what the file says or how it is written:",
            Tone::Open,
        );
        for path in &all.left {
            sheet.item(&format!("{} ({path})", in_words(&path.to_string())), Tone::Ink);
        }
    }
    sheet.finish()
}

/// Lines before and after.
fn lines(sheet: &mut Sheet<'_>, all: &[Changed]) {
    for Changed { line, before, after } in all {
        sheet.blank();
        sheet.paragraph(0, &format!("Line {line}"), Tone::Heading);
        for (at, text) in before.iter().enumerate() {
            sheet.row(if at == 0 { "was" } else { "" }, &one_line(text.trim_end()));
        }
        for (at, text) in after.iter().enumerate() {
            let label = match (at, before.is_empty()) {
                (0, true) => "new",
                (0, false) => "becomes",
                _ => "",
            };
            sheet.row(label, &one_line(text.trim_end()));
        }
    }
}
