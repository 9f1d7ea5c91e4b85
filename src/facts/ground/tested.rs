//! The layer under an area as its communication tests show it.

use crate::base::number::Number;
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Flow, Leakage, Length, Pressure, Transmissivity};
use crate::calc::field::{Between, Fill, NoFit, Pit, Pull, Reached, reaches};
use crate::calc::geometry::PlanPoint;
use crate::calc::soil::assumed::Ends;
use crate::calc::soil::ground::Layer;
use crate::design::model::foundation::Area;
use crate::design::model::readings::{CommunicationTest, TestHole};
use crate::facts::ask::Ask;
use crate::facts::catalogue::Entries;
use crate::facts::kinds::Kind;
use crate::facts::within::{self, Taped};

use super::bounds::Bounds;
use super::layer;
use super::step_of;

/// What communication tests are read from.
pub(in crate::facts) const TESTS: Entries = &[
    "diagnostics.communication",
    "diagnostics.communication.*.in",
    "diagnostics.communication.*.suction_point",
    "diagnostics.communication.*.at",
    "diagnostics.communication.*.at.**",
    "diagnostics.communication.*.hole",
    "diagnostics.communication.*.suction",
    "diagnostics.communication.*.flow",
    "diagnostics.communication.*.steps",
    "diagnostics.communication.*.steps.**",
    "diagnostics.communication.*.holes",
    "diagnostics.communication.*.holes.*.at",
    "diagnostics.communication.*.holes.*.at.**",
    "diagnostics.communication.*.holes.*.from_walls",
    "diagnostics.communication.*.holes.*.from_walls.**",
    "diagnostics.communication.*.holes.*.on",
    "diagnostics.communication.*.holes.*.off",
    "diagnostics.communication.*.instrument_step",
];

/// Readings are taken to be as good as this.
pub(super) const READ: f64 = 0.05;

/// What tests tell of a layer.
pub(super) enum Told {
    /// The layer, by one of them or several.
    Layer(Answer<Ends>),
    /// Nothing; what would have to be stated for them to tell.
    Nothing(Vec<Missing>),
}

/// One test that tells.
struct Read {
    at: PlanPoint,
    radius: Length,
    suction: Pressure,
    flow: Answer<Option<Flow>>,
    holes: Vec<Between>,
}

/// What the communication tests of an area tell of its layer.
pub(super) fn told<'d>(ask: &mut Ask<'d>, it: Thing, area: &'d Area, bounds: &Bounds) -> Told {
    let name = ask.things().name(it);
    let diagnostics = &ask.design().diagnostics;
    let list = ask.read(&diagnostics.here, &diagnostics.communication);
    let mut wanting = match list {
        Answer::Known { .. } => Vec::new(),
        Answer::Unknown(missing) => missing,
    };
    let mut found: Vec<Ends> = Vec::new();
    for (_, test) in diagnostics.communication.things() {
        if ask.read(&test.here, &test.area).value().flatten().is_none_or(|own| own.as_str() != name) {
            continue;
        }
        let told = read(ask, test, &name, area).then(|read| ends(ask, it, area, test, bounds, &read));
        match told {
            Answer::Known { value, .. } => found.push(value),
            Answer::Unknown(missing) => wanting = unite(wanting, missing),
        }
    }
    match found.into_iter().reduce(both) {
        Some(ends) => Told::Layer(Answer::known(ends)),
        None if wanting.is_empty() => {
            let why = format!("no communication test in the file is of {name}");
            let want = diagnostics.communication.want(&diagnostics.here);
            Told::Nothing(vec![Missing { reason: Reason::NotComputable(why), ..want }])
        }
        None => Told::Nothing(wanting),
    }
}

/// The ends of what two tests tell.
fn both(one: Ends, other: Ends) -> Ends {
    let reach = |layer: &Layer| layer.transmissivity.to_si() / layer.leakage.to_si();
    let along = |layer: &Layer| layer.transmissivity.to_si();
    let less = |a: Layer, b: Layer, by: &dyn Fn(&Layer) -> f64| if by(&a) <= by(&b) { a } else { b };
    let more = |a: Layer, b: Layer, by: &dyn Fn(&Layer) -> f64| if by(&a) >= by(&b) { a } else { b };
    Ends {
        near: less(one.near, other.near, &reach),
        far: more(one.far, other.far, &reach),
        least: less(one.least, other.least, &along),
        most: more(one.most, other.most, &along),
    }
}

/// What one test read.
fn read<'d>(ask: &mut Ask<'d>, test: &'d CommunicationTest, name: &str, area: &'d Area) -> Answer<Read> {
    let holes = holes(ask, test, name, area);
    let pulled = place_of_pull(ask, test, name, area);
    let wide = ask.quantity(&test.here, &test.hole);
    let suction = suction(ask, test);
    holes.both(pulled).both(wide.both(suction)).then(|((holes, at), (wide, suction))| {
        let cannot = || Answer::missing(test.hole.want(&test.here));
        let Some(radius) = Length::from_si(0.5 * wide.to_f64_mid()) else { return cannot() };
        let Some(suction) = Pressure::from_si(suction.to_f64_mid()) else { return cannot() };
        ask.assume("what was read in the communication test is good to 5 %");
        Answer::known(Read { at, radius, suction, flow: flow(ask, test), holes })
    })
}

/// The suction that was applied.
fn suction<'d>(ask: &mut Ask<'d>, test: &'d CommunicationTest) -> Answer<Number> {
    let mut steps = test.steps.members();
    match (test.suction.is_missing(), steps.next(), steps.next()) {
        (true, Some(only), None) => {
            let _ = ask.read(&test.here, &test.steps);
            ask.quantity(&only.here, &only.suction)
        }
        _ => ask.quantity(&test.here, &test.suction),
    }
}

/// The air that was drawn, if it is stated.
fn flow<'d>(ask: &mut Ask<'d>, test: &'d CommunicationTest) -> Answer<Option<Flow>> {
    let mut steps = test.steps.members();
    let stated = match (test.flow.is_missing(), steps.next(), steps.next()) {
        (true, Some(only), None) => {
            let _ = ask.read(&test.here, &test.steps);
            ask.quantity(&only.here, &only.flow)
        }
        _ => ask.quantity(&test.here, &test.flow),
    };
    stated.map(|flow| Flow::from_number(&flow))
}

/// Where suction was applied: at a suction point of the design, or at a place of its own.
fn place_of_pull<'d>(
    ask: &mut Ask<'d>,
    test: &'d CommunicationTest,
    name: &str,
    area: &'d Area,
) -> Answer<PlanPoint> {
    let named = ask.read(&test.here, &test.suction_point).value().flatten().map(|name| name.as_str());
    if let Some(point) = named.and_then(|name| ask.things().named(Kind::SuctionPoint, None, name)) {
        return within::plan(ask, point, area);
    }
    let taped = Taped { name: "the hole of the test", here: &test.here, at: &test.at, from_walls: None };
    within::plan_of(ask, &taped, name, area)
}

/// The holes whose place and reading are known. One of them is enough; of a test with none it is told what is missing.
fn holes<'d>(
    ask: &mut Ask<'d>,
    test: &'d CommunicationTest,
    area_name: &str,
    area: &'d Area,
) -> Answer<Vec<Between>> {
    let _ = ask.read(&test.here, &test.holes);
    let closely = ask.quantity(&test.here, &test.instrument_step).value();
    let step = closely.map_or(0.0, |step| 0.5 * step.to_f64_mid());
    let (mut found, mut wanting) = (Vec::new(), Vec::new());
    for (name, hole) in test.holes.things() {
        let taped = Taped { name, here: &hole.here, at: &hole.at, from_walls: Some(&hole.from_walls) };
        let at = within::plan_of(ask, &taped, area_name, area);
        match at.both(drop_at(ask, hole)) {
            Answer::Known { value: (at, drop), .. } => {
                let (low, high) = drop.to_f64_bounds();
                let least = Pressure::from_si(low - READ * low.abs() - step);
                let most = Pressure::from_si(high + READ * high.abs() + step);
                found.extend(least.zip(most).map(|(least, most)| Between { at, least, most }));
            }
            Answer::Unknown(missing) => wanting = unite(wanting, missing),
        }
    }
    if !found.is_empty() {
        return Answer::known(found);
    }
    Answer::Unknown(if wanting.is_empty() { vec![test.holes.want(&test.here)] } else { wanting })
}

/// What suction brought at a hole: the pressure without it, less that with it.
fn drop_at<'d>(ask: &mut Ask<'d>, hole: &'d TestHole) -> Answer<Number> {
    let on = ask.quantity(&hole.here, &hole.on);
    let off = ask.quantity(&hole.here, &hole.off).value();
    on.map(|on| match off {
        Some(off) => &off - &on,
        None => {
            ask.assume("a test hole read only with suction on is at the pressure of the room without it");
            on.negate()
        }
    })
}

/// The layer by one test, at the ends of what it can be.
///
/// Each hole by itself has a reach that gives its reading; the shortest and the longest of these are the ends. How freely gas flows
/// along the layer follows at each end from the air that was drawn, good to 5 %.
fn ends<'d>(
    ask: &mut Ask<'d>,
    it: Thing,
    area: &'d Area,
    test: &'d CommunicationTest,
    bounds: &Bounds,
    read: &Read,
) -> Answer<Ends> {
    let one = (Transmissivity::from_si(1e-5), Leakage::from_si(1e-5));
    let (Some(along), Some(leaks)) = one else { return ask.cannot(it, "its layer is out of range") };
    let fill = Fill {
        outline: bounds.outline.clone(),
        holes: bounds.holes.clone(),
        barriers: bounds.barriers.clone(),
        layer: Layer { transmissivity: along, leakage: leaks },
        lines: Vec::new(),
        pits: vec![Pit { at: read.at.clone(), radius: read.radius, pull: Pull::Suction(read.suction) }],
    };
    let want =
        |why: &str| Missing { reason: Reason::NotComputable(why.to_owned()), ..test.holes.want(&test.here) };
    let Some(step) = step_of(&bounds.outline, &bounds.holes) else {
        return ask.cannot(it, "its outline is too large");
    };
    let (short, long) = match reaches(&fill, &read.holes, step) {
        Ok(both) => both,
        Err(NoFit::NothingRead) => {
            return Answer::missing(want("no hole of the test shows any suction"));
        }
        Err(NoFit::HoleOutside(_)) => {
            return Answer::missing(want("a hole of the test does not lie within its area"));
        }
        Err(_) => return Answer::missing(want("no ground gives what the test read")),
    };
    let layer = |of: &Reached, along: f64| {
        let (along, reach) = (Transmissivity::from_si(along)?, of.reach.to_si());
        Some(Layer { transmissivity: along, leakage: Leakage::from_si(along.to_si() / (reach * reach))? })
    };
    let freely = match &read.flow {
        Answer::Known { value: Some(flow), .. } => {
            let of =
                |reached: &Reached, share: f64| share * flow.to_si() / reached.drawn.to_si() * along.to_si();
            [
                layer(&short, of(&short, 1.0)),
                layer(&long, of(&long, 1.0)),
                layer(&long, of(&long, 1.0 - READ)),
                layer(&short, of(&short, 1.0 + READ)),
            ]
        }
        _ => match layer::along(ask, it, area) {
            Answer::Known { value: (low, high), .. } => [
                layer(&short, low.to_si()),
                layer(&long, high.to_si()),
                layer(&long, low.to_si()),
                layer(&short, high.to_si()),
            ],
            Answer::Unknown(_) => return Answer::missing(test.flow.want(&test.here)),
        },
    };
    match freely {
        [Some(near), Some(far), Some(least), Some(most)] => {
            let value = Ends { near, far, least, most };
            let doubts = vec![Missing { reason: Reason::Imprecise, ..test.holes.want(&test.here) }];
            Answer::Known { value, doubts }
        }
        _ => ask.cannot(it, "its layer is out of range"),
    }
}
