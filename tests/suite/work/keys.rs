//! Every key of the format against the requirement: a change of a *work* key changes it, of a *wording* key never.
//!
//! The cases are made from the lists of the format: a key that is added there must be shown in the project below.

use shophead::archive::SheetRequirement;
use shophead::ident::Digest;
use shophead::spec::{Change, FILES, Form, Key, Section};
use shophead::work::sheet_requirement;
use toml::{Table, Value};

use crate::build::shop::job_of;

/// A project that uses every key; whether it is a good one is no matter here.
const PROJECT: &str = r#"
[aircraft]
name = "Dunlin"
serial = "D-014"
registration = "N00DN"
[project]
unit = "inch"
second = "mm"
torque = "in-lb"
paper = "us-letter"
specs = "specs"
output = "output"
pictures = "pictures"
archive = "archive"
spare = 10
date = 2026-03-02
[[role]]
id = "builder"
word = "Builder"
may = ["do", "look"]
asks = ["licence no."]
says = "It is done."
[[role]]
id = "inspector"
may = ["look", "release"]
[[role]]
id = "technical counselor"
may = "advise"
[[stage]]
id = "S1"
name = "Before closing"
sign = { all = ["inspector"], any = ["B1"], other = true }
releases = ["B"]
outcomes = ["seen", "not seen"]
go-on = ["seen"]
[[stage]]
id = "S2"
name = "Box before closing"
sign = { all = ["inspector"] }
[[procedure]]
id = "shop-prime"
revision = "B"
text = "Thin coats."
tools = ["spray gun"]
cure = "24 h"
source = "common practice"
minutes = { step = 10, hole = 0.25 }
[[procedure]]
id = "shop-rivet"
text = "Slow and square."
[board]
first = ["A"]
later = ["B"]
[[board.wait]]
traveler = "B"
hand = "left"
for = "part"
what = "plates"
until = 2026-03-09
[shop]
drills = ["0.098", "0.1285"]
sheets = ["0.032", "0.040"]
rivets = ["1/8", "5/32"]
[[signer]]
initials = "B1"
name = "The builder"
role = "builder"
[[space]]
id = "bay"
name = "Bay"
hold = "inspector"
holds = "fuel"
hands = ["left", "right"]
[[space]]
id = "box"
name = "Box"
stage = "S2"
[callouts]
"R-A" = "MS20470AD4-5"
[[fastener]]
id = "K-1"
kind = "blind-rivet"
diameter = "1/8"
hole = ["0.128", "0.133"]
grip = ["0.020", "0.125"]
head = "protruding"
material = "aluminium"
source = "kit drawing H-2"
[[fastener]]
id = "K-BOLT"
kind = "bolt"
diameter = "0.190"
thread = "10-32"
length = "1.5"
thread-length = "0.5"
property-class = "8.8"
drilled-shank = true
pin-hole = "0.07"
source = "kit drawing H-4"
[[fastener]]
id = "K-NUT"
kind = "nut"
diameter = "0.190"
thread = "10-32"
height = "0.26"
self-locking = true
castle = false
source = "kit drawing H-4"
[[fastener]]
id = "K-WASHER"
kind = "washer"
diameter = "0.190"
thickness = "0.063"
source = "kit drawing H-4"
[[torque]]
thread = "10-32"
class = "8.8"
nut = "self-locking"
lubrication = "dry"
low = "20 in-lb"
high = "25 in-lb"
most = "40 in-lb"
source = "kit drawing H-4"
[[drawing]]
sheet = "W-1"
title = "Bay"
revision = "C"
date = 2026-03-02
[[stock]]
item = "MS20470AD4-5"
on-hand = 3
bin = "drawer 7"
[[caution]]
id = "hot"
word = "WARNING"
text = "The iron is hot."
kinds = ["bond"]
words = ["iron"]
closes = false
general = false
signs = ["M009"]
[[caution]]
id = "eye-protection"
omit = true
because = "worn all day"
[[tool]]
id = "wrench"
name = "Torque wrench"
calibrated = 2026-01-01
"#;

const EARLIER: &str = r#"
[traveler]
id = "B"
title = "Before"
revision = "A"
[[joint]]
id = "K1"
stack = [{ material = "2024-T3", thickness = "0.040" }]
fastener = "MS20470AD4-4"
count = 1
[[step]]
id = "s"
title = "Level"
do = "level"
"#;

/// A traveler with usual steps and what can be said of them.
const USUAL: &str = r##"
[traveler]
id = "U"
title = "Clip"
revision = "A"
steps = "usual"
closes = ["box"]
[[part]]
id = "U1"
name = "Clip"
[[part]]
id = "U2"
name = "Rib"
[[joint]]
id = "J1"
stack = ["U1", "U2"]
fastener = "MS20470AD4-4"
count = 4
[[step]]
id = "deburr"
omit = true
because = "made by others"
[[step]]
id = "prime"
procedure = "shop-prime"
[[step]]
id = "rivet"
procedure = "shop-rivet"
[[step]]
id = "level"
title = "Level"
do = "level"
before = "drill"
[[step]]
id = "again"
title = "Level again"
do = "level"
behind = "drill"
"##;

const TRAVELER: &str = r##"
[traveler]
id = "A"
title = "Box"
revision = "A"
hands = ["left", "right"]
drawings = ["W-1:C"]
after = ["B"]
summary = "A box."
[[part]]
id = "P1"
name = "Rib"
quantity = 2
material = "2024-T3"
thickness = 0.063
look-alike = "P2"
bend = { radius = "3/16", angle = 80, grain = "along" }
[[part]]
id = "P2"
name = "Skin"
material = "2024-T3"
thickness = "0.040"
[[joint]]
id = "J1"
name = "Rib to skin"
stack = ["P1", { part = "P2", material = "7075-T6", thickness = "0.050" }]
fastener = "R-A"
count = 4
holes = { start = "#40", final = "#30", chamfer = "0.005" }
edge = ["0.30", "0.35"]
pitch = "0.75"
rows = 2
row-gap = "0.5"
pattern = { end = "0.5", edge = "0.4", pitch = "0.8", stagger = true, edge-name = "flange edge", end-name = "root", across = "forward", along = "outboard" }
prepare = ["dimple", "countersink"]
structure = "primary"
access = "both sides"
wet = "sealant"
leave-open = { count = 1, until = "B/s", joint = "K1", why = "a bracket comes later" }
bend-distance = "0.20"
stringer-leg = "0.50"
tube = "1.00"
limits = { edge = "1.5 D", pitch = "3 D", row-gap = "3 D", bend = "1.8 D", hole = ["#31", "#29"], grip = ["0.050", "0.125"], torque = "18-30 in-lb", because = "note 4" }
nut = "AN310-3"
washers = { head = ["NAS1149F0332P"], nut = ["NAS1149F0363P"] }
cotter = "MS24665-132"
torque = "20-25 in-lb"
rotates = true
clamped = "inner race"
drag = "included"
check-nut = "AN316-3"
temperature = "180 F"
lubricated = false
temporary = { fastener = "AN3-6A", nut = "AN315-3R", why = "removed for painting" }
often-removed = true
run-down = "2-18 in-lb"
replaces = "MS20470AD4-4"
shop-head = { diameter = "0.17", height = "0.06" }
[[joint]]
id = "J2"
stack = ["P1", "P2"]
fastener = "K-1"
count = 2
pattern = { points = [["0.5", "0.5"], ["1.5", "0.5"]] }
[[joint]]
id = "J3"
stack = ["P1", "P2"]
fastener = "K-BOLT"
nut = "K-NUT"
washers = { nut = ["K-WASHER"] }
count = 2
[[step]]
id = "bolt-kit"
title = "Bolt"
do = "bolt"
joints = ["J3"]
[[step]]
id = "torque-kit"
title = "Torque"
do = "torque"
joints = ["J3"]
[[step]]
id = "lay-out"
title = "Lay out"
do = "lay-out"
joints = ["J1", "J2"]
[[step]]
id = "drill"
title = "Drill"
do = "drill"
joints = ["J1", "J2"]
to = "#40"
parts = ["P1"]
text = "Slowly."
drawings = ["W-1 view C"]
manual = ["p. 6-12"]
tools = ["stop"]
needs = ["B/s"]
spaces = ["bay"]
opens = ["bay"]
cautions = ["hot"]
photo = "before covering"
helper = true
minutes = 40
[[step]]
id = "ream"
title = "Ream"
do = "ream"
joints = ["J1"]
[[step]]
id = "countersink"
title = "Countersink"
do = "countersink"
joints = ["J1"]
[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]
[[step]]
id = "fit"
title = "Fit"
do = "fit"
joints = ["J1"]
[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1", "J2"]
[[step]]
id = "torque"
title = "Torque"
do = "torque"
joints = ["J1"]
[[step]]
id = "shut"
title = "Shut"
do = "close"
closes = ["box"]
[[step]]
id = "paint"
title = "Paint"
do = "paint"
parts = ["P1"]
text = "Two thin coats."
cure = "24 h"
cure-latest = "48 h"
[[step]]
id = "look"
title = "Look"
do = "inspect"
joints = ["J1", "J2"]
closes = ["bay"]
hold = "inspector"
stage = "S1"
witness = "technical counselor"
records = [{ id = "twist", label = "Twist", unit = "deg", min = "-0.1", max = "0.1", tool = "level", measures = "torque" }]
[[allow]]
rule = "edge-distance-short"
joint = "J1"
because = "letter"
[[allow]]
rule = "pitch-short"
step = "drill"
because = "letter"
[[allow]]
rule = "bend-too-tight"
part = "P1"
because = "letter"
"##;

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
        Form::Date | Form::When => *value = "2001-01-01".into(),
        Form::Word(words) => next(words, value),
        Form::Words(words) => first(value, &|item| next(words, item)),
        Form::Stack(_) => value.as_array_mut().unwrap().reverse(),
        Form::TextMap | Form::ValueMap => {
            value.as_table_mut().unwrap().iter_mut().for_each(|(_, own)| change(Form::Text, own));
        }
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
