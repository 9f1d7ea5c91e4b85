//! The fan and the discharge.

use serde_json::{Value, json};

use super::names::SpaceOrOutdoors;
use super::pipe::{FittingKind, HangerKind, PipeSize};
use super::place::{Level, Place, Side};
use crate::base::value::EntryPath;
use crate::yaml::entry::{Entry, Here, ListOf, Met};
use crate::yaml::lay::Same;
use crate::yaml::measure::{
    Angle, Area, Current, Density, Flow, Length, Loudness, Measure, Power, Pressure, Voltage,
};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::{Reader, Reads, record, walk_entry};
use crate::yaml::schema::{Schemas, or_not_known};
use crate::yaml::time::Date;
use crate::yaml::tree::{NodeId, NodeKind};
use crate::yaml::words::words;

/// One point of a fan's curve: `[40 cfm, 3.1 in WC, 90 W]`. The power may be left out.
#[derive(Clone, PartialEq, Debug)]
pub struct CurvePoint {
    /// Where it stands.
    pub here: Here,
    /// The air it moves.
    pub flow: Entry<Measure<Flow>>,
    /// Against this pressure.
    pub pressure: Entry<Measure<Pressure>>,
    /// With this electric power.
    pub power: Entry<Measure<Power>>,
}

fn nth<T: Reads>(
    reader: &mut Reader<'_>,
    list: &[NodeId],
    at: usize,
    key: &'static str,
    here: &Here,
) -> Entry<T> {
    match list.get(at) {
        Some(node) => {
            let state = reader.state(*node, &here.path.key(key));
            Entry { key, state, at: reader.span(*node), whole: true }
        }
        None => Entry::missing(key, here.at),
    }
}

impl Same for CurvePoint {
    fn same(&self, other: &Self) -> bool {
        self.flow.same(&other.flow) && self.pressure.same(&other.pressure) && self.power.same(&other.power)
    }
}

impl Reads for CurvePoint {
    fn read(reader: &mut Reader<'_>, node: NodeId, path: &EntryPath) -> Option<Self> {
        let tree = reader.tree();
        let list = match &tree.node(node)?.kind {
            NodeKind::List(list) if list.len() == 2 || list.len() == 3 => list,
            _ => return None,
        };
        let here = Here { at: reader.span(node), path: path.clone() };
        let flow = nth(reader, list, 0, "[0]", &here);
        let pressure = nth(reader, list, 1, "[1]", &here);
        let power = nth(reader, list, 2, "[2]", &here);
        Some(CurvePoint { here, flow, pressure, power })
    }

    fn schema(defs: &mut Schemas) -> Value {
        let kinds = [
            Measure::<Flow>::schema(defs),
            Measure::<Pressure>::schema(defs),
            Measure::<Power>::schema(defs),
        ];
        defs.refer::<CurvePoint>("curve_point", |defs| {
            let items: Vec<Value> = kinds.into_iter().map(|kind| or_not_known(defs, kind)).collect();
            json!({
                "description": "One point of the curve as [air, pressure, electric power]: [40 cfm, 3.1 in WC, 90 W]. The power may be left out.",
                "type": "array",
                "prefixItems": items,
                "minItems": 2,
                "maxItems": 3,
            })
        })
    }

    fn walk(&self, meet: &mut dyn FnMut(Met)) {
        walk_entry(&self.flow, &self.here, meet);
        walk_entry(&self.pressure, &self.here, meet);
        walk_entry(&self.power, &self.here, meet);
    }
}

words! {
    /// Which way the air goes through the fan.
    pub enum Axis = "axis of the fan" {
        /// straight up, so that water runs through
        Vertical = "vertical",
        /// level
        Horizontal = "horizontal",
        /// between the two
        Sloped = "sloped",
    }
}

words! {
    /// How a fan is carried.
    pub enum Mount = "mount of the fan" {
        /// by the pipe on both sides
        OnPipe = "on the pipe",
        /// by a bracket on the building
        Bracket = "bracket",
        /// hung from framing
        Hung = "hung",
        /// standing on a pad
        Pad = "pad",
    }
}

record! {
    /// A box, closet or shaft that closes the fan in.
    pub struct Enclosure {
        /// Whether it is sealed against the rooms round it.
        sealed: bool = "sealed",
        /// Whether rain stays out of it.
        weatherproof: bool = "weatherproof",
        /// The net free area of its opening to the open air: `30 sq in`; the word `none` without one.
        vent_area: Measure<Area> = "vent_area",
        /// Whether one can get into it.
        reachable: bool = "reachable",
    }
}

record! {
    /// The fan.
    /// For instance: `{axis: vertical, in_well: no}`.
    pub struct Fan {
        /// A fan of the shop file, by name. What is written here as well lies over it.
        model: Text = "model",
        /// The middle of the fan: `[30 ft, 14 ft, 18 ft 6 in]`, or by tape.
        at: Place = "at",
        /// The space it stands in, or the word `outdoors`.
        space: NameOf<SpaceOrOutdoors> = "in",
        /// Whether it stands in a window well or egress well.
        in_well: bool = "in_well",
        /// Which way the air goes through it: `vertical`.
        axis: Axis = "axis",
        /// Its curve from the maker's sheet, from no air to most air: `[[0 cfm, 4.2 in WC, 95 W], [140 cfm, 0
        /// in WC, 70 W]]`.
        curve: ListOf<CurvePoint> = "curve",
        /// The density of air for which the curve holds: `1.2 kg/m3`.
        curve_density: Measure<Density> = "curve_density",
        /// The sheet from which the curve was taken.
        curve_from: Text = "curve_from",
        /// The most suction it can pull, with no air moving: `4.2 in WC`. When it is not said, the curve
        /// tells.
        shut_off: Measure<Pressure> = "shut_off",
        /// Its electric power at most: `95 W`.
        power: Measure<Power> = "power",
        /// Its electric current at most: `0.9 A`.
        current: Measure<Current> = "current",
        /// The voltage it is made for: `120 V`.
        voltage: Measure<Voltage> = "voltage",
        /// How loud it is at one metre: `45 dB`.
        loudness: Measure<Loudness> = "loudness",
        /// The trade size of pipe that fits its inlet.
        inlet: PipeSize = "inlet",
        /// The trade size of pipe that fits its outlet.
        outlet: PipeSize = "outlet",
        /// Whether its housing is sealed so that soil gas does not leak out.
        sealed_housing: bool = "sealed_housing",
        /// Whether it is made to run without pause.
        continuous: bool = "continuous",
        /// Whether a switch in it that cuts out when it grows hot lets it start again by itself.
        overload_resets: bool = "overload_resets",
        /// Whether it is listed for radon work or for moving damp air.
        listed: bool = "listed",
        /// Whether it may stand in the rain, or a cover keeps rain off.
        weatherproof: bool = "weatherproof",
        /// How it is carried.
        mount: Mount = "mount",
        /// Whether couplings keep its shaking from the pipe and building.
        isolated: bool = "isolated",
        /// Whether it can be taken out without cutting pipe.
        removable: bool = "removable",
        /// How it is coupled to the pipe.
        couplings: FittingKind = "couplings",
        /// Whether water is led round it.
        condensate_bypass: bool = "condensate_bypass",
        /// The clear height round it: `48 in`.
        clear_height: Measure<Length> = "clear_height",
        /// The clear width round it: `21 in`.
        clear_width: Measure<Length> = "clear_width",
        /// Whether one can get to it to service it.
        reachable: bool = "reachable",
        /// Whether its speed can be set, and to what it is set.
        speed: Text = "speed",
        /// Its serial number.
        serial: Text = "serial",
        /// The day it was made or bought: `2026-05-14`.
        bought: Date = "bought",
        /// Whether it is running.
        running: bool = "running",
        /// The box, closet or shaft that closes it in; the word `none` for one that stands free.
        enclosure: Enclosure = "enclosure",
        /// For one in a closed box or room: the space that its leaks go to, or the word `outdoors`.
        leaks_to: NameOf<SpaceOrOutdoors> = "leaks_to",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

words! {
    /// Which way the gas leaves.
    pub enum Direction = "direction of the discharge" {
        /// straight up
        Up = "up",
        /// up at a slant
        SlantingUp = "slanting up",
        /// level
        Level = "level",
        /// down at a slant or straight down
        Down = "down",
    }
}

words! {
    /// What covers an outlet.
    pub enum Cap = "cap of the discharge" {
        /// a cap that turns the gas aside or down
        RainCap = "rain cap",
        /// a cap that lets the gas go straight up
        UpwardCap = "upward cap",
        /// a flap that the air lifts
        Flapper = "flapper",
        /// a bend that turns the gas aside
        Elbow = "elbow",
    }
}

record! {
    /// A screen over an outlet. Its mesh alone will do: `1/2 in`.
    pub struct Screen, short mesh {
        /// The clear width of its mesh: `1/2 in`.
        mesh: Measure<Length> = "mesh",
        /// What it is made of.
        material: Text = "material",
        /// Whether it can be taken off for cleaning.
        removable: bool = "removable",
    }
}

record! {
    /// What steadies the pipe near the outlet.
    pub struct DischargeSupport {
        /// What it is.
        kind: HangerKind = "kind",
        /// How far below the outlet it sits: `18 in`.
        below_outlet: Measure<Length> = "below_outlet",
        /// How far apart the supports of the outdoor pipe are: `8 ft`.
        spacing: Measure<Length> = "spacing",
    }
}

record! {
    /// The outlet where the soil gas leaves.
    /// For instance: `{above_roof: 22 in, direction: up}`.
    pub struct Discharge, alike (at height above_roof above_roof_edge above_ground) {
        /// The middle of the outlet: `[30 ft, 14 ft, 24 ft]`, or by tape. Not needed when the runs lead
        /// there.
        at: Place = "at",
        /// The height of the outlet: `{above_ground: 11 ft 10 in}`.
        height: Level = "height",
        /// How high the outlet stands above the roof surface, measured straight up from the surface at the
        /// uphill side
        /// of the pipe: `22 in`.
        above_roof: Measure<Length> = "above_roof",
        /// How high the outlet stands above the nearest edge of the roof: `4 ft`.
        above_roof_edge: Measure<Length> = "above_roof_edge",
        /// How high the outlet stands above the finished ground nearest to it: `21 ft`.
        above_ground: Measure<Length> = "above_ground",
        /// Level distance from the outlet to the nearest edge of the roof: `6 ft`.
        from_roof_edge: Measure<Length> = "from_roof_edge",
        /// Level distance from the outlet to the ridge: `10 ft`.
        from_ridge: Measure<Length> = "from_ridge",
        /// Level distance from the outlet to the nearest line of the property: `12 ft`.
        from_property_line: Measure<Length> = "from_property_line",
        /// Which way the gas leaves: `up`.
        direction: Direction = "direction",
        /// For an outlet that does not point up: the side toward which it points.
        toward: Side = "toward",
        /// The angle between the way the gas leaves and straight up: `20 deg`.
        slant: Measure<Angle> = "slant",
        /// Whether it comes out of a side wall and does not go up above the roof.
        through_side_wall: bool = "through_side_wall",
        /// The side of the building it is on.
        side: Side = "side",
        /// The outside diameter of the outlet: `4 1/2 in`. When it is not said, that of the last run.
        outside_diameter: Measure<Length> = "outside_diameter",
        /// What covers it; the word `none` for an open pipe.
        cap: Cap = "cap",
        /// The screen over it: `1/2 in`; the word `none` if it has none.
        screen: Screen = "screen",
        /// What steadies the pipe near it.
        support: DischargeSupport = "support",
        /// Whether what leaves strikes a soffit, wall or other surface.
        strikes: Text = "strikes",
        /// For an outlet below the roof: why.
        reason: Text = "reason",
        /// For an outlet below the roof: how it is shown that the gas does not come back in.
        test_plan: Text = "test_plan",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
