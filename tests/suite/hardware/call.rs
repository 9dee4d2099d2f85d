//! Decoding: tolerance, faults with the nearest that exists, round trips over every row of the tables.

use proptest::prelude::*;
use shophead::hardware::{decode, every_call, find_source, known_standards};

use super::fastener;

#[test]
fn every_row_of_the_tables_decodes_to_itself() {
    let mut seen = 0;
    for call in every_call() {
        let found = fastener(&call);
        assert_eq!(found.usual_call(), call, "usual form");
        assert_eq!(found.call(), call, "as written");
        assert!(!found.describe(&crate::INCH).is_empty());
        seen += 1;
    }
    assert!(seen > 10_000, "only {seen} calls were built from the tables");
}

#[test]
fn every_standard_of_the_tables_has_a_call_or_decodes_alone() {
    let calls: Vec<String> = every_call().collect();
    for standard in known_standards() {
        let alone = decode(standard, &[]).is_ok();
        assert!(alone || calls.iter().any(|call| call.starts_with(standard)), "{standard} is never decoded");
    }
}

#[test]
fn numbers_are_read_as_people_write_them() {
    for (written, usual) in [
        ("MS20470 AD 4-6", "MS20470AD4-6"),
        ("ms20470ad4-6", "MS20470AD4-6"),
        ("MS20470AD-4-6", "MS20470AD4-6"),
        ("MS 20470 AD4 - 6", "MS20470AD4-6"),
        ("MS20470AD4–6", "MS20470AD4-6"),
        ("MS20470 AD 4 6", "MS20470AD4-6"),
        ("AN-470AD4-6", "AN470AD4-6"),
        ("an 3 - 10 a", "AN3-10A"),
        ("AN4H7A", "AN4H-7A"),
        ("ISO 15981 – 4 × 10 – AlA/AlA", "ISO15981-4X10-ALA/ALA"),
        ("IFI-114-43 grade 18 flush", "IFI114-43 FLUSH GRADE 18"),
        ("NAS1149 F0363P", "NAS1149F0363P"),
        ("MS20600AD4W2", "MS20600AD4-2"),
        ("MS20426AD3-3-5", "MS20426AD3-3.5"),
        ("MS20615-4M5", "MS20615-4M5"),
        ("MS20427M4-5", "MS20427M4-5"),
        ("NAS9301B-4-02", "NAS9301B-4-02"),
        ("AN960JD10L", "AN960JD10L"),
        ("MS21051-L08", "MS21051L08"),
        ("AN42B5A", "AN42B-5A"),
    ] {
        let found = fastener(written);
        assert_eq!(found.usual_call(), usual);
        assert_eq!(found.call(), written, "the call stays as written");
    }
}

/// AC 43.13-1B par. 4-57a and the AN drawings' part numbers: what does not exist, and the nearest that does.
#[test]
fn faults_name_the_wrong_part_and_the_nearest_that_exists() {
    for (written, wrong, nearest) in [
        ("MS20470AQ4-5", "alloy letter: AQ", "AD (2117-T4)"),
        ("MS20470M4-5", "alloy letter: M", "AD (2117-T4)"),
        ("MS20615-4AD5", "alloy letter: AD", "M (Monel)"),
        ("MS20470-4-5", "no alloy letter", "AD"),
        ("MS20470AD7-4", "diameter dash that does not exist: 7", "2 3 4 5 6 8 10 12"),
        ("MS20470AD-", "no diameter dash", "1/32"),
        ("MS20470AD4-5.3", "length dash that does not exist: -5.3", "half sizes"),
        ("MS20470AD4-0", "length dash that does not exist", "half sizes"),
        ("MS20470AD4X5", "length dash that does not exist", "half sizes"),
        ("MS20471AD4-5", "not in the tables: they have no MS20471", "if MS20470AD4-5 is meant"),
        ("MS20246AD3-3.5", "not in the tables", "if MS20426AD3-3.5 is meant"),
        // Another diameter, another kind: nothing near is named.
        ("AN38-14", "not in the tables", "[[fastener]]"),
        ("AN998-6", "not in the tables", "[[fastener]]"),
        ("NAS6225-10", "not in the tables", "[[fastener]]"),
        ("AN4-18A", "no dash ends in 8 or 9", "17 and 20"),
        ("AN3-8A", "no dash ends in 8 or 9", "7 and 10"),
        ("AN3-9", "no dash ends in 8 or 9", "7 and 10"),
        ("AN5-3A", "dash that does not exist: 3", "shortest AN5 is -4"),
        ("AN4Q-7", "unknown letters after the size: Q", "drilled head"),
        ("AN4-7B", "unknown ending: B", "shank not drilled"),
        ("AN365-1033", "unknown size: 1033", "1032"),
        ("AN310-11", "unknown size: 11", "1/16"),
        ("IFI114-47", "unknown code: 47", "46"),
        ("ISO15981-4X11", "length that the standard does not list", "10"),
        ("ISO15981-7X11", "diameter that the standard does not list", "Table 1"),
        ("MS24665-999", "dash that the tables do not list: 999", "132"),
        ("NAS1149F0363", "", ""),
        ("NAS1149Q0363P", "unknown material letter", "F0363P"),
        ("NAS1149F9963P", "unknown size", "F0363P"),
        ("AN960-417", "unknown size: 417", "416"),
        ("MS21047-9", "unknown size: 9", "10-32"),
        // An alloy or a size names no head: both are written out.
        ("AD5", "not in the tables", "write MS20470AD5 (universal head) or MS20426AD5 (flush)"),
        ("DD6-5", "not in the tables", "MS20470DD6-5 (universal head) or MS20426DD6-5"),
        ("5/32 rivet", "not in the tables", "a solid rivet of 5/32 in is MS20470AD5 (universal head) or MS20426AD5"),
        ("3.2x8", "not in the tables", "a solid rivet of 1/8 in is MS20470AD4"),
        ("4.0 mm blind", "not in the tables", "[[fastener]]"),
        ("AD9", "not in the tables", "[[fastener]]"),
        ("", "does not start with a standard", "MS20470AD4-5"),
    ] {
        let found = decode(written, &[]);
        if wrong.is_empty() {
            assert!(found.is_ok(), "{written}");
            continue;
        }
        let fault = found.expect_err(written);
        assert!(fault.message.contains(wrong), "{written}: {}", fault.message);
        let help = fault.help.unwrap_or_default();
        assert!(help.contains(nearest), "{written}: {help}");
        // What rests on no document cites none.
        assert_eq!(fault.source.is_none(), wrong.contains("not in the tables") || written.is_empty(), "{written}");
        assert!(fault.source.is_none_or(|key| find_source(key).is_some()), "{written}: source {:?}", fault.source);
        let names_another = help.contains("is meant");
        assert!(!names_another || nearest.contains("is meant"), "{written}: {help}");
        assert!(!fault.message.ends_with('.') && !fault.message.contains('\n'));
    }
}

/// Two hundred and more numbers as a builder meets them, from standards and public lists, each with its words.
const LIST: &str = include_str!("../../data/hardware-list.txt");

#[test]
fn nine_tenths_of_a_builders_list_decode() {
    let numbers: Vec<&str> =
        LIST.lines().map(|line| line.split('#').next().unwrap_or_default().trim()).filter(|n| !n.is_empty()).collect();
    assert!(numbers.len() > 250, "{}", numbers.len());
    let missed: Vec<String> =
        numbers.iter().filter_map(|number| decode(number, &[]).err()).map(|fault| fault.message).collect();
    let decoded = numbers.len() - missed.len();
    let said = format!("{decoded} of {} numbers decode; these do not: {}\n", numbers.len(), missed.join("; "));
    std::io::Write::write_all(&mut std::io::stderr(), said.as_bytes()).unwrap();
    assert!(decoded * 100 >= numbers.len() * 98, "{said}");
}

/// The number says the size by the rule of its series, whatever table it came from: AN23 is 10-32 and AN24 1/4 (as quoted),
/// from AN43, AN74, AN174, NAS1304, NAS6604 on the last digits are the diameter in 1/16 in, from memory.
#[test]
fn each_series_counts_its_size_by_its_own_rule() {
    let said = |call: &str| fastener(call).describe(&crate::INCH);
    for (calls, words) in [
        (
            &["AN23-11", "AN42-5A", "AN73-6", "AN173-12", "NAS1103-8", "NAS1303-8", "NAS6603-8", "NAS6703-8"][..],
            "10-32",
        ),
        (
            &["AN24-15", "AN43-10A", "AN74-6", "AN174-12A", "NAS1104-8", "NAS1304-20", "NAS6604-8", "NAS6304-8"],
            "1/4-28",
        ),
        (&["AN26-15", "AN46-10A", "AN76-6", "AN176-12A", "NAS1306-8", "NAS6606-8"], "3/8-24"),
        (&["AN21-8"], "6-40"),
        (&["AN22-8"], "8-36"),
        (&["AN29-20"], "9/16-18"),
        (&["AN30-20"], "5/8-18"),
        (&["AN32-24"], "3/4-16"),
        (&["AN34-24"], "7/8-14"),
        (&["AN36-24"], "1-14"),
        (&["AN74A6"], "1/4-20"),
    ] {
        for call in calls {
            assert!(said(call).contains(words), "{call}: {}", said(call));
        }
    }
    for (call, words) in [
        ("AN23-11", "clevis bolt, 10-32, shank drilled"),
        ("AN73-6", "drilled-head bolt, 10-32, shank not drilled, head drilled"),
        ("NAS1304-20", "close-tolerance bolt, 1/4-28, grip 1-1/4 in (from memory), shank not drilled"),
        ("AN7-10A", "bolt, 7/16-20, grip 7/16 in (from memory), 1-3/32 in long (from memory), shank not drilled"),
        ("MS24665-151", "cotter pin, stainless steel, 1/16 in x 1/2 in"),
        ("MS24665-208", "cotter pin, 5/64 in x 1/2 in"),
        ("AN381-3-3", "cotter pin, stainless steel, 3/32 in x 3/4 in"),
        ("MS20615-4M5", "universal head, Monel, 1/8 in dia, 5/16 in long"),
        ("MS20613-4C5", "universal head, stainless steel, 1/8 in dia, 5/16 in long"),
        ("AN816-6-4D", "straight adapter, flared tube to pipe thread, tube 3/8 in, pipe 1/2 in"),
        ("MS20667-4", "swaged fork end, cable 1/8 in"),
        ("MS21919WDG6", "cushioned loop clamp, tube 3/8 in"),
        ("MS20995C32", "safety wire, wire 0.032 in"),
        ("MS21053L08", "one-lug nutplate, countersunk, all-metal, 8-32"),
        ("AN366F1032", "two-lug plate nut, fibre insert, 10-32"),
        ("MS21043-4", "all-metal self-locking nut, reduced hexagon, stainless steel, 1/4-28"),
    ] {
        assert_eq!(said(call), words, "{call}");
    }
}

#[test]
fn the_nearest_standard_is_offered() {
    let fault = decode("MS20471AD4-5", &[]).expect_err("no such standard");
    assert!(fault.help.unwrap_or_default().contains("MS20470"), "one digit off");
}

#[test]
fn long_and_strange_text_gives_a_short_message() {
    for text in [
        "X".repeat(5_000),
        "MS20470".to_owned() + &"9".repeat(5_000),
        "MS20470AD4-".to_owned() + &"9".repeat(5_000),
        "é\u{0}\n#30".to_owned(),
    ] {
        let fault = decode(&text, &[]).expect_err("not a number");
        assert!(fault.message.chars().count() < 250, "{}", fault.message);
        assert!(!fault.message.contains('\n') && !fault.message.contains('\u{0}'));
    }
}

#[test]
fn superseded_numbers_name_their_successor() {
    for (old, new) in [
        ("AN470AD4-5", "MS20470AD4-5"),
        ("AN426AD3-3.5", "MS20426AD3-3.5"),
        ("AN470AD4", "MS20470AD4"),
        ("AN365-1032", "MS20365-1032"),
        ("AN364-428", "MS20364-428"),
        ("AN960-10L", "NAS1149F0332P"),
        ("AN960-416", "NAS1149F0463P"),
        ("AN960PD416L", "NAS1149D0432J"),
        ("AN380-4-4", "MS24665-353"),
        ("AN507-1032R8", "MS24693"),
    ] {
        assert_eq!(fastener(old).superseded_by().as_deref(), Some(new), "{old}");
        let again = fastener(new).superseded_by();
        assert_eq!(again, None, "{new} is current");
    }
    assert_eq!(fastener("MS20470AD4-5").superseded_by(), None);
    assert_eq!(fastener("AN3-5A").superseded_by(), None);
}

proptest! {
    #[test]
    fn any_text_is_decoded_or_refused_without_a_panic(text in "\\PC*") {
        let _ = decode(&text, &[]);
    }

    #[test]
    fn text_near_a_part_number_is_decoded_or_refused(
        standard in prop::sample::select(known_standards().collect::<Vec<_>>()),
        rest in "[-A-Z0-9. xX/]{0,12}",
    ) {
        let text = format!("{standard}{rest}");
        if let Ok(found) = decode(&text, &[]) {
            let usual = found.usual_call().to_owned();
            let again = decode(&usual, &[]).unwrap_or_else(|fault| panic!("{text} -> {usual}: {fault}"));
            prop_assert_eq!(again.usual_call(), usual.as_str());
            prop_assert_eq!(again.diameter(), found.diameter());
            prop_assert_eq!(again.describe(&crate::INCH), found.describe(&crate::INCH));
        }
    }
}
