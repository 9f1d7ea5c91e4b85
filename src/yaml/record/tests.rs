//! Records, words, names and measures, in a garden.

use super::*;
use crate::base::text::Sources;
use crate::yaml::entry::Stands;
use crate::yaml::measure::{Length, Measure};
use crate::yaml::name::NameOf;
use crate::yaml::scan;
use crate::yaml::words::words;

words! {
    /// What grows.
    pub enum Plant = "plant" {
        /// a bush with thorns
        Rose = "rose",
        /// a small tree
        DwarfPear = "dwarf pear",
    }
}

record! {
    /// A hedge.
    pub struct Hedge = "hedge", short height {
        /// How high it is.
        height: Measure<Length> = "height",
        /// Whether it is clipped.
        clipped: bool = "clipped",
    }
}

record! {
    /// A bed.
    pub struct Bed = "bed", apart (rows border) {
        /// What grows in it.
        plants: OneOrList<Plant> = "plants",
        /// The hedge behind it.
        behind: NameOf<Hedge> = "behind",
        /// How far apart its rows are.
        rows: Measure<Length> = "rows",
        /// How wide its border is.
        border: Measure<Length> = "border",
    }
}

record! {
    /// A garden.
    pub struct Garden {
        /// Hedges, by name.
        hedges: Named<Hedge> = "hedges",
        /// Beds, by name.
        beds: Named<Bed> = "beds",
    }
}

fn read(text: &str) -> (Garden, Vec<ProblemKind>, bool) {
    let mut sources = Sources::new();
    let id = sources.add("garden.yaml", text);
    let (tree, _) = scan::read(id, text);
    let mut reader = Reader::new(sources.get(id).unwrap(), &tree);
    let garden = Garden::read(&mut reader, tree.root().unwrap(), &EntryPath::new("")).unwrap();
    let problems =
        reader.problems.iter().chain(&reader.references.check("")).map(|problem| problem.kind).collect();
    (garden, problems, reader.schema_has_more)
}

fn all(garden: &Garden) -> Vec<(String, Stands)> {
    let mut met = Vec::new();
    garden.walk(&mut |entry| met.push((entry.path.to_string(), entry.stands)));
    met
}

#[test]
fn a_clean_file_leaves_nothing_to_the_schema() {
    let (garden, problems, more) = read(
        "hedges: {north: 4 ft, west: {height: 3 ft, clipped: No}}\nbeds: {a: {plants: rose, behind: west}}\n",
    );
    assert_eq!((problems, more), (vec![], false));
    assert!(garden.hedges.thing("north").unwrap().height.known().is_some());
    assert_eq!(garden.hedges.thing("west").unwrap().clipped.known(), Some(&false));
    assert_eq!(garden.beds.thing("a").unwrap().plants.members().collect::<Vec<_>>(), [&Plant::Rose]);
}

#[test]
fn what_the_schema_judges_is_left_to_it() {
    for text in
        ["hedges: {a: {heigth: 4 ft}}", "beds: {a: {plants: [rose, tulip]}}", "hedges: [4 ft]", "hedges: 3"]
    {
        let (_, problems, more) = read(text);
        assert_eq!((problems, more), (vec![], true), "{text}");
    }
}

#[test]
fn a_short_value_that_cannot_be_read_costs_its_own_key_alone() {
    let (garden, problems, _) = read("hedges: {a: 4}");
    assert_eq!(problems, [ProblemKind::NoUnit]);
    let paths = all(&garden);
    assert!(paths.contains(&("hedges.a.height".to_owned(), Stands::Unreadable)));
    assert!(paths.contains(&("hedges.a.clipped".to_owned(), Stands::Missing)));
}

#[test]
fn members_of_a_list_have_paths_that_a_person_can_write() {
    let (garden, _, _) = read("beds: {a: {plants: [rose, unknown, dwarf pear]}}");
    let paths = all(&garden);
    assert!(paths.contains(&("beds.a.plants[0]".to_owned(), Stands::Known)));
    assert!(paths.contains(&("beds.a.plants[1]".to_owned(), Stands::Unknown)));
    let bed = garden.beds.thing("a").unwrap();
    assert!(bed.plants.known().unwrap().0.all().value().is_none(), "not all of them are known");
}

#[test]
fn names_and_keys_that_exclude_each_other_are_told() {
    let (_, problems, _) = read("hedges: {a: 1 ft}\nbeds: {b: {behind: c}}");
    assert_eq!(problems, [ProblemKind::UnknownName]);
    let (_, problems, _) = read("beds: {b: {rows: 1 ft, border: 1 ft}}");
    assert_eq!(problems, [ProblemKind::NotTogether]);
}

#[test]
fn the_schema_describes_every_key_and_takes_no_other() {
    let mut defs = Schemas::default();
    let root = Garden::schema(&mut defs);
    assert!(defs.clashes().is_empty());
    let schema = defs.finish("Garden", root);
    let hedge = &schema["$defs"]["Hedge"];
    assert_eq!(hedge["properties"]["height"]["description"], "How high it is.");
    assert_eq!(hedge["additionalProperties"], false);
    assert_eq!(schema["$defs"]["Plant"]["enum"], json!(["rose", "dwarf pear"]));
}
