//! The library.

pub mod report;
pub mod spec;
pub mod text;
pub mod units;
