//! Lists of words that only facts speak of: what is worked out rather than written.

use crate::yaml::words::words;

words! {
    /// What drives a system.
    pub enum Operation = "what drives a system" {
        /// a fan drives it
        Active = "active",
        /// no fan drives it
        Passive = "passive",
    }
}

words! {
    /// Where the water of a drain loop goes.
    pub enum Outlet = "outlet of a drain loop" {
        /// it has no outlet
        None = "none",
        /// into a sump
        Sump = "sump",
        /// into the sewer or septic tank
        Sewer = "sewer",
        /// out at lower ground
        Daylight = "daylight",
        /// into the soil, a dry well or another loop
        Soakaway = "soakaway",
        /// to several places that are not alike
        Several = "several",
    }
}

words! {
    /// What a gauge or an alarm runs on.
    pub enum Power = "power of a gauge or alarm" {
        /// nothing
        None = "none",
        /// the house's wiring
        House = "house",
        /// a battery
        Battery = "battery",
        /// the house's wiring, with a battery behind it
        HouseAndBattery = "house and battery",
    }
}

words! {
    /// What came of a trial whether a flue still draws.
    pub enum Spillage = "outcome of a trial of a flue" {
        /// the gases went up the flue
        NoSpillage = "no spillage",
        /// they came into the room
        Spilled = "spilled",
        /// no trial was made
        NotDone = "not done",
    }
}
