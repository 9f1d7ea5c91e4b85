//! The building above its foundation: spaces, roof, openings, neighbours, appliances.

use super::appliances::{Appliance, Chimney};
use super::openings::{Intake, Neighbour, Obstacle, Opening, WalkingSurface};
use super::place::{Level, Line, Place, Side};
use crate::yaml::entry::{ListOf, Named, OneOrList};
use crate::yaml::measure::{
    Area, Duration, Flow, Height, Insulation, Length, Measure, Plain, Power, Pressure, Share, Slope,
    Temperature, Volume,
};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::shape::{PlanPoint, Point, Size};
use crate::yaml::time::Date;
use crate::yaml::words::{Count, words};

words! {
    /// What the building is used as.
    pub enum BuildingUse = "use of the building" {
        /// a house for one family, standing alone
        OneFamily = "one-family",
        /// a house for two families
        TwoFamily = "two-family",
        /// a house in a row with walls in common
        Townhouse = "townhouse",
        /// a building of several flats
        Multifamily = "multifamily",
        /// a school or a building for children
        School = "school",
        /// offices, shops and the like
        Commercial = "commercial",
        /// a house brought in sections
        Manufactured = "manufactured",
        /// something else
        Other = "other",
    }
}

words! {
    /// What a space is.
    pub enum SpaceKind = "kind of space" {
        /// a room of the living floors
        Room = "room",
        /// a bedroom
        Bedroom = "bedroom",
        /// a bathroom
        Bathroom = "bathroom",
        /// a kitchen
        Kitchen = "kitchen",
        /// a closet
        Closet = "closet",
        /// a basement
        Basement = "basement",
        /// a crawlspace
        Crawlspace = "crawlspace",
        /// an attic
        Attic = "attic",
        /// a garage
        Garage = "garage",
        /// a room for equipment
        UtilityRoom = "utility room",
        /// a shaft or chase closed on all sides
        Chase = "chase",
        /// a porch or sunroom
        Porch = "porch",
        /// a stairwell or hall
        Hall = "hall",
        /// a room for washing clothes
        Laundry = "laundry room",
        /// something else
        Other = "other",
    }
}

words! {
    /// How a crawlspace or attic is aired.
    pub enum Airing = "how a space is aired" {
        /// openings to the open air
        Vented = "vented",
        /// closed against the open air
        Unvented = "unvented",
        /// a fan blows its air out of the building
        Exhausted = "exhausted",
        /// conditioned air is blown into it
        Supplied = "supplied",
        /// a dehumidifier keeps it dry
        Dehumidified = "dehumidified",
        /// the blower of the house draws or blows its air through it
        Plenum = "plenum",
    }
}

record! {
    /// A space of the building: a room, basement, crawlspace, attic, garage.
    /// For instance: `{kind: attic, conditioned: no, occupied: no, under: none}`.
    pub struct Space = "space", alike (size outline) {
        /// What it is: `crawlspace`.
        kind: SpaceKind = "kind",
        /// Whether it is heated or cooled, or inside the heated shell.
        conditioned: bool = "conditioned",
        /// Whether people can stay in it.
        occupied: bool = "occupied",
        /// Whether people do spend their time in it.
        lived_in: bool = "lived_in",
        /// Whether its floor lies below the finished ground.
        below_grade: bool = "below_grade",
        /// The spaces that lie right above it: `[kitchen, hall]`. The word `none` for nothing but the roof.
        under: OneOrList<NameOf<Space>> = "under",
        /// The spaces that lie right below it.
        above: OneOrList<NameOf<Space>> = "above",
        /// Spaces it is open to, without a door that shuts.
        open_to: OneOrList<NameOf<Space>> = "open_to",
        /// The story it is on: 1 for the ground floor, 0 for a basement or crawlspace.
        story: Count = "story",
        /// The dwelling it belongs to, where there are several.
        dwelling: Text = "dwelling",
        /// The height of its floor: `{above_ground: 1 ft}`, negative where it lies below the ground.
        floor: Level = "floor",
        /// The height of its ceiling, above its floor unless it says otherwise: `7 ft 6 in`.
        ceiling: Level = "ceiling",
        /// Its size in plan: `20 ft x 14 ft`.
        size: Size = "size",
        /// Its outline on the plan, corner by corner.
        outline: ListOf<PlanPoint> = "outline",
        /// Its floor area: `280 sq ft`.
        floor_area: Measure<Area> = "floor_area",
        /// Its volume: `2240 cu ft`.
        volume: Measure<Volume> = "volume",
        /// The headroom at the lowest place one has to pass: `30 in`.
        headroom: Measure<Length> = "headroom",
        /// How it is aired: `vented`.
        airing: Airing = "airing",
        /// The net free area of its vents to the open air: `6.4 sq ft`.
        vent_area: Measure<Area> = "vent_area",
        /// Whether its vents can be shut.
        vents_shut: bool = "vents_shut",
        /// How far the vent nearest to it is from that corner of the space which has the farthest to one: `3 ft`.
        corner_to_vent: Measure<Length> = "corner_to_vent",
        /// Whether its vents lie so that air blows across it.
        cross_aired: bool = "cross_aired",
        /// Whether it is aired so that radon goes down.
        aired_against_radon: bool = "aired_against_radon",
        /// The air a fan blows out of it or into it: `40 cfm`.
        airing_flow: Measure<Flow> = "airing_flow",
        /// The water a dehumidifier takes out of its air: `70 pt/day`.
        dries: Measure<Flow> = "dries",
        /// Whether its outer walls are insulated.
        walls_insulated: bool = "walls_insulated",
        /// Whether there is asbestos in it that crumbles.
        loose_asbestos: bool = "loose_asbestos",
        /// Whether its walls and ceiling are finished, so that what is behind is out of reach.
        finished: bool = "finished",
        /// The insulation between it and the outdoors: `R-19`.
        insulation: Measure<Insulation> = "insulation",
        /// Its temperature in winter: `40 degF`.
        winter_temperature: Measure<Temperature> = "winter_temperature",
        /// Its relative humidity in summer: `60 %`.
        humidity: Measure<Share> = "humidity",
        /// Whether water pipes in it can freeze when it is kept closed or drawn from.
        pipes_may_freeze: bool = "pipes_may_freeze",
        /// Whether a lamp lights it.
        lit: bool = "lit",
        /// Whether there is a receptacle in it for tools or a fan.
        receptacle: bool = "receptacle",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

words! {
    /// What a way between two spaces is.
    pub enum PassageKind = "kind of passage" {
        /// a door
        Door = "door",
        /// a hatch or trapdoor
        Hatch = "hatch",
        /// an opening without a door
        Opening = "opening",
        /// a grille
        Grille = "grille",
        /// a folding stair
        Stair = "stair",
    }
}

record! {
    /// A way between two spaces: a door, a hatch, a grille.
    /// For instance: `{kind: hatch, between: [crawl, basement]}`.
    pub struct Passage = "passage" {
        /// What it is.
        kind: PassageKind = "kind",
        /// The two spaces it joins: `[crawl, basement]`.
        between: ListOf<NameOf<Space>> = "between",
        /// Its clear size: `16 in x 24 in`.
        size: Size = "size",
        /// Whether it is in the floor of the space above.
        in_floor: bool = "in_floor",
        /// Its clear area: `2.7 sq ft`.
        area: Measure<Area> = "area",
        /// Whether it closes against a gasket.
        gasket: bool = "gasket",
        /// Whether it latches or locks.
        latches: bool = "latches",
        /// Whether it is kept shut.
        kept_shut: bool = "kept_shut",
    }
}

words! {
    /// What form a roof has.
    pub enum RoofKind = "kind of roof" {
        /// two slopes and a ridge
        Gable = "gable",
        /// slopes on all sides
        Hip = "hip",
        /// one slope
        Shed = "shed",
        /// no slope to speak of
        Flat = "flat",
        /// two slopes on each side
        Gambrel = "gambrel",
        /// something else
        Other = "other",
    }
}

words! {
    /// What a roof is covered with.
    pub enum Covering = "covering of a roof" {
        /// asphalt shingles
        Shingles = "shingles",
        /// metal sheets
        Metal = "metal",
        /// clay or concrete tiles
        Tile = "tile",
        /// slate
        Slate = "slate",
        /// wood shakes
        Wood = "wood",
        /// a sheet for flat roofs
        Membrane = "membrane",
        /// something else
        Other = "other",
    }
}

words! {
    /// Which way something long lies.
    pub enum Lie = "which way it lies" {
        /// from east to west
        EastWest = "east-west",
        /// from north to south
        NorthSouth = "north-south",
    }
}

record! {
    /// One edge of the roof, where roofs of different heights meet the open air. A height alone will do.
    pub struct RoofEdge = "roof edge", short height {
        /// Its height.
        height: Level = "height",
        /// The side of the building it is on.
        side: Side = "side",
        /// Where it runs on the plan.
        line: Line = "line",
    }
}

record! {
    /// One slope of the roof.
    pub struct RoofSlope = "roof slope" {
        /// Its corners, each as [east, north, up]: `[[18 ft, 24 ft, 11 ft 8 in], [21 ft, 24 ft, 15 ft 4 in]]`.
        corners: ListOf<Point> = "corners",
        /// How steep it is: `6 in 12`.
        pitch: Measure<Slope> = "pitch",
        /// The side toward which it falls.
        falls: Side = "falls",
        /// The height of its lower edge: `{above_ground: 9 ft 6 in}`.
        edge: Level = "edge",
    }
}

record! {
    /// A parapet round a flat roof.
    pub struct Parapet = "parapet" {
        /// How high it stands above the roof: `30 in`.
        height: Measure<Height> = "height",
        /// Where it runs on the plan.
        line: Line = "line",
        /// The share of it that is open, as scuppers and rails are: `5 %`.
        open: Measure<Share> = "open",
        /// Level distance from the discharge: `12 ft`.
        from_discharge: Measure<Length> = "from_discharge",
    }
}

record! {
    /// A wall or penthouse that rises above the roof where the discharge stands.
    /// For instance: `{height: 8 ft, from_discharge: 11 ft}`.
    pub struct WallAbove = "wall above the roof" {
        /// The height of its top.
        top: Level = "top",
        /// How high it stands above the roof surface at its foot: `8 ft`.
        height: Measure<Height> = "height",
        /// Where it runs on the plan.
        line: Line = "line",
        /// The side of the discharge on which it stands.
        side: Side = "side",
        /// Level distance from the nearest edge of the outlet: `11 ft`.
        from_discharge: Measure<Length> = "from_discharge",
        /// Whether it has windows, doors or intakes. They are listed among the openings.
        has_openings: bool = "has_openings",
    }
}

record! {
    /// The roof.
    pub struct Roof {
        /// What form it has.
        kind: RoofKind = "kind",
        /// The height of its edge, if it is the same all round: `{above_ground: 9 ft 6 in}`.
        edge: Level = "edge",
        /// The heights of its edges by place, if they differ: `{main: {above_ground: 17 ft}, porch: {above_ground: 10 ft}}`.
        edges: Named<RoofEdge> = "edges",
        /// The height of the ridge: `{above_ground: 20 ft}`.
        ridge: Level = "ridge",
        /// Which way the ridge lies.
        ridge_lies: Lie = "ridge_lies",
        /// Where the ridge runs on the plan.
        ridge_line: Line = "ridge_line",
        /// How steep the slopes are: `6 in 12`.
        pitch: Measure<Slope> = "pitch",
        /// The slopes one by one, for a roof that is not the same on both sides.
        slopes: Named<RoofSlope> = "slopes",
        /// How far the roof reaches beyond the walls: `16 in`.
        overhang: Measure<Length> = "overhang",
        /// The outline of the roof on the plan.
        outline: ListOf<PlanPoint> = "outline",
        /// What it is covered with.
        covering: Covering = "covering",
        /// Parapets, by name.
        parapets: Named<Parapet> = "parapets",
        /// Walls that rise above it, by name.
        walls_above: Named<WallAbove> = "walls_above",
        /// Whether people use it, as a terrace is used.
        walked_on: bool = "walked_on",
    }
}

record! {
    /// A wall, floor or ceiling that has to resist fire for a time.
    pub struct FireRated = "fire-rated assembly" {
        /// For how long: `1 h`.
        rating: Measure<Duration> = "rating",
        /// The spaces it stands between.
        between: ListOf<NameOf<Space>> = "between",
        /// The listing of its make-up.
        listing: Text = "listing",
    }
}

words! {
    /// What moves air in the house besides the system.
    pub enum MoverKind = "kind of air mover" {
        /// a bathroom fan
        BathFan = "bath fan",
        /// a kitchen hood
        Hood = "kitchen hood",
        /// a clothes dryer
        Dryer = "dryer",
        /// a fan that airs the whole house or attic
        WholeHouseFan = "whole-house fan",
        /// the blower of a furnace or air conditioner
        AirHandler = "air handler",
        /// a ventilator that recovers heat
        HeatRecovery = "heat recovery",
        /// a fan in the attic's own vents
        AtticFan = "attic fan",
        /// a central vacuum cleaner that blows outdoors
        Vacuum = "central vacuum",
    }
}

record! {
    /// Something besides the system that moves air into or out of the house.
    pub struct AirMover = "air mover" {
        /// What it is.
        kind: MoverKind = "kind",
        /// The space it is in.
        space: NameOf<Space> = "in",
        /// The air it blows out of the building: `50 cfm`.
        exhaust: Measure<Flow> = "exhaust",
        /// The air it brings into the building: `50 cfm`.
        supply: Measure<Flow> = "supply",
        /// How far apart its supply and exhaust are indoors: `14 ft`.
        indoor_ports_apart: Measure<Length> = "indoor_ports_apart",
        /// How far apart its intake and exhaust are outdoors: `10 ft`.
        outdoor_ports_apart: Measure<Length> = "outdoor_ports_apart",
        /// Whether snow and leaves cannot cover its openings outdoors.
        outdoor_ports_clear: bool = "outdoor_ports_clear",
        /// Whether its openings outdoors are screened.
        screened: bool = "screened",
        /// Whether its housing is sealed.
        sealed: bool = "sealed",
        /// Its electric power: `95 W`.
        power: Measure<Power> = "power",
        /// Whether its ducts run through the crawlspace or the soil.
        ducts_below: bool = "ducts_below",
        /// Whether its ducts are sealed.
        ducts_sealed: bool = "ducts_sealed",
        /// Whether it draws air from the crawlspace or basement.
        draws_from_below: bool = "draws_from_below",
    }
}

record! {
    /// How leaky the building is. The word `none` if nobody has measured or worked it out.
    /// For instance: `{flow: 1850 cfm, at: 50 Pa}`.
    pub struct Leakage {
        /// The air that the fan moved: `1850 cfm`.
        flow: Measure<Flow> = "flow",
        /// At what difference of pressure: `50 Pa`.
        at: Measure<Pressure> = "at",
        /// How often each hour leaks alone change its air, as wind and warmth drive them: `0.35`.
        air_changes: Measure<Plain> = "air_changes",
        /// Who measured it.
        by: Text = "by",
        /// The day it was measured: `2026-05-14`.
        on: Date = "on",
    }
}

words! {
    /// What a detector warns of.
    pub enum DetectorKind = "kind of detector" {
        /// smoke
        Smoke = "smoke",
        /// carbon monoxide
        CarbonMonoxide = "carbon monoxide",
        /// both
        SmokeAndCarbonMonoxide = "smoke and carbon monoxide",
        /// fuel gas
        Gas = "gas",
    }
}

record! {
    /// A detector that warns people.
    pub struct Detector = "detector" {
        /// What it warns of.
        kind: DetectorKind = "kind",
        /// The space it is in.
        space: NameOf<Space> = "in",
    }
}

record! {
    /// The building above its foundation.
    pub struct Building {
        /// What it is used as.
        used_as: BuildingUse = "use",
        /// Whether it is a public building, or one that the state puts first, such as a school.
        public: bool = "public",
        /// How many stories it has above ground: `1`. A half story, rooms under a sloping roof, counts as one: `2` for one
        /// and a half. Such rooms are then on story 2.
        stories: Count = "stories",
        /// The year it was built.
        built: Count = "built",
        /// How many dwellings it holds.
        dwellings: Count = "dwellings",
        /// The day it was or will be first lived in: `2026-05-14`.
        occupied_from: Date = "occupied_from",
        /// Its heated floor area: `1200 sq ft`.
        floor_area: Measure<Area> = "floor_area",
        /// Its heated volume: `9600 cu ft`.
        volume: Measure<Volume> = "volume",
        /// How leaky it is.
        leakage: Leakage = "leakage",
        /// Its spaces, by name.
        spaces: Named<Space> = "spaces",
        /// Ways between spaces, by name.
        passages: Named<Passage> = "passages",
        /// The roof over it.
        roof: Roof = "roof",
        /// Its openings, by name: windows, doors, skylights, louvers, vents.
        openings: Named<Opening> = "openings",
        /// Mechanical air intakes, by name.
        intakes: Named<Intake> = "intakes",
        /// Chimneys and vents that end outdoors, by name.
        chimneys: Named<Chimney> = "chimneys",
        /// Places where people stand or walk outdoors, by name.
        walking_surfaces: Named<WalkingSurface> = "walking_surfaces",
        /// Neighbouring units and buildings, by name.
        neighbours: Named<Neighbour> = "neighbours",
        /// Solid things that stand about the discharge, by name.
        obstacles: Named<Obstacle> = "obstacles",
        /// Appliances that burn fuel, by name.
        appliances: Named<Appliance> = "appliances",
        /// Whether the work changes heating, cooling or airing.
        air_changed: bool = "air_changed",
        /// Who looked over changes to heating, cooling and airing, where the work makes any.
        air_changes_seen_by: Text = "air_changes_seen_by",
        /// Things besides the system that move air, by name.
        air_movers: Named<AirMover> = "air_movers",
        /// Fire-rated walls, floors and ceilings, by name.
        fire_rated: Named<FireRated> = "fire_rated",
        /// Detectors that warn people, by name.
        detectors: Named<Detector> = "detectors",
        /// A room or corner outdoors where equipment may stand: its place.
        equipment_place: Place = "equipment_place",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
