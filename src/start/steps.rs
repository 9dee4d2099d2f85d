//! The steps of a traveler written out in full, as a file with written steps has them.
//!
//! In the place of usual steps they print the same packet. What a step takes from its procedures is not written again.

use std::fmt::Write as _;

use super::{list, quoted};
use crate::job::{FitSpec, Record, Step, StepEntry, Text, Traveler};
use crate::units::{Length, Minutes, Size, Style};

/// Every step as TOML.
#[must_use]
pub fn steps_text(traveler: &Traveler, style: &Style) -> String {
    traveler.steps.iter().map(|step| step_text(step, style)).collect::<Vec<_>>().join("\n")
}

fn step_text(step: &Step, style: &Style) -> String {
    let StepEntry {
        span: _,
        id,
        title: _,
        kind: _,
        joints,
        to,
        parts,
        text,
        drawings,
        manual,
        tools,
        uses,
        needs,
        sets,
        undoes,
        during,
        spaces,
        closes,
        opens,
        cure: _,
        cure_latest,
        hold,
        witness,
        stage,
        fit,
        records,
        cautions,
        photo,
        helper: _,
        minutes,
        procedure,
        before: _,
        behind: _,
        omit: _,
        because: _,
    } = &step.spec.entry;
    let mut lines = Lines(vec!["[[step]]".to_owned()]);
    lines.text("id", Some(id));
    lines.text("title", Some(&step.title));
    lines.key("do", Some(quoted(step.kind.value.word())));
    lines.texts("joints", joints);
    lines.key("to", to.map(|to| size_text(to.value, style)));
    lines.texts("parts", parts);
    lines.texts("procedure", procedure);
    lines.text("text", text.as_ref());
    lines.lists(&[("drawings", drawings), ("manual", manual), ("tools", tools), ("uses", uses), ("needs", needs)]);
    lines.lists(&[("sets", sets), ("undoes", undoes), ("while", during)]);
    lines.lists(&[("spaces", spaces), ("closes", closes), ("opens", opens)]);
    lines.key("cure", step.cure.map(|cure| duration(cure.value)));
    lines.key("cure-latest", cure_latest.map(|cure| duration(cure.value)));
    for (key, text) in [("hold", hold), ("witness", witness), ("stage", stage)] {
        lines.text(key, text.as_ref());
    }
    lines.measured(fit.as_ref(), records, style);
    lines.texts("cautions", cautions);
    lines.text("photo", photo.as_ref());
    lines.key("helper", step.helper.value.then(|| "true".to_owned()));
    lines.key("minutes", minutes.map(|minutes| minutes.value.to_string()));
    lines.0.join("\n") + "\n"
}

/// The lines of one table.
struct Lines(Vec<String>);

impl Lines {
    fn key(&mut self, key: &str, value: Option<String>) {
        self.0.extend(value.map(|value| format!("{key} = {value}")));
    }

    fn text(&mut self, key: &str, text: Option<&Text>) {
        self.key(key, text.map(|text| block(&text.value)));
    }

    fn lists(&mut self, lists: &[(&str, &Vec<Text>)]) {
        for (key, texts) in lists {
            self.texts(key, texts);
        }
    }

    fn measured(&mut self, fit: Option<&FitSpec>, records: &[Record], style: &Style) {
        self.key("fit", fit.map(|fit| fit_text(fit, style)));
        let records: Vec<String> = records.iter().map(|record| format!("    {},", record_text(record))).collect();
        self.key("records", (!records.is_empty()).then(|| format!("[\n{}\n]", records.join("\n"))));
    }

    fn texts(&mut self, key: &str, texts: &[Text]) {
        self.key(key, (!texts.is_empty()).then(|| list(texts.iter().map(|text| text.value.as_str()))));
    }
}

/// A text of several lines as TOML writes it, where none of its characters asks for more.
fn block(text: &str) -> String {
    let is_plain = |c: char| c == '\n' || !(c.is_control() || matches!(c, '"' | '\\'));
    if text.contains('\n') && text.chars().all(is_plain) { format!("\"\"\"\n{text}\"\"\"") } else { quoted(text) }
}

/// A size by the name of its drill, where it was written by one.
fn size_text(size: Size, style: &Style) -> String {
    quoted(&style.typed(size))
}

fn duration(minutes: Minutes) -> String {
    quoted(&match minutes.0 {
        n if n % 60 == 0 => minutes.to_string(),
        n => format!("{n} min"),
    })
}

fn fit_text(fit: &FitSpec, style: &Style) -> String {
    let (least, most) = fit.interference;
    let size = |length: Length| size_text(Size::plain(length), style);
    format!(
        "{{ bore = {}, pin = {}, interference = [{}, {}] }}",
        quoted(&fit.bore.value),
        quoted(&fit.pin.value),
        size(least.value),
        size(most.value)
    )
}

fn record_text(record: &Record) -> String {
    let mut text = format!("{{ id = {}, label = {}", quoted(&record.id.value), quoted(&record.label.value));
    let mut add = |key: &str, value: Option<String>| {
        if let Some(value) = value {
            // Writing to a text cannot fail.
            let _ = write!(text, ", {key} = {value}");
        }
    };
    add("unit", record.unit.as_ref().map(|unit| quoted(&unit.value)));
    add("min", record.min.map(|min| quoted(&min.value.to_string())));
    add("max", record.max.map(|max| quoted(&max.value.to_string())));
    add("tool", record.tool.as_ref().map(|tool| quoted(&tool.value)));
    add("within", record.within.as_ref().map(|within| quoted(&within.value)));
    add("measures", record.measures.map(|measures| quoted(measures.value.word())));
    text + " }"
}
