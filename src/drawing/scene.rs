//! What a drawing is made of: marks on paper, by layer and by pen, in the order in which they are drawn.
//!
//! A mark is plain enough that any back-end can draw it: strokes, filled outlines, rings and lines of words, in
//! points from the upper left corner of the paper. How a pen looks stands in one table.

/// A place: on paper in points, to the right and downward; in a view in metres, to the right and upward.
#[derive(Clone, Copy, PartialEq, Default, Debug)]
pub struct Spot {
    /// To the right.
    pub x: f64,
    /// Downward on paper, upward in a view.
    pub y: f64,
}

impl Spot {
    pub(crate) const fn at(x: f64, y: f64) -> Self {
        Spot { x, y }
    }

    pub(crate) fn moved(self, x: f64, y: f64) -> Self {
        Spot { x: self.x + x, y: self.y + y }
    }

    pub(crate) fn away(self, other: Spot) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// How far it is from a straight stroke.
    pub(crate) fn off(self, from: Spot, to: Spot) -> f64 {
        let (x, y) = (to.x - from.x, to.y - from.y);
        let long = x * x + y * y;
        let share = if long > 0.0 { ((self.x - from.x) * x + (self.y - from.y) * y) / long } else { 0.0 };
        self.away(from.toward(to, share.clamp(0.0, 1.0)))
    }

    pub(crate) fn toward(self, other: Spot, share: f64) -> Spot {
        Spot { x: self.x + (other.x - self.x) * share, y: self.y + (other.y - self.y) * share }
    }
}

/// A box with sides along the paper's.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Frame {
    /// The corner with the lesser coordinates.
    pub low: Spot,
    /// The corner with the greater ones.
    pub high: Spot,
}

impl Frame {
    pub(crate) const fn of(x0: f64, y0: f64, x1: f64, y1: f64) -> Self {
        Frame { low: Spot::at(x0, y0), high: Spot::at(x1, y1) }
    }

    /// The box round some places.
    pub(crate) fn round(spots: impl IntoIterator<Item = Spot>) -> Option<Self> {
        spots.into_iter().fold(None, |so_far: Option<Frame>, spot| {
            Some(so_far.map_or(Frame { low: spot, high: spot }, |frame| frame.with(spot)))
        })
    }

    pub(crate) fn with(self, spot: Spot) -> Self {
        Frame {
            low: Spot::at(self.low.x.min(spot.x), self.low.y.min(spot.y)),
            high: Spot::at(self.high.x.max(spot.x), self.high.y.max(spot.y)),
        }
    }

    pub(crate) fn wider(self, by: f64) -> Self {
        Frame { low: self.low.moved(-by, -by), high: self.high.moved(by, by) }
    }

    pub(crate) fn wide(self) -> f64 {
        self.high.x - self.low.x
    }

    pub(crate) fn high(self) -> f64 {
        self.high.y - self.low.y
    }

    pub(crate) fn middle(self) -> Spot {
        self.low.toward(self.high, 0.5)
    }

    pub(crate) fn holds(self, other: Frame) -> bool {
        self.low.x <= other.low.x
            && self.low.y <= other.low.y
            && self.high.x >= other.high.x
            && self.high.y >= other.high.y
    }

    /// Whether two boxes have more than an edge in common.
    #[must_use]
    pub fn meets(&self, other: &Frame) -> bool {
        self.low.x < other.high.x
            && other.low.x < self.high.x
            && self.low.y < other.high.y
            && other.low.y < self.high.y
    }

    /// The box with more room at its sides, and above and below.
    pub(crate) fn grown(self, aside: f64, above: f64) -> Self {
        Frame { low: self.low.moved(-aside, -above), high: self.high.moved(aside, above) }
    }

    /// How far it is from a straight stroke.
    pub(crate) fn off(self, from: Spot, to: Spot) -> f64 {
        let clamped = |at: Spot| {
            Spot::at(at.x.clamp(self.low.x, self.high.x), at.y.clamp(self.low.y, self.high.y)).away(at)
        };
        let ends = clamped(from).min(clamped(to));
        if ends <= 0.0 || self.is_crossed(from, to) {
            return 0.0;
        }
        let Frame { low, high } = self;
        let corners = [low, Spot::at(high.x, low.y), high, Spot::at(low.x, high.y)];
        corners.into_iter().map(|corner| corner.off(from, to)).fold(ends, f64::min)
    }

    /// Whether a straight stroke passes through.
    pub(crate) fn is_crossed(self, from: Spot, to: Spot) -> bool {
        self.cut(from, to).is_some()
    }

    /// From which share of a straight stroke to which it lies within.
    pub(crate) fn cut(self, from: Spot, to: Spot) -> Option<(f64, f64)> {
        // The stroke cut to the box, side by side.
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for (step, room) in [
            (-dx, from.x - self.low.x),
            (dx, self.high.x - from.x),
            (-dy, from.y - self.low.y),
            (dy, self.high.y - from.y),
        ] {
            if step.abs() < 1e-12 {
                if room < 0.0 {
                    return None;
                }
                continue;
            }
            let at = room / step;
            if step < 0.0 { enters = enters.max(at) } else { leaves = leaves.min(at) }
        }
        (enters < leaves).then_some((enters, leaves))
    }
}

/// What a mark is drawn for; marks lie over one another in this order.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Layer {
    /// Shading: suction under the floor, soil.
    Shading,
    /// What a rule keeps clear.
    Zones,
    /// Walls, footings, roof, openings.
    Building,
    /// Runs of pipe.
    Pipe,
    /// Dimensions, and strokes from words to what they name.
    Sizes,
    /// Signs for things.
    Signs,
    /// Labels.
    Labels,
    /// The frame of the sheet with its title, legend and notes.
    Sheet,
}

impl Layer {
    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Layer::Shading => "shading",
            Layer::Zones => "zones",
            Layer::Building => "building",
            Layer::Pipe => "pipe",
            Layer::Signs => "signs",
            Layer::Sizes => "sizes",
            Layer::Labels => "labels",
            Layer::Sheet => "sheet",
        }
    }
}

/// With what a mark is drawn.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Pen {
    /// The face of a wall, the line of the ground.
    Wall,
    /// An edge that was measured: an opening, a roof.
    Edge,
    /// An edge that was not measured, or lies behind something.
    Unsure,
    /// An edge on the side that is turned away.
    Far,
    /// A line of the property.
    Property,
    /// A wall or parapet above the roof.
    Above,
    /// A footing under the floor.
    Footing,
    /// A floor of the foundation, seen from the side.
    Floor,
    /// A drain loop or a collector under the floor.
    Loop,
    /// Pipe under suction.
    Suction,
    /// Pipe under pressure: the outer line.
    Pressure,
    /// The core of pipe under pressure, which makes two lines of it.
    Core,
    /// A sign for a thing, left white inside.
    Sign,
    /// A sign that is black inside.
    Ink,
    /// Thin parts of a sign.
    Hair,
    /// What a rule keeps clear.
    Zone,
    /// A height that a rule asks for.
    Height,
    /// Strokes of hatching.
    Hatch,
    /// Strokes of hatching behind which no test stands.
    Assumed,
    /// Strokes of hatching where a discharge may stand.
    Allowed,
    /// A line on which a discharge may stand.
    Plumb,
    /// Strokes of hatching where it cannot be told whether it may.
    Untold,
    /// A dimension line or a leader.
    Size,
    /// White behind words.
    White,
    /// Words.
    Words,
    /// Words of less weight.
    Notes,
    /// The number of a finding.
    Flag,
    /// Frames of the sheet.
    Frame,
}

/// Red, green and blue, each of 255.
pub type Colour = [u8; 3];

/// How a pen looks.
#[derive(Clone, Copy, PartialEq, Debug)]
pub struct Look {
    /// Its name.
    pub name: &'static str,
    /// The colour of its stroke, if it strokes.
    pub stroke: Option<Colour>,
    /// How wide its stroke is, in points.
    pub width: f64,
    /// Lengths of strokes and gaps in turn; empty for a whole line.
    pub dashes: &'static [f64],
    /// What it fills outlines with, or writes words in.
    pub fill: Option<Colour>,
}

const BLACK: Colour = [0, 0, 0];
const DARK: Colour = [70, 70, 70];
const WHITE: Colour = [255, 255, 255];
const BLUE: Colour = [20, 60, 120];
const RED: Colour = [140, 30, 20];
const GREEN: Colour = [0, 95, 60];
const BROWN: Colour = [120, 70, 0];

impl Pen {
    /// Every pen.
    pub const ALL: [Pen; 28] = [
        Pen::Wall,
        Pen::Edge,
        Pen::Unsure,
        Pen::Far,
        Pen::Property,
        Pen::Above,
        Pen::Footing,
        Pen::Floor,
        Pen::Loop,
        Pen::Suction,
        Pen::Pressure,
        Pen::Core,
        Pen::Sign,
        Pen::Ink,
        Pen::Hair,
        Pen::Zone,
        Pen::Height,
        Pen::Hatch,
        Pen::Assumed,
        Pen::Allowed,
        Pen::Plumb,
        Pen::Untold,
        Pen::Size,
        Pen::White,
        Pen::Words,
        Pen::Notes,
        Pen::Flag,
        Pen::Frame,
    ];

    /// How it looks.
    #[must_use]
    pub fn look(self) -> Look {
        let line =
            |name, colour, width, dashes| Look { name, stroke: Some(colour), width, dashes, fill: None };
        let filled = |name, colour| Look { name, stroke: None, width: 0.0, dashes: &[], fill: Some(colour) };
        match self {
            Pen::Wall => line("wall", BLACK, 1.6, &[]),
            Pen::Edge => line("edge", BLACK, 0.8, &[]),
            Pen::Unsure => line("unsure", DARK, 0.7, &[4.0, 2.5]),
            Pen::Far => line("far", BLACK, 0.7, &[1.4, 1.4]),
            Pen::Property => line("property", BLACK, 0.8, &[14.0, 2.5, 2.0, 2.5, 2.0, 2.5]),
            Pen::Above => line("above", BLACK, 1.4, &[9.0, 1.8]),
            Pen::Footing => line("footing", DARK, 1.2, &[7.0, 2.0, 2.0, 2.0]),
            Pen::Floor => line("floor", DARK, 1.9, &[18.0, 2.5]),
            Pen::Loop => line("loop", BLUE, 1.2, &[1.2, 2.2]),
            Pen::Suction => line("suction", BLUE, 2.2, &[]),
            Pen::Pressure => line("pressure", RED, 3.0, &[]),
            Pen::Core => line("core", WHITE, 1.3, &[]),
            Pen::Sign => Look { fill: Some(WHITE), ..line("sign", BLACK, 0.9, &[]) },
            Pen::Ink => filled("ink", BLACK),
            Pen::Hair => line("hair", BLACK, 0.6, &[]),
            Pen::Zone => line("zone", BROWN, 0.8, &[6.0, 2.0, 1.5, 2.0]),
            Pen::Height => line("height", BROWN, 1.5, &[3.5, 1.6, 3.5, 5.0]),
            Pen::Hatch => line("hatch", DARK, 0.35, &[]),
            Pen::Assumed => line("assumed", DARK, 0.4, &[4.5, 3.5]),
            Pen::Allowed => line("allowed", GREEN, 0.5, &[]),
            Pen::Plumb => line("plumb", GREEN, 1.8, &[9.0, 1.5, 1.5, 1.5]),
            Pen::Untold => line("untold", DARK, 0.6, &[0.8, 4.2]),
            Pen::Size => line("size", BLACK, 0.4, &[]),
            Pen::White => filled("white", WHITE),
            Pen::Words => filled("words", BLACK),
            Pen::Notes => filled("notes", DARK),
            Pen::Flag => Look { fill: Some(WHITE), ..line("flag", BLACK, 0.9, &[]) },
            Pen::Frame => line("frame", BLACK, 0.8, &[]),
        }
    }
}

/// The form of a mark.
#[derive(Clone, PartialEq, Debug)]
pub enum Form {
    /// A line through places, or an outline where it is closed.
    Path {
        /// The places.
        points: Vec<Spot>,
        /// Whether it goes back to the first.
        closed: bool,
    },
    /// Many straight strokes.
    Strokes(Vec<(Spot, Spot)>),
    /// A ring.
    Ring {
        /// Its middle.
        middle: Spot,
        /// Its radius.
        radius: f64,
    },
    /// A line of words.
    Words {
        /// Where it begins, on the line that letters stand on.
        at: Spot,
        /// The words.
        words: String,
        /// How high the letters are.
        size: f64,
        /// How wide the line is.
        wide: f64,
    },
}

/// A mark.
#[derive(Clone, PartialEq, Debug)]
pub struct Mark {
    /// What it is drawn for.
    pub layer: Layer,
    /// With what it is drawn.
    pub pen: Pen,
    /// Its form.
    pub form: Form,
    /// The numbers of the findings that it flags; it leads to the first.
    pub flags: Vec<usize>,
}

impl Mark {
    pub(crate) fn path(layer: Layer, pen: Pen, points: Vec<Spot>, closed: bool) -> Self {
        Mark { layer, pen, form: Form::Path { points, closed }, flags: Vec::new() }
    }

    pub(crate) fn line(layer: Layer, pen: Pen, from: Spot, to: Spot) -> Self {
        Mark::path(layer, pen, vec![from, to], false)
    }

    pub(crate) fn frame(layer: Layer, pen: Pen, frame: Frame) -> Self {
        let Frame { low, high } = frame;
        let corners = vec![low, Spot::at(high.x, low.y), high, Spot::at(low.x, high.y)];
        Mark::path(layer, pen, corners, true)
    }

    pub(crate) fn ring(layer: Layer, pen: Pen, middle: Spot, radius: f64) -> Self {
        Mark { layer, pen, form: Form::Ring { middle, radius }, flags: Vec::new() }
    }

    pub(crate) fn strokes(layer: Layer, pen: Pen, strokes: Vec<(Spot, Spot)>) -> Self {
        Mark { layer, pen, form: Form::Strokes(strokes), flags: Vec::new() }
    }

    pub(crate) fn words(layer: Layer, pen: Pen, at: Spot, size: f64, words: &str) -> Self {
        let wide = super::font::width_of(words, size);
        Mark { layer, pen, form: Form::Words { at, words: words.to_owned(), size, wide }, flags: Vec::new() }
    }

    /// The box round it.
    #[must_use]
    pub fn extent(&self) -> Option<Frame> {
        match &self.form {
            Form::Path { points, .. } => Frame::round(points.iter().copied()),
            Form::Strokes(strokes) => Frame::round(strokes.iter().flat_map(|(a, b)| [*a, *b])),
            Form::Ring { middle, radius } => Some(Frame { low: *middle, high: *middle }.wider(*radius)),
            Form::Words { at, size, wide, .. } => {
                Some(Frame::of(at.x, at.y - size * 0.78, at.x + wide, at.y + size * 0.24))
            }
        }
    }
}

/// A sheet of paper with what is drawn on it.
#[derive(Clone, PartialEq, Debug)]
pub struct Sheet {
    /// What it shows, in a few words.
    pub title: String,
    /// How wide the paper is, in points.
    pub width: f64,
    /// How high it is.
    pub height: f64,
    /// The marks, in the order in which they are drawn.
    pub marks: Vec<Mark>,
    /// Its labels. No two of them meet.
    pub labels: Vec<Named>,
    /// The boxes of its signs, each with what the legend says of it. No two of them meet.
    pub signs: Vec<(Frame, &'static str)>,
    /// The boxes of signs and openings, which no label meets.
    pub kept_free: Vec<Frame>,
    /// What it shows in words, for those who do not see it.
    pub twin: Vec<Part>,
}

/// A label with what it names.
#[derive(Clone, PartialEq, Debug)]
pub struct Named {
    /// The box round its words.
    pub frame: Frame,
    /// The stroke to what it names, if it has one.
    pub leader: Option<(Spot, Spot)>,
    /// What it names, as strokes.
    pub own: Vec<(Spot, Spot)>,
    /// What else of the same sort is drawn, as strokes.
    pub others: Vec<(Spot, Spot)>,
}

/// A part of what a sheet shows, in words.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Part {
    /// What it is about.
    pub title: String,
    /// What is said of it, each in a sentence.
    pub lines: Vec<String>,
}
