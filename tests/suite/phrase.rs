//! The fixed words of the documents: every one is a phrase, every phrase stands in the file of English, and in another
//! language none is left in English.

mod listed;
mod other;
mod paper;
mod reading;
mod rust;

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

use shophead::phrase;

use crate::build::shop::root;

/// Files that still hold words which are no phrases. It only grows shorter.
const NOT_YET: &[&str] = &[];

/// Literals that nobody reads on paper as words of the program: what stays English or is data, with its file.
const NOT_WORDS: &[(&str, &str)] = &[
    // Lines that are typed in.
    ("src/plan/visit.rs", "INITIALS"),
    ("src/plan/visit.rs", "visit packet {}"),
    ("src/plan/discrepancy.rs", "CODE"),
    ("src/plan/discrepancy.rs", "JOINT"),
    // What `check` says, which is no document.
    ("src/plan/tall.rs", "in the smallest large type"),
    ("src/plan/tall.rs", "with the boxes of both hands"),
    ("src/plan/tall.rs", "on paper"),
    ("src/plan/tall.rs", "step {} is {height} mm tall {how}, and a page holds {room} mm"),
    ("src/plan/tall.rs", "a step never splits"),
    ("src/plan/tall.rs", "`packet --both-hands` refuses it"),
    ("src/plan/tall.rs", "`packet --large` refuses it"),
    ("src/plan/tall.rs", ", or give each hand a packet"),
    ("src/plan/tall.rs", "{refused}: shorten it by {lines} of text, or make two steps of it{apart}"),
    // Columns for a spreadsheet.
    ("src/plan/pick/cells.rs", "on hand"),
    ("src/plan/pick/cells.rs", "use once"),
    ("src/plan/pick/cells.rs", "not the same as"),
    // What a terminal says.
    ("src/plan/packet.rs", "error stops"),
    ("src/plan/packet.rs", "errors stop"),
    ("src/plan/packet.rs", "{traveler} is not printed: {errors} {noun} it ({first})"),
    // What is looked for in a builder's own texts.
    ("src/plan/packet/tool.rs", "rivet gun"),
    ("src/plan/packet/trigger.rs", " and "),
    ("src/plan/packet/trigger.rs", " then "),
    ("src/plan/packet/trigger.rs", "fluid fitting"),
    // Names of published sources.
    ("src/plan/discrepancy.rs", "AC-4-12"),
    ("src/plan/discrepancy.rs", "AC-4-57b"),
    ("src/plan/discrepancy/hole_set.rs", "AC-7-39"),
    // What identifies a PDF.
    ("src/plan/document.rs", "shophead {} {} {}"),
    ("src/plan/document.rs", "no code"),
    // Names of fonts, boxes and faults.
    ("templates/base.typ", "Noto Sans"),
    ("templates/base.typ", "Noto Sans Math"),
    ("templates/base.typ", "Noto Sans Symbols"),
    ("templates/base.typ", "Noto Sans Symbols2"),
    ("templates/visit.typ", "before-close "),
    ("templates/visit.typ", "look-again "),
    ("templates/figures.typ", "there is no line `"),
    // What English leaves out behind a verb.
    ("templates/step.typ", " holes?$"),
    ("templates/caution.typ", "DANGER"),
    ("templates/caution.typ", "WARNING"),
    ("templates/caution.typ", "NOTICE"),
    ("templates/page.typ", "50 mm"),
    ("templates/page.typ", "2 in"),
];

/// A phrase: its key, its English forms, the documents that say it.
struct Phrase {
    forms: Vec<String>,
    documents: BTreeSet<&'static str>,
}

/// Documents by the beginning of the names of their files.
const DOCUMENTS: &[(&str, &str)] = &[
    ("board", "board"),
    ("pick", "pick"),
    ("visit", "visit"),
    ("discrepancy", "discrepancy"),
    ("drawings", "drawings"),
    ("book", "book"),
    ("notice", "notice"),
    ("packet", "packet"),
    ("step", "packet"),
    ("front", "packet"),
    ("block", "packet"),
    ("small", "packet"),
    ("purpose", "packet"),
    ("caution", "packet"),
    ("close-out", "packet"),
    ("where", "packet"),
    ("page", "packet"),
];

/// What several documents say.
const SHARED: &str = "shared";

fn document(path: &Path) -> &'static str {
    let first = path.components().next().unwrap().as_os_str().to_string_lossy().into_owned();
    let stem = first.split('.').next().unwrap().to_owned();
    DOCUMENTS.iter().find(|(name, _)| *name == stem).map_or(SHARED, |(_, document)| document)
}

/// Files below a folder with one of these endings, by their path below it.
fn files(folder: &str, endings: &[&str]) -> Vec<(PathBuf, String)> {
    let folder = root().join(folder);
    let all = walkdir::WalkDir::new(&folder).sort_by_file_name().into_iter().map(Result::unwrap);
    let such = all.filter(|entry| entry.path().extension().is_some_and(|own| endings.iter().any(|e| own == *e)));
    such.map(|entry| {
        (entry.path().strip_prefix(&folder).unwrap().to_owned(), std::fs::read_to_string(entry.path()).unwrap())
    })
    .collect()
}

/// Every phrase that the program says.
fn said() -> BTreeMap<String, Phrase> {
    let mut phrases: BTreeMap<String, Phrase> = BTreeMap::new();
    let mut add = |forms: Vec<String>, document: &'static str| {
        let key = forms[0].clone();
        let own =
            phrases.entry(key.clone()).or_insert_with(|| Phrase { forms: forms.clone(), documents: BTreeSet::new() });
        assert_eq!(own.forms, forms, "`{key}` is said with and without a number");
        own.documents.insert(document);
    };
    for (path, text) in files("src", &["rs"]) {
        let module = path.components().next().unwrap().as_os_str().to_string_lossy().into_owned();
        let below: PathBuf = path.components().skip(1).collect();
        let document = if module == "plan" { document(&below) } else { SHARED };
        let literals: Vec<_> = rust::literals(&text);
        for (at, literal) in literals.iter().enumerate() {
            match literal.call.as_ref().map(|(name, at)| (name.as_str(), *at)) {
                Some(("patterns!", _) | ("say!", 0)) => add(vec![literal.text.clone()], document),
                Some(("say_count!", 1)) => add(vec![literal.text.clone(), literals[at + 1].text.clone()], document),
                _ => {}
            }
        }
    }
    for (path, text) in files("templates", &["typ", "j2"]) {
        for own in paper::words(&text).into_iter().filter(|own| own.is_phrase) {
            add(vec![own.text], document(&path));
        }
    }
    for word in listed::listed() {
        add(vec![word], SHARED);
    }
    phrases
}

/// The file of English: notes of the kept one stay, phrases are those that are said.
fn english_file(kept: &str) -> String {
    let head = kept.split_inclusive('\n').take_while(|line| !line.starts_with('[')).collect::<String>();
    let mut notes: BTreeMap<String, String> = BTreeMap::new();
    let mut note = String::new();
    for line in kept.split_inclusive('\n').skip_while(|line| !line.starts_with('[')) {
        if line.starts_with('#') {
            note.push_str(line);
        } else {
            notes.insert(line.split(" = ").next().unwrap().to_owned(), std::mem::take(&mut note));
        }
    }
    let mut sections: BTreeMap<&str, String> = BTreeMap::new();
    let phrases = said();
    let mut sorted: Vec<(&String, &Phrase)> = phrases.iter().collect();
    sorted.sort_by_key(|(key, _)| (key.trim_start_matches(|c: char| !c.is_alphanumeric()).to_lowercase(), *key));
    for (key, own) in sorted {
        let section = if own.documents.len() == 1 { own.documents.first().unwrap() } else { SHARED };
        let forms: Vec<String> = own.forms.iter().map(|form| phrase::without_use(form.clone(), form)).collect();
        let line = phrase::line(key, &forms);
        let note = notes.get(line.split(" = ").next().unwrap()).map_or("", String::as_str);
        sections.entry(section).or_default().extend([note, &line]);
    }
    let bodies: Vec<String> = sections.iter().map(|(name, lines)| format!("[{name}]\n{lines}")).collect();
    head + &bodies.join("\n")
}

#[test]
fn the_file_of_english_has_every_phrase_and_no_other() {
    let path = root().join("templates/words/english.toml");
    let kept = std::fs::read_to_string(&path).unwrap();
    let file = english_file(&kept);
    if std::env::var_os("SHOPHEAD_BLESS").is_some() {
        std::fs::write(path, file).unwrap();
        return;
    }
    assert!(kept == file, "run the tests with SHOPHEAD_BLESS=1 and read the change of templates/words/english.toml");
}

/// Units, which stay as they are.
const UNITS: [&str; 5] = ["mm", "in", "min", "lb", "deg"];

/// Whether a literal is made of words that a builder reads.
fn is_words(text: &str) -> bool {
    let letters = |word: &str| word.chars().filter(char::is_ascii_alphabetic).count() >= 2;
    let words: Vec<&str> = text.split(|c: char| !c.is_ascii_alphabetic()).filter(|word| letters(word)).collect();
    // A line of a file that is typed in, and numbers with units alone.
    let entry = text.split_once(" = ").is_some_and(|(key, _)| key.chars().all(|c| c.is_ascii_lowercase() || c == '-'));
    let units = words.iter().all(|word| UNITS.contains(word) || text.contains(&format!("{{{word}")));
    let file = [".typ", ".j2", ".pdf", ".toml"].iter().any(|ending| text.contains(ending));
    let begins = words.first().is_some_and(|word| word.starts_with(|c: char| c.is_ascii_uppercase()));
    !words.is_empty() && !file && !entry && !units && (text.trim().contains(' ') || text.trim() != text || begins)
}

/// Calls whose literals are no words for paper.
const SILENT: [&str; 9] =
    ["patterns!", "say!", "say_count!", "expect", "unreachable!", "panic!", "assert!", "json!", "env!"];

fn unsaid() -> BTreeMap<String, Vec<String>> {
    let mut found: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut add = |path: String, line: usize, text: String| {
        if is_words(&text) && !NOT_WORDS.contains(&(path.as_str(), text.as_str())) {
            found.entry(path).or_default().push(format!("{line}: {text}"));
        }
    };
    for (path, text) in files("src/plan", &["rs"]) {
        for literal in rust::literals(&text) {
            let silent = literal.call.as_ref().is_some_and(|(name, _)| SILENT.contains(&name.as_str()));
            if !silent {
                let line = text[..literal.at].matches('\n').count() + 1;
                add(format!("src/plan/{}", path.display()), line, literal.text);
            }
        }
    }
    for (path, text) in files("templates", &["typ", "j2"]) {
        for own in paper::words(&text).into_iter().filter(|own| !own.is_phrase) {
            add(format!("templates/{}", path.display()), own.line, own.text);
        }
    }
    found
}

#[test]
fn no_words_stand_outside_phrases() {
    let found = unsaid();
    let fresh: Vec<_> = found.iter().filter(|(path, _)| !NOT_YET.contains(&path.as_str())).collect();
    assert!(fresh.is_empty(), "put these into `say!` or `say`: {fresh:#?}");
    let done: Vec<_> = NOT_YET.iter().filter(|path| !found.contains_key(**path)).collect();
    assert!(done.is_empty(), "take these out of the list: {done:#?}");
}
