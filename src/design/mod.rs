//! The typed design: every section of the file, every entry with its place.
