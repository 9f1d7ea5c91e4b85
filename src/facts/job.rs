//! Facts of the job, the site, the building as a whole, and of what has to be known before drilling.

use crate::base::number::{Dimension, Number};
use crate::base::value::Answer;
use crate::design::model::building::{Building, BuildingUse};
use crate::design::model::job::{Job, JobStage, Work};
use crate::design::model::site::{Asbestos, BeforeDrilling, Moisture, Site};
use crate::yaml::entry::Entry;
use crate::yaml::measure::{Measure, Wanted};
use crate::yaml::words::{Count, Words};

use super::air;
use super::ask::Ask;
use super::catalogue::{Fact, Get, words};
use super::contradictions::days;
use super::join::either;
use super::kinds::Kind;
use crate::base::vocabulary::{ROOT, WordId};

fn before<'d>(ask: &mut Ask<'d>, get: impl FnOnce(&'d BeforeDrilling) -> &'d Entry<bool>) -> Answer<bool> {
    let section = &ask.design().before_drilling;
    ask.yes_or_no(&section.here, get(section))
}

fn job_word<'d, W: Words>(ask: &mut Ask<'d>, get: impl FnOnce(&'d Job) -> &'d Entry<W>) -> Answer<WordId> {
    let job = &ask.design().job;
    ask.stated_word(&job.here, get(job))
}

fn site_number<'d, W: Wanted>(
    ask: &mut Ask<'d>,
    get: impl FnOnce(&'d Site) -> &'d Entry<Measure<W>>,
) -> Answer<Number> {
    let site = &ask.design().site;
    ask.quantity(&site.here, get(site))
}

fn building_count<'d>(
    ask: &mut Ask<'d>,
    get: impl FnOnce(&'d Building) -> &'d Entry<Count>,
) -> Answer<Number> {
    let building = &ask.design().building;
    ask.value(&building.here, get(building)).map(|count| Number::whole(i64::from(count.0)))
}

fn walked_through(ask: &mut Ask<'_>) -> Answer<bool> {
    let job = &ask.design().job;
    if let Some(to_come) = ask.aside("the walk through", ROOT, |ask| days::walk_to_come(ask)) {
        return to_come.unknown();
    }
    let day = ask.is_there(&job.here, &job.investigated);
    let who = ask.is_there(&job.here, &job.investigator);
    either(day, who)
}

/// Facts of the job, the site and the building.
pub(super) const JOB: &[Fact] = &[
    Fact::stated(
        Kind::Job,
        "work",
        "What kind of work it is.",
        &[&["job.work"]],
        Get::Word(words::<Work>, |ask, _| job_word(ask, |job| &job.work)),
    ),
    Fact::stated(
        Kind::Job,
        "stage",
        "How far the job has come.",
        &[&["job.stage"]],
        Get::Word(words::<JobStage>, |ask, _| job_word(ask, |job| &job.stage)),
    ),
    Fact::stated(
        Kind::Job,
        "target",
        "The radon level that the job promises to reach.",
        &[&["job.target"]],
        Get::Number(Dimension::CONCENTRATION, |ask, _| {
            let job = &ask.design().job;
            ask.quantity(&job.here, &job.target)
        }),
    ),
    Fact::stated(
        Kind::Site,
        "altitude",
        "The height of the site above the sea.",
        &[&["site.altitude"]],
        Get::Number(Dimension::LENGTH, |ask, _| site_number(ask, |site| &site.altitude)),
    ),
    Fact::stated(
        Kind::Site,
        "winter_design",
        "The outdoor temperature that heating is designed for.",
        &[&["site.winter_design"]],
        Get::Number(Dimension::TEMPERATURE, |ask, _| site_number(ask, |site| &site.winter_design)),
    ),
    Fact::stated(
        Kind::Site,
        "frost",
        "How deep the ground freezes.",
        &[&["site.frost"]],
        Get::Number(Dimension::LENGTH, |ask, _| site_number(ask, |site| &site.frost)),
    ),
    Fact::stated(
        Kind::Site,
        "snow",
        "How deep snow can lie.",
        &[&["site.snow"]],
        Get::Number(Dimension::LENGTH, |ask, _| site_number(ask, |site| &site.snow)),
    ),
    Fact::stated(
        Kind::Site,
        "moisture",
        "How damp the climate is.",
        &[&["site.moisture"]],
        Get::Word(words::<Moisture>, |ask, _| {
            let section = &ask.design().site;
            ask.stated_word(&section.here, &section.moisture)
        }),
    ),
    Fact::stated(
        Kind::Building,
        "used_as",
        "What the building is used as.",
        &[&["building.use"]],
        Get::Word(words::<BuildingUse>, |ask, _| {
            let section = &ask.design().building;
            ask.stated_word(&section.here, &section.used_as)
        }),
    ),
    Fact::stated(
        Kind::Building,
        "stories",
        "How many storeys the building has above ground.",
        &[&["building.stories"]],
        Get::Number(Dimension::ONE, |ask, _| building_count(ask, |it| &it.stories)),
    ),
    Fact::stated(
        Kind::Building,
        "built",
        "The year in which the building was built.",
        &[&["building.built"]],
        Get::Number(Dimension::ONE, |ask, _| building_count(ask, |it| &it.built)),
    ),
    Fact::stated(
        Kind::Building,
        "dwellings",
        "How many dwellings the building holds.",
        &[&["building.dwellings"]],
        Get::Number(Dimension::ONE, |ask, _| building_count(ask, |it| &it.dwellings)),
    ),
    Fact::stated(
        Kind::Building,
        "walked_through",
        "Whether somebody walked through the building before the work: a day or a person is stated for it.",
        &[&["job.investigated", "job.investigator"]],
        Get::Truth(|ask, _| walked_through(ask)),
    ),
    Fact::stated(
        Kind::Building,
        "air_changes_known",
        "Whether it is known how often each hour leaks change the air of the building.",
        &[&["building.leakage.air_changes"]],
        Get::Truth(|ask, _| air::air_changes_known(ask)),
    ),
    Fact::stated(
        Kind::Building,
        "air_changes",
        "How often each hour leaks alone change the air of the building.",
        &[&["building.leakage.air_changes"]],
        Get::Number(Dimension::ONE, |ask, _| air::air_changes(ask)),
    ),
    Fact::stated(
        Kind::Building,
        "air_changed",
        "Whether the work changes heating, cooling or airing.",
        &[&["building.air_changed"]],
        Get::Truth(|ask, _| {
            let section = &ask.design().building;
            ask.yes_or_no(&section.here, &section.air_changed)
        }),
    ),
    Fact::stated(
        Kind::Building,
        "air_changes_seen",
        "Whether somebody is named who looked over changes to heating, cooling and airing.",
        &[&["building.air_changes_seen_by"]],
        Get::Truth(|ask, _| {
            let section = &ask.design().building;
            ask.is_there(&section.here, &section.air_changes_seen_by)
        }),
    ),
];

/// Facts of what has to be known before the first hole.
pub(super) const BEFORE_DRILLING: &[Fact] = &[
    Fact::stated(
        Kind::BeforeDrilling,
        "post_tension",
        "Whether the slab is post-tensioned: cables under load that must not be cut.",
        &[&["before_drilling.post_tension"]],
        Get::Truth(|ask, _| before(ask, |it| &it.post_tension)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "radiant_tubing",
        "Whether there is heating tubing in the slab.",
        &[&["before_drilling.radiant_tubing"]],
        Get::Truth(|ask, _| before(ask, |it| &it.radiant_tubing)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "utilities_marked",
        "Whether the utilities were marked by whoever is in charge of that.",
        &[&["before_drilling.utilities_marked"]],
        Get::Truth(|ask, _| before(ask, |it| &it.utilities_marked)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "utilities_in_slab",
        "Whether pipes, cables or gas lines run in or under the floor where holes are planned.",
        &[&["before_drilling.utilities_in_slab"]],
        Get::Truth(|ask, _| before(ask, |it| &it.utilities_in_slab)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "ducts_in_slab",
        "Whether air ducts run in or under the slab.",
        &[&["before_drilling.ducts_in_slab"]],
        Get::Truth(|ask, _| before(ask, |it| &it.ducts_in_slab)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "asbestos_suspected",
        "Whether floor tile, mastic, pipe lagging or the like may hold asbestos.",
        &[&["before_drilling.asbestos_suspected"]],
        Get::Truth(|ask, _| before(ask, |it| &it.asbestos_suspected)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "asbestos",
        "What came of testing for asbestos.",
        &[&["before_drilling.asbestos"]],
        Get::Word(words::<Asbestos>, |ask, _| {
            let section = &ask.design().before_drilling;
            ask.stated_word(&section.here, &section.asbestos)
        }),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "vermiculite",
        "Whether there is vermiculite insulation where work is done.",
        &[&["before_drilling.vermiculite"]],
        Get::Truth(|ask, _| before(ask, |it| &it.vermiculite)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "lead_paint_suspected",
        "Whether paint that will be disturbed may hold lead.",
        &[&["before_drilling.lead_paint_suspected"]],
        Get::Truth(|ask, _| before(ask, |it| &it.lead_paint_suspected)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "buried_tank",
        "Whether there may be a buried tank.",
        &[&["before_drilling.buried_tank"]],
        Get::Truth(|ask, _| before(ask, |it| &it.buried_tank)),
    ),
    Fact::stated(
        Kind::BeforeDrilling,
        "membrane_under_slab",
        "Whether a sheet under the slab keeps ground water or vapour out and has to be mended where it is cut.",
        &[&["before_drilling.membrane_under_slab"]],
        Get::Truth(|ask, _| before(ask, |it| &it.membrane_under_slab)),
    ),
];
