//! `new`: a first project and a first traveler, as they are typed, down to a printed packet; nothing is overwritten.

use shophead::spec::{FILES, Form, Section, read_project};
use shophead::start::{JointOutline, PartOutline, ProjectStart, project_text};
use shophead::text::Files;

use crate::build::shop::{Ran, Shop, job_of};
use crate::build::validator::{Schema, json_of_toml};

fn project() -> Shop {
    let shop = Shop::empty();
    let ran = shop.run(&["new", "project", ".", "--name", "Dunlin two-seat", "--serial", "D-014"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
    shop
}

const SKIN: &[&str] = &[
    "new",
    "traveler",
    "WNG-300",
    "--title",
    "Inspar skin",
    "--hands",
    "left,right",
    "--part",
    "W301:Rib:2024-T3:0.032",
    "--part",
    "W302:Skin:2024-T3:0.025",
    "--part",
    "W303:Hinge plate:6061-T6:0.190",
    "--joint",
    "J1:W302+W301:MS20426AD3-3.5:120:0.28:dimple:pitch=0.75",
    "--joint",
    "J-2:W303+W301:MS20470AD4:12:0.35:pitch=0.75:start=#40",
    "--joint",
    "J3:W303+W301:AN3-5A:2:0.5:nut=MS21044N3:washer=NAS1149F0363P:name=Hinge bolt",
];

/// The usual steps of a traveler: id, kind, joints.
fn steps(shop: &Shop, traveler: &str) -> Vec<(String, String, usize)> {
    let ran = shop.run(&["steps", traveler, "--format", "json"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let listed: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
    let text = |step: &serde_json::Value, key: &str| step[key].as_str().unwrap().to_owned();
    let step = |step: &serde_json::Value| {
        assert_eq!(step["origin"], "usual");
        (text(step, "id"), text(step, "do"), step["joints"].as_array().unwrap().len())
    };
    listed["steps"].as_array().unwrap().iter().map(step).collect()
}

fn warnings_and_errors(ran: &Ran) -> Vec<&str> {
    ran.out.lines().filter(|line| line.starts_with("error") || line.starts_with("warning")).collect()
}

#[test]
fn a_new_project_holds_every_key_and_reads_without_a_finding() {
    let shop = project();
    let text = std::fs::read_to_string(shop.path("build.toml")).unwrap();
    assert!(
        text.contains("name = \"Dunlin two-seat\"")
            && text.contains("serial = \"D-014\"")
            && text.contains("# registration =")
    );
    assert!(shop.path("specs").is_dir());
    let mut absent = Vec::new();
    missing(FILES[0], &text, &mut absent);
    assert!(absent.is_empty(), "build.toml does not show {absent:?}");
}

/// Keys that a text does not show.
fn missing(section: &'static Section, text: &str, out: &mut Vec<&'static str>) {
    for key in section.keys {
        // A table within another shows its name behind a dot.
        let written = |line: &str| {
            let line = line.trim_start_matches("# ");
            let table = line.starts_with('[').then(|| line.trim_matches(['[', ']']).rsplit('.').next()).flatten();
            line.starts_with(key.name) || table.is_some_and(|name| name.starts_with(key.name))
        };
        if !text.lines().any(written) {
            out.push(key.name);
        }
        if let Form::Table(inner) | Form::Tables(inner) = key.form {
            missing(inner, text, out);
        }
    }
}

#[test]
fn every_commented_key_of_a_new_project_reads_when_it_is_uncommented() {
    let start =
        ProjectStart { name: "N".into(), serial: None, registration: None, unit: "mm".into(), paper: "a4".into() };
    let live: String = project_text(&start)
        .lines()
        .map(|line| {
            let code = line.strip_prefix("# ").filter(|rest| rest.contains(" = ") || rest.starts_with('['));
            code.unwrap_or(line).to_owned() + "\n"
        })
        .collect();
    let (mut files, mut report) = (Files::default(), shophead::report::Report::default());
    let id = files.add("build.toml", live.as_str());
    let spec = read_project(id, &files, &mut report);
    assert_eq!(report.findings, [], "{live}");
    assert_eq!((spec.spaces.len(), spec.fasteners.len(), spec.drawings.len(), spec.stock.len()), (2, 4, 1, 1));
    assert_eq!(spec.torques.len(), 1);
}

#[test]
fn every_file_that_is_written_names_its_schema_which_lies_in_the_project() {
    let shop = project();
    assert_eq!(shop.run(SKIN).code, 0);
    let ran = shop.run(&["evening", "WNG-300", "--hand", "left", "--now", "2026-03-02T18:00"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let files =
        [("build.toml", "project"), ("specs/wng-300.toml", "traveler"), ("evenings/2026-03-02.toml", "evening")];
    for (file, schema) in files {
        let text = std::fs::read_to_string(shop.path(file)).unwrap();
        let named = text.lines().next().unwrap().strip_prefix("#:schema ").unwrap();
        let path = shop.path(file).parent().unwrap().join(named);
        let kept = std::fs::read_to_string(&path).unwrap_or_else(|failure| panic!("{}: {failure}", path.display()));
        assert_eq!(kept, shop.run(&["schema", schema]).out, "{file}");
        let schema = Schema::new(serde_json::from_str(&kept).unwrap());
        assert_eq!(schema.fault(&json_of_toml(&text)), None, "{file}\n{text}");
    }
}

#[test]
fn a_name_is_a_text_whatever_it_holds() {
    let name = "\"] \n@serial@ \\ # \u{7f}";
    let start = ProjectStart {
        name: name.into(),
        serial: Some("@unit@".into()),
        registration: None,
        unit: "mm".into(),
        paper: "a4".into(),
    };
    let (mut files, mut report) = (Files::default(), shophead::report::Report::default());
    let id = files.add("build.toml", project_text(&start));
    let spec = read_project(id, &files, &mut report);
    // The delete character has no glyph and is a finding; nothing else is.
    assert_eq!(report.findings.len(), 1, "{:?}", report.findings);
    assert_eq!(spec.aircraft.unwrap().serial.unwrap().value, "@unit@");
}

#[test]
fn a_new_traveler_has_the_usual_steps_checks_clean_and_prints() {
    let shop = project();
    let ran = shop.run(SKIN);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("`shophead steps WNG-300` lists them, next is `shophead packet WNG-300`"), "{}", ran.out);
    let text = std::fs::read_to_string(shop.path("specs/wng-300.toml")).unwrap();
    assert!(!text.contains("[[step]]"), "{text}");
    let ids: Vec<String> = steps(&shop, "WNG-300").into_iter().map(|(id, ..)| id).collect();
    assert_eq!(ids, ["verify", "holes", "deburr", "dimple", "prime", "rivet", "bolt", "inspect"]);
    let checked = shop.run(&["check"]);
    assert_eq!(checked.code, 0, "{}", checked.out);
    assert_eq!(warnings_and_errors(&checked), [""; 0], "{}", checked.out);
    let printed = shop.run(&["packet"]);
    assert_eq!(printed.code, 0, "{}{}", printed.out, printed.err);
    assert!(shop.path("output/WNG-300-left.pdf").exists() && shop.path("output/WNG-300-right.pdf").exists());
}

#[test]
fn readings_of_a_new_traveler_are_taken_in_the_project_s_unit() {
    // 3/32 in 2117: 1.3 D is 3.0956 mm or .1219 in, .4 D is .9525 mm or .0375 in (MIL-HDBK-5H, par. 8.1.2; MIL-R-47196A as quoted).
    for (unit, edge, least) in [
        ("mm", "7", ["\"mm\", min = \"3.10\"", "\"mm\", min = \"0.96\""]),
        ("inch", "0.28", ["\"in\", min = \"0.122\"", "\"in\", min = \"0.038\""]),
    ] {
        let shop = Shop::empty();
        shop.run(&["new", "project", ".", "--name", "Dunlin two-seat", "--unit", unit]);
        let joint = format!("J1:A1+A2:MS20470AD3:10:{edge}");
        let parts = ["--part", "A1:Rib:2024-T3:0.032 in", "--part", "A2:Skin:2024-T3:0.025 in", "--joint", &joint];
        let ran = shop.run(&[&["new", "traveler", "WNG-1", "--title", "Rib"], &parts[..]].concat());
        assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
        let text = shop.run(&["steps", "WNG-1", "--toml"]).out;
        for reading in least {
            assert!(text.contains(&format!("unit = {reading},")), "{reading}: {text}");
        }
    }
}

#[test]
fn the_example_of_holes_is_that_of_the_joints_own_fastener() {
    let shop = project();
    let ran = shop.run(&[
        "new",
        "traveler",
        "T-9",
        "--title",
        "t",
        "--part",
        "P1:Plate:2024-T3:0.063",
        "--part",
        "P2:Rib:2024-T3:0.063",
        "--joint",
        "J1:P1+P2:MS20470AD5:4:0.4:pitch=1",
        "--joint",
        "J2:P1+P2:MS20470AD3:4:0.3:pitch=1",
        "--joint",
        "J3:P1+P2:AN4-5A:2:0.6:nut=MS21044N4:washer=NAS1149F0463P",
    ]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let text = std::fs::read_to_string(shop.path("specs/t-9.toml")).unwrap();
    let examples: Vec<&str> = text.lines().filter(|line| line.starts_with("# holes")).collect();
    // A 5/32 rivet and a bolt come with a pilot hole; a 3/32 rivet has no larger one than the pilot.
    let [rivet, bolt] = examples.as_slice() else { panic!("{examples:?}") };
    assert!(rivet.starts_with("# holes = { start = \"#40\" }") && bolt.starts_with("# holes = { start = \"#40\" }"));
}

#[test]
fn nothing_that_exists_is_overwritten() {
    let shop = project();
    let before = std::fs::read_to_string(shop.path("build.toml")).unwrap();
    let again = shop.run(&["new", "project", ".", "--name", "Other"]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("is there already and is left as it is"), "{}", again.err);
    assert_eq!(std::fs::read_to_string(shop.path("build.toml")).unwrap(), before);
    assert_eq!(shop.run(SKIN).code, 0);
    let twice = shop.run(SKIN);
    assert_eq!(twice.code, 2);
    assert!(twice.err.contains("there is a traveler WNG-300 already, in"), "{}", twice.err);
    shop.write("taken.toml", "mine");
    let mut other: Vec<&str> = SKIN.to_vec();
    other[2] = "WNG-301";
    other.extend(["--after", "WNG-300", "--to", "taken.toml"]);
    assert_eq!(shop.run(&other).code, 2);
    assert_eq!(std::fs::read_to_string(shop.path("taken.toml")).unwrap(), "mine");
}

#[test]
fn what_would_not_check_is_said_and_not_written() {
    let shop = project();
    let ran = shop.run(&[
        "new",
        "traveler",
        "T-9",
        "--title",
        "t",
        "--part",
        "P1:Plate:2024-T3:0.032",
        "--joint",
        "J1:P1+P7:MS20470AD4-5:4",
    ]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    assert!(ran.out.contains("P7"), "{}", ran.out);
    assert!(!shop.path("specs/t-9.toml").exists());
    let ran = shop.run(&[
        "new",
        "traveler",
        "T-9",
        "--title",
        "t",
        "--part",
        "P1:Plate:2024-T3:0.250",
        "--joint",
        "J1:P1+P1:MS20470AD4-3:4",
    ]);
    assert_eq!(ran.code, 1, "{}", ran.err);
    assert!(ran.out.contains("rivet-short"), "{}", ran.out);
    assert!(!shop.path("specs/t-9.toml").exists());
    let ran = shop.run(&["new", "traveler", "T-9", "--title", "t", "--closes", "bay"]);
    assert!(ran.code == 2 && ran.err.contains("there is no space bay"), "{}", ran.err);
}

#[test]
fn a_joint_is_given_its_fit_up_hardware_open_holes_and_pattern_in_a_word_each() {
    let shop = project();
    let fairing = "[traveler]\nid = \"FRG-1\"\ntitle = \"Fairing\"\nrevision = \"A\"\n";
    let fill = "[[step]]\nid = \"fill\"\ntitle = \"Rivet the fairing\"\ndo = \"rivet\"\njoints = [\"WNG-300/J1\"]\n";
    shop.write("specs/fairing.toml", format!("{fairing}{fill}"));
    let joints = [
        "J1:W1+W2:MS20470AD4:12:0.35:pitch=0.75:pattern=0.5+stagger:leave-open=2+FRG-1/fill+the fairing goes on later",
        "J2:W1+W2:AN3-4A:2:0.5:nut=MS21044N3:washer=NAS1149F0363P:temporary=AN3-5A+AN315-3R+off again for paint",
        "J3:W1+W2:AN3-4A:2:0.5:nut=MS21044N3:washer=NAS1149F0363P:temporary=AN315-3R+until paint",
    ];
    let mut words = vec!["new", "traveler", "WNG-300", "--title", "Skin"];
    words.extend(["--part", "W1:Rib:2024-T3:0.063", "--part", "W2:Skin:2024-T3:0.063"]);
    for joint in joints {
        words.extend(["--joint", joint]);
    }
    let ran = shop.run(&words);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let text = std::fs::read_to_string(shop.path("specs/wng-300.toml")).unwrap();
    for line in [
        "leave-open = { count = 2, until = \"FRG-1/fill\", why = \"the fairing goes on later\" }",
        "temporary = { fastener = \"AN3-5A\", nut = \"AN315-3R\", why = \"off again for paint\" }",
        "temporary = { nut = \"AN315-3R\", why = \"until paint\" }",
        "pattern = { end = \"0.5\", stagger = true }",
    ] {
        assert!(text.lines().any(|own| own == line), "{line} is not in\n{text}");
    }
}

#[test]
fn words_that_are_no_part_or_joint_say_what_to_write() {
    let build = job_of("[aircraft]\nname = \"Dunlin\"\n", &[""; 0]).0.project;
    let part = |text: &str| PartOutline::read(text, &build).map_err(|fault| fault.to_string());
    let joint = |text: &str| JointOutline::read(text, &build).map_err(|fault| fault.to_string());
    assert!(part("P1:Rib").is_ok() && part("P1:Rib::0.032").is_ok() && part("P1::2024-T3").is_ok());
    assert_eq!(part("P1").map(|part| part.name), Ok(None), "a part of the whole build");
    for odd in [":Rib", "P1:"] {
        assert!(part(odd).unwrap_err().contains("write ID:NAME:MATERIAL:THICKNESS"), "{odd}");
    }
    assert!(part("a:b:c:d:e").unwrap_err().contains("at most 4"));
    assert!(joint("J1:P1+P2:MS20470AD4:24:0.35:dimple+plain:rows=2").is_ok());
    assert!(joint("J1:P1+P2:MS20470AD4").unwrap_err().contains("write ID:PART+PART:CALL:COUNT"));
    assert!(joint("J1:P1:MS20470AD4:many").unwrap_err().contains("`many`"));
    assert!(joint("J1:P1:MS20470AD4:2:colour=red").unwrap_err().contains("its keys are name, start, final, edge"));
    assert!(joint("J1:P1:MS20470AD4:2:ptch=1").unwrap_err().ends_with("no key `ptch`; did you mean `pitch`?"));
    for (odd, form) in [
        ("temporary=AN3-6A", "write temporary=CALL+WHY, CALL+NUT+WHY, or NUT+WHY"),
        ("temporary=+why", "write temporary=CALL+WHY"),
        ("leave-open=2+removed", "write leave-open=COUNT+TRAVELER/STEP+WHY"),
        ("leave-open=two+A/b+why", "write leave-open=COUNT"),
        ("pattern=", "write pattern=END or END+stagger"),
        ("pattern=1+x", "write pattern=END or END+stagger"),
        ("rows=two", "`two` is no rows: write a whole number"),
        ("rotates=yes", "`yes` is no rotates: write true or false"),
    ] {
        let fault = joint(&format!("J1:P1:MS20470AD4:2:{odd}")).unwrap_err();
        assert!(fault.contains(form), "{odd}: {fault}");
    }
    let metric = job_of("[aircraft]\nname = \"Dunlin\"\n[project]\nunit = \"mm\"\n", &[""; 0]).0.project;
    let fault = JointOutline::read("J1:P1", &metric).unwrap_err().to_string();
    assert!(fault.ends_with("as in \"J1:P1+P2:ISO 15981-4:24:8:pitch=20\""), "{fault}");
    let fault = PartOutline::read("P1:", &metric).unwrap_err().to_string();
    assert!(fault.ends_with("2024-T3:0.8\""), "{fault}");
}

/// A project for one bracket, with no line that could be left out.
const BY_HAND: [(&str, &str); 2] = [
    ("build.toml", "[aircraft]\nname = \"Dunlin two-seat\"\n[[signer]]\ninitials = \"B1\"\n"),
    (
        "specs/BR-1.toml",
        "[traveler]\ntitle = \"Antenna bracket\"\n\
         [[part]]\nid = \"bracket\"\nmaterial = \"2024-T3\"\nthickness = \"0.040\"\n\
         [[part]]\nid = \"rib\"\nmaterial = \"2024-T3\"\nthickness = \"0.032\"\n\
         [[joint]]\nstack = [\"bracket\", \"rib\"]\nfastener = \"MS20470AD4\"\ncount = 4\nedge = \"0.35\"\npitch = \"0.75\"\n",
    ),
];

#[test]
fn one_bracket_takes_twenty_typed_lines_in_all_files() {
    let shop = Shop::empty();
    for (file, text) in BY_HAND {
        shop.write(file, text);
    }
    assert_eq!(BY_HAND.iter().map(|(_, text)| text.lines().count()).sum::<usize>(), 20);
    let checked = shop.run(&["check"]);
    assert_eq!(checked.code, 0, "{}", checked.out);
    assert!(checked.out.starts_with("0 errors, 0 warnings, 0 notes in 1 traveler\n"), "{}", checked.out);
    let issued = shop.run(&["packet", "BR-1", "--issue", "--entered", "2026-03-01T18:00"]);
    assert!(issued.code == 0 && issued.out.contains("output/BR-1.pdf  2 pages"), "{}{}", issued.out, issued.err);
    let entered = ["--on", "2026-03-02", "--entered", "2026-03-02T22:00"];
    let signed = shop.run(&[&["archive", "sign", "BR-1", "010..030", "--by", "B1"], &entered[..]].concat());
    assert_eq!(signed.code, 0, "{}", signed.err);
    // What is left out and has no usual value is still asked for.
    shop.edit("specs/BR-1.toml", "material = \"2024-T3\"\nthickness = \"0.032\"\n", "");
    let checked = shop.run(&["check"]);
    assert!(checked.out.contains("part rib has no `name`, and build.toml has no such part"), "{}", checked.out);
}

#[test]
fn a_second_joint_without_an_id_is_asked_for_one() {
    let shop = Shop::empty();
    for (file, text) in BY_HAND {
        shop.write(file, text);
    }
    let joint = "[[joint]]\nstack = [\"bracket\", \"rib\"]\nfastener = \"MS20470AD4\"\ncount = 2\n";
    shop.edit("specs/BR-1.toml", "[[joint]]", &format!("{joint}[[joint]]"));
    let checked = shop.run(&["check"]);
    assert_eq!(checked.code, 1, "{}", checked.out);
    let said: Vec<&str> =
        checked.out.lines().filter(|line| line.starts_with("error") || line.contains("help")).collect();
    let expected = ["error[id-repeated]: joint has no `id`, and `J1` is another's", "   = help: write `id = \"J2\"`"];
    assert_eq!(said, expected, "{}", checked.out);
}

#[test]
fn the_file_of_a_new_bracket_is_short() {
    let shop = project();
    let parts = ["--part", "B1:Bracket:2024-T3:0.040", "--part", "B2:Rib:2024-T3:0.032"];
    let joint = ["--joint", "J1:B1+B2:MS20470AD4:4:0.35:pitch=0.75"];
    let ran = shop.run(&[&["new", "traveler", "BR-1", "--title", "Antenna bracket"], &parts[..], &joint[..]].concat());
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let text = std::fs::read_to_string(shop.path("specs/br-1.toml")).unwrap();
    let is_live = |line: &&str| !line.is_empty() && !line.starts_with('#');
    assert_eq!((text.lines().filter(is_live).count(), text.lines().count()), (20, 25), "{text}");
}

#[test]
fn a_traveler_that_closes_a_space_has_what_the_space_asks_for() {
    let stage = "[[role]]\nid = \"builder\"\nmay = [\"do\", \"look\"]\n[[role]]\nid = \"examiner\"\nmay = \"release\"\n\
        [[signer]]\ninitials = \"P1\"\nrole = \"examiner\"\n\
        [[stage]]\nid = \"S2\"\nname = \"Before closing\"\nsign = { all = [\"examiner\"] }\nreleases = [\"box\"]\n";
    for (space, more, asked) in [
        ("hold = \"builder\"\n", "", "hold = \"builder\""),
        ("stage = \"S2\"\n", stage, "stage = \"S2\""),
        // A stage that releases the space is asked for by the space as well.
        ("", stage, "stage = \"S2\""),
    ] {
        let shop = project();
        let text = std::fs::read_to_string(shop.path("build.toml")).unwrap();
        shop.write(
            "build.toml",
            format!("{text}\n[[space]]\nid = \"box\"\nname = \"Box\"\nhands = [\"left\", \"right\"]\n{space}{more}"),
        );
        let ran = shop.run(&[SKIN, &["--closes", "box"]].concat());
        assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
        let text = shop.run(&["steps", "WNG-300", "--toml"]).out;
        let close = text.rsplit_once("[[step]]").unwrap().1;
        assert!(close.contains("closes = [\"box\"]") && close.contains(asked), "{close}");
        let inside = text.split("[[step]]").filter(|step| step.contains("spaces = [\"box\"]"));
        let kind = |step: &str| step.lines().find_map(|line| line.strip_prefix("do = ")).unwrap().to_owned();
        assert_eq!(inside.map(kind).collect::<Vec<_>>(), ["\"rivet\"", "\"bolt\"", "\"inspect\""], "{text}");
        let checked = shop.run(&["check"]);
        assert_eq!(warnings_and_errors(&checked), [""; 0], "{}", checked.out);
        let visit = shop.run(&["visit", "--space", "box", "--format", "json"]);
        let visit: serde_json::Value = serde_json::from_str(&visit.out).unwrap();
        let joints = visit["looks"][0]["joints"].as_array().unwrap();
        assert_eq!((&visit["looks"][0]["space"], joints.len()), (&"Box (left)".into(), 3));
    }
}

#[test]
fn a_drawing_that_is_not_registered_yet_is_added_to_the_register_with_a_remark() {
    let shop = project();
    let before = std::fs::read_to_string(shop.path("build.toml")).unwrap();
    let ran = shop.run(&[SKIN, &["--drawing", "W-9:B"]].concat());
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("build.toml  drawing W-9 revision B added to the register"), "{}", ran.out);
    let after = std::fs::read_to_string(shop.path("build.toml")).unwrap();
    assert_eq!(after, format!("{}\n\n[[drawing]]\nsheet = \"W-9\"\nrevision = \"B\"\n", before.trim_end()));
    assert_eq!(warnings_and_errors(&shop.run(&["check"])), [""; 0]);
    // The next traveler of that sheet adds nothing, and what is not written leaves the register alone.
    let mut other: Vec<&str> = SKIN.to_vec();
    other[2] = "WNG-301";
    other.extend(["--drawing", "W-9:B", "--after", "WNG-300"]);
    let ran = shop.run(&other);
    assert!(ran.code == 0 && !ran.out.contains("added to the register"), "{}{}", ran.out, ran.err);
    let ran =
        shop.run(&["new", "traveler", "X", "--title", "t", "--joint", "J1:P9:MS20470AD4:4", "--drawing", "W-10:A"]);
    assert_eq!(ran.code, 1, "{}", ran.out);
    assert!(!ran.out.contains("there is no drawing sheet"), "{}", ran.out);
    assert_eq!(std::fs::read_to_string(shop.path("build.toml")).unwrap(), after);
}

#[test]
fn a_washer_that_is_given_twice_counts_twice_and_the_help_names_every_key() {
    let shop = project();
    let joint =
        "J1:P1+P2:AN3-5A:2:0.5:nut=MS21044N3:washer=NAS1149F0363P:washer=NAS1149F0332P:rotates=false:lubricated=true";
    let parts = ["--part", "P1:Plate:2024-T3:0.125", "--part", "P2:Rib:2024-T3:0.125", "--joint", joint];
    let ran = shop.run(&[&["new", "traveler", "T-1", "--title", "t"], &parts[..]].concat());
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let text = std::fs::read_to_string(shop.path("specs/t-1.toml")).unwrap();
    for line in ["washers = { nut = [\"NAS1149F0363P\", \"NAS1149F0332P\"] }", "rotates = false", "lubricated = true"] {
        assert!(text.lines().any(|own| own == line), "{line}: {text}");
    }
    let help = shop.run(&["new", "traveler", "--help"]).out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        help.contains("row-gap, prepare, structure, access, wet, nut, washer, cotter, torque, check-nut, rotates"),
        "{help}"
    );
}
