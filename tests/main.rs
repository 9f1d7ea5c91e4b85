//! One binary for all integration tests. A test may stop at the first surprise.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::unreachable,
    clippy::indexing_slicing
)]

mod design_file;
mod facts;
mod placing;
mod allowed;
mod pipe_layout;
mod fittings;
mod flows;
mod ground;
mod takeoff;
mod drawings;
mod drawn_about;
mod drawn_clearly;
mod air_and_soil;
mod architecture;
mod books;
mod quantities;
mod rulebooks;
mod reading;
mod hostile;
mod splicing;
mod tape;
mod laws;
mod verification;
mod sums;
mod wiring;
mod worksheet;
mod judging;
mod commands;
mod comparing;
mod correcting;
mod coverage;
mod mending;
mod sarif;
mod browser_pages;
mod submittals;
mod pdf;
mod site_visit;
mod living_books;
mod honesty;
mod contradictions;
mod terminal;
mod narrowing;
mod noise;
mod promises;
mod records;
mod field_notes;
mod variances;
mod radon_results;
mod radon_windows;
mod deficiencies;
mod work;
