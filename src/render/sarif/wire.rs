//! The parts of a log of the open standard SARIF 2.1.0 that a review fills, named as the standard names them.

use std::collections::BTreeMap;

use serde::Serialize;

/// Properties of one's own, which the standard leaves room for.
pub(super) type Properties = BTreeMap<&'static str, serde_json::Value>;

/// A whole log.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Log {
    #[serde(rename = "$schema")]
    pub(super) schema: &'static str,
    pub(super) version: &'static str,
    pub(super) runs: Vec<Run>,
}

/// One review.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub struct Run {
    pub(super) tool: Tool,
    pub(super) automation_details: Automation,
    pub(super) language: &'static str,
    pub(super) column_kind: &'static str,
    pub(super) invocations: Vec<Invocation>,
    pub(super) artifacts: Vec<Artifact>,
    pub(super) results: Vec<Outcome>,
    pub(super) properties: Properties,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Tool {
    pub(super) driver: Driver,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Driver {
    pub(super) name: &'static str,
    pub(super) version: String,
    pub(super) rules: Vec<Rule>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Automation {
    pub(super) id: String,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Invocation {
    pub(super) execution_successful: bool,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Artifact {
    pub(super) location: ArtifactLocation,
    pub(super) roles: Vec<&'static str>,
    pub(super) source_language: &'static str,
    pub(super) hashes: BTreeMap<&'static str, String>,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct ArtifactLocation {
    pub(super) uri: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) index: Option<usize>,
}

/// A requirement, or a sort of problem.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Rule {
    pub(super) id: String,
    pub(super) short_description: Message,
    pub(super) full_description: Message,
    pub(super) help: Message,
    pub(super) properties: Properties,
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Message {
    pub(super) text: String,
}

/// What one requirement comes to for one thing, or one problem of a file. The standard calls it a result.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Outcome {
    pub(super) rule_id: String,
    pub(super) rule_index: usize,
    pub(super) kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) level: Option<&'static str>,
    pub(super) message: Message,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) related_locations: Vec<Location>,
    pub(super) partial_fingerprints: BTreeMap<&'static str, String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) suppressions: Vec<Suppression>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) fixes: Vec<Fix>,
    pub(super) properties: Properties,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Location {
    pub(super) physical_location: PhysicalLocation,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) logical_locations: Vec<LogicalLocation>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) message: Option<Message>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct PhysicalLocation {
    pub(super) artifact_location: ArtifactLocation,
    pub(super) region: Region,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct LogicalLocation {
    pub(super) fully_qualified_name: String,
}

/// A stretch of a text: lines and columns from one, the end column the first one behind it, bytes from nought.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Region {
    pub(super) start_line: u32,
    pub(super) start_column: u32,
    pub(super) end_line: u32,
    pub(super) end_column: u32,
    pub(super) byte_offset: u32,
    pub(super) byte_length: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) snippet: Option<Message>,
}

/// A proven correction, of which a person chooses one.
#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Fix {
    pub(super) description: Message,
    pub(super) artifact_changes: Vec<Change>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Change {
    pub(super) artifact_location: ArtifactLocation,
    pub(super) replacements: Vec<Replacement>,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "camelCase")]
pub(super) struct Replacement {
    pub(super) deleted_region: Region,
    pub(super) inserted_content: Message,
}

/// A variance on file.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Suppression {
    pub(super) kind: &'static str,
    pub(super) status: &'static str,
    pub(super) justification: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) location: Option<Location>,
}
