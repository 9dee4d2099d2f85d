//! Digests and sheet codes: bytes pinned, every slip of the pen caught.

use proptest::prelude::*;
use shophead::ident::{Digest, PageCode, Requirement, SheetCode};

const ALPHABET: &str = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

fn code(seed: u64) -> String {
    let mut requirement = Requirement::new();
    requirement.number("seed", i64::try_from(seed).unwrap_or(i64::MAX));
    requirement.digest().code().to_string()
}

#[test]
fn the_bytes_of_a_requirement_are_pinned() {
    let mut requirement = Requirement::new();
    requirement.text("do", "drill").some_text("to", None).number("count", -2).group("joint", |out| {
        out.text("id", "J1");
    });
    let mut expected = b"shophead requirement 1\n".to_vec();
    expected.extend(b"\0\0\0\x02dot\0\0\0\x05drill");
    expected.extend(b"\0\0\0\x02to0");
    expected.extend(b"\0\0\0\x05countn\xff\xff\xff\xff\xff\xff\xff\xfe");
    expected.extend(b"\0\0\0\x05joint(\0\0\0\x02idt\0\0\0\x02J1\0\0\0\0)");
    assert_eq!(requirement.bytes(), expected);
    // Computed once with an independent SHA-256 of another program over the bytes above.
    assert_eq!(requirement.digest().hex(), "f1cd0068f666104a581e7eee6ceea981a7b62637da5f30b520e9e2f891ffbc7a");
}

#[test]
fn fields_cannot_run_into_each_other() {
    let digest = |fields: &[(&str, &str)]| {
        let mut requirement = Requirement::new();
        for (name, value) in fields {
            requirement.text(name, value);
        }
        requirement.digest()
    };
    assert_ne!(digest(&[("a", "bc")]), digest(&[("ab", "c")]));
    assert_ne!(digest(&[("a", "b"), ("c", "d")]), digest(&[("a", "bc"), ("", "d")]));
    assert_ne!(digest(&[("a", "")]), digest(&[]));
}

#[test]
fn hexadecimal_reads_back() {
    let digest = Digest::of_bytes(b"x");
    assert_eq!(Digest::parse_hex(&digest.hex()), Some(digest));
    assert_eq!(Digest::parse_hex(&digest.hex().to_uppercase()), None);
    assert_eq!(Digest::parse_hex("00"), None);
    assert_eq!(Digest::parse_hex(&"é".repeat(32)), None);
}

#[test]
fn a_code_prints_in_two_groups_and_reads_back_as_typed() {
    let printed = code(7);
    assert_eq!(printed.len(), 11);
    assert_eq!(printed.chars().nth(5), Some('-'));
    assert!(printed.chars().all(|c| c == '-' || ALPHABET.contains(c)), "{printed}");
    let parsed = SheetCode::parse(&printed).unwrap();
    let sloppy = printed.to_lowercase().replace('-', " ").replace('0', "o").replace('1', "l");
    assert_eq!(SheetCode::parse(&sloppy).unwrap(), parsed);
    assert_eq!(parsed.to_string(), printed);
}

#[test]
fn every_single_wrong_character_is_caught() {
    for seed in 0..40 {
        let good = code(seed).replace('-', "");
        for at in 0..good.len() {
            for wrong in ALPHABET.chars().filter(|c| !good[at..].starts_with(*c)) {
                let mut typed = good.clone();
                typed.replace_range(at..=at, &wrong.to_string());
                assert!(SheetCode::parse(&typed).is_err(), "{good} typed as {typed}");
            }
        }
    }
}

#[test]
fn every_swap_of_neighbours_is_caught() {
    let mut swapped = 0;
    for seed in 0..400 {
        let good: Vec<char> = code(seed).replace('-', "").chars().collect();
        for at in 0..good.len() - 1 {
            if good[at] == good[at + 1] {
                continue;
            }
            let mut typed = good.clone();
            typed.swap(at, at + 1);
            assert!(SheetCode::parse(&typed.iter().collect::<String>()).is_err(), "{good:?} typed as {typed:?}");
            swapped += 1;
        }
    }
    assert!(swapped > 3_000);
}

#[test]
fn wrong_codes_say_what_is_wrong() {
    let said = |text: &str| SheetCode::parse(text).unwrap_err().to_string();
    assert_eq!(said("K7"), "a sheet code has 10 characters, this has 2");
    assert_eq!(said("UUUUU-UUUUU"), "no sheet code has the character `U`");
    assert_eq!(said("\u{7}UUUU-UUUUU"), "no sheet code has the character `\\u{7}`");
    let code = |text: &[u8]| Digest::of_bytes(text).code();
    let (left, right) = (code(b"left"), code(b"right"));
    assert_eq!(
        said(&format!("{left}+{right}")),
        format!("these are the sheets of both hands: give {left} for the left one or {right} for the right one")
    );
    assert!(said("00000-00001").starts_with("the check character does not fit"));
}

proptest! {
    #[test]
    fn any_text_is_a_code_or_a_fault(text in "\\PC{0,24}") {
        if let Ok(code) = SheetCode::parse(&text) {
            prop_assert_eq!(SheetCode::parse(&code.to_string()), Ok(code));
        }
    }
}

#[test]
fn the_code_of_a_page_reads_back_with_its_part_and_its_print() {
    let sheet = Digest::of_bytes(b"sheet").code();
    let print = Some(Digest::of_bytes(b"print").code());
    for (part, print) in [(None, None), (None, print), (Some("040-070"), None), (Some("040"), print)] {
        for other in [None, Some(Digest::of_bytes(b"other").code())] {
            let code = PageCode { sheet, other, part: part.map(str::to_owned), page: 12, print };
            assert_eq!(PageCode::parse(&code.to_string()), Some(code.clone()), "{code}");
        }
    }
    let whole = PageCode { sheet, other: None, part: None, page: 1, print }.to_string();
    // One character wrong in either code is seen; a code is never cut short to one of another form.
    for at in (0..10).chain(whole.len() - 10..whole.len()).filter(|at| whole.as_bytes()[*at] != b'-') {
        let mut wrong = whole.clone().into_bytes();
        wrong[at] = if wrong[at] == b'7' { b'8' } else { b'7' };
        let wrong = String::from_utf8(wrong).unwrap();
        assert!(PageCode::parse(&wrong).is_none_or(|code| code.print.is_none()), "{whole} read as {wrong}");
    }
    for text in [
        "",
        "/",
        "5",
        "K7QM3/5",
        &format!("{sheet}/0"),
        &format!("{sheet}/x"),
        &format!("{sheet}/1/2/3/4"),
        &format!("{sheet}+/1"),
        &format!("{sheet}+{sheet}+{sheet}/1"),
    ] {
        assert_eq!(PageCode::parse(text), None, "{text}");
    }
}
