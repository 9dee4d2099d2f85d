//! The words of what is recorded: what a signature is for, how far a discrepancy stops the work and what was decided.
//!
//! Records have these words, those of the first form but for one, and keep them.

use super::words;

words! {
    /// What a signature is for.
    Capacity {
        /// The work was done.
        Done = "done",
        /// A hold point was released.
        Hold = "hold",
        /// A witness was there.
        Witness = "witness",
        /// A stage was signed.
        Stage = "stage",
    }
}

words! {
    /// How far a discrepancy stops the work.
    Stops {
        /// The step.
        Step = "step",
        /// The space: it may not close.
        Space = "space",
        /// Nothing.
        Nothing = "nothing",
    }
}

impl Stops {
    /// The value of a word that is typed: also of the one that stood for a space before.
    #[must_use]
    pub fn typed(word: &str) -> Option<Self> {
        Self::parse(word).or_else(|| (word == "zone").then_some(Self::Space))
    }
}

words! {
    /// How much a discrepancy weighs; whoever is not sure says major.
    Class {
        /// Neither structure nor control, fuel, landing gear.
        Minor = "minor",
        /// Everything else.
        Major = "major",
    }
}

words! {
    /// What was decided about a discrepancy.
    Disposition {
        /// It stays as it is.
        UseAsIs = "use as is",
        /// Brought back to the drawing.
        Rework = "rework",
        /// Made acceptable, though not to the drawing.
        Repair = "repair",
        /// Thrown away.
        Scrap = "scrap",
        /// Sent back.
        Return = "return to supplier",
    }
}
