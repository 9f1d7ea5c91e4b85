//! Facts of the design as a whole: its sections, and the lists of things in it.
//!
//! What we build is complete as written, once the list is there. What the building has is complete only where
//! somebody says that it was looked for.

use crate::base::number::Ratio;
use crate::base::value::{Answer, Listed, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::design::model::building::Building;
use crate::design::model::foundation::{AreaKind, Foundation};
use crate::design::model::systems::System;
use crate::yaml::entry::{Entry, Here, Named, State};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get};
use super::heights;
use super::kinds::Kind;
use super::looked::{self, Statement};
use super::neighbours;
use super::outlet;
use super::places;
use super::roofs;
use super::system;
use super::things::{after_start_up, thing};

/// What is lacking of an entry for its list to be complete as written.
pub(super) fn lacking<'d, T>(ask: &mut Ask<'d>, of: &'d Here, entry: &'d Entry<T>) -> Vec<Missing> {
    match ask.read(of, entry) {
        Answer::Known { .. } => cut_short(of, entry),
        Answer::Unknown(missing) => missing,
    }
}

/// What is lacking of a list that a fault in the file cut short: that it can be read to its end.
pub(super) fn cut_short<T>(of: &Here, entry: &Entry<T>) -> Vec<Missing> {
    if entry.whole { Vec::new() } else { vec![Missing { reason: Reason::CutOff, ..entry.want(of) }] }
}

fn list(ask: &Ask<'_>, kind: Kind, open: Vec<Missing>) -> Answer<Listed<Thing>> {
    Answer::known(Listed::open(ask.things().all(kind), open))
}

/// What is lacking of all systems; `each` says what is lacking of one.
pub(super) fn of_systems<'d>(
    ask: &mut Ask<'d>,
    each: impl Fn(&mut Ask<'d>, &'d System, u32) -> Vec<Missing>,
) -> Vec<Missing> {
    let design = ask.design();
    let open = lacking(ask, &design.here, &design.systems);
    let systems: Vec<&'d System> = ask.things().systems.iter().map(|system| system.it).collect();
    systems.into_iter().zip(0..).fold(open, |open, (system, number)| unite(open, each(ask, system, number)))
}

fn systems_list(
    ask: &mut Ask<'_>,
    kind: Kind,
    each: impl for<'d> Fn(&mut Ask<'d>, &'d System, u32) -> Vec<Missing>,
) -> Answer<Listed<Thing>> {
    let open = of_systems(ask, each);
    list(ask, kind, open)
}

fn in_building<T: 'static>(
    ask: &mut Ask<'_>,
    kind: Kind,
    get: fn(&Building) -> &Entry<Named<T>>,
    statement: Statement,
) -> Answer<Listed<Thing>> {
    let building = &ask.design().building;
    looked::list_of(ask, kind, (&building.here, get(building)), statement)
}

fn in_foundation<T: 'static>(
    ask: &mut Ask<'_>,
    kind: Kind,
    get: fn(&Foundation) -> &Entry<Named<T>>,
    statement: Statement,
) -> Answer<Listed<Thing>> {
    let foundation = &ask.design().foundation;
    looked::list_of(ask, kind, (&foundation.here, get(foundation)), statement)
}

/// A list of things seen from the discharges, of which something more is lacking before it is complete: that the
/// discharges are all there, and what else is given. Where anything is, how far the others lie cannot be told.
fn seen(ask: &mut Ask<'_>, things: Answer<Listed<Thing>>, more: Vec<Missing>) -> Answer<Listed<Thing>> {
    let discharges = of_systems(ask, |ask, system, _| lacking(ask, &system.here, &system.discharge));
    let more = unite(more, discharges);
    things.map(|things| match more.is_empty() {
        true => things,
        false => Listed::open(things.items, unite(things.open, more)),
    })
}

fn openings(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let found = in_building(ask, Kind::Opening, |b| &b.openings, |l| &l.openings);
    seen(ask, found, Vec::new())
}

fn neighbour_openings(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let statement: Statement = |looked| &looked.neighbours;
    let found = in_building(ask, Kind::NeighbourOpening, |b| &b.neighbours, statement);
    let neighbours = ask.things().neighbours.clone();
    let mut open = Vec::new();
    let mut no_nearer = Vec::new();
    for neighbour in neighbours {
        if ask.read(&neighbour.here, &neighbour.openings).value() == Some(None) {
            continue;
        }
        match ask.yes_or_no(&neighbour.here, &neighbour.openings_complete) {
            Answer::Known { value: true, .. } => continue,
            Answer::Known { .. } => open.push(neighbours::not_complete(neighbour)),
            Answer::Unknown(missing) => open = unite(open, missing),
        }
        no_nearer.push(neighbours::no_nearer(ask, neighbour));
    }
    let so_far: Option<Vec<Ratio>> = no_nearer.into_iter().collect();
    let beyond = so_far.filter(|_| !open.is_empty()).and_then(|far| far.into_iter().min());
    let Some(beyond) = beyond else { return seen(ask, found, open) };
    // What is not listed of them is no nearer than the nearest of those buildings.
    let listed = seen(ask, found, Vec::new());
    listed.map(|listed| looked::and_others(listed, Kind::NeighbourOpening, open, beyond))
}

fn walls_above_roof(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let building = &ask.design().building;
    let walls = ask
        .read_inside(&building.here, &building.roof, "walls_above", |roof| (&roof.here, &roof.walls_above));
    let cut_short = building.roof.known().map(|roof| cut_short(&roof.here, &roof.walls_above));
    let walls = walls.map(|walls| walls.is_some());
    let found =
        looked::listed_as(ask, Kind::WallAboveRoof, walls, cut_short.unwrap_or_default(), |l| &l.walls_above);
    seen(ask, found, Vec::new())
}

/// What is lacking for the list of membranes: for each area of bare soil, whether a membrane lies over it.
fn membranes(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let foundation = &ask.design().foundation;
    let mut open = lacking(ask, &foundation.here, &foundation.areas);
    let areas: Vec<_> = ask.things().areas.iter().map(|area| area.it).collect();
    for area in areas {
        let kind = ask.read(&area.here, &area.kind).value().flatten();
        let bare = !matches!(kind, Some(AreaKind::Slab | AreaKind::GarageSlab | AreaKind::Porch));
        if bare {
            open = unite(open, lacking(ask, &area.here, &area.membrane));
        }
    }
    list(ask, Kind::Membrane, open)
}

/// What is lacking for the list of sheets: for each slab, whether one lies under it.
fn sheets(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let foundation = &ask.design().foundation;
    let mut open = lacking(ask, &foundation.here, &foundation.areas);
    let areas: Vec<_> = ask.things().areas.iter().map(|area| area.it).collect();
    for area in areas {
        let kind = ask.read(&area.here, &area.kind).value().flatten();
        if !matches!(kind, Some(AreaKind::Crawlspace | AreaKind::EarthFloor | AreaKind::Piers)) {
            open = unite(open, super::sheets::lacking(ask, area));
        }
    }
    list(ask, Kind::Sheet, open)
}

fn areas(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    in_foundation(ask, Kind::Area, |it| &it.areas, |l| &l.areas)
}

fn penetrations(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let mut open = of_systems(ask, |ask, system, _| lacking(ask, &system.here, &system.runs));
    let runs: Vec<_> = ask.things().runs.iter().map(|run| run.it).collect();
    for run in runs {
        open = unite(open, lacking(ask, &run.here, &run.pierces));
    }
    list(ask, Kind::Penetration, open)
}

fn tests(ask: &mut Ask<'_>) -> Answer<Listed<Thing>> {
    let design = ask.design();
    let mut open = lacking(ask, &design.here, &design.radon_tests);
    for (_, test) in design.radon_tests.things() {
        if after_start_up(test).is_none() {
            open = unite(open, lacking(ask, &test.here, &test.when));
        }
    }
    list(ask, Kind::Test, open)
}

/// The statements of `looked_for` and the lists they speak of.
const TESTS: Entries = &["radon_tests", "radon_tests.*.when"];

/// What every list of a system's things is read from.
const SYSTEMS: Entries = &["systems"];

/// What tells which discharges there are.
const DISCHARGES: Entries = &["systems", "systems.*.discharge"];

const fn one(name: &'static str, meaning: &'static str, kind: Kind, get: OneOf) -> Fact {
    Fact::stated(Kind::Design, name, meaning, &[], Get::One(kind, get))
}

type OneOf = fn(&mut Ask<'_>, Thing) -> Answer<Thing>;

const fn several(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    kind: Kind,
    get: ListOf,
) -> Fact {
    Fact::stated(Kind::Design, name, meaning, needs, Get::Things(kind, get))
}

type ListOf = fn(&mut Ask<'_>, Thing) -> Answer<Listed<Thing>>;

/// Facts of the whole.
pub(super) const WHOLE: &[Fact] = &[
    one("job", "What the work is, for whom and at which stage.", Kind::Job, |_, _| {
        Answer::known(thing(Kind::Job, 0))
    }),
    one("site", "The place the building stands on.", Kind::Site, |_, _| Answer::known(thing(Kind::Site, 0))),
    one("building", "The building that is to be protected.", Kind::Building, |_, _| {
        Answer::known(thing(Kind::Building, 0))
    }),
    one("before_drilling", "What has to be known before the first hole.", Kind::BeforeDrilling, |_, _| {
        Answer::known(thing(Kind::BeforeDrilling, 0))
    }),
    one("papers", "What is handed over and kept in writing.", Kind::Papers, |_, _| {
        Answer::known(thing(Kind::Papers, 0))
    }),
    several("systems", "The systems; complete as written.", &[SYSTEMS], Kind::System, |ask, _| {
        systems_list(ask, Kind::System, |_, _, _| Vec::new())
    }),
    several(
        "discharges",
        "The discharges of all systems; complete as written.",
        &[DISCHARGES],
        Kind::Discharge,
        |ask, _| {
            systems_list(ask, Kind::Discharge, |ask, system, _| lacking(ask, &system.here, &system.discharge))
        },
    ),
    several(
        "fans",
        "The fans of all systems; complete as written, and a passive system has none.",
        &[SYSTEMS, system::FAN],
        Kind::Fan,
        |ask, _| systems_list(ask, Kind::Fan, |ask, system, _| system::lacking_fan(ask, system)),
    ),
    several(
        "cords",
        "The cords of all fans; complete as written, and a fan wired without a plug has none.",
        &[SYSTEMS, system::FAN, system::CORD],
        Kind::Cord,
        |ask, _| systems_list(ask, Kind::Cord, |ask, system, _| system::lacking_cord(ask, system)),
    ),
    several(
        "circuits",
        "The circuits that feed the fans; complete as written.",
        &[SYSTEMS, system::FAN, system::CIRCUIT],
        Kind::Circuit,
        |ask, _| systems_list(ask, Kind::Circuit, |ask, system, _| system::lacking_circuit(ask, system)),
    ),
    several(
        "runs",
        "The runs of all systems; complete as written.",
        &[SYSTEMS, &["systems.*.runs"]],
        Kind::Run,
        |ask, _| systems_list(ask, Kind::Run, |ask, system, _| lacking(ask, &system.here, &system.runs)),
    ),
    several(
        "suction_points",
        "The suction points of all systems; complete as written.",
        &[SYSTEMS, &["systems.*.suction_points"]],
        Kind::SuctionPoint,
        |ask, _| {
            systems_list(ask, Kind::SuctionPoint, |ask, system, _| {
                lacking(ask, &system.here, &system.suction_points)
            })
        },
    ),
    several(
        "gauges",
        "The gauges and alarms of all systems; complete as written.",
        &[SYSTEMS, system::GAUGES],
        Kind::Gauge,
        |ask, _| systems_list(ask, Kind::Gauge, |ask, system, _| system::lacking_gauges(ask, system)),
    ),
    several(
        "labels",
        "The labels of all systems; complete as written.",
        &[SYSTEMS, &["systems.*.labels"]],
        Kind::Label,
        |ask, _| systems_list(ask, Kind::Label, |ask, system, _| lacking(ask, &system.here, &system.labels)),
    ),
    several(
        "levels",
        "The floor levels that the pipe of each system passes indoors.",
        &[SYSTEMS, system::LEVELS],
        Kind::Level,
        |ask, _| systems_list(ask, Kind::Level, system::lacking_levels),
    ),
    several(
        "penetrations",
        "The places where runs go through walls, floors, ceilings and roofs; complete as written.",
        &[SYSTEMS, &["systems.*.runs", "systems.*.runs.*.pierces"]],
        Kind::Penetration,
        |ask, _| penetrations(ask),
    ),
    several(
        "openings",
        "The openings of this building, each once for every discharge it is seen from; complete where they were looked for.",
        &[
            DISCHARGES,
            &[
                "building.openings",
                "looked_for.openings",
                "looked_for.openings.within",
                "looked_for.openings.not_seen",
            ],
        ],
        Kind::Opening,
        |ask, _| openings(ask),
    ),
    several(
        "neighbour_openings",
        "The openings of adjoining and adjacent buildings, each once for every discharge; complete where they were looked for.",
        &[
            DISCHARGES,
            &[
                "building.neighbours",
                "building.neighbours.*.openings",
                "building.neighbours.*.openings_complete",
                "building.neighbours.*.outline",
                "building.neighbours.*.from_discharge",
                "building.neighbours.*.from_discharge.**",
                "looked_for.neighbours",
                "looked_for.neighbours.within",
                "looked_for.neighbours.not_seen",
            ],
            outlet::FACING,
            places::PLACES,
            outlet::WIDTH,
            roofs::EDGES,
            roofs::SLOPES,
            heights::GROUND,
        ],
        Kind::NeighbourOpening,
        |ask, _| neighbour_openings(ask),
    ),
    several(
        "intakes",
        "The mechanical air intakes, each once for every discharge; complete where they were looked for.",
        &[
            DISCHARGES,
            &[
                "building.intakes",
                "looked_for.intakes",
                "looked_for.intakes.within",
                "looked_for.intakes.not_seen",
            ],
        ],
        Kind::Intake,
        |ask, _| {
            let found = in_building(ask, Kind::Intake, |b| &b.intakes, |l| &l.intakes);
            seen(ask, found, Vec::new())
        },
    ),
    several(
        "chimneys",
        "The chimneys and vents that end outdoors, each once for every discharge; complete where they were looked for.",
        &[
            DISCHARGES,
            &[
                "building.chimneys",
                "looked_for.chimneys",
                "looked_for.chimneys.within",
                "looked_for.chimneys.not_seen",
            ],
        ],
        Kind::Chimney,
        |ask, _| {
            let found = in_building(ask, Kind::Chimney, |b| &b.chimneys, |l| &l.chimneys);
            seen(ask, found, Vec::new())
        },
    ),
    several(
        "walls_above_roof",
        "The walls that rise above the roof, each once for every discharge; complete where they were looked for.",
        &[
            DISCHARGES,
            &[
                "building.roof.walls_above",
                "looked_for.walls_above",
                "looked_for.walls_above.within",
                "looked_for.walls_above.not_seen",
            ],
        ],
        Kind::WallAboveRoof,
        |ask, _| walls_above_roof(ask),
    ),
    several(
        "walking_surfaces",
        "The outdoor floors on which people stand, each once for every discharge; complete where they were looked for.",
        &[
            DISCHARGES,
            &[
                "building.walking_surfaces",
                "looked_for.walking_surfaces",
                "looked_for.walking_surfaces.within",
                "looked_for.walking_surfaces.not_seen",
            ],
        ],
        Kind::WalkingSurface,
        |ask, _| {
            let statement: Statement = |l| &l.walking_surfaces;
            let found = in_building(ask, Kind::WalkingSurface, |b| &b.walking_surfaces, statement);
            seen(ask, found, Vec::new())
        },
    ),
    several(
        "spaces",
        "The spaces of the building and the open air; complete where they were looked for.",
        &[&[
            "building.spaces",
            "looked_for.spaces",
            "looked_for.spaces.within",
            "looked_for.spaces.not_seen",
        ]],
        Kind::Space,
        |ask, _| in_building(ask, Kind::Space, |b| &b.spaces, |l| &l.spaces),
    ),
    several(
        "appliances",
        "The appliances that burn fuel; complete where they were looked for.",
        &[&[
            "building.appliances",
            "looked_for.appliances",
            "looked_for.appliances.within",
            "looked_for.appliances.not_seen",
        ]],
        Kind::Appliance,
        |ask, _| in_building(ask, Kind::Appliance, |b| &b.appliances, |l| &l.appliances),
    ),
    several(
        "areas",
        "The areas of the foundation; complete where they were looked for.",
        &[&["foundation.areas", "looked_for.areas", "looked_for.areas.within", "looked_for.areas.not_seen"]],
        Kind::Area,
        |ask, _| areas(ask),
    ),
    several(
        "membranes",
        "The membranes over bare soil; complete when every such area says whether it has one.",
        &[&["foundation.areas", "foundation.areas.*.kind", "foundation.areas.*.membrane"]],
        Kind::Membrane,
        |ask, _| membranes(ask),
    ),
    several(
        "sheets",
        "The sheets under slabs; complete when every slab says whether it has one.",
        &[&["foundation.areas", "foundation.areas.*.kind", "foundation.areas.*.under_slab.sheet"]],
        Kind::Sheet,
        |ask, _| sheets(ask),
    ),
    several(
        "walls",
        "The foundation walls; complete where they were looked for.",
        &[&["foundation.walls", "looked_for.walls", "looked_for.walls.within", "looked_for.walls.not_seen"]],
        Kind::Wall,
        |ask, _| in_foundation(ask, Kind::Wall, |it| &it.walls, |l| &l.walls),
    ),
    several(
        "passages",
        "The ways between spaces; complete where they were looked for.",
        &[&[
            "building.passages",
            "looked_for.passages",
            "looked_for.passages.within",
            "looked_for.passages.not_seen",
        ]],
        Kind::Passage,
        |ask, _| in_building(ask, Kind::Passage, |b| &b.passages, |l| &l.passages),
    ),
    several(
        "ducts",
        "The ducts in or under the floor or in the crawlspace; complete where they were looked for.",
        &[&["foundation.ducts", "looked_for.ducts", "looked_for.ducts.within", "looked_for.ducts.not_seen"]],
        Kind::Duct,
        |ask, _| in_foundation(ask, Kind::Duct, |it| &it.ducts, |l| &l.ducts),
    ),
    several(
        "air_movers",
        "What moves air besides the systems; complete where it was looked for.",
        &[&[
            "building.air_movers",
            "looked_for.air_movers",
            "looked_for.air_movers.within",
            "looked_for.air_movers.not_seen",
        ]],
        Kind::AirMover,
        |ask, _| in_building(ask, Kind::AirMover, |b| &b.air_movers, |l| &l.air_movers),
    ),
    several(
        "sumps",
        "The sumps; complete where they were looked for.",
        &[&["foundation.sumps", "looked_for.sumps", "looked_for.sumps.within", "looked_for.sumps.not_seen"]],
        Kind::Sump,
        |ask, _| in_foundation(ask, Kind::Sump, |it| &it.sumps, |l| &l.sumps),
    ),
    several(
        "drains",
        "The drains; complete where they were looked for.",
        &[&[
            "foundation.drains",
            "looked_for.drains",
            "looked_for.drains.within",
            "looked_for.drains.not_seen",
        ]],
        Kind::Drain,
        |ask, _| in_foundation(ask, Kind::Drain, |it| &it.drains, |l| &l.drains),
    ),
    several(
        "joints",
        "The joints, cracks and holes; complete where they were looked for.",
        &[&[
            "foundation.joints",
            "looked_for.joints",
            "looked_for.joints.within",
            "looked_for.joints.not_seen",
        ]],
        Kind::Joint,
        |ask, _| in_foundation(ask, Kind::Joint, |it| &it.joints, |l| &l.joints),
    ),
    several(
        "tests",
        "The tests of radon in air made after the system was started; complete as written.",
        &[TESTS],
        Kind::Test,
        |ask, _| tests(ask),
    ),
    several(
        "rounds",
        "The rounds after tests that did not come out; complete as written.",
        &[&["rounds"]],
        Kind::Round,
        |ask, _| {
            let design = ask.design();
            let open = lacking(ask, &design.here, &design.rounds);
            list(ask, Kind::Round, open)
        },
    ),
    several(
        "test_holes",
        "The holes at which pressure is read with the system running; complete as written.",
        &[&["start_up.field"]],
        Kind::TestHole,
        |ask, _| {
            let start_up = &ask.design().start_up;
            let open = lacking(ask, &start_up.here, &start_up.field);
            list(ask, Kind::TestHole, open)
        },
    ),
];

/// Whether an entry says that there is none.
pub(super) fn says_none<T>(entry: &Entry<T>) -> bool {
    matches!(entry.state, State::None)
}
