//! The file that a site visit starts: what was answered as entries, what was left open as lines to fill in.

use super::Answers;
use super::questions::{burns, crawl, opening, slab, sump};
use crate::render::visible::one_line;

/// The file, with what was answered so far.
#[must_use]
pub fn starter(answers: &Answers, file: &str) -> String {
    let mut sheet = Starter { text: String::new(), answers };
    sheet.head(file);
    sheet.job();
    sheet.site();
    sheet.building();
    sheet.foundation();
    sheet.system();
    sheet.text
}

struct Starter<'a> {
    text: String,
    answers: &'a Answers,
}

/// Words that mean something to the reader of a file when they stand without quotes.
fn written(words: &str) -> String {
    let plain = |c: char| {
        c.is_alphanumeric() || matches!(c, ' ' | '.' | ',' | '-' | '/' | '%' | '\'' | '"' | '(' | ')')
    };
    let starts = words.starts_with(|c: char| c.is_alphanumeric());
    if starts && words.chars().all(plain) {
        words.to_owned()
    } else {
        format!("'{}'", words.replace('\'', "''"))
    }
}

impl Starter<'_> {
    fn line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    fn note(&mut self, indent: usize, words: &str) {
        self.line(&format!("{}# {words}", " ".repeat(indent)));
    }

    fn get(&self, question: &str) -> Option<&str> {
        self.answers.get(question).map(String::as_str)
    }

    /// An entry with its answer; left open, a line to fill in.
    fn entry(&mut self, indent: usize, key: &str, question: &str, note: &str) {
        let answer = self.get(question).map(written);
        self.put(indent, key, answer.as_deref(), note);
    }

    /// An entry that nobody was asked about: a line to fill in.
    fn open(&mut self, indent: usize, key: &str, note: &str) {
        self.put(indent, key, None, note);
    }

    fn put(&mut self, indent: usize, key: &str, value: Option<&str>, note: &str) {
        let pad = " ".repeat(indent);
        let entry = match value {
            Some(value) => format!("{pad}{key}: {value}"),
            None => format!("{pad}# {key}:"),
        };
        let gap = " ".repeat(44usize.saturating_sub(entry.chars().count()).max(2));
        let note = if note.is_empty() { String::new() } else { format!("{gap}# {note}") };
        self.line(format!("{entry}{note}").trim_end());
    }

    fn head(&mut self, file: &str) {
        let name = if file.is_empty() { "this file".to_owned() } else { one_line(file).into_owned() };
        self.note(0, "A design, started on a site visit.");
        self.note(
            0,
            "Fill in what you measure, each length with its unit: 10 ft 6 in, 3 1/2 in, 40 ft x 24 ft.",
        );
        self.note(0, "A line that begins with # is not read. Take the # away when you have the answer.");
        self.note(0, "Write unknown where you looked and could not tell, and none where there is none.");
        self.note(0, &format!("See what is still open with: undercroft review {name}"));
        self.line("");
        self.line("undercroft: 1");
        self.line("");
    }

    fn job(&mut self) {
        self.line("job:");
        self.entry(2, "title", "title", "what the job is called");
        self.entry(2, "work", "work", "new system, new house, activation, alteration, fan swap, repair");
        self.line("  stage: design                             # later: installed, operating");
        self.entry(2, "date", "date", "the day, as 2026-05-12");
        self.entry(2, "by", "by", "who drew it up");
        let books: Vec<(String, &str)> = [("adopted", "adopted"), ("information", "for information")]
            .into_iter()
            .filter_map(|(question, standing)| Some((written(self.get(question)?), standing)))
            .filter(|(book, _)| !matches!(book.as_str(), "none" | "unknown"))
            .collect();
        if books.is_empty() {
            self.open(2, "rulebooks", "the books that count: {NAME: adopted}; see undercroft rulebook list");
        } else {
            self.line("  rulebooks:");
            for (book, standing) in books {
                self.line(&format!("    {book}: {standing}"));
            }
        }
        self.line("");
    }

    fn site(&mut self) {
        self.line("looked_for:");
        self.note(
            2,
            "What is not listed below counts as absent only where somebody says here that it was looked for.",
        );
        if self.get("looked") == Some("yes") {
            self.line("  openings:");
            self.line("    within: 20 ft of discharge");
            self.entry(4, "by", "by", "");
            self.entry(4, "on", "date", "");
        } else {
            self.open(2, "openings", "{within: 20 ft of discharge, by: NAME, on: 2026-05-12}");
        }
        for what in ["intakes", "neighbours", "appliances", "drains", "sumps", "walking_surfaces"] {
            self.open(2, what, "");
        }
        self.line("");
        self.line("before_drilling:");
        self.note(2, "Nothing is drilled before these are known.");
        self.entry(2, "utilities_marked", "utilities", "yes, no or unknown");
        self.entry(2, "asbestos_suspected", "asbestos", "floor tile, mastic, pipe wrap");
        if slab(self.answers) {
            self.entry(2, "post_tension", "post-tension", "tensioned cables in the slab");
            self.entry(2, "radiant_tubing", "tubing", "heating tubes in the slab");
            self.entry(2, "ducts_in_slab", "ducts", "air ducts in or under the slab");
        }
        self.line("");
    }

    /// The name of the space below, that the foundation and the system refer to.
    fn below(&self) -> &'static str {
        if slab(self.answers) { "basement" } else { "crawl" }
    }

    fn building(&mut self) {
        self.line("building:");
        self.entry(2, "stories", "stories", "how many storeys above the ground");
        self.open(2, "built", "the year");
        self.line("  spaces:");
        self.note(4, "Each room that the pipe passes, and what lies above it.");
        if slab(self.answers) {
            self.line("    basement:");
            self.line("      kind: basement");
            self.open(6, "conditioned", "heated or cooled: yes or no");
            self.open(6, "occupied", "whether people can stay there");
            self.open(6, "under", "the rooms right above it: [kitchen, hall]");
        }
        if crawl(self.answers) {
            self.line("    crawl:");
            self.line("      kind: crawlspace");
            self.open(6, "conditioned", "heated or cooled: yes or no");
            self.open(6, "under", "the rooms right above it");
        }
        if let Some(place @ ("attic" | "garage")) = self.get("fan-place") {
            let place = place.to_owned();
            self.line(&format!("    {place}:"));
            self.line(&format!("      kind: {place}"));
            self.open(6, "conditioned", "heated or cooled: yes or no");
            self.open(6, "under", "the rooms right above it, or none");
        }
        if opening(self.answers) {
            self.line("    living:");
            self.line("      kind: room");
            self.line("      conditioned: yes");
        }
        self.line("  roof:");
        self.line("    edge:");
        self.entry(6, "above_ground", "roof-edge", "how high the roof edge is where the pipe comes out");
        self.openings();
        self.appliances();
        self.line("");
    }

    fn openings(&mut self) {
        match self.get("opening") {
            Some("none") => self.line("  openings: none"),
            Some(kind) if opening(self.answers) => {
                let kind = written(kind);
                self.line("  openings:");
                self.line("    nearest:");
                self.line(&format!("      kind: {kind}"));
                self.entry(6, "opens", "opening-opens", "whether it can be opened");
                self.line("      into: living");
                self.line("      from_discharge:");
                self.entry(
                    8,
                    "straight",
                    "opening-distance",
                    "along a straight tape, from the rim of the pipe",
                );
                self.entry(8, "top_below", "opening-below", "how far its top lies below the end of the pipe");
                self.entry(8, "around", "opening-around", "the tape drawn tight around what stands between");
            }
            _ => {
                self.note(
                    2,
                    "openings: one entry to each window, door and skylight near the end of the pipe:",
                );
                self.note(2, "  kitchen_window: {kind: window, opens: yes, into: kitchen, from_discharge: {straight: 14 ft}}");
            }
        }
    }

    fn appliances(&mut self) {
        let below = self.below();
        match self.get("fuel") {
            Some("none") => self.line("  appliances: none"),
            Some(fuel) if burns(self.answers) => {
                let fuel = written(fuel);
                self.line("  appliances:");
                self.line("    largest:");
                self.open(6, "kind", "water heater, furnace, boiler, fireplace, stove");
                self.line(&format!("      fuel: {fuel}"));
                self.entry(6, "venting", "venting", "natural draft, power vented, direct vent, unvented");
                self.open(6, "in", &format!("the space it stands in, such as {below}"));
            }
            _ => self.open(
                2,
                "appliances",
                "what burns fuel: {water_heater: {fuel: gas, venting: natural draft}}",
            ),
        }
    }

    fn foundation(&mut self) {
        self.line("foundation:");
        self.line("  areas:");
        self.note(4, "Each part that a footing cuts off is an area of its own.");
        if slab(self.answers) {
            self.line("    slab:");
            self.line("      kind: slab");
            self.line("      in: basement");
            self.entry(6, "size", "slab", "length and width inside the walls");
            self.line("      under_slab:");
            self.entry(
                8,
                "kind",
                "under-slab",
                "gravel, sand, clay, soil; a clean dry bit usually means gravel",
            );
            self.open(8, "depth", "how deep it is");
        }
        if crawl(self.answers) {
            self.line("    crawl_floor:");
            self.line("      kind: crawlspace");
            self.line("      in: crawl");
            self.entry(6, "size", "crawl", "length and width");
            self.line("      membrane:");
            self.open(8, "thickness", "of the sheet: 6 mil");
            self.open(8, "lap", "how far the sheets overlap: 12 in");
            self.open(8, "seams", "sealed or loose");
            self.open(8, "edges", "{sealed: yes, fixed: yes, turn_up: 8 in}");
        }
        if sump(self.answers) {
            self.line("  sumps:");
            self.line("    pit:");
            self.line("      in: basement");
            self.line("      lid:");
            self.entry(8, "sealed", "sump-lid", "whether it is sealed");
            self.open(6, "still_pumps", "whether the pump still pumps with the lid on");
        } else {
            self.open(2, "sumps", "none, or what there is");
        }
        self.open(2, "drains", "none, or what there is");
        self.line("");
    }

    fn system(&mut self) {
        let below = self.below();
        self.line("systems:");
        self.line("  main:");
        self.line("    kind: active");
        self.line("    fan:");
        let place = self.get("fan-place").map(|place| match place {
            "crawlspace" => "crawl".to_owned(),
            "basement" if below != "basement" => "crawl".to_owned(),
            other => written(other),
        });
        self.put(6, "in", place.as_deref(), "the space the fan stands in, or outdoors");
        self.open(6, "axis", "vertical, horizontal or sloped");
        self.line("    discharge:");
        self.entry(6, "above_roof", "above-roof", "straight up from the roof at the uphill side of the pipe");
        self.entry(6, "direction", "direction", "up, level or down");
        self.open(6, "above_roof_edge", "how far above the nearest edge of the roof");
        self.open(6, "above_ground", "how far above the ground below");
        self.line("    pipe:");
        self.open(6, "material", "PVC, ABS");
        self.open(6, "schedule", "40");
        self.open(6, "size", "4 in");
        self.note(4, "runs: the pipe, piece by piece, outward from the fan, as one lays it:");
        self.note(4, "  riser: {from: fan, down: 11 ft 2 in, size: 4 in, through: [attic, basement]}");
        self.line("    suction_points:");
        if slab(self.answers) {
            self.line("      s1:");
            self.line("        kind: slab");
            self.line("        in: slab");
            self.open(8, "from_walls", "{north: 2 ft, east: 10 ft}");
        }
        if crawl(self.answers) {
            self.line("      s2:");
            self.line("        kind: membrane");
            self.line("        in: crawl_floor");
        }
        if sump(self.answers) {
            self.line("      s3:");
            self.line("        kind: sump");
            self.line("        sump: pit");
        }
        self.line("    gauge:");
        self.open(6, "kind", "what shows that the fan draws");
        self.open(6, "in", &format!("where it is seen, such as {below}"));
        self.open(6, "range", "5 in WC");
    }
}

#[cfg(test)]
mod tests {
    use super::super::QUESTIONS;
    use super::*;
    use crate::review::problems_of;

    /// Answers to every question of a foundation, each the example that the question shows or its first word.
    fn full(foundation: &str) -> Answers {
        let mut answers = Answers::new();
        answers.insert("foundation", foundation.to_owned());
        for question in QUESTIONS.iter().filter(|question| question.name != "foundation") {
            let words = question.words.first().copied().unwrap_or(question.takes);
            answers.insert(question.name, words.to_owned());
        }
        answers
    }

    #[test]
    fn every_starter_reads_cleanly_answered_blank_or_unknown() {
        for foundation in super::super::questions::FOUNDATIONS {
            let mut blank = Answers::new();
            blank.insert("foundation", (*foundation).to_owned());
            let mut unknown = blank.clone();
            for question in QUESTIONS.iter().filter(|question| question.name != "foundation") {
                unknown.insert(question.name, "unknown".to_owned());
            }
            for answers in [blank, unknown, full(foundation)] {
                let text = starter(&answers, "house.yaml");
                assert_eq!(problems_of(&text), Vec::new(), "{foundation}\n{text}");
                assert!(text.lines().all(|line| line.trim_end() == line));
            }
        }
    }

    #[test]
    fn one_word_at_a_time_every_offered_answer_reads_cleanly() {
        for question in QUESTIONS {
            for word in question.words {
                let mut answers = full("both");
                answers.insert(question.name, (*word).to_owned());
                assert_eq!(problems_of(&starter(&answers, "")), Vec::new(), "{}: {word}", question.name);
            }
        }
    }

    #[test]
    fn hostile_answers_stay_inside_their_entry() {
        for words in ["a: b # c", "- x", "{a: 1}", "it's", "\"", "&a *b", "%x", "| y", "5' 6\""] {
            let mut answers = full("slab");
            answers.insert("title", words.to_owned());
            let text = starter(&answers, "");
            let problems = problems_of(&text);
            assert_eq!(problems, Vec::new(), "{words}\n{text}");
        }
    }
}
