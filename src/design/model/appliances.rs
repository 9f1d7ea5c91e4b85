//! Appliances that burn fuel, and where their gases go.

use super::building::Space;
use super::place::{FromDischarge, Level, Place};
use crate::yaml::entry::{ListOf, OneOrList};
use crate::yaml::measure::{Area, Height, Length, Measure, Power};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::words::words;

words! {
    /// What an appliance is.
    pub enum ApplianceKind = "kind of appliance" {
        /// heats water for the taps
        WaterHeater = "water heater",
        /// heats the air of the house
        Furnace = "furnace",
        /// heats water for heating
        Boiler = "boiler",
        /// an open or closed fireplace
        Fireplace = "fireplace",
        /// a stove that heats a room
        Stove = "stove",
        /// a heater of a room without a flue
        SpaceHeater = "space heater",
        /// a cooking range
        Range = "range",
        /// a clothes dryer
        Dryer = "dryer",
        /// something else
        Other = "other",
    }
}

words! {
    /// What an appliance burns.
    pub enum Fuel = "fuel" {
        /// gas from the main
        Gas = "gas",
        /// gas from a tank
        Propane = "propane",
        /// heating oil
        Oil = "oil",
        /// wood
        Wood = "wood",
        /// pellets
        Pellets = "pellets",
        /// coal
        Coal = "coal",
        /// kerosene
        Kerosene = "kerosene",
        /// nothing: it is electric
        Electric = "electric",
    }
}

words! {
    /// How the gases of an appliance leave the house.
    pub enum Venting = "venting" {
        /// the warmth of the gases alone carries them up
        NaturalDraft = "natural draft",
        /// a fan helps the gases into a flue that still draws by itself
        FanAssisted = "fan-assisted",
        /// a fan pushes the gases out
        PowerVented = "power vented",
        /// air and gases both go through the wall or roof, closed against the room
        DirectVent = "direct vent",
        /// the gases stay in the room
        Unvented = "unvented",
        /// it makes no gases
        NotNeeded = "not needed",
    }
}

words! {
    /// Where an appliance gets its air.
    pub enum AirSource = "source of combustion air" {
        /// from the rooms of the house
        Indoor = "indoor",
        /// from outdoors by openings into the room
        OutdoorOpenings = "outdoor openings",
        /// from outdoors by a duct to the appliance
        Ducted = "ducted",
        /// from outdoors by a fan
        FanSupplied = "fan supplied",
    }
}

record! {
    /// An appliance that burns fuel, a fireplace or an unvented heater.
    /// For instance: `{kind: water heater, fuel: gas, venting: natural draft}`.
    pub struct Appliance = "appliance" {
        /// What it is; the name often tells.
        kind: ApplianceKind = "kind",
        /// What it burns.
        fuel: Fuel = "fuel",
        /// How its gases leave the house.
        venting: Venting = "venting",
        /// The space it is in.
        space: NameOf<Space> = "in",
        /// Its input: `38 kBtu/h`.
        input: Measure<Power> = "input",
        /// Where it gets its air.
        air_from: AirSource = "air_from",
        /// The net free area of openings that bring it air from other rooms or outdoors: `100 sq in`.
        air_openings: Measure<Area> = "air_openings",
        /// The chimney or vent it uses.
        flue: NameOf<Chimney> = "flue",
        /// The diameter of its vent pipe: `4 in`.
        vent_size: Measure<Length> = "vent_size",
        /// The height of its flue from draft hood to top: `18 ft`.
        flue_height: Measure<Height> = "flue_height",
        /// Whether it is in use.
        in_use: bool = "in_use",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

words! {
    /// What a chimney or vent is made of.
    pub enum ChimneyKind = "kind of chimney" {
        /// masonry
        Masonry = "masonry",
        /// a metal chimney from a factory
        Metal = "metal",
        /// a gas vent of double metal
        GasVent = "gas vent",
        /// a plastic vent
        Plastic = "plastic",
        /// the vent of the plumbing
        PlumbingVent = "plumbing vent",
    }
}

record! {
    /// A chimney, flue or other vent that ends outdoors.
    /// For instance: `{kind: masonry, serves: water_heater, top: 24 ft}`.
    pub struct Chimney = "chimney" {
        /// What it is made of or for.
        kind: ChimneyKind = "kind",
        /// The appliances that use it.
        serves: OneOrList<NameOf<Appliance>> = "serves",
        /// Where its top is.
        at: Place = "at",
        /// The height of its top: `{above_ground: 24 ft}`.
        top: Level = "top",
        /// How it lies as seen from the discharge.
        from_discharge: FromDischarge = "from_discharge",
        /// Whether it is lined.
        lined: bool = "lined",
        /// Whether it is in use.
        in_use: bool = "in_use",
        /// The spaces it passes.
        through: ListOf<NameOf<Space>> = "through",
    }
}
