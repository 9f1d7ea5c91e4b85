//! Membrane from rolls over a rectangular floor.

use crate::calc::amounts::{Amount, Area, Length, Made, OutOfRange, within};

/// A pier that stands in the floor.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Pier {
    /// Its one side.
    pub one: Length,
    /// Its other side.
    pub other: Length,
    /// How far the collar goes up it.
    pub collar: Length,
}

/// A floor to be covered, and what it is covered with.
#[derive(Clone, PartialEq, Debug)]
pub struct Floor {
    /// Its length, along which the strips lie.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// How far the membrane goes up the walls.
    pub turn_up: Length,
    /// The width of the roll.
    pub roll: Length,
    /// How far one strip lies over the next.
    pub lap: Length,
    /// What stands in the floor.
    pub piers: Vec<Pier>,
}

/// What a floor takes.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Sheets {
    /// How many strips.
    pub strips: u32,
    /// The length of each.
    pub strip: Length,
    /// All that is cut off the roll.
    pub off_the_roll: Area,
    /// The floor without its piers.
    pub floor: Area,
    /// What goes up the walls, corners with it.
    pub turned_up: Area,
    /// The seams between strips.
    pub seams: Length,
    /// The edge along the walls.
    pub edge: Length,
    /// The edges round the piers.
    pub collars: Length,
    /// The stuff of the collars.
    pub collar_area: Area,
}

/// The membrane, seams and edges of a floor.
///
/// # Meaning
/// Strips lie along the length, each over the next by the lap; the membrane goes up every wall. Waste at the roll's end is not in
/// it.
/// # Formula
/// Strips: `(W + 2 t - lap) / (roll - lap)`, up to the next whole one; each `L + 2 t` long; turned up `(L + 2t)(W + 2t) - L W`.
/// # Valid for
/// Sides of 0.3 to 200 m, turn-ups of 0 to 3 m, rolls of 0.3 to 20 m, laps of less than half a roll.
/// # Accuracy
/// Exact for a rectangle.
/// # Source
/// Geometry.
/// # Errors
/// [`OutOfRange`] outside the range.
/// # Example
/// ```
/// use undercroft::calc::{amounts::*, takeoff::{Floor, sheets}};
/// let feet = |text| Length::written(text).unwrap();
/// let floor = Floor {
///     length: feet("30 ft"), width: feet("20 ft"), turn_up: feet("6 in"), roll: feet("10 ft"), lap: feet("1 ft"), piers: vec![],
/// };
/// // (21 - 1) / 9 = 2.2: three strips of 31 ft
/// let sheets = sheets(&floor).unwrap();
/// assert_eq!(sheets.strips, 3);
/// assert!((sheets.seams.to_si() - 62.0 * 0.3048).abs() < 1e-9);
/// ```
pub fn sheets(floor: &Floor) -> Result<Sheets, OutOfRange> {
    let l = within("the length of the floor", floor.length, 0.3, 200.0)?;
    let w = within("the width of the floor", floor.width, 0.3, 200.0)?;
    let t = within("the turn-up", floor.turn_up, 0.0, 3.0)?;
    let roll = within("the width of the roll", floor.roll, 0.3, 20.0)?;
    let lap = within("the lap", floor.lap, 0.0, 0.5 * roll)?;
    let (mut standing, mut collars, mut collar_area) = (0.0, 0.0, 0.0);
    for pier in &floor.piers {
        let a = within("the side of a pier", pier.one, 0.0, l)?;
        let b = within("the side of a pier", pier.other, 0.0, w)?;
        let up = within("the height of a collar", pier.collar, 0.0, 3.0)?;
        standing += a * b;
        collars += 2.0 * (a + b);
        collar_area += 2.0 * (a + b) * up;
    }
    let free = within("the floor under piers", Area::new(standing), 0.0, l * w).map(|on| l * w - on)?;
    let (long, wide) = (l + 2.0 * t, w + 2.0 * t);
    let strips = ((wide - lap) / (roll - lap) - 1e-9).ceil().max(1.0);
    Ok(Sheets {
        strips: strips as u32,
        strip: Length::new(long),
        off_the_roll: Area::new(strips * long * roll),
        floor: Area::new(free),
        turned_up: Area::new(long * wide - l * w),
        seams: Length::new((strips - 1.0) * long),
        edge: Length::new(2.0 * (l + w)),
        collars: Length::new(collars),
        collar_area: Area::new(collar_area),
    })
}

impl Sheets {
    /// All that tape has to cover: seams and the edges round piers.
    #[must_use]
    pub fn to_tape(&self) -> Length {
        Length::new(self.seams.to_si() + self.collars.to_si())
    }
}
