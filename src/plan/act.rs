//! WHOSE ACT: the line beside every outcome that is printed, because an outcome is a person's and never this program's.
//!
//! The words of outcomes come from the builder's own project file and from nowhere else.

use crate::phrase::say;

/// Whose act it is to tick an outcome.
pub(super) fn whose_act(who: &str) -> String {
    say!(
        "A tick is the signer's own act as {who}, in the words of the builder's file; this paper says none of it by itself.",
        who
    )
}

/// An outcome as it was written down, with whose act it was.
pub(super) fn said_by(outcome: &str, by: &str, role: &str) -> String {
    say!("“{outcome}”, the act of {by} as {role}", outcome, by, role)
}
