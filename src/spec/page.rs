//! The format page and the JSON Schema, both made from the key lists.
//!
//! Nothing is said here that the key lists do not say; prose about the work belongs to the README.

use std::fmt::Write;

use serde_json::{Map, Value, json};

use super::evening::EveningSpec;
use super::procedure::built_in_procedures;
use super::project::ProjectSpec;
use super::read::Entry;
use super::section::{Form, Key, Section};
use super::traveler::TravelerFile;

/// The files of a project: project file, traveler, evening.
pub static FILES: [&Section; 3] = [ProjectSpec::SECTION, TravelerFile::SECTION, EveningSpec::SECTION];

/// The sections of files in the order of the page, each with its heading.
fn sections(files: &[&'static Section]) -> Vec<(String, &'static Section)> {
    let mut all = Vec::new();
    for file in files.iter().copied() {
        all.push((file.sentence(), file));
        collect(file, &mut all);
    }
    all
}

fn collect(section: &'static Section, all: &mut Vec<(String, &'static Section)>) {
    for key in section.keys {
        let (heading, inner) = match key.form {
            Form::Table(inner) if section.name.is_empty() => (format!("`[{}]`", key.name), inner),
            Form::Tables(inner) if section.name.is_empty() => (format!("`[[{}]]`", key.name), inner),
            Form::Table(inner) => (format!("`{}` of `[[{}]]`", key.name, section.name), inner),
            Form::Tables(inner) => (format!("Entries of `{}` of `[[{}]]`", key.name, section.name), inner),
            Form::Stack(inner) => (format!("Layers of `{}` of `[[{}]]`", key.name, section.name), inner),
            _ => continue,
        };
        all.push((heading, inner));
        collect(inner, all);
    }
}

/// The format page, `specs/FORMAT.md`.
#[must_use]
pub fn format_page() -> String {
    format!("{PREFACE}{}{}", keys_of(&[ProjectSpec::SECTION, TravelerFile::SECTION]), procedures())
}

/// The built-in procedures as a table: what prints where neither the step nor the project says otherwise.
fn procedures() -> String {
    let mut page = PROCEDURES.to_owned();
    for own in built_in_procedures() {
        let cell = |text: &str| text.trim().replace('|', "\\|").replace('\n', "<br>");
        // A procedure without a cure leaves its cell empty.
        let cure = own.cure.as_deref().unwrap_or("");
        let text = cell(&own.text);
        let step = own.minutes.step;
        let hole = &own.minutes.hole;
        let _ = writeln!(page, "| `{}` | {text} | {step} | {hole} | {cure} | {} |", own.id, cell(&own.source));
    }
    page
}

/// The page of evenings, `specs/EVENING.md`.
#[must_use]
pub fn evening_page() -> String {
    format!("{EVENING}{}", keys_of(&[EveningSpec::SECTION]))
}

/// The tables of keys of some files.
fn keys_of(files: &[&'static Section]) -> String {
    let mut page = String::new();
    for (heading, section) in sections(files) {
        if section.name.is_empty() {
            let _ = write!(page, "\n## {heading}\n\n");
        } else {
            let _ = write!(page, "\n### {heading}\n\n{}\n\n", section.sentence());
        }
        page.push_str("| key | value | |\n|---|---|---|\n");
        for key in section.keys {
            let needed = if key.required { " **Required.**" } else { "" };
            let also = key.also.map_or(String::new(), |also| format!(", `{also}`"));
            let _ = writeln!(
                page,
                "| `{}`{also} | {} | {}{needed} |",
                key.name,
                form_words(&key.form),
                key.sentence().replace('|', "\\|")
            );
        }
    }
    page
}

const PREFACE: &str = "\
# The file format

This page is generated from the key lists in `src/spec`; a test fails when it is stale.

A project is one `build.toml` and any number of traveler files below its specs folder, in TOML. Keys are in
kebab-case. A key that is not listed here is an error, and so is a reference to something that does not exist. What was done
in an evening, and `progress.toml`, has a page of its own: [EVENING.md](EVENING.md).

**Sizes** are texts or bare numbers: `\"0.063\"`, `.25`, `\"1/4\"`, `\"1-1/2\"`, `\"#30\"` (number drill), `\"F\"` (letter drill),
`\"3.2 mm\"`, `\"0.25 in\"`. A bare number is in the project's unit. **Torques**: `\"23 in-lb\"`, `\"5 ft-lb\"`, `\"2.6 N m\"`,
ranges `\"20-25 in-lb\"`. **Temperatures**: `\"250 F\"`, `\"120 C\"`. **Durations**: `\"24 h\"`, `\"3 d\"`, `\"40 min\"`.
";

const PROCEDURES: &str = "
## Built-in procedures

One for each kind of step, and those that usual steps name. A step without `text` prints its procedure's. The minutes are for the
step and for each hole; the cure holds at usual steps. A `[[procedure]]` with the same `id` takes the place of one of these. The
last column says what the text rests on.

| id | text | minutes a step | minutes a hole | cure | basis |
|---|---|---|---|---|---|
";

const EVENING: &str = include_str!("evening.md");

fn form_words(form: &Form) -> String {
    match form {
        Form::Text => "text".into(),
        Form::Markdown => "Markdown".into(),
        Form::Id => "id".into(),
        Form::Size => "size".into(),
        Form::SizePair => "`[smallest, largest]`".into(),
        Form::SizeRange => "size, or `[smallest, largest]`".into(),
        Form::Sizes => "size, or one per layer".into(),
        Form::SizeList => "list of sizes".into(),
        Form::HoleSizes => "size or `undrilled`, or one per layer".into(),
        Form::SizePairs => "list of `[size, size]`".into(),
        Form::Ratio => "multiple of the diameter, `\"1.5 D\"`".into(),
        Form::Torque => "torque or range".into(),
        Form::Temperature => "temperature".into(),
        Form::Duration => "duration".into(),
        Form::Count { least } => format!("whole number from {least}"),
        Form::Decimal => "decimal number".into(),
        Form::Flag => "`true` or `false`".into(),
        Form::Fitted => "id of a traveler, or `true`".into(),
        Form::Date => "date, `2026-03-02`".into(),
        Form::Word(words) => listed(words),
        Form::Words(words) => format!("{}, or a list of them", listed(words)),
        Form::Texts => "list of texts".into(),
        Form::Names => "id, or a list of ids".into(),
        Form::Stack(_) => "list of part ids or layers".into(),
        Form::Table(_) => "table".into(),
        Form::Tables(_) => "repeated tables".into(),
        Form::TextMap => "table of texts, keys of your own".into(),
        Form::ValueMap => "table of texts or numbers, keys of your own".into(),
        Form::When => "date or date and time, `2026-03-02T19:30`".into(),
        Form::Steps => "number, id, range `\"010..070\"`, or a list of them".into(),
        Form::Marks => "list of texts or numbers".into(),
        Form::Readings => "table of numbers or texts, keys as beside the boxes".into(),
    }
}

fn listed(words: &[&str]) -> String {
    words.iter().map(|word| format!("`{word}`")).collect::<Vec<_>>().join(", ")
}

/// JSON Schema (draft 2020-12) of the project file.
#[must_use]
pub fn project_schema() -> Value {
    file_schema("shophead project file", ProjectSpec::SECTION)
}

/// JSON Schema (draft 2020-12) of a traveler file.
#[must_use]
pub fn traveler_schema() -> Value {
    file_schema("shophead traveler file", TravelerFile::SECTION)
}

/// JSON Schema (draft 2020-12) of an evening file and of a progress file.
#[must_use]
pub fn evening_schema() -> Value {
    file_schema("shophead evening file", EveningSpec::SECTION)
}

fn file_schema(title: &str, section: &'static Section) -> Value {
    let mut schema = section_schema(section);
    let mut head = Map::new();
    head.insert("$schema".into(), json!("https://json-schema.org/draft/2020-12/schema"));
    head.insert("title".into(), json!(title));
    if let Value::Object(rest) = schema.take() {
        head.extend(rest);
    }
    Value::Object(head)
}

fn section_schema(section: &'static Section) -> Value {
    let names = |key: &'static Key| [Some(key.name), key.also].into_iter().flatten();
    let property = |key: &'static Key| names(key).map(|name| (name.to_owned(), key_schema(key)));
    let properties: Map<String, Value> = section.keys.iter().flat_map(property).collect();
    let needed = || section.keys.iter().filter(|key| key.required);
    let required: Vec<&str> = needed().filter(|key| key.also.is_none()).map(|key| key.name).collect();
    let mut schema = json!({
        "type": "object",
        "description": section.sentence(),
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    });
    let either = |key| json!({ "anyOf": names(key).map(|name| json!({ "required": [name] })).collect::<Vec<_>>() });
    let by_either: Vec<Value> = needed().filter(|key| key.also.is_some()).map(either).collect();
    if let (Value::Object(map), false) = (&mut schema, by_either.is_empty()) {
        map.insert("allOf".to_owned(), Value::Array(by_either));
    }
    schema
}

fn key_schema(key: &Key) -> Value {
    let mut schema = form_schema(&key.form);
    if let Value::Object(map) = &mut schema {
        map.insert("description".into(), json!(key.sentence()));
    }
    schema
}

fn form_schema(form: &Form) -> Value {
    let size = || json!({ "type": ["string", "number"] });
    let mark = size;
    let list = |items: Value| json!({ "type": "array", "items": items });
    match form {
        Form::Text | Form::Id => json!({ "type": "string", "minLength": 1 }),
        Form::Markdown => json!({ "type": "string" }),
        Form::Size => size(),
        Form::SizePair => json!({ "type": "array", "items": size(), "minItems": 2, "maxItems": 2 }),
        Form::SizeRange | Form::Sizes | Form::SizeList | Form::HoleSizes => json!({ "anyOf": [size(), list(size())] }),
        Form::SizePairs => list(json!({ "type": "array", "items": size(), "minItems": 2, "maxItems": 2 })),
        Form::Ratio => json!({ "type": ["string", "number"], "examples": ["1.5 D"] }),
        Form::Torque => json!({ "type": "string", "examples": ["20-25 in-lb", "5 ft-lb", "2.6 N m"] }),
        Form::Temperature => json!({ "type": "string", "pattern": "[FC]\\s*$", "examples": ["250 F", "120 C"] }),
        Form::Duration => json!({ "type": "string", "examples": ["24 h", "3 d", "40 min"] }),
        Form::Count { least } => json!({ "type": "integer", "minimum": least, "maximum": 100_000 }),
        Form::Decimal => json!({ "type": ["number", "string"] }),
        Form::Flag => json!({ "type": "boolean" }),
        Form::Fitted => json!({ "anyOf": [{ "type": "string", "minLength": 1 }, { "const": true }] }),
        // Editors hand a bare TOML date over as a text.
        Form::Date => json!({ "type": "string", "pattern": "^\\d{4}-\\d{2}-\\d{2}" }),
        Form::Word(words) => json!({ "enum": words }),
        Form::Words(words) => json!({ "anyOf": [{ "enum": words }, list(json!({ "enum": words }))] }),
        Form::Texts => list(json!({ "type": "string" })),
        Form::Names => json!({ "anyOf": [{ "type": "string" }, list(json!({ "type": "string" }))] }),
        Form::Stack(layer) => {
            json!({ "type": "array", "minItems": 1, "items": { "anyOf": [{ "type": "string" }, section_schema(layer)] } })
        }
        Form::Table(section) => section_schema(section),
        Form::Tables(section) => list(section_schema(section)),
        Form::TextMap => json!({ "type": "object", "additionalProperties": { "type": "string" } }),
        Form::ValueMap => json!({ "type": "object", "additionalProperties": { "type": ["string", "number"] } }),
        Form::When => json!({ "type": "string", "pattern": "^\\d{4}-\\d{2}-\\d{2}([Tt ]\\d{2}:\\d{2}(:\\d{2})?)?$" }),
        Form::Steps => json!({ "anyOf": [mark(), list(mark())] }),
        Form::Marks => list(mark()),
        // `060.1` without quotation marks is a table in a table.
        Form::Readings => json!({ "type": "object", "additionalProperties": { "anyOf": [
            mark(), { "type": "object", "additionalProperties": mark() }] } }),
    }
}
