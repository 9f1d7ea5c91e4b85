//! What takes water away under a floor: drains, drain loops, sumps.

use super::foundation::Area;
use super::membrane::ClosedBy;
use super::names::AreaOrSpace;
use super::pipe::PipeSize;
use super::place::{FromWalls, Level, Line, Place};
use crate::yaml::entry::{Named, OneOrList};
use crate::yaml::measure::{Length, Measure};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::words::words;

words! {
    /// What a drain is.
    pub enum DrainKind = "kind of drain" {
        /// a drain in the floor
        Floor = "floor drain",
        /// an open channel along the wall
        Channel = "channel drain",
        /// a drain in a window or areaway well
        Well = "well drain",
        /// the drain of an air conditioner or furnace
        Condensate = "condensate drain",
        /// the drain of a shower or laundry
        Plumbing = "plumbing drain",
        /// a drain of the roof
        Roof = "roof drain",
    }
}

words! {
    /// Where water goes.
    pub enum WaterGoes = "where water goes" {
        /// into a sump
        Sump = "sump",
        /// into the sewer or septic tank
        Sewer = "sewer",
        /// out at lower ground
        Daylight = "daylight",
        /// into the soil under the floor
        Soil = "soil",
        /// into a dry well
        DryWell = "dry well",
        /// into a drain loop
        DrainLoop = "drain loop",
        /// onto the ground outdoors
        Ground = "ground outdoors",
    }
}

words! {
    /// What keeps soil gas from coming up a drain.
    pub enum DrainGuard = "guard of a drain" {
        /// a water trap
        WaterTrap = "water trap",
        /// a trap that is filled by itself
        PrimedTrap = "primed trap",
        /// a device that lets water down and closes by itself
        OneWay = "one-way device",
        /// a gasketed plug
        Plug = "plug",
    }
}

record! {
    /// A drain.
    /// For instance: `{kind: floor drain, to: sump}`.
    pub struct Drain = "drain" {
        /// What it is.
        kind: DrainKind = "kind",
        /// The area or space it is in.
        space: NameOf<AreaOrSpace> = "in",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
        /// Where its water goes.
        to: WaterGoes = "to",
        /// The sump it runs to, if it runs to one.
        sump: NameOf<Sump> = "sump",
        /// What keeps soil gas from coming up: the word `none` if nothing does.
        guard: DrainGuard = "guard",
        /// How deep the water of its trap stands: `2 in`.
        trap_depth: Measure<Length> = "trap_depth",
        /// Its trade size: `3 in`.
        size: PipeSize = "size",
        /// Whether its pipe is without holes all the way.
        solid_pipe: bool = "solid_pipe",
        /// Whether it still drains with the system built.
        still_drains: bool = "still_drains",
        /// Whether it was found in use.
        in_use: bool = "in_use",
    }
}

words! {
    /// On which side of the footing something runs.
    pub enum InOrOut = "side of the footing" {
        /// inside
        Inside = "inside",
        /// outside
        Outside = "outside",
    }
}

record! {
    /// Where a drain loop lets its water out.
    pub struct LoopOutlet = "outlet of a drain loop" {
        /// Where the water goes.
        to: WaterGoes = "to",
        /// The sump it runs to, if it runs to one.
        sump: NameOf<Sump> = "sump",
        /// What keeps air from being drawn in there: the word `none` if nothing does.
        guard: DrainGuard = "guard",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
    }
}

record! {
    /// A pipe with holes that runs along the footings and drains them.
    pub struct DrainLoop = "drain loop" {
        /// On which side of the footing it runs.
        side: InOrOut = "side",
        /// The areas it runs round.
        of: OneOrList<NameOf<Area>> = "of",
        /// Its trade size: `3 in`.
        size: PipeSize = "size",
        /// How long it is: `128 ft`.
        length: Measure<Length> = "length",
        /// Whether it closes on itself.
        closed: bool = "closed",
        /// Where it runs on the plan.
        line: Line = "line",
        /// How deep it lies below the top of the slab: `10 in`.
        depth: Measure<Length> = "depth",
        /// Its outlets, by name.
        outlets: Named<LoopOutlet> = "outlets",
    }
}

words! {
    /// What a sump pump is.
    pub enum PumpKind = "kind of pump" {
        /// the motor is under water
        Submersible = "submersible",
        /// the motor stands above the lid
        Pedestal = "pedestal",
    }
}

record! {
    /// The lid of a sump. The word `none` for an open sump.
    /// For instance: `{sealed: yes}`.
    pub struct Lid {
        /// The height of its top, to which a run goes `to lid`: `{above_floor: 1/2 in}`.
        top: Level = "top",
        /// What it is made of.
        material: Text = "material",
        /// Whether it is rigid and durable.
        rigid: bool = "rigid",
        /// Whether it is sealed airtight.
        sealed: bool = "sealed",
        /// What it is sealed with; the word `none` if with nothing.
        sealed_with: ClosedBy = "sealed_with",
        /// Whether it can be taken off without breaking the seal for good.
        removable: bool = "removable",
        /// Whether bolts or screws hold it.
        fastened: bool = "fastened",
        /// Whether one can see through it or through a window in it.
        view_port: bool = "view_port",
        /// Whether floor water can run in through a guarded inlet; the word `none` if there is no inlet.
        floor_inlet: DrainGuard = "floor_inlet",
        /// Whether cables and pipes through it are sealed.
        penetrations_sealed: bool = "penetrations_sealed",
    }
}

record! {
    /// A sump.
    /// For instance: `{lid: {sealed: yes}, still_pumps: yes}`.
    pub struct Sump = "sump" {
        /// The area or space it is in.
        space: NameOf<AreaOrSpace> = "in",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
        /// Distances off the inner faces of two walls.
        from_walls: FromWalls = "from_walls",
        /// How wide it is: `18 in`.
        width: Measure<Length> = "width",
        /// How deep it is: `24 in`.
        depth: Measure<Length> = "depth",
        /// How deep the water stands in it at most: `8 in`.
        water: Measure<Length> = "water",
        /// Whether it is open to the soil or to a drain loop.
        open_to_soil: bool = "open_to_soil",
        /// Whether it also takes water from the floor.
        takes_floor_water: bool = "takes_floor_water",
        /// Whether the joint between its basin and the floor is closed.
        basin_sealed: bool = "basin_sealed",
        /// The lid on it.
        lid: Lid = "lid",
        /// Its pump: the word `none` if it has none.
        pump: PumpKind = "pump",
        /// Where the pumped water goes.
        pumps_to: WaterGoes = "pumps_to",
        /// Whether the pump's pipe has a valve that keeps water and air from coming back.
        check_valve: bool = "check_valve",
        /// Whether the pump's pipe is flexible.
        pump_pipe_flexible: bool = "pump_pipe_flexible",
        /// The trade size of the pump's pipe.
        pump_pipe: PipeSize = "pump_pipe",
        /// Whether the pump is a spare or has a battery.
        backup: bool = "backup",
        /// Whether it still pumps with the system built.
        still_pumps: bool = "still_pumps",
        /// Whether a flexible coupling lets the suction pipe be taken off.
        pipe_detachable: bool = "pipe_detachable",
    }
}
