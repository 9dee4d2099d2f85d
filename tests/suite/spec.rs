//! Loading: every form of a value, every fault of a file in one run, the format page.

mod progress;
mod schema;

use shophead::report::{Finding, Report};
use shophead::spec::{ProjectSpec, TravelerFile, evening_page, format_page, read_project, read_traveler};
use shophead::text::Files;

const HEAD: &str = "[traveler]\nid = \"T\"\ntitle = \"t\"\nrevision = \"A\"\n";

fn project(files: &mut Files, report: &mut Report) -> ProjectSpec {
    let id = files.add("build.toml", "[aircraft]\nname = \"Dunlin\"\n");
    read_project(id, files, report)
}

/// Reads a traveler text; gives the findings and the files for slicing spans.
fn read(text: &str) -> (Option<TravelerFile>, Vec<Finding>, Files) {
    let (mut files, mut report) = (Files::default(), Report::default());
    let project = project(&mut files, &mut report);
    let id = files.add("specs/t.toml", text);
    let spec = read_traveler(id, &project, &files, &mut report);
    (spec, report.findings, files)
}

/// Each finding as `rule: text of its span: message`.
fn lines(text: &str) -> Vec<String> {
    let (_, findings, files) = read(text);
    findings.iter().map(|f| format!("{}: {}: {}", f.rule, files.slice(f.span), f.message)).collect()
}

#[test]
fn every_fault_of_a_file_is_found_in_one_run() {
    let text = format!(
        "{HEAD}\n[[joint]]\nid = \"J1\"\nstack = [\"P1\"]\nfastenr = \"MS20470AD4\"\ncount = -3\nedge = \"wide\"\n\n[[step]]\nid = \"s\"\ntitle = 5\ndo = \"drilll\"\ncure = \"soon\"\n"
    );
    let found = lines(&text);
    let expected = [
        "key-unknown: fastenr",
        "value-invalid: [[joint]]",
        "value-invalid: -3",
        "value-invalid: 5",
        "value-invalid: \"drilll\"",
        "value-invalid: \"soon\"",
        "value-invalid: \"wide\"",
    ];
    for expected in expected {
        assert!(found.iter().any(|line| line.starts_with(expected)), "{expected} is not in {found:#?}");
    }
    assert_eq!(found.len(), expected.len(), "{found:#?}");
}

#[test]
fn an_unknown_key_names_the_nearest_known_one() {
    let (_, findings, _) = read(&format!("{HEAD}rev = \"B\"\nhand = [\"left\"]\n"));
    let helps: Vec<&str> = findings.iter().filter_map(|f| f.help.as_deref()).collect();
    assert!(helps.contains(&"did you mean `hands`?"), "{helps:?}");
}

#[test]
fn a_key_of_earlier_versions_is_refused_with_its_new_name() {
    let (_, findings, _) =
        read(&format!("{HEAD}\n[[step]]\nid = \"s\"\ntitle = \"t\"\ndo = \"fit\"\nzones = [\"bay\"]\n"));
    let helps: Vec<&str> = findings.iter().filter_map(|f| f.help.as_deref()).collect();
    assert_eq!(helps, ["`zones` is now called `spaces`"]);
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("build.toml", "[aircraft]\nname = \"Dunlin\"\n[[zone]]\nid = \"bay\"\nname = \"Bay\"\n");
    let project = read_project(id, &files, &mut report);
    assert_eq!(project.spaces.len(), 0);
    assert_eq!(report.findings[0].help.as_deref(), Some("`zone` is now called `space`"));
}

#[test]
fn a_wrong_word_lists_the_words() {
    let (_, findings, _) = read(&format!("{HEAD}\n[[step]]\nid = \"s\"\ntitle = \"t\"\ndo = \"rivets\"\n"));
    let help = findings[0].help.as_deref().unwrap();
    assert!(help.starts_with("did you mean `rivet`? one of: prepare, lay-out, trim"), "{help}");
}

#[test]
fn broken_toml_keeps_what_could_be_read() {
    let (spec, findings, _) = read(&format!("{HEAD}\n[[step]\nid = \"s\"\n"));
    assert!(spec.is_some());
    assert!(findings.iter().any(|f| f.rule == "spec-unreadable"));
}

#[test]
fn damaged_files_give_findings_and_no_panic() {
    let deep = format!("{HEAD}x = {}1{}", "[".repeat(3_000), "]".repeat(3_000));
    let long = format!("{HEAD}summary = \"{}\n", "x".repeat(10_000_000));
    let twice = format!("{HEAD}id = \"U\"\n");
    for text in ["", "\u{0}\u{1}\u{2}", "[[[[", "= = =", deep.as_str(), long.as_str(), twice.as_str()] {
        let (_, findings, files) = read(text);
        assert!(!findings.is_empty());
        for finding in &findings {
            let len = files.text(finding.span.file).len();
            assert!(finding.span.start <= finding.span.end && finding.span.end <= len);
        }
    }
}

#[test]
fn a_control_character_cannot_reach_the_paper() {
    let found = lines("[traveler]\nid = \"T\"\ntitle = \"a\\u0007b\"\nrevision = \"A\"\n");
    assert_eq!(found.len(), 1);
    assert!(found[0].contains("U+0007"), "{found:?}");
}

#[test]
fn a_row_gap_wants_rows() {
    let joint = |rows: &str| {
        format!(
            "{HEAD}\n[[joint]]\nid = \"J1\"\nstack = [\"A\"]\nfastener = \"F\"\ncount = 4\n{rows}row-gap = \"0.3\"\n"
        )
    };
    for rows in ["", "rows = 1\n"] {
        assert_eq!(lines(&joint(rows)), ["value-invalid: \"0.3\": `row-gap` is given, but the joint has one row"]);
    }
    assert_eq!(lines(&joint("rows = 2\n")), [""; 0]);
}

#[test]
fn lists_must_have_one_value_or_one_per_layer() {
    let joint = "\n[[joint]]\nid = \"J1\"\nstack = [\"A\", \"B\", \"C\"]\nfastener = \"F\"\ncount = 1\nprepare = [\"plain\", \"dimple\"]\n";
    let found = lines(&format!("{HEAD}{joint}"));
    assert_eq!(found, ["value-invalid: \"J1\": `prepare` has 2 values, but the stack has 3 layers"]);
}

#[test]
fn the_pages_of_the_format_are_fresh() {
    for (name, page) in [("specs/FORMAT.md", format_page()), ("specs/EVENING.md", evening_page())] {
        let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
        if std::env::var_os("SHOPHEAD_BLESS").is_some() {
            std::fs::write(&path, &page).unwrap();
        }
        assert_eq!(
            std::fs::read_to_string(&path).unwrap_or_default(),
            page,
            "run the tests with SHOPHEAD_BLESS=1 and read the change of {name}"
        );
    }
}
