//! Suction points of every kind.

use super::drainage::{DrainLoop, Sump};
use super::foundation::{Collector, FillKind, FoundationWall};
use super::membrane::ClosedBy;
use super::names::AreaOrSpace;
use super::pipe::PipeSize;
use super::place::{FromWalls, Place};
use crate::yaml::measure::{Area, Flow, Length, Measure, PitVolume, Pressure};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::words::{Count, words};

words! {
    /// What a suction point draws from.
    pub enum SuctionKind = "kind of suction point" {
        /// from under a slab
        Slab = "slab",
        /// from under a membrane
        Membrane = "membrane",
        /// through the lid of a sump
        Sump = "sump",
        /// from a drain loop
        DrainLoop = "drain loop",
        /// from the cores of a block wall
        BlockWall = "block wall",
        /// from the air of a closed crawlspace
        Crawlspace = "crawlspace",
        /// from a collector laid under a new floor
        Collector = "collector",
        /// from beside the house, through the soil outdoors
        Outdoors = "outdoors",
    }
}

words! {
    /// What part a suction point plays.
    pub enum Role = "part of a suction point" {
        /// it carries the area
        Primary = "primary",
        /// it helps where the other does not reach
        Secondary = "secondary",
    }
}

record! {
    /// The pit dug under a slab. Its volume alone will do: `12 gal`.
    pub struct Pit, short volume {
        /// How much was dug out: `12 gal`.
        volume: Measure<PitVolume> = "volume",
        /// How wide it is: `18 in`.
        width: Measure<Length> = "width",
        /// How deep it is, from the underside of the slab: `12 in`.
        depth: Measure<Length> = "depth",
        /// What it was filled with; the word `none` if it is hollow.
        filled_with: FillKind = "filled_with",
        /// How large the stones are that it was filled with: `1 in`.
        stone: Measure<Length> = "stone",
        /// How far the end of the pipe stays off its bottom: `6 in`.
        pipe_off_bottom: Measure<Length> = "pipe_off_bottom",
        /// Whether it stays clear of footings and of loads.
        clear_of_loads: bool = "clear_of_loads",
    }
}

record! {
    /// A hole cored through slab or wall. Its width alone will do: `5 in`.
    pub struct Hole, short width {
        /// How wide it is: `5 in`.
        width: Measure<Length> = "width",
        /// What the gap round the pipe is closed with; the word `none` if with nothing.
        closed_with: ClosedBy = "closed_with",
        /// Whether a backer was put in before the sealant.
        backer: bool = "backer",
        /// How wide the gap round the pipe is: `3/8 in`.
        gap: Measure<Length> = "gap",
        /// The class of movement of the sealant, as printed on it: `25`.
        sealant_class: Count = "sealant_class",
    }
}

words! {
    /// What a pipe ends in under a membrane or in a wall.
    pub enum InletKind = "kind of inlet" {
        /// pipe with holes
        PerforatedPipe = "perforated pipe",
        /// a flat mat
        Mat = "mat",
        /// a tee with open arms
        Tee = "tee",
        /// an open end
        OpenEnd = "open end",
        /// a box with openings
        Box = "box",
    }
}

record! {
    /// What the pipe ends in. A word alone will do: `perforated pipe`.
    pub struct Inlet, short kind {
        /// What it is.
        kind: InletKind = "kind",
        /// Its trade size: `3 in`.
        size: PipeSize = "size",
        /// Its length: `10 ft`.
        length: Measure<Length> = "length",
        /// The length of each arm of a tee: `5 ft`.
        arms: Measure<Length> = "arms",
        /// How many openings the fitting has: `3`.
        openings: Count = "openings",
        /// How many arms with holes lie level: `2`.
        arm_count: Count = "arm_count",
        /// The area of its openings: `30 sq in`.
        open_area: Measure<Area> = "open_area",
        /// Whether it is held so that nothing shifts it while concrete is poured.
        fastened: bool = "fastened",
    }
}

words! {
    /// What carries the weight of the pipe at a suction point.
    pub enum CarriedBy = "what carries the pipe" {
        /// hangers above
        Hangers = "hangers",
        /// a collar or clamp on the slab
        Slab = "slab",
        /// nothing but the seal
        Seal = "seal",
        /// the bottom of the pit
        PitBottom = "pit bottom",
    }
}

record! {
    /// A place where the system draws soil gas.
    /// For instance: `{kind: slab, from_walls: {north: 2 ft, east: 10 ft}}`.
    pub struct SuctionPoint = "suction point" {
        /// What it draws from: `slab`.
        kind: SuctionKind = "kind",
        /// The area or space it is in.
        space: NameOf<AreaOrSpace> = "in",
        /// Where it is, as a point or by tape.
        at: Place = "at",
        /// Distances off the inner faces of two walls of the area: `{north: 2 ft, east: 10 ft}`.
        from_walls: FromWalls = "from_walls",
        /// What part it plays.
        role: Role = "role",
        /// The pit dug under it; the word `none` if there is none.
        pit: Pit = "pit",
        /// Why no pit was dug.
        no_pit_because: Text = "no_pit_because",
        /// The hole through slab or wall.
        hole: Hole = "hole",
        /// Under a membrane: the length of pipe with holes: `10 ft`.
        perforated: Measure<Length> = "perforated",
        /// What the pipe ends in.
        inlet: Inlet = "inlet",
        /// The sump it draws from.
        sump: NameOf<Sump> = "sump",
        /// The drain loop it draws from.
        drain_loop: NameOf<DrainLoop> = "drain_loop",
        /// The block wall it draws from.
        wall: NameOf<FoundationWall> = "wall",
        /// In a block wall: the height above the floor: `8 in`.
        above_floor: Measure<Length> = "above_floor",
        /// In a block wall: how many holes were drilled.
        holes: Count = "holes",
        /// The collector it draws from.
        collector: NameOf<Collector> = "collector",
        /// Whether water can still drain past it.
        water_still_drains: bool = "water_still_drains",
        /// What the pipe is sealed to slab, membrane, lid or wall with; the word `none` if with nothing.
        sealed_with: ClosedBy = "sealed_with",
        /// Whether it can be taken off, as at a sump lid.
        detachable: bool = "detachable",
        /// What carries the weight of the pipe there.
        carried_by: CarriedBy = "carried_by",
        /// The air it is designed to draw: `25 cfm`.
        flow: Measure<Flow> = "flow",
        /// The suction it is designed to have: `0.8 in WC`.
        suction: Measure<Pressure> = "suction",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
