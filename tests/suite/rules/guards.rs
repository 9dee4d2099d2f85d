//! What every rule promises: a page with all headings, a name that is its file's, sources that exist and carry its weight.

use std::collections::BTreeSet;
use std::path::Path;

use shophead::hardware::{find_source, table_text};
use shophead::report::{Severity, fault};
use shophead::rules::{HEADINGS, Looks, RULES, Rule, explain};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// `family/name` of everything in a folder two levels deep.
fn pairs(folder: &Path, name_of: impl Fn(&Path) -> Option<String>) -> BTreeSet<String> {
    let mut pairs = BTreeSet::new();
    for family in std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).filter(|path| path.is_dir()) {
        for path in std::fs::read_dir(&family).unwrap().map(|entry| entry.unwrap().path()) {
            let family = family.file_name().unwrap().to_string_lossy();
            pairs.extend(name_of(&path).map(|name| format!("{family}/{name}")));
        }
    }
    pairs
}

fn listed() -> BTreeSet<String> {
    RULES.iter().map(|rule| format!("{}/{}", rule.family, rule.name)).collect()
}

#[test]
fn names_are_kebab_case_and_used_once() {
    let mut seen = BTreeSet::new();
    for rule in RULES {
        let kebab = rule.name.split('-').all(|word| !word.is_empty() && word.bytes().all(|b| b.is_ascii_lowercase()));
        assert!(kebab, "{} is not kebab-case", rule.name);
        assert!(seen.insert(rule.name), "{} is listed twice", rule.name);
        assert_eq!(explain(rule.name).map(|found| found.name), Some(rule.name));
    }
    assert!(explain("no-such-rule").is_none());
}

#[test]
fn list_files_and_fixtures_are_one_to_one() {
    let stem = |path: &Path| path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let files = pairs(&root().join("src/rules"), |path| stem(path).map(|stem| stem.replace('_', "-")));
    assert_eq!(files, listed(), "files of src/rules against the list");
    let fixtures = pairs(&root().join("tests/rules"), stem);
    assert_eq!(fixtures, listed(), "pages of tests/rules against the list");
}

fn file_of(rule: &Rule) -> String {
    format!("{}.rs", rule.name.replace('-', "_"))
}

fn source_of(rule: &Rule) -> String {
    std::fs::read_to_string(root().join("src/rules").join(rule.family).join(file_of(rule))).unwrap()
}

#[test]
fn the_faults_that_are_raised_elsewhere_are_the_rules_that_check_nothing() {
    let named = |wanted: fn(&Looks) -> bool| -> BTreeSet<&str> {
        RULES.iter().filter(|rule| wanted(&rule.looks)).map(|rule| rule.name).collect()
    };
    assert_eq!(named(|looks| matches!(looks, Looks::Reading)), BTreeSet::from(fault::READING));
    assert_eq!(named(|looks| matches!(looks, Looks::Allows)), BTreeSet::from([fault::ALLOW_UNUSED]));
    assert_eq!(named(|looks| matches!(looks, Looks::Paper)), BTreeSet::from([fault::STEP_TOO_TALL]));
}

/// Macros declare the modules of rules and of families of fasteners, so that `cargo fmt` passes them by.
#[test]
fn the_files_that_a_macro_declares_are_formatted() {
    let rules = RULES.iter().map(|rule| root().join("src/rules").join(rule.family).join(file_of(rule)));
    let hardware = std::fs::read_dir(root().join("src/hardware")).unwrap().map(|entry| entry.unwrap().path());
    let files = rules.chain(hardware.filter(|path| path.extension().is_some_and(|own| own == "rs")));
    let mut rustfmt = std::process::Command::new("rustfmt");
    let rustfmt = rustfmt.args(["--check", "--edition", "2024"]).args(files).current_dir(root());
    match rustfmt.output() {
        Ok(said) => assert!(said.status.success(), "run rustfmt on:\n{}", String::from_utf8_lossy(&said.stdout)),
        Err(failure) => {
            assert!(std::env::var_os("CI").is_none(), "rustfmt: {failure}");
            let _ = std::io::Write::write_all(&mut std::io::stderr(), b"skipped: rustfmt is not installed\n");
        }
    }
}

#[test]
fn a_rule_is_its_own_page_and_asks_no_other_rule() {
    for rule in RULES {
        let text = source_of(rule);
        assert_eq!(rule.page, text, "{}: `page` is not its own file", rule.name);
        let imports = text.lines().filter(|line| line.trim_start().starts_with("use ")).collect::<Vec<_>>().join("\n");
        for other in RULES.iter().filter(|other| other.name != rule.name) {
            let module = other.name.replace('-', "_");
            assert!(!text.contains(&format!("{module}::")), "{} names the rule {}", rule.name, other.name);
        }
        for module in ["spec", "plan", "render", "archive", "cli"] {
            assert!(!imports.contains(&format!("crate::{module}")), "{} imports {module}", rule.name);
        }
    }
}

#[test]
fn every_page_has_the_headings_in_order_and_text_under_each() {
    for rule in RULES {
        let page = rule.page_text();
        assert!(page.starts_with(&format!("# {}\n\n", rule.name)), "{}: wrong title", rule.name);
        let found: Vec<&str> = page.lines().filter_map(|line| line.strip_prefix("## ")).collect();
        assert_eq!(found, HEADINGS, "{}", rule.name);
        for part in page.split("\n## ").skip(1) {
            let body = part.split_once('\n').map_or("", |(_, body)| body.trim());
            assert!(body.len() > 20, "{}: nothing under a heading: {part}", rule.name);
        }
        assert!(page.contains("\n```toml\n"), "{}: no example", rule.name);
        assert!(!page.contains("//!"), "{}: comment marks left", rule.name);
    }
}

/// The entries of the page's source list: key, and the text after it.
fn source_entries(rule: &Rule) -> Vec<(String, String)> {
    let page = rule.page_text();
    let part = page.split("\n## ").find(|part| part.starts_with("Source\n")).unwrap_or_default();
    let mut entries: Vec<(String, String)> = Vec::new();
    for line in part.lines() {
        if let Some((key, text)) = line.strip_prefix("- `").and_then(|rest| rest.split_once("` ")) {
            entries.push((key.to_owned(), text.to_owned()));
        } else if let (Some(more), Some(last)) = (line.strip_prefix("  "), entries.last_mut()) {
            last.1.push(' ');
            last.1.push_str(more.trim());
        }
    }
    entries
}

/// Keys that stand for reasoning or practice, not for a document.
const UNPUBLISHED: [&str; 6] = ["common-practice", "practice", "arithmetic", "geometry", "completeness", "format"];

#[test]
fn sources_exist_and_the_page_cites_each_with_its_force() {
    for rule in RULES {
        let entries = source_entries(rule);
        let keys: Vec<&str> = entries.iter().map(|(key, _)| key.as_str()).collect();
        assert!(!keys.is_empty(), "{} cites no source", rule.name);
        assert_eq!(keys, rule.sources().collect::<Vec<_>>(), "{}: sources are read from the page amiss", rule.name);
        for (key, text) in &entries {
            let source = find_source(key).unwrap_or_else(|| panic!("{}: no source {key}", rule.name));
            assert!(
                text.starts_with(&source.cite()),
                "{}: `{key}` is cited as `{text}`, not as `{}`",
                rule.name,
                source.cite()
            );
            if !UNPUBLISHED.contains(&key.as_str()) {
                let forces = ["(must)", "(shall)", "(should)", "(recommended)", "(common practice)"];
                assert!(
                    forces.iter().any(|force| text.contains(force)),
                    "{}: `{key}` does not say how strongly: {text}",
                    rule.name
                );
                assert!(text.contains("grade "), "{}: `{key}` does not say how sure it is: {text}", rule.name);
            }
        }
    }
}

/// What the pages say of a source's force and grade, and what the table of limits says, is one thing.
#[test]
fn limits_have_the_force_that_the_pages_give_to_their_source() {
    let pages: Vec<(String, String)> = RULES.iter().flat_map(source_entries).collect();
    let table: toml::Table = table_text("limit").unwrap().parse().unwrap();
    let mut compared = 0;
    for row in table["row"].as_array().unwrap() {
        let word = |key: &str| row.get(key).and_then(toml::Value::as_str);
        let (Some(source), Some(force)) = (word("source"), word("force").filter(|force| *force != "derived")) else {
            continue;
        };
        let cited: Vec<&String> = pages.iter().filter(|(key, _)| key == source).map(|(_, text)| text).collect();
        if cited.is_empty() || UNPUBLISHED.contains(&source) {
            continue;
        }
        let said = cited.iter().any(|text| text.contains(&format!("({force})")));
        assert!(said, "{:?} is `{force}` by {source}; its pages say {cited:?}", row["limit"]);
        compared += 1;
    }
    assert!(compared > 20, "only {compared} limits were compared");
}

#[test]
fn no_error_rests_on_memory_or_on_a_page_about_something_else() {
    for rule in RULES.iter().filter(|rule| rule.severity == Severity::Error) {
        let backed = source_entries(rule).iter().any(|(key, text)| {
            UNPUBLISHED.contains(&key.as_str())
                || ["grade A", "grade B"].iter().any(|grade| text.contains(grade)) && !text.contains("grade A-else")
        });
        assert!(backed, "{} is an error, and every source of it is from memory or speaks of something else", rule.name);
    }
}

#[test]
fn only_judgements_of_a_traveler_can_be_allowed() {
    for rule in RULES {
        let expected = !matches!(rule.looks, Looks::Reading | Looks::Allows | Looks::Paper | Looks::Job(_));
        assert_eq!(rule.can_be_allowed(), expected, "{}", rule.name);
        let never = rule.page_text().contains("## When to allow it\nNever");
        assert!(rule.can_be_allowed() || never, "{}: its page offers what cannot be allowed", rule.name);
    }
}
