//! A paper as one page for a browser or a printer: it needs no other file, no network and no script to be read. The
//! script it carries only hides what is not looked for.

mod form;
mod sheets;

use crate::drawing::{Paper as Size, Sheet};
use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::papers::excerpt::Shown;
use super::papers::{Answer, Fault, Item, Paper, Part, Quoted, Table, Told, anchor};
use super::svg;
use super::tell::told::Weighs;
use super::visible::one_line;

const STYLE: &str = include_str!("page.css");
const SCRIPT: &str = include_str!("page.js");

/// Nothing is fetched, sent or embedded, and no script runs but the page's own.
const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// The paper as a page, which is printed on sheets of this size.
#[must_use]
pub fn page(paper: &Paper, size: Size) -> String {
    let for_print = sheets::style(size, &paper.running);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta http-equiv="Content-Security-Policy" content=(POLICY);
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (safe(&paper.title)) }
                style { (PreEscaped(STYLE)) (PreEscaped(for_print)) }
            }
            body {
                a class="skip" href="#findings" { "Skip to what it says" }
                header {
                    h1 { (safe(&paper.title)) }
                    @for line in paper.about.iter().filter(|line| !line.is_empty()) { p { (safe(line)) } }
                }
                main id="findings" {
                    (looking(paper))
                    @for part in &paper.parts { (part_of(part, paper)) }
                    @for quoted in &paper.quoted { (source(quoted)) }
                }
                @if !paper.foot.is_empty() { footer {
                    h2 { "What this page was made of" }
                    ul { @for line in &paper.foot { li { (safe(line)) } } }
                } }
                script { (PreEscaped(SCRIPT)) }
            }
        }
    };
    let mut text = page.into_string();
    text.push('\n');
    text
}

/// Text of a file, with nothing in it that acts on a screen.
fn safe(text: &str) -> String {
    one_line(text).into_owned()
}

/// A word for how something weighs, which the style hangs its frame on.
fn class(weighs: Weighs) -> &'static str {
    match weighs {
        Weighs::Stops => "stops",
        Weighs::Unmet => "unmet",
        Weighs::Open => "open",
        Weighs::Met => "met",
        Weighs::Silent => "silent",
    }
}

/// What to look for among the findings; shown by the script, for without it nothing would happen.
fn looking(paper: &Paper) -> Markup {
    let findings = || {
        paper.parts.iter().filter_map(|part| match part {
            Part::Finding(told) => Some(told),
            _ => None,
        })
    };
    let mut verdicts: Vec<&str> = Vec::new();
    let mut books: Vec<&str> = Vec::new();
    for told in findings() {
        if !verdicts.contains(&told.verdict.as_str()) {
            verdicts.push(&told.verdict);
        }
        for book in told.books.iter().filter(|book| !books.contains(&book.as_str())).collect::<Vec<_>>() {
            books.push(book);
        }
    }
    let choice = |id: &str, label: &str, all: &str, words: &[&str]| {
        html! {
            label for=(id) { (label) }
            select id=(id) {
                option value="" { (all) }
                @for word in words { option value=(safe(word)) { (safe(word)) } }
            }
        }
    };
    html! {
        @if findings().count() > 1 {
            form id="looking" role="search" aria-label="Show only some findings" hidden {
                (choice("by-verdict", "Verdict", "every verdict", &verdicts))
                (choice("by-book", "Book", "every book", &books))
                label for="by-words" { "Words" }
                input id="by-words" type="search" autocomplete="off";
                p id="looking-for" role="status" {}
            }
        }
    }
}

fn part_of(part: &Part, paper: &Paper) -> Markup {
    match part {
        Part::Heading(depth, words, anchor) => match depth {
            0..=2 => html! { h2 id=(anchor) { (safe(words)) } },
            3 => html! { h3 id=(anchor) { (safe(words)) } },
            _ => html! { h4 id=(anchor) { (safe(words)) } },
        },
        Part::Words(words) => html! { p { (safe(words)) } },
        Part::Banner(weighs, words, more) => html! {
            section class={ "banner " (class(*weighs)) } aria-label="What it comes to" {
                p class="headline" { (safe(words)) }
                @for line in more { p { (safe(line)) } }
            }
        },
        Part::List(items) => list(items),
        Part::Table(table) => table_of(table),
        Part::Drawing(name, sheet) => drawing(name, sheet, paper),
        Part::Finding(told) => finding(told, paper),
        Part::Fault(fault) => fault_of(fault, paper),
        Part::Blanks(blanks) => form::blanks(blanks),
        Part::Sign(sign) => form::sign(sign),
        Part::Measure(length) => form::measure(length),
        Part::NewSheet => html! { div class="new-sheet" {} },
    }
}

fn list(items: &[Item]) -> Markup {
    html! {
        ul {
            @for item in items {
                li class=(class(item.weighs)) {
                    @for (to, called) in &item.leads { a href={ "#" (to) } { (safe(called)) } " " }
                    @if !item.leads.is_empty() && !item.words.is_empty() { "(" (safe(&item.words)) ")" }
                    @if item.leads.is_empty() { (safe(&item.words)) }
                }
            }
        }
    }
}

fn table_of(table: &Table) -> Markup {
    html! {
        div class="wide" tabindex="0" role="group" aria-label=(safe(&table.caption)) {
            table class=[table.ruled.then_some("ruled")] {
                caption { (safe(&table.caption)) }
                colgroup { @for share in &table.shares { col style={ "width: " (percent(*share, table)) "%" }; } }
                thead { tr { @for head in &table.head { th scope="col" { (safe(head)) } } } }
                tbody {
                    @for row in &table.rows { tr { @for cell in row { td { (safe(cell)) } } } }
                }
            }
        }
    }
}

/// The share of a column in the width of its table, in hundredths.
fn percent(share: u8, table: &Table) -> u32 {
    let whole: u32 = table.shares.iter().map(|share| u32::from(*share)).sum();
    u32::from(share) * 100 / whole.max(1)
}

fn rows_of(rows: &[(String, String)]) -> Markup {
    html! {
        dl {
            @for (label, words) in rows.iter().filter(|(_, words)| !words.is_empty()) {
                dt { (safe(label)) }
                dd { (safe(words)) }
            }
        }
    }
}

fn finding(told: &Told, paper: &Paper) -> Markup {
    html! {
        article class={ "finding " (class(told.weighs)) @if !told.answers.is_empty() { " row" } } id=(told.anchor)
            data-verdict=(safe(&told.verdict)) data-books={ @for book in &told.books { (safe(book)) " " } } {
            h3 {
                @if let Some(number) = told.number { span class="number" { (number) } " " }
                (safe(&told.title))
                @if !told.thing.is_empty() { ": " (safe(&told.thing)) }
            }
            p class="verdict" { (safe(&told.verdict)) }
            (flagged_on(told, paper))
            @if !told.sentence.is_empty() { p class="found" { (safe(&told.sentence)) } }
            (lines_of(&told.shown, paper))
            (rows_of(&told.rows))
            @if !told.cited.is_empty() {
                dl class="cited" { dt { "clause" } @for clause in &told.cited { dd { (safe(clause)) } } }
            }
            @for answer in &told.answers { (to_fill_in(answer)) }
        }
    }
}

/// Boxes and lines for a pen. Nothing on the page keeps what is typed, so nothing on it can be typed into.
fn to_fill_in(answer: &Answer) -> Markup {
    html! {
        div class="answer" {
            @if let Some((number, of)) = &answer.of {
                p class="of" { span class="number" { (number) } " " (safe(of)) }
            }
            @if !answer.said.is_empty() { p class="said" { (safe(&answer.said)) } }
            @if !answer.ticks.is_empty() {
                p class="ticks" { @for tick in &answer.ticks { span class="tick" { (safe(tick)) } " " } }
            }
            @for label in &answer.write { p class="write" { span { (safe(label)) } span class="line" {} } }
        }
    }
}

/// The drawings that flag a finding.
fn flagged_on(told: &Told, paper: &Paper) -> Markup {
    let drawings: Vec<(&str, &Sheet)> = paper
        .parts
        .iter()
        .filter_map(|part| match part {
            Part::Drawing(name, sheet) => Some((name.as_str(), &**sheet)),
            _ => None,
        })
        .filter(|(_, sheet)| {
            told.number.is_some_and(|number| sheet.marks.iter().any(|mark| mark.flags.contains(&number)))
        })
        .collect();
    html! {
        @if !drawings.is_empty() {
            p class="drawn" { "Shown on: " @for (name, sheet) in drawings {
                a href={ "#" (anchor("drawing", name)) } { (safe(&sheet.title)) } " "
            } }
        }
    }
}

/// A drawing, its flags leading to their findings, and below it what it shows in words.
fn drawing(name: &str, sheet: &Sheet, paper: &Paper) -> Markup {
    let to = |number: usize| {
        paper.parts.iter().find_map(|part| match part {
            Part::Finding(told) if told.number == Some(number) => Some(told.anchor.clone()),
            _ => None,
        })
    };
    html! {
        figure class="drawing" {
            (PreEscaped(svg::inline(sheet, &anchor("layer", name), &to)))
            @if !paper.running.is_empty() { p class="running" { (safe(&paper.running.join(" "))) } }
            figcaption {
                details {
                    summary { "What it shows, in words" }
                    @for part in sheet.twin.iter().filter(|part| !part.lines.is_empty()) {
                        p { (safe(&part.title)) }
                        ul { @for line in &part.lines { li { (safe(line)) } } }
                    }
                }
            }
        }
    }
}

fn fault_of(fault: &Fault, paper: &Paper) -> Markup {
    html! {
        article class={ "fault " (class(fault.weighs)) } {
            h3 { (safe(&fault.what)) }
            (lines_of(&fault.shown, paper))
            (rows_of(&fault.rows))
        }
    }
}

/// The name of a line of a quoted text, if it is quoted.
fn line_name(paper: &Paper, file: &str, line: u32) -> Option<String> {
    paper.quoted.iter().any(|quoted| quoted.name == file).then(|| format!("{}-{line}", anchor("line", file)))
}

fn lines_of(shown: &[Shown], paper: &Paper) -> Markup {
    html! {
        @if !shown.is_empty() {
            ul class="lines" {
                @for one in shown {
                    li {
                        @match line_name(paper, &one.file, one.line) {
                            Some(name) => { a href={ "#" (name) } { "line " (one.line) } }
                            None => { span { (safe(&one.file)) ", line " (one.line) } }
                        }
                        " "
                        code { @for (text, marked) in &one.pieces {
                            @if *marked { mark { (safe(text)) } } @else { (safe(text)) }
                        } }
                        @if !one.notes.is_empty() { span class="note" { " " (safe(&one.notes.join("; "))) } }
                    }
                }
            }
        }
    }
}

/// A quoted text, each line with a name to be led to.
fn source(quoted: &Quoted) -> Markup {
    let name = anchor("line", &quoted.name);
    html! {
        details class="source" {
            summary { "The file " (safe(&quoted.name)) ", line by line" }
            ol {
                @for (at, line) in quoted.lines.iter().enumerate() {
                    li id={ (name) "-" (at + 1) } { code { (safe(line)) } }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::number::{Dimension, Number, Quantity};
    use crate::render::papers::{Blank, Sign};

    /// A paper that says this wherever it says anything.
    fn paper(words: &str) -> Paper {
        let said = || words.to_owned();
        let rows = vec![(said(), said())];
        let shown = vec![Shown {
            file: said(),
            line: 1,
            pieces: vec![(said(), true), (said(), false)],
            notes: vec![said()],
        }];
        let told = |verdict: String| Told {
            number: Some(1),
            anchor: anchor("finding", words),
            weighs: Weighs::Unmet,
            verdict,
            title: said(),
            thing: said(),
            sentence: said(),
            rows: rows.clone(),
            books: vec![said()],
            shown: shown.clone(),
            cited: vec![said()],
            answers: vec![Answer {
                of: Some((1, said())),
                said: said(),
                ticks: vec![said()],
                write: vec![said()],
            }],
        };
        let item = Item { weighs: Weighs::Open, words: said(), leads: vec![(anchor("to", words), said())] };
        Paper {
            title: said(),
            about: vec![said()],
            parts: vec![
                Part::Heading(2, said(), anchor("part", words)),
                Part::Words(said()),
                Part::Banner(Weighs::Stops, said(), vec![said()]),
                Part::List(vec![item]),
                Part::Table(Table {
                    caption: said(),
                    head: vec![said()],
                    rows: vec![vec![said()]],
                    shares: vec![1],
                    ruled: true,
                }),
                Part::Finding(Box::new(told(said()))),
                Part::Finding(Box::new(told(said()))),
                Part::Fault(Box::new(Fault { weighs: Weighs::Open, what: said(), rows, shown })),
                Part::Blanks(vec![Blank { label: said(), words: said(), note: said() }]),
                Part::Sign(Box::new(Sign {
                    lines: vec![(said(), true)],
                    letters: Quantity::of(Number::whole(1), Dimension::LENGTH),
                    copies: 1,
                })),
                Part::Measure(Box::new(Quantity::of(Number::whole(1), Dimension::LENGTH))),
                Part::NewSheet,
            ],
            foot: vec![said()],
            running: vec![said()],
            quoted: vec![Quoted { name: said(), lines: vec![said()] }],
        }
    }

    #[test]
    fn hostile_words_stay_words_in_every_place() {
        let plain = page(&paper("plain"), Size::Letter);
        let outline = |page: &str| -> Vec<String> {
            page.split('<').skip(1).map(|tag| tag.split([' ', '>']).next().unwrap_or("").to_owned()).collect()
        };
        for words in [
            "<script>alert(1)</script>",
            "\"><img src=x onerror=alert(1)>",
            "</style></script></title>",
            "javascript:alert(1)",
            "&lt;b&gt;",
            "a\u{1b}[31m\u{202e}b\u{0}",
        ] {
            let hostile = page(&paper(words), Size::Letter);
            assert_eq!(outline(&hostile), outline(&plain), "{words}");
            assert!(!hostile.contains(['\u{1b}', '\u{202e}', '\u{0}']), "{words}");
            assert!(!hostile.contains("href=\"javascript:"), "{words}");
        }
    }
}
