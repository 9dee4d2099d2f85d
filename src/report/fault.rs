//! Names of the faults that are raised outside the rules' own files: by reading, by following references, by `[[allow]]`.
//!
//! Each has a rule of its name for its page; a test holds the two together. What a rule's check finds is not named here.

/// The text of a file is not what its format says.
pub const SPEC_UNREADABLE: &str = "spec-unreadable";
/// A key that the format does not have.
pub const KEY_UNKNOWN: &str = "key-unknown";
/// A value of the wrong form, or one that is missing.
pub const VALUE_INVALID: &str = "value-invalid";
/// Two things with one id in one scope.
pub const ID_REPEATED: &str = "id-repeated";
/// A name of something that does not exist.
pub const REFERENCE_DANGLING: &str = "reference-dangling";
/// An `[[allow]]` entry that accepts nothing.
pub const ALLOW_UNUSED: &str = "allow-unused";
/// A step that is taller than a page: raised by laying it out.
pub const STEP_TOO_TALL: &str = "step-too-tall";

/// What keeps a spec from being read whole: these are raised while it is read and its references are followed.
pub const READING: [&str; 5] = [SPEC_UNREADABLE, KEY_UNKNOWN, VALUE_INVALID, ID_REPEATED, REFERENCE_DANGLING];
