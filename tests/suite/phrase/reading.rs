//! Files of languages: what is taken, and what is refused with its place.

use shophead::phrase::{Weight, read};

/// What is wrong with a file, but that phrases are missing: the bytes at fault and the message.
fn faults(text: &str) -> Vec<(String, String)> {
    let wrong = read(text).1.into_iter().filter(|fault| fault.weight != Weight::Missing);
    wrong.map(|fault| (text.get(fault.place).unwrap().to_owned(), fault.message)).collect()
}

const HEAD: &str = "plural = [\"1\"]\n";

#[test]
fn words_in_any_order_of_their_values_are_taken() {
    let text = format!("{HEAD}\"{{name}} after {{first}}\" = \"nach {{first}} dann {{name}}\"\n");
    assert_eq!(faults(&text), []);
    assert_eq!(read(&text).0.forms("{name} after {first}").unwrap(), ["nach {first} dann {name}"]);
}

#[test]
fn values_that_are_not_those_of_the_phrase_are_refused_with_their_place() {
    let own = |words: &str| faults(&format!("{HEAD}\"{{name}} after {{first}}\" = {words}\n"));
    let one = |place: &str, message: &str| vec![(place.to_owned(), message.to_owned())];
    assert_eq!(own("\"{name} nach\""), one("\"{name} nach\"", "the value {first} is left out"));
    assert_eq!(own("\"{name}{first}{x}\""), one("\"{name}{first}{x}\"", "the phrase has no value {x}"));
    let brace = "a brace that begins or ends no value";
    for words in ["\"{name}{first}{\"", "\"{name} {first} }\"", "\"{{name}} {first}\"", "\"{name} {first} {0}\""] {
        assert_eq!(own(words), one(words, brace), "{words}");
    }
}

#[test]
fn forms_are_as_many_as_numbers_are_told_apart() {
    let own = |plural: &str, words: &str| faults(&format!("plural = {plural}\n\"{{n}} step\" = {words}\n")).len();
    assert_eq!(own("[\"1\"]", "[\"{n} Schritt\", \"{n} Schritte\"]"), 0);
    assert_eq!(own("[\"1\"]", "[\"ein Schritt\", \"{n} Schritte\"]"), 0);
    assert_eq!(own("[]", "\"{n} Schritt\""), 0);
    assert_eq!(own("[\"1\"]", "\"{n} Schritte\""), 1);
    assert_eq!(own("[\"1\", \"*2-4 not *12-14\"]", "[\"a\", \"b\"]"), 1);
    for wrong in
        ["\"1\"", "[1]", "[\"\"]", "[\"a\"]", "[\"2-1\"]", "[\"not 1\"]", "[\"1 not\"]", "[\"1234567\"]", "[\"1-\"]"]
    {
        assert!(own(wrong, "[\"{n} Schritt\", \"{n} Schritte\"]") > 0, "{wrong}");
    }
}

#[test]
fn what_cannot_be_printed_is_refused() {
    for words in ["\"\"", "\"  \"", "\"a\\nb\"", "\"a\\u0007b\"", "\"\\u4e00\"", "\"\\u202e\"", "7", "{ a = 1 }"] {
        assert_eq!(faults(&format!("{HEAD}[board]\n\"Helper needed\" = {words}\n")).len(), 1, "{words}");
    }
    let long = "x".repeat(5000);
    assert_eq!(faults(&format!("{HEAD}\"Helper needed\" = \"{long}\"\n")).len(), 1);
}

#[test]
fn phrases_that_nobody_says_and_those_said_twice_are_told() {
    let text =
        format!("{HEAD}\"Never said\" = \"x\"\n[a]\n\"Helper needed\" = \"x\"\n[b]\n\"Helper needed\" = \"y\"\n");
    let own = |place: &str, message: &str| (place.to_owned(), message.to_owned());
    let expected = [
        own("\"Never said\"", "no document says this"),
        own("\"Helper needed\"", "this phrase stands here a second time"),
    ];
    assert_eq!(faults(&text), expected);
}

#[test]
fn a_file_that_is_no_toml_is_told_and_what_can_be_read_counts() {
    let (language, faults) = read("plural = []\n\"Helper needed\" = \"Hilfe\"\n\"a\" = = \n");
    assert!(faults.iter().any(|fault| fault.weight == Weight::Unreadable), "{faults:?}");
    assert_eq!(language.forms("Helper needed").unwrap(), ["Hilfe"]);
    assert!(read("").1.iter().any(|fault| fault.message == "`plural` is missing"));
}
