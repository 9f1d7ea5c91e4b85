//! How far somebody looked.

use serde_json::{Value, json};

use crate::base::number::Quantity;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::value::EntryPath;
use crate::yaml::entry::Meaning;
use crate::yaml::lay::Same;
use crate::yaml::measure::Length;
use crate::yaml::record::{Reader, Reads};
use crate::yaml::schema::Schemas;
use crate::yaml::tree::NodeId;

/// How far somebody looked.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Reach {
    /// Everywhere in and at the building.
    WholeBuilding,
    /// Within a distance of the nearest edge of the discharge, of each where there are several.
    OfDischarge(Quantity),
    /// Within a distance of the building and of all that is fastened to it, the pipe and its discharge among it.
    OfBuilding(Quantity),
}

impl std::fmt::Display for Reach {
    /// As it is written in the file.
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Reach::WholeBuilding => out.write_str("whole building"),
            Reach::OfDischarge(far) => write!(out, "{far} of discharge"),
            Reach::OfBuilding(far) => write!(out, "{far} of building"),
        }
    }
}

const REACH: &str =
    "a distance of something, 20 ft of discharge or 30 ft of building, or the words whole building";

impl Same for Reach {
    fn same(&self, other: &Self) -> bool {
        match (self, other) {
            (Reach::WholeBuilding, Reach::WholeBuilding) => true,
            (Reach::OfDischarge(a), Reach::OfDischarge(b)) | (Reach::OfBuilding(a), Reach::OfBuilding(b)) => {
                a.number == b.number
            }
            _ => false,
        }
    }
}

impl Reads for Reach {
    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let text = reader.text(node)?;
        if text == "whole building" {
            return Some(Reach::WholeBuilding);
        }
        let Some((distance, of)) = text.split_once(" of ") else {
            reader.report_value(node, ProblemKind::NotAQuantity, REACH);
            return None;
        };
        let make = match of.trim().trim_start_matches("the ") {
            "discharge" => Reach::OfDischarge,
            "building" | "house" => Reach::OfBuilding,
            other => {
                let at = reader.part(node, text.len() - other.len()..text.len());
                let nearest = crate::base::near::nearest(other, ["discharge", "building", "house"]);
                let problem =
                    Problem::new(ProblemKind::UnknownWord, at).found(other).accepts(REACH).nearest(nearest);
                reader.report(problem);
                return None;
            }
        };
        reader.quantity::<Length>(node, 0..distance.len()).map(make)
    }

    fn means(&self) -> Meaning {
        Meaning::Value(match self {
            Reach::WholeBuilding => self.to_string(),
            Reach::OfDischarge(far) => format!("{} of discharge", far.number.in_one_way()),
            Reach::OfBuilding(far) => format!("{} of building", far.number.in_one_way()),
        })
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Reach>(
            "reach",
            |_| json!({ "description": format!("{REACH}."), "type": ["string", "number"] }),
        )
    }
}
