//! The forms that only evenings have: steps, readings, numbers of photos.
//!
//! Numbers keep the digits that were typed. What a step or a reading is, is for whoever knows the sheet.

use toml::de::DeValue;

use crate::spec::form::{one_or_more, text_of, word_text};
use crate::spec::read::{Node, Reading, Reads, nearest};
use crate::spec::section::Form;
use crate::text::{Span, Spanned};
use crate::words::Stops;

/// Steps as typed: numbers, ids, ranges, each for itself; a text may hold several with commas between them.
#[derive(Debug)]
pub struct Steps;

impl Reads for Steps {
    const FORM: Form = Form::Steps;
    type Value = Vec<Spanned<String>>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        let marks = one_or_more(node, |item| mark(item, name, "a number, an id or a range like \"010..070\"", reading));
        let words = |mark: Spanned<String>| {
            let each = mark.value.split(',').map(|word| Spanned { value: word.trim().to_owned(), span: mark.span });
            each.collect::<Vec<_>>()
        };
        let all: Vec<Spanned<String>> = marks.into_iter().flat_map(words).collect();
        if let Some(empty) = all.iter().find(|word| word.value.is_empty()) {
            reading.invalid(empty.span, format!("`{name}` is empty"));
            return None;
        }
        // Of what could not be read that was said.
        if matches!(node.get_ref(), DeValue::Array(items) if items.is_empty()) {
            let span = reading.span(node.span());
            reading.invalid(span, format!("`{name}` names no step"));
        }
        (!all.is_empty()).then_some(all)
    }

    fn absent(_: Span, _: &mut Reading) -> Option<Self::Value> {
        Some(Vec::new())
    }
}

/// A list of texts or numbers, or one.
#[derive(Debug)]
pub struct Marks;

impl Reads for Marks {
    const FORM: Form = Form::Marks;
    type Value = Vec<Spanned<String>>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        Some(one_or_more(node, |item| mark(item, name, "a text or a number", reading)))
    }

    fn absent(_: Span, _: &mut Reading) -> Option<Self::Value> {
        Some(Vec::new())
    }
}

/// Readings by what is typed for their box, in the order of the file. `060.1 = 0.25` without quotation marks is a table in
/// a table for TOML, and is meant as it looks.
#[derive(Debug)]
pub struct Readings;

impl Reads for Readings {
    const FORM: Form = Form::Readings;
    type Value = Vec<(Spanned<String>, Spanned<String>)>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        let DeValue::Table(table) = node.get_ref() else {
            reading.wrong(node, name, "a table like { 060.1 = 0.2500 }");
            return None;
        };
        let mut all = Vec::new();
        for (key, value) in table {
            let key = Spanned { value: key.get_ref().to_string(), span: reading.span(key.span()) };
            let DeValue::Table(boxes) = value.get_ref() else {
                all.extend(mark(value, &key.value, "a number or a text", reading).map(|value| (key, value)));
                continue;
            };
            for (box_number, value) in boxes {
                let inner = reading.span(box_number.span());
                // Only the first box of a step stands right behind the step's number.
                let start = if inner.start <= key.span.end + 1 { key.span.start } else { inner.start };
                let span = Span { start, ..inner };
                let key = Spanned { value: format!("{}.{}", key.value, box_number.get_ref()), span };
                all.extend(mark(value, &key.value, "a number or a text", reading).map(|value| (key, value)));
            }
        }
        all.sort_by_key(|(key, _)| key.span.start);
        Some(all)
    }

    fn absent(_: Span, _: &mut Reading) -> Option<Self::Value> {
        Some(Vec::new())
    }
}

/// A text, or a number with the digits that were typed.
fn mark(node: &Node<'_>, name: &str, wanted: &str, reading: &mut Reading) -> Option<Spanned<String>> {
    let span = reading.span(node.span());
    match node.get_ref() {
        // A number with a zero in front is a fault of syntax, and has no digits.
        DeValue::Integer(number) if number.as_str().is_empty() => None,
        DeValue::Integer(number) if number.radix() == 10 => Some(Spanned { value: number.as_str().to_owned(), span }),
        DeValue::Float(number) => Some(Spanned { value: number.as_str().to_owned(), span }),
        DeValue::String(_) => text_of(node, name, reading),
        _ => {
            reading.wrong(node, name, wanted);
            None
        }
    }
}

/// How far a discrepancy stops the work, also in the word of before.
#[derive(Debug)]
pub struct StopsWord;

impl Reads for StopsWord {
    const FORM: Form = Form::Word(Stops::WORDS);
    type Value = Spanned<Stops>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        let text = word_text(node, name, Stops::WORDS, reading)?;
        let known = Stops::typed(&text.value);
        if known.is_none() {
            let near = nearest(&text.value, Stops::WORDS.iter().copied());
            let near = near.map_or(String::new(), |word| format!("did you mean `{word}`? "));
            let message = format!("`{name}` is `{}`, which is none of its words", text.value);
            reading.invalid(text.span, message).help = Some(format!("{near}one of: {}", Stops::WORDS.join(", ")));
        }
        known.map(|value| Spanned { value, span: text.span })
    }
}
