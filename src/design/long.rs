//! The long form of a record that is written as one value: `insulation: R-4` leaves no room for a further key,
//! `insulation: {r: R-4}` does.

use crate::yaml::path::{Path, Step};
use crate::yaml::splice::set_value;
use crate::yaml::tree::{NodeKind, Style, Tree};

use super::keys::Key;

/// Plain words that are no value of anything.
const NO_VALUE: [&str; 5] = ["unknown", "none", "", "~", "null"];

/// The record that is written short where an entry is to stand, and its long form; nothing where none stands in its way.
#[must_use]
pub fn long_form(tree: &Tree, text: &str, path: &Path) -> Option<(Path, String)> {
    let ((at, _), taken) = path.resolve_far(tree)?;
    if !matches!(path.steps.get(taken), Some(Step::Key(_))) {
        return None;
    }
    let node = tree.node(at)?;
    let short = match &node.kind {
        // That it is not known, or that there is none, stands for no key.
        NodeKind::Scalar { text, style } => *style != Style::Plain || !NO_VALUE.contains(&text.as_str()),
        NodeKind::List(_) => true,
        NodeKind::Map(_) => tree.get(at, "value").is_some(),
        NodeKind::Nothing | NodeKind::Twice => false,
    };
    if !short {
        return None;
    }
    let record = Path { steps: path.steps.get(..taken)?.to_vec() };
    let key = Key::at(record.steps.iter().map(|step| match step {
        Step::Key(key) => key.as_str(),
        Step::Item(_) => "",
    }))?
    .short_for()?;
    let value = text.get(node.span.range())?;
    Some((record, format!("{{{key}: {value}}}")))
}

/// The text with the short form written long that leaves no room for the entry at this path; nothing where none stands in
/// its way.
#[must_use]
pub fn with_room(tree: &Tree, text: &str, path: &Path) -> Option<String> {
    let (record, long) = long_form(tree, text, path)?;
    Some(set_value(tree, text, &record, &long).ok()?.apply(text))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::text::SourceId;
    use crate::yaml::scan;

    fn made(text: &str, path: &str) -> Option<String> {
        with_room(&scan::read(SourceId(0), text).0, text, &Path::parse(path).unwrap())
    }

    #[test]
    fn a_short_form_is_written_long_where_a_further_key_is_to_stand() {
        let text =
            "systems: {main: {runs: {stack: {insulation: R-4}}}}\nsite:\n  ground:\n    main: 12 ft # yard\n";
        let long = made(text, "systems.main.runs.stack.insulation.weather_jacket").unwrap();
        assert_eq!(long, text.replace("insulation: R-4", "insulation: {r: R-4}"));
        let long = made(text, "site.ground.main.outline").unwrap();
        assert_eq!(long, text.replace("main: 12 ft", "main: {height: 12 ft}"));
    }

    #[test]
    fn nothing_stands_in_the_way_of_what_has_room() {
        let text = "systems: {main: {runs: {stack: {insulation: {r: R-4}, hangers: unknown, size: 3 in}}}}\n";
        for path in ["insulation.weather_jacket", "insulation.r", "hangers.kind", "slope", "size"] {
            assert_eq!(made(text, &format!("systems.main.runs.stack.{path}")), None, "{path}");
        }
    }
}
