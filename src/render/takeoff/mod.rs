//! What to put on the truck, in words: a page, a report for machines, a table for a spreadsheet.

pub mod csv;
pub mod json;
pub mod page;
pub mod paper;

use crate::base::number::{Dimension, Number, Quantity, Ratio, Rounding};
use crate::base::text::Sources;
use crate::base::value::{Missing, Reason};
use crate::design::keys::way;
use crate::render::tell::spot::to_settle;
use crate::takeoff::{Amount, Group, Line, Unit, Use};

/// What a part of the list is called.
fn title(group: Group) -> &'static str {
    match group {
        Group::Pipe => "Pipe",
        Group::Fittings => "Fittings and cement",
        Group::Hangers => "Hangers and valves",
        Group::Insulation => "Insulation",
        Group::Fan => "Fan and outlet",
        Group::Holes => "Holes and what goes into them",
        Group::Points => "Suction points",
        Group::Water => "Sumps and drains",
        Group::Membrane => "Membrane",
        Group::Sealing => "Sealant, backer and tape",
        Group::Signs => "Gauge, alarm and labels",
        Group::Electrician => "For the electrician",
    }
}

/// The caution that belongs to a part of the list.
fn caution(group: Group) -> Option<&'static str> {
    match group {
        Group::Fittings => {
            Some("Cement and primer give off vapours that burn and harm: air the room, no flame near.")
        }
        Group::Fan => {
            Some("Ladders and roofs: secure the ladder and yourself. In an attic step on the framing alone.")
        }
        Group::Holes => Some(
            "Before any hole: know about tensioned cables, heating tubes, gas, water, sewer and power in and under \
             the slab, and about asbestos in tile, glue and vermiculite. Cut concrete wet or with suction at the bit: \
             its dust harms the lungs.",
        ),
        Group::Points => Some(
            "Soil gas comes up through an open hole: keep it covered and the room aired until the fan runs.",
        ),
        Group::Membrane => Some(
            "A crawlspace is tight and can be short of air: air it, look for live wires, do not work there alone.",
        ),
        Group::Electrician => Some(
            "Live wires kill. The local code and a licensed electrician have the last word. Cable, conduit, breaker and \
             connections are left to the electrician and not counted.",
        ),
        Group::Pipe | Group::Hangers | Group::Insulation | Group::Water | Group::Sealing | Group::Signs => {
            None
        }
    }
}

/// What to state, with its place and how it is written.
fn to_state(missing: &Missing, sources: &Sources) -> String {
    let settle = to_settle(missing, sources);
    let stated = !matches!(missing.reason, Reason::NotStated);
    match way(missing.entry.as_str()).filter(|_| !stated) {
        Some(way) => format!("{settle} ({})", way.short()),
        None => settle,
    }
}

/// A length to the nearest eighth of an inch.
fn eighths(length: &Number) -> Number {
    let eighth = Ratio::new(254, 80_000).unwrap_or(Ratio::ONE);
    Number::exact(length.high().round_to(&eighth, Rounding::Nearest).unwrap_or_else(|| length.high()))
}

/// How much, as one says it.
fn amount(of: &Amount) -> String {
    let shown = |number: Number, dimension| Quantity::of(number, dimension).to_string();
    match of {
        Amount::Count(count) => count.to_string(),
        Amount::Length(length) => shown(eighths(length), Dimension::LENGTH),
        Amount::Area(area) => shown(tenths(area, SQUARE_FOOT), Dimension::AREA),
        Amount::Volume(volume) => shown(tenths(volume, GALLON), Dimension::VOLUME),
    }
}

/// The quantity of a line, as one says it.
pub(in crate::render) fn quantity(line: &Line) -> String {
    let number = line.quantity.clone();
    match &line.unit {
        Unit::Each => whole(&number).to_string(),
        Unit::Length => amount(&Amount::Length(number)),
        Unit::Area => amount(&Amount::Area(number)),
        Unit::Volume => amount(&Amount::Volume(number)),
        Unit::Of(one, many) => match whole(&number) {
            1 => format!("1 {one}"),
            count => format!("{count} {many}"),
        },
    }
}

fn whole(number: &Number) -> i64 {
    number.high().ceil().to_int().unwrap_or(0)
}

/// A foot, a square foot and a gallon in SI units, over ten thousand, a hundred million and ten billion.
const FOOT: (i128, i128) = (3_048, 10_000);
const SQUARE_FOOT: (i128, i128) = (9_290_304, 100_000_000);
const GALLON: (i128, i128) = (3_785_411_784, 1_000_000_000_000);

fn unit((numerator, denominator): (i128, i128)) -> Ratio {
    Ratio::new(numerator, denominator).unwrap_or(Ratio::ONE)
}

/// A number up to the next tenth of a unit.
fn tenths(number: &Number, of: (i128, i128)) -> Number {
    let tenth = unit(of).checked_div(&Ratio::from(10)).unwrap_or(Ratio::ONE);
    Number::exact(number.high().round_to(&tenth, Rounding::Up).unwrap_or_else(|| number.high()))
}

/// A number of units with two decimals at most, and what the unit is called, for tables and machines.
fn plain(number: &Number, counted_in: &Unit) -> (Ratio, String) {
    let of = |size: (i128, i128), name: &str| {
        let hundredth = Ratio::new(1, 100).unwrap_or(Ratio::ONE);
        let count = number.high().checked_div(&unit(size)).unwrap_or_default();
        (count.round_to(&hundredth, Rounding::Up).unwrap_or(count), name.to_owned())
    };
    match counted_in {
        Unit::Each => (Ratio::from(whole(number)), "each".to_owned()),
        Unit::Length => of(FOOT, "ft"),
        Unit::Area => of(SQUARE_FOOT, "sq ft"),
        Unit::Volume => of(GALLON, "gal"),
        Unit::Of(one, many) => {
            let count = whole(number);
            (Ratio::from(count), if count == 1 { one.clone() } else { many.clone() })
        }
    }
}

/// What a line is for, each thing once.
fn uses(line: &Line) -> Vec<(String, Option<Amount>)> {
    let mut all: Vec<(String, Option<Amount>)> = Vec::new();
    for Use { what, amount, .. } in &line.uses {
        let known = all.iter_mut().find(|(known, _)| known == what);
        match (known, amount) {
            (Some((_, Some(Amount::Count(known)))), Some(Amount::Count(more))) => *known += more,
            (Some((_, Some(Amount::Length(known)))), Some(Amount::Length(more))) => *known = &*known + more,
            (Some(_), _) => {}
            (None, amount) => all.push((what.clone(), amount.clone())),
        }
    }
    all
}

/// What a line is for, in one phrase.
fn uses_in_words(line: &Line) -> String {
    // A fan is for the fan.
    let own = |what: &str| ["fan", "gauge", "alarm", "outlet"].contains(&what);
    let all: Vec<_> = uses(line).into_iter().filter(|(what, _)| !own(what)).collect();
    let alone = all.len() == 1;
    let said = all.iter().map(|(what, share)| match share {
        Some(Amount::Count(1)) | None => what.clone(),
        Some(_) if alone && !matches!(line.unit, Unit::Of(..)) => what.clone(),
        Some(share) => format!("{what} {}", amount(share)),
    });
    said.collect::<Vec<_>>().join(", ")
}

/// What a line is, with its size.
fn part(line: &Line) -> String {
    if line.size.is_empty() { line.part.clone() } else { format!("{}, {}", line.part, line.size) }
}
