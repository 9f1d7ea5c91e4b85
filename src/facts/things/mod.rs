//! The things of a design: which there are, what each is called, where it stands.
//!
//! Some things come in pairs: an opening is a thing for each discharge it is seen from, so that several
//! systems can be judged one by one.

use crate::base::vocabulary::Thing;
use crate::design::Design;
use crate::design::model::appliances::{Appliance, Chimney};
use crate::design::model::building::{AirMover, Passage, Space, WallAbove};
use crate::design::model::controls::{Alarm, Gauge, Label};
use crate::design::model::drainage::{Drain, Sump};
use crate::design::model::fan::{CurvePoint, Discharge, Fan};
use crate::design::model::foundation::{Area, Collector, Duct, FoundationWall, Joint};
use crate::design::model::openings::{Intake, Neighbour, Opening, WalkingSurface};
use crate::design::model::papers::{Look, Paper};
use crate::design::model::pipe::{Penetration, Run, ShortPipe};
use crate::design::model::readings::{Round, TestHole};
use crate::design::model::site::Ground;
use crate::design::model::suction::SuctionPoint;
use crate::design::model::systems::System;
use crate::design::model::tests::{RadonTest, TestOf, TestWhen};
use crate::design::model::wiring::{Circuit, Cord, Receptacle};
use crate::yaml::entry::{Entry, Named};

use super::kinds::{KINDS, Kind};

mod asked;
mod called;

pub(super) use asked::{of, space_or_area};

/// One thing that stands in the file.
#[derive(Debug)]
pub struct Member<'d, T> {
    /// Its name in the file.
    pub name: &'d str,
    /// What is written of it.
    pub it: &'d T,
    /// The number of what it belongs to: its system, its run, or the discharge it is seen from.
    pub owner: u32,
}

impl<T> Clone for Member<'_, T> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<T> Copy for Member<'_, T> {}

/// A space of the file, or the open air.
#[derive(Clone, Copy, Debug)]
pub enum SpaceMember<'d> {
    /// One of the file.
    Named(&'d str, &'d Space),
    /// The open air.
    Outdoors,
}

/// What tells whether a system draws.
#[derive(Clone, Copy, Debug)]
pub enum Teller<'d> {
    /// A gauge.
    Gauge(&'d Gauge),
    /// An alarm.
    Alarm(&'d Alarm),
}

/// A storey through which a system's pipe passes.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct StoreyOf {
    /// The number of the system.
    pub system: u32,
    /// The storey, as the file counts them.
    pub storey: u32,
}

/// A stretch of a fan's curve.
#[derive(Clone, Copy, Debug)]
pub struct PieceOf<'d> {
    /// The number of the fan.
    pub fan: u32,
    /// Its ends, in the order they are written.
    pub ends: (&'d CurvePoint, &'d CurvePoint),
}

/// The things of a design, by kind, in the order they are written.
pub struct Things<'d> {
    pub(super) design: &'d Design,
    pub(super) spaces: Vec<SpaceMember<'d>>,
    pub(super) openings: Vec<Member<'d, Opening>>,
    pub(super) neighbour_openings: Vec<Member<'d, Opening>>,
    pub(super) neighbours: Vec<&'d Neighbour>,
    pub(super) intakes: Vec<Member<'d, Intake>>,
    pub(super) chimneys: Vec<Member<'d, Chimney>>,
    pub(super) walls_above: Vec<Member<'d, WallAbove>>,
    pub(super) walking_surfaces: Vec<Member<'d, WalkingSurface>>,
    pub(super) grounds: Vec<Member<'d, Ground>>,
    pub(super) appliances: Vec<Member<'d, Appliance>>,
    pub(super) areas: Vec<Member<'d, Area>>,
    pub(super) membranes: Vec<Member<'d, Area>>,
    pub(super) collectors: Vec<Member<'d, Collector>>,
    pub(super) sheets: Vec<Member<'d, Area>>,
    pub(super) walls: Vec<Member<'d, FoundationWall>>,
    pub(super) passages: Vec<Member<'d, Passage>>,
    pub(super) ducts: Vec<Member<'d, Duct>>,
    pub(super) air_movers: Vec<Member<'d, AirMover>>,
    pub(super) sumps: Vec<Member<'d, Sump>>,
    pub(super) drains: Vec<Member<'d, Drain>>,
    pub(super) joints: Vec<Member<'d, Joint>>,
    pub(super) systems: Vec<Member<'d, System>>,
    pub(super) discharges: Vec<Member<'d, Discharge>>,
    pub(super) fans: Vec<Member<'d, Fan>>,
    pub(super) curve_pieces: Vec<PieceOf<'d>>,
    pub(super) cords: Vec<Member<'d, Cord>>,
    pub(super) circuits: Vec<Member<'d, Circuit>>,
    pub(super) receptacles: Vec<Member<'d, Receptacle>>,
    pub(super) runs: Vec<Member<'d, Run>>,
    pub(super) penetrations: Vec<Member<'d, Penetration>>,
    pub(super) suction_points: Vec<Member<'d, SuctionPoint>>,
    pub(super) rough_in: Option<&'d ShortPipe>,
    pub(super) gauges: Vec<(&'d str, Teller<'d>, u32)>,
    pub(super) looks: Vec<Member<'d, Look>>,
    pub(super) labels: Vec<Member<'d, Label>>,
    pub(super) levels: Vec<StoreyOf>,
    pub(super) tests: Vec<Member<'d, RadonTest>>,
    pub(super) rounds: Vec<Member<'d, Round>>,
    pub(super) papers: Vec<Member<'d, Paper>>,
    pub(super) test_holes: Vec<Member<'d, TestHole>>,
}

/// The number of something, by its place in a list.
fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// The things of a list, all belonging to the same owner.
fn members<'d, T>(list: Option<&'d Entry<Named<T>>>, owner: u32) -> Vec<Member<'d, T>> {
    list.into_iter().flat_map(Entry::things).map(|(name, it)| Member { name, it, owner }).collect()
}

/// The one thing a system may have, under the system's name.
fn single<'d, T>(
    systems: &[Member<'d, System>],
    get: impl Fn(&'d System) -> Option<&'d T>,
) -> Vec<Member<'d, T>> {
    systems
        .iter()
        .enumerate()
        .filter_map(|(at, system)| Some(Member { name: system.name, it: get(system.it)?, owner: number(at) }))
        .collect()
}

/// The things of every system.
fn each<'d, T>(
    systems: &[Member<'d, System>],
    get: impl Fn(&'d System) -> &'d Entry<Named<T>>,
) -> Vec<Member<'d, T>> {
    systems.iter().enumerate().flat_map(|(at, system)| members(Some(get(system.it)), number(at))).collect()
}

/// Things once for every discharge.
fn seen<'d, T>(discharges: usize, list: impl Fn(u32) -> Vec<Member<'d, T>>) -> Vec<Member<'d, T>> {
    (0..discharges).flat_map(|at| list(number(at))).collect()
}

/// Whether a test is one made after start-up; unknown when its occasion is not stated.
pub(super) fn after_start_up(test: &RadonTest) -> Option<bool> {
    if matches!(test.of.known(), Some(TestOf::Water | TestOf::Vapours)) {
        return Some(false);
    }
    test.when.known().map(|when| matches!(when, TestWhen::After | TestWhen::Retest))
}

impl<'d> Things<'d> {
    /// The things of a design.
    #[must_use]
    pub fn of(design: &'d Design) -> Self {
        let building = &design.building;
        let foundation = &design.foundation;
        let systems = members(Some(&design.systems), 0);
        let mut spaces: Vec<SpaceMember<'d>> =
            building.spaces.things().map(|(name, space)| SpaceMember::Named(name, space)).collect();
        spaces.push(SpaceMember::Outdoors);
        let discharges = single(&systems, |system| system.discharge.known());
        let fans = single(&systems, |system| system.fan.known());
        let runs = each(&systems, |system| &system.runs);
        let seen_by = discharges.len();
        let roof = building.roof.known();
        let areas = members(Some(&foundation.areas), 0);
        let over = |has: fn(&Area) -> bool| -> Vec<Member<'d, Area>> {
            let all = areas.iter().enumerate().filter(|(_, area)| has(area.it));
            all.map(|(at, area)| Member { owner: number(at), ..*area }).collect()
        };
        let membranes = over(|area| area.membrane.known().is_some());
        let sheets = over(|area| area.under_slab.known().is_some_and(|under| under.sheet.known().is_some()));
        let neighbours: Vec<&'d Neighbour> = building.neighbours.things().map(|(_, it)| it).collect();
        let mut things = Things {
            design,
            openings: seen(seen_by, |by| members(Some(&building.openings), by)),
            neighbour_openings: seen(seen_by, |by| {
                neighbours.iter().flat_map(|it| members(Some(&it.openings), by)).collect()
            }),
            intakes: seen(seen_by, |by| members(Some(&building.intakes), by)),
            chimneys: seen(seen_by, |by| members(Some(&building.chimneys), by)),
            walls_above: seen(seen_by, |by| members(roof.map(|it| &it.walls_above), by)),
            walking_surfaces: seen(seen_by, |by| members(Some(&building.walking_surfaces), by)),
            grounds: seen(seen_by, |by| members(Some(&design.site.ground), by)),
            appliances: members(Some(&building.appliances), 0),
            collectors: areas
                .iter()
                .enumerate()
                .flat_map(|(at, area)| members(Some(&area.it.collectors), number(at)))
                .collect(),
            walls: members(Some(&foundation.walls), 0),
            passages: members(Some(&building.passages), 0),
            ducts: members(Some(&foundation.ducts), 0),
            air_movers: members(Some(&building.air_movers), 0),
            sumps: members(Some(&foundation.sumps), 0),
            drains: members(Some(&foundation.drains), 0),
            joints: members(Some(&foundation.joints), 0),
            curve_pieces: pieces(&fans),
            fans,
            cords: single(&systems, |system| system.wiring.known()?.cord.known()),
            circuits: single(&systems, |system| system.wiring.known()?.circuit.known()),
            receptacles: single(&systems, |system| system.wiring.known()?.receptacle.known()),
            penetrations: runs
                .iter()
                .enumerate()
                .flat_map(|(at, run)| members(Some(&run.it.pierces), number(at)))
                .collect(),
            suction_points: each(&systems, |system| &system.suction_points),
            rough_in: foundation.rough_in.known(),
            gauges: tellers(&systems),
            looks: members(design.papers.upkeep.known().map(|upkeep| &upkeep.looks), 0),
            labels: each(&systems, |system| &system.labels),
            tests: members(Some(&design.radon_tests), 0)
                .into_iter()
                .filter(|test| after_start_up(test.it) == Some(true))
                .collect(),
            rounds: members(Some(&design.rounds), 0),
            papers: members(Some(&design.papers.list), 0),
            test_holes: members(Some(&design.start_up.field), 0),
            levels: Vec::new(),
            neighbours,
            spaces,
            areas,
            membranes,
            sheets,
            systems,
            discharges,
            runs,
        };
        things.levels = things.stories_passed();
        things
    }

    /// The storeys that the pipe of each system passes, as far as they are stated.
    fn stories_passed(&self) -> Vec<StoreyOf> {
        let mut found: Vec<StoreyOf> = self
            .runs
            .iter()
            .flat_map(|run| run.it.through.members().map(move |space| (run.owner, space.as_str())))
            .filter_map(|(system, space)| match self.space(self.space_named(space)?)? {
                SpaceMember::Named(_, space) => Some(StoreyOf { system, storey: space.story.known()?.0 }),
                SpaceMember::Outdoors => None,
            })
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    }

    /// How many there are of a kind.
    #[must_use]
    pub fn count(&self, kind: Kind) -> usize {
        match kind {
            Kind::Design | Kind::Job | Kind::Site | Kind::Building | Kind::BeforeDrilling | Kind::Papers => 1,
            Kind::Space => self.spaces.len(),
            Kind::Opening => self.openings.len(),
            Kind::NeighbourOpening => self.neighbour_openings.len(),
            Kind::Intake => self.intakes.len(),
            Kind::Chimney => self.chimneys.len(),
            Kind::WallAboveRoof => self.walls_above.len(),
            Kind::WalkingSurface => self.walking_surfaces.len(),
            Kind::Ground => self.grounds.len(),
            Kind::Appliance => self.appliances.len(),
            Kind::Area => self.areas.len(),
            Kind::Membrane => self.membranes.len(),
            Kind::Collector => self.collectors.len(),
            Kind::Sheet => self.sheets.len(),
            Kind::Wall => self.walls.len(),
            Kind::Passage => self.passages.len(),
            Kind::Duct => self.ducts.len(),
            Kind::AirMover => self.air_movers.len(),
            Kind::Sump | Kind::SumpPump => self.sumps.len(),
            Kind::Drain => self.drains.len(),
            Kind::Joint => self.joints.len(),
            Kind::System => self.systems.len(),
            Kind::Discharge => self.discharges.len(),
            Kind::Fan => self.fans.len(),
            Kind::CurvePiece => self.curve_pieces.len(),
            Kind::Cord => self.cords.len(),
            Kind::Circuit => self.circuits.len(),
            Kind::Receptacle => self.receptacles.len(),
            Kind::Run => self.runs.len(),
            Kind::Penetration => self.penetrations.len(),
            Kind::SuctionPoint => self.suction_points.len(),
            Kind::RoughIn => usize::from(self.rough_in.is_some()),
            Kind::Gauge => self.gauges.len(),
            Kind::Look => self.looks.len(),
            Kind::Label => self.labels.len(),
            Kind::Level => self.levels.len(),
            Kind::Test => self.tests.len(),
            Kind::Round => self.rounds.len(),
            Kind::Paper => self.papers.len(),
            Kind::TestHole => self.test_holes.len(),
        }
    }

    /// All of a kind, in order.
    #[must_use]
    pub fn all(&self, kind: Kind) -> Vec<Thing> {
        (0..self.count(kind)).map(|at| thing(kind, number(at))).collect()
    }

    /// What a thing belongs to: the number of its system, its run, its area, or of the discharge it is seen
    /// from. Nothing for things that stand by themselves.
    #[must_use]
    pub fn owner(&self, of: Thing) -> Option<u32> {
        let at = of.number as usize;
        fn owner<T>(list: &[Member<'_, T>], at: usize) -> Option<u32> {
            list.get(at).map(|member| member.owner)
        }
        match kind_of(of)? {
            Kind::Opening => owner(&self.openings, at),
            Kind::NeighbourOpening => owner(&self.neighbour_openings, at),
            Kind::Intake => owner(&self.intakes, at),
            Kind::Chimney => owner(&self.chimneys, at),
            Kind::WallAboveRoof => owner(&self.walls_above, at),
            Kind::WalkingSurface => owner(&self.walking_surfaces, at),
            Kind::Ground => owner(&self.grounds, at),
            Kind::Membrane => owner(&self.membranes, at),
            Kind::Collector => owner(&self.collectors, at),
            Kind::Sheet => owner(&self.sheets, at),
            Kind::SumpPump => Some(of.number),
            Kind::Discharge => owner(&self.discharges, at),
            Kind::Fan => owner(&self.fans, at),
            Kind::Cord => owner(&self.cords, at),
            Kind::CurvePiece => self.curve_pieces.get(at).map(|piece| piece.fan),
            Kind::Circuit => owner(&self.circuits, at),
            Kind::Receptacle => owner(&self.receptacles, at),
            Kind::Run => owner(&self.runs, at),
            Kind::Penetration => owner(&self.penetrations, at),
            Kind::SuctionPoint => owner(&self.suction_points, at),
            Kind::Gauge => self.gauges.get(at).map(|(_, _, owner)| *owner),
            Kind::Label => owner(&self.labels, at),
            Kind::Level => self.levels.get(at).map(|level| level.system),
            _ => None,
        }
    }

    /// Those of a kind that belong to one owner.
    #[must_use]
    pub fn owned(&self, kind: Kind, owner: u32) -> Vec<Thing> {
        let all = (0..self.count(kind)).map(|at| thing(kind, number(at)));
        all.filter(|it| self.owner(*it) == Some(owner)).collect()
    }

    /// The discharge from which a thing is seen, where things are seen from one.
    #[must_use]
    pub fn seen_from(&self, of: Thing) -> Option<Thing> {
        self.owner(of).map(|owner| thing(Kind::Discharge, owner))
    }

    /// The system a thing belongs to, by way of its run or the discharge it is seen from.
    #[must_use]
    pub fn system_of(&self, of: Thing) -> Option<Thing> {
        let owner = self.owner(of)?;
        match kind_of(of)? {
            Kind::Opening
            | Kind::NeighbourOpening
            | Kind::Intake
            | Kind::Chimney
            | Kind::WallAboveRoof
            | Kind::WalkingSurface
            | Kind::Ground => self.system_of(thing(Kind::Discharge, owner)),
            Kind::Penetration => self.system_of(thing(Kind::Run, owner)),
            Kind::CurvePiece => self.system_of(thing(Kind::Fan, owner)),
            Kind::Membrane | Kind::Collector | Kind::Sheet | Kind::SumpPump => None,
            _ => Some(thing(Kind::System, owner)),
        }
    }

    /// The space of the file, or the open air.
    #[must_use]
    pub fn space(&self, it: Thing) -> Option<SpaceMember<'d>> {
        if it.kind == Kind::Space.id() { self.spaces.get(it.number as usize).copied() } else { None }
    }

    /// The space with this name; `outdoors` is the open air.
    #[must_use]
    pub fn space_named(&self, name: &str) -> Option<Thing> {
        let at = self.spaces.iter().position(|space| match space {
            SpaceMember::Named(own, _) => *own == name,
            SpaceMember::Outdoors => name == OUTDOORS,
        })?;
        Some(thing(Kind::Space, number(at)))
    }

    /// The thing of a kind with this name that belongs to this owner.
    #[must_use]
    pub fn named(&self, kind: Kind, owner: Option<u32>, name: &str) -> Option<Thing> {
        (0..self.count(kind))
            .map(|at| thing(kind, number(at)))
            .find(|it| self.bare_name(*it) == Some(name) && (owner.is_none() || self.owner(*it) == owner))
    }

    /// The membrane over an area.
    #[must_use]
    pub fn membrane_of(&self, area: Thing) -> Option<Thing> {
        self.owned(Kind::Membrane, area.number).first().copied()
    }

    /// The area under a membrane, or over a sheet.
    #[must_use]
    pub fn area_of_sheet(&self, sheet: Thing) -> Option<Thing> {
        self.owner(sheet).map(|area| thing(Kind::Area, area))
    }
}

const OUTDOORS: &str = "outdoors";

/// The stretches of the curve of every fan.
fn pieces<'d>(fans: &[Member<'d, Fan>]) -> Vec<PieceOf<'d>> {
    let of_fan = |(at, fan): (usize, &Member<'d, Fan>)| {
        let points: Vec<&'d CurvePoint> = fan.it.curve.members().collect();
        let ends = points.iter().copied().zip(points.iter().copied().skip(1)).collect::<Vec<_>>();
        ends.into_iter().map(move |ends| PieceOf { fan: number(at), ends })
    };
    fans.iter().enumerate().flat_map(of_fan).collect()
}

fn tellers<'d>(systems: &[Member<'d, System>]) -> Vec<(&'d str, Teller<'d>, u32)> {
    let mut found = Vec::new();
    for (at, system) in systems.iter().enumerate() {
        if let Some(gauge) = system.it.gauge.known() {
            found.push(("gauge", Teller::Gauge(gauge), number(at)));
        }
        if let Some(alarm) = system.it.alarm.known() {
            found.push(("alarm", Teller::Alarm(alarm), number(at)));
        }
    }
    found
}

/// The thing of a kind with a number.
pub(super) const fn thing(kind: Kind, number: u32) -> Thing {
    Thing { kind: kind.id(), number }
}

/// The kind of a thing.
pub(super) fn kind_of(it: Thing) -> Option<Kind> {
    KINDS.get(usize::from(it.kind.0)).map(|(kind, ..)| *kind)
}
