//! Which facts are numbers that somebody works out: the worksheet of a design, part by part.

use super::kinds::Kind;

/// A part of the worksheet: what it is called, and the facts it holds of each kind of thing, in the order one works.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    /// What it is called.
    pub title: &'static str,
    /// The kinds of things with their facts.
    pub of: &'static [(Kind, &'static [&'static str])],
}

/// The parts, from the fan outward as a system is planned.
pub const PARTS: &[Part] = &[
    Part {
        title: "Fan",
        of: &[(
            Kind::Fan,
            &["shut_off", "worked_flow", "worked_suction", "worked_rise", "worked_power", "flow_left"],
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
                ],
            ),
            (Kind::TestHole, &["worked_suction", "beyond_worked"]),
        ],
    },
];
