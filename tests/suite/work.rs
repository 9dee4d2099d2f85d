//! What the work requires and how it stands: changes, ready steps, growth.

mod change;
pub mod growth;
mod keys;
mod run;
