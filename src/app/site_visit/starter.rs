//! The file that a site visit starts: what was answered as entries, what was left open as lines to fill in.

use super::Answers;
use super::questions::{AND, burns, crawl, opening, slab, something, sump};
use crate::design::keys::{Sort, way};
use crate::render::visible::one_line;

/// The rulebook that is shown for information where none was chosen.
pub const WITHOUT_BOOK: &str = "epa-1994";

/// What somebody has to have looked for, beside the openings.
const LOOKED_FOR: &[&str] = &[
    "obstacles",
    "intakes",
    "walls_above",
    "chimneys",
    "neighbours",
    "walking_surfaces",
    "appliances",
    "air_movers",
    "spaces",
    "passages",
    "fire_rated",
    "areas",
    "walls",
    "drains",
    "sumps",
    "joints",
    "ducts",
];

/// In which column the notes on open entries begin.
const NOTES: usize = 34;

/// The file, with what was answered so far.
#[must_use]
pub fn starter(answers: &Answers, file: &str) -> String {
    let mut sheet = Starter { text: String::new(), answers, at: Vec::new() };
    sheet.head(file);
    sheet.job();
    sheet.site();
    sheet.building();
    sheet.foundation();
    sheet.system();
    sheet.records();
    sheet.text
}

struct Starter<'a> {
    text: String,
    answers: &'a Answers,
    /// The keys of the sections that are open.
    at: Vec<String>,
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

impl<'a> Starter<'a> {
    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn pad(&self) -> String {
        "  ".repeat(self.at.len())
    }

    fn note(&mut self, words: &str) {
        let pad = self.pad();
        self.line(&format!("{pad}# {words}"));
    }

    fn get(&self, question: &str) -> Option<&'a str> {
        self.answers.get(question).map(String::as_str)
    }

    /// A section with what stands in it.
    fn section(&mut self, key: &str, inside: impl FnOnce(&mut Self)) {
        let pad = self.pad();
        self.line(&format!("{pad}{key}:"));
        self.at.push(key.to_owned());
        inside(self);
        self.at.pop();
    }

    /// An entry that is known.
    fn stated(&mut self, key: &str, value: &str) {
        let pad = self.pad();
        self.line(&format!("{pad}{key}: {value}"));
    }

    /// An entry with its answer; left open, a line to fill in.
    fn entry(&mut self, key: &str, question: &str, example: &str) {
        match self.get(question).map(written) {
            Some(value) => self.stated(key, &value),
            None => self.open(key, example),
        }
    }

    /// An entry that nobody has answered: a line to fill in, which says what the entry is, what may be written, and
    /// an example. Without an example of its own it is that of the declaration of the key.
    fn open(&mut self, key: &str, example: &str) {
        let mut path = self.at.clone();
        path.push(key.to_owned());
        let known = |question| self.get(question).filter(|said| *said != "unknown");
        let way = way(&path.join(".")).map(|way| way.clone().told_by(known("by"), known("date")));
        let words = match &way {
            Some(way) if matches!(way.sorts.as_slice(), [Sort::Words(_)]) => {
                format!(" ({})", way.offered().join(", "))
            }
            _ => String::new(),
        };
        let declared = way.as_ref().map_or("", |way| way.example.as_str());
        let example = if example.is_empty() { declared } else { example };
        // An example that the description shows stands at the end of the line anyhow.
        let about = way.as_ref().map_or("", |way| way.first_sentence());
        let about = about.split(": `").next().unwrap_or("").replace('`', "");
        let front = format!("{}# {key}:", self.pad());
        let gap = " ".repeat(NOTES.saturating_sub(front.chars().count()).max(2));
        self.line(&format!("{front}{gap}# {about}{words}; for instance: {example}"));
    }

    fn head(&mut self, file: &str) {
        let name = if file.is_empty() { "this file".to_owned() } else { one_line(file).into_owned() };
        self.note("A design, started on a site visit.");
        self.note(
            "Fill in what you measure, each length with its unit: 10 ft 6 in, 3 1/2 in, 40 ft x 24 ft.",
        );
        self.note("A line that begins with # is not read. When you have the answer, take that # away and write the answer");
        self.note("behind the colon. What stands behind the next # says what is meant and shows how it is written; it may stay.");
        self.note("Write unknown where you looked and could not tell, and none where there is none.");
        self.note(&format!("See what is still open with: undercroft review {name}"));
        self.line("");
        self.line("undercroft: 1");
        self.line("");
    }

    fn job(&mut self) {
        self.section("job", |it| {
            it.entry("title", "title", "");
            it.entry("work", "work", "");
            it.entry("stage", "stage", "");
            it.entry("date", "date", "");
            it.entry("by", "by", "");
            it.open("investigated", "");
            it.open("earlier_tests_seen", "");
            it.open("codes", "{electrical code: 2017}");
            let books: Vec<(String, &str)> =
                [("adopted", "adopted"), ("contract", "by contract"), ("information", "for information")]
                    .into_iter()
                    .filter(|(question, _)| something(it.answers, question))
                    .flat_map(|(question, standing)| {
                        let named = it.get(question).unwrap_or_default().split(AND);
                        named.map(move |book| (written(book), standing))
                    })
                    .collect();
            it.section("rulebooks", |it| {
                for (book, standing) in &books {
                    it.stated(book, standing);
                }
                if books.is_empty() {
                    it.note("No rulebook was chosen. This one is shown for information and decides nothing.");
                    it.note("See which there are with: undercroft rulebook list");
                    it.stated(WITHOUT_BOOK, "for information");
                }
            });
        });
        self.line("");
    }

    fn site(&mut self) {
        self.section("site", |it| {
            it.note(
                "Heights above the ground need no more than this; coordinates are for whoever likes them.",
            );
            it.open("ground", "");
        });
        self.line("");
        self.section("looked_for", |it| {
            it.note("What is not listed in this file counts as absent only where somebody says here that he looked for it.");
            if it.get("looked") == Some("yes") {
                it.section("openings", |it| {
                    it.stated("within", "20 ft of discharge");
                    it.entry("by", "by", "");
                    it.entry("on", "date", "");
                });
            } else {
                it.open("openings", "");
            }
            for what in LOOKED_FOR {
                it.open(what, "");
            }
        });
        self.line("");
        self.section("before_drilling", |it| {
            it.note("Nothing is drilled before these are known.");
            it.entry("utilities_marked", "utilities", "yes");
            it.entry("asbestos_suspected", "asbestos", "no");
            it.open("asbestos", "");
            it.entry("vermiculite", "vermiculite", "no");
            it.entry("post_tension", "post-tension", "no");
            it.entry("radiant_tubing", "tubing", "no");
            it.entry("ducts_in_slab", "ducts", "no");
        });
        self.line("");
    }

    /// The name of the space over the slab, if it was said what the slab is the floor of.
    fn over_slab(&self) -> Option<&'static str> {
        match self.get("floor") {
            Some("basement") => Some("basement"),
            Some("ground") => Some("ground_floor"),
            _ => None,
        }
    }

    /// The spaces that the answers speak of, each with its kind if that was said.
    fn spaces(&self) -> Vec<(String, Option<&'a str>)> {
        let mut spaces: Vec<(String, Option<&'a str>)> = Vec::new();
        if slab(self.answers) {
            let kind = match self.get("floor") {
                Some("basement") => Some("basement"),
                _ => Some("room"),
            };
            spaces.extend(self.over_slab().map(|name| (name.to_owned(), kind)));
        }
        if crawl(self.answers) {
            spaces.push(("crawl".to_owned(), Some("crawlspace")));
        }
        let fan = self.get("fan-place").filter(|place| !matches!(*place, "outdoors" | "unknown"));
        spaces.extend(fan.map(|place| (self.space_called(place), Some(place))));
        if burns(self.answers) || opening(self.answers) {
            let room = self.get("opening-room").filter(|_| something(self.answers, "opening-room"));
            spaces.extend(room.map(|room| (written(room), None)));
        }
        let mut kept: Vec<(String, Option<&'a str>)> = Vec::new();
        for (name, kind) in spaces {
            if !kept.iter().any(|(other, _)| *other == name) {
                kept.push((name, kind));
            }
        }
        kept
    }

    /// What the space is called that was said to be an attic, a crawlspace and so on.
    fn space_called(&self, place: &str) -> String {
        if place == "crawlspace" { "crawl".to_owned() } else { written(place) }
    }

    fn building(&mut self) {
        self.section("building", |it| {
            it.entry("stories", "stories", "1");
            it.open("built", "1962");
            it.open("air_changed", "no");
            it.open("air_changes_seen_by", "");
            let spaces = it.spaces();
            if spaces.is_empty() {
                it.note("Each room that the pipe passes, what is in it, and what lies above it:");
                it.open(
                    "spaces",
                    "{attic: {kind: attic, conditioned: no, occupied: no, below_grade: no, under: none}}",
                );
            } else {
                it.section("spaces", |it| {
                    it.note("Each room that the pipe passes, what is in it, and what lies above it.");
                    for (name, kind) in &spaces {
                        it.space(name, *kind);
                    }
                });
            }
            it.section("roof", |it| {
                match it.get("roof-edge").map(written) {
                    Some(edge) => it.stated("edge", &format!("{{above_ground: {edge}}}")),
                    None => it.open("edge", ""),
                }
                it.open("walls_above", "none");
            });
            it.openings();
            it.appliances();
        });
        self.line("");
    }

    fn space(&mut self, name: &str, kind: Option<&str>) {
        self.section(name, |it| {
            match kind {
                Some(kind) => it.stated("kind", &written(kind)),
                None => it.open("kind", ""),
            }
            let cold = matches!(kind, Some("attic" | "crawlspace" | "garage"));
            let room = it.get("opening-room").is_some_and(|room| written(room) == name);
            match it.get("opening-heated").filter(|_| room && kind.is_none()).map(written) {
                Some(heated) => it.stated("conditioned", &heated),
                None => it.open("conditioned", if cold { "no" } else { "yes" }),
            }
            it.open("occupied", if cold { "no" } else { "yes" });
            if matches!(kind, Some("crawlspace") | None) {
                it.open("aired_against_radon", "no");
                it.open("vents_shut", "no");
            }
            it.open("below_grade", if matches!(kind, Some("basement")) { "yes" } else { "no" });
            it.open("under", "none");
        });
    }

    /// What was tried before the design, and what is on paper.
    fn records(&mut self) {
        self.line("");
        self.section("diagnostics", |it| {
            it.open("sniffs", "{wall: {reading: 220 pCi/L}}");
            it.open("communication", "{first: {suction: 8 in WC}}");
        });
        if burns(self.answers) {
            self.section("start_up", |it| {
                it.section("spillage", |it| it.section("first", |it| it.open("before", "")));
            });
        }
        self.section("papers", |it| it.open("list", "{plan: {kind: floor plan, done: yes}}"));
    }

    fn openings(&mut self) {
        match self.get("opening") {
            Some("none") => self.stated("openings", "none"),
            Some(kind) if opening(self.answers) => {
                let kind = written(kind);
                self.section("openings", |it| {
                    it.section("nearest", |it| {
                        it.stated("kind", &kind);
                        it.entry("opens", "opening-opens", "");
                        let room = it.spaces().into_iter().next_back().map(|(name, _)| name).unwrap_or_default();
                        it.entry("into", "opening-room", &room);
                        it.section("from_discharge", |it| {
                            it.entry("straight", "opening-distance", "14 ft");
                            it.entry("top_below", "opening-below", "");
                            it.entry("around", "opening-around", "14 ft");
                        });
                    });
                });
            }
            _ => self.open(
                "openings",
                "{bath_window: {kind: window, opens: yes, from_discharge: {straight: 14 ft, around: 14 ft, top_below: 8 ft 6 in}}}",
            ),
        }
    }

    fn appliances(&mut self) {
        match self.get("fuel") {
            Some("none") => self.stated("appliances", "none"),
            Some(fuel) if burns(self.answers) => {
                let fuel = written(fuel);
                let place = self.spaces().into_iter().next().map(|(name, _)| name).unwrap_or_default();
                self.section("appliances", |it| {
                    it.section("first", |it| {
                        it.entry("kind", "appliance", "");
                        it.stated("fuel", &fuel);
                        it.entry("venting", "venting", "");
                        it.open("in", &place);
                    });
                });
            }
            _ => self.open(
                "appliances",
                "{water_heater: {kind: water heater, fuel: gas, venting: natural draft}}",
            ),
        }
    }

    fn foundation(&mut self) {
        let over = self.over_slab().unwrap_or("");
        self.section("foundation", |it| {
            if slab(it.answers) || crawl(it.answers) {
                it.section("areas", |it| {
                    it.note("Each part that a footing cuts off is an area of its own.");
                    it.areas(over);
                });
            } else {
                it.open("areas", "");
            }
            if sump(it.answers) {
                it.section("sumps", |it| {
                    it.section("pit", |it| {
                        if over.is_empty() {
                            it.open("in", "")
                        } else {
                            it.stated("in", over)
                        }
                        it.section("lid", |it| {
                            it.entry("sealed", "sump-lid", "yes");
                            it.open("fastened", "");
                            it.open("removable", "");
                            it.open("view_port", "");
                            it.open("rigid", "");
                            it.open("floor_inlet", "none");
                        });
                        it.open("still_pumps", "");
                        it.open("takes_floor_water", "no");
                        it.open("pipe_detachable", "");
                        it.open("pump", "");
                    });
                });
            } else {
                it.open("sumps", "none");
            }
            it.open("drains", "none");
            it.open("joints", "none");
        });
        self.line("");
    }

    fn areas(&mut self, over: &str) {
        if slab(self.answers) {
            self.section("slab", |it| {
                it.stated("kind", "slab");
                if over.is_empty() {
                    it.open("in", "")
                } else {
                    it.stated("in", over)
                }
                it.entry("size", "slab", "40 ft x 24 ft");
                it.section("under_slab", |it| {
                    it.entry("kind", "under-slab", "");
                    it.open("depth", "");
                });
            });
        }
        if crawl(self.answers) {
            self.section("crawl_floor", |it| {
                it.stated("kind", "crawlspace");
                it.stated("in", "crawl");
                it.entry("size", "crawl", "20 ft x 16 ft");
                it.section("membrane", |it| {
                    it.open("material", "");
                    it.open("thickness", "");
                    it.open("lap", "");
                    it.open("seams", "");
                    it.open("edges", "{sealed: yes, fixed: yes, turn_up: 8 in}");
                    it.open("covers_all", "");
                    it.open("penetrations", "none");
                });
                it.open("bare_soil", "0 sq ft");
                it.open("piers", "0");
            });
        }
    }

    fn system(&mut self) {
        let spaces = self.spaces();
        let fan = self.get("fan-place").filter(|_| something(self.answers, "fan-place"));
        let fan = fan.map(|place| self.space_called(place));
        let inside = spaces.first().map_or("outdoors".to_owned(), |(name, _)| name.clone());
        let place = fan.clone().unwrap_or_else(|| inside.clone());
        let point = if slab(self.answers) {
            "{s1: {kind: slab, in: slab, from_walls: {north: 2 ft, east: 10 ft}, carried_by: hangers}}"
        } else if crawl(self.answers) {
            "{s1: {kind: membrane, in: crawl_floor, carried_by: hangers}}"
        } else {
            "{s1: {kind: slab, carried_by: hangers}}"
        };
        let along = if place == inside { place.clone() } else { format!("{place}, {inside}") };
        let up = if place == "outdoors" { "outdoors".to_owned() } else { format!("{place}, outdoors") };
        let runs = format!(
            "{{stack: {{from: fan, up: 5 ft 6 in, to: discharge, size: 4 in, through: [{up}], pierces: {{roof: {{flashing: yes}}}}}}, \
             riser: {{from: fan, down: 11 ft, to: s1, size: 4 in, through: [{along}]}}}}"
        );
        self.section("systems", |it| {
            it.section("main", |it| {
                match fan.is_some() {
                    // Whoever says where the fan stands says that there is one.
                    true => it.stated("kind", "active"),
                    false => it.open("kind", "active"),
                }
                it.section("fan", |it| {
                    match &fan {
                        Some(place) => it.stated("in", place),
                        None => it.entry("in", "fan-place", &inside),
                    }
                    it.open("axis", "");
                    it.open("in_well", "no");
                    it.open("couplings", "flexible coupling");
                    it.open("sealed_housing", "");
                    it.open("condensate_bypass", "no");
                    it.open("listed", "yes");
                    it.open("curve", "[[0 cfm, 4.2 in WC, 95 W], [140 cfm, 0 in WC, 70 W]]");
                });
                it.section("discharge", |it| {
                    it.entry("above_roof", "above-roof", "22 in");
                    it.entry("direction", "direction", "");
                    it.open("through_side_wall", "no");
                    it.open("height", "");
                    it.open("cap", "none");
                });
                it.section("design_point", |it| {
                    it.open("flow", "60 cfm");
                    it.open("suction", "1.8 in WC");
                });
                it.section("pipe", |it| {
                    it.open("material", "");
                    it.open("schedule", "40");
                    it.open("size", "");
                    it.open("joints", "");
                });
                it.note("The pipe, piece by piece, outward from the fan, as one lays it, and the places where it draws.");
                it.open("runs", &runs);
                it.open("suction_points", point);
                let where_it_is = if spaces.is_empty() { String::new() } else { format!(" in: {inside},") };
                it.open("gauge", &format!("{{kind: U-tube manometer,{where_it_is} range: 5 in WC}}"));
                it.open("alarm", "none");
                it.open("labels", "{pipe_label: {on: pipe, says: [what it is]}}");
                it.section("wiring", |it| {
                    it.open("connection", "");
                    it.open("circuit", "{breaker: 15 A, other_loads: none}");
                    it.open("cord", "none");
                    it.open("disconnect", "");
                    it.open("through", &format!("[{place}]"));
                    it.open("in_pipe", "no");
                });
            });
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::questions::{FLOORS, FOUNDATIONS};
    use super::super::{QUESTIONS, Takes};
    use super::*;
    use crate::review::problems_of;

    /// Answers to every question of a foundation, each the example that the question shows.
    fn full(foundation: &str) -> Answers {
        let mut answers = Answers::new();
        for question in QUESTIONS {
            let words = if question.takes == Takes::Book { "none" } else { question.example };
            answers.insert(question.name, words.to_owned());
        }
        answers.insert("adopted", "pennsylvania-2019".to_owned());
        answers.insert("foundation", foundation.to_owned());
        answers
    }

    #[test]
    fn every_starter_reads_cleanly_answered_blank_or_unknown() {
        for foundation in FOUNDATIONS {
            let mut blank = Answers::new();
            blank.insert("foundation", (*foundation).to_owned());
            let mut unknown = blank.clone();
            for question in QUESTIONS.iter().filter(|question| question.name != "foundation") {
                unknown.insert(question.name, "unknown".to_owned());
            }
            for answers in [Answers::new(), blank, unknown, full(foundation)] {
                let text = starter(&answers, "house.yaml");
                assert_eq!(problems_of(&text), Vec::new(), "{foundation}\n{text}");
                assert!(text.lines().all(|line| line.trim_end() == line));
            }
        }
    }

    #[test]
    fn one_word_at_a_time_every_offered_answer_reads_cleanly() {
        for question in QUESTIONS {
            let Takes::Words(words) = question.takes else { continue };
            for word in words {
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

    /// Nothing that nobody answered is in the file: without its notes a file of no answers states the version and a
    /// book for information, and with one answer more that answer and nothing else of the house.
    #[test]
    fn what_nobody_answered_is_not_stated() {
        let stated = |answers: &Answers| -> Vec<String> {
            let text = starter(answers, "");
            let lines = text.lines().map(|line| line.split(" #").next().unwrap_or("").trim().to_owned());
            lines.filter(|line| !line.starts_with('#') && line.contains(": ")).collect()
        };
        assert_eq!(stated(&Answers::new()), ["undercroft: 1", "epa-1994: for information"]);
        let mut answers = Answers::new();
        answers.insert("foundation", "slab".to_owned());
        assert!(!starter(&answers, "").contains("kind: basement"));
        assert_eq!(stated(&answers), ["undercroft: 1", "epa-1994: for information", "kind: slab"]);
        answers.insert("floor", "ground".to_owned());
        let text = starter(&answers, "");
        assert!(text.contains("ground_floor:") && !text.contains("basement:"), "{text}");
        assert_eq!(FLOORS, ["basement", "ground"]);
    }
}
