//! A system as pipes, fan and suction points: what its air passes, read from the design.

use crate::base::number::Number;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::air::{self, Air};
use crate::calc::amounts::{Amount, Density, Flow, Length, OutOfRange, Plain, Power, Pressure, Temperature};
use crate::calc::fan_curve::{FanPoint, standard_air};
use crate::calc::friction::{Surface, roughness};
use crate::calc::section::Section;
use crate::calc::valves::ValveKind as Closes;
use crate::design::model::fan::{Cap, Fan};
use crate::design::model::pipe::{PipeMaterial, Run, Valve, ValveKind};
use crate::facts::ask::Ask;
use crate::facts::bores::bore;
use crate::facts::downstream::downstream;
use crate::facts::kinds::Kind;
use crate::facts::runs::{material, run};
use crate::facts::soil_gas::{dampness, soil_gas};
use crate::facts::system::system;
use crate::facts::worked::out_of_range;

use super::losses::{End, fittings};

/// What a run begins at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Begins {
    /// The fan.
    Fan,
    /// The end of another run, by its place among the pipes.
    At(usize),
}

/// What a run ends at.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
pub(super) enum Ends {
    /// The open air.
    Discharge,
    /// A suction point.
    Point(Thing),
    /// Other runs, or nothing.
    Open,
}

/// How a valve stands.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) enum Stands {
    /// It lets nothing pass.
    Closed,
    /// Open by this share of its way.
    Open(Closes, Plain),
    /// Set until this suction stood behind it.
    SetTo(Closes, Pressure),
    /// To be set so that this point has this suction.
    ToGive(Closes, Thing, Pressure),
}

/// What is known only within bounds: with which least is lost, and with which most.
#[derive(Clone, Copy, PartialEq, Debug)]
pub(super) struct Bounds<T> {
    pub(super) least: T,
    pub(super) most: T,
}

/// A run of pipe.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Pipe {
    pub(super) it: Thing,
    pub(super) begins: Begins,
    pub(super) ends: Ends,
    /// Whether its air has passed the fan.
    pub(super) after: bool,
    pub(super) section: Bounds<Section>,
    pub(super) length: Bounds<Length>,
    pub(super) rough: Length,
    /// The coefficients of all its fittings, and of its open end.
    pub(super) fittings: Plain,
    /// How many like it lie side by side.
    pub(super) abreast: u32,
    pub(super) valve: Option<Stands>,
}

/// A system.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Piping {
    pub(super) system: Thing,
    pub(super) fan: Thing,
    pub(super) curve: Vec<FanPoint>,
    pub(super) curve_density: Density,
    pub(super) pipes: Vec<Pipe>,
}

/// No more pipes than this lie side by side.
const MOST_ABREAST: u32 = 8;

/// The gas in the pipes of a house, as it comes out of the soil: the lightest, which is warm and damp, and the heaviest.
pub(super) fn gas(ask: &mut Ask<'_>, it: Thing) -> Answer<Bounds<Air>> {
    ask.between("gas", it, |ask| {
        let site = &ask.design().site;
        let altitude = ask.quantity(&site.here, &site.altitude);
        let (warm, damp) = (soil_gas(ask), dampness(ask));
        altitude.both(warm).both(damp).then(|((altitude, warm), damp)| {
            let ((low, high), (dry, full)) = (warm.to_f64_bounds(), damp.to_f64_bounds());
            let at = |warm: f64, damp: f64, altitude: f64| {
                Some(air::at(Temperature::from_si(warm)?, Length::from_si(altitude)?, Plain::from_si(damp)?))
            };
            let (shore, hill) = altitude.to_f64_bounds();
            match at(high, full, hill).zip(at(low, dry, shore)) {
                Some((Ok(least), Ok(most))) => Answer::known(Bounds { least, most }),
                Some((Err(range), _) | (_, Err(range))) => out_of_range(ask, it, &range),
                None => ask.cannot(it, "the height of the site above the sea is too great"),
            }
        })
    })
}

/// The pipes, fan and suction points of a system.
pub(super) fn piping(ask: &mut Ask<'_>, it: Thing) -> Answer<Piping> {
    ask.between("piping", it, |ask| {
        let Some(fan) = ask.things().owned(Kind::Fan, it.number).first().copied() else {
            return system(ask, it, |ask, system| {
                ask.value(&system.here, &system.fan).then(|_| ask.cannot(it, "no fan drives the system"))
            });
        };
        let curve = curve(ask, fan);
        let runs = ask.things().owned(Kind::Run, it.number);
        let read: Vec<Answer<Pipe>> = runs.iter().map(|run| pipe(ask, *run, &runs)).collect();
        let pipes = system(ask, it, |ask, system| ask.value(&system.here, &system.runs).map(|_| ()))
            .both(Answer::all(read))
            .map(|((), pipes)| pipes);
        curve.both(pipes).map(|((curve, curve_density), pipes)| Piping {
            system: it,
            fan,
            curve,
            curve_density,
            pipes,
        })
    })
}

/// The points of the fan's sheet, from the least air to the most, and the density of air for which it was made.
fn curve(ask: &mut Ask<'_>, it: Thing) -> Answer<(Vec<FanPoint>, Density)> {
    let Some(fan): Option<&Fan> = ask.things().fans.get(it.number as usize).map(|fan| fan.it) else {
        return ask.cannot(it, "it is not in the file");
    };
    let density = if fan.curve_density.is_missing() {
        ask.assume(
            "the curve of the fan holds for air of 0.075 lb/ft3, as sheets do that do not say otherwise",
        );
        Answer::known(Some(standard_air()))
    } else {
        ask.quantity(&fan.here, &fan.curve_density).map(|density| Density::from_number(&density))
    };
    let want = fan.curve.want(&fan.here);
    let points = ask.value(&fan.here, &fan.curve).then(|list| {
        let each = list.members().map(|point| {
            let flow = ask.quantity(&point.here, &point.flow);
            let pressure = ask.quantity(&point.here, &point.pressure);
            let power = if point.power.is_missing() {
                Answer::known(None)
            } else {
                ask.quantity(&point.here, &point.power).map(Some)
            };
            flow.both(pressure).both(power).map(|((flow, pressure), power)| {
                Some(FanPoint {
                    flow: Flow::from_number(&flow)?,
                    pressure: Pressure::from_number(&pressure)?,
                    power: power.and_then(|power| Power::from_number(&power)),
                })
            })
        });
        let each: Vec<_> = each.collect();
        Answer::all(each)
    });
    points.both(density).then(|(points, density)| {
        let points: Option<Vec<FanPoint>> = points.into_iter().collect();
        match (points, density) {
            (Some(mut points), Some(density)) => {
                points.sort_by(|a, b| a.flow.to_si().total_cmp(&b.flow.to_si()));
                Answer::known((points, density))
            }
            _ => Answer::missing(want),
        }
    })
}

/// One run as a pipe.
fn pipe<'d>(ask: &mut Ask<'d>, it: Thing, all: &[Thing]) -> Answer<Pipe> {
    run(ask, it, |ask, record: &'d Run| {
        let begins = begins(ask, it, record, all);
        let ends = ends(ask, it, record);
        let after = downstream(ask, it);
        let way = begins.both(ends).both(after);
        let fittings = way.clone().then(|((_, ends), after)| {
            let end = match ends {
                Ends::Discharge => Some(outlet(ask, it)),
                Ends::Point(_) => Some(End::Soil),
                Ends::Open => None,
            };
            fittings(ask, it, end, after)
        });
        let abreast = if record.abreast.is_missing() {
            Answer::known(1)
        } else {
            ask.value(&record.here, &record.abreast).map(|count| count.0)
        };
        let valve = valve(ask, it, record);
        let shape = section(ask, it).both(length(ask, it)).both(material(ask, it).map(surface));
        let parts = abreast.both(fittings).both(valve);
        shape.both(way).both(parts).then(|((shape, way), parts)| {
            let (((section, length), rough), ((begins, ends), after)) = (shape, way);
            let ((abreast, fittings), valve) = parts;
            if abreast == 0 || abreast > MOST_ABREAST {
                return ask.cannot(it, "from 1 to 8 pipes can lie side by side");
            }
            let rough = roughness(rough);
            Answer::known(Pipe { it, begins, ends, after, section, length, rough, fittings, abreast, valve })
        })
    })
}

/// What the outlet of a system is to its air.
fn outlet(ask: &mut Ask<'_>, it: Thing) -> End {
    let owner = ask.things().owner(it);
    let system = owner.and_then(|owner| ask.things().systems.get(owner as usize)).map(|system| system.it);
    let Some(system) = system else { return End::Open };
    let cap = ask
        .read_inside(&system.here, &system.discharge, "cap", |discharge| (&discharge.here, &discharge.cap));
    match cap {
        Answer::Known { value: None | Some(Cap::UpwardCap), .. } => End::Open,
        Answer::Known { .. } => {
            ask.assume("what covers the outlet takes as much as the open pipe does; makers differ");
            End::Capped
        }
        Answer::Unknown(_) => {
            ask.assume("the outlet is an open pipe");
            End::Open
        }
    }
}

fn length(ask: &mut Ask<'_>, it: Thing) -> Answer<Bounds<Length>> {
    ask.number(it, "length").then(|length| {
        let (low, high) = length.to_f64_bounds();
        match (Length::from_si(low), Length::from_si(high)) {
            _ if high <= 0.0 => {
                let why = "it has no length; say how far it goes, or leave it out and let the next begin where it does";
                ask.cannot(it, why)
            }
            (Some(least), Some(most)) => Answer::known(Bounds { least, most }),
            _ => ask.cannot(it, "the run is too long"),
        }
    })
}

/// The clear opening of a run: the widest it can be, and the narrowest.
fn section(ask: &mut Ask<'_>, it: Thing) -> Answer<Bounds<Section>> {
    let lengths = |number: &Number| {
        let (low, high) = number.to_f64_bounds();
        Some((Length::from_si(low)?, Length::from_si(high)?))
    };
    if material(ask, it).value() == Some(PipeMaterial::Downspout) {
        let sides = ask.number(it, "narrow_side").both(ask.number(it, "wide_side"));
        return sides.then(|(narrow, wide)| match (lengths(&narrow), lengths(&wide)) {
            (Some(narrow), Some(wide)) => {
                let (least, most) =
                    (Section::rectangle(narrow.1, wide.1), Section::rectangle(narrow.0, wide.0));
                bounds(ask, it, least, most)
            }
            _ => ask.cannot(it, "the downspout is too large"),
        });
    }
    bore(ask, it).then(|inside| match lengths(&inside) {
        Some((narrow, wide)) => bounds(ask, it, Section::round(wide), Section::round(narrow)),
        None => ask.cannot(it, "the pipe is too wide"),
    })
}

fn bounds<T>(
    ask: &Ask<'_>,
    it: Thing,
    least: Result<T, OutOfRange>,
    most: Result<T, OutOfRange>,
) -> Answer<Bounds<T>> {
    match (least, most) {
        (Ok(least), Ok(most)) => Answer::known(Bounds { least, most }),
        (Err(range), _) | (_, Err(range)) => out_of_range(ask, it, &range),
    }
}

fn surface(material: PipeMaterial) -> Surface {
    match material {
        PipeMaterial::Pvc | PipeMaterial::Abs | PipeMaterial::Pe | PipeMaterial::Copper => {
            Surface::JointedPlastic
        }
        PipeMaterial::Steel => Surface::Steel,
        PipeMaterial::Downspout => Surface::SheetMetal,
        // Rough cast and ribbed walls are taken as the roughest that the table has.
        PipeMaterial::CastIron | PipeMaterial::FlexibleDuct => Surface::Galvanized,
    }
}

fn begins<'d>(ask: &mut Ask<'d>, it: Thing, record: &'d Run, all: &[Thing]) -> Answer<Begins> {
    let owner = ask.things().owner(it);
    let want = record.from.want(&record.here);
    ask.value(&record.here, &record.from).then(|from| match from.as_str() {
        "fan" => Answer::known(Begins::Fan),
        name => {
            let before = ask.things().named(Kind::Run, owner, name);
            match before.and_then(|before| all.iter().position(|one| *one == before)) {
                Some(at) => Answer::known(Begins::At(at)),
                None => {
                    let why = format!("with a fan, runs are written outward from it, and {name} is no run");
                    Answer::missing(Missing { reason: Reason::NotComputable(why), ..want })
                }
            }
        }
    })
}

fn ends<'d>(ask: &mut Ask<'d>, it: Thing, record: &'d Run) -> Answer<Ends> {
    let owner = ask.things().owner(it);
    // A run that others go on from need not say where it ends.
    if record.to.is_missing() {
        let _ = ask.read(&record.here, &record.to);
        let name = ask.things().name(it);
        let owned = ask.things().owned(Kind::Run, owner.unwrap_or_default());
        let goes_on = owned.into_iter().any(|other| {
            let other = ask.things().runs.get(other.number as usize).map(|other| other.it);
            other.and_then(|other| other.from.known()).is_some_and(|from| from.as_str() == name)
        });
        let want = record.to.want(&record.here);
        return if goes_on { Answer::known(Ends::Open) } else { Answer::missing(want) };
    }
    ask.read(&record.here, &record.to).map(|to| match to.map(|name| name.as_str()) {
        Some("discharge") => Ends::Discharge,
        Some(name) => ask.things().named(Kind::SuctionPoint, owner, name).map_or(Ends::Open, Ends::Point),
        None => Ends::Open,
    })
}

/// The valve of a run, and how it closes.
pub(super) fn closes(ask: &mut Ask<'_>, it: Thing) -> Answer<Closes> {
    run(ask, it, |ask, record| ask.value(&record.here, &record.valve).then(|valve| how_it_closes(ask, valve)))
}

fn how_it_closes<'d>(ask: &mut Ask<'d>, valve: &'d Valve) -> Answer<Closes> {
    ask.value(&valve.here, &valve.kind).map(|kind| match kind {
        ValveKind::Ball => Closes::Ball,
        ValveKind::Butterfly | ValveKind::Damper => Closes::Butterfly,
        ValveKind::Gate | ValveKind::Slide => Closes::Gate,
    })
}

/// How the valve of a run stands; nothing where it has none.
fn valve<'d>(ask: &mut Ask<'d>, it: Thing, record: &'d Run) -> Answer<Option<Stands>> {
    if record.valve.is_missing() {
        let _ = ask.read(&record.here, &record.valve);
        ask.assume("a run of which no valve is described has none");
        return Answer::known(None);
    }
    let valve: Option<&'d Valve> = match ask.read(&record.here, &record.valve) {
        Answer::Known { value, .. } => value,
        Answer::Unknown(missing) => return Answer::Unknown(missing),
    };
    let Some(valve) = valve else { return Answer::known(None) };
    let closes = how_it_closes(ask, valve);
    if !valve.set_to.is_missing() {
        return closes.both(ask.quantity(&valve.here, &valve.set_to)).then(|(closes, suction)| {
            match Pressure::from_number(&suction) {
                Some(suction) => Answer::known(Some(Stands::SetTo(closes, suction))),
                None => ask.cannot(it, "the suction to which the valve was set is too great"),
            }
        });
    }
    ask.quantity(&valve.here, &valve.open).then(|open| match Plain::from_number(&open) {
        Some(open) if open.to_si() <= 0.0 => Answer::known(Some(Stands::Closed)),
        Some(open) => closes.map(|closes| Some(Stands::Open(closes, open))),
        None => ask.cannot(it, "the valve cannot be open so far"),
    })
}
