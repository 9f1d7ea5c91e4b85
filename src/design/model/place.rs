//! Places as people measure them: by tape first, by coordinates if they like.

use super::names::AnyThing;
use crate::yaml::entry::ListOf;
use crate::yaml::measure::{Height, Length, Measure};
use crate::yaml::name::NameOf;
use crate::yaml::record::record;
use crate::yaml::shape::{PlanPoint, Point};
use crate::yaml::words::words;

words! {
    /// A side of the building or of an area, as the plan is drawn.
    pub enum Side = "side" {
        /// the side drawn at the top of the plan, where y grows
        North = "north",
        /// the side drawn at the bottom of the plan
        South = "south",
        /// the side drawn at the right of the plan, where x grows
        East = "east",
        /// the side drawn at the left of the plan
        West = "west",
    }
}

record! {
    /// A height. Written alone, `17 ft 2 in`, it is the height above the origin (the z of a point). Otherwise
    /// one
    /// of the keys says above or below what. Several keys are several measurements of the same height.
    pub struct Level, short z, apart (above_roof_edge below_roof_edge), alike (z above_ground above_floor above_roof above_roof_edge below_roof_edge below_ridge) {
        /// Height above the origin: `17 ft 2 in`; negative below it.
        z: Measure<Height> = "z",
        /// Height above the finished ground straight below: `9 ft`; negative below ground.
        above_ground: Measure<Height> = "above_ground",
        /// Height above the floor of the space it is in: `5 ft`.
        above_floor: Measure<Height> = "above_floor",
        /// Height above the roof surface straight below: `22 in`.
        above_roof: Measure<Height> = "above_roof",
        /// Height above the nearest edge of the roof: `4 ft`; negative below it.
        above_roof_edge: Measure<Height> = "above_roof_edge",
        /// How far below the nearest edge of the roof: `1 ft`; negative above it.
        below_roof_edge: Measure<Height> = "below_roof_edge",
        /// How far below the ridge of the roof: `2 ft`; negative above it.
        below_ridge: Measure<Height> = "below_ridge",
    }
}

record! {
    /// Distances off the inner faces of two walls, level: `{north: 2 ft, east: 10 ft}`. Two opposite walls
    /// are a
    /// check on each other.
    pub struct FromWalls, alike (north south) (east west) {
        /// Off the north wall: `2 ft`.
        north: Measure<Length> = "north",
        /// Off the south wall: `2 ft`.
        south: Measure<Length> = "south",
        /// Off the east wall: `10 ft`.
        east: Measure<Length> = "east",
        /// Off the west wall: `10 ft`.
        west: Measure<Length> = "west",
    }
}

record! {
    /// How something lies as seen from the discharge, by tape. Stand outside and face the wall or roof slope
    /// that the
    /// discharge is on. Every distance runs from the nearest edge of the outlet to the nearest edge of the
    /// thing.
    /// For instance: `{left: 12 ft, top_below: 8 ft 6 in}`.
    pub struct FromDischarge, apart (left right) (top_below top_above) (bottom_below bottom_above) {
        /// Level distance to the left, along the wall, from the nearest edge of the outlet to the nearest
        /// edge of the
        /// opening: `12 ft`. Nought when one stands above the other.
        left: Measure<Length> = "left",
        /// Level distance to the right, along the wall, from the nearest edge of the outlet to the nearest
        /// edge of the
        /// opening: `12 ft`. Nought when one stands above the other.
        right: Measure<Length> = "right",
        /// Level distance toward you, at right angles to left and right, away from the building: `3 ft`.
        out: Measure<Length> = "out",
        /// Level distance in whatever direction the opening lies, from the nearest edge of the outlet to the
        /// nearest
        /// edge of the opening: `14 ft`. Instead of left, right and out.
        away: Measure<Length> = "away",
        /// How far the outlet stands above the top of the opening: `8 ft 6 in`. Negative where the outlet stands below it.
        top_below: Measure<Height> = "top_below",
        /// How far the outlet stands below the top of the opening: `1 ft`.
        top_above: Measure<Height> = "top_above",
        /// How far the outlet stands above the bottom of the opening: `11 ft`. Negative where the outlet stands below it.
        bottom_below: Measure<Height> = "bottom_below",
        /// How far the outlet stands below the bottom of the opening: `1 ft`.
        bottom_above: Measure<Height> = "bottom_above",
        /// The straight tape from the nearest edge of the outlet to the nearest point of the opening: `9 ft 6
        /// in`.
        straight: Measure<Length> = "straight",
        /// The tape drawn tight around whatever solid stands between, from the nearest edge of the outlet to
        /// the
        /// nearest point of the opening: `13 ft`. The same as straight when nothing stands between.
        around: Measure<Length> = "around",
    }
}

record! {
    /// A place. Written as `[18 ft, 24 ft, 11 ft 8 in]` it is a point east, north and up of the origin.
    /// Otherwise say
    /// what was measured: heights, distances off walls, distances from another thing, a straight tape. What
    /// is not
    /// said stays unknown; what is said twice is compared.
    /// For instance: `{above_ground: 9 ft, from_walls: {north: 2 ft, east: 10 ft}}`.
    pub struct Place, short point, apart (north south) (east west) (up down) (above_roof_edge below_roof_edge), alike (point plan z above_ground above_floor above_roof above_roof_edge below_roof_edge from_walls from north south east west up down straight from_discharge side) {
        /// The point as [east, north, up] of the origin: `[18 ft, 24 ft, 11 ft 8 in]`.
        point: Point = "point",
        /// The point on the plan as [east, north] of the origin, when only the height is measured otherwise.
        plan: PlanPoint = "plan",
        /// Height above the origin: `17 ft 2 in`.
        z: Measure<Height> = "z",
        /// Height above the finished ground straight below: `9 ft`.
        above_ground: Measure<Height> = "above_ground",
        /// Height above the floor of the space it is in: `5 ft`.
        above_floor: Measure<Height> = "above_floor",
        /// Height above the roof surface straight below: `22 in`.
        above_roof: Measure<Height> = "above_roof",
        /// Height above the nearest edge of the roof: `4 ft`; negative below it.
        above_roof_edge: Measure<Height> = "above_roof_edge",
        /// How far below the nearest edge of the roof: `1 ft`.
        below_roof_edge: Measure<Height> = "below_roof_edge",
        /// Distances off the inner faces of two walls of the space or area it is in.
        from_walls: FromWalls = "from_walls",
        /// The thing from which north, south, east, west, up, down and straight are measured: `fan`,
        /// `discharge`, or a name.
        from: NameOf<AnyThing> = "from",
        /// Level distance north of that thing: `8 ft`.
        north: Measure<Length> = "north",
        /// Level distance south of that thing: `8 ft`.
        south: Measure<Length> = "south",
        /// Level distance east of that thing: `8 ft`.
        east: Measure<Length> = "east",
        /// Level distance west of that thing: `8 ft`.
        west: Measure<Length> = "west",
        /// Distance above that thing: `3 ft`.
        up: Measure<Length> = "up",
        /// Distance below that thing: `3 ft`.
        down: Measure<Length> = "down",
        /// Straight tape from that thing: `9 ft 6 in`.
        straight: Measure<Length> = "straight",
        /// Distances from the discharge.
        from_discharge: FromDischarge = "from_discharge",
        /// The side of the building it is on.
        side: Side = "side",
    }
}

record! {
    /// A line on the plan, by two or more points: `[[0 ft, 12 ft], [40 ft, 12 ft]]`.
    pub struct Line, short points {
        /// The points of the line in order, each as [east, north] of the origin.
        points: ListOf<PlanPoint> = "points",
        /// How long it is along the line: `40 ft`.
        length: Measure<Length> = "length",
    }
}
