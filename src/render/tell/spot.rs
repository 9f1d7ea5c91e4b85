//! Where an entry is to be written that is not in the file yet: the section it belongs under, with its line.

use crate::base::text::{Source, Sources, Span};
use crate::base::value::{Missing, Reason};
use crate::design::keys::Key;
use crate::render::phrases;
use crate::review::describe::describe;

/// No more lines than this are looked through upward for the line that a section begins with.
const FAR: usize = 200;

/// Where an entry is to be written.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Spot {
    /// The section that is there, and its line; nothing at the left edge of the file.
    pub under: Option<(String, u32)>,
    /// The keys still to be written there, the outermost first; none where the entry is there with nothing behind it.
    pub keys: Vec<String>,
    /// Where one value stands there for the whole section: the line that has room for them.
    pub long: Option<String>,
}

impl Spot {
    /// What to do, in one phrase.
    #[must_use]
    pub fn words(&self) -> String {
        let keys = self.keys.join(": ");
        if let (Some((section, line)), Some(long)) = (&self.under, &self.long) {
            return format!(
                "write {section} (line {line}) as {long}, with what you find in place of unknown"
            );
        }
        match &self.under {
            Some((entry, line)) if keys.is_empty() => {
                format!("fill in {entry} (line {line}), which stands there with nothing behind it")
            }
            Some((section, line)) => format!("add under {section} (line {line}): {keys}"),
            None => format!("add to the file: {keys}"),
        }
    }
}

/// Where the entry is to be written; nothing for an entry that says something already.
#[must_use]
pub fn spot(missing: &Missing, sources: &Sources) -> Option<Spot> {
    if !matches!(missing.reason, Reason::NotStated | Reason::NotSaidComplete) {
        return None;
    }
    let steps: Vec<&str> = missing.entry.as_str().split('.').collect();
    if missing.entry.as_str().is_empty() || missing.entry.as_str().contains(['[', '"', '\'']) {
        return None;
    }
    let own = |steps: &[&str]| steps.iter().map(|step| (*step).to_owned()).collect::<Vec<_>>();
    let Some((source, at)) = missing.at.and_then(|at| Some((sources.get(at.source)?, at.start))) else {
        return Some(Spot { under: None, keys: own(&steps), long: None });
    };
    for taken in (1..=steps.len()).rev() {
        let (section, rest) = steps.split_at_checked(taken)?;
        let Some(name) = section.last() else { continue };
        let empty = line_of_empty_key(source, at, name);
        if let Some(line) = empty.or_else(|| line_of_key(source, at, name)) {
            // Without being empty the entry itself says too little.
            return (empty.is_some() || !rest.is_empty()).then(|| Spot {
                under: Some((section.join("."), line)),
                keys: own(rest),
                long: long(source, missing.at, section, rest).filter(|_| empty.is_none()),
            });
        }
    }
    Some(Spot { under: None, keys: own(&steps), long: None })
}

/// The line with room for further keys in a section that is written as one value, behind its key; nothing where it is written
/// with keys.
fn long(source: &Source, at: Option<Span>, section: &[&str], rest: &[&str]) -> Option<String> {
    let at = at?;
    let value = source.slice(at);
    let line = source.line_range(source.line_column(at.start).line.saturating_sub(1) as usize)?;
    let key = source.text().get(line.start..at.start as usize)?.trim_end().strip_suffix(':')?;
    let name = section.last()?;
    let one_line =
        !value.is_empty() && !value.contains('\n') && !value.starts_with(['{', '*', '&', '|', '>']);
    let own = key.rsplit(['{', ',', ' ']).next().unwrap_or(key).trim_matches(['"', '\'']) == *name;
    if !own || !one_line || matches!(value, "unknown" | "none") {
        return None;
    }
    let short = Key::at(section.iter().copied())?.short_for()?;
    let (last, outer) = rest.split_last()?;
    let further =
        outer.iter().rev().fold(format!("{last}: unknown"), |inner, key| format!("{key}: {{{inner}}}"));
    Some(format!("{name}: {{{short}: {value}, {further}}}"))
}

/// The line of the key at this place, if it is called so and nothing stands behind it.
fn line_of_empty_key(source: &Source, at: u32, name: &str) -> Option<u32> {
    let line = source.line_column(at).line;
    let range = source.line_range(line.saturating_sub(1) as usize)?;
    let here = source.text().get(at as usize..range.end)?;
    let (key, behind) = here.split_once(':')?;
    let behind = behind.trim_start();
    let nothing = behind.is_empty() || behind.starts_with(['#', ',', '}']);
    (nothing && key.trim().trim_matches(['"', '\'']) == name).then_some(line)
}

/// The line on which the key of the value at this place stands, if it is called so.
fn line_of_key(source: &Source, at: u32, name: &str) -> Option<u32> {
    let line = source.line_column(at).line;
    let row = line.saturating_sub(1) as usize;
    let text = source.text();
    let range = source.line_range(row)?;
    let before = text.get(range.start..(at as usize).clamp(range.start, range.end))?;
    let named = |key: &str| key.trim().trim_matches(['"', '\'']) == name;
    if let Some(key) = before.trim_end().strip_suffix(':') {
        return named(key.rsplit(['{', ',', ' ']).next().unwrap_or(key)).then_some(line);
    }
    if !before.trim().is_empty() {
        return None;
    }
    for above in (0..row).rev().take(FAR) {
        let said = text.get(source.line_range(above)?)?.trim();
        if said.is_empty() || said.starts_with('#') {
            continue;
        }
        let (key, _) = said.split_once(':')?;
        return named(key).then(|| u32::try_from(above + 1).ok()).flatten();
    }
    None
}

/// What to do about an entry, with its place: where it is to be added, or which line does not tell.
#[must_use]
pub fn to_settle(missing: &Missing, sources: &Sources) -> String {
    if let Some(spot) = spot(missing, sources) {
        return match missing.reason {
            Reason::NotSaidComplete => {
                format!("{} ({})", spot.words(), phrases::reason(&missing.reason))
            }
            _ => spot.words(),
        };
    }
    // Where lines were not read, nobody knows on which of them it stands.
    let known = missing.at.filter(|_| missing.reason != Reason::CutOff);
    let line = known.and_then(|at| Some(sources.get(at.source)?.line_column(at.start).line));
    let line = line.map_or(String::new(), |line| format!(" (line {line})"));
    format!("{}{line}: {}", missing.entry, phrases::reason(&missing.reason))
}

/// What the entry says, in plain words.
#[must_use]
pub fn meaning(missing: &Missing) -> String {
    let entry = missing.entry.as_str();
    let said = describe(entry).unwrap_or_else(|| phrases::spoken(entry.rsplit('.').next().unwrap_or(entry)));
    // An example at its end is told where it is told what to write.
    let said = said
        .split_once(": `")
        .or(said.split_once("; the word `none`"))
        .map_or(said.as_str(), |(said, _)| said);
    said.replace('`', "\"")
}

/// What is not known, as the end of a sentence that begins so; nothing where the entry is no yes or no.
#[must_use]
pub fn not_known(missing: &Missing) -> Option<String> {
    let said = meaning(missing);
    let rest = said.strip_prefix("Whether ")?;
    Some(format!("whether {rest}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::value::EntryPath;

    fn words(text: &str, at: &str, entry: &str) -> Option<String> {
        let mut sources = Sources::new();
        let id = sources.add("a.yaml", text);
        let start = text.find(at).unwrap_or(0);
        let missing = Missing {
            entry: EntryPath::new(entry),
            reason: Reason::NotStated,
            at: Some(Span::new(id, start, start + 1)),
        };
        spot(&missing, &sources).map(|spot| spot.words())
    }

    #[test]
    fn an_entry_is_to_be_added_under_the_nearest_section_that_is_there() {
        let text = "job:\n  by: T\n\nsite:\n  # a remark\n\n  zone: here\nwindows:\n  a: {wide: yes}\n  \"b\": { tall: no }\n";
        for (at, entry, expected) in [
            ("by: T", "job.date", "add under job (line 1): date"),
            ("zone", "site.ground.main", "add under site (line 4): ground: main"),
            ("{wide", "windows.a.opens", "add under windows.a (line 9): opens"),
            ("{ tall", "windows.b.opens", "add under windows.b (line 10): opens"),
            ("job", "looked_for.drains", "add to the file: looked_for: drains"),
        ] {
            assert_eq!(words(text, at, entry).as_deref(), Some(expected), "{entry}");
        }
    }

    #[test]
    fn a_key_that_is_there_with_nothing_behind_it_is_to_be_filled_in() {
        let text =
            "site:\n  zone: here\nfloor:\n  sheet:   # to come\n    # lap: 6 in\n  a: {lid: , wide: yes}\n";
        for (at, entry, expected) in [
            (
                "sheet",
                "floor.sheet",
                "fill in floor.sheet (line 4), which stands there with nothing behind it",
            ),
            ("sheet", "floor.sheet.lap", "add under floor.sheet (line 4): lap"),
            ("lid", "floor.a.lid", "fill in floor.a.lid (line 6), which stands there with nothing behind it"),
        ] {
            assert_eq!(words(text, at, entry).as_deref(), Some(expected), "{entry}");
        }
    }

    #[test]
    fn where_one_value_stands_for_a_section_the_line_with_room_for_more_is_told() {
        let text = "systems:\n  main:\n    runs:\n      stack: {insulation: R-4, hangers: {spacing: 4 ft}}\n";
        let told = |value: &str, entry: &str| {
            let mut sources = Sources::new();
            let id = sources.add("a.yaml", text);
            let start = text.find(value).unwrap();
            let at = Some(Span::new(id, start, start + value.len()));
            let entry = EntryPath::new(entry);
            spot(&Missing { entry, reason: Reason::NotStated, at }, &sources).unwrap().words()
        };
        assert_eq!(
            told("R-4", "systems.main.runs.stack.insulation.weather_jacket"),
            "write systems.main.runs.stack.insulation (line 4) as insulation: {r: R-4, weather_jacket: unknown}, with what you find in place of unknown"
        );
        assert_eq!(
            told("{spacing: 4 ft}", "systems.main.runs.stack.hangers.kind"),
            "add under systems.main.runs.stack.hangers (line 4): kind"
        );
    }

    #[test]
    fn an_entry_that_stands_in_the_file_is_not_to_be_added() {
        assert_eq!(words("site:\n  zone: here\n", "here", "site.zone"), None);
    }

    #[test]
    fn what_may_stand_in_lines_that_were_not_read_has_no_line() {
        let mut sources = Sources::new();
        let id = sources.add("a.yaml", "job:\n  by T\n");
        let told = |reason| {
            let missing = Missing { entry: EntryPath::new("job"), reason, at: Some(Span::new(id, 0, 3)) };
            to_settle(&missing, &sources)
        };
        assert!(told(Reason::StatedUnknown).starts_with("job (line 1): "));
        assert!(told(Reason::CutOff).starts_with("job: "));
    }
}
