//! Radon tests of air and water.

use super::building::Space;
use super::place::Place;
use crate::yaml::entry::ListOf;
use crate::yaml::measure::{Concentration, DecayEnergy, Duration, Length, Measure, Share, Temperature};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::time::{Date, Moment};
use crate::yaml::words::words;

words! {
    /// What was tested.
    pub enum TestOf = "what was tested" {
        /// the air of a room
        Air = "air",
        /// water from the tap
        Water = "water",
        /// chemical vapours in the air of a room
        Vapours = "chemical vapours",
    }
}

words! {
    /// Why a test was made.
    pub enum TestWhen = "occasion of a test" {
        /// before the work
        Before = "before",
        /// after the work, to show that it works
        After = "after",
        /// again, after some years
        Retest = "retest",
        /// for the sale of the house
        Sale = "sale",
    }
}

words! {
    /// What a device is.
    pub enum DeviceKind = "kind of device" {
        /// a charcoal canister
        Charcoal = "charcoal",
        /// a charcoal vial counted in liquid
        ChargedLiquid = "liquid scintillation",
        /// an electret
        Electret = "electret",
        /// a track detector for months
        AlphaTrack = "alpha track",
        /// a monitor that logs every hour
        Continuous = "continuous monitor",
        /// a monitor of the owner's own
        OwnersMonitor = "owner's monitor",
        /// one sample of air
        Grab = "grab sample",
        /// a bottle of water
        WaterBottle = "water bottle",
    }
}

record! {
    /// Where a device stood, by tape.
    pub struct DevicePlace {
        /// Height above the floor: `3 ft`.
        above_floor: Measure<Length> = "above_floor",
        /// Distance below the ceiling: `4 ft`.
        below_ceiling: Measure<Length> = "below_ceiling",
        /// Distance from the nearest outer wall: `2 ft`.
        from_outer_wall: Measure<Length> = "from_outer_wall",
        /// Distance from the nearest window, door or other opening to the outdoors: `4 ft`; the word `none` for a room
        /// without one.
        from_openings: Measure<Length> = "from_openings",
        /// Distance from the nearest grille or duct of the heating and cooling: `5 ft`; the word `none` for a room without
        /// one.
        from_ducts: Measure<Length> = "from_ducts",
        /// Distance from the nearest heater, fireplace or other source of heat: `6 ft`; the word `none` for a room without
        /// one.
        from_heat: Measure<Length> = "from_heat",
        /// Distance from the nearest sump: `9 ft`; the word `none` for a room without one.
        from_sump: Measure<Length> = "from_sump",
        /// Distance from the nearest washer or dryer: `12 ft`; the word `none` for a room without one.
        from_washer: Measure<Length> = "from_washer",
        /// Distance from other things: `6 in`.
        from_objects: Measure<Length> = "from_objects",
        /// Distance from the next device: `5 in`.
        from_device: Measure<Length> = "from_device",
        /// Whether drafts, heat, sun or damp reached it.
        disturbed: bool = "disturbed",
    }
}

record! {
    /// A radon test.
    pub struct RadonTest = "radon test" {
        /// What was tested: `air`, `water` or `chemical vapours`.
        of: TestOf = "of",
        /// Why it was made: `before`, `after`, `retest`.
        when: TestWhen = "when",
        /// What the device is.
        device: DeviceKind = "device",
        /// The product and serial number.
        device_id: Text = "device_id",
        /// Whether the device is listed by the programme that applies.
        listed: bool = "listed",
        /// The space it stood in.
        space: NameOf<Space> = "in",
        /// Where it stood, by tape: `{above_floor: 3 ft, from_outer_wall: 2 ft}`.
        place: DevicePlace = "place",
        /// Where it stood, as a point or by distances off walls.
        at: Place = "at",
        /// The name of the spot, the same for tests that are compared: `B1`.
        spot: Text = "spot",
        /// When it began: `2026-06-01 09:00`.
        start: Moment = "start",
        /// When it ended: `2026-06-01 14:30`.
        stop: Moment = "stop",
        /// Since when doors and windows were kept shut: `2026-06-01 14:30`.
        closed_since: Moment = "closed_since",
        /// Whether they were kept shut to the end.
        kept_closed: bool = "kept_closed",
        /// Whether the fan of the system ran all the time.
        fan_on: bool = "fan_on",
        /// The result: `1.8 pCi/L`; the average if hours were logged.
        result: Measure<Concentration> = "result",
        /// The result as decay products: `0.02 WL`.
        decay_products: Measure<DecayEnergy> = "decay_products",
        /// The result of every hour, in order.
        hours: ListOf<Measure<Concentration>> = "hours",
        /// How much at its beginning was left out of the average: `4 h`; the word `none` if nothing was.
        left_out: Measure<Duration> = "left_out",
        /// Whether other hours than those at its beginning were left out too.
        others_left_out: bool = "others_left_out",
        /// The temperature that the house was kept at: `68 degF`.
        indoors: Measure<Temperature> = "indoors",
        /// The share of radon in equilibrium with its products: `40 %`.
        equilibrium: Measure<Share> = "equilibrium",
        /// The test that stood beside it, to check it, and with which it is averaged; the word `none` if there was none.
        beside: NameOf<RadonTest> = "beside",
        /// Who placed it.
        by: Text = "by",
        /// The certificate number of whoever placed it; the word `none` for somebody without one.
        licence: Text = "licence",
        /// Whether whoever placed it is independent of whoever installed the system.
        independent: bool = "independent",
        /// The laboratory that counted it.
        laboratory: Text = "laboratory",
        /// The day the laboratory counted it: `2026-05-14`.
        counted: Date = "counted",
        /// The day the result was told to the owner: `2026-05-14`.
        told: Date = "told",
        /// Whether somebody tampered with it.
        tampered: bool = "tampered",
        /// Storms, wind and the like.
        weather: Text = "weather",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
