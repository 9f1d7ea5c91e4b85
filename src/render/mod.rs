//! A review turned into bytes: words on a terminal, or a machine-readable report.

pub mod phrases;
pub mod amended;
pub mod asked;
pub mod editions;
pub mod html;
pub mod json;
pub mod pages;
pub mod papers;
pub mod pdf;
pub mod sarif;
pub mod tell;
pub mod terminal;
pub mod visible;
pub mod variance_entry;
mod amendment_words;
pub mod words;
pub mod compared;
pub mod worksheet;
pub mod takeoff;
pub mod walkthrough;
pub mod corrections;
pub mod svg;
pub mod sheet_words;
