//! The site: ground, climate, clocks; what was looked for; and what has to be known before a hole is drilled.

use super::place::{Line, Place};
use super::reach::Reach;
use crate::yaml::entry::{ListOf, Named};
use crate::yaml::measure::{
    Altitude, Concentration, DegreeDays, Height, Length, Measure, PriceOfEnergy, Share, Temperature,
};
use crate::yaml::name::Text;
use crate::yaml::record::record;
use crate::yaml::shape::PlanPoint;
use crate::yaml::time::{Date, Zone};
use crate::yaml::words::{Count, words};

record! {
    /// Finished ground at one place. A height alone will do: `6 ft 6 in`.
    pub struct Ground = "ground", short height {
        /// The height of the finished ground above the origin: `6 ft 6 in`.
        height: Measure<Height> = "height",
        /// The outline of this stretch of ground on the plan.
        outline: ListOf<PlanPoint> = "outline",
        /// A place on it.
        at: Place = "at",
        /// What it is: `lawn by the patio door`.
        what: Text = "what",
    }
}

words! {
    /// How dry or damp the climate is.
    pub enum Moisture = "moisture of the climate" {
        /// rain and mist keep the air damp most of the year
        Humid = "humid",
        /// neither damp nor dry
        Mixed = "mixed",
        /// dry most of the year
        Dry = "dry",
        /// damp and mild, by the sea
        Marine = "marine",
    }
}

record! {
    /// Where the building stands: clocks, ground and climate.
    pub struct Site {
        /// The time zone: `America/New_York`. Needed for every time written without an offset.
        zone: Zone = "zone",
        /// What the origin of all coordinates is, in words: x runs east, y north, z up from there.
        origin: Text = "origin",
        /// The height of the finished ground above the origin, by place: `{main: 0 ft}`. More places for
        /// a walk-out.
        ground: Named<Ground> = "ground",
        /// Height above the sea: `820 ft`.
        altitude: Measure<Altitude> = "altitude",
        /// The winter design temperature: `5 degF`.
        winter_design: Measure<Temperature> = "winter_design",
        /// The heating degree days of a year: `5200 F-days`.
        degree_days: Measure<DegreeDays> = "degree_days",
        /// The summer design temperature: `89 degF`.
        summer_design: Measure<Temperature> = "summer_design",
        /// The climate zone of the energy code, as it is named there: `5A`.
        climate_zone: Text = "climate_zone",
        /// How damp the climate is.
        moisture: Moisture = "moisture",
        /// How deep snow can lie: `18 in`.
        snow: Measure<Length> = "snow",
        /// How deep the ground freezes: `36 in`.
        frost: Measure<Length> = "frost",
        /// The height of the water table above the origin: `-3 ft`.
        water_table: Measure<Height> = "water_table",
        /// The radon zone of the map: 1, 2 or 3.
        radon_zone: Count = "radon_zone",
        /// The tier of the municipality, where the state puts its municipalities in tiers of radon: 1, 2 or 3.
        radon_tier: Count = "radon_tier",
        /// The mean radon level of the county, as the state gives it: `3.1 pCi/L`.
        county_mean: Measure<Concentration> = "county_mean",
        /// The share of homes there that are expected to lie above the action level: `12 %`.
        homes_above: Measure<Share> = "homes_above",
        /// Radon measured in the soil gas: `900 pCi/L`.
        soil_gas: Measure<Concentration> = "soil_gas",
        /// Relative humidity of the soil gas: `95 %`.
        soil_gas_humidity: Measure<Share> = "soil_gas_humidity",
        /// Temperature of the soil gas: `55 degF`.
        soil_gas_temperature: Measure<Temperature> = "soil_gas_temperature",
        /// The price of electricity: `$0.16/kWh`.
        electricity_price: Measure<PriceOfEnergy> = "electricity_price",
        /// Lines of the property, by name.
        property_lines: Named<Line> = "property_lines",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

record! {
    /// That somebody looked for all things of a sort: how far, who and when. With this the list counts as
    /// complete.
    /// For instance: `{within: whole building, by: J. Ames, on: 2026-05-14}`.
    pub struct Looked {
        /// How far it was looked: `20 ft of discharge`, `40 ft of building`, or `whole building`. What is not listed
        /// then lies farther off, and nothing else is known of it. Needed for whatever is seen from the discharge;
        /// for what is in the building the whole of it counts. Measured like the distance of the things themselves:
        /// straight for openings and the like, level for walls and for places where people stand. The building has
        /// the pipe and all else that is fastened to it.
        within: Reach = "within",
        /// Who looked: `J. Ames`.
        by: Text = "by",
        /// The day it was looked: `2026-05-14`.
        on: Date = "on",
        /// What could not be reached or seen: `the north side`. While this says anything but `none`, the list does not
        /// count as complete.
        not_seen: Text = "not_seen",
    }
}

record! {
    /// What was looked for. What is not listed in this file was looked for there and is not there. Without it
    /// a list of
    /// what the building has may lack some.
    pub struct LookedFor {
        /// Windows, doors and other openings of the building.
        /// For instance: `{within: 20 ft of discharge, by: J. Ames, on: 2026-05-14}`.
        openings: Looked = "openings",
        /// Mechanical air intakes.
        intakes: Looked = "intakes",
        /// Chimneys, flues and other vents that end outdoors.
        chimneys: Looked = "chimneys",
        /// Appliances that burn fuel, fireplaces and unvented heaters included.
        appliances: Looked = "appliances",
        /// Neighbouring units and buildings, and their openings.
        /// For instance: `{within: 40 ft of building, by: J. Ames, on: 2026-05-14}`.
        neighbours: Looked = "neighbours",
        /// Decks, patios, walks, balconies and other places where people stand.
        /// For instance: `{within: 40 ft of building, by: J. Ames, on: 2026-05-14}`.
        walking_surfaces: Looked = "walking_surfaces",
        /// Solid things that stand about the discharge.
        /// For instance: `{within: 40 ft of discharge, by: J. Ames, on: 2026-05-14}`.
        obstacles: Looked = "obstacles",
        /// Walls and parapets that rise above the roof.
        walls_above: Looked = "walls_above",
        /// Spaces of the building.
        spaces: Looked = "spaces",
        /// Doors, hatches and other ways between spaces.
        passages: Looked = "passages",
        /// Fire-rated walls, floors and ceilings.
        fire_rated: Looked = "fire_rated",
        /// Areas of the foundation.
        areas: Looked = "areas",
        /// Footings and other things that divide the fill under the floor.
        footings: Looked = "footings",
        /// Foundation walls.
        walls: Looked = "walls",
        /// Drains in floors, wells and along walls.
        drains: Looked = "drains",
        /// Sumps and sump pits.
        sumps: Looked = "sumps",
        /// Cracks, joints and holes in floors and walls.
        joints: Looked = "joints",
        /// Ducts in or under the floor or in the crawlspace.
        ducts: Looked = "ducts",
        /// Fans, blowers and whatever else moves air, the system apart.
        air_movers: Looked = "air_movers",
    }
}

words! {
    /// What came of looking for asbestos.
    pub enum Asbestos = "asbestos" {
        /// a laboratory found none
        TestedClear = "tested clear",
        /// a laboratory found some
        Found = "found",
        /// no sample was taken
        NotTested = "not tested",
    }
}

record! {
    /// What has to be known before the first hole is drilled. An answer that is unknown stops the drill.
    pub struct BeforeDrilling {
        /// Who looked: `J. Ames`.
        by: Text = "by",
        /// The day it was looked: `2026-05-14`.
        on: Date = "on",
        /// Whether the slab is post-tensioned: cables under load that must not be cut.
        post_tension: bool = "post_tension",
        /// Whether there is heating tubing in the slab.
        radiant_tubing: bool = "radiant_tubing",
        /// Whether the utilities were marked by whoever is in charge of that.
        utilities_marked: bool = "utilities_marked",
        /// The number of the marking request.
        utilities_ticket: Text = "utilities_ticket",
        /// Whether pipes, cables or gas lines run in or under the floor where holes are planned.
        utilities_in_slab: bool = "utilities_in_slab",
        /// Whether air ducts run in or under the slab.
        ducts_in_slab: bool = "ducts_in_slab",
        /// Whether floor tile, mastic, pipe lagging or the like may hold asbestos.
        asbestos_suspected: bool = "asbestos_suspected",
        /// What came of testing for asbestos.
        asbestos: Asbestos = "asbestos",
        /// Whether there is vermiculite insulation where work is done.
        vermiculite: bool = "vermiculite",
        /// Whether paint that will be disturbed may hold lead.
        lead_paint_suspected: bool = "lead_paint_suspected",
        /// Whether there may be a buried tank.
        buried_tank: bool = "buried_tank",
        /// Whether a membrane under the slab keeps ground water or vapour out and has to be mended where it
        /// is cut.
        membrane_under_slab: bool = "membrane_under_slab",
        /// How the slab was scanned, if it was.
        scan: Text = "scan",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
