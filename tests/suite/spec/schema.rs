//! The schemas of the spec files, judged by an independent validator.

use serde_json::{Value, json};
use shophead::spec::{evening_schema, project_schema, traveler_schema};

use crate::build::shop::root;
use crate::build::validator::{Schema, json_of_toml, toml_files};

/// A file that must fit its schema and does not: path and reason.
fn misfits(schema: &Schema, files: &[std::path::PathBuf]) -> Vec<String> {
    let fault = |path: &std::path::PathBuf| {
        let text = std::fs::read_to_string(path).unwrap();
        schema.fault(&json_of_toml(&text)).map(|fault| format!("{}: {fault}", path.display()))
    };
    files.iter().filter_map(fault).collect()
}

#[test]
fn the_demo_fits_its_schemas() {
    let travelers = toml_files("specs");
    assert!(travelers.len() >= 6, "the demo has {} travelers", travelers.len());
    assert_eq!(misfits(&Schema::new(traveler_schema()), &travelers), Vec::<String>::new());
    let project = root().join("demo-data/build.toml");
    assert_eq!(misfits(&Schema::new(project_schema()), &[project]), Vec::<String>::new());
    let progress = root().join("demo-data/progress.toml");
    let mut typed = toml_files("demo-data/evenings");
    // The second says `zone`, as records do: that is read, and not offered.
    typed.retain(|path| !path.ends_with("tasks.toml") && !path.ends_with("02-skin.toml"));
    assert_eq!(typed.len(), 3);
    typed.push(progress);
    assert_eq!(misfits(&Schema::new(evening_schema()), &typed), Vec::<String>::new());
}

#[test]
fn a_schema_does_not_fit_the_other_file() {
    let project = root().join("demo-data/build.toml");
    assert_eq!(misfits(&Schema::new(traveler_schema()), &[project]).len(), 1);
    let travelers = toml_files("specs");
    assert_eq!(misfits(&Schema::new(project_schema()), &travelers).len(), travelers.len());
    assert_eq!(misfits(&Schema::new(evening_schema()), &travelers).len(), travelers.len());
}

const TRAVELER: &str = r##"
[traveler]
id = "T"
title = "Bracket"
revision = "A"
[[part]]
id = "P"
name = "Plate"
thickness = "0.250"
bend = { radius = "3/16", angle = 90 }
[[joint]]
id = "J1"
stack = ["P", { material = "2024-T3", thickness = 0.032 }]
fastener = "MS20470AD4"
count = 8
holes = { start = "#40", final = "#30" }
prepare = ["plain", "plain"]
limits = { edge = "1.5 D", because = "note 4" }
[[step]]
id = "drill"
title = "Drill"
do = "drill"
joints = ["J1"]
"##;

/// Where to write, and what.
type Change = (&'static str, fn(&mut Value));

#[test]
fn one_fault_anywhere_does_not_fit() {
    let schema = Schema::new(traveler_schema());
    let good = json_of_toml(TRAVELER);
    assert_eq!(schema.fault(&good), None);
    let faults: &[Change] = &[
        ("an unknown table", |v| v["jont"] = json!([])),
        ("an unknown key", |v| v["joint"][0]["fastner"] = json!("MS20470AD4")),
        ("an unknown key in an inline table", |v| v["joint"][0]["holes"]["finl"] = json!("#30")),
        ("an unknown key in a layer", |v| v["joint"][0]["stack"][1]["thick"] = json!("0.1")),
        ("a missing key", |v| drop(v["joint"][0].as_object_mut().unwrap().remove("fastener"))),
        ("a missing reason", |v| drop(v["joint"][0]["limits"].as_object_mut().unwrap().remove("because"))),
        ("an unknown word", |v| v["step"][0]["do"] = json!("drilling")),
        ("an unknown word in a list", |v| v["joint"][0]["prepare"][1] = json!("dimpled")),
        ("a count below one", |v| v["joint"][0]["count"] = json!(0)),
        ("a wrong type", |v| v["joint"][0]["stack"] = json!("P")),
        ("an empty stack", |v| v["joint"][0]["stack"] = json!([])),
        ("an empty id", |v| v["part"][0]["id"] = json!("")),
    ];
    for (name, change) in faults {
        let mut bad = good.clone();
        change(&mut bad);
        assert_ne!(bad, good, "{name} changes nothing");
        assert!(schema.fault(&bad).is_some(), "{name} fits the schema");
    }
}
