//! Proposals: the rivet, bolt, torque or radius that the tables lead to for a stack, a diameter, a thread.
//!
//! Every proposal passes the rules that judge the same question, because both ask the same look-ups. It does not
//! know the plans: where they call something else, they are right.

mod bend;
mod blind;
mod bolt;
mod rivet;
mod torque;

pub use bend::{BendProposal, BendVerdict, propose_bend};
pub use blind::{BlindProposal, BlindQuestion, propose_blind};
pub use bolt::{BoltProposal, propose_bolt};
pub use rivet::{
    LengthFit, RivetCount, RivetProposal, RivetShear, count_bolts, count_rivets, judge_length, propose_rivet,
    rivet_of_diameter,
};
pub use torque::{TorqueProposal, WrenchSetting, propose_own_torque, propose_torque, set_wrench};

use crate::units::Length;

/// Why there is no proposal: one sentence that says what would have one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoProposal(pub String);

impl std::fmt::Display for NoProposal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for NoProposal {}

/// Thickness of a stack whose layers are given.
fn thickness(layers: &[Length]) -> Result<Length, NoProposal> {
    if layers.is_empty() || layers.iter().any(|layer| *layer <= Length::ZERO) {
        return Err(NoProposal("every layer of the stack needs a thickness above zero, as in 0.032,0.040".to_owned()));
    }
    Ok(layers.iter().copied().sum())
}
