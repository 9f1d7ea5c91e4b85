//! Points, outlines and sizes, as people write them.

use std::ops::Range;

use serde_json::{Value, json};

use super::entry::{Entry, Here, Meaning, Met};
use super::measure::{Coordinate, Measure};
use super::record::{Reader, Reads, walk_entry};
use super::schema::{Schemas, or_not_known};
use super::tree::{NodeId, NodeKind};
use crate::base::number::quantity::Size as Sides;
use crate::base::number::{Number, Quantity, Ratio};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::value::{Answer, EntryPath};

/// A point in space: `[18 ft, 24 ft, 11 ft 8 in]`, each coordinate an entry of its own.
#[derive(Clone, PartialEq, Debug)]
pub struct Point {
    /// Where it stands.
    pub here: Here,
    /// To the east of the origin.
    pub x: Entry<Measure<Coordinate>>,
    /// To the north of the origin.
    pub y: Entry<Measure<Coordinate>>,
    /// Up from the origin.
    pub z: Entry<Measure<Coordinate>>,
}

/// A point on a plan: `[18 ft, 24 ft]`, each coordinate an entry of its own.
#[derive(Clone, PartialEq, Debug)]
pub struct PlanPoint {
    /// Where it stands.
    pub here: Here,
    /// To the east of the origin.
    pub x: Entry<Measure<Coordinate>>,
    /// To the north of the origin.
    pub y: Entry<Measure<Coordinate>>,
}

impl Point {
    /// All three coordinates, or what is missing of them.
    pub fn coordinates(&self) -> Answer<(Number, Number, Number)> {
        let of = |entry: &Entry<Measure<Coordinate>>| coordinate(entry, &self.here);
        of(&self.x).both(of(&self.y)).both(of(&self.z)).map(|((x, y), z)| (x, y, z))
    }
}

impl PlanPoint {
    /// Both coordinates, or what is missing of them.
    pub fn coordinates(&self) -> Answer<(Number, Number)> {
        coordinate(&self.x, &self.here).both(coordinate(&self.y, &self.here))
    }
}

fn coordinate(entry: &Entry<Measure<Coordinate>>, here: &Here) -> Answer<Number> {
    entry.answer(here).then(|known| match known {
        Some(measure) => Answer::known(measure.number()),
        None => Answer::missing(entry.want(here)),
    })
}

/// The coordinate at a place of a list.
fn nth(
    reader: &mut Reader<'_>,
    list: &[NodeId],
    at: usize,
    key: &'static str,
    here: &Here,
) -> Entry<Measure<Coordinate>> {
    match list.get(at) {
        Some(node) => {
            let state = reader.state(*node, &here.path.key(key));
            Entry { key, state, at: reader.span(*node), whole: true }
        }
        None => Entry::missing(key, here.at),
    }
}

/// The members of a list that has as many as wanted.
fn exactly<'a>(reader: &Reader<'a>, node: NodeId, wanted: usize) -> Option<&'a [NodeId]> {
    match &reader.tree().node(node)?.kind {
        NodeKind::List(members) if members.len() == wanted => Some(members),
        _ => None,
    }
}

fn point_schema(defs: &mut Schemas, wanted: usize, what: &str) -> Value {
    let coordinate = Measure::<Coordinate>::schema(defs);
    json!({
        "description": what,
        "type": "array",
        "items": or_not_known(defs, coordinate),
        "minItems": wanted,
        "maxItems": wanted,
    })
}

impl Reads for Point {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let list = exactly(reader, node, 3)?;
        let here = Here { at: reader.span(node), path: path.clone() };
        let x = nth(reader, list, 0, "[0]", &here);
        let y = nth(reader, list, 1, "[1]", &here);
        let z = nth(reader, list, 2, "[2]", &here);
        Some(Point { here, x, y, z })
    }

    fn schema(defs: &mut Schemas) -> Value {
        let what = "A point as [east, north, up] of the origin: [18 ft, 24 ft, 11 ft 8 in].";
        defs.refer::<Point>("point", |defs| point_schema(defs, 3, what))
    }

    fn walk(&self, meet: &mut dyn FnMut(Met)) {
        walk_entry(&self.x, &self.here, meet);
        walk_entry(&self.y, &self.here, meet);
        walk_entry(&self.z, &self.here, meet);
    }
}

impl Reads for PlanPoint {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let list = exactly(reader, node, 2)?;
        let here = Here { at: reader.span(node), path: path.clone() };
        let x = nth(reader, list, 0, "[0]", &here);
        let y = nth(reader, list, 1, "[1]", &here);
        Some(PlanPoint { here, x, y })
    }

    fn schema(defs: &mut Schemas) -> Value {
        let what = "A point on the plan as [east, north] of the origin: [18 ft, 24 ft].";
        defs.refer::<PlanPoint>("plan_point", |defs| point_schema(defs, 2, what))
    }

    fn walk(&self, meet: &mut dyn FnMut(Met)) {
        walk_entry(&self.x, &self.here, meet);
        walk_entry(&self.y, &self.here, meet);
    }
}

/// A size in plan: a rectangle, or an L of two rectangles. In each, the side written first runs from east to
/// west, the second from north to south.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Size {
    /// `40 ft x 24 ft`
    Rectangle(Box<Sides>),
    /// `L of 40 ft x 24 ft and 16 ft x 20 ft`: the second lies east of the first, their south sides in one line.
    L(Box<Sides>, Box<Sides>),
}

const SIZE: &str = "two lengths with x between them, 40 ft x 24 ft, or L of 40 ft x 24 ft and 16 ft x 20 ft";

impl Reads for Size {
    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let text = reader.text(node)?;
        let Some(rest) = text.strip_prefix("L of ").or_else(|| text.strip_prefix("l of ")) else {
            return sides(reader, node, 0..text.len()).map(|sides| Size::Rectangle(Box::new(sides)));
        };
        let start = text.len() - rest.len();
        let Some(and) = rest.find(" and ") else {
            reader.report_value(node, ProblemKind::NotAQuantity, SIZE);
            return None;
        };
        let first = sides(reader, node, start..start + and);
        let second = sides(reader, node, start + and + " and ".len()..text.len());
        Some(Size::L(Box::new(first?), Box::new(second?)))
    }

    fn means(&self) -> Meaning {
        let one = |sides: &Sides| {
            format!("{} by {}", sides.first.number.in_one_way(), sides.second.number.in_one_way())
        };
        Meaning::Value(match self {
            Size::Rectangle(sides) => one(sides),
            Size::L(first, second) => format!("{} and {}", one(first), one(second)),
        })
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Size>(
            "size",
            |_| json!({ "description": format!("A size in plan: {SIZE}."), "type": ["string", "number"] }),
        )
    }
}

/// Reads `40 ft x 24 ft` from a part of a single value.
fn sides(reader: &mut Reader<'_>, node: NodeId, part: Range<usize>) -> Option<Sides> {
    let text = reader.text(node)?.get(part.clone())?;
    match Sides::parse(text) {
        Ok(sides) => {
            let is_side = |quantity: &Quantity| quantity.number.low() > Ratio::ZERO;
            if !is_side(&sides.first) || !is_side(&sides.second) {
                let at = reader.part(node, part);
                let accepts = format!("{SIZE}, each more than nothing");
                reader.report(Problem::new(ProblemKind::OutOfRange, at).found(text).accepts(accepts));
                return None;
            }
            Some(sides)
        }
        Err(fault) => {
            let at = reader.part(node, part.start + fault.at.start..part.start + fault.at.end);
            reader.report(fault.problem(at));
            None
        }
    }
}
