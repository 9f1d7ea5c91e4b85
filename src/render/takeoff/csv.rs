//! The list as a table for a spreadsheet: RFC 4180, one line for each part.

use super::{plain, to_state, uses_in_words};
use crate::review::takeoff::Counted;

/// The columns.
const HEAD: [&str; 6] = ["part", "size", "quantity", "unit", "for", "note"];

/// The table, lines ended as the standard asks.
#[must_use]
pub fn document(of: &Counted) -> String {
    let mut out = String::new();
    row(&mut out, HEAD.map(str::to_owned));
    for line in &of.takeoff.lines {
        let (count, unit) = plain(&line.quantity, &line.unit);
        let mut notes = line.notes.clone();
        if !line.assumed.is_empty() {
            notes.push(format!("taken for granted: {}", line.assumed.join("; ")));
        }
        let quantity = count.to_f64().to_string();
        row(
            &mut out,
            [line.part.clone(), line.size.clone(), quantity, unit, uses_in_words(line), notes.join("; ")],
        );
    }
    for one in &of.takeoff.uncounted {
        let missing: Vec<String> = one.missing.iter().map(|one| to_state(one, &of.sources)).collect();
        let note = format!("could not be counted: {}", missing.join("; "));
        row(&mut out, [one.what.clone(), String::new(), String::new(), String::new(), String::new(), note]);
    }
    out
}

fn row(out: &mut String, cells: [String; 6]) {
    let cells: Vec<String> = cells.iter().map(|cell| field(cell)).collect();
    out.push_str(&cells.join(","));
    out.push_str("\r\n");
}

/// A field. One that a spreadsheet would take for a formula gets a mark in front, so that it stays text.
fn field(text: &str) -> String {
    let acts = text.starts_with(['=', '+', '-', '@', '\t', '\r']);
    let text = if acts { format!("'{text}") } else { text.to_owned() };
    if text.contains([',', '"', '\r', '\n']) || text.starts_with(' ') || text.ends_with(' ') {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_would_part_a_field_is_quoted_and_what_would_act_is_marked() {
        assert_eq!(field("4 in PVC"), "4 in PVC");
        assert_eq!(field("a, b"), "\"a, b\"");
        assert_eq!(field("says \"radon\""), "\"says \"\"radon\"\"\"");
        assert_eq!(field("=1+1"), "'=1+1");
    }
}
