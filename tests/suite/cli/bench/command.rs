//! The command: keys for programs, words for readers, exit codes.

use std::process::{Command, Output};

use serde_json::{Value, json};

use crate::build::shop::{Shop, root};

fn run(arguments: &str) -> Output {
    let words = arguments.split_whitespace();
    // Somewhere without a project: the calculators need none.
    Command::new(env!("CARGO_BIN_EXE_shophead")).current_dir(env!("CARGO_TARGET_TMPDIR")).args(words).output().unwrap()
}

fn answer(arguments: &str) -> Value {
    let output = run(&format!("bench {arguments} --format json"));
    assert_eq!(output.status.code(), Some(0), "{arguments}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap()
}

fn text(arguments: &str) -> String {
    let output = run(&format!("bench {arguments}"));
    assert_eq!(output.status.code(), Some(0), "{arguments}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// The keys of an answer that must be there with these values.
fn has(answer: &Value, expected: &Value) {
    for (key, value) in expected.as_object().unwrap() {
        assert_eq!(&answer[key], value, "{key} of {answer:#}");
    }
}

#[test]
fn a_program_gets_decimal_inches_as_numbers() {
    let found = answer("rivet --stack 0.032,0.040 --diameter 1/8 --head universal");
    has(
        &found,
        &json!({ "grip": 0.072, "length": 0.2595, "dash": ["4", "4.5", "5"], "edge-min": 0.25, "pitch-min": 0.375, "shear-lb": 374 }),
    );
    has(
        &found["shop-head"],
        &json!({ "diameter": 0.1875, "height": 0.0625, "diameter-min": 0.1625, "height-min": 0.05 }),
    );
    has(&found["hole"][0], &json!({ "drill": "#30", "size": 0.1285, "nominal": true }));
    has(&found, &json!({ "shear-rivet-lb": 388, "thin-sheet-factor": 0.964 }));
    let found = answer("rivet --stack 0.032,0.040 --diameter 3/32 --head flush");
    has(
        &found,
        &json!({ "shear-lb": null, "shear-countersunk-lb": 178, "shear-dimpled-lb": 217, "shear-rivet-lb": 217 }),
    );
    let found = answer("rivet --stack 0.040,0.040 --diameter 5/32 --head flush");
    has(&found, &json!({ "shear-countersunk-lb": null, "shear-dimpled-lb": null, "shear-rivet-lb": 596 }));
    let found = answer("rivet --stack 0.032,0.040 --call MS20470AD4-6");
    has(&found, &json!({ "call": "MS20470AD4-6", "free-shank": 0.303, "verdict": "too long" }));
    let found = answer("blind --stack 0.165 --diameter 1/8");
    has(&found, &json!({ "code": "43", "grip": [0.126, 0.187] }));
    let found = answer("bolt --stack 0.250,0.125 --size AN3 --washers 0.063");
    has(&found, &json!({ "dash": "6", "grip": 0.375, "length": 0.78125 }));
    let found = answer("torque --bolt AN4 --nut AN365 --drag 6 --wrench 10 --adapter 4");
    has(&found, &json!({ "low": 56, "high": 76, "setting-low": 40, "setting-high": 54.286, "unit": "in-lb" }));
    let found = answer("torque --bolt AN4 --nut AN365 --drag 6 --wrench 10 --adapter 4 --angle 90");
    has(&found, &json!({ "setting-low": 56, "setting-high": 76 }));
    let found = answer("bend --material 2024-T3 --thickness 0.032 --radius 0.094 --angle 90");
    has(&found, &json!({ "minimum": 0.064, "setback": 0.126, "verdict": "passes" }));
    let found = answer("hole --call AN426AD3-5");
    has(
        &found,
        &json!({ "call": "AN426AD3-5", "kind": "solid rivet", "superseded-by": "MS20426AD3-5", "diameter": 0.09375 }),
    );
    assert_eq!(found["hole"].as_array().unwrap().len(), 3);
}

/// Questions of every kind.
const QUESTIONS: [&str; 9] = [
    "rivet --stack 0.032,0.040 --diameter 1/8",
    "rivet --stack 1.27mm,0.040 --diameter 3/32 --head flush",
    "rivet --stack 0.032 --call MS20470AD5-5 --rows 2 --width 10 --material 2024-T3",
    "blind --stack 0.165 --diameter 1/8",
    "bolt --stack 0.250,0.125 --size AN3",
    "bolt --stack 3/8 --size NAS6203 --head-washers 0.032",
    "torque --bolt AN4 --nut AN365 --drag 6 --wrench 10 --adapter -1.5",
    "bend --material 2024-T3 --thickness 0.050 --radius 0.125",
    "hole --call AN3-6A",
];

#[test]
fn every_answer_names_its_sources_with_their_sureness() {
    for question in QUESTIONS {
        let found = answer(question);
        let beside = found["sources"].as_object().unwrap().values();
        let of_holes = found["hole"].as_array().into_iter().flatten().map(|hole| &hole["source"]);
        let sources: Vec<&Value> = beside.chain(of_holes).collect();
        assert!(!sources.is_empty(), "{question}");
        for source in sources {
            assert!(
                !source["cite"].as_str().unwrap().is_empty() && !source["key"].as_str().unwrap().is_empty(),
                "{question}"
            );
            assert!(
                ["A", "A-calc", "B", "A-else", "C", "D"].contains(&source["sureness"].as_str().unwrap()),
                "{question}: {source}"
            );
        }
        let words = text(question);
        assert!(words.contains("\nSources\n") && words.contains("The plans outrank the tables"), "{question}: {words}");
        assert!(!words.contains(" mm") && !words.contains(" N m"), "{question} prints a metric value: {words}");
        assert!(words.lines().all(|line| line == line.trim_end()), "{question} has space at a line's end");
    }
}

/// Questions of a shop in millimetres.
const METRIC: [&str; 5] = [
    "rivet --stack 0.8,1.0 --call MS20470AD4",
    "blind --stack 0.6,1.0 --call ISO15981-4",
    "torque --bolt AN4 --nut AN365 --drag 0.7 --wrench 250 --adapter -40",
    "bend --material 2024-T3 --thickness 0.8 --radius 2.5",
    "bolt --stack 6,3.5 --size AN3",
];

#[test]
fn a_shop_in_millimetres_asks_and_is_answered_in_its_units() {
    for question in METRIC {
        let words = text(&format!("{question} --unit mm"));
        assert!(words.contains(" mm") || words.contains(" N m"), "{question}: {words}");
        // The end of the answer speaks of documents.
        let words = words.split("\nSources").next().unwrap();
        let prints_inches = words.contains("in-lb") || words.contains('#');
        let all: Vec<&str> = words.split_whitespace().collect();
        let in_inches = |pair: &[&str]| {
            pair[0].ends_with(|c: char| c.is_ascii_digit()) && pair[1].trim_end_matches([',', ')', ';']) == "in"
        };
        let prints_inches = prints_inches || all.windows(2).any(in_inches);
        assert!(!prints_inches, "{question} prints inches: {words}");
        let found = answer(&format!("{question} --unit mm"));
        let unit = if question.starts_with("torque") { "N m" } else { "mm" };
        assert_eq!(found["unit"], unit, "{question}");
    }
    has(&answer("blind --stack 0.6,1.0 --call ISO15981-4 --unit mm"), &json!({ "stack": 1.6 }));
    let refused = run("bench rivet --stack 1/8 --call MS20470AD4 --unit mm");
    assert_eq!(refused.status.code(), Some(2));
    assert!(String::from_utf8(refused.stderr).unwrap().contains("write 1/8 in or 3.2"));
}

#[test]
fn a_reader_gets_both_units_and_both_sources_where_they_differ() {
    let demo = root().join("demo-data");
    let text = |question: &str| text(&format!("{question} --project {}", demo.display()));
    let words = text("rivet --stack 0.032,0.040 --diameter 1/8 --width 10 --material 2024-T3");
    for expected in [
        "0.250 in (6.35 mm)  [AC-4-57c B]",
        "#30 (0.1285 in, 3.26 mm), nominal",
        "[AC-T4-9 B]",
        "[AC-T4-10 A]",
        "the tables differ",
    ] {
        assert!(words.contains(expected), "{expected:?} is not in:\n{words}");
    }
    let words = text("rivet --stack 0.040,0.050 --diameter 1/8 --head flush");
    for expected in [
        "in dimpled sheet           388 lb",
        "in countersunk sheet       not listed: no source",
        "1/8 in rivets in sheet of 0.040 in dimpled",
    ] {
        assert!(words.contains(expected), "{expected:?} is not in:\n{words}");
    }
    let words = text("torque --bolt AN3 --nut AN365 --drag 1");
    assert!(words.contains("is below 2 in-lb (0.2 N m)"), "{words}");
    let words = text("blind --stack 0.165 --diameter 1/8");
    assert!(words.contains("kept out of certificated structure (AC 43.13-1B, par. 4-57f"), "{words}");
}

#[test]
fn what_was_typed_wrongly_says_so_and_ends_with_two() {
    let wrong = [
        ("rivet --stack 0.032,x --diameter 1/8", "--stack: `x` is not a size"),
        ("rivet --stack 0 --diameter 1/8", "--stack: `0` must be above zero"),
        ("rivet --stack 0.032 --diameter 0.2", "they come in 1/16 in, 3/32 in, 1/8 in"),
        ("rivet --stack 0.032 --diameter #99", "there is no number drill `#99`"),
        ("rivet --stack 0.032", "--diameter"),
        ("rivet --stack 0.032 --call AN3-6", "is no solid rivet but bolt"),
        ("rivet --stack 0.032 --call MS20470AD7-5", "has a diameter dash that does not exist: 7"),
        ("rivet --stack 0.032 --diameter 1/8 --head flush --width 10", "with protruding heads"),
        ("rivet --stack 99999999999999999999 --diameter 1/8", "is not a size"),
        ("blind --stack 0.9 --diameter 1/8", "the grips are 0.020 to 0.062 in"),
        ("bolt --stack 0.375 --size AN9", "no grip is listed for AN9"),
        ("bolt --stack 0.375 --size MS20470AD4", "is no bolt but"),
        ("torque --bolt AN4 --nut AN310-3", "they do not go together"),
        ("torque --bolt AN4 --nut AN365 --drag much", "--drag: `much` is not a torque"),
        ("torque --bolt AN4 --nut AN365 --wrench 3 --adapter -4", "leaves no lever"),
        ("torque --bolt AN4 --nut AN365 --wrench 3 --adapter 1 --angle 200", "from 0 to 180 degrees"),
        ("bend --material 3003 --thickness 0.050", "does not list `3003`"),
        ("bend --material 2024-T3 --thickness 0.050 --radius 0.1 --angle 180", "below 180 degrees"),
        ("hole --call XYZ", "is not in the tables: they have no XYZ"),
        ("hole", "--call"),
        ("sew", "sew"),
    ];
    for (question, expected) in wrong {
        let output = run(&format!("bench {question}"));
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{question}: {said}");
        assert!(said.contains(expected), "{question}: {expected:?} is not in {said}");
        assert!(output.stdout.is_empty(), "{question} prints an answer");
        assert!(!said.contains("panicked"), "{question}: {said}");
    }
}

#[test]
fn the_schema_command_prints_the_schemas() {
    let print = |arguments: &str| serde_json::from_slice::<Value>(&run(arguments).stdout).unwrap();
    assert_eq!(print("schema"), shophead::spec::traveler_schema());
    assert_eq!(print("schema traveler"), shophead::spec::traveler_schema());
    assert_eq!(print("schema project"), shophead::spec::project_schema());
    assert_eq!(run("schema sheet").status.code(), Some(2));
}

#[test]
fn check_and_explain_say_what_the_rules_say_of_themselves() {
    let project = concat!(env!("CARGO_MANIFEST_DIR"), "/demo-data/faults");
    let output = run(&format!("--project {project} check --format sarif"));
    assert_eq!(output.status.code(), Some(1));
    let log: Value = serde_json::from_slice(&output.stdout).unwrap();
    let schema = crate::build::validator::Schema::new(
        serde_json::from_str(include_str!("../../../data/sarif-2.1.0.schema.json")).unwrap(),
    );
    assert_eq!(schema.fault(&log), None);
    let run_value = &log["runs"][0];
    assert!(run_value["results"].as_array().unwrap().len() >= 10, "the copy with slips has ten of them");
    assert_eq!(run_value["tool"]["driver"]["rules"].as_array().unwrap().len(), shophead::rules::RULES.len());
    let listed = String::from_utf8(run("explain").stdout).unwrap();
    for rule in shophead::rules::RULES {
        assert!(listed.contains(&rule.summary()), "{}", rule.name);
        assert!(rule.summary().len() > 15 && !rule.summary().contains('\n'), "{}: {:?}", rule.name, rule.summary());
    }
}

#[test]
fn a_torque_of_the_build_stands_in_the_place_of_the_table() {
    let shop = Shop::empty();
    let project = "[aircraft]\nname = \"Dunlin\"\n[project]\nunit = \"mm\"\n";
    let entry =
        "[[torque]]\nthread = \"M6\"\nclass = \"8.8\"\nlow = \"8 N m\"\nhigh = \"9.5 N m\"\nsource = \"drawing M-3\"\n";
    let lubricated = entry.replace("8 N m", "6 N m").replace("9.5 N m", "7 N m") + "lubrication = \"lubricated\"\n";
    shop.write("build.toml", [project, entry, &lubricated].concat());
    let ask = |more: &[&str]| {
        let words = ["bench", "torque", "--bolt", "ISO 4014-M6x30-8.8", "--nut", "ISO 7040-M6-8"];
        shop.run(&[&words[..], more].concat())
    };
    let found: Value = serde_json::from_str(&ask(&["--drag", "1", "--format", "json"]).out).unwrap();
    has(&found, &json!({ "table-low": 8, "table-high": 9.5, "low": 9, "high": 10.5, "most": null }));
    let read = ask(&["--lubricated"]).out;
    assert!(read.contains("build.toml, low") && read.contains("6 N m") && read.contains("drawing M-3"), "{read}");
    assert!(!read.contains("the table is for dry"), "{read}");
    // Another class has no entry, and the table no metric thread.
    let other = shop.run(&["bench", "torque", "--bolt", "ISO 4014-M6x30-10.9", "--nut", "ISO 7040-M6-8"]);
    assert!(other.code == 2 && other.err.contains("does not list thread M6"), "{}", other.err);
    let dry = shop.run(&["bench", "torque", "--bolt", "AN4", "--nut", "AN365", "--lubricated"]);
    assert!(dry.code == 2 && dry.err.contains("the torque table is for dry threads"), "{}", dry.err);
}

#[test]
fn a_stack_too_thin_for_any_shank_is_told_the_bolt_that_is_threaded_to_its_head() {
    let shop = Shop::empty();
    shop.write("build.toml", "[aircraft]\nname = \"Dunlin\"\n[project]\nunit = \"mm\"\n");
    let part =
        |id: &str, thick: &str| format!("[[part]]\nid = \"{id}\"\nmaterial = \"2024-T3\"\nthickness = {thick}\n");
    let joint = "[[joint]]\nstack = [\"P\", \"Q\"]\nfastener = \"ISO 4014-M6\"\ncount = 2\nedge = 14\nnut = \"ISO 7040-M6-8\"\n\
        washers = { nut = [\"ISO 7089-6\"] }\n";
    let spec = ["[traveler]\ntitle = \"Bracket\"\n", &part("P", "3"), &part("Q", "2"), joint].concat();
    shop.write("specs/B-1.toml", &spec);
    let said = shop.run(&["check"]).out;
    let (_, after) = said.split_once("no grip of this bolt is so short; ").expect(&said);
    let call = after.split(' ').next().unwrap();
    assert!(call.starts_with("ISO4017-M6X"), "{said}");
    shop.write("specs/B-1.toml", spec.replace("ISO 4014-M6", call));
    assert!(shop.run(&["check"]).out.starts_with("0 errors, 0 warnings"), "{}", shop.run(&["check"]).out);
}
