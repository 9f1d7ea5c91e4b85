//! Where the discharge may stand, in the plane of the elevation through it: hatched, and told row by row.

use crate::base::number::{Number, Ratio};
use crate::base::truth::Truth;
use crate::base::vocabulary::Thing;
use crate::design::model::place::Side;
use crate::facts::drawn;
use crate::facts::kinds::Kind;
use crate::review::Review;
use crate::review::placing::{Doing, NoRegion, Patch, Plane, Region, region};

use super::desk::{Desk, wanting};
use super::elevation::{Heights, Seen, whole};
use super::hatch::Hatching;
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::shade::together;
use super::signs::Key;
use super::view::{Shape, View};

const ALLOWED: Hatching = Hatching { apart: 6.0, leftward: true, pen: Pen::Allowed };
const UNTOLD: Hatching = Hatching { apart: 5.5, leftward: true, pen: Pen::Untold };

/// More rows than this are not told.
const ROWS: usize = 12;

/// The plane of an elevation, and whether what lies to the right in it lies farther along it.
fn plane(from: Side) -> (Plane, bool) {
    match from {
        Side::South => (Plane::EastWest, true),
        Side::North => (Plane::EastWest, false),
        Side::East => (Plane::NorthSouth, true),
        Side::West => (Plane::NorthSouth, false),
    }
}

/// Metres as they are counted, to the millimetre.
fn metres(of: f64) -> Option<Ratio> {
    Ratio::from_f64((of * 1000.0).round())?.checked_div(&Ratio::from(1000))
}

/// Where each discharge may stand.
pub(crate) fn allowed(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    twin: &mut Vec<Part>,
    (seen, heights): (Seen, &Heights),
    review: &Review<'_>,
) {
    let (plane, rightward) = plane(seen.from);
    let Some(extent) = view.extent() else { return };
    let foot = heights.ground.map_or(extent.low.y, |(low, _)| low);
    let (left, right) =
        if rightward { (extent.low.x, extent.high.x) } else { (-extent.high.x, -extent.low.x) };
    let box_of = |left, right, low, high| {
        Some(Patch { along: (metres(left)?, metres(right)?), up: (metres(low)?, metres(high)?) })
    };
    let Some(window) = box_of(left, right, foot, extent.high.y) else { return };
    let all = desk.all(Kind::Discharge);
    for it in &all {
        let name = desk.name(*it);
        let title = if all.len() > 1 {
            format!("Where the discharge {name} may stand")
        } else {
            "Where the discharge may stand".to_owned()
        };
        // Within its own walls the house is no place for an outlet.
        let house = inside(desk, plane, *it).then_some(()).and(heights.reach.zip(heights.edge));
        let house = house.and_then(|((left, right), (_, edge))| {
            let (left, right) = if rightward { (left, right) } else { (-right, -left) };
            box_of(left, right, foot.min(extent.low.y) - 1.0, edge)
        });
        let solid: Vec<Patch> = house.into_iter().collect();
        let found = match region(review, *it, plane, &window, &solid) {
            Ok(found) => found,
            Err(why) => {
                let why = no_region(&why);
                desk.left_out.push(format!("where {name} may stand: {why}"));
                twin.push(Part { title, lines: vec![format!("It is not worked out: {why}.")] });
                continue;
            }
        };
        let boxes = |patches: &[Patch]| -> Vec<Frame> {
            let turned = |at: &Ratio| if rightward { at.to_f64() } else { -at.to_f64() };
            let frame = |one: &Patch| {
                let low = Spot::at(turned(&one.along.0), one.up.0.to_f64());
                Frame { low, high: low }.with(Spot::at(turned(&one.along.1), one.up.1.to_f64()))
            };
            together(patches.iter().map(frame).collect())
        };
        let may = match found.doing {
            Doing::Everything => "a discharge may stand here: all that is asked of its place is met",
            Doing::Duties => "a discharge may stand here: every duty on its place is met",
        };
        for (patches, how, words) in [
            (&found.met, ALLOWED, may),
            (&found.open, UNTOLD, "it cannot be told whether a discharge may stand here"),
        ] {
            if patches.is_empty() {
                continue;
            }
            if !view.shades.iter().any(|(known, _)| *known == how) {
                view.shades.push((how, words.to_owned()));
            }
            view.shapes.push(Shape::Shade { boxes: boxes(patches), within: Vec::new(), how });
        }
        let across = found.now.0.to_f64();
        let across = if rightward { across } else { -across };
        for (low, high) in &found.plumb {
            view.keys.insert(Key::Plumb);
            let ends = vec![Spot::at(across, low.to_f64()), Spot::at(across, high.to_f64())];
            view.path(Layer::Zones, Pen::Plumb, ends, false);
        }
        let lines = told(desk, review, &found, (&window, plane), !solid.is_empty());
        twin.push(Part { title, lines });
    }
}

/// Whether the plane through a discharge goes through the house.
fn inside(desk: &mut Desk<'_, '_>, plane: Plane, it: Thing) -> bool {
    let stands = drawn::stands(desk.ask, it);
    let at = match plane {
        Plane::EastWest => stands.north,
        Plane::NorthSouth => stands.east,
    };
    let (Some(at), Some(house)) = (at.value(), whole(desk)) else { return false };
    let (low, high) = match plane {
        Plane::EastWest => (house.low.y, house.high.y),
        Plane::NorthSouth => (house.low.x, house.high.x),
    };
    let at = at.to_f64_mid();
    low < at && at < high
}

/// Why there is none, in a phrase.
fn no_region(why: &NoRegion) -> String {
    match why {
        NoRegion::NothingAsked => "no book in force asks anything of its place".to_owned(),
        NoRegion::NotStated(missing) => wanting(missing),
        NoRegion::NotExact => "its own place is known only within bounds".to_owned(),
        NoRegion::Built => {
            "field notes lie over the design, and what is built stands where it stands".to_owned()
        }
        NoRegion::Stuck(stuck) => format!("{} is in the way", stuck.entry()),
    }
}

/// What the region is, in words.
fn told(
    desk: &Desk<'_, '_>,
    review: &Review<'_>,
    found: &Region,
    (window, plane): (&Patch, Plane),
    house: bool,
) -> Vec<String> {
    let (plus, minus, off) = match plane {
        Plane::EastWest => ("east", "west", ("north", "south")),
        Plane::NorthSouth => ("north", "south", ("east", "west")),
    };
    let length = |metres: &Ratio| desk.length_near(&Number::exact(metres.clone()));
    let aside = |metres: &Ratio, (plus, minus): (&str, &str)| match metres.is_negative() {
        true => format!("{} {minus}", length(&-metres)),
        false => format!("{} {plus}", length(metres)),
    };
    let across = |(low, high): &(Ratio, Ratio)| {
        format!("from {} to {}", aside(low, (plus, minus)), aside(high, (plus, minus)))
    };
    let heights = |(low, high): &(Ratio, Ratio)| format!("from {} up to {}", length(low), length(high));
    let mut lines = vec![format!(
        "Looked at in the plane {} of the origin, {} of it and {} above it, in squares of {} and larger. Hatched is only a square in which all places will do, so that a little is lost at the edges.",
        aside(&found.at, off),
        across(&window.along),
        heights(&window.up),
        length(&found.step),
    )];
    if house {
        lines.push("The house itself is left out up to the highest edge of its roof.".to_owned());
    }
    let books: Vec<String> = found
        .books
        .iter()
        .filter_map(|book| review.used.get(*book))
        .map(|used| match used.standing.counts() {
            true => used.book.name.clone(),
            false => format!("{} (for information)", used.book.name),
        })
        .collect();
    let all = match found.doing {
        Doing::Everything => "every duty and all advice",
        Doing::Duties => "every duty",
    };
    let books = books.join(", ");
    if found.met.is_empty() {
        lines
            .push(format!("Nowhere in it is {all} on the place known to be met all over a square: {books}."));
    } else {
        lines.push(format!("Hatched, and so allowed by {all} on the place: {books}."));
    }
    for row in found.rows(ROWS) {
        let stretches: Vec<String> = row.along.iter().map(across).collect();
        lines.push(format!("{}: {}", heights(&row.up), stretches.join(", and ")));
    }
    lines.extend(bounded(review, found, length));
    if !found.open.is_empty() {
        let why = match found.missing.as_slice() {
            [] => "it was not looked at more closely".to_owned(),
            missing => wanting(missing),
        };
        lines.push(format!("Where it is dotted it cannot be told: {why}."));
    }
    for up in &found.plumb {
        lines.push(format!("Straight over or under where it is drawn, all of that is met {}.", heights(up)));
    }
    let (along, up) = &found.now;
    let plumb = found.plumb.iter().any(|(low, high)| low <= up && up <= high);
    let stands = if plumb || found.holds(along, up) { Truth::True } else { found.stands };
    let as_drawn = match stands {
        Truth::True => "As drawn the discharge stands where it may, as far as is told here.",
        Truth::False => "As drawn the discharge does not stand where it may, as far as is told here.",
        Truth::Unknown => {
            "Whether the discharge may stand where it is drawn cannot be told yet: nothing stated forbids it."
        }
    };
    lines.push(as_drawn.to_owned());
    lines
}

/// What the region ends at, and at which heights: requirements that read alike on one line.
fn bounded(review: &Review<'_>, found: &Region, length: impl Fn(&Ratio) -> String) -> Vec<String> {
    let mut all: Vec<(String, (Ratio, Ratio), Vec<String>)> = Vec::new();
    for bound in &found.bounds {
        let Some(used) = review.used.get(bound.asked.book) else { continue };
        let Some(rule) = used.book.rules.get(bound.asked.rule) else { continue };
        match all.iter_mut().find(|(title, ..)| *title == rule.title) {
            Some((_, up, books)) => {
                up.0 = up.0.clone().min(bound.up.0.clone());
                up.1 = up.1.clone().max(bound.up.1.clone());
                if !books.contains(&used.book.name) {
                    books.push(used.book.name.clone());
                }
            }
            None => all.push((rule.title.clone(), bound.up.clone(), vec![used.book.name.clone()])),
        }
    }
    let line = |(title, (low, high), books): (String, (Ratio, Ratio), Vec<String>)| {
        let at = match low == high {
            true => format!("at {}", length(&low)),
            false => format!("from {} up to {}", length(&low), length(&high)),
        };
        format!("It ends {at} by: {title} ({})", books.join(", "))
    };
    all.into_iter().map(line).collect()
}
