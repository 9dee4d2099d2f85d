//! The library.

pub mod units;
