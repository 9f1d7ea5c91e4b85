//! Which facts are numbers that somebody works out: the worksheet of a design, part by part.

use super::ask::Ask;
use super::kinds::Kind;
use crate::base::number::{Comparison, Number, Ratio};
use crate::base::truth::Truth;
use crate::base::vocabulary::Thing;

/// A part of the worksheet: what it is called, and the facts it holds of each kind of thing, in the order one works.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    /// What it is called.
    pub title: &'static str,
    /// The kinds of things with their facts.
    pub of: &'static [(Kind, &'static [&'static str])],
}

/// What the part with the fans is called.
pub const FANS: &str = "Fan";

/// What is worked out of each fan that a shop has, in place of the one that is drawn.
pub const OFFERED: &[&str] = &["suction_to_spare", "worked_flow", "worked_suction", "worked_power"];

/// The parts, from the fan outward as a system is planned.
pub const PARTS: &[Part] = &[
    Part {
        title: FANS,
        of: &[(
            Kind::Fan,
            &[
                "shut_off",
                "worked_flow",
                "worked_suction",
                "worked_rise",
                "worked_power",
                "flow_left",
                "suction_to_spare",
            ],
        )],
    },
    Part {
        title: "Pipe",
        of: &[
            (
                Kind::Run,
                &[
                    "length",
                    "bore",
                    "open_area",
                    "flow",
                    "air_speed",
                    "worked_flow",
                    "worked_speed",
                    "worked_loss",
                    "smallest_size",
                    "valve_opening",
                ],
            ),
            (Kind::SuctionPoint, &["suction_left", "worked_flow", "worked_suction"]),
        ],
    },
    Part {
        title: "Under the floor",
        of: &[
            (
                Kind::Area,
                &[
                    "permeability",
                    "air_leaking_in",
                    "suction_reach",
                    "air_given",
                    "weakest_suction",
                    "half_suction",
                    "most_suction",
                    "share_held",
                    "next_point_east",
                    "next_point_north",
                    "weakest_with_next",
                ],
            ),
            (Kind::TestHole, &["worked_suction", "beyond_worked"]),
        ],
    },
    Part {
        title: "Water and ice",
        of: &[
            (
                Kind::Run,
                &[
                    "cold_length",
                    "cold_around",
                    "gas_in",
                    "gas_out",
                    "frost_reach",
                    "insulation_needed",
                    "condensate",
                    "ice",
                    "fall",
                    "standing_water",
                    "closing_pool",
                    "closes_after",
                ],
            ),
            (Kind::System, &["condensate", "ice"]),
            (Kind::SuctionPoint, &["water_lifted"]),
            (Kind::Sump, &["water_lifted"]),
            (Kind::Drain, &["trap_margin"]),
        ],
    },
    Part {
        title: "Pressure in the house",
        of: &[(Kind::Building, &["blown_out", "pressure_fall"]), (Kind::Appliance, &["pressure_fall"])],
    },
    Part {
        title: "Wiring and running cost",
        of: &[
            (Kind::Circuit, &["voltage_drop", "drop_share", "load", "load_share", "fan_share"]),
            (Kind::Fan, &["power_drawn", "energy_a_year", "cost_a_year"]),
            (Kind::System, &["house_air", "heat_lost"]),
        ],
    },
    Part {
        title: "Radon results",
        of: &[(
            Kind::Test,
            &[
                "in_both",
                "reported",
                "average",
                "mean_beside",
                "apart_share",
                "level_before",
                "reduced_share",
                "decay_products",
            ],
        )],
    },
];

/// Numbers that mean nothing where a yes-or-no of the same thing is known to be yes.
pub const NOT_WHERE: &[(Kind, &str, &str)] = &[
    (Kind::Run, "fall", "upright"),
    (Kind::Run, "standing_water", "upright"),
    (Kind::Run, "closing_pool", "upright"),
    (Kind::Run, "closes_after", "upright"),
];

/// Numbers that mean something only where a yes-or-no of the same thing holds. Where it is known to be no, they are left
/// out; where it is not known, the first of them tells what is missing.
pub const ONLY_WHERE: &[(Kind, &str, &str)] = &[
    (Kind::Run, "valve_opening", "has_valve"),
    (Kind::Run, "cold_length", "passes_cold"),
    (Kind::Run, "cold_around", "passes_cold"),
    (Kind::Run, "gas_in", "passes_cold"),
    (Kind::Run, "gas_out", "passes_cold"),
    (Kind::Run, "frost_reach", "passes_cold"),
    (Kind::Run, "insulation_needed", "passes_cold"),
    (Kind::Run, "condensate", "passes_cold"),
    (Kind::Run, "ice", "passes_cold"),
    (Kind::Run, "standing_water", "holds_water"),
    (Kind::Run, "closing_pool", "holds_water"),
    (Kind::Run, "closing_pool", "closes"),
    (Kind::Run, "closes_after", "holds_water"),
    (Kind::Run, "closes_after", "closes"),
    (Kind::Sump, "water_lifted", "suction"),
    (Kind::Appliance, "pressure_fall", "draws_by_itself"),
    (Kind::Test, "average", "hours_logged"),
    (Kind::Test, "mean_beside", "beside_another"),
    (Kind::Test, "apart_share", "beside_another"),
    (Kind::Drain, "trap_margin", "trap_pulled_on"),
];

/// How far from the air that is stated the air that is worked out may lie without a word: a quarter of it.
/// Common practice, no source.
const FAR: (i128, i128) = (1, 4);

/// The air that a fan is designed for and the air that it is worked out to move, where they lie far apart.
pub fn at_odds(ask: &mut Ask<'_>, fan: Thing) -> Option<(Number, Number)> {
    let system = ask.things().system_of(fan)?;
    let stated = ask.number(system, "design_air").value()?;
    let worked = ask.number(fan, "worked_flow").value()?;
    let far = &stated * &Number::exact(Ratio::new(FAR.0, FAR.1)?);
    let (least, most) = (&stated - &far, &stated + &far);
    let apart = worked.compare(Comparison::Less, &least) == Truth::True
        || worked.compare(Comparison::More, &most) == Truth::True;
    apart.then_some((stated, worked))
}
