//! The job: who does what for whom, under which rules.

use crate::yaml::entry::{ListOf, Named};
use crate::yaml::measure::{Concentration, DecayEnergy, Exposure, Measure};
use crate::yaml::name::Text;
use crate::yaml::record::record;
use crate::yaml::time::Date;
use crate::yaml::words::words;

words! {
    /// What kind of work it is.
    pub enum Work = "kind of work" {
        /// a system in a standing house that has none
        NewSystem = "new system",
        /// a rough-in or a system in a house being built
        NewHouse = "new house",
        /// a fan put on a passive stack
        Activation = "activation",
        /// a change to a system that is there
        Alteration = "alteration",
        /// the fan alone is replaced
        FanSwap = "fan swap",
        /// something broken is mended as it was
        Repair = "repair",
        /// a system put in by somebody else is taken over
        TakenOver = "taken over",
        /// a system meant to be replaced by another
        Temporary = "temporary",
    }
}

words! {
    /// How far the job has come.
    pub ordered enum JobStage = "stage of the job" {
        /// on the drawing
        Design = "design",
        /// built, not yet shown to work
        Installed = "installed",
        /// running
        Operating = "operating",
    }
}

words! {
    /// What a rulebook is for this job.
    pub enum Standing = "standing of a rulebook" {
        /// it is law where the building stands
        Adopted = "adopted",
        /// the contract, the lender or the programme asks for it
        ByContract = "by contract",
        /// it is shown and does not count
        ForInformation = "for information",
    }
}

words! {
    /// The country the building stands in.
    pub enum Country = "country" {
        /// the United States
        UnitedStates = "United States",
        /// Canada
        Canada = "Canada",
        /// the United Kingdom
        UnitedKingdom = "United Kingdom",
        /// Ireland
        Ireland = "Ireland",
        /// Norway
        Norway = "Norway",
        /// Germany
        Germany = "Germany",
        /// Switzerland
        Switzerland = "Switzerland",
        /// the Czech Republic
        CzechRepublic = "Czech Republic",
        /// another country of the European Union
        OtherMember = "elsewhere in the European Union",
        /// any other country
        Elsewhere = "elsewhere",
    }
}

record! {
    /// A person or a firm. A name alone will do: `J. Ames`.
    pub struct Person, short name {
        /// The name of the person or firm.
        name: Text = "name",
        /// The firm the person works for.
        company: Text = "company",
        /// The licence or certificate number; the word `none` for somebody without one.
        licence: Text = "licence",
        /// Until when the licence is good: `2027-06-30`.
        licence_until: Date = "licence_until",
        /// The telephone number.
        phone: Text = "phone",
        /// The postal address.
        address: Text = "address",
        /// The electronic address.
        email: Text = "email",
    }
}

record! {
    /// Where the law comes from that applies to the building.
    pub struct Jurisdiction {
        /// The country: `United States`.
        country: Country = "country",
        /// The state or province.
        state: Text = "state",
        /// The county.
        county: Text = "county",
        /// The town or municipality.
        town: Text = "town",
        /// The office that decides.
        office: Text = "office",
        /// Whether the law of the place asks for protection against radon in new houses here, whatever the map says.
        asks_for_protection: bool = "asks_for_protection",
        /// Whether the office has found that the building does not need protection against radon.
        found_unneeded: bool = "found_unneeded",
    }
}

record! {
    /// A permit. A number alone will do.
    pub struct Permit, short number {
        /// The number on it.
        number: Text = "number",
        /// The office that gave it.
        office: Text = "office",
        /// The day it was given: `2026-05-01`.
        on: Date = "on",
        /// The last day it is good: `2026-05-14`.
        until: Date = "until",
    }
}

record! {
    /// A building, electrical or fuel code adopted where the building stands. An edition alone will do:
    /// `2015`.
    pub struct AdoptedCode, short edition {
        /// The edition that is adopted.
        edition: Text = "edition",
        /// The day since which it is in force there: `2026-05-14`.
        on: Date = "on",
        /// Where it conflicts with another code of this job, and how that was settled.
        conflict: Text = "conflict",
    }
}

record! {
    /// A warranty or a promise made in the contract.
    pub struct Promise {
        /// What is promised.
        what: Text = "what",
        /// The last day of it: `2026-05-14`.
        until: Date = "until",
    }
}

record! {
    /// How the people who do the work are kept safe. Each item is a note of a record kept elsewhere.
    pub struct WorkerSafety {
        /// The name or number of the written safety plan; the word `none` if there is none.
        plan: Text = "plan",
        /// Whether one person works alone without employees.
        sole_proprietor: bool = "sole_proprietor",
        /// The record of the safety training; the word `none` if nobody was trained.
        training: Text = "training",
        /// Whether work is done on a roof or a ladder.
        work_at_height: bool = "work_at_height",
        /// How falls are prevented; the word `none` if nothing is done about it.
        fall_protection: Text = "fall_protection",
        /// The radon reading in the work area before work: `12 pCi/L`.
        work_area: Measure<Concentration> = "work_area",
        /// The reading of decay products in the work area before work: `0.4 WL`; the word `none` where they cannot be
        /// measured.
        work_area_decay_products: Measure<DecayEnergy> = "work_area_decay_products",
        /// Whether power tools are grounded, or insulated twice.
        tools_grounded: bool = "tools_grounded",
        /// Whether a ground-fault interrupter guards the circuits that feed them.
        ground_fault_guard: bool = "ground_fault_guard",
        /// Whether hard hats, face shields, ear plugs, hard shoes and gloves are on site for those who drill, cut and grind.
        protective_gear: bool = "protective_gear",
        /// The day the safety plan was last gone over: `2026-01-10`; the word `none` if nobody did.
        plan_reviewed: Date = "plan_reviewed",
        /// Whether sealants, glues or primers with solvents are used.
        solvents: bool = "solvents",
        /// What the worker who was exposed most has taken in over the last twelve months: `0.6 WLM`.
        exposure: Measure<Exposure> = "exposure",
        /// Whether respirators are worn.
        respirators: bool = "respirators",
        /// Whether the work area is ventilated while sealants and glues are used.
        ventilated: bool = "ventilated",
        /// Where the exposure of each worker is recorded; the word `none` if it is not.
        exposure_record: Text = "exposure_record",
        /// Whether the crawlspace or pit is treated as a confined space.
        confined_space: bool = "confined_space",
    }
}

record! {
    /// The job: what is done, how far it has come, by whom, and under which rulebooks.
    pub struct Job {
        /// What the job is called: `Ranch with a crawlspace addition`.
        title: Text = "title",
        /// The number of the job in the shop's own files.
        number: Text = "number",
        /// The address of the building.
        address: Text = "address",
        /// Where the law comes from that applies to the building.
        jurisdiction: Jurisdiction = "jurisdiction",
        /// What kind of work it is: `new system`.
        work: Work = "work",
        /// How far the job has come: `design`, `installed` or `operating`.
        stage: JobStage = "stage",
        /// The day of this design; the day on which it is reviewed unless another is asked for: `2026-05-12`.
        date: Date = "date",
        /// Who drew up the design: `J. Ames`.
        by: Text = "by",
        /// The licence or certificate number of whoever drew it up.
        licence: Text = "licence",
        /// Whether a licensed architect or engineer answers for the design.
        licensed_designer: bool = "licensed_designer",
        /// The firm that does the work.
        contractor: Person = "contractor",
        /// The owner of the building.
        owner: Person = "owner",
        /// Who answers for the system once it runs, and whom to call.
        responsible: Person = "responsible",
        /// Who walked through the building, and with what certificate.
        investigator: Person = "investigator",
        /// The day the building was walked through: `2026-05-04`; the word `none` if nobody did.
        investigated: Date = "investigated",
        /// Permits, by name: `{building: 26-0412}`.
        permits: Named<Permit> = "permits",
        /// Whether earlier radon results were looked at before the design, or asked for and there are none.
        earlier_tests_seen: bool = "earlier_tests_seen",
        /// Whether the sketch of where the devices of those tests stood was looked at too.
        earlier_places_seen: bool = "earlier_places_seen",
        /// Codes adopted where the building stands, by name, with their editions: `{electrical code: 2017}`.
        codes: Named<AdoptedCode> = "codes",
        /// The rulebooks to review by, each with its standing: `{epa-1994: for information}`.
        rulebooks: Named<Standing> = "rulebooks",
        /// The radon level that the job promises to reach: `4.0 pCi/L`.
        target: Measure<Concentration> = "target",
        /// Why it was designed this way; the word `none` if nobody wrote it down.
        rationale: Text = "rationale",
        /// Ways in for soil gas that were seen at the walk-through.
        entry_routes: ListOf<Text> = "entry_routes",
        /// For a system that was altered, swapped or taken over: the day the first one was installed: `2026-05-14`.
        first_installed: Date = "first_installed",
        /// For a system that was altered, swapped or taken over: who installed the first one.
        first_installed_by: Text = "first_installed_by",
        /// For a temporary system: the day it was installed: `2026-05-14`.
        temporary_from: Date = "temporary_from",
        /// For a temporary system: the day by which it is to be replaced: `2026-05-14`.
        temporary_until: Date = "temporary_until",
        /// For a temporary system that stays longer: why; the word `none` if there is no reason.
        temporary_reason: Text = "temporary_reason",
        /// Promises made in the contract, by name.
        promises: Named<Promise> = "promises",
        /// How the people who do the work are kept safe.
        worker_safety: WorkerSafety = "worker_safety",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}
