//! The questions, in the order of a walk through the house.

use super::Answers;
use crate::base::near::nearest;
use crate::render::visible::one_line;

/// One question.
#[derive(Clone, Copy, Debug)]
pub struct Question {
    /// Its name, by which it can be answered beforehand.
    pub name: &'static str,
    /// What it is about, in a word or two.
    pub short: &'static str,
    /// What is asked.
    pub ask: &'static str,
    /// An answer it takes.
    pub takes: &'static str,
    /// The words it takes, if it takes no others.
    pub words: &'static [&'static str],
    /// Whether it is asked after these answers.
    pub when: fn(&Answers) -> bool,
}

impl Question {
    /// What is said against an answer that is none of the words it takes.
    pub(super) fn refuses(&self, words: &str) -> Option<String> {
        if self.words.is_empty() || words == "unknown" || self.words.contains(&words) {
            return None;
        }
        let near = nearest(words, self.words.iter().copied());
        let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
        Some(format!(
            "\"{}\" is not one of the answers.{hint} It takes: {}.",
            one_line(words),
            self.words.join(", ")
        ))
    }
}

const YES_NO: &[&str] = &["yes", "no"];

/// Under what the house stands.
pub(super) const FOUNDATIONS: &[&str] = &["slab", "crawlspace", "both", "sump"];

fn always(_: &Answers) -> bool {
    true
}

fn foundation(answers: &Answers) -> &str {
    answers.get("foundation").map_or("slab", String::as_str)
}

/// Whether there is a slab.
pub(super) fn slab(answers: &Answers) -> bool {
    foundation(answers) != "crawlspace"
}

/// Whether there is bare soil under a floor.
pub(super) fn crawl(answers: &Answers) -> bool {
    matches!(foundation(answers), "crawlspace" | "both")
}

/// Whether there is a pit for water in the slab.
pub(super) fn sump(answers: &Answers) -> bool {
    foundation(answers) == "sump"
}

/// Whether something burns fuel, as far as is known.
pub(super) fn burns(answers: &Answers) -> bool {
    answers.get("fuel").is_some_and(|fuel| !matches!(fuel.as_str(), "none" | "unknown"))
}

/// Whether an opening was named.
pub(super) fn opening(answers: &Answers) -> bool {
    answers.get("opening").is_some_and(|opening| !matches!(opening.as_str(), "none" | "unknown"))
}

/// All of them.
pub const QUESTIONS: &[Question] = &[
    Question {
        name: "title",
        short: "a name for the job",
        ask: "What is the job called?",
        takes: "Ranch on Mill Road",
        words: &[],
        when: always,
    },
    Question {
        name: "by",
        short: "who looks",
        ask: "Who is looking?",
        takes: "J. Ames",
        words: &[],
        when: always,
    },
    Question {
        name: "date",
        short: "the day",
        ask: "Which day is it?",
        takes: "2026-05-12",
        words: &[],
        when: always,
    },
    Question {
        name: "work",
        short: "the kind of work",
        ask: "What kind of work is it?",
        takes: "new system",
        words: &[
            "new system",
            "new house",
            "activation",
            "alteration",
            "fan swap",
            "repair",
            "taken over",
            "temporary",
        ],
        when: always,
    },
    Question {
        name: "stories",
        short: "how many storeys",
        ask: "How many storeys does the house have above the ground?",
        takes: "2",
        words: &[],
        when: always,
    },
    Question {
        name: "adopted",
        short: "the rulebook that is law",
        ask: "Which rulebook is law here, or asked for by contract? (undercroft rulebook list shows them)",
        takes: "pennsylvania-2019",
        words: &[],
        when: always,
    },
    Question {
        name: "information",
        short: "a rulebook for information",
        ask: "Which rulebook is to be shown for information?",
        takes: "epa-1994",
        words: &[],
        when: always,
    },
    Question {
        name: "foundation",
        short: "what is under the house",
        ask: "What is under the house: a slab, a crawlspace, both, or a slab with a sump?",
        takes: "slab, crawlspace, both or sump",
        words: FOUNDATIONS,
        when: always,
    },
    Question {
        name: "slab",
        short: "the size of the slab",
        ask: "How long and wide is the slab, inside the walls?",
        takes: "40 ft x 24 ft",
        words: &[],
        when: slab,
    },
    Question {
        name: "under-slab",
        short: "what lies under the slab",
        ask: "What lies under the slab? (a clean dry bit usually means gravel)",
        takes: "gravel",
        words: &[],
        when: slab,
    },
    Question {
        name: "crawl",
        short: "the size of the crawlspace",
        ask: "How long and wide is the crawlspace?",
        takes: "20 ft x 16 ft",
        words: &[],
        when: crawl,
    },
    Question {
        name: "sump-lid",
        short: "the lid of the sump",
        ask: "Is the lid of the sump sealed?",
        takes: "yes, no or unknown",
        words: YES_NO,
        when: sump,
    },
    Question {
        name: "post-tension",
        short: "tensioned cables",
        ask: "Are there tensioned cables in the slab?",
        takes: "yes, no or unknown",
        words: YES_NO,
        when: slab,
    },
    Question {
        name: "tubing",
        short: "heating tubes",
        ask: "Are there heating tubes in the slab?",
        takes: "yes, no or unknown",
        words: YES_NO,
        when: slab,
    },
    Question {
        name: "ducts",
        short: "ducts in the slab",
        ask: "Are there air ducts in or under the slab?",
        takes: "yes, no or unknown",
        words: YES_NO,
        when: slab,
    },
    Question {
        name: "utilities",
        short: "marked utilities",
        ask: "Have the utilities been marked?",
        takes: "yes, no or unknown",
        words: YES_NO,
        when: always,
    },
    Question {
        name: "asbestos",
        short: "asbestos",
        ask: "Does anything look as if it might hold asbestos: old floor tile, mastic, pipe wrap?",
        takes: "yes, no or unknown",
        words: YES_NO,
        when: always,
    },
    Question {
        name: "fuel",
        short: "what burns fuel",
        ask: "What burns fuel in the house? Name the fuel of the largest, or none.",
        takes: "gas",
        words: &["gas", "propane", "oil", "wood", "pellets", "coal", "kerosene", "none"],
        when: always,
    },
    Question {
        name: "venting",
        short: "its flue",
        ask: "How does its smoke leave?",
        takes: "natural draft",
        words: &["natural draft", "fan-assisted", "power vented", "direct vent", "unvented"],
        when: burns,
    },
    Question {
        name: "fan-place",
        short: "the place of the fan",
        ask: "Where will the fan stand?",
        takes: "attic",
        words: &["attic", "outdoors", "garage", "basement", "crawlspace"],
        when: always,
    },
    Question {
        name: "roof-edge",
        short: "the height of the roof edge",
        ask: "How high is the roof edge above the ground, where the pipe comes out?",
        takes: "9 ft 6 in",
        words: &[],
        when: always,
    },
    Question {
        name: "above-roof",
        short: "the height of the discharge",
        ask: "How far will the pipe stand above the roof?",
        takes: "22 in",
        words: &[],
        when: always,
    },
    Question {
        name: "direction",
        short: "the direction of the discharge",
        ask: "Which way will it blow?",
        takes: "up, level or down",
        words: &["up", "level", "down"],
        when: always,
    },
    Question {
        name: "opening",
        short: "the nearest opening",
        ask: "What is the nearest opening into the house: a window, a door, a skylight? Write none if there is none within 20 ft.",
        takes: "window",
        words: &["window", "door", "skylight", "garage door", "louver", "other", "none"],
        when: always,
    },
    Question {
        name: "opening-distance",
        short: "how far the opening is",
        ask: "How far is it from the end of the pipe, along a straight tape?",
        takes: "14 ft",
        words: &[],
        when: opening,
    },
    Question {
        name: "opening-around",
        short: "how far the opening is around what stands between",
        ask: "How far is it with the tape drawn tight around whatever solid stands between? The same again if nothing does.",
        takes: "14 ft",
        words: &[],
        when: opening,
    },
    Question {
        name: "opening-below",
        short: "how far below the opening is",
        ask: "How far does its top lie below the end of the pipe?",
        takes: "8 ft 6 in",
        words: &[],
        when: opening,
    },
    Question {
        name: "opening-opens",
        short: "whether the opening opens",
        ask: "Can it be opened?",
        takes: "yes, no or unknown",
        words: YES_NO,
        when: opening,
    },
    Question {
        name: "looked",
        short: "whether all openings were looked for",
        ask: "Did you look for every opening within 20 ft of the end of the pipe?",
        takes: "yes or no",
        words: YES_NO,
        when: always,
    },
];
