//! The foundation: areas, footings, walls, drains, sumps, joints, and what lies under the floor.

use super::building::Space;
use super::drainage::{Drain, DrainLoop, Sump};
use super::membrane::{ClosedBy, Membrane, Retarder};
use super::names::AreaOrSpace;
use super::pipe::{PipeSize, ShortPipe};
use super::place::{Level, Line, Place, Side};
use crate::yaml::entry::{ListOf, Named, OneOrList};
use crate::yaml::measure::{
    Area as AreaWanted, Height, Length, Measure, Pressure, PressureDifference, Share, Thickness, Volume,
};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::shape::{PlanPoint, Size};
use crate::yaml::words::{Count, words};

words! {
    /// What the floor of an area of the foundation is.
    pub enum AreaKind = "kind of area" {
        /// a concrete slab
        Slab = "slab",
        /// a crawlspace over soil
        Crawlspace = "crawlspace",
        /// a cellar floor of bare earth
        EarthFloor = "earth floor",
        /// a wooden floor laid over a slab or soil
        WoodFloor = "wood floor",
        /// the slab of a garage
        GarageSlab = "garage slab",
        /// a slab outdoors, against the house
        Porch = "porch slab",
        /// nothing: the house stands on piers in the open air
        Piers = "open piers",
    }
}

words! {
    /// What lies under a slab.
    pub enum FillKind = "material under the slab" {
        /// clean crushed stone or gravel
        Gravel = "gravel",
        /// coarse sand
        CoarseSand = "coarse sand",
        /// sand
        Sand = "sand",
        /// fine sand or silt
        Silt = "silt",
        /// clay
        Clay = "clay",
        /// soil as it was, mixed
        Soil = "soil",
        /// a mat made to let soil gas pass
        Mat = "mat",
        /// rock
        Rock = "rock",
    }
}

words! {
    /// What a small drill brought up from under the slab.
    pub enum Probe = "what the drill brought up" {
        /// a clean dry bit: usually gravel
        Clean = "clean",
        /// dust or dry sand
        Dusty = "dusty",
        /// damp soil
        Damp = "damp",
        /// mud on the bit: usually tight soil
        Mud = "mud",
        /// water
        Water = "water",
        /// a hollow under the slab
        Void = "void",
    }
}

words! {
    /// The trade number of crushed stone, which says how large it is.
    pub enum StoneNumber = "trade number of stone" {
        /// 1 1/2 to 3/4 in
        Four = "size 4",
        /// 1 to 1/2 in
        Five = "size 5",
        /// 1 to 3/8 in
        FiftySix = "size 56",
        /// 1 in to the smallest gravel
        FiftySeven = "size 57",
        /// 3/4 to 3/8 in
        Six = "size 6",
        /// 3/4 in to the smallest gravel
        SixtySeven = "size 67",
        /// 1/2 in to the smallest gravel
        Seven = "size 7",
        /// 3/8 in and smaller
        Eight = "size 8",
        /// any other
        Other = "another",
    }
}

record! {
    /// What lies under a slab, or on the soil under a membrane. A word alone will do: `gravel`.
    pub struct UnderSlab, short kind {
        /// What it is: `gravel`.
        kind: FillKind = "kind",
        /// How deep it is: `4 in`.
        depth: Measure<Length> = "depth",
        /// What a small drill brought up: `clean`.
        probe: Probe = "probe",
        /// The trade number of the stone: `size 57`.
        stone_number: StoneNumber = "stone_number",
        /// How large the stones are at most: `2 in`.
        largest: Measure<Length> = "largest",
        /// How large the stones are at least: `1/2 in`.
        smallest: Measure<Length> = "smallest",
        /// The share of it that is hollow: `40 %`.
        hollow: Measure<Share> = "hollow",
        /// Whether a filter fabric lies between it and the soil.
        fabric: bool = "fabric",
        /// Whether the slab has settled away from it.
        settled: bool = "settled",
        /// The sheet between it and the slab.
        sheet: Retarder = "sheet",
    }
}

words! {
    /// What gathers the soil gas under a new floor.
    pub enum CollectorKind = "kind of collector" {
        /// pipe with holes
        PerforatedPipe = "perforated pipe",
        /// a flat mat
        Mat = "mat",
        /// a channel formed under the slab
        Channel = "channel",
        /// a tee or box in the gravel
        Tee = "tee",
        /// a box with openings
        Box = "box",
    }
}

record! {
    /// What gathers the soil gas under a new floor or membrane.
    pub struct Collector = "collector" {
        /// What it is.
        kind: CollectorKind = "kind",
        /// Its trade size, for pipe.
        size: PipeSize = "size",
        /// How long it is altogether: `120 ft`.
        length: Measure<Length> = "length",
        /// The area of its section: `14 sq in`.
        section: Measure<AreaWanted> = "section",
        /// The area of all its openings: `60 sq in`.
        open_area: Measure<AreaWanted> = "open_area",
        /// How far it stays off the foundation wall: `2 ft`.
        off_wall: Measure<Length> = "off_wall",
        /// How deep it is covered: `2 in`.
        cover: Measure<Length> = "cover",
        /// The share of its round that lies in gravel: `100 %`.
        in_gravel: Measure<Share> = "in_gravel",
        /// Whether it runs all round and closes on itself.
        closed_loop: bool = "closed_loop",
        /// Whether its ends are closed.
        ends_closed: bool = "ends_closed",
        /// Where it runs on the plan.
        line: Line = "line",
        /// The areas it joins.
        joins: OneOrList<NameOf<Area>> = "joins",
    }
}

record! {
    /// An area where nothing may be put, as under heavy equipment.
    pub struct KeepClear = "place to keep clear", alike (size outline) {
        /// Why nothing may be put there.
        why: Text = "why",
        /// Its outline on the plan.
        outline: ListOf<PlanPoint> = "outline",
        /// Its size in plan: `20 ft x 14 ft`.
        size: Size = "size",
        /// The place of its middle, by tape or as [east, north, up] of the origin.
        at: Place = "at",
    }
}

record! {
    /// A part of the foundation that is one floor or one stretch of soil, as far as footings or walls cut it
    /// off.
    /// For instance: `{kind: slab, size: 40 ft x 24 ft}`.
    pub struct Area = "area", alike (size outline) {
        /// What its floor is: `slab`.
        kind: AreaKind = "kind",
        /// The space above it. When it is not said, the space of the same name.
        space: NameOf<Space> = "in",
        /// Its size in plan, inside the walls: `40 ft x 24 ft`, or `L of 40 ft x 24 ft and 16 ft x 20 ft`.
        size: Size = "size",
        /// Its outline on the plan, corner by corner, inside the walls.
        outline: ListOf<PlanPoint> = "outline",
        /// The south-west corner of its size on the plan; `[0 ft, 0 ft]` is the origin. What is taped off the walls of the
        /// area does without it as long as nothing beyond the area is asked.
        corner: PlanPoint = "corner",
        /// The height of the top of the slab: `{above_ground: -7 ft}`, negative where it lies below the ground.
        top: Level = "top",
        /// How thick the slab is: `4 in`.
        thickness: Measure<Thickness> = "thickness",
        /// What lies under the slab, or on the soil under a membrane.
        under_slab: UnderSlab = "under_slab",
        /// For a layer that is neither stone nor mat: whether it was shown to pass soil gas under the whole floor.
        layer_proven: bool = "layer_proven",
        /// For a crawlspace or earth floor: the height of the soil: `{above_ground: -3 ft}`, negative where it lies below the ground.
        soil: Level = "soil",
        /// What the soil is.
        soil_kind: FillKind = "soil_kind",
        /// Whether the soil is damp or wet.
        soil_damp: bool = "soil_damp",
        /// The area of soil that is bare: `200 sq ft`.
        bare_soil: Measure<AreaWanted> = "bare_soil",
        /// The membrane over the soil.
        membrane: Membrane = "membrane",
        /// Whether somebody can reach all of it to work there.
        reachable: bool = "reachable",
        /// How many piers stand in it.
        piers: Count = "piers",
        /// The area the piers take up altogether: `12 sq ft`.
        pier_area: Measure<AreaWanted> = "pier_area",
        /// What gathers the soil gas, by name.
        collectors: Named<Collector> = "collectors",
        /// The suction that is wanted everywhere under it: `4 Pa`.
        wanted_suction: Measure<Pressure> = "wanted_suction",
        /// The areas with which its fill is joined, past or through the footing.
        joined_with: OneOrList<NameOf<Area>> = "joined_with",
        /// Whether the building official accepts that it is drawn on by way of another area with which it is joined.
        joining_accepted: bool = "joining_accepted",
        /// Places where nothing may be put, by name.
        keep_clear: Named<KeepClear> = "keep_clear",
        /// Whether its floor is heated by tubing or cable.
        heated: bool = "heated",
        /// Whether floor tile, mastic or the like on it may hold asbestos.
        asbestos_suspected: bool = "asbestos_suspected",
        /// Whether heavy things are stored or cars stand on it.
        traffic: bool = "traffic",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

words! {
    /// What a footing carries.
    pub enum FootingKind = "kind of footing" {
        /// an outer wall
        Outer = "outer",
        /// an inner bearing wall
        Inner = "inner",
        /// a beam poured with the slab
        GradeBeam = "grade beam",
        /// a thickened part of the slab
        Thickened = "thickened slab",
        /// a single column
        Pad = "pad",
    }
}

record! {
    /// A footing or beam that divides the fill under the floor.
    pub struct Footing = "footing" {
        /// What it carries.
        kind: FootingKind = "kind",
        /// Where it runs on the plan.
        line: Line = "line",
        /// Where a gap in it lets soil gas pass, on the plan: `[[12 ft, 10 ft], [15 ft, 10 ft]]`.
        opening: Line = "opening",
        /// The areas it divides.
        divides: ListOf<NameOf<Area>> = "divides",
        /// How deep it reaches below the slab: `12 in`.
        depth: Measure<Length> = "depth",
        /// Whether soil gas can pass through or under it.
        passes_gas: bool = "passes_gas",
    }
}

words! {
    /// What a foundation wall is made of.
    pub enum WallKind = "kind of foundation wall" {
        /// poured concrete
        Poured = "poured concrete",
        /// hollow block
        Block = "hollow block",
        /// block filled with grout
        FilledBlock = "filled block",
        /// stone laid up
        Stone = "stone",
        /// brick
        Brick = "brick",
        /// treated wood
        Wood = "wood",
        /// concrete in foam forms
        FoamForm = "foam form",
        /// concrete panels from a factory
        Panel = "panel",
    }
}

words! {
    /// How the top of a hollow wall is closed.
    pub enum TopCourse = "top of a hollow wall" {
        /// it is open
        Open = "open",
        /// a course of solid block
        Solid = "solid block",
        /// the cores are filled with grout
        Grouted = "grouted",
        /// a sill plate lies over it
        SillPlate = "sill plate",
        /// foam or another sealant fills it
        Sealed = "sealed",
        /// a cap covers it
        Capped = "capped",
        /// a beam of concrete runs along it
        Beam = "concrete beam",
    }
}

record! {
    /// A foundation wall.
    pub struct FoundationWall = "wall" {
        /// What it is made of.
        kind: WallKind = "kind",
        /// The area or space it bounds.
        of: NameOf<AreaOrSpace> = "of",
        /// The side of it.
        side: Side = "side",
        /// Where it runs on the plan.
        line: Line = "line",
        /// How long it is: `40 ft`.
        length: Measure<Length> = "length",
        /// How high it is: `7 ft 4 in`.
        height: Measure<Height> = "height",
        /// How thick it is: `8 in`.
        thickness: Measure<Thickness> = "thickness",
        /// How its top is closed.
        top: TopCourse = "top",
        /// How the course under a ledge for brick is closed; the word `none` if there is no ledge.
        under_ledge: TopCourse = "under_ledge",
        /// Whether its top can be reached.
        top_reachable: bool = "top_reachable",
        /// The area of open cores and holes in it: `30 sq in`.
        holes: Measure<AreaWanted> = "holes",
        /// Whether its holes and cracks are closed.
        holes_closed: bool = "holes_closed",
        /// Whether its outer face is coated against damp.
        coated_outside: bool = "coated_outside",
        /// Whether its inner face is coated or covered.
        coated_inside: bool = "coated_inside",
        /// Whether it has a fireplace or chimney in it.
        has_chimney: bool = "has_chimney",
    }
}

words! {
    /// What an opening in floor or wall is.
    pub enum JointKind = "kind of joint" {
        /// where floor and wall meet
        FloorWall = "floor-wall joint",
        /// a joint cut or formed to steer cracks
        Control = "control joint",
        /// where two pours meet
        Cold = "cold joint",
        /// a crack
        Crack = "crack",
        /// an open channel between floor and wall
        Channel = "channel",
        /// round a pipe, cable or post
        Penetration = "penetration",
        /// a hole, as under a bath tub
        Hole = "hole",
        /// a hatch or access opening
        Access = "access opening",
    }
}

record! {
    /// A crack, joint or hole in floor or wall.
    pub struct Joint = "joint" {
        /// What it is.
        kind: JointKind = "kind",
        /// The area or space it is in.
        space: NameOf<AreaOrSpace> = "in",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
        /// Where it runs on the plan.
        line: Line = "line",
        /// How long it is: `64 ft`.
        length: Measure<Length> = "length",
        /// How wide it is: `1/4 in`.
        width: Measure<Length> = "width",
        /// How many there are of it.
        count: Count = "count",
        /// Whether it can be reached.
        reachable: bool = "reachable",
        /// Whether it is closed, or is to be.
        closed: bool = "closed",
        /// What it is closed with.
        closed_with: ClosedBy = "closed_with",
        /// Whether a backer was put in before the sealant.
        backer: bool = "backer",
        /// How deep the sealant or fill is: `1 in`.
        depth: Measure<Length> = "depth",
        /// How far its sealant can stretch, as a class of the standard for sealants: `25`.
        stretch_class: Count = "stretch_class",
        /// Whether a flue or hot pipe passes it.
        hot: bool = "hot",
        /// Whether it has to go on draining water.
        drains: bool = "drains",
        /// For one that cannot be closed: that the owner was told.
        owner_told: bool = "owner_told",
    }
}

words! {
    /// What a duct carries.
    pub enum DuctKind = "kind of duct" {
        /// air to the rooms
        Supply = "supply",
        /// air from the rooms
        Return = "return",
    }
}

record! {
    /// An air duct in or under the floor or in the crawlspace.
    pub struct Duct = "duct" {
        /// What it carries.
        kind: DuctKind = "kind",
        /// The area or space it is in.
        space: NameOf<AreaOrSpace> = "in",
        /// Whether it lies in soil or concrete.
        in_soil: bool = "in_soil",
        /// Whether it is made without joints, or its joints are sealed.
        sealed: bool = "sealed",
        /// Whether the air in it is always at a higher pressure than that of the soil.
        under_pressure: bool = "under_pressure",
        /// How long it is: `4 ft`.
        length: Measure<Length> = "length",
    }
}

record! {
    /// What is stated of the soil once for all areas.
    pub struct Soil, short kind {
        /// What it is.
        kind: FillKind = "kind",
        /// How readily air passes, in square metres, as text from a report: `2e-11 m2`.
        permeability: Text = "permeability",
        /// Whether it is damp.
        damp: bool = "damp",
    }
}

record! {
    /// The foundation.
    pub struct Foundation {
        /// Its areas, by name. Each part that a footing or wall cuts off is an area of its own.
        areas: Named<Area> = "areas",
        /// Footings and beams that divide the fill, by name.
        footings: Named<Footing> = "footings",
        /// Foundation walls, by name.
        walls: Named<FoundationWall> = "walls",
        /// Drains, by name.
        drains: Named<Drain> = "drains",
        /// Drain loops, by name.
        drain_loops: Named<DrainLoop> = "drain_loops",
        /// Sumps, by name.
        sumps: Named<Sump> = "sumps",
        /// Cracks, joints and holes, by name.
        joints: Named<Joint> = "joints",
        /// Ducts in or under the floor, by name.
        ducts: Named<Duct> = "ducts",
        /// The soil, said once for all areas.
        soil: Soil = "soil",
        /// A pipe roughed in for a later system.
        rough_in: ShortPipe = "rough_in",
        /// The volume of water pumped or drained on a wet day: `200 gal`.
        wet_day: Measure<Volume> = "wet_day",
        /// The difference of pressure between soil and house without a system: `-0.004 in WC`, negative where
        /// the house is lower.
        soil_to_house: Measure<PressureDifference> = "soil_to_house",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
