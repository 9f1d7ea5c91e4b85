//! The surface of the roof: how high it lies above a place, and how high its ridge is.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::calc::geometry::{Outline, PlanPoint, Point, Whereabouts, plane_height};
use crate::design::model::building::{Lie, Roof, RoofKind, RoofSlope};
use crate::design::model::place::Side;
use crate::yaml::entry::Entry;

use super::ask::Ask;
use super::catalogue::Entries;
use super::heights::{self, Near};
use super::outlines;
use super::places::Along;
use super::statements::{Statement, settle};
use super::walls::reach_of;

/// What a height is read from that is counted from the roof: its edges, and its ridge as stated or by pitch and width.
pub(super) const EDGES: Entries = &[
    "building.roof",
    "building.roof.kind",
    "building.roof.edge",
    "building.roof.edge.**",
    "building.roof.edges",
    "building.roof.edges.*.height",
    "building.roof.edges.*.height.**",
    "building.roof.edges.*.line",
    "building.roof.edges.*.line.points",
    "building.roof.edges.*.side",
    "building.roof.ridge",
    "building.roof.ridge.**",
    "building.roof.ridge_lies",
    "building.roof.pitch",
    "building.roof.outline",
    "building.roof.slopes",
];

/// What else the surface of the roof is read from.
pub(super) const SLOPES: Entries = &[
    "building.roof.ridge_line",
    "building.roof.ridge_line.points",
    "building.roof.slopes.*.corners",
    "building.roof.slopes.*.edge",
    "building.roof.slopes.*.edge.**",
    "building.roof.slopes.*.falls",
    "building.roof.slopes.*.pitch",
];

/// Where on the plan something stands, each coordinate as far as it can be told.
#[derive(Clone, Debug)]
pub(super) struct Stands {
    /// East of the origin.
    pub(super) east: Answer<Number>,
    /// North of the origin.
    pub(super) north: Answer<Number>,
}

impl Stands {
    fn along(&self, along: Along) -> Answer<Number> {
        if along == Along::East { self.east.clone() } else { self.north.clone() }
    }

    /// The place, when it is known exactly.
    fn exactly(&self) -> Answer<PlanPoint> {
        let doubts = |answer: &Answer<Number>| match answer {
            Answer::Known { doubts, .. } => doubts.clone(),
            Answer::Unknown(_) => Vec::new(),
        };
        self.east.clone().both(self.north.clone()).then(|(east, north)| {
            match east.as_exact().zip(north.as_exact()) {
                Some((x, y)) => Answer::known(PlanPoint::new(x.clone(), y.clone())),
                None => Answer::Unknown(crate::base::value::unite(doubts(&self.east), doubts(&self.north))),
            }
        })
    }
}

/// What the design says of the height of the roof's surface straight above a place.
pub(super) fn surface<'d>(ask: &mut Ask<'d>, at: &Stands) -> Vec<Statement<'d>> {
    let building = &ask.design().building;
    let want = building.roof.want(&building.here);
    let Some(roof) = ask.read(&building.here, &building.roof).value().flatten() else {
        // A roof without slope, the least that can be told of one, is as high as its edge.
        let lacks =
            ["edge", "kind"].map(|key| Missing { entry: want.entry.key(key), ..want.clone() }).to_vec();
        return vec![ask.statement(want, |_| Answer::Unknown(lacks))];
    };
    let here = &roof.here;
    let by_ridge = ask.told(roof.ridge.want(here), |ask| from_ridge(ask, roof, at));
    let by_slopes = match by_ridge {
        Some(_) => ask.told(roof.slopes.want(here), |ask| by_slopes(ask, roof, at)),
        None => Some(ask.statement(roof.slopes.want(here), |ask| by_slopes(ask, roof, at))),
    };
    by_slopes.into_iter().chain(by_ridge).collect()
}

/// The height of the roof's surface straight above a place.
pub(super) fn height_at(ask: &mut Ask<'_>, at: &Stands) -> Answer<Number> {
    let found = surface(ask, at);
    let building = &ask.design().building;
    let what = |_: &Ask<'_>| "the height of the roof".to_owned();
    settle(ask, what, Dimension::LENGTH, found, || building.roof.want(&building.here))
}

/// The surface by the slopes: those that are described, or those that the form of the roof tells.
fn by_slopes<'d>(ask: &mut Ask<'d>, roof: &'d Roof, at: &Stands) -> Answer<Number> {
    let here = &roof.here;
    let _ = ask.read(here, &roof.slopes);
    if !roof.slopes.is_missing() {
        return ask.value(here, &roof.slopes).then(|slopes| {
            let slopes: Vec<&'d RoofSlope> = slopes.things().map(|(_, slope)| slope).collect();
            if slopes.iter().any(|slope| !slope.corners.is_missing()) {
                return by_corners(ask, roof, &slopes, at);
            }
            let planes = slopes.iter().map(|slope| plane(ask, roof, slope, at)).collect::<Vec<_>>();
            lowest(Answer::all(planes), || roof.slopes.want(here))
        });
    }
    let kind = ask.value(here, &roof.kind);
    if let Answer::Unknown(_) = kind {
        // A roof without slope, the least that can be told of one, is as high as its edge.
        return kind.both(one_edge(ask, roof)).map(|(_, edge)| edge);
    }
    kind.then(|kind| {
        let sides = match kind {
            RoofKind::Flat => return one_edge(ask, roof),
            RoofKind::Hip => Answer::known(vec![Side::North, Side::South, Side::East, Side::West]),
            RoofKind::Gable => ask.value(here, &roof.ridge_lies).map(|lies| match lies {
                Lie::EastWest => vec![Side::North, Side::South],
                Lie::NorthSouth => vec![Side::East, Side::West],
            }),
            RoofKind::Shed | RoofKind::Gambrel | RoofKind::Other => {
                return Answer::missing(roof.slopes.want(here));
            }
        };
        let pitch = ask.quantity(here, &roof.pitch);
        let edge = one_edge(ask, roof);
        let outline = rectangle(ask, roof);
        sides.both(pitch).both(edge).both(outline).then(|(((sides, pitch), edge), outline)| {
            let planes = sides
                .into_iter()
                .map(|falls| in_from(&outline, falls, at, roof).map(|across| &edge + &(&across * &pitch)));
            lowest(Answer::all(planes), || roof.pitch.want(here))
        })
    })
}

/// How steep the roof is, one slope or another: nought for a flat one. Unknown where it is given by corners alone.
pub(super) fn steepest(ask: &mut Ask<'_>) -> Answer<Number> {
    let building = &ask.design().building;
    let want = building.roof.want(&building.here);
    let Some(roof) = ask.read(&building.here, &building.roof).value().flatten() else {
        return Answer::missing(want);
    };
    if roof.kind.known() == Some(&RoofKind::Flat) && roof.slopes.is_missing() {
        let _ = ask.read(&roof.here, &roof.kind);
        return Answer::known(Number::whole(0));
    }
    let mut pitches = Vec::new();
    for (_, slope) in roof.slopes.things() {
        if !slope.pitch.is_missing() || roof.pitch.is_missing() {
            pitches.push(ask.quantity(&slope.here, &slope.pitch));
        }
    }
    if pitches.is_empty() || !roof.pitch.is_missing() {
        pitches.push(ask.quantity(&roof.here, &roof.pitch));
    }
    Answer::all(pitches).then(|pitches| match Number::greatest(&pitches) {
        Some(steepest) => Answer::known(steepest),
        None => Answer::missing(roof.pitch.want(&roof.here)),
    })
}

/// The lowest of several planes: where slopes meet, the roof is what lies below all of them.
fn lowest(planes: Answer<Vec<Number>>, none: impl FnOnce() -> Missing) -> Answer<Number> {
    planes.then(|planes| match Number::least(&planes) {
        Some(lowest) => Answer::known(lowest),
        None => Answer::missing(none()),
    })
}

/// The height of the edge of the roof, where it is the same all round.
fn one_edge<'d>(ask: &mut Ask<'d>, roof: &'d Roof) -> Answer<Number> {
    heights::all_edges(ask).then(|edges| {
        if edges.lowest == edges.highest {
            return Answer::known(edges.lowest);
        }
        // Roofs of several heights: only their slopes tell which of them lies there.
        Answer::missing(roof.slopes.want(&roof.here))
    })
}

/// The outline of a roof that is a rectangle; of any other form only the slopes tell.
fn rectangle<'d>(ask: &mut Ask<'d>, roof: &'d Roof) -> Answer<Outline> {
    let here = &roof.here;
    let outline = outlines::outline(ask, here, &roof.outline);
    ask.is_number(None, outlines::slack_in_plan(&roof.outline));
    outline.then(|outline| {
        let whole = reach_of(&outline, Along::East).zip(reach_of(&outline, Along::North)).and_then(
            |((west, east), (south, north))| {
                Some((&east - &west).as_exact()? * (&north - &south).as_exact()?)
            },
        );
        if whole == Some(outline.area()) {
            Answer::known(outline)
        } else {
            Answer::missing(roof.slopes.want(here))
        }
    })
}

/// How far in from the edge on one side a place lies, level and square to that edge.
fn in_from(outline: &Outline, falls: Side, at: &Stands, roof: &Roof) -> Answer<Number> {
    let along = if matches!(falls, Side::East | Side::West) { Along::East } else { Along::North };
    let Some((low, high)) = reach_of(outline, along) else {
        return Answer::missing(roof.outline.want(&roof.here));
    };
    at.along(along).map(|at| match falls {
        Side::East | Side::North => &high - &at,
        Side::West | Side::South => &at - &low,
    })
}

/// The height of the plane of one slope above a place, by its lower edge, its pitch and the side to which it falls.
fn plane<'d>(ask: &mut Ask<'d>, roof: &'d Roof, slope: &'d RoofSlope, at: &Stands) -> Answer<Number> {
    let pitch = if slope.pitch.is_missing() && !roof.pitch.is_missing() {
        let _ = ask.read(&slope.here, &slope.pitch);
        ask.quantity(&roof.here, &roof.pitch)
    } else {
        ask.quantity(&slope.here, &slope.pitch)
    };
    let edge = if slope.edge.is_missing() {
        let _ = ask.read(&slope.here, &slope.edge);
        one_edge(ask, roof)
    } else {
        heights::level_near(ask, &slope.here, &slope.edge, &Near::default())
    };
    let falls = ask.value(&slope.here, &slope.falls);
    let outline = rectangle(ask, roof);
    pitch.both(edge).both(falls).both(outline).then(|(((pitch, edge), falls), outline)| {
        in_from(&outline, *falls, at, roof).map(|across| &edge + &(&across * &pitch))
    })
}

/// The surface by the corners of the slopes: the plane of the one that lies above a place.
fn by_corners<'d>(
    ask: &mut Ask<'d>,
    roof: &'d Roof,
    slopes: &[&'d RoofSlope],
    at: &Stands,
) -> Answer<Number> {
    let place = at.exactly();
    let mut planes = Vec::new();
    for slope in slopes {
        planes.push(corners(ask, slope));
    }
    place.both(Answer::all(planes)).then(|(place, planes)| {
        let above: Vec<Number> = planes
            .iter()
            .filter(|corners| lies_over(corners, &place))
            .filter_map(|corners| plane_height(corners, &place))
            .collect();
        match (Number::least(&above), Number::greatest(&above)) {
            (Some(least), Some(most)) => {
                let doubts = if least == most && least.is_point() {
                    Vec::new()
                } else {
                    vec![Missing { reason: Reason::Imprecise, ..roof.slopes.want(&roof.here) }]
                };
                Answer::Known { value: least.hull(&most), doubts }
            }
            _ => {
                let why = "none of the slopes that are described lies above it".to_owned();
                Answer::missing(Missing {
                    reason: Reason::NotComputable(why),
                    ..roof.slopes.want(&roof.here)
                })
            }
        }
    })
}

/// The corners of a slope; one known only within bounds gives none.
fn corners<'d>(ask: &mut Ask<'d>, slope: &'d RoofSlope) -> Answer<Vec<Point>> {
    let here = &slope.here;
    let want = slope.corners.want(here);
    let found = ask.value(here, &slope.corners);
    ask.is_number(None, outlines::slack(&slope.corners));
    found.then(|list| {
        let all = list.all().then(|list| Answer::all(list.into_iter().map(|point| point.coordinates())));
        all.then(|all| {
            let exact: Option<Vec<Point>> = all
                .iter()
                .map(|(x, y, z)| {
                    Some(Point::new(x.as_exact()?.clone(), y.as_exact()?.clone(), z.as_exact()?.clone()))
                })
                .collect();
            match exact {
                Some(corners) => Answer::known(corners),
                None => Answer::missing(Missing { reason: Reason::Imprecise, ..want }),
            }
        })
    })
}

/// Whether a slope with these corners lies above a place.
fn lies_over(corners: &[Point], place: &PlanPoint) -> bool {
    Outline::new(corners.iter().map(Point::plan).collect())
        .is_ok_and(|outline| outline.whereabouts(place) != Whereabouts::Outside)
}

/// The surface of a gable by its ridge: so much lower as the slope falls on the way from under it.
fn from_ridge<'d>(ask: &mut Ask<'d>, roof: &'d Roof, at: &Stands) -> Answer<Number> {
    let here = &roof.here;
    if ask.read(here, &roof.kind).value().flatten() != Some(&RoofKind::Gable) {
        return Answer::missing(roof.ridge_line.want(here));
    }
    let away = from_line(ask, roof, at);
    let pitch = ask.quantity(here, &roof.pitch);
    heights::ridge(ask).both(pitch).both(away).map(|((ridge, pitch), away)| &ridge - &(&pitch * &away))
}

/// How far a place lies from the line of the ridge, level and square to it.
fn from_line<'d>(ask: &mut Ask<'d>, roof: &'d Roof, at: &Stands) -> Answer<Number> {
    let want = roof.ridge_line.want(&roof.here);
    ask.value(&roof.here, &roof.ridge_line).then(|line| {
        let ends = ask.value(&line.here, &line.points).then(|points| {
            points.all().then(|points| Answer::all(points.into_iter().map(|point| point.coordinates())))
        });
        ask.is_number(None, outlines::slack_in_plan(&line.points));
        ends.then(|points| {
            let first = points.first().and_then(|(x, y)| x.as_exact().zip(y.as_exact()));
            let last = points.last().and_then(|(x, y)| x.as_exact().zip(y.as_exact()));
            let straight = points.len() == 2;
            let Some((first, last)) = first.zip(last).filter(|(a, b)| straight && a != b) else {
                let why = "the ridge is no straight line between two points".to_owned();
                return Answer::missing(Missing { reason: Reason::NotComputable(why), ..want });
            };
            let ((x0, y0), (x1, y1)) = (first, last);
            if x0 == x1 {
                return at.along(Along::East).map(|x| (&x - &Number::exact(x0.clone())).abs());
            }
            if y0 == y1 {
                return at.along(Along::North).map(|y| (&y - &Number::exact(y0.clone())).abs());
            }
            at.exactly().map(|at| {
                let turn = (x1 - x0) * (&at.y - y0) - (y1 - y0) * (&at.x - x0);
                let long = (x1 - x0).squared() + (y1 - y0).squared();
                Number::root(turn.squared().checked_div(&long).unwrap_or_default())
            })
        })
    })
}

/// The height of the ridge of a gable that is the same on both sides: its edge, and the rise over half its width.
pub(super) fn ridge_by_pitch<'d>(ask: &mut Ask<'d>, roof: &'d Roof) -> Answer<Number> {
    let here = &roof.here;
    let kind = ask.read(here, &roof.kind).value().flatten();
    let _ = ask.read(here, &roof.slopes);
    let plain = kind == Some(&RoofKind::Gable) && roof.slopes.is_missing();
    let tells = [roof.pitch.is_missing(), roof.outline.is_missing(), roof.ridge_lies.is_missing()];
    if !plain || tells.contains(&true) || !has_one_edge(roof) {
        return Answer::missing(roof.ridge.want(here));
    }
    let edge = one_edge(ask, roof);
    let pitch = ask.quantity(here, &roof.pitch);
    let lies = ask.value(here, &roof.ridge_lies);
    let outline = rectangle(ask, roof);
    edge.both(pitch).both(lies).both(outline).then(|(((edge, pitch), lies), outline)| {
        let along = if *lies == Lie::EastWest { Along::North } else { Along::East };
        let half = Number::exact(Ratio::new(1, 2).unwrap_or_default());
        match reach_of(&outline, along) {
            Some((low, high)) => Answer::known(&edge + &(&(&(&high - &low) * &half) * &pitch)),
            None => Answer::missing(roof.outline.want(here)),
        }
    })
}

fn has_one_edge(roof: &Roof) -> bool {
    !roof.edge.is_missing() && Entry::is_missing(&roof.edges)
}
