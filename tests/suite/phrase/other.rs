//! Every document in a made-up language, whose words are those of English with other letters and longer by a third: nothing
//! that the program says is left in English, and what the builder wrote is untouched.

use std::collections::BTreeSet;

use serde_json::Value;
use shophead::calendar::When;
use shophead::job::{Job, Order, State, resolve};
use shophead::phrase::{self, Language, read, speak};
use shophead::plan::{
    AtPrinting, BoardOptions, Choice, DiscrepancySubject, Document, Options, Source, VisitChoice, blank_discrepancy,
    board, discrepancy_of, drawing_index, packet, pick_list, visit,
};
use shophead::render::{Templates, lay_out};
use shophead::report::Report;
use shophead::spec::load;
use shophead::text::Files;

use crate::build::shop::root;
use crate::render::data::of_signed_work;

/// Vowels and what stands for them.
const VOWELS: [(char, char); 10] = [
    ('a', 'á'),
    ('e', 'é'),
    ('i', 'í'),
    ('o', 'ó'),
    ('u', 'ú'),
    ('A', 'Á'),
    ('E', 'É'),
    ('I', 'Í'),
    ('O', 'Ó'),
    ('U', 'Ú'),
];

/// Words with other vowels, each of them twice; values stay.
fn other_words(words: &str) -> String {
    let mut other = String::new();
    let mut inside = false;
    for c in words.chars() {
        inside = c == '{' || inside && c != '}';
        let vowel = VOWELS.iter().find(|(vowel, _)| !inside && *vowel == c);
        let Some((_, vowel)) = vowel else {
            other.push(c);
            continue;
        };
        other.extend(std::iter::repeat_n(*vowel, 2));
    }
    other
}

fn made_up() -> &'static Language {
    let phrases = phrase::english().phrases();
    let lines: Vec<String> = phrases
        .map(|(key, forms)| phrase::line(key, &forms.iter().map(|form| other_words(form)).collect::<Vec<_>>()))
        .collect();
    let (language, faults) = read(&format!("plural = [\"1\"]\n{}", lines.concat()));
    assert_eq!(faults, []);
    Box::leak(Box::new(language))
}

fn demo() -> (Job, Report, String) {
    let (mut files, mut report) = (Files::default(), Report::default());
    let job = resolve(load(&root().join("demo-data/build.toml"), &mut files, &mut report).unwrap(), &mut report);
    let own: String = walkdir::WalkDir::new(root().join("specs"))
        .into_iter()
        .map(Result::unwrap)
        .filter(|entry| entry.path().extension().is_some_and(|ending| ending == "toml"))
        .map(|entry| std::fs::read_to_string(entry.path()).unwrap())
        .collect();
    let build = std::fs::read_to_string(root().join("demo-data/build.toml")).unwrap();
    (job, report, own + &build + crate::build::signed::SPEC + crate::build::signed::PROJECT)
}

/// One document of each kind, of some travelers.
fn documents(job: &Job, report: &Report) -> Vec<Document> {
    let (order, state, now) = (Order::of(job), State::default(), When::parse("2026-03-07T09:00").unwrap().latest);
    let work = AtPrinting::of(job, &order, &state);
    let packets = ["TANK-10", "CTRL-20", "WING-50", "CAB-10"].into_iter().map(|id| {
        let index = job.travelers.iter().position(|own| own.id.value == id).unwrap();
        let source = Source::of_specs(job, index, job.hands_of(index)[0], report, Options::default());
        packet(Source { work: Some(&work), ..source }).unwrap().document()
    });
    let subject =
        DiscrepancySubject { job, order: &order, state: &state, archived: None, traveler: 0, joint: 0, hand: None };
    let walls = [
        board(job, &order, &state, BoardOptions { now, minutes: 90, alone: false }).document(job, now),
        pick_list(job, &order, &state, &Choice::default(), now).document(job, now),
        drawing_index(job).document(job, now),
        visit(job, &order, &state, None, &VisitChoice::default()).document(job, now, Some(now)),
        blank_discrepancy(None, None, &job.project).document(job, now),
        discrepancy_of(&subject, None, None).document(job, now),
    ];
    packets.chain(walls).chain(of_signed_work()).collect()
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| !c.is_alphabetic()).filter(|word| word.len() > 2)
}

/// Words that are English and no phrase: units, titles of published sources and places in them; and what a change did, which
/// is recorded with its notice and stays as it was recorded.
const STAY: &[&str] = &["min", "deg", "per", "rev", "dia", "par", "shelter", "was"];

#[test]
fn texts_and_codes_of_the_builder_are_untouched() {
    let (job, report, _) = demo();
    let before = documents(&job, &report);
    let after = {
        let _spoken = speak(Some(made_up()));
        documents(&job, &report)
    };
    for (one, other) in before.iter().zip(&after) {
        assert_eq!((&one.stem, &one.code, &one.pieces), (&other.stem, &other.code, &other.pieces), "{}", one.template);
    }
    let packet = |document: &Document| document.template == "packet.typ.j2";
    let summaries = |all: &[Document]| -> Vec<serde_json::Value> {
        all.iter().filter(|own| packet(own)).map(|own| own.data["cover"]["summary"].clone()).collect()
    };
    assert_eq!(summaries(&before), summaries(&after));
    assert!(before.iter().zip(&after).all(|(one, other)| one.data != other.data), "a document says nothing of its own");
}

#[test]
fn nothing_is_left_in_english() {
    let (job, report, own) = demo();
    let theirs: BTreeSet<String> = words(&own).map(str::to_lowercase).collect();
    let _spoken = speak(Some(made_up()));
    let templates = Templates::load(None).unwrap();
    let mut left: BTreeSet<String> = BTreeSet::new();
    for document in documents(&job, &report) {
        let laid = lay_out(&document, &templates).unwrap_or_else(|failure| panic!("{failure}"));
        for line in laid.page_texts().iter().flat_map(|page| page.lines()) {
            assert!(!line.contains('{'), "a place without a value: {line}");
            let english = words(line).filter(|word| word.is_ascii() && word.contains(|c| "aeiouAEIOU".contains(c)));
            // Codes and names of standards are in capitals.
            let is_code = |word: &str| word.len() < 6 && word.chars().all(char::is_uppercase);
            // What has no room is cut off.
            let is_theirs = |word: &str| theirs.iter().any(|own| own.starts_with(&word.to_lowercase()));
            let strange = english.filter(|word| !STAY.contains(word) && !is_code(word) && !is_theirs(word));
            left.extend(strange.map(|word| format!("{word} ({}): {line}", document.template)));
        }
        typst::comemo::evict(0);
    }
    assert!(left.is_empty(), "{} words are left in English: {left:#?}", left.len());
}

/// Keys whose values choose what is drawn, name files and places, or were recorded: nobody reads them as they are.
const NO_WORDS: &[&str] = &[
    "align",
    "aspect",
    "classes",
    "digest",
    "dispositions",
    "fill",
    "hand",
    "hands",
    "id",
    "kind",
    "line",
    "listed",
    "mark",
    "preparation",
    "reasons",
    "source",
    "stops",
    "verdict",
];

/// What the test's own archive recorded, and a tool's name without the size that the builder wrote behind it.
const RECORDED: &[&str] =
    &["joint J1 hole after this", "plan change 7", "Drill to final size", "hand reamer", "head gauge"];

/// Texts that are the same in both languages although they have words, with their keys.
fn unchanged(key: &str, one: &Value, other: &Value, found: &mut BTreeSet<(String, String)>) {
    match (one, other) {
        (Value::Object(all), Value::Object(others)) => {
            let paired = all.iter().filter_map(|(key, one)| Some((key, one, others.get(key)?)));
            paired.for_each(|(key, one, other)| unchanged(key, one, other, found));
        }
        (Value::Array(all), Value::Array(others)) => {
            all.iter().zip(others).for_each(|(one, other)| unchanged(key, one, other, found));
        }
        (Value::String(text), Value::String(same))
            if text == same && words(text).any(|word| word.chars().any(char::is_lowercase)) =>
        {
            found.insert((key.to_owned(), text.clone()));
        }
        _ => {}
    }
}

/// The texts that the builder wrote, the longest first: what stands in quotes.
fn texts_of(own: &str) -> Vec<String> {
    let mut texts: Vec<String> = own.split('"').flat_map(str::lines).map(|text| text.trim().to_owned()).collect();
    texts.retain(|text| text.len() > 2 && !text.contains(" = ") && !["left", "right"].contains(&text.as_str()));
    // A drawing's views are listed without its sheet.
    let views: Vec<String> = texts.iter().filter_map(|text| Some(text.split_once(' ')?.1.to_owned())).collect();
    texts.extend(views.into_iter().filter(|text| text.len() > 2));
    texts.sort_by_key(|text| std::cmp::Reverse(text.len()));
    texts.dedup();
    texts
}

#[test]
fn what_stays_the_same_is_the_builder_s_own() {
    let (job, report, own) = demo();
    let before = documents(&job, &report);
    let _spoken = speak(Some(made_up()));
    let after = documents(&job, &report);
    let mut found = BTreeSet::new();
    for (one, other) in before.iter().zip(&after) {
        unchanged("", &one.data, &other.data, &mut found);
    }
    let theirs = texts_of(&own);
    // What is left of a text without those of the builder.
    let rest = |text: &str| theirs.iter().fold(text.to_owned(), |rest, own| rest.replace(own.as_str(), " "));
    let says =
        |text: &str| words(&rest(text)).any(|word| !STAY.contains(&word) && word.chars().any(char::is_lowercase));
    found.retain(|(key, text)| !NO_WORDS.contains(&key.as_str()) && !RECORDED.contains(&text.as_str()) && says(text));
    assert!(found.is_empty(), "{} texts have words that are said in no language: {found:#?}", found.len());
}

#[test]
fn words_of_a_third_more_letters_have_room() {
    use crate::render::layout::fault::{faults, page_faults};
    let (job, report, _) = demo();
    let _spoken = speak(Some(made_up()));
    let templates = Templates::load(None).unwrap();
    let mut found = Vec::new();
    for document in documents(&job, &report) {
        let laid = lay_out(&document, &templates).unwrap_or_else(|failure| panic!("{failure}"));
        let wrong = if document.template == "packet.typ.j2" { faults(&laid) } else { page_faults(&laid) };
        found.extend(wrong.into_iter().map(|fault| format!("{}: {fault}", document.stem)));
        typst::comemo::evict(0);
    }
    assert_eq!(found, Vec::<String>::new());
}
