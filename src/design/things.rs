//! The things of a design in the order written, and finding them by name.

use super::model::appliances::{Appliance, Chimney};
use super::model::building::{FireRated, Passage, Space};
use super::model::controls::Label;
use super::model::drainage::{Drain, DrainLoop, Sump};
use super::model::foundation::{Area, Collector, Duct, Footing, FoundationWall, Joint};
use super::model::names::AreaOrSpace;
use super::model::openings::{Intake, Neighbour, Obstacle, Opening, WalkingSurface};
use super::model::papers::Variance;
use super::model::pipe::{Penetration, Run};
use super::model::readings::{CommunicationTest, TestHole};
use super::model::suction::SuctionPoint;
use super::model::systems::System;
use super::model::tests::RadonTest;
use super::read::Design;
use crate::base::text::Span;
use crate::base::value::EntryPath;
use crate::yaml::entry::{Entry, Met, Named};
use crate::yaml::name::NameOf;
use crate::yaml::record::{Reads, walk_entry};

/// A thing with its name and the named thing it lies in.
#[derive(Debug, PartialEq)]
pub struct Thing<'a, T> {
    /// The name of the thing it lies in: the system of a run, the neighbour of an opening.
    pub within: Option<&'a str>,
    /// Its name.
    pub name: &'a str,
    /// Where its name stands.
    pub at: Span,
    /// Its path from the top of the file.
    pub path: &'a EntryPath,
    /// What is said of it.
    pub thing: &'a T,
}

impl<T> Clone for Thing<'_, T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Thing<'_, T> {}

/// The things of one list. Those of which `none` is written are left out.
pub fn listed<'a, T>(
    list: &'a Entry<Named<T>>,
    within: Option<&'a str>,
) -> impl Iterator<Item = Thing<'a, T>> {
    list.known().into_iter().flat_map(|list| &list.items).filter_map(move |item| {
        let thing = item.state.known()?;
        Some(Thing { within, name: &item.name, at: item.name_at, path: &item.path, thing })
    })
}

macro_rules! lists {
    ($($(#[doc = $doc:literal])+ $list:ident: $T:ty = $($part:ident).+;)+) => {
        impl Design {
            $($(#[doc = $doc])+
            pub fn $list(&self) -> impl Iterator<Item = Thing<'_, $T>> {
                listed(&self.$($part).+, None)
            })+
        }
    };
}

lists! {
    /// Spaces of the building.
    spaces: Space = building.spaces;
    /// Ways between spaces.
    passages: Passage = building.passages;
    /// Openings of the building.
    openings: Opening = building.openings;
    /// Mechanical air intakes.
    intakes: Intake = building.intakes;
    /// Chimneys and vents that end outdoors.
    chimneys: Chimney = building.chimneys;
    /// Places where people stand or walk outdoors.
    walking_surfaces: WalkingSurface = building.walking_surfaces;
    /// Neighbouring units and buildings.
    neighbours: Neighbour = building.neighbours;
    /// Solid things that stand about the discharge.
    obstacles: Obstacle = building.obstacles;
    /// Appliances that burn fuel.
    appliances: Appliance = building.appliances;
    /// Fire-rated walls, floors and ceilings.
    fire_rated: FireRated = building.fire_rated;
    /// Areas of the foundation.
    areas: Area = foundation.areas;
    /// Footings and beams that divide the fill.
    footings: Footing = foundation.footings;
    /// Foundation walls.
    walls: FoundationWall = foundation.walls;
    /// Drains.
    drains: Drain = foundation.drains;
    /// Drain loops.
    drain_loops: DrainLoop = foundation.drain_loops;
    /// Sumps.
    sumps: Sump = foundation.sumps;
    /// Cracks, joints and holes.
    joints: Joint = foundation.joints;
    /// Ducts in or under the floor.
    ducts: Duct = foundation.ducts;
    /// Systems.
    all_systems: System = systems;
    /// Communication tests.
    communication_tests: CommunicationTest = diagnostics.communication;
    /// Radon tests.
    tests: RadonTest = radon_tests;
    /// Permitted departures.
    all_variances: Variance = variances;
}

impl Design {
    /// Every entry of the design, missing ones too, the outer before the inner.
    #[must_use]
    pub fn entries(&self) -> Vec<Met> {
        let mut met = Vec::new();
        let mut meet = |entry| met.push(entry);
        walk_entry(&self.version, &self.here, &mut meet);
        self.job.walk(&mut meet);
        self.site.walk(&mut meet);
        self.looked_for.walk(&mut meet);
        self.before_drilling.walk(&mut meet);
        self.building.walk(&mut meet);
        self.foundation.walk(&mut meet);
        walk_entry(&self.systems, &self.here, &mut meet);
        self.seals.walk(&mut meet);
        self.diagnostics.walk(&mut meet);
        self.start_up.walk(&mut meet);
        walk_entry(&self.rounds, &self.here, &mut meet);
        walk_entry(&self.radon_tests, &self.here, &mut meet);
        self.papers.walk(&mut meet);
        walk_entry(&self.variances, &self.here, &mut meet);
        walk_entry(&self.checked, &self.here, &mut meet);
        walk_entry(&self.notes, &self.here, &mut meet);
        met
    }

    /// Runs of pipe of all systems.
    pub fn runs(&self) -> impl Iterator<Item = Thing<'_, Run>> {
        self.all_systems().flat_map(|system| listed(&system.thing.runs, Some(system.name)))
    }

    /// Suction points of all systems.
    pub fn suction_points(&self) -> impl Iterator<Item = Thing<'_, SuctionPoint>> {
        self.all_systems().flat_map(|system| listed(&system.thing.suction_points, Some(system.name)))
    }

    /// Labels of all systems.
    pub fn labels(&self) -> impl Iterator<Item = Thing<'_, Label>> {
        self.all_systems().flat_map(|system| listed(&system.thing.labels, Some(system.name)))
    }

    /// Places where runs go through something, each within its run.
    pub fn penetrations(&self) -> impl Iterator<Item = Thing<'_, Penetration>> {
        self.runs().flat_map(|run| listed(&run.thing.pierces, Some(run.name)))
    }

    /// Openings and intakes of neighbours.
    pub fn neighbour_openings(&self) -> impl Iterator<Item = Thing<'_, Opening>> {
        self.neighbours().flat_map(|neighbour| listed(&neighbour.thing.openings, Some(neighbour.name)))
    }

    /// Collectors of all areas.
    pub fn collectors(&self) -> impl Iterator<Item = Thing<'_, Collector>> {
        self.areas().flat_map(|area| listed(&area.thing.collectors, Some(area.name)))
    }

    /// Small holes of all communication tests.
    pub fn test_holes(&self) -> impl Iterator<Item = Thing<'_, TestHole>> {
        self.communication_tests().flat_map(|test| listed(&test.thing.holes, Some(test.name)))
    }

    /// The space over an area: the one it names, else the one of the same name.
    #[must_use]
    pub fn space_over<'a>(&'a self, area: Thing<'a, Area>) -> Option<Thing<'a, Space>> {
        let name = match area.thing.space.known() {
            Some(name) => name.as_str(),
            None if area.thing.space.is_missing() => area.name,
            None => return None,
        };
        self.spaces().find(|space| space.name == name)
    }

    /// The area that a reference means, if it means one. An area goes before a space of the same name.
    #[must_use]
    pub fn area_of(&self, reference: &NameOf<AreaOrSpace>) -> Option<Thing<'_, Area>> {
        self.areas().find(|area| area.name == reference.as_str())
    }

    /// The space that a reference means: that over the area it means, else the one of that name.
    #[must_use]
    pub fn space_of(&self, reference: &NameOf<AreaOrSpace>) -> Option<Thing<'_, Space>> {
        match self.area_of(reference) {
            Some(area) => self.space_over(area),
            None => self.spaces().find(|space| space.name == reference.as_str()),
        }
    }
}

/// The thing that a name means, seen from within a thing (`within`) or from elsewhere (`None`): of that very name
/// there, or named in full, `main.riser`.
pub fn find<'a, T>(
    mut things: impl Iterator<Item = Thing<'a, T>>,
    name: &str,
    within: Option<&str>,
) -> Option<Thing<'a, T>> {
    things.find(|thing| {
        let here = within.is_none() || thing.within.is_none() || thing.within == within;
        let in_full = |outer: &str| {
            name.strip_prefix(outer).and_then(|rest| rest.strip_prefix('.')) == Some(thing.name)
        };
        (here && thing.name == name) || thing.within.is_some_and(in_full)
    })
}
