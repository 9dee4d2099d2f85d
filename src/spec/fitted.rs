//! Since when a part is on the aircraft, as `fitted` says it.
//!
//! Whether a traveler has that id is not asked here.

use toml::de::DeValue;

use super::form::Filled;
use super::read::{Node, Reading, Reads};
use super::section::Form;
use crate::text::Spanned;

/// Since when a part is on the aircraft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Fitted {
    /// It was there when the build began.
    FromTheStart,
    /// Once the traveler of this id is finished.
    With(String),
}

impl Reads for Fitted {
    const FORM: Form = Form::Fitted;
    type Value = Spanned<Self>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<Self>> {
        match node.get_ref() {
            DeValue::Boolean(true) => Some(Spanned { value: Self::FromTheStart, span: reading.span(node.span()) }),
            DeValue::String(_) => Filled::read(node, name, reading).map(|id| id.map(Self::With)),
            _ => {
                reading.wrong(node, name, "a traveler's id in quotes, or `true`");
                None
            }
        }
    }
}
