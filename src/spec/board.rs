//! The keys of `[board]` in `build.toml`: what the builder wants of the board, beyond what the travelers say.
//!
//! Nothing that is signed rests on it. Which travelers exist is not judged here.

use super::form::{Filled, Id, Names, Tables, When, Word};
use super::list::section;
use super::read::Reading;
use crate::words::{Hand, WaitFor};

section! {
    /// What the board proposes first and later, and what whole jobs wait for.
    BoardSpec = "board" checked by check_board {
        /// Travelers that are proposed before all others, in this order.
        first "first": any Names => apart,
        /// Travelers that are not proposed for an evening and stand at the end.
        later "later": any Names => apart,
        /// Jobs that cannot go on until something comes.
        waits "wait": any Tables<JobWaitSpec> => apart,
    }

    /// A whole job that cannot go on: none of its steps is proposed.
    JobWaitSpec = "board.wait" {
        /// Traveler.
        traveler "traveler": need Id => apart,
        /// The hand. Absent: every hand that the traveler is built in.
        hand "hand": may Word<Hand> => apart,
        /// What it waits for.
        wait "for": need Word<WaitFor> => apart,
        /// Who or what, in words.
        what "what": need Filled => apart,
        /// When the wait is over; from then on it no longer holds the job.
        until "until": may When => apart,
    }
}

/// A job is wanted first or later.
fn check_board(board: &BoardSpec, reading: &mut Reading) {
    for later in &board.later {
        if board.first.iter().any(|first| first.value == later.value) {
            let message = format!("`{}` stands under `first` and under `later`", later.value);
            reading.invalid(later.span, message).help = Some("keep it in one of the two".into());
        }
    }
}
