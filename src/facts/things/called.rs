//! What things are called, and where they stand.

use crate::base::vocabulary::Thing;
use crate::yaml::entry::Here;

use super::{KINDS, Kind, Member, OUTDOORS, SpaceMember, Teller, Things, kind_of, thing};

impl<'d> Things<'d> {
    pub(super) fn bare_name(&self, of: Thing) -> Option<&'d str> {
        let at = of.number as usize;
        fn name<'d, T>(list: &[Member<'d, T>], at: usize) -> Option<&'d str> {
            list.get(at).map(|member| member.name)
        }
        match kind_of(of)? {
            Kind::Space => match self.spaces.get(at)? {
                SpaceMember::Named(name, _) => Some(name),
                SpaceMember::Outdoors => Some(OUTDOORS),
            },
            Kind::Opening => name(&self.openings, at),
            Kind::NeighbourOpening => name(&self.neighbour_openings, at),
            Kind::Intake => name(&self.intakes, at),
            Kind::Chimney => name(&self.chimneys, at),
            Kind::WallAboveRoof => name(&self.walls_above, at),
            Kind::WalkingSurface => name(&self.walking_surfaces, at),
            Kind::Ground => name(&self.grounds, at),
            Kind::Appliance => name(&self.appliances, at),
            Kind::Area => name(&self.areas, at),
            Kind::Membrane => name(&self.membranes, at),
            Kind::Collector => name(&self.collectors, at),
            Kind::Sheet => name(&self.sheets, at),
            Kind::Wall => name(&self.walls, at),
            Kind::Passage => name(&self.passages, at),
            Kind::Duct => name(&self.ducts, at),
            Kind::AirMover => name(&self.air_movers, at),
            Kind::Sump | Kind::SumpPump => name(&self.sumps, at),
            Kind::Drain => name(&self.drains, at),
            Kind::Joint => name(&self.joints, at),
            Kind::System => name(&self.systems, at),
            Kind::Discharge => name(&self.discharges, at),
            Kind::Fan => name(&self.fans, at),
            Kind::Cord => name(&self.cords, at),
            Kind::Circuit => name(&self.circuits, at),
            Kind::Receptacle => name(&self.receptacles, at),
            Kind::Run => name(&self.runs, at),
            Kind::Penetration => name(&self.penetrations, at),
            Kind::SuctionPoint => name(&self.suction_points, at),
            Kind::Gauge => self.gauges.get(at).map(|(name, ..)| *name),
            Kind::Look => name(&self.looks, at),
            Kind::Label => name(&self.labels, at),
            Kind::Test => name(&self.tests, at),
            Kind::Round => name(&self.rounds, at),
            Kind::Paper => name(&self.papers, at),
            Kind::TestHole => name(&self.test_holes, at),
            Kind::Level
            | Kind::CurvePiece
            | Kind::RoughIn
            | Kind::Design
            | Kind::Job
            | Kind::Site
            | Kind::Building
            | Kind::BeforeDrilling
            | Kind::Papers => None,
        }
    }

    /// What a thing is called in a message.
    #[must_use]
    pub fn name(&self, of: Thing) -> String {
        let kind = KINDS.get(usize::from(of.kind.0)).map_or("", |(_, name, _)| *name);
        let Some(bare) = self.bare_name(of) else {
            return match self.levels.get(of.number as usize) {
                Some(level) if of.kind == Kind::Level.id() => format!("storey {}", level.storey),
                _ => kind.replace('_', " "),
            };
        };
        let several = self.systems.len() > 1;
        match kind_of(of) {
            Some(Kind::Discharge | Kind::Fan | Kind::Cord | Kind::Circuit | Kind::Receptacle) if several => {
                format!("{kind} of {bare}")
            }
            Some(Kind::Discharge | Kind::Fan | Kind::Cord | Kind::Circuit | Kind::Receptacle) => {
                kind.to_owned()
            }
            Some(Kind::Gauge) if several => {
                match self.system_of(of).and_then(|system| self.bare_name(system)) {
                    Some(system) => format!("{bare} of {system}"),
                    None => bare.to_owned(),
                }
            }
            Some(Kind::Membrane) => format!("{bare} membrane"),
            Some(Kind::Sheet) => format!("{bare} sheet"),
            Some(Kind::SumpPump) => format!("pump of {bare}"),
            Some(
                Kind::Opening
                | Kind::NeighbourOpening
                | Kind::Intake
                | Kind::Chimney
                | Kind::WallAboveRoof
                | Kind::WalkingSurface
                | Kind::Ground,
            ) if self.discharges.len() > 1 => {
                match self.system_of(of).and_then(|system| self.bare_name(system)) {
                    Some(system) => format!("{bare} from {system}"),
                    None => bare.to_owned(),
                }
            }
            _ => bare.to_owned(),
        }
    }

    /// Where a thing stands in the file; nothing for the open air.
    #[must_use]
    pub fn here(&self, of: Thing) -> Option<&'d Here> {
        let at = of.number as usize;
        match kind_of(of)? {
            Kind::Design => Some(&self.design.here),
            Kind::Job => Some(&self.design.job.here),
            Kind::Site => Some(&self.design.site.here),
            Kind::Building => Some(&self.design.building.here),
            Kind::BeforeDrilling => Some(&self.design.before_drilling.here),
            Kind::Papers => Some(&self.design.papers.here),
            Kind::Space => match self.spaces.get(at)? {
                SpaceMember::Named(_, space) => Some(&space.here),
                SpaceMember::Outdoors => None,
            },
            Kind::Opening => self.openings.get(at).map(|m| &m.it.here),
            Kind::NeighbourOpening => self.neighbour_openings.get(at).map(|m| &m.it.here),
            Kind::Intake => self.intakes.get(at).map(|m| &m.it.here),
            Kind::Chimney => self.chimneys.get(at).map(|m| &m.it.here),
            Kind::WallAboveRoof => self.walls_above.get(at).map(|m| &m.it.here),
            Kind::WalkingSurface => self.walking_surfaces.get(at).map(|m| &m.it.here),
            Kind::Ground => self.grounds.get(at).map(|m| &m.it.here),
            Kind::Appliance => self.appliances.get(at).map(|m| &m.it.here),
            Kind::Area => self.areas.get(at).map(|m| &m.it.here),
            Kind::Membrane => {
                let area = self.membranes.get(at)?.it;
                area.membrane.known().map(|membrane| &membrane.here)
            }
            Kind::Collector => self.collectors.get(at).map(|m| &m.it.here),
            Kind::Sheet => {
                let under = self.sheets.get(at)?.it.under_slab.known()?;
                under.sheet.known().map(|sheet| &sheet.here)
            }
            Kind::Wall => self.walls.get(at).map(|m| &m.it.here),
            Kind::Passage => self.passages.get(at).map(|m| &m.it.here),
            Kind::Duct => self.ducts.get(at).map(|m| &m.it.here),
            Kind::AirMover => self.air_movers.get(at).map(|m| &m.it.here),
            Kind::Sump | Kind::SumpPump => self.sumps.get(at).map(|m| &m.it.here),
            Kind::Drain => self.drains.get(at).map(|m| &m.it.here),
            Kind::Joint => self.joints.get(at).map(|m| &m.it.here),
            Kind::System => self.systems.get(at).map(|m| &m.it.here),
            Kind::Discharge => self.discharges.get(at).map(|m| &m.it.here),
            Kind::Fan => self.fans.get(at).map(|m| &m.it.here),
            Kind::CurvePiece => self.here(thing(Kind::Fan, self.curve_pieces.get(at)?.fan)),
            Kind::Cord => self.cords.get(at).map(|m| &m.it.here),
            Kind::Circuit => self.circuits.get(at).map(|m| &m.it.here),
            Kind::Receptacle => self.receptacles.get(at).map(|m| &m.it.here),
            Kind::Run => self.runs.get(at).map(|m| &m.it.here),
            Kind::Penetration => self.penetrations.get(at).map(|m| &m.it.here),
            Kind::SuctionPoint => self.suction_points.get(at).map(|m| &m.it.here),
            Kind::RoughIn => self.rough_in.map(|it| &it.here),
            Kind::Gauge => match self.gauges.get(at)?.1 {
                Teller::Gauge(gauge) => Some(&gauge.here),
                Teller::Alarm(alarm) => Some(&alarm.here),
            },
            Kind::Look => self.looks.get(at).map(|m| &m.it.here),
            Kind::Label => self.labels.get(at).map(|m| &m.it.here),
            Kind::Level => self.here(thing(Kind::System, self.levels.get(at)?.system)),
            Kind::Test => self.tests.get(at).map(|m| &m.it.here),
            Kind::Round => self.rounds.get(at).map(|m| &m.it.here),
            Kind::Paper => self.papers.get(at).map(|m| &m.it.here),
            Kind::TestHole => self.test_holes.get(at).map(|m| &m.it.here),
        }
    }
}
