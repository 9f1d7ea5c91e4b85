//! The fields of a rule, each by its path and place. A field is what an amendment can speak of and what
//! remembers who put it there.

use crate::base::text::Span;
use crate::yaml::tree::{NodeId, NodeKind, Style};

use super::authors::Field;
use super::read::Reader;

/// The fields of a rule, in the order written. The cases are none of them.
pub(super) fn fields(reader: &Reader<'_>, root: NodeId) -> Vec<Field> {
    let mut found = Vec::new();
    for pair in reader.tree.pairs(root).iter().filter(|pair| pair.key != "cases") {
        let inner = reader.tree.pairs(pair.value);
        match pair.key.as_str() {
            "source" => {
                for part in inner {
                    let path = format!("source.{}", part.key);
                    found.push(field(reader, path, part.key_span, part.value));
                }
            }
            "limits" => {
                for limit in inner {
                    let path = format!("limits.{}", limit.key);
                    let value = reader.get(limit.value, "value").unwrap_or(limit.value);
                    found.push(field(reader, path.clone(), limit.key_span, value));
                    if let Some(words) = reader.tree.get(limit.value, "words") {
                        found.push(field(reader, format!("{path}.words"), words.key_span, words.value));
                    }
                }
            }
            _ => found.push(field(reader, pair.key.clone(), pair.key_span, pair.value)),
        }
    }
    found
}

/// A field whose value begins on another line is told by the line of its key.
fn field(reader: &Reader<'_>, path: String, key: Span, value: NodeId) -> Field {
    let span = reader.span(value);
    let (text, at) = match reader.tree.node(value).map(|node| &node.kind) {
        Some(NodeKind::Scalar { text, style: Style::Literal | Style::Folded }) => (text.as_str(), key),
        Some(NodeKind::Scalar { text, .. }) => (text.as_str(), span),
        _ => (reader.texts.slice(span), key),
    };
    Field { path, at, text: text.trim().to_owned() }
}
