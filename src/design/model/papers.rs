//! Papers, upkeep and variances.

use super::job::Person;
use super::systems::System;
use crate::yaml::entry::{ListOf, Named, OneOrList};
use crate::yaml::measure::{Energy, Measure, Money, Pressure};
use crate::yaml::name::{NameOf, Text};
use crate::yaml::record::record;
use crate::yaml::time::Date;
use crate::yaml::words::{Count, words};

words! {
    /// What a paper is.
    pub enum PaperKind = "kind of paper" {
        /// what is offered and for how much
        Proposal = "proposal",
        /// what it will cost to bring an older system up to the rules
        Estimate = "estimate",
        /// the contract
        Contract = "contract",
        /// what was found when the building was looked over
        Investigation = "investigation summary",
        /// the plan of the lowest floor with what the design depends on
        FloorPlan = "floor plan",
        /// what was read and tried before the design and after the work
        Diagnostics = "diagnostic readings",
        /// what the system is and how it works
        Description = "description",
        /// how to run and keep it
        Manual = "manual",
        /// drawings as built
        Drawings = "drawings",
        /// what is warranted
        Warranty = "warranty",
        /// a permit
        Permit = "permit",
        /// results of radon tests
        TestResults = "test results",
        /// what was read at start-up
        StartUpRecord = "start-up record",
        /// what came of trials of flues
        SpillageRecord = "spillage record",
        /// what was told to the owner, as what could not be closed
        Disclosure = "disclosure",
        /// the plan for looking after it
        UpkeepPlan = "upkeep plan",
        /// a report to the state
        StateReport = "state report",
        /// a notice to neighbours
        Notice = "notice",
        /// what each worker was exposed to
        ExposureRecord = "exposure record",
        /// a list of sealants and glues
        SealantList = "sealant list",
        /// what their makers say of the dangers of sealants, glues and primers
        SafetySheets = "safety data sheets",
        /// a list of points that is gone through when the work is done
        Checklist = "checklist",
        /// photographs
        Photographs = "photographs",
        /// the report of an inspection
        Inspection = "inspection report",
        /// what a fan was sold with
        FanSheet = "fan sheet",
    }
}

words! {
    /// What a paper tells.
    pub enum PaperTells = "what a paper tells" {
        /// who does the work, with licence or certificate
        Contractor = "contractor",
        /// what is done and how long it takes
        WorkAndTime = "work and time",
        /// what solvents in sealants and glues do, and how the rooms are aired
        Solvents = "solvents",
        /// the rules that the work keeps to
        RulesKept = "rules kept to",
        /// where the work departs from them
        Departures = "departures",
        /// what it costs
        Price = "price",
        /// what it costs to run in a year
        RunningCost = "running cost",
        /// what bringing an older system up to the rules costs
        UpgradeCost = "cost of an upgrade",
        /// what is warranted and for how long
        Warranty = "warranty",
        /// the contract
        Contract = "contract",
        /// the permits
        Permits = "permits",
        /// results of radon tests before and after
        TestResults = "test results",
        /// what was found when the building was looked over
        Investigation = "investigation",
        /// dangers that were found in the building
        Hazards = "hazards",
        /// how the system works
        HowItWorks = "how it works",
        /// how it is looked after
        Upkeep = "upkeep",
        /// what is looked at from time to time, and how often
        Inspections = "inspections",
        /// what gauges and other instruments read at start-up
        StartUpReadings = "start-up readings",
        /// where gauges, test ports and switches are
        WhereThingsAre = "where things are",
        /// what to do when a gauge or alarm shows that something is wrong
        WhatToDo = "what to do",
        /// the energy the fan takes in a year
        Energy = "energy",
        /// whom to call
        Phone = "phone",
        /// the state office to call
        StateOffice = "state office",
        /// that the house should be tested again, and how often
        RetestAdvice = "retest advice",
        /// that less radon is better even below the level at which one must act
        FurtherReduction = "further reduction",
        /// footings and walls that bear load
        BearingWalls = "bearing walls",
        /// drains
        Drains = "drains",
        /// ducts and equipment for heating and cooling
        Heating = "heating and cooling",
        /// where soil gas is thought to come in
        EntryRoutes = "entry routes",
        /// where the pipe goes
        PipeRoute = "pipe route",
        /// where fan and warning device are
        FanAndGauge = "fan and gauge",
    }
}

record! {
    /// A paper that is kept or handed over.
    pub struct Paper = "paper" {
        /// What it is.
        kind: PaperKind = "kind",
        /// The day on it: `2026-05-14`.
        on: Date = "on",
        /// Whether it exists.
        done: bool = "done",
        /// The day it was handed over or sent: `2026-05-14`; the word `none` if it was not.
        handed_over: Date = "handed_over",
        /// To whom it was handed over or sent.
        to: Text = "to",
        /// Where it is kept.
        kept: Text = "kept",
        /// Its number or file name.
        number: Text = "number",
        /// Whether it is signed.
        signed: bool = "signed",
        /// What it tells: `[price, work and time, warranty]`.
        tells: ListOf<PaperTells> = "tells",
    }
}

record! {
    /// One look at a running system.
    pub struct Look = "look" {
        /// The day it was done: `2026-05-14`.
        on: Date = "on",
        /// Who did it: `J. Ames`.
        by: Text = "by",
        /// The system, where there are several.
        system: NameOf<System> = "system",
        /// The reading of the gauge: `1.6 in WC`.
        gauge: Measure<Pressure> = "gauge",
        /// What was found.
        found: OneOrList<Text> = "found",
        /// What was done.
        done: OneOrList<Text> = "done",
    }
}

record! {
    /// How the system is looked after.
    pub struct Upkeep {
        /// Who looks after it.
        by: Person = "by",
        /// Whether those who live in the house look after it themselves.
        by_occupants: bool = "by_occupants",
        /// The day of the next look: `2026-05-14`.
        next_look: Date = "next_look",
        /// The day of the next radon test: `2026-05-14`.
        next_test: Date = "next_test",
        /// Looks that were taken, by name.
        looks: Named<Look> = "looks",
        /// The energy it takes in a year: `600 kWh`.
        energy: Measure<Energy> = "energy",
        /// What it costs to run in a year: `$96`.
        cost: Measure<Money> = "cost",
    }
}

record! {
    /// The name and number under which the state knows the job.
    pub struct Filing = "filing" {
        /// The office where it was filed.
        office: Text = "office",
        /// The day it was filed: `2026-05-14`.
        on: Date = "on",
        /// The number of the filing.
        number: Text = "number",
        /// The fee paid: `$50`.
        fee: Measure<Money> = "fee",
    }
}

record! {
    /// Papers and upkeep.
    pub struct Papers {
        /// Papers kept or handed over, by name.
        list: Named<Paper> = "list",
        /// Whether the owner was told in writing when to test again.
        retest_advised: bool = "retest_advised",
        /// For how many years the work is warranted: `10`; the word `none` where it is not.
        warranty_years: Count = "warranty_years",
        /// Whether a kit for a test over months was left in the dwelling.
        test_kit_left: bool = "test_kit_left",
        /// Whether the owner was handed the papers that go with a system.
        owner_package: bool = "owner_package",
        /// Whether the permits that the place asks for are in hand and posted.
        permits_in_hand: bool = "permits_in_hand",
        /// For how many years the records of the job are kept: `5`.
        years_kept: Count = "years_kept",
        /// Whether the owner has given up the radon test after the work in writing.
        test_waived: bool = "test_waived",
        /// Filings with the state, by name.
        filings: Named<Filing> = "filings",
        /// How the system is looked after.
        upkeep: Upkeep = "upkeep",
        /// Anything else worth keeping.
        notes: Text = "notes",
    }
}

record! {
    /// A permitted departure from a requirement. It excuses the values it names, for the thing it names,
    /// until it ends.
    pub struct Variance = "variance" {
        /// The requirement, as book and rule: `epa-1994/discharge-clear-of-openings`.
        rule: Text = "rule",
        /// The thing it is for, by the name that the finding has; the word `none` for the job as a whole.
        thing: Text = "for",
        /// The values it excuses, by what the requirement calls them: `{clearance: 8 ft 3 in}`.
        excuses: Named<Text> = "excuses",
        /// The fingerprint of the rule it was granted against.
        written_against: Text = "written_against",
        /// Why it was granted.
        reason: Text = "reason",
        /// The number of the document.
        document: Text = "document",
        /// Who granted it.
        granted_by: Person = "granted_by",
        /// The day it was granted: `2026-05-14`.
        on: Date = "on",
        /// The last day it holds: `2026-05-14`; the word `none` when it has no last day.
        until: Date = "until",
        /// What was asked in return.
        conditions: OneOrList<Text> = "conditions",
    }
}
