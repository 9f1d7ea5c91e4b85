//! Facts about a design: what a rule may ask, worked out on demand and remembered.
//!
//! A rule never reaches into the file. It asks the catalogue: named facts per kind of thing, each with its type,
//! its meaning, its formula and the entries it needs. Read [`catalogue`] first, then [`ask`], then the tables.

pub mod ask;
pub mod catalogue;
pub mod contradictions;
pub mod fittings;
pub mod kinds;
pub mod things;
pub mod words;
pub mod worksheet;

mod bores;
mod collectors;
mod curve;
mod air;
mod bare_soil;
mod devices;
mod discharge;
mod downstream;
mod extents;
mod fan;
mod fan_place;
mod field;
mod flows;
mod foundation;
mod ground;
mod grounds;
mod heights;
mod inlets;
mod jackets;
mod jet;
mod job;
mod join;
mod labelling;
mod laid;
mod layout;
mod level;
mod lies;
mod looked;
mod looks;
mod membranes;
mod neighbours;
mod obstacles;
mod outlet;
mod outlines;
mod papers;
mod penetrations;
mod place;
mod places;
mod radon_tests;
mod roofs;
mod rough_in;
mod rounds;
mod runs;
mod safety;
mod scope;
mod seen;
mod sheets;
mod spaces;
mod statements;
mod suction;
mod supply;
mod system;
mod tables;
mod tape;
mod test_holes;
mod test_hours;
mod test_rooms;
mod walls;
mod water;
mod ways;
mod whole;
mod wiring;

pub use ask::Ask as Facts;
pub use catalogue::vocabulary;
