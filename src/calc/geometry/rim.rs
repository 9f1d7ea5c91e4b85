//! The round end of a pipe, whose nearest edge is what most clauses measure from.

use crate::base::number::{Number, Ratio};

use super::point::{Point, square};
use super::solid::Block;

/// Along which axis the pipe ends: the plane of its rim stands square to it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Facing {
    /// Up or down; the rim lies level.
    UpOrDown,
    /// East or west.
    EastOrWest,
    /// North or south.
    NorthOrSouth,
    /// Some other way, or not known which.
    Otherwise,
}

/// The round edge of an outlet.
#[derive(Clone, PartialEq, Eq, Hash, Debug)]
pub struct Rim {
    /// Its middle.
    pub centre: Point,
    /// Half the pipe's outside width.
    pub radius: Ratio,
    /// Which way it faces.
    pub facing: Facing,
}

/// How far a circle lies from a flat rectangle in the circle's own plane.
enum InPlane {
    /// The circle touches or crosses the rectangle.
    Touching,
    /// The rectangle lies all outside or all inside; this is the square of the distance from the middle
    /// to its nearest (or farthest) point.
    Apart(Ratio),
}

impl Rim {
    /// The distance from the nearest edge of the outlet to the nearest point of a box.
    ///
    /// # Meaning
    /// What a tape shows that is held to the near lip of the pipe and drawn straight to the nearest point
    /// of a window. Nought where the rim touches the box.
    /// # Formula
    /// With `q` the square of the distance from the middle to the box as seen along the pipe, `h` the
    /// distance along the pipe's own direction and `r` the radius: `sqrt((sqrt(q) - r)^2 + h^2)`.
    /// A box wholly inside the pipe's outline, seen along it, is measured from its farthest point instead.
    /// # Valid for
    /// Rims that face along an axis. For any other, the range of what it can be: at least the middle's
    /// distance less the radius, at most `sqrt(d^2 + r^2)`, as some point of every rim lies no nearer the
    /// box's far side than its middle does.
    /// # Accuracy
    /// The root of an exact square where `sqrt(q)` is a ratio (the box faces the pipe squarely, or is
    /// straight below it); otherwise a range much narrower than a nanometre.
    /// # Source
    /// Elementary geometry. That clauses measure from the nearest edge: ANSI/AARST CC-1000 9.1.1.
    /// # Errors
    /// None. A negative radius counts as nought.
    /// # Example
    /// ```
    /// use undercroft::base::number::{Number, Ratio};
    /// use undercroft::calc::geometry::{Block, Facing, Point, Rim};
    /// let at = |x, y, z| Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z));
    /// let rim = Rim { centre: at(0, 0, 10), radius: Ratio::from(1), facing: Facing::UpOrDown };
    /// // level distance 6, less the radius 1, is 5; 12 down: 13
    /// let window = Block::between(&at(6, -2, -5), &at(6, 2, -2));
    /// assert_eq!(rim.distance(&window), Number::whole(13));
    /// ```
    #[must_use]
    pub fn distance(&self, to: &Block) -> Number {
        let c = &self.centre;
        let (low, high) = (to.low(), to.high());
        let x = (&c.x, &low.x, &high.x);
        let y = (&c.y, &low.y, &high.y);
        let z = (&c.z, &low.z, &high.z);
        let radius = self.radius.clone().max(Ratio::ZERO);
        let (in_plane, along) = match self.facing {
            Facing::UpOrDown => (in_plane(x, y, &radius), stretch(z).0),
            Facing::EastOrWest => (in_plane(y, z, &radius), stretch(x).0),
            Facing::NorthOrSouth => (in_plane(x, z, &radius), stretch(y).0),
            Facing::Otherwise => return somewhere_about(&to.distance_squared(c), &radius),
        };
        match in_plane {
            InPlane::Touching => Number::exact(along),
            InPlane::Apart(q) => match q.exact_root() {
                Some(across) => Number::root(square(&(&across - &radius)) + square(&along)),
                None => {
                    let across = &Number::root(q) - &Number::exact(radius);
                    let squared = &across.squared() + &Number::exact(square(&along));
                    squared.sqrt().unwrap_or_else(|| Number::whole(0))
                }
            },
        }
    }
}

/// The nearest and farthest distance, along one axis, from a value to a stretch.
fn stretch((at, low, high): (&Ratio, &Ratio, &Ratio)) -> (Ratio, Ratio) {
    let near = if at < low {
        low - at
    } else if at > high {
        at - high
    } else {
        Ratio::ZERO
    };
    (near, (at - low).abs().max((high - at).abs()))
}

fn in_plane(a: (&Ratio, &Ratio, &Ratio), b: (&Ratio, &Ratio, &Ratio), radius: &Ratio) -> InPlane {
    let ((near_a, far_a), (near_b, far_b)) = (stretch(a), stretch(b));
    let nearest = square(&near_a) + square(&near_b);
    let farthest = square(&far_a) + square(&far_b);
    let reach = square(radius);
    if nearest > reach {
        InPlane::Apart(nearest)
    } else if farthest < reach {
        InPlane::Apart(farthest)
    } else {
        InPlane::Touching
    }
}

/// The range of the distance from a rim that may face any way, given the square of its middle's.
fn somewhere_about(middle_squared: &Ratio, radius: &Ratio) -> Number {
    let middle = Number::root(middle_squared.clone());
    let low = &middle - &Number::exact(radius.clone());
    let high = Number::root(middle_squared + &square(radius));
    Number::between(low.low().max(Ratio::ZERO), high.high())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::number::Comparison;
    use crate::base::truth::Truth;

    fn at(x: i64, y: i64, z: i64) -> Point {
        Point::new(Ratio::from(x), Ratio::from(y), Ratio::from(z))
    }

    fn rim(facing: Facing) -> Rim {
        Rim { centre: at(0, 0, 0), radius: Ratio::from(2), facing }
    }

    /// Distance from many points of a level rim to the box: an independent bound from above.
    fn by_walking_round(rim: &Rim, to: &Block) -> f64 {
        (0..20_000)
            .map(|step| {
                let angle = f64::from(step) * std::f64::consts::TAU / 20_000.0;
                let r = rim.radius.to_f64();
                let clamp = |v: f64, a: &Ratio, b: &Ratio| v - v.clamp(a.to_f64(), b.to_f64());
                let dx = clamp(rim.centre.x.to_f64() + r * angle.cos(), &to.low().x, &to.high().x);
                let dy = clamp(rim.centre.y.to_f64() + r * angle.sin(), &to.low().y, &to.high().y);
                let dz = clamp(rim.centre.z.to_f64(), &to.low().z, &to.high().z);
                (dx * dx + dy * dy + dz * dz).sqrt()
            })
            .fold(f64::INFINITY, f64::min)
    }

    #[test]
    fn walking_round_the_rim_finds_nothing_nearer() {
        let boxes = [
            Block::between(&at(5, 7, -3), &at(8, 9, -1)),
            Block::between(&at(-9, 4, 2), &at(-4, 11, 6)),
            Block::between(&at(-1, -1, -9), &at(1, 1, -4)),
            Block::between(&at(1, 1, 3), &at(9, 9, 4)),
            Block::between(&at(-30, -30, -8), &at(30, 30, -5)),
        ];
        for block in boxes {
            let computed = rim(Facing::UpOrDown).distance(&block).to_f64_mid();
            let walked = by_walking_round(&rim(Facing::UpOrDown), &block);
            assert!((computed - walked).abs() < 1e-6, "{computed} and {walked} for {block:?}");
        }
    }

    #[test]
    fn a_range_is_narrower_than_a_nanometre() {
        let Number::Range(low, high) =
            rim(Facing::UpOrDown).distance(&Block::between(&at(5, 7, -3), &at(8, 9, -1)))
        else {
            panic!("sqrt(74) is no ratio");
        };
        assert!(&high - &low < Ratio::new(1, 1_000_000_000).unwrap());
    }

    #[test]
    fn a_sideways_rim_is_an_upright_one_turned() {
        // 6 north of the middle, within the width: 6 - 2 = 4 across; 3 east along the pipe: 5
        let window = Block::between(&at(3, 6, -1), &at(4, 8, 1));
        assert_eq!(rim(Facing::EastOrWest).distance(&window), Number::whole(5));
    }

    #[test]
    fn a_rim_that_may_face_any_way_holds_every_way() {
        let window = Block::between(&at(3, 6, -1), &at(4, 8, 1));
        let any = rim(Facing::Otherwise).distance(&window);
        for facing in [Facing::UpOrDown, Facing::EastOrWest, Facing::NorthOrSouth] {
            let one = rim(facing).distance(&window);
            assert_ne!(any.compare(Comparison::More, &one), Truth::True);
            assert_ne!(any.compare(Comparison::Less, &one), Truth::True);
        }
    }
}
