//! How far a run goes: a length, or up to something.

use serde_json::{Value, json};

use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::value::EntryPath;
use crate::yaml::entry::Meaning;
use crate::yaml::lay::Same;
use crate::yaml::measure::{Length, Measure};
use crate::yaml::record::{Reader, Reads};
use crate::yaml::schema::Schemas;
use crate::yaml::tree::NodeId;
use crate::yaml::words::{Words, words};

words! {
    /// What a run goes up to.
    pub enum Until = "what a run goes up to" {
        /// the top of the slab below
        Slab = "slab",
        /// the membrane below
        Membrane = "membrane",
        /// the soil below
        Soil = "soil",
        /// the bottom of the pit below
        Pit = "pit",
        /// the lid of the sump below
        Lid = "lid",
        /// the wall in that direction
        Wall = "wall",
        /// the ceiling above
        Ceiling = "ceiling",
        /// the roof surface above
        Roof = "roof",
        /// the fan
        Fan = "fan",
        /// the discharge
        Discharge = "discharge",
    }
}

/// How far a run goes.
#[derive(Clone, PartialEq, Debug)]
pub enum Extent {
    /// So far: `11 ft 2 in`.
    Length(Measure<Length>),
    /// Up to this: `to slab`.
    Until(Until),
}

impl Same for Extent {
    fn same(&self, other: &Self) -> bool {
        match (self, other) {
            (Extent::Length(a), Extent::Length(b)) => a.same(b),
            (Extent::Until(a), Extent::Until(b)) => a == b,
            _ => false,
        }
    }
}

impl Reads for Extent {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let Some(word) = reader.text(node).and_then(|text| text.strip_prefix("to ")) else {
            return Measure::read(reader, node, path).map(Extent::Length);
        };
        let found = Until::find(word.trim());
        if found.is_none() {
            let words = || Until::ALL.iter().map(|(_, spelling, _)| *spelling);
            let problem = Problem::new(ProblemKind::UnknownWord, reader.span(node))
                .found(word)
                .accepts(format!("a length, or to and one of {}", words().collect::<Vec<_>>().join(", ")))
                .nearest(nearest(word, words()).map(|word| format!("to {word}")));
            reader.report(problem);
        }
        found.map(Extent::Until)
    }

    fn means(&self) -> Meaning {
        match self {
            Extent::Length(length) => length.means(),
            Extent::Until(word) => Meaning::Value(format!("to {}", word.spelling())),
        }
    }

    fn schema(defs: &mut Schemas) -> Value {
        let length = Measure::<Length>::schema(defs);
        defs.refer::<Extent>("extent", |_| {
            let words = Until::ALL.iter().map(|(_, spelling, meaning)| format!("to {spelling}: {meaning}"));
            json!({
                "description": format!("How far it goes: a length, or up to something.\n{}", words.collect::<Vec<_>>().join("\n")),
                "anyOf": [length],
            })
        })
    }
}
