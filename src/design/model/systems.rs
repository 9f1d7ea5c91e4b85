//! The systems: fan, discharge, pipe, suction points, gauge, alarm, labels, wiring.

use super::controls::{Alarm, Gauge, Label};
use super::fan::{Discharge, Fan};
use super::foundation::Area;
use super::job::Person;
use super::pipe::{Pipe, Run};
use super::readings::CommunicationTest;
use super::suction::SuctionPoint;
use super::wiring::Wiring;
use crate::yaml::entry::{Named, OneOrList};
use crate::yaml::measure::{Flow, Measure, Pressure, Share, Speed};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::time::Date;
use crate::yaml::words::words;

words! {
    /// Whether a fan drives a system.
    pub enum SystemKind = "kind of system" {
        /// a fan drives it
        Active = "active",
        /// the warmth of the house alone drives it
        Passive = "passive",
        /// pipe for a later system; nothing drives it
        RoughIn = "rough-in",
    }
}

record! {
    /// What a system is designed to do.
    pub struct DesignPoint {
        /// The air that the fan moves: `60 cfm`.
        flow: Measure<Flow> = "flow",
        /// The share of that air which comes out of the house through cracks and joints: `30 %`.
        from_house: Measure<Share> = "from_house",
        /// The suction at the fan: `1.8 in WC`.
        suction: Measure<Pressure> = "suction",
        /// The suction wanted at the weakest place under the floor: `0.004 in WC`.
        field: Measure<Pressure> = "field",
        /// The fastest that the air is to go in any of its pipe: `1500 fpm`.
        air_speed: Measure<Speed> = "air_speed",
        /// The communication tests on which it rests; the word `none` if it rests on none.
        analysis: OneOrList<NameOf<CommunicationTest>> = "analysis",
        /// Whether the owner has in writing why the pipe has other sizes than usual.
        sizes_justified: bool = "sizes_justified",
        /// The certified mitigator who says how many stacks it takes and how large; the word `none` if nobody does.
        laid_out_by: Text = "laid_out_by",
    }
}

record! {
    /// A system: one fan or stack with its pipe and suction points.
    pub struct System = "system" {
        /// Whether a fan drives it: `active` or `passive`. When it is not said, a fan in the file says it is
        /// active.
        kind: SystemKind = "kind",
        /// The areas it serves, if not those of its suction points.
        serves: OneOrList<NameOf<Area>> = "serves",
        /// What it is designed to do.
        design_point: DesignPoint = "design_point",
        /// The fan that drives it.
        fan: Fan = "fan",
        /// Its discharge.
        discharge: Discharge = "discharge",
        /// What all its pipe is, unless a run says otherwise.
        pipe: Pipe = "pipe",
        /// Its runs of pipe, by name, outward from the fan. Complete as written.
        runs: Named<Run> = "runs",
        /// Its suction points, by name. Complete as written.
        suction_points: Named<SuctionPoint> = "suction_points",
        /// The gauge that shows whether it runs; the word `none` if it has none.
        gauge: Gauge = "gauge",
        /// The alarm that warns when it stops; the word `none` if it has none.
        alarm: Alarm = "alarm",
        /// Its labels, by name. Complete as written.
        labels: Named<Label> = "labels",
        /// Its wiring.
        wiring: Wiring = "wiring",
        /// The day it was installed: `2026-05-14`.
        installed: Date = "installed",
        /// Who installed it.
        installed_by: Person = "installed_by",
        /// The reason for anything about it that is out of the ordinary.
        reason: Text = "reason",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
