//! The closed word lists: every word reads back, no word means two things; names as the builder writes them.

use std::collections::BTreeSet;

use shophead::archive::{Aspect, Capacity, Carry, Cause, Class, Disposition, Stops, Value};
use shophead::words::{
    Access, FastenerKind, Hand, HeadForm, ItemName, May, PacketName, Paper, Preparation, SignalWord, StepKind,
    Structure, WaitFor, Word,
};

/// Checks one list: words are there, differ, have no space at their ends, and read back.
fn check<T: Word + PartialEq + std::fmt::Debug + std::fmt::Display>(list: &[T]) {
    let words: Vec<&str> = list.iter().map(|value| value.word()).collect();
    assert_eq!(words, T::WORDS);
    assert!(words.len() > 1, "{words:?} leaves no choice");
    assert_eq!(words.iter().collect::<BTreeSet<_>>().len(), words.len(), "{words:?}");
    for value in list {
        let word = value.word();
        assert_eq!(T::parse(word), Some(*value));
        assert_eq!(T::read(&value.written()), Some(*value));
        assert_eq!(value.to_string(), word);
        assert_eq!(word.trim(), word);
        assert!(!word.is_empty());
        for other in [format!(" {word}"), format!("{word}s"), word[1..].to_owned(), String::new()] {
            assert_eq!(T::parse(&other), None, "{other:?}");
        }
    }
}

#[test]
fn every_word_of_every_list_reads_back_and_is_the_only_one() {
    check(StepKind::ALL);
    check(SignalWord::ALL);
    check(Hand::ALL);
    check(May::ALL);
    check(Preparation::ALL);
    check(Structure::ALL);
    check(Access::ALL);
    check(FastenerKind::ALL);
    check(HeadForm::ALL);
    check(WaitFor::ALL);
    check(Paper::ALL);
}

#[test]
fn every_word_of_the_archives_lists_reads_back_and_is_the_only_one() {
    check(Capacity::ALL);
    check(Carry::ALL);
    check(Cause::ALL);
    check(Stops::ALL);
    check(Class::ALL);
    check(Disposition::ALL);
    check(Aspect::ALL);
}

#[test]
fn the_form_of_a_list_names_its_words() {
    assert_eq!(Class::form(), "minor or major");
    assert_eq!(Capacity::form(), "done, hold, witness or stage");
    assert_eq!(Disposition::form(), "use as is, rework, repair, scrap or return to supplier");
}

#[test]
fn signal_words_stand_heaviest_first() {
    assert!(SignalWord::ALL.is_sorted());
    assert_eq!(SignalWord::ALL[0].word(), "DANGER");
}

#[test]
fn names_are_written_as_the_builder_says_them() {
    let one_off = ItemName::new("RUD-10", None, "drill-j1");
    assert_eq!(one_off.to_string(), "RUD-10/drill-j1");
    assert_eq!(one_off.packet().to_string(), "RUD-10");
    let left = ItemName::new("WNG-210", Some(Hand::Left), "open-holes");
    assert_eq!(left.to_string(), "WNG-210/open-holes (left)");
    assert_eq!(left.packet(), PacketName::new("WNG-210", Some(Hand::Left)));
    assert_eq!(left.packet().to_string(), "WNG-210 left");
}

#[test]
fn names_stand_by_traveler_then_hand_then_step() {
    let names = [("A", None, "z"), ("A", Some(Hand::Left), "b"), ("A", Some(Hand::Right), "a"), ("B", None, "a")];
    let names = names.map(|(traveler, hand, step)| ItemName::new(traveler, hand, step));
    assert!(names.is_sorted());
}
