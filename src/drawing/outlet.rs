//! A discharge on an elevation: its heights with what the books ask of them, and what is to be kept clear of it. What is
//! not as asked comes first, and is dimensioned whatever it is.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::{Answers, Thing};
use crate::facts::drawn;
use crate::facts::kinds::Kind;

use super::asked::{Asked, lacking};
use super::desk::{Desk, spoken};
use super::elevation::{Heights, Seen, on_elevation, span};
use super::font::wrapped;
use super::scene::{Layer, Part, Pen, Spot};
use super::signs::Key;
use super::spots::Spots;
use super::view::{LABEL, Shape, View};

/// How far apart dimensions stand beside the house, in metres.
const APART: f64 = 1.2;

/// One height of a discharge, with what is asked of it.
struct Height<'a> {
    /// Above what, and how that is said on the drawing.
    over: String,
    short: String,
    now: Number,
    asked: Vec<&'a Asked>,
    /// Whether it is dimensioned even where all is as asked.
    always: bool,
    /// On which side of the house.
    left: bool,
    /// From where to where the ground lies that it is measured from, where that has an outline.
    foot: Option<(f64, f64)>,
}

impl Height<'_> {
    /// What is lacking, line by line.
    fn lacks(&self) -> Vec<String> {
        let short = self.asked.iter().filter(|one| one.falls_short(&self.now));
        let words = |one: &Asked| match one.is_some() {
            true => one.written(),
            false => "an end above it".to_owned(),
        };
        lacking(&short.map(|one| (*one, words(one))).collect::<Vec<_>>())
    }

    /// How high it is over what is so called, in the unit in which it is asked for where it falls short.
    fn words(&self, desk: &Desk<'_, '_>, over: &str) -> String {
        let lacks = self.asked.iter().find(|one| one.is_some() && one.falls_short(&self.now));
        let by = self.now.abs();
        let by = lacks.and_then(|one| one.likewise(&by)).unwrap_or_else(|| desk.length(&by));
        let side = if self.now.to_f64_mid() < 0.0 { "below" } else { "above" };
        format!("{by} {side} {over}")
    }
}

/// The heights of a discharge that are known and asked of or always shown: what is lacking first.
fn heights_of<'a>(desk: &mut Desk<'_, '_>, seen: Seen, asked: &'a [Asked], it: Thing) -> Vec<Height<'a>> {
    let of = |kind: Kind, fact: &str| -> Vec<&'a Asked> {
        asked.iter().filter(|one| one.of == Some(it) && one.kind == kind && one.fact == fact).collect()
    };
    let mut all: Vec<Height<'a>> = Vec::new();
    for (fact, over, short, left) in [
        ("above_nearest_ground", "the ground nearest to it", "the ground", false),
        ("above_roof_edge", "the nearest edge of the roof", "the roof edge", true),
        ("above_highest_eave", "the highest edge of the roof", "the highest roof edge", true),
        ("above_roof_surface", "the roof surface", "the roof surface", false),
    ] {
        let Answer::Known { value: now, .. } = desk.ask.number(it, fact) else { continue };
        let always = !fact.ends_with("eave");
        let asked = of(Kind::Discharge, fact);
        let (over, short) = (over.to_owned(), short.to_owned());
        all.push(Height { over, short, now, asked, always, left, foot: None });
    }
    let of_ground = of(Kind::Ground, "below_discharge");
    let grounds = desk.ask.things().owned(Kind::Ground, it.number);
    for ground in &grounds {
        let ground = *ground;
        let Answer::Known { value: now, .. } = desk.ask.number(ground, "below_discharge") else { continue };
        let across = desk.ask.number(ground, "across").value();
        let asked: Vec<&Asked> =
            of_ground.iter().copied().filter(|one| one.reaches(across.as_ref())).collect();
        let nearest = all.iter_mut().find(|one| one.over.contains("nearest to it") && one.now == now);
        let name = desk.ask.name_of(ground);
        let record = desk.ask.design().site.ground.things().find(|(known, _)| *known == name);
        let foot = record.and_then(|(_, record)| span(desk, seen, record));
        let over = format!("the ground {}", spoken(&name));
        match nearest {
            Some(nearest) => {
                if grounds.len() > 1 {
                    nearest.short.clone_from(&over);
                }
                nearest.asked.extend(asked);
                nearest.foot = foot;
            }
            None if !asked.is_empty() => {
                all.push(Height { short: over.clone(), over, now, asked, always: false, left: false, foot });
            }
            None => {}
        }
    }
    // What is asked of the highest edge is drawn once where the nearest is the highest.
    let edge = all.iter().find(|one| one.over.starts_with("the nearest edge")).map(|one| one.now.clone());
    if let Some(eave) =
        all.iter().position(|one| one.over.starts_with("the highest") && Some(&one.now) == edge.as_ref())
    {
        let eave = all.remove(eave);
        if let Some(one) = all.iter_mut().find(|one| one.over.starts_with("the nearest edge")) {
            one.asked.extend(eave.asked);
        }
    }
    all.sort_by_key(|one| one.lacks().is_empty());
    all
}

/// A discharge with its heights, and what the books ask of its place.
pub(super) fn discharge(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    spots: &mut Spots,
    (seen, heights): (Seen, &Heights),
    asked: &[Asked],
    it: Thing,
) -> Part {
    let name = desk.name(it);
    let stands = drawn::stands(desk.ask, it);
    let mut lines = Vec::new();
    let place = on_elevation(desk, seen, &name, &stands);
    let known = heights_of(desk, seen, asked, it);
    for one in &known {
        let lacks = one.lacks();
        if one.always || !lacks.is_empty() {
            lines.push(one.words(desk, &one.over));
            lines.extend(lacks);
        }
    }
    if let Some(at) = place {
        let high = stands.up.clone().value().map(|up| desk.length(&up)).unwrap_or_default();
        spots.add(at, Some(Key::Discharge), Some(format!("{name}, {high} up")));
        desk.keep(Kind::Discharge, it, at);
        let house = heights.reach.unwrap_or((at.x - 3.0, at.x + 3.0));
        // Beyond what stands near beside the house.
        let right = view.extent().map_or(house.1, |all| all.high.x.clamp(house.1, house.1 + 2.0));
        let beside = (house.0.min(at.x) - 1.0, right.max(at.x) + 1.0);
        let far = dimensions(desk, view, at, beside, &known);
        asked_heights(view, &mut lines, at, (beside.0, far), &known);
        keep_clear(desk, view, &mut lines, at, it, asked);
    }
    let title = if name == "discharge" { "Discharge".to_owned() } else { format!("Discharge {name}") };
    Part { title, lines }
}

/// The dimensions of the heights beside the house, those that are lacking farthest out. Hands back how far to the right
/// they reach.
fn dimensions(
    desk: &Desk<'_, '_>,
    view: &mut View,
    at: Spot,
    (left, right): (f64, f64),
    known: &[Height<'_>],
) -> f64 {
    let wanted = known
        .iter()
        .filter(|one| !one.lacks().is_empty() || one.always && !one.over.starts_with("the roof surface"));
    let lies = |one: &Height<'_>, x: f64| one.foot.is_none_or(|(from, to)| from <= x && x <= to);
    let (on_left, on_right): (Vec<&Height<'_>>, Vec<&Height<'_>>) =
        wanted.partition(|one| one.left || !lies(one, right) && lies(one, left));
    let mut far = right;
    for (side, out, edge) in [(on_left, -1.0, left), (on_right, 1.0, right)] {
        let mut x = edge;
        for one in side.iter().rev() {
            let foot = Spot::at(x, at.y - one.now.to_f64_mid());
            let mut words = vec![one.words(desk, &one.short)];
            words.extend(one.lacks().iter().flat_map(|line| wrapped(line, LABEL, 130.0)));
            view.size(foot, Spot::at(x, at.y), -out, words.join("\n"));
            if one.over.starts_with("the roof surface") {
                view.path(Layer::Sizes, Pen::Size, vec![Spot::at(at.x, foot.y), foot], false);
            } else if let Some((from, to)) = one.foot.filter(|_| !lies(one, x)) {
                let near = Spot::at(x.clamp(from, to), foot.y);
                view.path(Layer::Sizes, Pen::Size, vec![near, foot], false);
            }
            view.path(Layer::Sizes, Pen::Size, vec![at, Spot::at(x + 0.3 * out, at.y)], false);
            far = far.max(x);
            x += APART * out;
        }
    }
    far
}

/// The lines at which heights are asked for, each amount with its books.
fn asked_heights(
    view: &mut View,
    lines: &mut Vec<String>,
    at: Spot,
    (left, right): (f64, f64),
    known: &[Height<'_>],
) {
    let mut turn = 0.0;
    for one in known {
        let mut amounts: Vec<(&Asked, Vec<&str>)> = Vec::new();
        for asked in one.asked.iter().filter(|asked| asked.is_some()) {
            match amounts.iter_mut().find(|(known, _)| known.least.number == asked.least.number) {
                Some((_, books)) if books.contains(&asked.book.as_str()) => {}
                Some((_, books)) => books.push(&asked.book),
                None => amounts.push((asked, vec![&asked.book])),
            }
        }
        for (asked, books) in amounts {
            let up = at.y - one.now.to_f64_mid() + asked.least.number.to_f64_mid();
            let books = books.join(", ");
            lines.push(format!("asked for at least: {} above {}: {books}", asked.written(), one.over));
            let words = format!("{} above {}: {books}", asked.written(), one.short);
            view.keys.insert(Key::Height);
            // Each line begins a little farther in, so that their labels find room.
            let start = left + (right - left) * (0.55 + turn);
            turn = (turn + 0.07) % 0.3;
            view.path(Layer::Zones, Pen::Height, vec![Spot::at(start, up), Spot::at(right, up)], false);
            let first = if asked.falls_short(&one.now) { 1 } else { 4 };
            view.label(Spot::at(start, up), 3.0, first, vec![words]);
        }
    }
}

/// How a kind of things is called where books ask for room to them.
fn called(kind: Kind) -> &'static str {
    match kind {
        Kind::Opening => "openings",
        Kind::NeighbourOpening => "neighbours' openings",
        Kind::Intake => "air intakes",
        Kind::Chimney => "chimneys and flues",
        Kind::WallAboveRoof => "walls above the roof",
        _ => "things",
    }
}

/// The clearances that the books ask for, about an outlet: those first that something falls short of.
fn keep_clear(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    lines: &mut Vec<String>,
    at: Spot,
    it: Thing,
    asked: &[Asked],
) {
    let rim = desk.ask.number(it, "outside_diameter").value().map_or(0.0, |wide| wide.to_f64_mid() / 2.0);
    let mut rooms: Vec<(&Asked, Vec<&str>, bool)> = Vec::new();
    for one in asked.iter().filter(|one| one.is_some()) {
        let round = one.fact == "clearance" || one.kind == Kind::WallAboveRoof && one.fact == "across";
        let from = one.of.and_then(|of| desk.ask.things().seen_from(of));
        if !round || from.is_some_and(|from| from != it) {
            continue;
        }
        let now = one.of.and_then(|of| desk.ask.number(of, &one.fact).value());
        let short = now.is_some_and(|now| one.falls_short(&now));
        let same = |known: &Asked| known.kind == one.kind && known.least.number == one.least.number;
        match rooms.iter_mut().find(|(known, ..)| same(known)) {
            Some((_, books, shorter)) => {
                *shorter |= short;
                if !books.contains(&one.book.as_str()) {
                    books.push(&one.book);
                }
            }
            None => rooms.push((one, vec![&one.book], short)),
        }
    }
    rooms.sort_by_key(|(.., short)| !short);
    let mut rings: Vec<(f64, Vec<String>, bool)> = Vec::new();
    for (one, books, short) in rooms {
        let least = one.least.number.to_f64_mid();
        let words = format!("{} from {}: {}", one.written(), called(one.kind), books.join(", "));
        lines.push(format!("asked for at least: {words}"));
        match rings.iter_mut().find(|(radius, ..)| (*radius - least).abs() < 1e-6) {
            Some((_, said, shorter)) => {
                *shorter |= short;
                said.push(words);
            }
            None => rings.push((least, vec![words], short)),
        }
    }
    for (number, (radius, said, short)) in (0..).zip(rings) {
        view.keys.insert(Key::Zone);
        let radius = radius + rim;
        view.shapes.push(Shape::Ring { layer: Layer::Zones, pen: Pen::Zone, middle: at, radius });
        let way = std::f64::consts::FRAC_PI_4 * (0.7 + 0.5 * f64::from(number));
        let said = said.iter().flat_map(|words| wrapped(words, LABEL, 170.0)).collect();
        let first = if short { 2 } else { 4 };
        view.label(at.moved(radius * way.cos(), radius * way.sin()), 3.0, first, said);
    }
}
