//! Pure engineering: typed quantities in, typed quantities or a typed error out.

pub mod electrical;
pub mod geometry;
pub mod pipe_sizes;
