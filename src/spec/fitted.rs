//! Since when a part is on the aircraft, as `fitted` says it.
//!
//! Whether a traveler has that id is not asked here.

/// Since when a part is on the aircraft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fitted {
    /// It was there when the build began.
    FromTheStart,
    /// Once the traveler of this id is finished.
    With(String),
}
