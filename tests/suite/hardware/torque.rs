//! Torque tables and the wrench with an adapter.

use shophead::hardware::{NutDuty, prevailing_torque, thread, threads, torque_for, torque_threads, wrench_setting};
use shophead::units::Torque;

use super::inch;

const fn pounds(n: i64) -> Torque {
    Torque::from_inch_pounds(n)
}

/// AC 43.13-1B Table 7-1: thread, tension low-high, shear low-high, most in tension, most in shear.
#[test]
fn torques_are_those_of_table_7_1() {
    let table = [
        ("8-36", 12, 15, 7, 9, 20, 12),
        ("10-32", 20, 25, 12, 15, 40, 25),
        ("1/4-28", 50, 70, 30, 40, 100, 60),
        ("5/16-24", 100, 140, 60, 85, 225, 140),
        ("3/8-24", 160, 190, 95, 110, 390, 240),
        ("7/16-20", 450, 500, 270, 300, 840, 500),
        ("1/2-20", 480, 690, 290, 410, 1100, 660),
        ("9/16-18", 800, 1000, 480, 600, 1600, 960),
        ("5/8-18", 1100, 1300, 600, 780, 2400, 1400),
        ("3/4-16", 2300, 2500, 1300, 1500, 5000, 3000),
        ("7/8-14", 2500, 3000, 1500, 1800, 7000, 4200),
        ("1-14", 3700, 5500, 2200, 3300, 10_000, 6000),
        ("1-1/8-12", 5000, 7000, 3000, 4200, 15_000, 9000),
        ("1-1/4-12", 9000, 11_000, 5400, 6600, 25_000, 15_000),
        ("8-32", 12, 15, 7, 9, 20, 12),
        ("10-24", 20, 25, 12, 15, 35, 21),
        ("1/4-20", 40, 50, 25, 30, 75, 45),
        ("5/16-18", 80, 90, 48, 55, 160, 100),
        ("3/8-16", 160, 185, 95, 100, 275, 170),
        ("7/16-14", 235, 255, 140, 155, 475, 280),
        ("1/2-13", 400, 480, 240, 290, 880, 520),
        ("9/16-12", 500, 700, 300, 420, 1100, 650),
        ("5/8-11", 700, 900, 420, 540, 1500, 900),
        ("3/4-10", 1150, 1600, 700, 950, 2500, 1500),
        ("7/8-9", 2200, 3000, 1300, 1800, 4600, 2700),
    ];
    assert_eq!(torque_threads().count(), table.len());
    for (name, low, high, shear_low, shear_high, most, shear_most) in table {
        let thread = thread(name).unwrap();
        let tension = torque_for(thread, NutDuty::Tension).unwrap();
        let shear = torque_for(thread, NutDuty::Shear).unwrap();
        assert_eq!(
            (tension.value.install.low, tension.value.install.high, tension.value.most),
            (pounds(low), pounds(high), pounds(most)),
            "{name}"
        );
        assert_eq!(
            (shear.value.install.low, shear.value.install.high, shear.value.most),
            (pounds(shear_low), pounds(shear_high), pounds(shear_most)),
            "{name}"
        );
        assert!(!tension.from_memory());
        assert_eq!(shear.value.estimated, matches!(name, "1-14" | "1-1/8-12" | "1-1/4-12"), "{name}");
    }
}

#[test]
fn every_torque_is_sound() {
    for name in torque_threads() {
        let thread = thread(name).unwrap();
        let (tension, shear) =
            (torque_for(thread, NutDuty::Tension).unwrap().value, torque_for(thread, NutDuty::Shear).unwrap().value);
        for torque in [&tension, &shear] {
            assert!(torque.install.low <= torque.install.high && torque.install.high < torque.most, "{name}");
        }
        assert!(shear.install.high < tension.install.high && shear.most < tension.most, "{name}");
    }
}

/// AC 43.13-1B Table 7-2, and TM 55-1520-240-23-1 p. 1-14 for the sizes below 7/16.
#[test]
fn prevailing_torques_are_those_of_table_7_2() {
    for (name, tenths) in [
        ("10-32", 20),
        ("1/4-28", 35),
        ("5/16-24", 65),
        ("3/8-24", 95),
        ("7/16-20", 80),
        ("1/2-20", 100),
        ("9/16-18", 130),
        ("5/8-18", 180),
        ("3/4-16", 270),
        ("7/8-14", 400),
        ("1-14", 550),
        ("1-1/8-12", 730),
        ("1-1/4-12", 940),
        ("7/16-14", 80),
        ("1/2-13", 100),
        ("9/16-12", 140),
        ("5/8-11", 200),
        ("3/4-10", 270),
        ("7/8-9", 400),
        ("1-8", 510),
        ("1-1/8-8", 680),
        ("1-1/4-8", 880),
    ] {
        let drag = prevailing_torque(thread(name).unwrap()).unwrap();
        assert_eq!(drag.value, Torque::from_micro(tenths * 100_000), "{name}");
        assert!(!drag.from_memory());
    }
    assert_eq!(threads().filter(|thread| prevailing_torque(thread).is_some()).count(), 22);
}

/// TM 1-1500-204-23-9 Figure 8-16: 300 x 10 / 14 = 214. A helicopter manual: 135 x 10 / 8.5 = 159, / 11.5 = 117.
#[test]
fn wrench_settings_are_the_worked_examples() {
    let set = |torque: i64, adapter: &str, shorter: bool| {
        let adapter = if shorter { inch("0") - inch(adapter) } else { inch(adapter) };
        wrench_setting(pounds(torque), inch("10"), adapter).map(|torque| (torque.micro() + 500_000) / 1_000_000)
    };
    assert_eq!(set(300, "4", false), Some(214));
    assert_eq!(set(135, "1.5", true), Some(159));
    assert_eq!(set(135, "1.5", false), Some(117));
    assert_eq!(set(135, "0", false), Some(135), "at a right angle nothing changes");
    assert_eq!(set(135, "10", true), None, "no lever left");
    assert_eq!(wrench_setting(pounds(20), inch("0"), inch("4")), None);
}
