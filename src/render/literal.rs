//! The one way in which a value enters Typst text: as a literal that prints as itself.
//!
//! Nothing here looks at what a text says; no text can leave its quotes.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::fmt::{self, Write};
use std::sync::Arc;

use minijinja::value::{Object, ValueKind};
use minijinja::{Error, ErrorKind, Value};

use super::bounds::DEEPEST_VALUE;
use crate::text::{is_printable, stand_in};

/// Typst code made by this module's own functions; the only values that are not quoted.
#[derive(Debug)]
pub(super) struct Code(pub(super) String);

impl Object for Code {
    fn render(self: &Arc<Self>, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

thread_local! {
    static STANDING_IN: RefCell<BTreeSet<char>> = const { RefCell::new(BTreeSet::new()) };
}

/// The characters for which something else was written since this was last asked.
pub(super) fn take_stood_in() -> BTreeSet<char> {
    STANDING_IN.take()
}

/// Writes a text as a Typst string literal; for a character that the fonts cannot print stands its code. Specs and evenings
/// hold none, but archives of earlier versions may, and a layout with one fails.
pub(super) fn write_text(out: &mut impl Write, text: &str) -> fmt::Result {
    out.write_char('"')?;
    for c in text.chars() {
        match c {
            c if !is_printable(c) => {
                STANDING_IN.with_borrow_mut(|all| all.insert(c));
                out.write_str(&stand_in(c))?;
            }
            '"' => out.write_str("\\\"")?,
            '\\' => out.write_str("\\\\")?,
            '\n' => out.write_str("\\n")?,
            '\r' => out.write_str("\\r")?,
            '\t' => out.write_str("\\t")?,
            c => out.write_char(c)?,
        }
    }
    out.write_char('"')
}

/// Writes any value as a Typst expression: text, number, true, false, none, array, dictionary.
pub(super) fn write_value(out: &mut impl Write, value: &Value) -> Result<(), Error> {
    write_nested(out, value, DEEPEST_VALUE)
}

fn write_nested(out: &mut impl Write, value: &Value, deeper: usize) -> Result<(), Error> {
    let Some(deeper) = deeper.checked_sub(1) else {
        return Err(Error::new(ErrorKind::InvalidOperation, "a value is nested too deep to be printed"));
    };
    if let Some(code) = value.downcast_object_ref::<Code>() {
        return Ok(out.write_str(&code.0)?);
    }
    match value.kind() {
        ValueKind::None => out.write_str("none")?,
        ValueKind::Bool => out.write_str(if value.is_true() { "true" } else { "false" })?,
        ValueKind::Number => write_number(out, value)?,
        ValueKind::String => match value.as_str() {
            Some(text) => write_text(out, text)?,
            None => return Err(Error::new(ErrorKind::InvalidOperation, "a text that cannot be read as text")),
        },
        ValueKind::Seq | ValueKind::Iterable => {
            out.write_char('(')?;
            for item in value.try_iter()? {
                write_nested(out, &item, deeper)?;
                out.write_char(',')?;
            }
            out.write_char(')')?;
        }
        ValueKind::Map => write_map(out, value, deeper)?,
        kind => {
            return Err(Error::new(ErrorKind::InvalidOperation, format!("a value of kind `{kind}` cannot be printed")));
        }
    }
    Ok(())
}

fn write_map(out: &mut impl Write, map: &Value, deeper: usize) -> Result<(), Error> {
    out.write_char('(')?;
    let mut empty = true;
    for key in map.try_iter()? {
        empty = false;
        let name = key.as_str().map_or_else(|| key.to_string(), str::to_owned);
        write_text(out, &name)?;
        out.write_char(':')?;
        write_nested(out, &map.get_item(&key)?, deeper)?;
        out.write_char(',')?;
    }
    out.write_str(if empty { ":)" } else { ")" })?;
    Ok(())
}

/// A negative number stands in parentheses, so that a minus sign cannot join what stands before it.
fn write_number(out: &mut impl Write, value: &Value) -> fmt::Result {
    let text = value.to_string();
    if text.starts_with('-') { write!(out, "({text})") } else { out.write_str(&text) }
}
