//! The tables of all kinds, in the order of the catalogue.

use super::catalogue::Fact;
use super::{
    bores, collectors, devices, discharge, fan, foundation, inlets, jackets, jet, job, layout, penetrations,
    radon_tests, rounds, runs, scope, seen, spaces, suction, system, water, whole, wiring,
};

/// Every table. The number of a fact is its place when they are laid end to end.
pub(super) const TABLES: &[&[Fact]] = &[
    whole::WHOLE,
    job::JOB,
    scope::SCOPE,
    job::BEFORE_DRILLING,
    spaces::SPACES,
    spaces::APPLIANCES,
    foundation::AREAS,
    layout::SERVED,
    collectors::LAYERS,
    collectors::COLLECTORS,
    foundation::MEMBRANES,
    water::SUMPS,
    water::DRAINS,
    water::JOINTS,
    system::SYSTEMS,
    suction::SUCTION_POINTS,
    layout::LAYOUT,
    inlets::INLETS,
    discharge::DISCHARGES,
    seen::OPENINGS,
    seen::OTHERS,
    jet::AHEAD,
    fan::FANS,
    wiring::WIRING,
    runs::RUNS,
    bores::BORES,
    jackets::JACKETS,
    penetrations::PENETRATIONS,
    devices::GAUGES,
    devices::LABELS,
    radon_tests::TESTS,
    radon_tests::PAPERS,
    rounds::ROUNDS,
];
