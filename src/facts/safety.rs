//! Facts of what comes before the work and goes with it: diagnosis, codes, a temporary system, and the safety of those who
//! do the work.

use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::Answer;
use crate::base::vocabulary::Thing;
use crate::design::model::job::{Job, WorkerSafety};
use crate::yaml::entry::{Entry, Here};

use super::ask::Ask;
use super::catalogue::{Entries, Fact, Get};
use super::kinds::Kind;
use super::radon_tests::{CALENDAR, SECONDS_OF_A_DAY};

/// Whether an entry of the job says something.
fn says<'d, T>(ask: &mut Ask<'d>, get: fn(&'d Job) -> &'d Entry<T>) -> Answer<bool> {
    let job = &ask.design().job;
    ask.is_there(&job.here, get(job))
}

/// A yes or no of how the workers are kept safe.
fn safe<'d>(
    ask: &mut Ask<'d>,
    key: &'static str,
    get: fn(&'d WorkerSafety) -> &'d Entry<bool>,
) -> Answer<bool> {
    let job = &ask.design().job;
    ask.yes_or_no_inside(&job.here, &job.worker_safety, key, |it| (&it.here, get(it)))
}

/// Whether anything is written of how the workers are kept safe, under one key.
fn kept<'d, T>(
    ask: &mut Ask<'d>,
    key: &'static str,
    get: fn(&'d WorkerSafety) -> (&'d Here, &'d Entry<T>),
) -> Answer<bool> {
    let job = &ask.design().job;
    ask.read_inside(&job.here, &job.worker_safety, key, get).map(|value| value.is_some())
}

const fn of_job(
    name: &'static str,
    meaning: &'static str,
    needs: &'static [Entries],
    get: fn(&mut Ask<'_>, Thing) -> Answer<bool>,
) -> Fact {
    Fact::stated(Kind::Job, name, meaning, needs, Get::Truth(get))
}

/// Facts of the job that concern its beginning and the safety of workers.
pub(super) const SAFETY: &[Fact] = &[
    of_job(
        "codes_named",
        "Whether the codes adopted where the building stands are named.",
        &[&["job.codes"]],
        |ask, _| says(ask, |job| &job.codes),
    ),
    of_job(
        "rationale_written",
        "Whether it is written why it was designed this way.",
        &[&["job.rationale"]],
        |ask, _| says(ask, |job| &job.rationale),
    ),
    of_job(
        "investigator_licensed",
        "Whether whoever walked through the building has a licence or certificate.",
        &[&["job.investigator", "job.investigator.licence"]],
        |ask, _| {
            let job = &ask.design().job;
            ask.read_inside(&job.here, &job.investigator, "licence", |it| (&it.here, &it.licence))
                .map(|value| value.is_some())
        },
    ),
    of_job(
        "earlier_places_seen",
        "Whether the sketch of where the devices of earlier tests stood was looked at.",
        &[&["job.earlier_places_seen"]],
        |ask, _| {
            let job = &ask.design().job;
            ask.yes_or_no(&job.here, &job.earlier_places_seen)
        },
    ),
    of_job(
        "intakes_looked_for",
        "Whether somebody says that air intakes were looked for.",
        &[&["looked_for.intakes"]],
        |ask, _| {
            let looked_for = &ask.design().looked_for;
            ask.is_there(&looked_for.here, &looked_for.intakes)
        },
    ),
    of_job(
        "sources_looked_for",
        "Whether radon was read by a quick instrument where it comes in.",
        &[&["diagnostics.sniffs"]],
        |ask, _| {
            let diagnostics = &ask.design().diagnostics;
            ask.is_there(&diagnostics.here, &diagnostics.sniffs)
        },
    ),
    of_job(
        "delay_explained",
        "Whether it is written why a temporary system stays longer.",
        &[&["job.temporary_reason"]],
        |ask, _| says(ask, |job| &job.temporary_reason),
    ),
    Fact {
        of: Kind::Job,
        name: "temporary_for",
        meaning: "The calendar days from the installation of a temporary system to the day by which it is replaced, as a stretch of time.",
        formula: "the day by which it is replaced less the day of its installation",
        source: CALENDAR,
        needs: &[&["job.temporary_from", "job.temporary_until"]],
        get: Get::Number(Dimension::TIME, |ask, _| {
            let job = &ask.design().job;
            let from = ask.value(&job.here, &job.temporary_from);
            let until = ask.value(&job.here, &job.temporary_until);
            from.both(until).map(|(from, until)| {
                Number::exact(Ratio::from(from.days_until(*until)) * Ratio::from(SECONDS_OF_A_DAY))
            })
        }),
    },
    of_job(
        "safety_plan",
        "Whether there is a written plan for the safety of workers.",
        &[&["job.worker_safety", "job.worker_safety.plan"]],
        |ask, _| kept(ask, "plan", |it| (&it.here, &it.plan)),
    ),
    of_job(
        "plan_reviewed",
        "Whether the day is written on which the safety plan was last gone over.",
        &[&["job.worker_safety", "job.worker_safety.plan_reviewed"]],
        |ask, _| kept(ask, "plan_reviewed", |it| (&it.here, &it.plan_reviewed)),
    ),
    of_job(
        "sole_proprietor",
        "Whether one person works alone without employees.",
        &[&["job.worker_safety", "job.worker_safety.sole_proprietor"]],
        |ask, _| safe(ask, "sole_proprietor", |it| &it.sole_proprietor),
    ),
    of_job(
        "workers_trained",
        "Whether there is a record of the safety training.",
        &[&["job.worker_safety", "job.worker_safety.training"]],
        |ask, _| kept(ask, "training", |it| (&it.here, &it.training)),
    ),
    of_job(
        "work_at_height",
        "Whether work is done on a roof or a ladder.",
        &[&["job.worker_safety", "job.worker_safety.work_at_height"]],
        |ask, _| safe(ask, "work_at_height", |it| &it.work_at_height),
    ),
    of_job(
        "falls_prevented",
        "Whether it is written how falls are prevented.",
        &[&["job.worker_safety", "job.worker_safety.fall_protection"]],
        |ask, _| kept(ask, "fall_protection", |it| (&it.here, &it.fall_protection)),
    ),
    of_job(
        "work_area_aired",
        "Whether the work area is ventilated.",
        &[&["job.worker_safety", "job.worker_safety.ventilated"]],
        |ask, _| safe(ask, "ventilated", |it| &it.ventilated),
    ),
    of_job(
        "solvents_used",
        "Whether sealants, glues or primers with solvents are used.",
        &[&["job.worker_safety", "job.worker_safety.solvents"]],
        |ask, _| safe(ask, "solvents", |it| &it.solvents),
    ),
    of_job(
        "tools_grounded",
        "Whether power tools are grounded, or insulated twice.",
        &[&["job.worker_safety", "job.worker_safety.tools_grounded"]],
        |ask, _| safe(ask, "tools_grounded", |it| &it.tools_grounded),
    ),
    of_job(
        "ground_fault_guard",
        "Whether a ground-fault interrupter guards the circuits that feed the tools.",
        &[&["job.worker_safety", "job.worker_safety.ground_fault_guard"]],
        |ask, _| safe(ask, "ground_fault_guard", |it| &it.ground_fault_guard),
    ),
    of_job(
        "protective_gear",
        "Whether hard hats, face shields, ear plugs, hard shoes and gloves are on site.",
        &[&["job.worker_safety", "job.worker_safety.protective_gear"]],
        |ask, _| safe(ask, "protective_gear", |it| &it.protective_gear),
    ),
    of_job(
        "confined_space",
        "Whether the crawlspace or pit is treated as a confined space.",
        &[&["job.worker_safety", "job.worker_safety.confined_space"]],
        |ask, _| safe(ask, "confined_space", |it| &it.confined_space),
    ),
    of_job(
        "exposure_recorded",
        "Whether the exposure of each worker is recorded.",
        &[&["job.worker_safety", "job.worker_safety.exposure_record"]],
        |ask, _| kept(ask, "exposure_record", |it| (&it.here, &it.exposure_record)),
    ),
    of_job(
        "decay_products_measured",
        "Whether the decay products in the work area were measured.",
        &[&["job.worker_safety", "job.worker_safety.work_area_decay_products"]],
        |ask, _| kept(ask, "work_area_decay_products", |it| (&it.here, &it.work_area_decay_products)),
    ),
    Fact::stated(
        Kind::Job,
        "exposure",
        "What the worker who was exposed most has taken in over the last twelve months.",
        &[&["job.worker_safety", "job.worker_safety.exposure"]],
        Get::Number(Dimension::EXPOSURE, |ask, _| {
            let job = &ask.design().job;
            ask.quantity_inside(&job.here, &job.worker_safety, "exposure", |it| (&it.here, &it.exposure))
        }),
    ),
    Fact::stated(
        Kind::Job,
        "work_area_radon",
        "The radon in the work area.",
        &[&["job.worker_safety", "job.worker_safety.work_area"]],
        Get::Number(Dimension::CONCENTRATION, |ask, _| {
            let job = &ask.design().job;
            ask.quantity_inside(&job.here, &job.worker_safety, "work_area", |it| (&it.here, &it.work_area))
        }),
    ),
];
