//! The numbers of a design that are worked out: what each is, what it was worked out from, what was taken for granted
//! on the way, and what would have to be stated for those that cannot be told.

use std::collections::BTreeSet;

use super::run::{read_design, read_shop};
use super::{DESIGN, Input, SHOP};
use crate::base::digest::sha256_hex;
use crate::base::number::Number;
use crate::base::problem::Problem;
use crate::base::text::{Sources, Span};
use crate::base::value::{Answer, Missing, Origin, Stated, Value};
use crate::base::vocabulary::{Answers, FactId, FactType, Thing, Vocabulary};
use crate::design::Design;
use crate::design::model::fan::Fan;
use crate::design::model::shop::ShopFile;
use crate::facts::ask::Ask;
use crate::facts::kinds::Kind;
use crate::facts::{catalogue, vocabulary, worksheet};
use crate::yaml::entry::State;

/// The worksheet of one design.
#[derive(Clone, Debug)]
pub struct Worksheet {
    /// Every text it speaks of: the design first, then the shop file, then the field notes.
    pub sources: Sources,
    /// What the job is called.
    pub title: Option<String>,
    /// What is wrong with the files.
    pub problems: Vec<Problem>,
    /// What else has to be said.
    pub notes: Vec<String>,
    /// The parts that have a number at all.
    pub parts: Vec<Part>,
    /// The fans whose designed air lies far from what was worked out.
    pub at_odds: Vec<AtOdds>,
    /// The digest of the design.
    pub digest: String,
}

/// A fan whose designed air lies far from what was worked out.
#[derive(Clone, Debug)]
pub struct AtOdds {
    /// What it is called in the file.
    pub name: String,
    /// The air it is designed for.
    pub stated: Number,
    /// The air it is worked out to move.
    pub worked: Number,
}

/// One part.
#[derive(Clone, Debug)]
pub struct Part {
    /// What it is called.
    pub title: &'static str,
    /// Its things, in the order of the file.
    pub things: Vec<Member>,
}

/// One thing with its numbers.
#[derive(Clone, Debug)]
pub struct Member {
    /// The thing.
    pub thing: Thing,
    /// What it is called in the file.
    pub name: String,
    /// Where it stands.
    pub at: Option<Span>,
    /// Its numbers.
    pub figures: Vec<Figure>,
}

/// One number.
#[derive(Clone, Debug)]
pub struct Figure {
    /// Which fact it is.
    pub fact: FactId,
    /// What it is worth, or what is missing.
    pub answer: Answer<Value>,
    /// The facts it was worked out from directly.
    pub inputs: Vec<InputFact>,
    /// The entries it was read from directly.
    pub entries: Vec<Stated>,
    /// All that it rests on.
    pub origin: std::sync::Arc<Origin>,
}

/// A fact from which a number was worked out.
#[derive(Clone, Debug)]
pub struct InputFact {
    /// Which fact.
    pub fact: FactId,
    /// Of which thing.
    pub thing: Thing,
    /// What that thing is called in the file.
    pub name: String,
    /// What the fact is worth.
    pub value: Value,
}

impl Worksheet {
    /// The name of the design file, as the person gave it.
    #[must_use]
    pub fn name(&self) -> &str {
        self.sources.get(DESIGN).map_or("", |source| source.name())
    }

    /// What the facts are called.
    #[must_use]
    pub fn vocabulary(&self) -> &'static Vocabulary {
        vocabulary()
    }

    /// What kept the file from being read as a whole, if anything did.
    #[must_use]
    pub fn refusal(&self) -> Option<&Problem> {
        self.problems.iter().find(|problem| problem.kind.refuses_the_file())
    }
}

/// Works out the numbers of one design.
#[must_use]
pub fn worksheet(input: &Input<'_>) -> Worksheet {
    let mut sources = Sources::new();
    sources.add("", "");
    sources.add("", "");
    debug_assert!(sources.get(SHOP).is_some());
    let read = read_design(&mut sources, input);
    let mut sheet = Worksheet {
        sources,
        title: read.design.job.title.known().map(|title| title.0.clone()),
        problems: read.problems,
        notes: input.notes.clone(),
        parts: Vec::new(),
        at_odds: Vec::new(),
        digest: sha256_hex(input.bytes),
    };
    let shop = input.shop.and_then(|(name, bytes)| {
        let (shop, problems) = read_shop(&mut sheet.sources, name, bytes);
        sheet.problems.extend(problems);
        shop
    });
    if sheet.refusal().is_none() {
        sheet.parts = parts(&read.design);
        sheet.at_odds = at_odds(&read.design);
        let fans = shop.map(|shop| offered(&read.design, &shop)).unwrap_or_default();
        if !fans.is_empty() {
            let first = sheet.parts.iter().position(|part| part.title == worksheet::FANS);
            let at = first.map_or(0, |at| at + 1);
            sheet.parts.insert(at, Part { title: "Fans of the shop file in its place", things: fans });
        }
    }
    sheet
}

fn at_odds(design: &Design) -> Vec<AtOdds> {
    let mut ask = Ask::new(design);
    let fans = ask.things().all(Kind::Fan);
    let mut of = |fan| {
        let (stated, worked) = worksheet::at_odds(&mut ask, fan)?;
        Some(AtOdds { name: ask.name_of(fan), stated, worked })
    };
    fans.into_iter().filter_map(&mut of).collect()
}

/// What each fan of a shop that has a curve does in place of each that is drawn.
fn offered(design: &Design, shop: &ShopFile) -> Vec<Member> {
    let drawn = Ask::new(design).things().all(Kind::Fan);
    let mut members = Vec::new();
    for (name, fan) in shop.fans.things().filter(|(_, fan)| fan.curve.known().is_some()) {
        for thing in &drawn {
            let Some(other) = with_curve_of(design, *thing, fan) else { continue };
            let mut ask = Ask::new(&other);
            let facts = worksheet::OFFERED.iter().filter_map(|name| catalogue::number_of(thing.kind, name));
            let figures = facts.map(|fact| figure(&mut ask, fact, *thing)).collect();
            let name = format!("{name} for {}", ask.name_of(*thing));
            members.push(Member { thing: *thing, name, at: Some(fan.here.at), figures });
        }
    }
    members
}

/// The design with the curve of another fan.
fn with_curve_of(design: &Design, it: Thing, fan: &Fan) -> Option<Design> {
    let owner = Ask::new(design).things().owner(it)?;
    let mut other = design.clone();
    let State::Known(systems) = &mut other.systems.state else { return None };
    let State::Known(system) = &mut systems.items.get_mut(owner as usize)?.state else { return None };
    let State::Known(own) = &mut system.fan.state else { return None };
    own.curve = fan.curve.clone();
    own.curve_density = fan.curve_density.clone();
    Some(other)
}

fn parts(design: &Design) -> Vec<Part> {
    let mut ask = Ask::new(design);
    let mut parts = Vec::new();
    for part in worksheet::PARTS {
        let mut things = Vec::new();
        for (kind, names) in part.of {
            for thing in ask.things().all(*kind) {
                let mut open = BTreeSet::new();
                let mut figures = Vec::new();
                for name in *names {
                    if let Some(fact) = catalogue::number_of(thing.kind, name)
                        && has_meaning(&mut ask, &mut open, (*kind, thing, name))
                    {
                        figures.push(figure(&mut ask, fact, thing));
                    }
                }
                if figures.is_empty() {
                    continue;
                }
                things.push(Member { thing, name: ask.name_of(thing), at: ask.place_of(thing), figures });
            }
        }
        if !things.is_empty() {
            parts.push(Part { title: part.title, things });
        }
    }
    parts
}

/// Whether a number means something for a thing: not where it is known to be none of its sort. Where that is not known,
/// the first number that turns on it tells what is missing, and the others are left out.
fn has_meaning(
    ask: &mut Ask<'_>,
    open: &mut BTreeSet<(Thing, &'static str)>,
    (kind, thing, name): (Kind, Thing, &str),
) -> bool {
    let of = |table: &'static [(Kind, &'static str, &'static str)]| {
        table.iter().filter(move |(of, fact, _)| *of == kind && *fact == name).map(|(.., truth)| *truth)
    };
    if of(worksheet::NOT_WHERE).any(|truth| ask.truth(thing, truth).value() == Some(true)) {
        return false;
    }
    of(worksheet::ONLY_WHERE).all(|truth| match ask.truth(thing, truth).value() {
        Some(holds) => holds,
        None => open.insert((thing, truth)),
    })
}

fn figure(ask: &mut Ask<'_>, fact: FactId, thing: Thing) -> Figure {
    let answer = ask.fact(fact, thing);
    let (asked, entries) = ask.directly(fact, thing);
    let mut inputs = Vec::new();
    for (fact, thing) in asked {
        let shown = vocabulary().fact(fact).is_some_and(|shape| {
            matches!(shape.of_type, FactType::Number(_) | FactType::Word(_) | FactType::Truth)
        });
        if let Answer::Known { value, .. } = ask.fact(fact, thing)
            && shown
        {
            inputs.push(InputFact { fact, thing, name: ask.name_of(thing), value });
        }
    }
    Figure { fact, answer, inputs, entries, origin: ask.origin(fact, thing) }
}

/// What would have to be stated for the numbers of a worksheet, each entry once, with how many wait for it.
#[must_use]
pub fn wanted(sheet: &Worksheet) -> Vec<(Missing, usize)> {
    let mut wanted: Vec<(Missing, usize)> = Vec::new();
    let figures = sheet.parts.iter().flat_map(|part| &part.things).flat_map(|thing| &thing.figures);
    for figure in figures {
        let Answer::Unknown(missing) = &figure.answer else { continue };
        for one in missing {
            match wanted.iter_mut().find(|(known, _)| known == one) {
                Some((_, count)) => *count += 1,
                None => wanted.push((one.clone(), 1)),
            }
        }
    }
    wanted.sort_by(|(a, n), (b, m)| m.cmp(n).then_with(|| a.cmp(b)));
    wanted
}
