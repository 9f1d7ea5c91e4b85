//! What was seen on site of requirements, one by one.

use crate::yaml::name::Text;
use crate::yaml::record::record;
use crate::yaml::time::Date;

record! {
    /// What was seen on site of one requirement. It stands beside the verdict and decides none.
    pub struct Checked = "requirement that was looked at", short found {
        /// Whether it was found as it should be; `unknown` where it could not be seen.
        found: bool = "found",
        /// What was seen, in a few words: `the screen is bent`.
        note: Text = "note",
        /// Who looked, where it is another than whoever took the notes: `J. Ames`.
        by: Text = "by",
        /// The day of the look, where it is another than that of the notes: `2026-05-14`.
        on: Date = "on",
    }
}
