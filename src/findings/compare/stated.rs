//! What two designs state otherwise, entry by entry. A thing is known by its name; one that has another name and
//! says word for word the same, where no other does, is taken to be renamed.

use std::collections::{BTreeMap, BTreeSet};

use super::account::{Account, Stated};

/// An entry that is not what it was.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Change {
    /// The entry, as the newer design has it; as the older has it when it is gone.
    pub entry: String,
    /// What was written there; nothing when nothing was. Of a thing it is empty: its entries say it.
    pub was: Option<String>,
    /// What is written there; nothing when nothing is.
    pub is: Option<String>,
    /// Whether it is a thing with a name of its own that came or went, with all that is said of it.
    pub is_thing: bool,
    /// On which line it stands; of the older design when it is gone.
    pub line: u32,
    /// The file of that line, where that is not the design itself.
    pub file: Option<String>,
}

/// A thing that goes by another name.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Renamed {
    /// The entry that it was.
    pub was: String,
    /// The entry that it is.
    pub is: String,
}

/// Things of one list of which some went and some came, and nothing tells whether they are the same under new names.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Unclear {
    /// The list.
    pub list: String,
    /// The names that went.
    pub went: Vec<String>,
    /// The names that came.
    pub came: Vec<String>,
}

/// What two designs state otherwise.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Changes {
    /// Whether both reviews hold what their designs state; else nothing of the following is known.
    pub known: bool,
    /// Whether the bytes of a file are not what they were, whatever that means.
    pub bytes_moved: bool,
    /// Entries that are not what they were, in the order of the newer design, then what went.
    pub entries: Vec<Change>,
    /// Things that go by another name.
    pub renamed: Vec<Renamed>,
    /// Things of which that cannot be told.
    pub unclear: Vec<Unclear>,
}

impl Changes {
    /// What an entry of the older design is called in the newer.
    #[must_use]
    pub fn now_called(&self, entry: &str) -> String {
        map(&self.renamed, entry)
    }
}

/// What two reviews state otherwise.
#[must_use]
pub fn changes(old: &Account, new: &Account) -> Changes {
    let digests = |of: &Account| of.made_of.iter().map(|one| one.digest.clone()).collect::<BTreeSet<_>>();
    let bytes_moved = digests(old) != digests(new);
    let (Some(was), Some(is)) = (&old.stated, &new.stated) else {
        return Changes { bytes_moved, ..Changes::default() };
    };
    let (renamed, unclear) = renamed(was, is);
    let entries = entries(was, is, &renamed);
    Changes { known: true, bytes_moved, entries, renamed, unclear }
}

/// The entry that one lies in, and the last step to it.
fn split(entry: &str) -> (&str, &str) {
    entry.rsplit_once('.').unwrap_or(("", entry))
}

/// What is left of an entry behind another that it lies in; empty for the same.
fn behind<'e>(entry: &'e str, outer: &str) -> Option<&'e str> {
    let rest = entry.strip_prefix(outer)?;
    (rest.is_empty() || outer.is_empty() || rest.starts_with(['.', '['])).then_some(rest)
}

/// Whether one entry is another or lies in it.
pub(super) fn lies_in(entry: &str, outer: &str) -> bool {
    !outer.is_empty() && behind(entry, outer).is_some()
}

fn map(renamed: &[Renamed], entry: &str) -> String {
    let deepest = renamed
        .iter()
        .filter_map(|one| Some((one, behind(entry, &one.was)?)))
        .max_by_key(|(one, _)| one.was.len());
    deepest.map_or_else(|| entry.to_owned(), |(one, rest)| format!("{}{rest}", one.is))
}

/// The things of a design by their entries, the outer before the inner.
fn things(stated: &[Stated]) -> Vec<&str> {
    let mut found: Vec<&str> =
        stated.iter().filter(|one| one.is_thing).map(|one| one.entry.as_str()).collect();
    found.sort_by_key(|entry| (entry.matches(['.', '[']).count(), *entry));
    found
}

/// Which things go by another name, and of which that cannot be told.
fn renamed(was: &[Stated], is: &[Stated]) -> (Vec<Renamed>, Vec<Unclear>) {
    let (olds, news) = (things(was), things(is));
    let (gone, fresh) = (names_without(&olds, &news), names_without(&news, &olds));
    let here: BTreeSet<&str> = news.iter().copied().collect();
    let (mut renamed, mut unclear): (Vec<Renamed>, Vec<Unclear>) = Default::default();
    let depths: BTreeSet<usize> = olds.iter().map(|entry| entry.matches('.').count()).collect();
    let mut without: Vec<&str> = Vec::new();
    for depth in depths {
        let at_depth = |entry: &&&str| entry.matches('.').count() == depth;
        let images: BTreeSet<String> = olds.iter().map(|entry| map(&renamed, entry)).collect();
        // By list, in the words of the newer design: what went and what came.
        let mut lists: BTreeMap<String, (Vec<&str>, Vec<&str>)> = BTreeMap::new();
        for old in olds.iter().filter(at_depth) {
            let image = map(&renamed, old);
            let inside_a_lost_one = without.iter().any(|lost| lies_in(old, lost));
            if !here.contains(image.as_str()) && !inside_a_lost_one {
                lists.entry(split(&image).0.to_owned()).or_default().0.push(old);
            }
        }
        for new in news.iter().filter(at_depth).filter(|new| !images.contains(**new)) {
            if let Some((went, came)) = lists.get_mut(split(new).0)
                && !went.is_empty()
            {
                came.push(new);
            }
        }
        for (list, (went, came)) in lists {
            let names =
                |list: &[&str]| list.iter().map(|entry| split(entry).1.to_owned()).collect::<Vec<_>>();
            let olds: Vec<(&str, Said)> = went.iter().map(|old| (*old, said_of(old, was, &gone))).collect();
            let news: Vec<(&str, Said)> = came.iter().map(|new| (*new, said_of(new, is, &fresh))).collect();
            let only =
                |list: &[(&str, Said)], said: &Said| list.iter().filter(|(_, own)| own == said).count() == 1;
            let (mut lost, mut left): (Vec<&str>, Vec<&str>) = (Vec::new(), came.clone());
            for (old, said) in &olds {
                let twin = news.iter().find(|(_, own)| own == said);
                match twin {
                    Some((new, _)) if !said.is_empty() && only(&olds, said) && only(&news, said) => {
                        left.retain(|one| one != new);
                        renamed.push(Renamed { was: (*old).to_owned(), is: (*new).to_owned() });
                    }
                    _ => lost.push(old),
                }
            }
            if !lost.is_empty() && !left.is_empty() {
                unclear.push(Unclear { list, went: names(&lost), came: names(&left) });
            }
            without.extend(lost);
        }
    }
    (renamed, unclear)
}

/// The names of things that are not among the others.
fn names_without(things: &[&str], others: &[&str]) -> BTreeSet<String> {
    let others: BTreeSet<&str> = others.iter().copied().collect();
    things.iter().filter(|entry| !others.contains(**entry)).map(|entry| split(entry).1.to_owned()).collect()
}

/// All that is said of a thing: the rest of each entry's path, and what it means.
type Said = Vec<(String, String)>;

/// What is said of a thing, with the names that came or went left open.
fn said_of(thing: &str, stated: &[Stated], open: &BTreeSet<String>) -> Said {
    let mut said: Said = stated
        .iter()
        .filter_map(|one| {
            let rest = behind(&one.entry, thing).filter(|rest| !rest.is_empty())?;
            let means = if one.is_name && open.contains(&one.means) { "" } else { &one.means };
            Some((rest.to_owned(), means.to_owned()))
        })
        .collect();
    said.sort();
    said
}

/// The entries that are not what they were.
fn entries(was: &[Stated], is: &[Stated], renamed: &[Renamed]) -> Vec<Change> {
    let names: BTreeMap<&str, &str> =
        renamed.iter().map(|one| (split(&one.was).1, split(&one.is).1)).collect();
    let old: BTreeMap<String, &Stated> = was.iter().map(|one| (map(renamed, &one.entry), one)).collect();
    let new: BTreeMap<&str, &Stated> = is.iter().map(|one| (one.entry.as_str(), one)).collect();
    let came: Vec<&str> = is
        .iter()
        .filter(|one| one.is_thing && !old.contains_key(&one.entry))
        .map(|one| one.entry.as_str())
        .collect();
    let went: Vec<&str> = was
        .iter()
        .filter(|one| one.is_thing && !new.contains_key(map(renamed, &one.entry).as_str()))
        .map(|one| one.entry.as_str())
        .collect();
    let inside =
        |entry: &str, things: &[&str]| things.iter().any(|thing| *thing != entry && lies_in(entry, thing));
    let follows = |old: &Stated, new: &Stated| {
        old.is_name && new.is_name && names.get(old.means.as_str()) == Some(&new.means.as_str())
    };
    let says = |one: &Stated| Some(one.says.clone());
    let mut found = Vec::new();
    for now in is.iter().filter(|now| !inside(&now.entry, &came)) {
        let before = old.get(&now.entry).copied();
        let same = before.is_some_and(|before| {
            (before.means == now.means && before.is_thing == now.is_thing) || follows(before, now)
        });
        if !same {
            found.push(Change {
                entry: now.entry.clone(),
                was: before.and_then(says),
                is: says(now),
                is_thing: now.is_thing,
                line: now.line,
                file: now.file.clone(),
            });
        }
    }
    for before in was.iter().filter(|before| !inside(&before.entry, &went)) {
        if !new.contains_key(map(renamed, &before.entry).as_str()) {
            found.push(Change {
                entry: before.entry.clone(),
                was: says(before),
                is: None,
                is_thing: before.is_thing,
                line: before.line,
                file: before.file.clone(),
            });
        }
    }
    lists_as_one(found, was, is, renamed)
}

/// The list without names that an entry lies in, if it lies in one.
fn list_of(entry: &str) -> Option<&str> {
    entry.find('[').and_then(|at| entry.get(..at))
}

/// Where more than one place of a list without names changed, the list is told as one.
fn lists_as_one(found: Vec<Change>, was: &[Stated], is: &[Stated], renamed: &[Renamed]) -> Vec<Change> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for list in found.iter().filter_map(|one| list_of(&one.entry)) {
        *counts.entry(map(renamed, list)).or_default() += 1;
    }
    let whole = |stated: &[Stated], list: &str, renamed: &[Renamed]| {
        let parts: Vec<&str> = stated
            .iter()
            .filter(|one| list_of(&map(renamed, &one.entry)) == Some(list))
            .map(|one| one.says.as_str())
            .collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    };
    let mut told: BTreeSet<String> = BTreeSet::new();
    let mut out = Vec::with_capacity(found.len());
    for one in found {
        let list = list_of(&one.entry).map(|list| map(renamed, list));
        match list.filter(|list| counts.get(list).is_some_and(|n| *n > 1)) {
            None => out.push(one),
            Some(list) if told.insert(list.clone()) => {
                let (was, is) = (whole(was, &list, renamed), whole(is, &list, &[]));
                out.push(Change { entry: list, was, is, ..one });
            }
            Some(_) => {}
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Entries written as `path = value`, `path -> name` or `path` for a thing.
    fn of(lines: &[&str]) -> Account {
        let stated = lines
            .iter()
            .map(|line| match (line.split_once(" = "), line.split_once(" -> ")) {
                (Some((entry, means)), _) => Stated {
                    entry: entry.into(),
                    says: means.into(),
                    means: means.into(),
                    ..Stated::default()
                },
                (None, Some((entry, name))) => Stated {
                    entry: entry.into(),
                    says: name.into(),
                    means: name.into(),
                    is_name: true,
                    ..Stated::default()
                },
                (None, None) => Stated { entry: (*line).to_owned(), is_thing: true, ..Stated::default() },
            })
            .collect();
        Account { stated: Some(stated), ..Account::default() }
    }

    fn told(was: &[&str], is: &[&str]) -> (Vec<String>, Vec<String>, usize) {
        let found = changes(&of(was), &of(is));
        let word = |text: &Option<String>| text.clone().unwrap_or("-".into());
        let entries = found
            .entries
            .iter()
            .map(|one| format!("{} {} {}", one.entry, word(&one.was), word(&one.is)))
            .collect();
        let renamed = found.renamed.iter().map(|one| format!("{} {}", one.was, one.is)).collect();
        (entries, renamed, found.unclear.len())
    }

    #[test]
    fn values_that_differ_come_and_go_are_told() {
        let (entries, ..) = told(&["a.x = 1", "a.y = 2"], &["a.z = 3", "a.x = 4"]);
        assert_eq!(entries, ["a.z - 3", "a.x 1 4", "a.y 2 -"]);
        assert_eq!(told(&["a.x = 1", "a.y = 2"], &["a.y = 2", "a.x = 1"]).0, Vec::<String>::new());
    }

    #[test]
    fn a_thing_that_says_the_same_under_another_name_is_renamed_and_what_names_it_follows() {
        let was = ["beds.north", "beds.north.soil = clay", "hedges.front", "hedges.front.in -> north"];
        let is = ["beds.upper", "beds.upper.soil = clay", "hedges.front", "hedges.front.in -> upper"];
        assert_eq!(told(&was, &is), (vec![], vec!["beds.north beds.upper".to_owned()], 0));
        let (entries, renamed, unclear) =
            told(&was, &["beds.upper", "beds.upper.soil = sand", "hedges.front", "hedges.front.in -> upper"]);
        assert_eq!((renamed.len(), unclear), (0, 1));
        assert_eq!(entries, ["beds.upper - ", "hedges.front.in north upper", "beds.north  -"]);
    }

    #[test]
    fn of_two_things_that_say_the_same_nothing_is_taken_for_renamed() {
        let was = ["beds.a", "beds.a.soil = clay", "beds.b", "beds.b.soil = clay"];
        let is = ["beds.c", "beds.c.soil = clay", "beds.d", "beds.d.soil = clay"];
        let (_, renamed, unclear) = told(&was, &is);
        assert_eq!((renamed.len(), unclear), (0, 1));
    }

    #[test]
    fn what_lies_in_a_renamed_thing_goes_with_it() {
        let was = ["s.main", "s.main.runs.up", "s.main.runs.up.size = 4", "s.main.fan = x"];
        let is = ["s.sub", "s.sub.runs.up", "s.sub.runs.up.size = 4", "s.sub.fan = x"];
        assert_eq!(told(&was, &is), (vec![], vec!["s.main s.sub".to_owned()], 0));
    }

    #[test]
    fn a_list_without_names_is_told_as_one() {
        let (entries, ..) = told(&["a.c[0] = 1", "a.c[1] = 2"], &["a.c[0] = 2", "a.c[1] = 3"]);
        assert_eq!(entries, ["a.c 1, 2 2, 3"]);
        let (entries, ..) = told(&["a.c[0] = 1", "a.c[1] = 2"], &["a.c[0] = 1", "a.c[1] = 3"]);
        assert_eq!(entries, ["a.c[1] 2 3"]);
    }
}
