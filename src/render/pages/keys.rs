//! The keys of a design file on a page: what each says, what may be written, an example. As a whole for paper, or
//! a part of it on a terminal.

use super::WIDTH;
use crate::design::keys::{Part, Sort, Way, parts};
use crate::render::terminal::Look;
use crate::render::terminal::sheet::{Sheet, Tone, capital, sentence, wrap};

const HEAD: &str = "\
# The keys of a design file

Everything that can be written in a design file, section by section, in the order in which one writes it. For each key
there is an example line, then what it says and what may be written. This page is made from the program itself.

How to read it, and how to write a file:

- An entry is a key, a colon, a space and a value. What belongs to a section stands under it, two spaces further in:

  ```yaml
  systems:
    main:
      fan:
        in: attic
        axis: vertical
  ```

  or in braces on one line, which means the same: `fan: {in: attic, axis: vertical}`. The heading over that part of
  this page is `systems.NAME.fan`.
- NAME is a name that you choose: of a system, a room, a window, a pipe. Other entries refer to a thing by that name.
- No key has to be there. What is not stated is asked for when a requirement needs it.
- Every entry may be `unknown` (looked at, could not be told) or `none` (there is none).
- Every quantity carries its unit: `10 ft 6 in`, `3 1/2 in`, `1/4 in per ft`, `1.25 in WC`, `40 cfm`, `6 mil`, `90 mm`.
- A quantity that was measured may say so: `{value: 11 ft, within: 1 in, by: J. Ames, on: 2026-05-14}`; `how:` is measured,
  designed, assumed, from a sheet, or told; `verified_by:` who checked it.
- Places and heights can be given in coordinates. Their origin is a point that you choose and describe at `site.origin`:
  a corner of the basement floor, say. The first number runs east from there, the second north, the third up. Nobody has to
  use them: heights above the ground or the roof, distances off two walls and tapes from the discharge will do.
- A part that is written the same way in several places stands once, at the end.
";

/// The whole page, for paper.
#[must_use]
pub fn page() -> String {
    let mut text = HEAD.to_owned();
    for part in parts() {
        let depth = part.path.len().clamp(1, 2) + 1;
        text.push_str(&format!("\n{} {}\n\n{}\n\n", "#".repeat(depth), heading(part), flowing(&part.about)));
        for (key, way) in &part.keys {
            text.push_str(&format!("- `{}`\n", line(key, way)));
            for line in wrap(&said(way), WIDTH - 2, WIDTH - 2) {
                text.push_str(&format!("  {line}\n"));
            }
        }
    }
    text
}

/// Some parts of it, for a terminal.
#[must_use]
pub fn some(parts: &[Part], look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    for part in parts {
        sheet.heading(&heading(part), Tone::Heading);
        sheet.paragraph(0, &part.about, Tone::Quiet);
        for (key, way) in &part.keys {
            sheet.blank();
            sheet.paragraph(2, &line(key, way), Tone::Heading);
            sheet.paragraph(4, &said(way), Tone::Ink);
        }
    }
    sheet.finish()
}

/// Where the parts of a file stand, for somebody who does not know what to ask for.
#[must_use]
pub fn contents(look: &Look) -> String {
    let mut sheet = Sheet::new(look);
    sheet.paragraph(0, "The parts of a design file", Tone::Heading);
    sheet.blank();
    let rows: Vec<Vec<String>> = parts().iter().map(|part| vec![heading(part), first(&part.about)]).collect();
    sheet.table(&rows, Tone::Ink);
    sheet.blank();
    sheet.paragraph(0, "See one of them with: undercroft site-visit --keys discharge", Tone::Quiet);
    sheet.finish()
}

fn heading(part: &Part) -> String {
    let title = part.title();
    if title == "design file" { "the file".to_owned() } else { title }
}

/// The example line of a key: the key alone where what stands under it has a part of this page, and an example of its
/// own was not declared.
fn line(key: &str, way: &Way) -> String {
    let inside = |sort: &Sort| match sort {
        Sort::Record(_) => true,
        Sort::Named(each) | Sort::List(each) => each.iter().all(|sort| matches!(sort, Sort::Record(_))),
        Sort::Words(_) | Sort::Value(_) => false,
    };
    let declared = way.about.contains(&format!("`{}`", way.example));
    if way.sorts.iter().all(inside) && !declared {
        format!("{key}:")
    } else {
        format!("{key}: {}", way.example)
    }
}

fn first(about: &str) -> String {
    about.split_once(". ").map_or(about, |(first, _)| first).trim_end_matches('.').to_owned()
}

fn flowing(about: &str) -> String {
    wrap(about, WIDTH, WIDTH).join("\n")
}

/// What a key says and what may be written there.
fn said(way: &Way) -> String {
    let what: Vec<String> = way.sorts.iter().map(|sort| in_words(sort, false)).collect();
    format!("{} {}", sentence(&way.about), sentence(&capital(&what.join("; or "))))
}

fn in_words(sort: &Sort, several: bool) -> String {
    match sort {
        Sort::Words(words) => {
            let meant = |(word, meaning): &(String, String)| match meaning.as_str() {
                "" => word.clone(),
                meaning => format!("{word} ({meaning})"),
            };
            let words: Vec<String> = words.iter().map(meant).collect();
            match words.as_slice() {
                [one, other] if !one.contains('(') => format!("{one} or {other}"),
                _ => format!("one of: {}", words.join(", ")),
            }
        }
        Sort::Value(what) => what.clone(),
        Sort::Record(record) => {
            let part = parts().iter().find(|part| part.record == *record);
            let title = part.map(heading).unwrap_or_default();
            if several { format!("the keys of {title}") } else { format!("keys of its own: see {title}") }
        }
        Sort::Named(each) => format!("names that you choose, each with {}", alternatives(each)),
        Sort::List(each) => format!("a list in brackets, each member {}", alternatives(each)),
    }
}

fn alternatives(each: &[Sort]) -> String {
    let each: Vec<String> = each.iter().map(|sort| in_words(sort, true)).collect();
    each.join(", or ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_part_that_a_key_points_to_is_on_the_page() {
        let page = page();
        let headings: Vec<&str> = page.lines().filter_map(|line| line.strip_prefix('#')).collect();
        let headings: Vec<&str> = headings.iter().map(|line| line.trim_matches(['#', ' '])).collect();
        for part in parts() {
            assert!(headings.contains(&heading(part).as_str()), "{}", heading(part));
        }
        assert!(!page.contains("see .") && !page.contains("keys of ,"));
    }
}
