//! The library.

pub mod report;
pub mod text;
pub mod units;
