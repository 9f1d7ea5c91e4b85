//! Where signs stand: on their spots; and where one stands there already, set off beside it with a stroke to the spot.

use super::labels::Obstacle;
use super::scene::{Frame, Spot};
use super::signs::Key;

/// Room between two signs.
const ROOM: f64 = 2.0;
/// Room about one that is set off, for its words.
const EASE: f64 = 7.0;

/// A sign with its place on paper.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(crate) struct Standing {
    /// Where it is drawn.
    pub(crate) at: Spot,
    /// Where it belongs.
    pub(crate) spot: Spot,
    /// What it is.
    pub(crate) key: Key,
    /// Its place among the shapes of the view.
    pub(crate) shape: usize,
}

impl Standing {
    /// The box round it.
    pub(crate) fn frame(&self) -> Frame {
        Frame { low: self.at, high: self.at }.wider(self.key.reach())
    }

    /// Whether it is drawn beside its spot.
    pub(crate) fn is_set_off(&self) -> bool {
        self.at != self.spot
    }
}

/// Gives signs their places: in the order of what matters most each its own spot, if it is free, and then the others
/// theirs.
pub(crate) fn stand(signs: &[(usize, Spot, Key)], room: Frame, obstacles: &[Obstacle]) -> Vec<Standing> {
    let mut order: Vec<Standing> = signs
        .iter()
        .map(|(shape, spot, key)| Standing { at: *spot, spot: *spot, key: *key, shape: *shape })
        .collect();
    order.sort_by_key(|one| (one.key.rank(), one.shape));
    let mut found: Vec<Standing> = Vec::new();
    let mut waiting = Vec::new();
    for one in order {
        let free = found.iter().all(|other| !other.frame().wider(ROOM / 2.0).meets(&one.frame()));
        if free { found.push(one) } else { waiting.push(one) }
    }
    for one in waiting {
        let at = set_off(one, &found, room, obstacles);
        found.push(Standing { at, ..one });
    }
    found
}

/// The best place beside its spot for a sign that cannot stand on it.
fn set_off(one: Standing, found: &[Standing], room: Frame, obstacles: &[Obstacle]) -> Spot {
    let mut best: Option<(f64, Spot)> = None;
    for ring in 0..16_u8 {
        let away = 17.0 + 7.0 * f64::from(ring);
        for turn in 0..16_u8 {
            let way = f64::from(turn) * std::f64::consts::TAU / 16.0 + std::f64::consts::FRAC_PI_4;
            let at = one.spot.moved(away * way.cos(), -away * way.sin());
            let frame = Standing { at, ..one }.frame();
            let meets = |other: &Standing| {
                let room = if other.spot == one.spot && !other.is_set_off() { ROOM } else { EASE };
                other.frame().wider(room).meets(&frame)
            };
            if !room.holds(frame) || found.iter().any(meets) {
                continue;
            }
            let wider = frame.wider(1.5);
            let covers: f64 = obstacles
                .iter()
                .filter(|line| wider.is_crossed(line.from, line.to))
                .map(|line| line.weight.min(8.0))
                .sum();
            // Its stroke passes no sign but the one that stands on the spot.
            let passes = found
                .iter()
                .filter(|other| !other.frame().meets(&Frame { low: one.spot, high: one.spot }.wider(0.1)))
                .filter(|other| other.frame().is_crossed(one.spot, at))
                .count();
            // A stroke that lies along a line is lost in it.
            let along =
                obstacles.iter().filter(|line| nearly_along((one.spot, at), (line.from, line.to))).count();
            let cost =
                away * 0.25 + covers + 12.0 * passes as f64 + 10.0 * along as f64 + f64::from(turn) * 0.05;
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, at));
            }
        }
    }
    best.map_or(one.spot, |(_, at)| at)
}

/// Whether a line leaves the spot in about the same direction as a stroke.
fn nearly_along((spot, at): (Spot, Spot), (from, to): (Spot, Spot)) -> bool {
    let turned = |a: Spot, b: Spot| {
        let (x, y, u, v) = (at.x - spot.x, at.y - spot.y, b.x - a.x, b.y - a.y);
        let long = x.hypot(y) * u.hypot(v);
        long > 1e-9 && (x * u + y * v) / long > 0.97
    };
    (from.away(spot) < 1.0 && turned(from, to)) || (to.away(spot) < 1.0 && turned(to, from))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn signs_on_one_spot_are_all_drawn_and_none_meets_another() {
        let spot = Spot::at(100.0, 100.0);
        let keys = [Key::Point, Key::Fan, Key::Drops, Key::Discharge, Key::Rises];
        let signs: Vec<_> = keys.into_iter().enumerate().map(|(at, key)| (at, spot, key)).collect();
        let found = stand(&signs, Frame::of(0.0, 0.0, 200.0, 200.0), &[]);
        assert_eq!(found.len(), keys.len());
        assert_eq!(found.iter().find(|one| !one.is_set_off()).map(|one| one.key), Some(Key::Fan));
        for (at, one) in found.iter().enumerate() {
            for other in found.iter().skip(at + 1) {
                assert!(!one.frame().meets(&other.frame()), "{one:?} {other:?}");
            }
        }
    }
}
