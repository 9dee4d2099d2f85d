//! The layout of the code as a promise: who may import whom, which crate sits behind which module, file sizes, headers.

mod circle;
mod fallback;

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Module and what it may import of ours.
const MAY_IMPORT: &[(&str, &[&str])] = &[
    ("words", &[]),
    ("calendar", &["units", "phrase"]),
    ("units", &[]),
    ("ident", &[]),
    ("disk", &[]),
    ("text", &[]),
    ("phrase", &["text"]),
    ("report", &["text"]),
    ("hardware", &["words", "units"]),
    ("spec", &["words", "calendar", "units", "text", "report", "disk"]),
    ("archive", &["words", "calendar", "units", "ident", "text", "report", "disk", "spec"]),
    ("job", &["words", "calendar", "units", "text", "report", "hardware", "spec"]),
    ("rules", &["words", "calendar", "units", "text", "report", "hardware", "job"]),
    ("work", &["words", "calendar", "units", "ident", "text", "report", "job", "archive", "hardware"]),
    ("figure", &["words", "units", "job", "hardware"]),
    ("start", &["words", "units", "job", "hardware"]),
    (
        "plan",
        &[
            "words", "calendar", "units", "ident", "text", "phrase", "report", "job", "archive", "hardware", "work",
            "figure",
        ],
    ),
    ("render", &["words", "calendar", "units", "text", "phrase", "plan", "disk"]),
    (
        "cli",
        &[
            "words", "calendar", "units", "ident", "text", "report", "hardware", "spec", "job", "rules", "work",
            "figure", "start", "plan", "render", "archive", "disk", "phrase",
        ],
    ),
];

/// Outside crates, each behind the modules named.
const BEHIND: &[(&str, &[&str])] = &[
    ("toml", &["spec", "hardware", "plan", "start", "phrase"]),
    ("annotate_snippets", &["report"]),
    ("minijinja", &["render", "cli"]),
    ("typst", &["render"]),
    ("typst_layout", &["render"]),
    ("typst_pdf", &["render"]),
    ("comemo", &["render"]),
    ("rayon", &["render"]),
    ("pulldown_cmark", &["render"]),
    ("qrcodegen", &["render"]),
    ("csv", &["start"]),
    ("inquire", &["cli"]),
    ("clap", &["cli"]),
    ("clap_complete", &["cli"]),
    ("clap_mangen", &["cli"]),
    ("indicatif", &["cli"]),
    ("jiff", &["calendar", "cli"]),
    ("rlimit", &["cli"]),
    ("walkdir", &["spec"]),
    ("imagesize", &["render"]),
    ("roxmltree", &["render"]),
    ("zip", &["cli"]),
    ("sha2", &["ident"]),
    ("unicode_normalization", &["job"]),
];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every file of `src` with its path below it and its text.
fn sources() -> Vec<(PathBuf, String)> {
    texts("src", "rs")
}

/// Every file of a folder with this ending, its path below the folder and its text.
fn texts(folder: &str, ending: &str) -> Vec<(PathBuf, String)> {
    let folder = root().join(folder);
    let files = walkdir::WalkDir::new(&folder).sort_by_file_name().into_iter().map(Result::unwrap);
    let such = files.filter(|entry| entry.path().extension().is_some_and(|e| e == ending));
    such.map(|entry| {
        (entry.path().strip_prefix(&folder).unwrap().to_owned(), std::fs::read_to_string(entry.path()).unwrap())
    })
    .collect()
}

fn module_of(path: &Path) -> String {
    let first = path.components().next().unwrap().as_os_str().to_string_lossy().into_owned();
    first.trim_end_matches(".rs").to_owned()
}

/// The modules that a text names after `crate::`, also inside braces.
fn imports(text: &str) -> BTreeSet<String> {
    let code: String = text.lines().filter(|line| !line.trim_start().starts_with("//")).collect::<Vec<_>>().join("\n");
    let mut found = BTreeSet::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        let names = match rest.strip_prefix('{') {
            Some(list) => outer_names(list),
            None => vec![rest.to_owned()],
        };
        for name in names {
            let word: String = name.trim().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            found.insert(word);
        }
    }
    found
}

/// The items of a braced list, without what stands in inner braces.
fn outer_names(list: &str) -> Vec<String> {
    let (mut depth, mut names) = (0, vec![String::new()]);
    for c in list.chars() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => names.push(String::new()),
            c if depth == 0 => names.last_mut().unwrap().push(c),
            _ => {}
        }
    }
    names
}

#[test]
fn nobody_imports_against_the_table() {
    for (path, text) in sources() {
        let module = module_of(&path);
        if module == "main" || module == "lib" {
            continue;
        }
        let (_, allowed) = MAY_IMPORT
            .iter()
            .find(|(name, _)| *name == module)
            .unwrap_or_else(|| panic!("`{module}` is not in the table"));
        for import in imports(&text) {
            assert!(
                import == module || allowed.contains(&import.as_str()),
                "{}: `{module}` must not import `{import}`",
                path.display()
            );
        }
    }
}

#[test]
fn the_import_reader_sees_plain_and_braced_forms() {
    let text =
        "use crate::job::Job;\n// crate::cli\nuse crate::{report::{self, Finding}, units};\nlet x = crate::text::y();";
    let expected = ["job", "report", "text", "units"].map(String::from);
    assert_eq!(imports(text), BTreeSet::from(expected));
}

#[test]
fn every_outside_crate_sits_behind_its_modules() {
    for (path, text) in sources() {
        let module = module_of(&path);
        for (name, behind) in BEHIND {
            let used = text.lines().any(|line| {
                let line = line.trim_start();
                !line.starts_with("//")
                    && (line.contains(&format!("{name}::")) && !line.contains(&format!("_{name}::")))
            });
            assert!(
                !used || behind.contains(&module.as_str()),
                "{}: `{name}` belongs behind {behind:?}",
                path.display()
            );
        }
    }
}

#[test]
fn the_clock_is_read_in_cli_only() {
    for (path, text) in sources() {
        let reads = ["SystemTime::now", "Instant::now", "DateTime::now", "Timestamp::now"]
            .iter()
            .any(|clock| text.contains(clock));
        assert!(!reads || module_of(&path) == "cli", "{} reads the clock", path.display());
    }
}

/// What reads a file without asking what it is and how much of it comes.
const UNBOUNDED: [&str; 4] = ["fs::read(", "fs::read_to_string(", "File::open(", "io::read_to_string("];

#[test]
fn files_are_read_by_the_one_bounded_reader() {
    for (path, text) in sources().into_iter().filter(|(path, _)| module_of(path) != "disk") {
        let reads = UNBOUNDED.iter().find(|way| text.contains(**way));
        assert_eq!(reads, None, "{} opens a file past `disk`", path.display());
    }
}

#[test]
fn files_have_a_header_and_a_bounded_length() {
    for folder in ["src", "tests"] {
        for (path, text) in texts(folder, "rs") {
            assert!(text.starts_with("//! "), "{folder}/{} does not say what it is for", path.display());
            let lines = text.lines().count();
            assert!(lines <= 500, "{folder}/{} has {lines} lines; the limit is 500", path.display());
        }
    }
}

/// Whether a line of a template uses a name, beyond naming it in an import or a comment.
fn uses(line: &str, name: &str) -> bool {
    let is_part = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let code = line.split("//").next().unwrap_or_default();
    let whole = |at: usize| !code[..at].ends_with(is_part) && !code[at + name.len()..].starts_with(is_part);
    !code.starts_with("#import") && code.match_indices(name).any(|(at, _)| whole(at))
}

#[test]
fn every_name_of_a_template_is_used() {
    let all: Vec<_> = texts("templates", "typ").into_iter().chain(texts("templates", "j2")).collect();
    let mut unused = Vec::new();
    for (path, text) in &all {
        // What a builder's own text is made of is called by what is made of it.
        if path.ends_with("markdown.typ") {
            continue;
        }
        for (at, line) in text.lines().enumerate() {
            let Some(rest) = line.strip_prefix("#let ") else { continue };
            let name = rest.split(['(', ' ', '=']).next().unwrap_or_default();
            let own = |other: &std::path::PathBuf, nth: usize| other == path && nth == at;
            let is_used = all
                .iter()
                .any(|(other, text)| text.lines().enumerate().any(|(nth, line)| !own(other, nth) && uses(line, name)));
            if !is_used {
                unused.push(format!("{}: {name}", path.display()));
            }
        }
    }
    assert!(unused.is_empty(), "no template uses: {unused:?}");
}

#[test]
fn lines_of_templates_are_narrow() {
    for (path, text) in texts("templates", "typ").into_iter().chain(texts("templates", "j2")) {
        let wide = text.lines().position(|line| line.chars().count() >= 140);
        assert_eq!(wide, None, "{} has a line of 140 characters or more (counted from 0)", path.display());
    }
}
