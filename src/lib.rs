//! Checked traveler sheets for the builder of a sheet-metal aircraft.
//!
//! Seven verbs are the pipeline and the layout: load ([`spec`]), resolve ([`job`]), check ([`rules`]), stand ([`work`]),
//! plan ([`plan`]), render ([`render`]), and archive ([`archive`]) beside them. Each is a plain function over plain data.

pub mod archive;
pub mod calendar;
pub mod cli;
pub mod disk;
pub mod figure;
pub mod hardware;
pub mod ident;
pub mod job;
pub mod phrase;
pub mod plan;
pub mod render;
pub mod report;
pub mod rules;
pub mod spec;
pub mod start;
pub mod text;
pub mod units;
pub mod words;
pub mod work;
