//! Pipe: runs, fittings, hangers, valves, what they pass and pierce.

use super::building::{FireRated, Space};
use super::extent::Extent;
use super::membrane::ClosedBy;
use super::names::{RunEnd, RunStart, SpaceOrOutdoors};
use super::place::Place;
use crate::yaml::entry::{ListOf, Named, OneOrList};
use crate::yaml::measure::{
    Insulation as InsulationWanted, Length, Measure, Permeance, Plain, Pressure, Share, Slope, Thickness,
};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::shape::Point;
use crate::yaml::words::{Count, words};

words! {
    /// The trade size of a pipe. A word, not a length: the bore depends on material and schedule.
    pub ordered enum PipeSize = "trade size of pipe" {
        /// the smallest used
        OneAndAHalf = "1 1/2 in",
        /// for short branches
        Two = "2 in",
        /// the usual size
        Three = "3 in",
        /// for more air or less noise
        Four = "4 in",
        /// for large systems
        Six = "6 in",
        /// for large systems
        Eight = "8 in",
    }
}

words! {
    /// What a pipe is made of.
    pub enum PipeMaterial = "pipe material" {
        /// polyvinyl chloride
        Pvc = "PVC",
        /// acrylonitrile butadiene styrene
        Abs = "ABS",
        /// polyethylene
        Pe = "PE",
        /// a rectangular metal downspout
        Downspout = "downspout",
        /// galvanised or other steel
        Steel = "steel",
        /// cast iron
        CastIron = "cast iron",
        /// copper
        Copper = "copper",
        /// a flexible duct
        FlexibleDuct = "flexible duct",
    }
}

words! {
    /// How thick the wall of a pipe is, by the trade's series.
    pub enum Schedule = "pipe schedule" {
        /// the thinnest solid wall
        Twenty = "20",
        /// the usual solid wall
        Forty = "40",
        /// the thick wall
        Eighty = "80",
        /// a thin wall
        Thirty = "30",
        /// a core of foam between solid layers, schedule 40 outside
        FoamCore = "40 foam core",
        /// a thin sewer pipe
        Sdr35 = "SDR 35",
        /// a thin pipe for drains
        Sdr26 = "SDR 26",
        /// thin drain pipe
        ThinDrain = "thin drain",
    }
}

words! {
    /// The standard printed on a pipe.
    pub enum PipeStandard = "standard of a pipe" {
        /// ABS drain pipe of schedule 40
        D2661 = "ASTM D2661",
        /// ABS drain pipe with a core of foam
        F628 = "ASTM F628",
        /// pipe of several layers, ABS or PVC
        F1488 = "ASTM F1488",
        /// PVC drain pipe of schedule 40
        D2665 = "ASTM D2665",
        /// PVC pipe with a core of foam
        F891 = "ASTM F891",
        /// PVC pressure pipe
        D1785 = "ASTM D1785",
        /// thin PVC drain pipe
        D2729 = "ASTM D2729",
        /// PVC sewer pipe
        D3034 = "ASTM D3034",
        /// any other
        Other = "another",
    }
}

words! {
    /// The standard printed on a can of cement.
    pub enum CementStandard = "standard of a cement" {
        /// cement for PVC
        D2564 = "ASTM D2564",
        /// cement for ABS
        D2235 = "ASTM D2235",
        /// any other
        Other = "another",
    }
}

words! {
    /// How pipes are joined.
    pub enum PipeJoint = "pipe joint" {
        /// solvent cement
        Solvent = "solvent cement",
        /// a flexible coupling with clamps
        FlexibleCoupling = "flexible coupling",
        /// threads
        Threaded = "threaded",
        /// a gasket
        Gasket = "gasket",
        /// only pushed together
        Pushed = "pushed together",
        /// screws and sealant
        Screwed = "screwed and sealed",
    }
}

record! {
    /// Insulation round a pipe. An R-value alone will do: `R-4`.
    pub struct PipeInsulation, short r {
        /// How well it insulates: `R-4`.
        r: Measure<InsulationWanted> = "r",
        /// How thick it is: `1 in`.
        thickness: Measure<Thickness> = "thickness",
        /// Whether a jacket keeps vapour out.
        vapour_jacket: bool = "vapour_jacket",
        /// How readily vapour passes the jacket: `0.05 perm`.
        jacket_permeance: Measure<Permeance> = "jacket_permeance",
        /// Whether a jacket keeps weather and sun off.
        weather_jacket: bool = "weather_jacket",
    }
}

record! {
    /// What all pipe of a system is, unless a run says otherwise.
    /// For instance: `{material: PVC, schedule: 40, size: 4 in}`.
    pub struct Pipe {
        /// What it is made of: `PVC`.
        material: PipeMaterial = "material",
        /// Its schedule: `40`.
        schedule: Schedule = "schedule",
        /// Its trade size: `4 in`.
        size: PipeSize = "size",
        /// The standard printed on it: `ASTM D2665`.
        standard: PipeStandard = "standard",
        /// How it is joined.
        joints: PipeJoint = "joints",
        /// Whether a primer is used before the cement.
        primer: bool = "primer",
        /// The standard of the cement: `ASTM D2564`.
        cement_standard: CementStandard = "cement_standard",
        /// Its colour.
        colour: Text = "colour",
        /// Insulation round it.
        insulation: PipeInsulation = "insulation",
    }
}

words! {
    /// What a fitting is.
    pub enum FittingKind = "kind of fitting" {
        /// a bend of a quarter turn
        Elbow90 = "90 elbow",
        /// a wide bend of a quarter turn
        LongElbow90 = "long 90 elbow",
        /// a bend of an eighth turn
        Elbow45 = "45 elbow",
        /// a bend of a sixteenth turn
        Elbow22 = "22 1/2 elbow",
        /// a tee, the air passing straight through
        TeeThrough = "tee through",
        /// a tee, the air turning
        TeeTurn = "tee turn",
        /// a wye, the air passing straight through
        WyeThrough = "wye through",
        /// a wye, the air coming from the side
        WyeSide = "wye side",
        /// from one size to another
        Reducer = "reducer",
        /// straight on
        Coupling = "coupling",
        /// straight on, flexible, with clamps
        FlexibleCoupling = "flexible coupling",
        /// straight on, to be taken apart
        Union = "union",
        /// an opening for cleaning
        Cleanout = "cleanout",
        /// round to rectangular
        DownspoutAdapter = "downspout adapter",
        /// the closed end of a pipe
        Cap = "cap",
        /// a piece that lets water round the fan
        CondensateBypass = "condensate bypass",
        /// a muffler
        Muffler = "muffler",
    }
}

record! {
    /// A fitting, or several of a kind. A word alone will do: `90 elbow`.
    pub struct Fitting, short kind {
        /// What it is.
        kind: FittingKind = "kind",
        /// How many there are of it.
        count: Count = "count",
        /// Its trade size: `3 in`.
        size: PipeSize = "size",
        /// For a reducer: the other size.
        to_size: PipeSize = "to_size",
        /// How it is joined.
        joint: PipeJoint = "joint",
        /// What it is there for: `to take the fan out`.
        purpose: Text = "purpose",
        /// Its loss coefficient, if the maker states one: `0.6`.
        loss: Measure<Plain> = "loss",
        /// A fitting of the shop file, by name.
        model: Text = "model",
    }
}

words! {
    /// What holds a pipe.
    pub enum HangerKind = "kind of hanger" {
        /// a strap
        Strap = "strap",
        /// a clamp or clip
        Clamp = "clamp",
        /// a hook of plastic or metal
        JHook = "J hook",
        /// a ring on a rod
        Ring = "ring",
        /// a block or stand under it
        Stand = "stand",
        /// wire
        Wire = "wire",
        /// a bracket off a wall
        Bracket = "bracket",
    }
}

words! {
    /// What a hanger is fixed to.
    pub enum FixedTo = "what a hanger is fixed to" {
        /// framing or masonry of the building
        Building = "building",
        /// other pipes
        Pipes = "pipes",
        /// ducts
        Ducts = "ducts",
        /// cables or conduit
        Cables = "cables",
        /// equipment
        Equipment = "equipment",
        /// a ceiling grid
        CeilingGrid = "ceiling grid",
    }
}

record! {
    /// What holds a run up. A spacing alone will do: `6 ft`.
    pub struct Hangers, short spacing {
        /// The distance between one and the next, at most: `6 ft`.
        spacing: Measure<Length> = "spacing",
        /// What they are.
        kind: HangerKind = "kind",
        /// What they are fixed to.
        fixed_to: FixedTo = "fixed_to",
        /// The distance of the first from the beginning of the run: `4 ft`.
        first: Measure<Length> = "first",
        /// The distances along the run at which they sit, if they were measured one by one.
        places: ListOf<Measure<Length>> = "places",
    }
}

words! {
    /// What a pipe goes through.
    pub enum Pierced = "what a pipe goes through" {
        /// the roof
        Roof = "roof",
        /// an outer wall
        OuterWall = "outer wall",
        /// an inner wall
        InnerWall = "inner wall",
        /// a floor or ceiling between spaces
        Floor = "floor",
        /// a ceiling under the attic
        Ceiling = "ceiling",
        /// a foundation wall
        FoundationWall = "foundation wall",
        /// a slab
        Slab = "slab",
        /// a rim joist
        RimJoist = "rim joist",
        /// framing: joist, stud, rafter, plate or truss
        Framing = "framing",
    }
}

words! {
    /// A member of the frame.
    pub enum Member = "member of the frame" {
        /// carries a floor
        Joist = "joist",
        /// stands in a wall
        Stud = "stud",
        /// stands in a wall that carries load
        BearingStud = "bearing stud",
        /// carries the roof
        Rafter = "rafter",
        /// lies on or under a wall
        Plate = "plate",
        /// made in a factory
        Truss = "truss",
        /// a joist with a web
        IJoist = "I-joist",
        /// a beam or girder
        Beam = "beam",
    }
}

words! {
    /// How a member is cut.
    pub enum Cut = "cut in a member" {
        /// a hole through it
        Hole = "hole",
        /// a notch in its edge
        Notch = "notch",
    }
}

record! {
    /// A cut in a member of the frame.
    pub struct Framing {
        /// The member that is cut.
        member: Member = "member",
        /// Its real depth, or width for a stud: `9 1/4 in`.
        depth: Measure<Length> = "depth",
        /// How it is cut.
        cut: Cut = "cut",
        /// How wide the hole or how deep the notch is: `3 5/8 in`.
        size: Measure<Length> = "size",
        /// The distance of the cut from the nearest edge of the member: `2 in`.
        from_edge: Measure<Length> = "from_edge",
        /// The distance of the cut from the nearest end of the span: `4 ft`.
        from_end: Measure<Length> = "from_end",
        /// The length of the span: `12 ft`.
        span: Measure<Length> = "span",
        /// Whether it was made stronger.
        reinforced: bool = "reinforced",
        /// Whether its maker or an engineer allows the cut.
        allowed_by: Text = "allowed_by",
    }
}

words! {
    /// What keeps fire from passing beside a pipe.
    pub enum FireStop = "fire stop" {
        /// a collar that swells
        Collar = "collar",
        /// a wrap that swells
        WrapStrip = "wrap strip",
        /// a sealant that stops fire
        Sealant = "sealant",
        /// a shaft round the pipe
        Shaft = "shaft",
    }
}

record! {
    /// One place where a run goes through something.
    /// For instance: `{flashing: yes}`.
    pub struct Penetration = "penetration" {
        /// What it goes through; the name often tells: `roof`.
        kind: Pierced = "kind",
        /// The size of the hole: `5 in`.
        hole: Measure<Length> = "hole",
        /// What the gap round the pipe is closed with; the word `none` if with nothing.
        sealed_with: ClosedBy = "sealed_with",
        /// Whether the gap round the pipe is closed.
        sealed: bool = "sealed",
        /// Whether a flashing keeps water out.
        flashing: bool = "flashing",
        /// The fire-rated wall, floor or ceiling it goes through; the word `none` if it is not rated.
        fire_rated: NameOf<FireRated> = "fire_rated",
        /// What keeps fire from passing beside the pipe; the word `none` if nothing does.
        fire_stop: FireStop = "fire_stop",
        /// The listing of the fire stop.
        fire_stop_listing: Text = "fire_stop_listing",
        /// The member of the frame that is cut; the word `none` if none is.
        framing: Framing = "framing",
        /// Whether a plate guards the pipe from nails.
        nail_plate: bool = "nail_plate",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
    }
}

words! {
    /// What a valve is.
    pub enum ValveKind = "kind of valve" {
        /// a ball valve
        Ball = "ball",
        /// a gate valve
        Gate = "gate",
        /// a butterfly valve
        Butterfly = "butterfly",
        /// a sliding plate
        Slide = "slide",
        /// a damper
        Damper = "damper",
    }
}

record! {
    /// A valve in a run. How far it is open will do: `40 %`.
    pub struct Valve, short open {
        /// What it is.
        kind: ValveKind = "kind",
        /// How far it is open, as a share of the whole way: `40 %`.
        open: Measure<Share> = "open",
        /// The suction behind it to which it was set: `0.6 in WC`.
        set_to: Measure<Pressure> = "set_to",
        /// Whether its setting is marked on it.
        marked: bool = "marked",
        /// Whether it is fixed so that it does not move by itself.
        fixed: bool = "fixed",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
    }
}

record! {
    /// A low point of a run, where water can stand.
    pub struct LowPoint = "low point" {
        /// How far along the run from its beginning: `6 ft`.
        along: Measure<Length> = "along",
        /// How deep it hangs below a straight pipe: `1 in`.
        sag: Measure<Length> = "sag",
        /// Whether a drain lets the water out.
        drained: bool = "drained",
        /// How deep the trap of that drain is: `6 in`.
        trap_depth: Measure<Length> = "trap_depth",
    }
}

record! {
    /// A run of pipe, written outward from the fan as one lays it. Where it goes is said by tape from its
    /// beginning
    /// (`up`, `down`, `north`, `south`, `east`, `west`), or by its points, or by its length alone.
    /// For instance: `{from: fan, down: 11 ft 2 in, size: 4 in}`.
    pub struct Run = "run", apart (up down) (north south) (east west) {
        /// Where it begins: the word `fan`, or the run from whose end it goes on.
        from: NameOf<RunStart> = "from",
        /// Where it ends: the word `discharge`, or a suction point. Not needed when other runs begin at its
        /// end.
        to: NameOf<RunEnd> = "to",
        /// How far up it goes: `5 ft 6 in`, or `to roof`.
        up: Extent = "up",
        /// How far down it goes: `11 ft 2 in`, or `to slab`, `to membrane`.
        down: Extent = "down",
        /// How far north it goes: `8 ft`, or `to wall`.
        north: Extent = "north",
        /// How far south it goes: `8 ft`.
        south: Extent = "south",
        /// How far east it goes: `12 ft`.
        east: Extent = "east",
        /// How far west it goes: `12 ft`.
        west: Extent = "west",
        /// Its points from beginning to end, each as [east, north, up], instead of the tape.
        points: ListOf<Point> = "points",
        /// Its length along the pipe: `14 ft`. Needed when the way is not said; compared when it is.
        length: Measure<Length> = "length",
        /// How steeply a level run falls away from the fan, toward the suction point: `1/4 in per ft`.
        /// Negative where it
        /// falls toward the fan. For a run on the discharge side: how steeply it rises away from the fan.
        slope: Measure<Slope> = "slope",
        /// Its trade size, if not that of all pipe: `3 in`.
        size: PipeSize = "size",
        /// What it is made of, if not what all pipe is.
        material: PipeMaterial = "material",
        /// Its schedule, if not that of all pipe.
        schedule: Schedule = "schedule",
        /// The standard printed on it, if not that of all pipe.
        standard: PipeStandard = "standard",
        /// How it is joined, if not as all pipe is.
        joints: PipeJoint = "joints",
        /// Its inside diameter, where it was measured or its maker states it: `3.07 in`.
        inside_diameter: Measure<Length> = "inside_diameter",
        /// How many pipes like it lie side by side and share the air: `1`, or `2`.
        abreast: Count = "abreast",
        /// The inside width of a rectangular downspout: `4 in`.
        inside_width: Measure<Length> = "inside_width",
        /// The inside depth of a rectangular downspout: `3 in`.
        inside_depth: Measure<Length> = "inside_depth",
        /// The spaces it passes, from its beginning, and the word `outdoors`: `[attic, outdoors]`.
        through: OneOrList<NameOf<SpaceOrOutdoors>> = "through",
        /// What it goes through, by name, with what is known of the hole: `{floor: {kind: floor}}`, or `{roof: {flashing:
        /// yes}}`. The word `none` where it goes through nothing.
        pierces: Named<Penetration> = "pierces",
        /// What holds it up.
        hangers: Hangers = "hangers",
        /// Whether it is held above or below each floor, ceiling and roof it goes through.
        secured_at_floors: bool = "secured_at_floors",
        /// The valve in it; the word `none` if it has none.
        valve: Valve = "valve",
        /// Fittings in it, from its beginning.
        fittings: ListOf<Fitting> = "fittings",
        /// Insulation round it; the word `none` if it has none.
        insulation: PipeInsulation = "insulation",
        /// How much of it lies in the open air or in rooms that are not heated: `9 ft`. When it is not said, all of it
        /// where it passes nothing else, and none of it where it passes heated rooms alone.
        in_cold: Measure<Length> = "in_cold",
        /// Whether water that sweats on it would harm what lies below it.
        sweat_harms: bool = "sweat_harms",
        /// Low points in it where water can stand, by name; the word `none` if it has none.
        low_points: Named<LowPoint> = "low_points",
        /// Whether it can be reached to look at it.
        reachable: bool = "reachable",
        /// Whether it is hidden in a wall or chase.
        hidden: bool = "hidden",
        /// Whether sun falls on it.
        in_sun: bool = "in_sun",
        /// Whether it is painted or otherwise guarded against sun.
        painted: bool = "painted",
        /// Whether it blocks a door, window, panel, cleanout or appliance.
        blocks: Text = "blocks",
        /// How near the next hot surface or flue is: `6 in`.
        from_hot: Measure<Length> = "from_hot",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

record! {
    /// A pipe roughed in for a later system.
    pub struct ShortPipe {
        /// Its trade size: `3 in`.
        size: PipeSize = "size",
        /// What it is made of.
        material: PipeMaterial = "material",
        /// The space in which it ends.
        ends_in: NameOf<Space> = "ends_in",
        /// Whether it is capped.
        capped: bool = "capped",
        /// What is written on it.
        label: Text = "label",
        /// The clear height round the place for a fan: `48 in`.
        clear_height: Measure<Length> = "clear_height",
        /// The clear width round the place for a fan: `21 in`.
        clear_width: Measure<Length> = "clear_width",
        /// Whether an electrical box is near.
        electrical_box: bool = "electrical_box",
        /// How far the receptacle for a fan is from the place for it: `4 ft`; the word `none` without one.
        receptacle: Measure<Length> = "receptacle",
        /// Whether power is ready where an alarm would hang.
        alarm_power: bool = "alarm_power",
        /// Whether one can get to the place for a fan to put one in.
        reachable: bool = "reachable",
        /// Whether there is an approved supply of power on the roof for a fan there.
        rooftop_power: bool = "rooftop_power",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
    }
}
