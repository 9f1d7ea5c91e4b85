//! What was read and tried: the communication test, start-up, rounds.

use super::appliances::Appliance;
use super::foundation::Area;
use super::names::{AreaOrSpace, PipePlace};
use super::place::{FromWalls, Place};
use super::suction::SuctionPoint;
use super::tests::RadonTest;
use crate::yaml::entry::{ListOf, Named, OneOrList};
use crate::yaml::measure::{
    Concentration, Current, Flow, Length, Loudness, Measure, Power, Pressure, PressureDifference, Speed,
    Temperature,
};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::time::{Date, Moment};
use crate::yaml::words::words;

record! {
    /// The weather while something was read.
    pub struct Weather {
        /// The temperature outdoors: `38 degF`.
        outdoors: Measure<Temperature> = "outdoors",
        /// The temperature indoors: `68 degF`.
        indoors: Measure<Temperature> = "indoors",
        /// The speed of the wind: `5 mph`.
        wind: Measure<Speed> = "wind",
        /// The pressure of the air: `1013 hPa`.
        barometer: Measure<Pressure> = "barometer",
        /// Whether it rained in the last day.
        rain: bool = "rain",
        /// Whether the ground was frozen or covered with snow.
        frozen: bool = "frozen",
        /// Whether a storm passed.
        storm: bool = "storm",
    }
}

words! {
    /// A quarter of an area, as cut by a line from north to south and one from east to west through its middle.
    pub enum Quarter = "quarter of an area" {
        /// the quarter to the north and east
        NorthEast = "north east",
        /// the quarter to the south and east
        SouthEast = "south east",
        /// the quarter to the south and west
        SouthWest = "south west",
        /// the quarter to the north and west
        NorthWest = "north west",
    }
}

words! {
    /// What smoke at a hole did.
    pub enum Smoke = "what smoke at a hole did" {
        /// it was drawn down into the hole
        Down = "down",
        /// it stood still
        Still = "still",
        /// it was blown up out of the hole
        Up = "up",
    }
}

record! {
    /// Readings at one small hole through the floor or membrane.
    pub struct TestHole = "test hole" {
        /// The area it is in.
        area: NameOf<AreaOrSpace> = "in",
        /// Where it is, by tape or as [east, north, up] of the origin: `{from_walls: {north: 2 ft, east: 10
        /// ft}}`.
        at: Place = "at",
        /// Distances off the inner faces of two walls.
        from_walls: FromWalls = "from_walls",
        /// How far from the hole where suction is applied: `18 ft`.
        from_suction: Measure<Length> = "from_suction",
        /// The pressure under the floor less that of the room, without suction: `-0.001 in WC`.
        off: Measure<PressureDifference> = "off",
        /// The pressure under the floor less that of the room, with suction: `-0.018 in WC`. Negative is
        /// suction; the word `none` if it was not read.
        on: Measure<PressureDifference> = "on",
        /// What smoke at the hole did, with suction, where nothing was measured.
        smoke: Smoke = "smoke",
        /// Whether it was closed afterwards.
        closed: bool = "closed",
        /// Whether it stays as a port, with a plug that comes out.
        port: bool = "port",
        /// Whether one can get at it.
        reachable: bool = "reachable",
        /// The quarter of its area in which it is.
        quarter: Quarter = "quarter",
    }
}

record! {
    /// One step of a communication test: so much suction, so much air.
    pub struct TestStep {
        /// The suction at the hole where it is applied: `8 in WC`.
        suction: Measure<Pressure> = "suction",
        /// The air drawn: `32 cfm`.
        flow: Measure<Flow> = "flow",
    }
}

words! {
    /// What drew the air in a test.
    pub enum Puller = "what drew the air in a test" {
        /// a shop vacuum cleaner
        Vacuum = "vacuum",
        /// a fan like those of finished systems
        Fan = "fan",
        /// a blower with a meter
        Blower = "blower",
        /// the finished system itself
        System = "system",
    }
}

record! {
    /// A test of how far suction at one hole is felt under the floor.
    pub struct CommunicationTest = "communication test" {
        /// The day it was done: `2026-05-14`.
        on: Date = "on",
        /// Who did it: `J. Ames`.
        by: Text = "by",
        /// The area it was done in.
        area: NameOf<Area> = "in",
        /// The suction point where suction was applied, if it is one of the design.
        suction_point: NameOf<SuctionPoint> = "suction_point",
        /// The place where suction was applied, if it is not a suction point of the design.
        at: Place = "at",
        /// How wide the hole was through which suction was applied, or the pit under it: `1 1/4 in`.
        hole: Measure<Length> = "hole",
        /// What drew the air.
        with: Puller = "with",
        /// Suction and air, step by step.
        steps: ListOf<TestStep> = "steps",
        /// The suction applied: `8 in WC`.
        suction: Measure<Pressure> = "suction",
        /// The air drawn: `32 cfm`.
        flow: Measure<Flow> = "flow",
        /// The small holes, by name.
        holes: Named<TestHole> = "holes",
        /// Whether the blower of the house ran.
        air_handler_on: bool = "air_handler_on",
        /// Whether exhaust fans and dryer ran.
        exhausts_on: bool = "exhausts_on",
        /// Whether doors and windows were shut.
        house_closed: bool = "house_closed",
        /// The weather.
        weather: Weather = "weather",
        /// The instrument that read the pressures.
        instrument: Text = "instrument",
        /// The smallest pressure the instrument can tell: `0.001 in WC`.
        instrument_step: Measure<Pressure> = "instrument_step",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

record! {
    /// A reading of radon by a quick instrument, to find where it comes in.
    pub struct Sniff = "sniff" {
        /// The area or space.
        space: NameOf<AreaOrSpace> = "in",
        /// Where it was read, by tape or as [east, north, up].
        at: Place = "at",
        /// What was read: `220 pCi/L`.
        reading: Measure<Concentration> = "reading",
        /// The day it was done: `2026-05-14`.
        on: Date = "on",
    }
}

record! {
    /// What was read and tried before the design was settled.
    pub struct Diagnostics {
        /// Communication tests, by name.
        communication: Named<CommunicationTest> = "communication",
        /// Readings of radon where it comes in, by name.
        sniffs: Named<Sniff> = "sniffs",
        /// The pressure of the house less that outdoors with all exhausts on: `-3 Pa`.
        house_pressure: Measure<PressureDifference> = "house_pressure",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

record! {
    /// What was read at one place of a running system.
    pub struct PipeReading = "pipe reading" {
        /// The run or suction point, or the word `fan`. When it is not said, the run or point of the same
        /// name.
        of: NameOf<PipePlace> = "of",
        /// The suction: `1.1 in WC`.
        suction: Measure<Pressure> = "suction",
        /// The air: `28 cfm`.
        flow: Measure<Flow> = "flow",
        /// The speed of the air: `620 fpm`.
        speed: Measure<Speed> = "speed",
        /// Radon in the pipe: `480 pCi/L`.
        radon: Measure<Concentration> = "radon",
        /// The temperature in the pipe: `55 degF`.
        temperature: Measure<Temperature> = "temperature",
    }
}

words! {
    /// What came of a trial.
    pub enum Outcome = "outcome of a trial" {
        /// it was as it should be
        Passed = "passed",
        /// it was not
        Failed = "failed",
        /// it was not done
        NotDone = "not done",
    }
}

record! {
    /// A trial whether a flue still draws with everything on that could pull against it.
    pub struct SpillageTest = "spillage test" {
        /// The appliance. When it is not said, the one of the same name.
        appliance: NameOf<Appliance> = "appliance",
        /// What came of it before the fan was switched on.
        before: Outcome = "before",
        /// What came of it with the fan running.
        after: Outcome = "after",
        /// Whether everything that could pull against the flue was on: exhausts, dryer, blower, doors set
        /// worst.
        worst_case: bool = "worst_case",
        /// Whether the fan of the system ran.
        fan_on: bool = "fan_on",
        /// The draft in the flue less the room: `-0.02 in WC`.
        draft: Measure<PressureDifference> = "draft",
        /// The pressure of the room less that outdoors: `-3 Pa`.
        room: Measure<PressureDifference> = "room",
        /// When it was done: `2026-06-01 14:30`.
        at: Moment = "at",
        /// Who did it: `J. Ames`.
        by: Text = "by",
        /// What was done when it failed.
        mended_by: Text = "mended_by",
    }
}

record! {
    /// What was read and shown when the system was first left running.
    pub struct StartUp {
        /// The day it was done: `2026-05-14`.
        on: Date = "on",
        /// Who did it: `J. Ames`.
        by: Text = "by",
        /// The moment since which the fan, the last one if there are several, has been running: `2026-06-01 14:30`.
        fan_started: Moment = "fan_started",
        /// Readings, by the name of the run or suction point.
        readings: Named<PipeReading> = "readings",
        /// The reading of the gauge: `1.6 in WC`.
        gauge: Measure<Pressure> = "gauge",
        /// The electric power of the fan: `82 W`.
        fan_power: Measure<Power> = "fan_power",
        /// The electric current of the fan: `0.8 A`.
        fan_current: Measure<Current> = "fan_current",
        /// Pressures under the floor with the system on, by name of the hole.
        field: Named<TestHole> = "field",
        /// Trials of flues, by the name of the appliance.
        spillage: Named<SpillageTest> = "spillage",
        /// Whether fan joints and joints indoors were gone over once more, and hold.
        joints_gone_over: Outcome = "joints_gone_over",
        /// Whether the alarm was tried.
        alarm_tried: Outcome = "alarm_tried",
        /// Whether smoke was drawn in at closed joints and round the membrane.
        smoke_trial: Outcome = "smoke_trial",
        /// How loud it is in the nearest bedroom: `28 dB`.
        loudness: Measure<Loudness> = "loudness",
        /// Whether water runs back to the soil at every run.
        water_runs_back: bool = "water_runs_back",
        /// Whether the owner was shown how to read the gauge.
        owner_shown: bool = "owner_shown",
        /// The weather.
        weather: Weather = "weather",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

record! {
    /// One round after a test that did not come out: what was found, what was changed, what came of it.
    pub struct Round = "round" {
        /// The day it was done: `2026-05-14`.
        on: Date = "on",
        /// Who did it: `J. Ames`.
        by: Text = "by",
        /// The test that led to it.
        because_of: NameOf<RadonTest> = "because_of",
        /// What was found.
        found: OneOrList<Text> = "found",
        /// What was changed.
        changed: OneOrList<Text> = "changed",
        /// Readings afterwards, by the name of the run or suction point.
        readings: Named<PipeReading> = "readings",
        /// Trials of flues afterwards, by the name of the appliance.
        spillage: Named<SpillageTest> = "spillage",
        /// The test afterwards.
        test: NameOf<RadonTest> = "test",
    }
}
