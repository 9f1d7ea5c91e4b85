//! The version of the file format.

use serde_json::{Value, json};

use crate::base::problem::{Problem, ProblemKind};
use crate::base::value::EntryPath;
use crate::yaml::entry::Meaning;
use crate::yaml::lay::Same;
use crate::yaml::record::{Reader, Reads};
use crate::yaml::schema::Schemas;
use crate::yaml::tree::NodeId;

/// The version of the file format that this program reads and writes.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub struct Version;

/// The number that stands for it.
pub const VERSION: &str = "1";

impl Same for Version {
    fn same(&self, other: &Self) -> bool {
        self == other
    }
}

impl Reads for Version {
    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let text = reader.text(node)?;
        if text == VERSION {
            return Some(Version);
        }
        let problem = Problem::new(ProblemKind::UnknownVersion, reader.span(node)).found(text);
        reader.report(problem);
        None
    }

    fn means(&self) -> Meaning {
        Meaning::Value(VERSION.to_owned())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Version>("version", |_| json!({ "type": ["integer", "string", "number"] }))
    }
}
