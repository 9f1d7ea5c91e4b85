//! The sections of a design file, key by key.

pub mod appliances;
pub mod building;
pub mod checked;
pub mod controls;
pub mod drainage;
pub mod extent;
pub mod fan;
pub mod foundation;
pub mod job;
pub mod membrane;
pub mod names;
pub mod openings;
pub mod papers;
pub mod pipe;
pub mod place;
pub mod reach;
pub mod readings;
pub mod shop;
pub mod site;
pub mod suction;
pub mod systems;
pub mod tests;
pub mod version;
pub mod wiring;

use crate::yaml::entry::Named;
use crate::yaml::name::Text;
use crate::yaml::record::record;

record! {
    /// A design file: one building, and the systems in it that draw soil gas out from under it.
    pub struct DesignFile {
        /// The version of the file format: 1.
        version: version::Version = "undercroft",
        /// The job: what is done, by whom, under which rulebooks.
        job: job::Job = "job",
        /// Where the building stands: clocks, ground and climate.
        site: site::Site = "site",
        /// What was looked for. A list of what the building has counts as complete only where this says who
        /// looked.
        looked_for: site::LookedFor = "looked_for",
        /// What has to be known before the first hole is drilled.
        before_drilling: site::BeforeDrilling = "before_drilling",
        /// The building above its foundation.
        building: building::Building = "building",
        /// The foundation.
        foundation: foundation::Foundation = "foundation",
        /// The systems, by name. Complete as written.
        systems: Named<systems::System> = "systems",
        /// Sealing work as a whole.
        seals: membrane::Seals = "seals",
        /// What was read and tried before the design was settled.
        diagnostics: readings::Diagnostics = "diagnostics",
        /// What was read and shown when the system was first left running.
        start_up: readings::StartUp = "start_up",
        /// Rounds after a test that did not come out, by name.
        rounds: Named<readings::Round> = "rounds",
        /// Radon tests, by name, earlier ones too.
        radon_tests: Named<tests::RadonTest> = "radon_tests",
        /// Papers and upkeep.
        papers: papers::Papers = "papers",
        /// Permitted departures, by name.
        variances: Named<papers::Variance> = "variances",
        /// What was seen on site of requirements, by the names that the form for the walk round the house gives them. It
        /// stands beside their verdicts and decides none.
        checked: Named<checked::Checked> = "checked",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
