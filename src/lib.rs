//! The library.

pub mod hardware;
pub mod units;
