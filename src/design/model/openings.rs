//! Openings, intakes, neighbours, and what else stands about the discharge.

use super::building::Space;
use super::place::{FromDischarge, Level, Line, Place, Side};
use crate::yaml::entry::{ListOf, Named};
use crate::yaml::measure::{Flow, Length, Measure};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::shape::{PlanPoint, Point, Size};
use crate::yaml::time::Date;
use crate::yaml::words::{Count, words};

words! {
    /// What an opening is.
    pub enum OpeningKind = "kind of opening" {
        /// a window
        Window = "window",
        /// a door
        Door = "door",
        /// a skylight or roof window
        Skylight = "skylight",
        /// a garage door
        GarageDoor = "garage door",
        /// a louver or grille that is always open
        Louver = "louver",
        /// a vent of an attic, at the ridge, gable or eave
        AtticVent = "attic vent",
        /// a vent of a crawlspace
        CrawlVent = "crawl vent",
        /// the outlet of a dryer or fan
        ExhaustHood = "exhaust hood",
        /// an opening that brings air to a fire
        CombustionAir = "combustion air",
        /// a hatch or other cover to the open air
        Hatch = "hatch",
        /// something else
        Other = "other",
    }
}

record! {
    /// The part of an opening that can be opened, where only a part can.
    pub struct OpenPart {
        /// Two opposite corners, or all corners, each as [east, north, up]: `[[18 ft, 24 ft, 11 ft 8 in], [21 ft, 24 ft, 15 ft 4 in]]`.
        corners: ListOf<Point> = "corners",
        /// How it lies as seen from the discharge.
        from_discharge: FromDischarge = "from_discharge",
    }
}

record! {
    /// A window, door, skylight, louver or other opening of the building. Its place may be given by its
    /// corners, or by
    /// how it lies as seen from the discharge, or by its middle with its width and height.
    /// For instance: `{kind: window, opens: yes, into: kitchen, from_discharge: {left: 12 ft, top_below: 8 ft 6 in}}`.
    pub struct Opening = "opening" {
        /// What it is: `window`.
        kind: OpeningKind = "kind",
        /// Whether it can be opened. A louver or vent that is always open: yes. Fixed glass: no.
        opens: bool = "opens",
        /// The space it leads into.
        into: NameOf<Space> = "into",
        /// Two opposite corners, or all corners, each as [east, north, up]: `[[18 ft, 24 ft, 11 ft 8 in], [21 ft, 24 ft, 15 ft 4 in]]`.
        corners: ListOf<Point> = "corners",
        /// How it lies as seen from the discharge.
        from_discharge: FromDischarge = "from_discharge",
        /// The place of its middle, by tape or as [east, north, up] of the origin.
        at: Place = "at",
        /// Its width: `36 in`.
        width: Measure<Length> = "width",
        /// Its height from bottom to top: `44 in`.
        height: Measure<Length> = "height",
        /// The height of its top: `{above_ground: 7 ft}`.
        top: Level = "top",
        /// The height of its bottom: `{above_ground: 3 ft}`.
        bottom: Level = "bottom",
        /// The side of the building it is on.
        side: Side = "side",
        /// The part that can be opened, where only a part can.
        open_part: OpenPart = "open_part",
        /// Whether it lies in a window well or egress well.
        in_well: bool = "in_well",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

words! {
    /// What a mechanical intake brings air to.
    pub enum IntakeKind = "kind of intake" {
        /// a ventilator that recovers heat
        HeatRecovery = "heat recovery",
        /// air that makes up for what is blown out
        MakeUpAir = "make-up air",
        /// fresh air to the blower of the house
        FreshAir = "fresh air",
        /// an evaporative cooler
        Cooler = "evaporative cooler",
        /// a window air conditioner
        WindowUnit = "window unit",
        /// something else
        Other = "other",
    }
}

record! {
    /// A mechanical air intake.
    /// For instance: `{kind: make-up air, from_discharge: {straight: 24 ft}}`.
    pub struct Intake = "intake" {
        /// What it brings air to.
        kind: IntakeKind = "kind",
        /// The air it draws in: `80 cfm`.
        flow: Measure<Flow> = "flow",
        /// Two opposite corners, or all corners, each as [east, north, up]: `[[18 ft, 24 ft, 11 ft 8 in], [21 ft, 24 ft, 15 ft 4 in]]`.
        corners: ListOf<Point> = "corners",
        /// How it lies as seen from the discharge.
        from_discharge: FromDischarge = "from_discharge",
        /// The place of its middle, by tape or as [east, north, up] of the origin.
        at: Place = "at",
        /// Its width: `12 in`.
        width: Measure<Length> = "width",
        /// Its height from bottom to top: `12 in`.
        height: Measure<Length> = "height",
        /// The height of its top: `{above_ground: 7 ft}`.
        top: Level = "top",
        /// The height of its bottom: `{above_ground: 3 ft}`.
        bottom: Level = "bottom",
        /// The side of the building it is on.
        side: Side = "side",
    }
}

words! {
    /// How a neighbour stands to the building.
    pub enum NeighbourKind = "kind of neighbour" {
        /// another unit of the same building, with a wall or floor in common
        AdjoiningUnit = "adjoining unit",
        /// another building that touches this one
        AdjoiningBuilding = "adjoining building",
        /// another building that stands apart
        AdjacentBuilding = "adjacent building",
    }
}

record! {
    /// A neighbouring unit or building.
    /// For instance: `{kind: adjacent building, shares_wall: no, from_discharge: {straight: 30 ft}}`.
    pub struct Neighbour = "neighbour" {
        /// How it stands to the building.
        kind: NeighbourKind = "kind",
        /// Whether its slab is one with the building's slab.
        shares_slab: bool = "shares_slab",
        /// Whether it has a wall in common with the building.
        shares_wall: bool = "shares_wall",
        /// Its outline on the plan.
        outline: ListOf<PlanPoint> = "outline",
        /// The height of its roof edge: `{above_ground: 12 ft}`.
        roof_edge: Level = "roof_edge",
        /// How it lies as seen from the discharge.
        from_discharge: FromDischarge = "from_discharge",
        /// Its openings and intakes, by name.
        openings: Named<Opening> = "openings",
        /// Whether all its openings near the discharge are listed.
        openings_complete: bool = "openings_complete",
        /// The day its people were told of the work: `2026-05-14`.
        told_on: Date = "told_on",
        /// The day its air was tested, or its people were asked to: `2026-05-14`.
        test_on: Date = "test_on",
    }
}

words! {
    /// What people stand on outdoors.
    pub enum SurfaceKind = "kind of walking surface" {
        /// a deck
        Deck = "deck",
        /// a patio
        Patio = "patio",
        /// a balcony
        Balcony = "balcony",
        /// a walk or pavement
        Walk = "walk",
        /// a stair or landing
        Stair = "stair",
        /// a roof that people use
        Roof = "roof terrace",
        /// a place where people gather or children play
        Gathering = "gathering place",
        /// a driveway
        Driveway = "driveway",
        /// a place on a roof between walls or parapets, where equipment is served
        RoofWell = "roof well",
    }
}

record! {
    /// A place where people stand or walk outdoors.
    /// For instance: `{kind: deck, height: {above_ground: 3 ft}, from_discharge: {straight: 18 ft}}`.
    pub struct WalkingSurface = "walking surface" {
        /// What it is.
        kind: SurfaceKind = "kind",
        /// The height of what one stands on: `{above_ground: 8 ft}`.
        height: Level = "height",
        /// Its outline on the plan.
        outline: ListOf<PlanPoint> = "outline",
        /// Its size in plan: `20 ft x 14 ft`.
        size: Size = "size",
        /// The place of its middle, by tape or as [east, north, up] of the origin.
        at: Place = "at",
        /// On how many of its sides walls or parapets stand, for a roof well: `3`.
        walled_sides: Count = "walled_sides",
        /// How it lies as seen from the discharge.
        from_discharge: FromDischarge = "from_discharge",
    }
}

record! {
    /// Something solid that stands about the discharge: a dormer, a wall, a fence.
    pub struct Obstacle = "obstacle" {
        /// What it is.
        what: Text = "what",
        /// Its outline on the plan.
        outline: ListOf<PlanPoint> = "outline",
        /// Where it runs on the plan, for a thin one.
        line: Line = "line",
        /// Two opposite corners, each as [east, north, up]: `[[18 ft, 24 ft, 11 ft 8 in], [21 ft, 24 ft, 15 ft 4 in]]`.
        corners: ListOf<Point> = "corners",
        /// The height of its top: `{above_ground: 7 ft}`.
        top: Level = "top",
        /// The height of its bottom: `{above_ground: 3 ft}`.
        bottom: Level = "bottom",
        /// How it lies as seen from the discharge.
        from_discharge: FromDischarge = "from_discharge",
    }
}
