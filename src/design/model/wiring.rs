//! The wiring of fan and alarm.

use super::job::Person;
use super::names::SpaceOrOutdoors;
use super::place::Place;
use crate::yaml::entry::{ListOf, Named};
use crate::yaml::measure::{Current, Length, Measure, Power, Voltage};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::words::words;

words! {
    /// The size of a wire. A word, not a length.
    pub ordered enum WireGauge = "wire gauge" {
        /// the thinnest for cords
        Awg18 = "18 AWG",
        /// for cords
        Awg16 = "16 AWG",
        /// for circuits of 15 amperes
        Awg14 = "14 AWG",
        /// for circuits of 20 amperes
        Awg12 = "12 AWG",
        /// for circuits of 30 amperes
        Awg10 = "10 AWG",
        /// for circuits of 40 amperes
        Awg8 = "8 AWG",
    }
}

words! {
    /// How wires are run.
    pub enum WiringMethod = "wiring method" {
        /// cable with a plastic sheath
        Cable = "cable",
        /// cable that may be buried
        BuriedCable = "buried cable",
        /// cable in metal armour
        ArmouredCable = "armoured cable",
        /// plastic conduit
        PlasticConduit = "plastic conduit",
        /// metal conduit
        MetalConduit = "metal conduit",
        /// flexible conduit that keeps water out
        LiquidtightConduit = "liquidtight conduit",
        /// a flexible cord
        Cord = "cord",
    }
}

words! {
    /// How the fan is connected.
    pub enum Connection = "connection of the fan" {
        /// wired without a plug
        HardWired = "hard-wired",
        /// by a cord with a plug
        CordAndPlug = "cord and plug",
    }
}

words! {
    /// What a disconnect is.
    pub enum DisconnectKind = "kind of disconnect" {
        /// a switch
        Switch = "switch",
        /// a plug that is pulled
        Plug = "plug",
        /// a breaker that can be locked open
        LockableBreaker = "lockable breaker",
        /// a breaker in the panel
        Breaker = "breaker",
    }
}

words! {
    /// What guards a circuit or receptacle against shock and fire.
    pub enum Guard = "guard of a circuit" {
        /// against current to ground
        GroundFault = "ground fault",
        /// against arcs
        ArcFault = "arc fault",
        /// against both
        Both = "ground fault and arc fault",
    }
}

words! {
    /// Whether a wire is one thread or several.
    pub enum Strand = "strands of a wire" {
        /// one thread
        Solid = "solid",
        /// several threads
        Stranded = "stranded",
    }
}

record! {
    /// The circuit.
    pub struct Circuit {
        /// The rating of its breaker: `15 A`.
        breaker: Measure<Current> = "breaker",
        /// Its voltage: `120 V`.
        voltage: Measure<Voltage> = "voltage",
        /// Its number in the panel.
        number: Text = "number",
        /// What else hangs on it, by name, each with its current: `{freezer: 2.4 A}`. The word `none` for
        /// nothing.
        other_loads: Named<Measure<Current>> = "other_loads",
        /// What guards it; the word `none` if nothing does.
        guard: Guard = "guard",
        /// The wire: `14 AWG`.
        wire: WireGauge = "wire",
        /// Whether the wire is one thread or several: `solid`.
        strands: Strand = "strands",
        /// The length of wire from panel to fan: `60 ft`.
        length: Measure<Length> = "length",
        /// Whether the panel says what it feeds.
        panel_labelled: bool = "panel_labelled",
        /// Whether a grounding wire goes along.
        grounded: bool = "grounded",
    }
}

record! {
    /// The cord of a fan that has a plug. Its length alone will do: `5 ft`.
    pub struct Cord, short length {
        /// How long it is: `5 ft`.
        length: Measure<Length> = "length",
        /// Whether it goes through a wall, floor, ceiling, door or window.
        through_wall: bool = "through_wall",
        /// Whether it is hidden.
        hidden: bool = "hidden",
        /// Whether it is fastened along a surface.
        fastened: bool = "fastened",
        /// Whether it is made for where it is.
        rated_for_place: bool = "rated_for_place",
    }
}

record! {
    /// The receptacle.
    pub struct Receptacle {
        /// The space it is in, or the word `outdoors`.
        space: NameOf<SpaceOrOutdoors> = "in",
        /// How far from the fan it is: `4 ft`.
        from_fan: Measure<Length> = "from_fan",
        /// What guards it; the word `none` if nothing does.
        guard: Guard = "guard",
        /// Whether its cover keeps rain off with the plug in.
        cover_in_use: bool = "cover_in_use",
        /// Whether it can be reached without tools or ladder.
        reachable: bool = "reachable",
        /// Whether what guards it can be reached in the same way, to be tested and set again.
        guard_reachable: bool = "guard_reachable",
    }
}

record! {
    /// What cuts the fan off for service.
    pub struct Disconnect {
        /// What it is.
        kind: DisconnectKind = "kind",
        /// How far from the fan it is: `3 ft`.
        from_fan: Measure<Length> = "from_fan",
        /// Whether it is seen from the fan.
        in_sight: bool = "in_sight",
        /// Whether it can be locked open.
        lockable: bool = "lockable",
        /// Whether it may stand in the rain.
        weatherproof: bool = "weatherproof",
        /// The space it is in, or the word `outdoors`.
        space: NameOf<SpaceOrOutdoors> = "in",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
    }
}

record! {
    /// A lamp to work by at the fan.
    pub struct WorkLight {
        /// The space it is in, or the word `outdoors`.
        space: NameOf<SpaceOrOutdoors> = "in",
        /// Whether a switch turns it on.
        switched: bool = "switched",
        /// How far from the fan it is: `4 ft`.
        from_fan: Measure<Length> = "from_fan",
    }
}

record! {
    /// The wiring of fan and alarm. A licensed electrician and the local code have the last word.
    /// For instance: `{circuit: {breaker: 15 A}, connection: hard-wired}`.
    pub struct Wiring {
        /// How the fan is connected.
        connection: Connection = "connection",
        /// The circuit.
        circuit: Circuit = "circuit",
        /// How the wires are run.
        method: WiringMethod = "method",
        /// The cord of a fan that has a plug; the word `none` if there is none.
        cord: Cord = "cord",
        /// The receptacle.
        receptacle: Receptacle = "receptacle",
        /// The lamp to work by at the fan; the word `none` if there is none.
        light: WorkLight = "light",
        /// What cuts the fan off for service; the word `none` if nothing does.
        disconnect: Disconnect = "disconnect",
        /// The spaces that the wire passes, and the word `outdoors`.
        through: ListOf<NameOf<SpaceOrOutdoors>> = "through",
        /// Whether wire runs inside the vent pipe or a duct.
        in_pipe: bool = "in_pipe",
        /// How deep wire is buried outdoors: `18 in`. The word `none` if none is.
        burial: Measure<Length> = "burial",
        /// How the buried wire is run, if not as the rest: `buried cable`.
        buried_as: WiringMethod = "buried_as",
        /// Whether cars drive over the buried wire.
        under_drive: bool = "under_drive",
        /// The power of all that the wiring feeds, if it is more than the fan: `95 W`.
        load: Measure<Power> = "load",
        /// Who did it: `J. Ames`.
        by: Person = "by",
        /// The number of the electrical permit; the word `none` if none was needed.
        permit: Text = "permit",
        /// Whether the electrical work was inspected.
        inspected: bool = "inspected",
    }
}
