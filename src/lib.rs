//! Checked traveler sheets for the builder of a sheet-metal aircraft.
//!
//! Six verbs are the pipeline and the layout: load ([`spec`]), resolve ([`job`]), check ([`rules`]), plan ([`plan`]),
//! render ([`render`]), archive ([`archive`]). Each is a plain function over plain data.

pub mod archive;
pub mod cli;
pub mod hardware;
pub mod ident;
pub mod job;
pub mod plan;
pub mod render;
pub mod report;
pub mod rules;
pub mod spec;
pub mod text;
pub mod units;
