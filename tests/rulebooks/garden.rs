//! A toy world for the rule language: gardens with beds, hedges and paths. Nothing in it is of the trade,
//! so what holds here holds for whatever catalogue a rulebook is checked against.

use undercroft::base::number::Dimension;
use undercroft::base::text::{SourceId, Sources};
use undercroft::base::vocabulary::{
    FactShape, FactType, KindId, KindShape, Saying, Vocabulary, WordsId, WordsShape,
};

pub(super) const ROOT: KindId = KindId(0);
pub(super) const BED: KindId = KindId(1);
pub(super) const HEDGE: KindId = KindId(2);
pub(super) const PATH: KindId = KindId(3);
const SOIL: WordsId = WordsId(0);
const PLANT: WordsId = WordsId(1);
const HOSE: WordsId = WordsId(2);

/// What can be asked in a garden.
pub(super) fn vocabulary() -> Vocabulary {
    let kind = |name: &str| KindShape {
        name: name.to_owned(),
        meaning: format!("What is meant by {name}."),
        ..KindShape::default()
    };
    let fact = |of: KindId, name: &str, of_type: FactType, entry: &str| FactShape {
        of,
        name: name.to_owned(),
        of_type,
        estimated: false,
        meaning: format!("The {name}."),
        formula: String::new(),
        source: String::new(),
        needs: vec![entry.to_owned()],
        handle: true,
        by_place: false,
        said: Saying::default(),
    };
    let words = |name: &str, list: &[&str], ordered: bool| WordsShape {
        name: name.to_owned(),
        words: list.iter().map(|word| ((*word).to_owned(), format!("{word}."))).collect(),
        ordered,
    };
    let length = FactType::Number(Dimension::LENGTH);
    let area = FactType::Number(Dimension::AREA);
    let mut facts = vec![
        fact(ROOT, "beds", FactType::Things(BED), "beds"),
        fact(ROOT, "hedges", FactType::Things(HEDGE), "hedges"),
        fact(ROOT, "paths", FactType::Things(PATH), "paths"),
        fact(ROOT, "main_path", FactType::One(PATH), "main_path"),
        fact(ROOT, "open_to_visitors", FactType::Truth, "open_to_visitors"),
        fact(ROOT, "lawn", area, "lawn"),
        fact(ROOT, "first_frost", FactType::Number(Dimension::TEMPERATURE), "first_frost"),
        fact(ROOT, "last_frost", FactType::Number(Dimension::TEMPERATURE), "last_frost"),
        fact(ROOT, "hose", FactType::Word(HOSE), "hose"),
        fact(ROOT, "motto", FactType::Text, "motto"),
        fact(BED, "length", length, "beds.*.length"),
        fact(BED, "width", length, "beds.*.width"),
        fact(BED, "soil", FactType::Word(SOIL), "beds.*.soil"),
        fact(BED, "sunny", FactType::Truth, "beds.*.sunny"),
        fact(BED, "beside", FactType::One(PATH), "beds.*.beside"),
        fact(BED, "hedges", FactType::Things(HEDGE), "beds.*.hedges"),
        fact(HEDGE, "height", length, "hedges.*.height"),
        fact(HEDGE, "clearance", length, "hedges.*.clearance"),
        fact(HEDGE, "plant", FactType::Word(PLANT), "hedges.*.plant"),
        fact(HEDGE, "clipped", FactType::Truth, "hedges.*.clipped"),
        fact(HEDGE, "in", FactType::One(BED), "hedges.*.in"),
        fact(PATH, "width", length, "paths.*.width"),
        fact(PATH, "paved", FactType::Truth, "paths.*.paved"),
    ];
    facts.push(FactShape {
        formula: "length times width".to_owned(),
        source: "common practice, no source".to_owned(),
        needs: vec!["beds.*.length".to_owned(), "beds.*.width".to_owned()],
        handle: false,
        by_place: false,
        ..fact(BED, "area", area, "")
    });
    Vocabulary::of(
        ["garden", "bed", "hedge", "path"].map(kind).to_vec(),
        facts,
        vec![
            words("soil", &["sand", "loam", "clay", "heavy clay"], true),
            words("kind of plant", &["beech", "yew", "well-known box"], false),
            words("size of hose", &["1/2 in", "3/4 in", "1 1/4 in"], true),
        ],
    )
}

/// A book that has no fault: its file, one rule and one base design.
pub(super) const BOOK: &str = "\
book: parks
title: Rules of the parks office
publisher: The parks office
edition: second
in_force: {from: 2020-01-01}
legal_nature: A by-law.
covers: Gardens that are open to visitors.
sources:
  by-law: {title: Garden by-law, publisher: The parks office, year: 2019, read_at: the town hall, basis: read}
left_to_the_eye:
  - {section: 9, look_for: whether the roses are pretty}
not_held:
  - {section: 12, subject: ponds}
";

/// The one rule of that book.
pub(super) const RULE: &str = "\
rule: hedge-clear-of-path
title: Hedges kept clear of the path
obligation: shall
due: design
subject: hedges/paths
source: {document: by-law, section: 4.2, basis: read}
because: A hedge that leans over a path wets everybody who walks by.
each: hedge in hedges
applies: open_to_visitors and hedge.in.sunny
limits:
  clearance: {value: 3 ft, words: at least}
  low: {value: 2 ft, words: at most}
requires: |
  hedge.clearance >= clearance
  or hedge.height <= low
unmet: \"{hedge} is {hedge.clearance} from the path and {hedge.height} high; {clearance} is asked for.\"
corrections:
  - clip the hedge:
      set: hedges.{hedge}.height
      to: low
  - plant it elsewhere
cautions: [thorns]
cases:
  - claim: a low hedge may stand close
    from: plot
    with:
      hedges.front.height: 1 ft
      hedges.front.corners: [[0 ft, 1 ft], [2 ft, 3 ft]]
    at: front
    verdict: met
  - {claim: not measured, from: plot, missing: [hedges.front.height, hedges.front.clearance], at: front, stage: installed, verdict: undetermined}
";

/// The files of a book, ready to be loaded, and the texts they are places in.
pub(super) struct Shelf {
    pub(super) sources: Sources,
    paths: Vec<(SourceId, String)>,
}

impl Shelf {
    /// Takes the files in, in this order.
    pub(super) fn new(files: &[(&str, &str)]) -> Self {
        let mut sources = Sources::new();
        let paths =
            files.iter().map(|(path, text)| (sources.add(*path, *text), (*path).to_owned())).collect();
        Shelf { sources, paths }
    }

    /// The book of the parks office with this text as its rule.
    pub(super) fn with_rule(rule: &str) -> Self {
        Shelf::new(&[
            ("parks/book.yaml", BOOK),
            ("parks/hedges/hedge-clear-of-path.yaml", rule),
            ("parks/cases/plot.yaml", "beds: {}\n"),
        ])
    }

    /// The files in the form the loader takes.
    pub(super) fn files(&self) -> Vec<(SourceId, &str, &str)> {
        let text = |id: &SourceId| self.sources.get(*id).map_or("", |source| source.text());
        self.paths.iter().map(|(id, path)| (*id, path.as_str(), text(id))).collect()
    }
}
