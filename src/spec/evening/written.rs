//! An entry of an evening as text: keys with values, as they would be typed.
//!
//! What it writes is read by the reader of every other evening. It leaves out what is not given.

use std::fmt::Write as _;

/// One table, line by line.
#[derive(Debug, Clone, Default)]
pub struct WrittenEntry {
    text: String,
}

impl WrittenEntry {
    /// The head of a repeated table; without a name the top of a file.
    #[must_use]
    pub fn titled(table: &str) -> Self {
        Self { text: if table.is_empty() { String::new() } else { format!("[[{table}]]\n") } }
    }

    /// A value as it stands: a number, a date, `{ .. }`.
    #[must_use]
    pub fn bare(mut self, key: &str, value: Option<&str>) -> Self {
        if let Some(value) = value {
            // Writing to a text cannot fail.
            let _ = writeln!(self.text, "{key} = {value}");
        }
        self
    }

    /// A text.
    #[must_use]
    pub fn text(self, key: &str, value: Option<&str>) -> Self {
        let quoted = value.map(quoted);
        self.bare(key, quoted.as_deref())
    }

    /// A list of texts; nothing where it is empty.
    #[must_use]
    pub fn texts(self, key: &str, values: &[String]) -> Self {
        let listed = format!("[{}]", values.iter().map(|own| quoted(own)).collect::<Vec<_>>().join(", "));
        self.bare(key, (!values.is_empty()).then_some(listed.as_str()))
    }

    /// Values by name; nothing where there is none.
    #[must_use]
    pub fn pairs(self, key: &str, values: &[(String, String)]) -> Self {
        let pair = |(name, value): &(String, String)| format!("{} = {}", quoted(name), quoted(value));
        let listed = format!("{{ {} }}", values.iter().map(pair).collect::<Vec<_>>().join(", "));
        self.bare(key, (!values.is_empty()).then_some(listed.as_str()))
    }

    /// The text of the table.
    #[must_use]
    pub fn finish(self) -> String {
        self.text
    }
}

/// A text between quotation marks, as TOML writes it on one line.
fn quoted(text: &str) -> String {
    let mut quoted = String::from("\"");
    for c in text.chars() {
        match c {
            '"' | '\\' => quoted.extend(['\\', c]),
            c if c.is_control() => {
                // Writing to a text cannot fail.
                let _ = write!(quoted, "\\u{:04X}", u32::from(c));
            }
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}
