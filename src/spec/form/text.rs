//! Texts: what paper can show and has room for.
//!
//! It judges letters and their number, not what is said.

use toml::de::DeValue;

use crate::report::LeftOut;
use crate::spec::read::{Node, Reading, Reads};
use crate::spec::section::Form;
use crate::text::{Span, Spanned, too_long, unprintable, unprintable_words};

/// A text that a page has room for.
pub(in crate::spec) fn text_of(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<String>> {
    let text = markdown_of(node, name, reading)?;
    if let Some(said) = too_long(&text.value) {
        reading.invalid(text.span, format!("`{name}` has {said}"));
        return None;
    }
    Some(text)
}

pub(super) fn markdown_of(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<String>> {
    let DeValue::String(text) = node.get_ref() else {
        reading.wrong(node, name, "a text in quotes");
        return None;
    };
    let span = reading.span(node.span());
    if let Some((_, c)) = unprintable(text) {
        let message = format!("`{name}` holds {}", unprintable_words(c));
        reading.invalid(span, message).help =
            Some("write it with Latin, Greek or Cyrillic letters, digits and signs".into());
        return None;
    }
    Some(Spanned { value: text.to_string(), span })
}

/// A text that must not be empty.
pub(super) fn filled(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Spanned<String>> {
    let text = text_of(node, name, reading)?;
    if text.value.trim().is_empty() {
        reading.invalid(text.span, format!("`{name}` is empty"));
        return None;
    }
    Some(text)
}

/// A text that is to be one of some words; they are named where there is none.
pub(in crate::spec) fn word_text(
    node: &Node<'_>,
    name: &str,
    words: &[&str],
    reading: &mut Reading,
) -> Option<Spanned<String>> {
    let text = text_of(node, name, reading);
    if let (None, Some(finding)) = (&text, reading.findings.last_mut()) {
        finding.help.get_or_insert_with(|| format!("one of: {}", words.join(", ")));
    }
    text
}

/// A name that other places refer to; where it is absent, that of the file.
#[derive(Debug)]
pub struct IdOfFile;

impl Reads for IdOfFile {
    const FORM: Form = Form::Id;
    type Value = Spanned<String>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        let id = filled(node, name, reading);
        if id.is_none() {
            // Others name it by an id that nobody knows.
            let span = reading.span(node.span());
            reading.left_out.push(LeftOut { table: "traveler", id: None, span });
        }
        id
    }

    fn absent(table: Span, reading: &mut Reading) -> Option<Self::Value> {
        Some(Spanned { value: reading.stem.clone(), span: table })
    }
}

/// The id of a joint; where it is absent, that of an only one.
#[derive(Debug)]
pub struct IdOfJoint;

impl Reads for IdOfJoint {
    const FORM: Form = Form::Id;
    type Value = Spanned<String>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        filled(node, name, reading)
    }

    fn absent(table: Span, _: &mut Reading) -> Option<Self::Value> {
        Some(Spanned { value: "J1".to_owned(), span: table })
    }
}
