//! Gauge, alarm and labels: how people know that a system runs.

use super::building::Space;
use super::names::{PipePlace, SpaceOrOutdoors};
use super::place::Place;
use crate::yaml::entry::{ListOf, OneOrList};
use crate::yaml::measure::{Length, Loudness, Measure, Pressure};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::time::Date;
use crate::yaml::words::{Count, words};

words! {
    /// What a gauge is.
    pub enum GaugeKind = "kind of gauge" {
        /// a bent tube with coloured fluid
        UTube = "U-tube manometer",
        /// a dial
        Dial = "dial gauge",
        /// an electronic display
        Digital = "digital gauge",
        /// a lamp that a pressure switch lights
        Lamp = "lamp",
        /// a ball or flap that floats in the air
        FlowIndicator = "flow indicator",
    }
}

record! {
    /// The gauge that shows whether the system pulls.
    /// For instance: `{kind: U-tube manometer, range: 5 in WC}`.
    pub struct Gauge {
        /// What it is.
        kind: GaugeKind = "kind",
        /// The space it is in.
        space: NameOf<Space> = "in",
        /// The most it can show: `5 in WC`.
        range: Measure<Pressure> = "range",
        /// The smallest step on its scale: `0.1 in WC`.
        step: Measure<Pressure> = "step",
        /// The run or suction point whose pressure it shows.
        tap: NameOf<PipePlace> = "tap",
        /// Whether people of the house see it where they come by.
        visible: bool = "visible",
        /// Whether it is guarded against knocks.
        protected: bool = "protected",
        /// Whether the reading at start-up is marked on it or beside it.
        marked: bool = "marked",
        /// The reading that is marked: `1.6 in WC`.
        mark: Measure<Pressure> = "mark",
        /// For a digital gauge or a lamp: what it runs on.
        power: AlarmPower = "power",
        /// For one that runs on a circuit: whether the circuit has no switch by which somebody could put it out.
        unswitched: bool = "unswitched",
        /// For one that runs on power: whether it comes back by itself after a power failure.
        resets: bool = "resets",
        /// For one that runs on a battery: whether it warns when the battery is low.
        low_battery_warning: bool = "low_battery_warning",
        /// Whether its tube is guarded against water standing in it.
        tube_drains: bool = "tube_drains",
        /// How high above the floor it is: `5 ft`.
        above_floor: Measure<Length> = "above_floor",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
    }
}

words! {
    /// How an alarm warns.
    pub enum Warns = "how an alarm warns" {
        /// by sound
        Audible = "audible",
        /// by light
        Visible = "visible",
        /// by message
        Message = "message",
    }
}

words! {
    /// What a gauge or an alarm runs on.
    pub enum AlarmPower = "what a gauge or alarm runs on" {
        /// a battery
        Battery = "battery",
        /// the fan's own circuit
        FanCircuit = "fan circuit",
        /// another circuit
        OtherCircuit = "other circuit",
        /// another circuit, with a battery behind it
        OtherCircuitAndBattery = "other circuit and battery",
    }
}

words! {
    /// What an alarm watches.
    pub enum Watches = "what an alarm watches" {
        /// the pressure in the pipe
        Pressure = "pressure",
        /// the air in the pipe
        Flow = "flow",
        /// the current of the fan
        Current = "current",
        /// radon in the room
        Radon = "radon",
    }
}

record! {
    /// The alarm that warns when the system stops pulling.
    /// For instance: `{watches: pressure, warns: audible}`.
    pub struct Alarm {
        /// How it warns.
        warns: OneOrList<Warns> = "warns",
        /// What it watches.
        watches: Watches = "watches",
        /// The space it is in.
        space: NameOf<Space> = "in",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
        /// What it runs on.
        power: AlarmPower = "power",
        /// Whether its circuit has no switch by which somebody could silence it.
        unswitched: bool = "unswitched",
        /// Whether people of the house see or hear it where they live.
        visible: bool = "visible",
        /// How loud it is where it should be heard: `65 dB`.
        loudness: Measure<Loudness> = "loudness",
        /// Whether it is guarded against knocks.
        protected: bool = "protected",
        /// Whether what it showed at start-up is marked on it or beside it.
        marked: bool = "marked",
        /// Whether it comes back by itself after a power failure.
        resets: bool = "resets",
        /// Whether it warns when its battery is low.
        low_battery_warning: bool = "low_battery_warning",
        /// The pressure at which it warns: `0.3 in WC`.
        set_to: Measure<Pressure> = "set_to",
        /// The run or suction point whose pressure it watches.
        tap: NameOf<PipePlace> = "tap",
    }
}

words! {
    /// What a label is on.
    pub enum LabelOn = "what a label is on" {
        /// the system as a whole, at a place easily seen
        System = "system",
        /// a pipe
        Pipe = "pipe",
        /// the fan
        Fan = "fan",
        /// the disconnect of the fan
        Disconnect = "disconnect",
        /// the electrical panel
        Panel = "panel",
        /// the lid of a sump
        SumpLid = "sump lid",
        /// a membrane
        Membrane = "membrane",
        /// the gauge
        Gauge = "gauge",
        /// the alarm
        Alarm = "alarm",
        /// a valve
        Valve = "valve",
        /// near the outlet
        Discharge = "discharge",
        /// a door or hatch to a crawlspace
        CrawlAccess = "crawl access",
        /// a vent that must stay as it is
        Vent = "vent",
        /// a pipe roughed in
        RoughIn = "rough-in",
        /// a tag given out by the state
        StateTag = "state tag",
    }
}

words! {
    /// What a label tells.
    pub enum LabelSays = "what a label says" {
        /// that it is a radon or soil gas system
        WhatItIs = "what it is",
        /// the day of installation
        InstallDate = "installation date",
        /// who installed it
        Installer = "installer",
        /// the installer's licence or certificate number
        Licence = "licence number",
        /// a telephone number
        Phone = "phone",
        /// an address
        Address = "address",
        /// that the house should be tested again, and how often
        RetestAdvice = "retest advice",
        /// the gauge reading at start-up
        StartReading = "start-up reading",
        /// what the gauge or alarm shows when all is well
        WhatGaugeShows = "what the gauge shows",
        /// what to do when the gauge reads wrong
        WhatToDo = "what to do",
        /// who answers for the system
        Responsible = "responsible party",
        /// the number of the circuit
        Circuit = "circuit",
        /// do not switch off or take away
        DoNotDisturb = "do not disturb",
        /// which way the air goes
        FlowDirection = "flow direction",
        /// the kind of system
        SystemKind = "kind of system",
        /// for a temporary system: the day by which it is replaced
        ReplacementDate = "replacement date",
        /// a number given by the state
        StateNumber = "state number",
        /// the state office to call
        StateOffice = "state office",
        /// where the state and the nation tell people of radon
        Information = "where to learn more",
    }
}

record! {
    /// A label.
    /// For instance: `{on: pipe, says: [what it is]}`.
    pub struct Label = "label" {
        /// What it is on.
        on: LabelOn = "on",
        /// The run or suction point it is on, if it is on one.
        of: NameOf<PipePlace> = "of",
        /// The space it is in, or the word `outdoors`.
        space: NameOf<SpaceOrOutdoors> = "in",
        /// The story it is on.
        story: Count = "story",
        /// The words on it.
        text: Text = "text",
        /// What it tells: `[what it is, installer, phone]`.
        says: ListOf<LabelSays> = "says",
        /// The height of its letters: `1/4 in`.
        letters: Measure<Length> = "letters",
        /// How far off it can still be read: `3 ft`.
        legible_from: Measure<Length> = "legible_from",
        /// For labels repeated along a pipe: the distance from one to the next: `4 ft`.
        spacing: Measure<Length> = "spacing",
        /// How many there are of it.
        count: Count = "count",
        /// For labels repeated along a pipe: whether there is one at each change of direction as well.
        at_turns: bool = "at_turns",
        /// How far from the gauge it is: `6 in`.
        from_gauge: Measure<Length> = "from_gauge",
        /// How far from the electrical panel it is: `10 in`.
        from_panel: Measure<Length> = "from_panel",
        /// Whether it is seen without moving or opening anything.
        in_plain_sight: bool = "in_plain_sight",
        /// Whether its letters stand out in colour from what is behind them.
        stands_out: bool = "stands_out",
        /// The number on it, for a tag given out by the state.
        number: Text = "number",
        /// The day it was put up: `2026-05-14`.
        on_day: Date = "put_up",
        /// Whether it stands up to weather and wear.
        durable: bool = "durable",
        /// Whether it is put up already.
        in_place: bool = "in_place",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
    }
}
