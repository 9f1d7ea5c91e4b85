//! What a design takes: pipe in stock lengths with the way it is cut, fittings, hangers, sheets, sealant, labels; each
//! line with what it was counted from and what was taken for granted, and what could not be counted for want of an entry.
//!
//! Everything here is counted from what the file says. What it does not say is listed as missing and never guessed;
//! figures of common practice, such as the length in which pipe is sold, stand beside every line they enter, and a shop
//! file can state its own.

mod building;
mod desk;
mod fan;
mod fittings;
mod hangers;
mod labels;
mod membranes;
mod openings;
mod pipe;
mod points;
mod sealing;
mod usual;
mod water;

use crate::base::number::{Number, Ratio};
use crate::base::text::Span;
use crate::base::value::{EntryPath, Missing};
use crate::design::model::shop::ShopFile;
use crate::facts::Facts;

use desk::Desk;

/// A part of the list, in the order in which a truck is loaded.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Group {
    /// Pipe.
    Pipe,
    /// Fittings and what joins them.
    Fittings,
    /// Hangers and valves.
    Hangers,
    /// Insulation.
    Insulation,
    /// The fan, and what goes with it and with the outlet.
    Fan,
    /// Holes, and what pipe needs where it goes through something.
    Holes,
    /// Suction points.
    Points,
    /// Sumps and drains.
    Water,
    /// Membranes.
    Membrane,
    /// Sealant, backer and tape.
    Sealing,
    /// Gauge, alarm and labels.
    Signs,
    /// What an electrician brings.
    Electrician,
}

impl Group {
    /// All of them, in order.
    pub const ALL: [Group; 12] = [
        Group::Pipe,
        Group::Fittings,
        Group::Hangers,
        Group::Insulation,
        Group::Fan,
        Group::Holes,
        Group::Points,
        Group::Water,
        Group::Membrane,
        Group::Sealing,
        Group::Signs,
        Group::Electrician,
    ];
}

/// In what a line is counted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Unit {
    /// Pieces.
    Each,
    /// Lengths.
    Length,
    /// Areas.
    Area,
    /// Volumes.
    Volume,
    /// Packs, lengths or rolls of a size, by what one is called and what several are.
    Of(String, String),
}

/// What a part of a line is for.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Use {
    /// What it is for.
    pub what: String,
    /// How much of the line; nothing where that cannot be parted.
    pub amount: Option<Amount>,
    /// The entry it was counted from.
    pub entry: EntryPath,
    /// Where that stands.
    pub at: Span,
}

/// How much of something.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Amount {
    /// So many.
    Count(u32),
    /// So long.
    Length(Number),
    /// So large.
    Area(Number),
    /// So much room.
    Volume(Number),
}

impl Amount {
    /// The number of pieces, if it is one.
    #[must_use]
    pub fn as_count(&self) -> Option<u32> {
        match self {
            Amount::Count(count) => Some(*count),
            _ => None,
        }
    }
}

/// One line of the list.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Line {
    /// The part of the list it stands in.
    pub group: Group,
    /// What it is.
    pub part: String,
    /// Its size, and what else tells it from others.
    pub size: String,
    /// How much, in its unit; for lengths, areas and volumes in SI units.
    pub quantity: Number,
    /// In what it is counted.
    pub unit: Unit,
    /// What it is for.
    pub uses: Vec<Use>,
    /// What else has to be known of it.
    pub notes: Vec<String>,
    /// What was taken for granted.
    pub assumed: Vec<String>,
}

/// Something that could not be counted.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Uncounted {
    /// The part of the list it belongs to.
    pub group: Group,
    /// What it is.
    pub what: String,
    /// What would have to be stated.
    pub missing: Vec<Missing>,
}

/// One stock length, with the pieces it is cut into.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct StockLength {
    /// What each piece is for, and its length.
    pub pieces: Vec<(String, Ratio)>,
    /// What is left over.
    pub left: Ratio,
}

/// How stock lengths of one pipe are cut.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Cutting {
    /// Which pipe.
    pub of: String,
    /// The length it comes in.
    pub stock: Ratio,
    /// The lengths.
    pub lengths: Vec<StockLength>,
    /// Whether fewer are known to be impossible.
    pub fewest: bool,
    /// What was taken for granted.
    pub assumed: Vec<String>,
}

/// What a design takes.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Takeoff {
    /// The lines, by the parts of the list.
    pub lines: Vec<Line>,
    /// How pipe is cut.
    pub cuttings: Vec<Cutting>,
    /// What could not be counted.
    pub uncounted: Vec<Uncounted>,
}

/// Counts what a design takes.
#[must_use]
pub fn takeoff(facts: &mut Facts<'_>, shop: Option<&ShopFile>) -> Takeoff {
    let mut desk = Desk::new(facts, shop);
    let laid = pipe::pipe(&mut desk);
    fittings::fittings(&mut desk, &laid);
    hangers::hangers(&mut desk, &laid);
    fan::fans(&mut desk, &laid);
    openings::openings(&mut desk, &laid);
    points::points(&mut desk, &laid);
    points::collectors(&mut desk);
    water::water(&mut desk);
    building::building(&mut desk);
    membranes::membranes(&mut desk);
    sealing::joints(&mut desk);
    labels::signs(&mut desk, &laid);
    fittings::joints(&mut desk, &laid);
    desk.finish()
}
