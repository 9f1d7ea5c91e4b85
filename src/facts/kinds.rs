//! The kinds of things a rule can speak of.

use crate::base::vocabulary::{Called, KindId};

/// A kind of thing. Its place in this list is its number; the whole comes first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Kind {
    /// The whole design.
    Design,
    /// What the job is.
    Job,
    /// The place it stands.
    Site,
    /// The building.
    Building,
    /// What is asked before the first hole.
    BeforeDrilling,
    /// Papers handed over and kept.
    Papers,
    /// A room, a crawlspace, an attic, the outdoors.
    Space,
    /// An opening of this building, seen from one discharge.
    Opening,
    /// An opening of another building, seen from one discharge.
    NeighbourOpening,
    /// A mechanical air intake, seen from one discharge.
    Intake,
    /// A chimney or another vent that ends outdoors, seen from one discharge.
    Chimney,
    /// A wall that rises above the roof, seen from one discharge.
    WallAboveRoof,
    /// Something on which people walk or sit outdoors, seen from one discharge.
    WalkingSurface,
    /// Finished ground at one place, seen from one discharge.
    Ground,
    /// Something that burns fuel, or might spill what it burns.
    Appliance,
    /// A part of the foundation: a slab, bare soil under a floor.
    Area,
    /// A sheet over bare soil.
    Membrane,
    /// What gathers the soil gas under a floor or a membrane.
    Collector,
    /// A sheet under a slab.
    Sheet,
    /// A foundation wall.
    Wall,
    /// A way between two spaces.
    Passage,
    /// An air duct in or under the floor.
    Duct,
    /// Something besides the systems that moves air.
    AirMover,
    /// A pit in the floor that gathers water.
    Sump,
    /// A pump in a sump.
    SumpPump,
    /// A drain.
    Drain,
    /// A joint, a crack or a hole through which soil gas can come.
    Joint,
    /// A system: what is drawn by one fan, or by one passive stack.
    System,
    /// The place where a system's air leaves the pipe.
    Discharge,
    /// A fan.
    Fan,
    /// A stretch of a fan's curve, from one point of the maker's sheet to the next.
    CurvePiece,
    /// The cord of a fan.
    Cord,
    /// A branch circuit of the house.
    Circuit,
    /// The receptacle for a fan.
    Receptacle,
    /// A straight stretch of pipe.
    Run,
    /// A place where a run goes through a wall, floor, ceiling or roof.
    Penetration,
    /// A place where a system draws on the soil.
    SuctionPoint,
    /// A pipe roughed in for a later system.
    RoughIn,
    /// A gauge, an alarm or another device that tells whether the system draws.
    Gauge,
    /// A look at a running system.
    Look,
    /// A label.
    Label,
    /// A floor level on which pipe of one system can be seen.
    Level,
    /// A radon test after start-up.
    Test,
    /// A round after a radon test that did not come out.
    Round,
    /// A paper that is kept or handed over.
    Paper,
    /// A small hole at which the pressure under floor or membrane is read with the system running.
    TestHole,
}

/// Every kind, its name in an expression, and what it is.
pub const KINDS: &[(Kind, &str, &str)] = &[
    (Kind::Design, "design", "The whole design: what stands at the root of an expression."),
    (Kind::Job, "job", "What the work is, for whom and at which stage."),
    (Kind::Site, "site", "The place the building stands on."),
    (Kind::Building, "building", "The building that is to be protected."),
    (Kind::BeforeDrilling, "before_drilling", "What has to be known before the first hole is drilled."),
    (Kind::Papers, "papers", "What is handed over and kept in writing."),
    (Kind::Space, "space", "A room, a crawlspace, an attic, a garage, or the outdoors."),
    (Kind::Opening, "opening", "A window, door or other opening of this building, seen from one discharge."),
    (
        Kind::NeighbourOpening,
        "neighbour_opening",
        "An opening of an adjoining or adjacent building, seen from one discharge.",
    ),
    (Kind::Intake, "intake", "A mechanical air intake, seen from one discharge."),
    (Kind::Chimney, "chimney", "A chimney, flue or other vent that ends outdoors, seen from one discharge."),
    (Kind::WallAboveRoof, "wall_above_roof", "A wall that rises above the roof, seen from one discharge."),
    (
        Kind::WalkingSurface,
        "walking_surface",
        "A deck, a balcony, a walk or another outdoor floor, seen from one discharge.",
    ),
    (Kind::Ground, "ground", "The finished ground at one place, seen from one discharge."),
    (
        Kind::Appliance,
        "appliance",
        "A heater, a fireplace or another thing whose flue might be drawn backwards.",
    ),
    (
        Kind::Area,
        "area",
        "A part of the foundation between its footings: a slab, or bare soil under a floor.",
    ),
    (Kind::Membrane, "membrane", "A sheet laid over bare soil."),
    (
        Kind::Collector,
        "collector",
        "Pipe, mat or channel that gathers the soil gas under a floor or a membrane.",
    ),
    (Kind::Sheet, "sheet", "A sheet between a slab and what lies under it."),
    (Kind::Wall, "wall", "A foundation wall."),
    (Kind::Passage, "passage", "A door, a hatch or another way between two spaces."),
    (Kind::Duct, "duct", "An air duct in or under the floor or in the crawlspace."),
    (Kind::AirMover, "air_mover", "A fan, a blower or another thing besides the systems that moves air."),
    (Kind::Sump, "sump", "A pit in the floor that gathers water."),
    (Kind::SumpPump, "sump_pump", "A pump in a sump."),
    (Kind::Drain, "drain", "A drain in a floor, of an appliance, or round the footing."),
    (Kind::Joint, "joint", "A joint, a crack or a hole through which soil gas can come in."),
    (Kind::System, "system", "What one fan or one passive stack draws on."),
    (Kind::Discharge, "discharge", "The place where a system's air leaves the pipe."),
    (Kind::Fan, "fan", "The fan of a system."),
    (
        Kind::CurvePiece,
        "curve_piece",
        "A stretch of a fan's curve, straight from one point of the maker's sheet to the next.",
    ),
    (Kind::Cord, "cord", "The cord by which a fan is plugged in."),
    (Kind::Circuit, "circuit", "A branch circuit that feeds a fan or a warning device."),
    (Kind::Receptacle, "receptacle", "The receptacle at a fan."),
    (Kind::Run, "run", "A straight stretch of pipe."),
    (
        Kind::Penetration,
        "penetration",
        "A place where a run goes through a wall, a floor, a ceiling or the roof.",
    ),
    (Kind::SuctionPoint, "suction_point", "A place where a system draws on the soil."),
    (Kind::RoughIn, "rough_in", "A pipe roughed in for a later system, with the place kept for its fan."),
    (Kind::Gauge, "gauge", "A gauge, an alarm or another device that tells whether the system draws."),
    (Kind::Look, "look", "A look at a running system, with what its gauge read."),
    (Kind::Label, "label", "A label on the system, its pipe or its breaker."),
    (Kind::Level, "level", "A floor level on which pipe of one system can be seen indoors."),
    (Kind::Test, "test", "A radon test made after the system was started."),
    (
        Kind::Round,
        "round",
        "A round after a radon test that did not come out: found, changed, read and tested again.",
    ),
    (Kind::Paper, "paper", "A paper that is kept or handed over."),
    (
        Kind::TestHole,
        "test_hole",
        "A small hole at which the pressure under floor or membrane is read with the system running.",
    ),
];

impl Kind {
    /// Its number in the vocabulary.
    #[must_use]
    pub const fn id(self) -> KindId {
        KindId(self as u16)
    }

    /// What people call one of them, and how one is called in a sentence. An empty word is the kind's own name.
    #[must_use]
    pub const fn said(self) -> (&'static str, Called) {
        match self {
            Kind::Space => ("room", Called::ByName),
            Kind::NeighbourOpening => ("opening of an adjacent building", Called::ByName),
            Kind::Intake => ("air intake", Called::WithKind),
            Kind::WallAboveRoof => ("wall", Called::WithKind),
            Kind::WalkingSurface => ("outdoor floor", Called::ByName),
            Kind::Ground => ("ground", Called::WithKind),
            Kind::Area => ("floor area", Called::WithKind),
            Kind::Collector => ("collector", Called::WithKind),
            Kind::Sheet => ("sheet under a slab", Called::ByName),
            Kind::Wall => ("foundation wall", Called::WithKind),
            Kind::Passage => ("way between rooms", Called::ByName),
            Kind::Duct => ("duct", Called::WithKind),
            Kind::AirMover => ("air mover", Called::ByName),
            Kind::Sump => ("sump", Called::WithKind),
            Kind::Drain => ("drain", Called::WithKind),
            Kind::Joint => ("joint", Called::WithKind),
            Kind::System => ("system", Called::WithKind),
            Kind::Run => ("pipe run", Called::WithKind),
            Kind::Penetration => ("pipe passage", Called::WithKind),
            Kind::SuctionPoint => ("suction point", Called::WithKind),
            Kind::RoughIn => ("pipe roughed in", Called::ByName),
            Kind::Gauge => ("gauge or alarm", Called::ByName),
            Kind::Look => ("look", Called::WithKind),
            Kind::Label => ("label", Called::WithKind),
            Kind::Level => ("floor", Called::Bare),
            Kind::Test => ("radon test", Called::WithKind),
            Kind::Round => ("round", Called::WithKind),
            Kind::Paper => ("paper", Called::WithKind),
            Kind::TestHole => ("test hole", Called::WithKind),
            _ => ("", Called::ByName),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_stands_at_its_own_number() {
        for (at, (kind, name, meaning)) in KINDS.iter().enumerate() {
            assert_eq!(usize::from(kind.id().0), at, "{name}");
            assert!(meaning.ends_with('.'), "{name}");
        }
        assert_eq!(KINDS.last().map(|(kind, _, _)| *kind), Some(Kind::TestHole));
    }
}
