//! Examples with numbers from published documents; each names its source.

use shophead::hardware::{
    BendVerdict, BlindQuestion, Head, LengthFit, count_rivets, judge_length, propose_bend, propose_blind, propose_bolt,
    propose_rivet, propose_torque, rivet_of_diameter, rivet_pitch, rivets_for_width, set_wrench, thread,
};
use shophead::units::{Length, Torque, TorqueRange};

use super::{bolt, length, lengths, nut, rivet};

/// AC 43.13-1B, par. 4-58g: 40 rivets of 1/8 in two rows over 10 in stand at .50 in, which is 4 D.
#[test]
fn forty_rivets_in_two_rows_over_ten_inches_are_at_the_least_pitch() {
    let pitch = length("10").fraction(1, 40 / 2);
    assert_eq!(pitch, length("0.50"));
    assert_eq!(rivet_pitch(2).at(length("1/8")).value, pitch);
}

/// AC 43.13-1B, Figure 4-20: .6 x 6.2 = 3.72, four rivets, 60 per cent of them three; 2.0 x 6.2 = 12.4, 13 rivets, 60 per cent eight.
#[test]
fn the_count_is_rounded_up_before_and_after_the_per_cent() {
    let counted = |width: &str| (rivets_for_width(62, length(width), 100), rivets_for_width(62, length(width), 60));
    assert_eq!(counted("0.6"), (4, 3));
    assert_eq!(counted("2.0"), (13, 8));
    // The same through the tables: .032 sheet and 1/8 rivets in Table 4-9 are the 6.2.
    let counts =
        count_rivets(&rivet("MS20470AD4"), &[length("0.032")], length("2.0"), Some("2024-T3 bare"), &crate::INCH)
            .unwrap();
    let row = &counts[0];
    assert_eq!((row.table, row.tenths_per_inch, row.full, row.frames), ("4-9", 62, 13, 8));
    assert_eq!(counts.len(), 1, "Table 4-10 lists 2024-T3 only where it is clad");
}

/// AC 43.13-1B, Tables 4-9, 4-10 and 4-11: .032 sheet, 1/8 rivets, 10 in.
#[test]
fn clad_sheet_takes_the_table_of_the_circulars_own_example() {
    let count =
        |material| count_rivets(&rivet("MS20470AD4"), &lengths("0.040,0.032"), length("10"), material, &crate::INCH);
    let found: Vec<_> = count(Some("clad 2024-T3"))
        .unwrap()
        .iter()
        .map(|row| (row.table, row.full, row.single_lap, row.stringers))
        .collect();
    assert_eq!(found, [("4-10", 49, 37, 40)]);
    let found: Vec<_> = count(Some("5052-H34")).unwrap().iter().map(|row| (row.table, row.full)).collect();
    assert_eq!(found, [("4-11", 47)]);
    assert_eq!(count(None).unwrap().len(), 3);
    assert!(
        count(Some("6061-T6")).unwrap_err().0.contains("have no count for 1/8 in rivets in 6061-T6 sheet 0.032 in")
    );
    let flush = rivet_of_diameter(length("1/8"), Head::Flush100, &crate::INCH).unwrap();
    assert!(count_rivets(&flush, &lengths("0.032"), length("10"), None, &crate::INCH).is_err());
}

/// Stack + 1.5 D to the nearest half size; half sizes exist (AC 43.13-1B, par. 4-57a), the rule is that of
/// NAVEDTRA 14018, chapter 13.
#[test]
fn the_best_length_is_the_half_size_nearest_to_the_stack_and_one_and_a_half_diameters() {
    let stacks = ["0.050", "0.064", "0.072", "0.104", "0.126", "0.188"];
    let expected = [
        ("MS20470AD3", ["3", "3.5", "3.5", "4", "4.5", "5.5"]),
        ("MS20470AD4", ["4", "4", "4", "4.5", "5", "6"]),
        ("MS20470AD5", ["4.5", "5", "5", "5.5", "6", "7"]),
        ("MS20470AD6", ["5.5", "5.5", "5.5", "6", "6.5", "7.5"]),
    ];
    for (family, dashes) in expected {
        for (stack, dash) in stacks.iter().zip(dashes) {
            let found = propose_rivet(&rivet(family), &[length(stack)], 1).unwrap();
            let best = found.fitting[0].call.usual.clone();
            assert_eq!(best, format!("{family}-{dash}"), "stack {stack}");
        }
    }
    let through_072 = propose_rivet(&rivet("MS20470AD4"), &lengths("0.032,0.040"), 1).unwrap();
    let calls: Vec<_> = through_072.fitting.iter().map(|rivet| rivet.call.usual.as_str()).collect();
    assert_eq!(calls, ["MS20470AD4-4", "MS20470AD4-4.5", "MS20470AD4-5"], "the nearest and the next sizes up suit");
    assert_eq!(through_072.wanted.value, length("0.2595"));
}

#[test]
fn a_length_is_judged_from_too_short_to_too_long() {
    // 1/8 through .072: free shank .053, .1155, .178 (1.42 D), .2405 (1.92 D), .2718 (2.17 D), .303 (2.42 D).
    let expected = [
        ("2", LengthFit::TooShort),
        ("3", LengthFit::Short),
        ("4", LengthFit::Fits),
        ("5", LengthFit::Fits),
        ("5.5", LengthFit::Long),
        ("6", LengthFit::TooLong),
    ];
    for (dash, fit) in expected {
        let call = format!("MS20470AD4-{dash}");
        assert_eq!(judge_length(&rivet(&call), length("0.072"), length("0.1285")), Some(fit), "{call}");
    }
    assert_eq!(judge_length(&rivet("MS20470AD4"), length("0.072"), length("0.1285")), None);
}

fn in_lb(low: i64, high: i64) -> TorqueRange {
    TorqueRange { low: Torque::from_inch_pounds(low), high: Torque::from_inch_pounds(high) }
}

fn whole(torque: Torque) -> i64 {
    (torque.micro() + 500_000) / 1_000_000
}

/// TM 1-1500-204-23-9, Figure 8-16: 300 in-lb, wrench 10 in, adapter 4 in: 214. A helicopter manual with the same
/// formula: 135 in-lb, wrench 10 in, adapter 1.5 in shorter: 159, longer: 117.
#[test]
fn an_adapter_changes_what_is_set_on_the_wrench() {
    let set = |torque, adapter: Length, angle| {
        whole(set_wrench(in_lb(torque, torque), length("10"), adapter, angle, &crate::INCH).unwrap().range.low)
    };
    assert_eq!(set(300, length("4"), 0), 214);
    assert_eq!(set(135, Length::ZERO - length("1.5"), 0), 159);
    assert_eq!(set(135, length("1.5"), 180_000), 159, "turned round it shortens the wrench");
    assert_eq!(set(135, length("1.5"), 0), 117);
    assert_eq!(set(300, length("4"), 90_000), 300, "across the handle it changes nothing");
    let reach = |angle| set_wrench(in_lb(1, 1), length("10"), length("4"), angle, &crate::INCH).unwrap().reach;
    assert_eq!(
        (reach(0), reach(60_000), reach(90_000), reach(180_000)),
        (length("4"), length("2"), Length::ZERO, Length::ZERO - length("4"))
    );
    for (wrench, adapter, angle) in [("4", "4", 180_000), ("0", "4", 0), ("10", "4", 180_001), ("10", "4", -1)] {
        assert!(
            set_wrench(in_lb(1, 1), length(wrench), length(adapter), angle, &crate::INCH).is_err(),
            "{wrench} {adapter} {angle}"
        );
    }
}

/// AC 43.13-1B, Table 7-1; least drag of a used nut: Table 7-2 and TM 55-1520-240-23-1, p. 1-14.
#[test]
fn torque_comes_from_the_nuts_column_with_the_drag_added() {
    let ask =
        |name, call, drag| propose_torque(thread(name).unwrap(), &nut(call), Torque::from_inch_pounds(drag)).unwrap();
    assert_eq!(ask("10-32", "AN365", 0).range, in_lb(20, 25));
    assert_eq!(ask("10-32", "AN365", 5).range, in_lb(25, 30));
    assert_eq!(ask("1/4-28", "AN320-4", 0).range, in_lb(30, 40));
    assert_eq!(ask("7/16-20", "AN310-7", 0).range, in_lb(450, 500));
    let found = ask("10-32", "AN365-1032", 16);
    // Par. 7-40f: not more than the maximum torque plus the friction drag.
    assert_eq!(found.most, Some(Torque::from_inch_pounds(40 + 16)));
    assert!(found.has_drag && !ask("10-32", "AN310-3", 0).has_drag, "a castle nut runs down freely");
    assert_eq!(found.reuse.unwrap().value, Torque::from_inch_pounds(2));
    assert_eq!(ask("10-32", "AN310-3", 0).reuse, None, "a castle nut has no drag to lose");
    let fault = propose_torque(thread("1/4-28").unwrap(), &nut("AN310-3"), Torque::default()).unwrap_err();
    assert_eq!(fault.0, "AN310-3 has thread 10-32, the bolt 1/4-28; they do not go together");
}

/// AC 43.13-1B, Table 4-6 and the set-back factors of par. 4-56b: 1 at 90, .41421 at 45, 2.4142 at 135 degrees.
#[test]
fn bends_follow_the_table_and_the_set_back_factors() {
    let least = |alloy, thickness: &str| {
        propose_bend(alloy, length(thickness), None, 90_000, &crate::INCH).unwrap().minimum.value.least
    };
    assert_eq!(least("2024-T3", "0.032"), length("0.064"));
    assert_eq!(least("7075-T6", "0.032"), length("0.096"));
    assert_eq!(least("2024-0", "0.032"), Length::ZERO);
    // Radius and thickness make exactly an inch, so that the set-back is the factor.
    let setback = |angle| {
        propose_bend("2024-T3", length("0.032"), Some(length("0.968")), angle, &crate::INCH).unwrap().asked.unwrap().1
    };
    let near = |angle, factor: &str| {
        assert!(
            setback(angle).distance(length(factor)) <= Length::from_nm(130),
            "{angle}: {}",
            crate::INCH.length(setback(angle))
        );
    };
    assert_eq!(setback(90_000), length("1"));
    near(45_000, "0.41421");
    near(135_000, "2.41421");
    assert_eq!(setback(0), Length::ZERO);
    let verdict = |radius: &str| {
        propose_bend("2024-T3", length("0.050"), Some(length(radius)), 90_000, &crate::INCH).unwrap().asked.unwrap().2
    };
    // .050 lies between the columns .032 (2 t) and .064 (3 t).
    assert_eq!((verdict("0.0979"), verdict("0.098")), (BendVerdict::TooTight, BendVerdict::Doubtful));
    assert_eq!((verdict("0.1479"), verdict("0.148")), (BendVerdict::Doubtful, BendVerdict::Passes));
    assert!(propose_bend("2024-T3", length("0.032"), Some(length("0.1")), 180_000, &crate::INCH).is_err());
    assert!(propose_bend("2024-T3", length("0.3"), None, 90_000, &crate::INCH).is_err());
    assert!(propose_bend("balsa", length("0.032"), None, 90_000, &crate::INCH).is_err());
}

/// TM 10-5410-221-14/1, Table 4-3.
#[test]
fn the_blind_rivet_is_the_one_whose_grip_holds_the_stack() {
    let ask = |stack: &str| {
        propose_blind(BlindQuestion::Commercial(length("1/8"), Head::Protruding), &[length(stack)], &crate::INCH)
    };
    let code = |stack| ask(stack).unwrap().rivet.code.unwrap();
    assert_eq!(
        (code("0.165"), code("0.062"), code("0.063"), code("0.500")),
        ("43".into(), "41".into(), "42".into(), "48".into())
    );
    assert!(ask("0.510").unwrap_err().0.contains("0.376 to 0.500 in"));
    assert!(ask("0.010").is_err());
    let none =
        propose_blind(BlindQuestion::Commercial(length("7/32"), Head::Protruding), &[length("0.1")], &crate::INCH)
            .unwrap_err();
    assert!(none.0.contains("they come in 3/32 in, 1/8 in, 5/32 in, 3/16 in, 1/4 in"), "{none}");
}

/// The AN3 to AN6 grip and length table: AN3-6 has .375 grip, AN4-6 .313 and AN4-7 .438.
#[test]
fn the_bolts_grip_is_nearest_to_the_stack() {
    let dash = |size: &str, stack: &str, nut_washers: &str| {
        propose_bolt(&bolt(size), &lengths(stack), Length::ZERO, length(nut_washers), &crate::INCH)
            .map(|found| found.bolt.call.usual)
    };
    assert_eq!(dash("AN3", "0.250,0.125", "0.063"), Ok("AN3-6".into()));
    assert_eq!(dash("AN3A", "0.250,0.125", "0"), Ok("AN3-6A".into()));
    assert_eq!(dash("AN4", "0.250,0.125", "0.063"), Ok("AN4-7".into()));
    assert!(dash("AN4", "0.250,0.125", "0").is_err(), ".438 runs out of thread, .313 leaves thread in the hole");
    assert_eq!(dash("AN3", "1.0", "0.063"), Ok("AN3-13".into()), "no dash ends in 8 or 9");
    assert_eq!(dash("NAS6203", "0.375", "0.063"), Ok("NAS6203-6".into()));
    assert!(dash("AN9", "0.375", "0.063").unwrap_err().0.contains("no grip is listed for AN9"));
}

#[test]
fn a_stack_without_thickness_has_no_proposal() {
    for layers in [vec![], vec![Length::ZERO], lengths("0.032,0")] {
        assert!(propose_rivet(&rivet("MS20470AD4"), &layers, 1).is_err());
        assert!(propose_bolt(&bolt("AN3"), &layers, Length::ZERO, Length::ZERO, &crate::INCH).is_err());
        assert!(
            propose_blind(BlindQuestion::Commercial(length("1/8"), Head::Protruding), &layers, &crate::INCH).is_err()
        );
    }
    assert!(rivet_of_diameter(length("0.2"), Head::Protruding, &crate::INCH).is_err());
}
