//! What people are told, as plain data.
//!
//! The judge gives one outcome per rule and thing. Here the outcomes that speak of the same subject and the
//! same thing become one finding with several clauses, what is missing is gathered by entry, and what was
//! and was not checked is counted per book.

pub mod finding;
pub mod gather;
pub mod wanted;
pub mod looked;
pub mod coverage;
pub mod exit;
pub mod flips;
pub mod departure;
pub mod variance;
pub mod compare;
pub mod record;
pub mod narrow;

pub use coverage::{Coverage, coverage};
pub use departure::Departure;
pub use exit::{Exit, exit};
pub use finding::{Clause, Comes, Finding, Standing, Subject};
pub use gather::{Used, gather};
pub use looked::Looked;
pub use wanted::{Wanted, wanted};
