//! The elevation: the house seen from one side with its ground, roof and openings, the discharge, and what the books ask
//! to be kept clear of it. Openings of which only the tape is known are turned into the plane of the paper.

use crate::base::number::Number;
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::building::{Lie, RoofKind};
use crate::design::model::place::Side;
use crate::design::model::site::Ground;
use crate::facts::drawn::{self, Stands};
use crate::facts::kinds::Kind;
use crate::review::Review;

use super::allowed::allowed;
use super::asked::Asked;
use super::beside::beside;
use super::desk::{Desk, spoken, spot};
use super::openings::openings;
use super::outlet::discharge;
use super::plan::{Shown, run_in_words};
use super::scene::{Frame, Layer, Part, Pen, Spot};
use super::signs::Key;
use super::spots::Spots;
use super::view::{Shape, View};

/// From which side a house is seen.
#[derive(Clone, Copy)]
pub(crate) struct Seen {
    /// The side on which the viewer stands.
    pub(crate) from: Side,
}

impl Seen {
    /// The coordinate to the right of what lies so far east and north.
    pub(super) fn across(self, east: f64, north: f64) -> f64 {
        match self.from {
            Side::South => east,
            Side::North => -east,
            Side::East => north,
            Side::West => -north,
        }
    }

    /// Whether one place is nearer to the viewer than another; nothing where that is not known.
    fn nearer(self, than: &Stands, place: &Stands) -> Option<bool> {
        let toward = |stands: &Stands| match self.from {
            Side::North => Some(stands.north.clone().value()?.to_f64_mid()),
            Side::South => Some(-stands.north.clone().value()?.to_f64_mid()),
            Side::East => Some(stands.east.clone().value()?.to_f64_mid()),
            Side::West => Some(-stands.east.clone().value()?.to_f64_mid()),
        };
        Some(toward(place)? > toward(than)?)
    }

    /// Whether the ridge that lies so is seen along its length.
    fn along(self, lie: Lie) -> bool {
        matches!(self.from, Side::North | Side::South) == (lie == Lie::EastWest)
    }
}

/// How a side is called.
pub(crate) fn side_name(side: Side) -> &'static str {
    match side {
        Side::North => "north",
        Side::South => "south",
        Side::East => "east",
        Side::West => "west",
    }
}

/// The side from which most is seen: that of the discharge, or else the one with most openings whose place is known.
pub(crate) fn best_side(desk: &mut Desk<'_, '_>) -> Side {
    let stated = desk.all(Kind::Discharge).into_iter().find_map(|it| drawn::side_of_discharge(desk.ask, it));
    if let Some(side) = stated {
        return side;
    }
    let mut most = (0_usize, Side::South);
    for side in [Side::South, Side::North, Side::East, Side::West] {
        let mut seen = 0;
        for it in desk.all(Kind::Opening) {
            seen += usize::from(faces(desk, it) == Some(side));
        }
        if seen > most.0 {
            most = (seen, side);
        }
    }
    most.1
}

/// The side toward which an opening in an outer wall faces, where its edges are known: that of the nearer wall it lies along.
pub(super) fn faces(desk: &mut Desk<'_, '_>, it: Thing) -> Option<Side> {
    let [(x0, x1), (y0, y1), _] = drawn::edges(desk.ask, it)?;
    let ((x0, x1), (y0, y1)) = x0.both(x1).both(y0.both(y1)).value()?;
    let (x, y) = ((x0.to_f64_mid(), x1.to_f64_mid()), (y0.to_f64_mid(), y1.to_f64_mid()));
    let house = whole(desk)?;
    let middle = house.middle();
    let at = Spot::at(f64::midpoint(x.0, x.1), f64::midpoint(y.0, y.1));
    if x.1 - x.0 > y.1 - y.0 {
        Some(if at.y > middle.y { Side::North } else { Side::South })
    } else {
        Some(if at.x > middle.x { Side::East } else { Side::West })
    }
}

/// The box round all floors of the foundation.
pub(crate) fn whole(desk: &mut Desk<'_, '_>) -> Option<Frame> {
    let mut all: Option<Frame> = None;
    for it in desk.all(Kind::Area) {
        if let Answer::Known { value: outline, .. } = drawn::outline(desk.ask, it) {
            for corner in outline.corners() {
                let at = spot(corner);
                all = Some(all.map_or(Frame { low: at, high: at }, |frame| frame.with(at)));
            }
        }
    }
    all
}

/// The side across from one.
pub(super) fn across_from(side: Side) -> Side {
    match side {
        Side::North => Side::South,
        Side::South => Side::North,
        Side::East => Side::West,
        Side::West => Side::East,
    }
}

/// Heights that the drawing hangs on, in metres.
#[derive(Default)]
pub(crate) struct Heights {
    pub(crate) ground: Option<(f64, f64)>,
    pub(crate) edge: Option<(f64, f64)>,
    /// The whole house from left to right.
    pub(crate) reach: Option<(f64, f64)>,
}

/// The elevation of a design from one side.
pub(crate) fn elevation(desk: &mut Desk<'_, '_>, seen: Seen, asked: &[Asked], review: &Review<'_>) -> Shown {
    let mut view = View::default();
    let mut twin = Vec::new();
    let mut levels = Vec::new();
    let reach = floors(desk, &mut view, &mut levels, seen);
    let mut heights = Heights { reach, ..Heights::default() };
    house(desk, &mut view, &mut twin, seen, &mut heights);
    if !levels.is_empty() {
        twin.push(Part { title: "Floors of the foundation".to_owned(), lines: levels });
    }
    let mut spots = Spots::default();
    pipes(desk, &mut view, &mut spots, &mut twin, seen);
    // What stands to both sides is drawn first, so that dimensions lie beyond it.
    let mut about = Vec::new();
    openings(desk, &mut view, &mut about, seen, asked);
    for it in desk.all(Kind::Discharge) {
        let told = discharge(desk, &mut view, &mut spots, (seen, &heights), asked, it);
        twin.push(told);
    }
    twin.extend(about);
    allowed(desk, &mut view, &mut twin, (seen, &heights), review);
    ends(desk, &mut spots, &mut twin, seen);
    beside(desk, &mut view, &mut spots, &mut twin, (seen, &heights), asked);
    ground(desk, &mut view, &mut twin, seen, &heights);
    spots.draw(&mut view);
    if heights.ground.is_none() && heights.edge.is_none() && desk.places.is_empty() {
        // The floors alone are no elevation.
        view = View::default();
    }
    Shown { view, twin }
}

/// Fans and suction points.
fn ends(desk: &mut Desk<'_, '_>, spots: &mut Spots, twin: &mut Vec<Part>, seen: Seen) {
    let mut lines = Vec::new();
    for (kind, key, called) in [(Kind::Fan, Key::Fan, ""), (Kind::SuctionPoint, Key::Point, "suction point ")]
    {
        for it in desk.all(kind) {
            let name = desk.name(it);
            let stands = drawn::stands(desk.ask, it);
            let words = format!("{called}{name}");
            let Some(at) = on_elevation(desk, seen, &words, &stands) else { continue };
            spots.add(at, Some(key), Some(name));
            desk.keep(kind, it, at);
            if let Some(up) = stands.up.value() {
                lines.push(format!("{words}, {} up", desk.length(&up)));
            }
        }
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Fan and suction points".to_owned(), lines });
    }
}

/// Where something stands on the elevation.
pub(super) fn on_elevation(desk: &mut Desk<'_, '_>, seen: Seen, what: &str, stands: &Stands) -> Option<Spot> {
    let level = match seen.from {
        Side::North | Side::South => &stands.east,
        Side::East | Side::West => &stands.north,
    };
    match level.clone().both(stands.up.clone()) {
        Answer::Known { value: (level, up), .. } => {
            desk.in_doubt(what, &[&level, &up]);
            let level = level.to_f64_mid();
            Some(Spot::at(seen.across(level, level), up.to_f64_mid()))
        }
        Answer::Unknown(missing) => {
            desk.leave_out(what, &missing);
            None
        }
    }
}

/// The floors of the foundation, at their heights. Hands back how far the house reaches.
fn floors(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    lines: &mut Vec<String>,
    seen: Seen,
) -> Option<(f64, f64)> {
    let mut reach: Option<(f64, f64)> = None;
    for it in desk.all(Kind::Area) {
        let name = desk.name(it);
        let outline = match drawn::outline(desk.ask, it) {
            Answer::Known { value, .. } => value,
            Answer::Unknown(missing) => {
                desk.leave_out(&name, &missing);
                continue;
            }
        };
        let Some(frame) = Frame::round(outline.corners().iter().map(|corner| {
            let at = spot(corner);
            Spot::at(seen.across(at.x, at.y), 0.0)
        })) else {
            continue;
        };
        let (low, high) = (frame.low.x, frame.high.x);
        reach = Some(reach.map_or((low, high), |(a, b)| (a.min(low), b.max(high))));
        match drawn::area_level(desk.ask, it) {
            Answer::Known { value: level, .. } => {
                let up = level.to_f64_mid();
                view.keys.insert(Key::Floor);
                view.path(Layer::Building, Pen::Floor, vec![Spot::at(low, up), Spot::at(high, up)], false);
                let words = format!("{name}, {}", desk.length(&level));
                lines.push(words.clone());
                view.label(Spot::at(low + (high - low) * 0.12, up), 2.0, 4, vec![words]);
            }
            Answer::Unknown(missing) => desk.leave_out(&format!("height of {name}"), &missing),
        }
    }
    reach
}

/// The walls and the roof.
fn house(desk: &mut Desk<'_, '_>, view: &mut View, twin: &mut Vec<Part>, seen: Seen, heights: &mut Heights) {
    let mut lines = vec![format!("The house is seen from the {}.", side_name(seen.from))];
    match drawn::ground(desk.ask) {
        Answer::Known { value: (low, high), .. } => {
            heights.ground = Some((low.to_f64_mid(), high.to_f64_mid()))
        }
        Answer::Unknown(missing) => desk.leave_out("finished ground", &missing),
    }
    match drawn::roof_edges(desk.ask) {
        Answer::Known { value: (low, high), .. } => {
            lines.push(if low == high {
                format!("The edge of the roof is at {}.", desk.length(&low))
            } else {
                format!("The edges of the roof are between {} and {}.", desk.length(&low), desk.length(&high))
            });
            heights.edge = Some((low.to_f64_mid(), high.to_f64_mid()));
        }
        Answer::Unknown(missing) => desk.leave_out("edge of the roof", &missing),
    }
    let ridge = drawn::ridge(desk.ask);
    if let (Some((left, right)), Some((_, edge))) = (heights.reach, heights.edge) {
        let foot = heights.ground.map_or(0.0, |(low, _)| low);
        for x in [left, right] {
            view.path(Layer::Building, Pen::Edge, vec![Spot::at(x, foot), Spot::at(x, edge)], false);
        }
        view.keys.insert(Key::Unsure);
        desk.assume(
            "walls and roof are drawn over all floors of the foundation; nobody measured how far they reach"
                .to_owned(),
        );
        roof(desk, view, &mut lines, seen, (left, right), edge, &ridge);
    }
    twin.push(Part { title: "House".to_owned(), lines });
}

/// The roof, as its kind tells, dashed: how far it reaches is not measured.
fn roof(
    desk: &mut Desk<'_, '_>,
    view: &mut View,
    lines: &mut Vec<String>,
    seen: Seen,
    (left, right): (f64, f64),
    edge: f64,
    ridge: &Answer<Number>,
) {
    let roof = desk.ask.design().building.roof.known();
    let kind = roof.and_then(|roof| roof.kind.known().copied());
    let lies = roof.and_then(|roof| roof.ridge_lies.known().copied());
    let level = |view: &mut View, y: f64| {
        view.path(Layer::Building, Pen::Unsure, vec![Spot::at(left, y), Spot::at(right, y)], false);
    };
    level(view, edge);
    view.label(Spot::at(left, edge), 2.0, 4, vec!["edge of the roof".to_owned()]);
    let top = match ridge {
        Answer::Known { value, .. } => {
            lines.push(format!("The ridge is at {}.", desk.length(value)));
            value.to_f64_mid()
        }
        Answer::Unknown(missing) => {
            if kind != Some(RoofKind::Flat) {
                desk.leave_out("ridge of the roof", missing);
            }
            return;
        }
    };
    let mut at = right;
    match (kind, lies) {
        (Some(RoofKind::Gable), Some(lie)) if !seen.along(lie) => {
            let middle = f64::midpoint(left, right);
            at = middle;
            let slopes = vec![Spot::at(left, edge), Spot::at(middle, top), Spot::at(right, edge)];
            view.path(Layer::Building, Pen::Unsure, slopes, false);
        }
        (Some(RoofKind::Gable), Some(_)) => {
            level(view, top);
            for x in [left, right] {
                view.path(Layer::Building, Pen::Unsure, vec![Spot::at(x, edge), Spot::at(x, top)], false);
            }
        }
        _ => level(view, top),
    }
    view.label(Spot::at(at, top), 2.0, 4, vec!["ridge".to_owned()]);
}

/// The runs of pipe as they are seen from there.
fn pipes(desk: &mut Desk<'_, '_>, view: &mut View, spots: &mut Spots, twin: &mut Vec<Part>, seen: Seen) {
    let mut lines = Vec::new();
    for it in desk.all(Kind::Run) {
        let Some(run) = drawn::run(desk.ask, it) else { continue };
        let name = desk.name(it);
        let words = run_in_words(desk, it, run);
        lines.push(format!("{name}: {}", words.join(", ")));
        let way = drawn::way(desk.ask, it);
        let mut places = Vec::new();
        for stands in &way {
            places.push(on_elevation(desk, seen, &format!("run {name}"), stands));
        }
        let Some(places) = places.into_iter().collect::<Option<Vec<Spot>>>() else { continue };
        let (Some(first), Some(last)) = (places.first().copied(), places.last().copied()) else { continue };
        let pressure = desk.ask.truth(it, "downstream").value() == Some(true);
        desk.keep(Kind::Run, it, first.toward(last, 0.5));
        if first.away(last) < 0.1 {
            let whither = way.first().zip(way.last()).and_then(|(from, to)| seen.nearer(from, to));
            let whither = match whither {
                Some(true) => "toward you",
                Some(false) => "away from you",
                None => "seen end on",
            };
            spots.add(first, None, Some(format!("{name} ({whither})")));
            continue;
        }
        for (from, to) in places.iter().zip(places.iter().skip(1)) {
            view.pipe(*from, *to, pressure);
        }
        let said = words.iter().take(2).cloned().collect::<Vec<_>>().join(", ");
        view.label(first.toward(last, 0.5), 4.0, 3, vec![format!("{name}: {said}")]);
    }
    if !lines.is_empty() {
        twin.push(Part { title: "Pipe, outward from the fan".to_owned(), lines });
    }
}

/// The line of the ground, under all that is drawn.
fn ground(desk: &mut Desk<'_, '_>, view: &mut View, twin: &mut Vec<Part>, seen: Seen, heights: &Heights) {
    let Some((low, high)) = heights.ground else { return };
    let (left, right) = match (heights.reach, view.extent()) {
        (Some((left, right)), Some(extent)) => (left.min(extent.low.x), right.max(extent.high.x)),
        (None, Some(extent)) => (extent.low.x, extent.high.x),
        _ => return,
    };
    view.keys.insert(Key::Ground);
    let mut lines = Vec::new();
    let several = (high - low).abs() > 1e-9;
    for (name, ground) in desk.ask.design().site.ground.things() {
        let Some(height) = ground.height.known().map(|height| height.number()) else { continue };
        let (from, to) = match span(desk, seen, ground).filter(|_| several) {
            Some((from, to)) => (from.max(left - 4.0), to.min(right + 4.0)),
            None => (left, right),
        };
        let up = height.to_f64_mid();
        view.shapes.push(Shape::Ground { from: Spot::at(from, up), to: Spot::at(to, up) });
        let words = format!("ground {}, {}", spoken(name), desk.length(&height));
        lines.push(words.clone());
        view.label(Spot::at(from + (to - from) * 0.06, up), 2.0, 4, vec![words]);
    }
    twin.push(Part { title: "Ground".to_owned(), lines });
}

/// From where to where a stretch of ground lies across the drawing, where it has an outline.
pub(super) fn span<'d>(desk: &mut Desk<'_, 'd>, seen: Seen, ground: &'d Ground) -> Option<(f64, f64)> {
    let outline = drawn::listed_outline(desk.ask, &ground.here, &ground.outline).value()?;
    let frame = Frame::round(outline.corners().iter().map(|corner| {
        let at = spot(corner);
        Spot::at(seen.across(at.x, at.y), 0.0)
    }))?;
    Some((frame.low.x, frame.high.x))
}
