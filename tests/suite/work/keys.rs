//! Every key of the format against the requirement: a change of a *work* key changes it, of a *wording* key never.
//!
//! The cases are made from the lists of the format: a key that is added there must be shown in the project below.

mod all;

use shophead::archive::SheetRequirement;
use shophead::ident::Digest;
use shophead::spec::{Change, FILES, Form, Key, Section};
use shophead::work::sheet_requirement;
use toml::{Table, Value};

use self::all::{EARLIER, PROJECT, TRAVELER, USUAL};
use crate::build::shop::job_of;

/// One place of a project at which a key stands.
struct Shown {
    section: &'static Section,
    key: &'static Key,
    /// Keys and places of list items that lead to the value.
    path: Vec<String>,
}

fn shown(section: &'static Section, table: &Table, path: &[String], out: &mut Vec<Shown>) {
    for key in section.keys {
        let Some(value) = table.get(key.name) else { continue };
        let path: Vec<String> = path.iter().cloned().chain([key.name.to_owned()]).collect();
        match key.form {
            Form::Table(inner) => shown(inner, value.as_table().unwrap(), &path, out),
            Form::Tables(inner) => shown_items(inner, value, &path, out),
            Form::Stack(inner) => {
                shown_items(inner, value, &path, out);
                out.push(Shown { section, key, path });
            }
            _ => out.push(Shown { section, key, path }),
        }
    }
}

fn shown_items(section: &'static Section, list: &Value, path: &[String], out: &mut Vec<Shown>) {
    for (nth, item) in list.as_array().unwrap().iter().enumerate() {
        if let Some(item) = item.as_table() {
            shown(section, item, &[path, &[nth.to_string()]].concat(), out);
        }
    }
}

fn at<'a>(root: &'a mut Value, path: &[String]) -> &'a mut Value {
    path.iter().fold(root, |value, step| match value {
        Value::Array(list) => &mut list[step.parse::<usize>().unwrap()],
        other => other.get_mut(step).unwrap(),
    })
}

/// Another value of the same form.
fn change(form: Form, value: &mut Value) {
    let first = |value: &mut Value, change: &dyn Fn(&mut Value)| match value {
        Value::Array(list) => change(&mut list[0]),
        one => change(one),
    };
    let next = |words: &[&str], value: &mut Value| {
        let place = words.iter().position(|word| value.as_str() == Some(word)).unwrap();
        *value = words[(place + 1) % words.len()].into();
    };
    match form {
        Form::Text | Form::Markdown | Form::Id => *value = format!("{}X", value.as_str().unwrap()).into(),
        Form::Texts | Form::Names => first(value, &|item| *item = format!("{}X", item.as_str().unwrap()).into()),
        Form::Size => *value = "0.777".into(),
        Form::Sizes | Form::SizeList | Form::HoleSizes => first(value, &|item| *item = "0.777".into()),
        Form::SizePair | Form::SizeRange => *value = vec!["0.001", "0.999"].into(),
        Form::SizePairs => first(value, &|pair| *pair = vec!["0.777", "0.777"].into()),
        Form::Ratio => *value = "1.234 D".into(),
        Form::Torque => *value = "11-12 in-lb".into(),
        Form::Temperature => *value = "111 F".into(),
        Form::Duration => *value = "77 h".into(),
        Form::Count { .. } => *value = (value.as_integer().unwrap() + 1).into(),
        Form::Decimal => *value = "0.0123".into(),
        Form::Flag => *value = (!value.as_bool().unwrap()).into(),
        Form::Fitted => *value = "B".into(),
        Form::Date | Form::When => *value = "2001-01-01".into(),
        Form::Word(words) => next(words, value),
        Form::Words(words) => first(value, &|item| next(words, item)),
        Form::Stack(_) => value.as_array_mut().unwrap().reverse(),
        Form::TextMap | Form::ValueMap => {
            value.as_table_mut().unwrap().iter_mut().for_each(|(_, own)| change(Form::Text, own));
        }
        Form::Steps | Form::Marks | Form::Readings => unreachable!("only evenings have these"),
        Form::Table(_) | Form::Tables(_) => unreachable!("tables are changed key by key"),
    }
}

/// What all sheets require, without words.
fn required(project: &str, traveler: &str, usual: &str) -> Vec<SheetRequirement> {
    let (job, _, _) = job_of(project, &[traveler.to_owned(), EARLIER.to_owned(), usual.to_owned()]);
    let packets =
        (0..job.travelers.len()).flat_map(|index| job.hands_of(index).into_iter().map(move |hand| (index, hand)));
    let mut sheets: Vec<SheetRequirement> = packets.map(|(index, hand)| sheet_requirement(&job, index, hand)).collect();
    for sheet in &mut sheets {
        sheet.wording = None;
        for step in &mut sheet.steps {
            step.title.clear();
            step.wording = Digest::of_bytes(b"");
        }
    }
    sheets
}

/// Every changed key of one file, with whether some or all of its changes changed a requirement.
fn judged(
    file: &'static Section,
    text: &str,
    required_of: &dyn Fn(&str) -> Vec<SheetRequirement>,
) -> Vec<(Shown, bool)> {
    let table: Table = text.parse().unwrap();
    let before = required_of(text);
    let mut all = Vec::new();
    shown(file, &table, &[], &mut all);
    let judge = |shown: Shown| {
        let mut changed = Value::Table(table.clone());
        change(shown.key.form, at(&mut changed, &shown.path));
        let after = required_of(&toml::to_string(&changed).unwrap());
        (shown, after != before)
    };
    all.into_iter().map(judge).collect()
}

fn every_leaf(section: &'static Section, out: &mut Vec<(&'static str, &'static Key)>) {
    for key in section.keys {
        match key.form {
            Form::Table(inner) | Form::Tables(inner) => every_leaf(inner, out),
            Form::Stack(inner) => {
                every_leaf(inner, out);
                out.push((section.name, key));
            }
            _ => out.push((section.name, key)),
        }
    }
}

#[test]
fn a_work_key_changes_a_requirement_and_no_other_does() {
    let of_project = judged(FILES[0], PROJECT, &|text| required(text, TRAVELER, USUAL));
    let of_traveler = judged(FILES[1], TRAVELER, &|text| required(PROJECT, text, USUAL));
    let of_usual = judged(FILES[1], USUAL, &|text| required(PROJECT, TRAVELER, text));
    let all: Vec<(Shown, bool)> = of_project.into_iter().chain(of_traveler).chain(of_usual).collect();
    let mut leaves = Vec::new();
    FILES[..2].iter().for_each(|file| every_leaf(file, &mut leaves));
    let mut wrong = Vec::new();
    for (section, key) in leaves {
        let mut own = all.iter().filter(|(shown, _)| shown.section.name == section && shown.key.name == key.name);
        let name = format!("{section}.{}", key.name);
        let right = match key.change {
            Change::Work => own.clone().any(|(_, changed)| *changed),
            Change::Wording | Change::Apart => own.all(|(_, changed)| !changed),
            // Words are the work only of a step without joints.
            Change::ReadAgain => own.clone().any(|(_, changed)| *changed) && own.any(|(_, changed)| !changed),
        };
        if !all.iter().any(|(shown, _)| shown.section.name == section && shown.key.name == key.name) {
            wrong.push(format!("{name}: not shown above"));
        } else if !right {
            wrong.push(format!("{name}: {:?}", key.change));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
