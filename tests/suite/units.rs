//! Sizes: exactness, every written form, round trips, and the drills against an open program's tables.

use std::io::Write;
use std::process::{Command, Stdio};

use proptest::prelude::*;
use shophead::units::{
    Decimal, DrillName, Length, Minutes, Ratio, Size, Style, Temperature, Torque, TorqueRange, Unit, drills,
};

fn inch(text: &str) -> Length {
    Size::parse(text, Unit::Inch).unwrap_or_else(|fault| panic!("{fault}")).length
}

/// Lengths in inches from the `units` program, one for each question; nothing where the program is not installed.
///
/// # Panics
/// When the program is missing although `CI` is `true`, or when it does not understand a question.
pub fn ask_units(questions: &[String]) -> Option<Vec<Length>> {
    let started = Command::new("units")
        .args(["--quiet", "--terse", "--digits", "10"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn();
    let Ok(mut program) = started else {
        assert!(std::env::var("CI").as_deref() != Ok("true"), "the `units` program is needed for the cross-check");
        let _ = std::io::stderr().write_all(b"skipped: the `units` program is not installed\n");
        return None;
    };
    let lines: Vec<&str> = questions.iter().flat_map(|question| [question.as_str(), "in"]).collect();
    program.stdin.take().unwrap().write_all((lines.join("\n") + "\n").as_bytes()).unwrap();
    let output = String::from_utf8(program.wait_with_output().unwrap().stdout).unwrap();
    let answers: Vec<Length> = output.lines().filter(|line| !line.trim().is_empty()).map(from_decimal).collect();
    assert_eq!(answers.len(), questions.len(), "{output}");
    Some(answers)
}

/// The program prints up to ten digits; nine decimals are kept.
fn from_decimal(text: &str) -> Length {
    let (whole, part) = text.trim().split_once('.').unwrap_or((text.trim(), ""));
    let part: String = part.chars().take(9).collect();
    inch(&format!("{whole}.{part}0"))
}

/// The drill gauge of the `units` program: every number drill and every letter drill within .0006 in.
#[test]
fn drills_agree_with_an_open_program() {
    let question = |drill: DrillName| match drill {
        DrillName::Number(n) => format!("drillgauge({n})"),
        other => format!("drill{other}"),
    };
    let questions: Vec<String> = drills().map(question).collect();
    let Some(answers) = ask_units(&questions) else { return };
    for (drill, answer) in drills().zip(answers) {
        let far = drill.length().distance(answer);
        assert!(
            far <= Length::from_ten_thousandths(6),
            "{drill}: {} against {}",
            crate::INCH.length(drill.length()),
            crate::INCH.length(answer)
        );
    }
}

/// ASME B1.1 number screws by the same program: .060 + .013 x number.
#[test]
fn screw_diameters_agree_with_an_open_program() {
    let questions: Vec<String> = [4, 6, 8, 10].iter().map(|n| format!("screwgauge({n})")).collect();
    let Some(answers) = ask_units(&questions) else { return };
    for (n, answer) in [4, 6, 8, 10].into_iter().zip(answers) {
        assert!(answer.distance(Length::from_mils(60 + 13 * n)) <= Length::from_ten_thousandths(1), "#{n}");
    }
}

#[test]
fn every_form_of_a_size_is_read_exactly() {
    for (text, nm) in [
        ("0.063", 1_600_200),
        (".25", 6_350_000),
        ("1/4", 6_350_000),
        ("1-1/2", 38_100_000),
        ("1 1/2", 38_100_000),
        ("#30", 3_263_900),
        ("No. 30", 3_263_900),
        ("F", 6_527_800),
        ("3.2 mm", 3_200_000),
        ("3.2mm", 3_200_000),
        ("0.25 in", 6_350_000),
        ("0.25\"", 6_350_000),
        ("1/64", 396_875),
        ("0.0001", 2_540),
        ("0.001 mm", 1_000),
        ("0", 0),
        ("12", 304_800_000),
    ] {
        assert_eq!(inch(text).nm(), nm, "{text}");
    }
    assert_eq!(Size::parse("3.2", Unit::Mm).unwrap().length.nm(), 3_200_000);
    assert_eq!(Size::parse("1/4 in", Unit::Mm).unwrap().length.nm(), 6_350_000);
}

#[test]
fn text_that_is_no_size_is_refused_in_one_sentence() {
    for text in [
        "",
        " ",
        ".",
        "-1",
        "1/0",
        "abc",
        "#0",
        "#81",
        "1.2.3",
        "1/2/3",
        "f",
        "1e3",
        "0x10",
        "1000000",
        "٣",
        "1-",
        "-",
        "1//2",
        "#",
        "#999999999999",
        "NaN",
        "5 ft",
    ] {
        let fault = Size::parse(text, Unit::Inch).expect_err(text).to_string();
        assert!(!fault.is_empty() && !fault.contains('\n') && !fault.ends_with('.'), "{text}: {fault}");
    }
}

#[test]
fn sizes_print_drill_decimal_and_millimetres_together() {
    let both = Style::of(Unit::Inch).with_both();
    let full = |text: &str| both.size(Size::parse(text, Unit::Inch).unwrap());
    assert_eq!(full("#30"), "#30 (0.1285 in, 3.26 mm)");
    assert_eq!(full("F"), "F (0.257 in, 6.53 mm)");
    assert_eq!(full("1/4"), "1/4 (0.250 in, 6.35 mm)");
    assert_eq!(full("0.0335"), "0.0335 in (0.85 mm)");
    let short = |text: &str| both.name(Size::parse(text, Unit::Inch).unwrap());
    assert_eq!(
        (short("0.1285"), short("0.25"), short("0.0335")),
        ("#30".to_owned(), "1/4 in".to_owned(), "0.0335 in".to_owned())
    );
    assert_eq!(inch("0.126").inch_exact(), "0.126");
    assert_eq!(inch("1/64").inch_exact(), "0.015625");
    assert_eq!(inch("3.2 mm").mm_exact(), "3.2");
}

#[test]
fn drills_keep_their_order_and_their_names() {
    let numbers: Vec<Length> = (1..=80).map(|n| DrillName::Number(n).length()).collect();
    assert!(numbers.windows(2).all(|pair| pair[0] > pair[1]), "number drills shrink");
    let letters: Vec<Length> = ('A'..='Z').map(|c| DrillName::Letter(c).length()).collect();
    assert!(letters.windows(2).all(|pair| pair[0] < pair[1]), "letter drills grow");
    for drill in drills() {
        assert_eq!(DrillName::parse(&drill.to_string()), Some(drill));
        assert_eq!(Size::parse(&drill.to_string(), Unit::Inch).unwrap().length, drill.length());
    }
    assert_eq!(DrillName::of(inch("1/4")), Some(DrillName::Fraction(16)), "E is printed as 1/4");
    assert_eq!(DrillName::of(inch("0.1285")), Some(DrillName::Number(30)));
}

#[test]
fn torques_temperatures_and_durations_are_whole_numbers() {
    assert_eq!(Torque::parse("23 in-lb").unwrap(), Torque::from_inch_pounds(23));
    assert_eq!(Torque::parse("5 ft-lb").unwrap(), Torque::from_inch_pounds(60));
    // 1 in-lb = 0.112984829 N m.
    let newton_metres = Torque::parse("1.12984829 N m").unwrap();
    assert!((newton_metres.micro() - 10_000_000).abs() < 100, "{newton_metres:?}");
    let range = TorqueRange::parse("20-25 in-lb").unwrap();
    assert_eq!((range.low, range.high), (Torque::from_inch_pounds(20), Torque::from_inch_pounds(25)));
    assert!(TorqueRange::parse("25-20 in-lb").is_err());
    assert!(Torque::parse("23").is_err() && Torque::parse("23 lb").is_err());
    // Not the range from one to a half, nor one and a half.
    for fraction in ["1-1/2 ft-lb", "40-50/2 in-lb", "1/2 ft-lb"] {
        assert!(TorqueRange::parse(fraction).unwrap_err().to_string().contains("as a decimal"), "{fraction}");
    }
    assert_eq!(Temperature::parse("250 F").unwrap(), Temperature::from_fahrenheit(250));
    assert_eq!(Temperature::parse("100 C").unwrap(), Temperature::from_fahrenheit(212));
    assert_eq!(Temperature::parse("-40 C").unwrap(), Temperature::parse("-40 F").unwrap());
    assert!(Temperature::parse("250").is_err());
    for (text, minutes) in [("24 h", 1_440), ("3 d", 4_320), ("40 min", 40), ("1.5 h", 90)] {
        assert_eq!(Minutes::parse(text).unwrap(), Minutes(minutes), "{text}");
    }
    assert!(Minutes::parse("1.7 min").is_err() && Minutes::parse("24").is_err());
}

#[test]
fn what_is_printed_and_typed_back_stays_inside() {
    for (low, high) in [(20, 25), (12, 15), (50, 70), (160, 190), (480, 690), (7, 8)] {
        let range = TorqueRange { low: Torque::from_inch_pounds(low), high: Torque::from_inch_pounds(high) };
        let text = Style::of(Unit::Inch).with_both().torques(range);
        let typed = TorqueRange::parse(text.split_once('(').unwrap().1.trim_end_matches(')')).unwrap();
        assert!(range.low <= typed.low && typed.high <= range.high, "{text}");
    }
    for nm in [4_800_600, 4_800_000, 1, 999_999, 25_400_000] {
        let least = Length::from_nm(nm);
        let text = Style::of(Unit::Inch).with_both().at_least(least);
        let (inch_text, mm_text) = text.trim_end_matches(')').split_once(" (").unwrap();
        for typed in [inch_text, mm_text] {
            assert!(Length::parse(typed, Unit::Inch).unwrap() >= least, "{nm}: {typed}");
        }
    }
}

#[test]
fn computed_limits_are_shown_to_the_place_that_can_be_measured_inward_and_never_past_what_reaches_them() {
    let (style, mm) = (Style::of(Unit::Inch), Style::of(Unit::Mm));
    let width = inch("1/8").times(Ratio(1_300));
    assert_eq!((style.at_least(width), style.at_most(width)), ("0.163 in".to_owned(), "0.162 in".to_owned()));
    assert_eq!((mm.at_least(width), mm.at_most(width)), ("4.13 mm".to_owned(), "4.12 mm".to_owned()));
    assert_eq!(
        (style.at_least(inch("0.050")), style.aim(inch("0.0469"))),
        ("0.050 in".to_owned(), "0.047 in".to_owned())
    );
    // 2 D of a 5/32 rivet is .3125: an edge of 5/16 reaches it, and nobody is told that it does not.
    let edge = inch("0.3125");
    let shown = |reached_by: Option<Length>| style.first(style.least_shown(edge, reached_by));
    assert_eq!(shown(None), "0.313 in");
    assert_eq!(shown(Some(inch("0.350"))), "0.313 in");
    assert_eq!(shown(Some(edge)), "0.3125 in");
    assert_eq!(shown(Some(inch("0.300"))), "0.313 in");
    // Published and typed sizes keep their digits.
    assert_eq!(style.range(inch("0.1285"), inch("0.132")), "0.1285 to 0.132 in");
}

#[test]
fn ratios_are_thousandths() {
    assert_eq!(Ratio::parse("1.5 D").unwrap(), Ratio(1_500));
    assert_eq!(Ratio::parse("2D").unwrap(), Ratio(2_000));
    assert_eq!(Ratio(1_500).to_string(), "1.5");
    assert_eq!(inch("1/8").times(Ratio(1_500)), inch("0.1875"));
    assert_eq!(inch("0.25").ratio_to(inch("0.125")), Some(Ratio(2_000)));
    assert_eq!(inch("1").ratio_to(Length::ZERO), None);
    assert!(Ratio::parse("D").is_err() && Ratio::parse("1.23456").is_err());
}

#[test]
fn slack_lets_a_value_on_the_limit_pass() {
    let slack = Length::from_ten_thousandths(5);
    assert!(inch("0.2495").reaches(inch("0.250"), slack));
    assert!(!inch("0.2494").reaches(inch("0.250"), slack));
}

#[test]
fn a_decimal_keeps_the_places_that_were_written_and_counts_by_its_value() {
    let decimal = |text: &str| Decimal::parse(text).unwrap();
    for text in ["0.5000", "0.5", "5", "-0.10", "24.0", "0.001", "0"] {
        assert_eq!(decimal(text).to_string(), text);
    }
    assert_eq!((decimal(".50").to_string(), decimal("+1.0").to_string()), ("0.50".to_owned(), "1.0".to_owned()));
    assert_eq!(decimal("0.5000"), decimal("0.5"));
    assert_eq!(decimal("0.5000").plain().to_string(), "0.5");
    assert!(decimal("0.4999") < decimal("0.5") && decimal("-0.10") < decimal("0"));
    assert_eq!(decimal("1/4").to_string(), "0.25");
    assert!(Decimal::parse("0.1234567").is_err() && Decimal::parse("half").is_err());
    assert_eq!(decimal("0.50000000").to_string(), "0.500000", "the millionth is the last place");
}

proptest! {
    #[test]
    fn ten_thousandths_sixty_fourths_and_microns_print_and_read_back(n in 0_i64..2_000_000) {
        let decimal = Length::from_ten_thousandths(n);
        prop_assert_eq!(inch(&decimal.inch_text()), decimal);
        prop_assert_eq!(inch(&decimal.inch_exact()), decimal);
        let micron = Length::from_microns(n);
        prop_assert_eq!(inch(&format!("{} mm", micron.mm_exact())), micron);
        let sixty_fourths = Length::from_64ths(n % 6_400 + 1);
        prop_assert_eq!(inch(&sixty_fourths.fraction_text().unwrap()), sixty_fourths);
        let size = Size::plain(decimal);
        prop_assert_eq!(inch(&Style::of(Unit::Inch).name(size)), size.length);
    }

    #[test]
    fn any_text_is_a_size_or_refused_without_a_panic(text in "\\PC{0,40}") {
        let _ = Size::parse(&text, Unit::Inch);
        let _ = Length::parse(&text, Unit::Mm);
        let _ = Ratio::parse(&text);
        let _ = Torque::parse(&text);
        let _ = TorqueRange::parse(&text);
        let _ = Temperature::parse(&text);
        let _ = Minutes::parse(&text);
    }

    #[test]
    fn number_like_text_never_panics(text in "[-#0-9./ A-Zmin\"]{0,24}") {
        let _ = Size::parse(&text, Unit::Inch);
        let _ = TorqueRange::parse(&format!("{text} in-lb"));
        let _ = Ratio::parse(&text);
        let _ = Minutes::parse(&format!("{text} h"));
        let _ = Temperature::parse(&format!("{text} F"));
    }

    #[test]
    fn a_length_over_another_times_it_is_the_length_again(a in 1_i64..100_000, b in 1_i64..100_000) {
        let (a, b) = (Length::from_mils(a), Length::from_mils(b));
        let back = b.times(a.ratio_to(b).unwrap());
        prop_assert!(back.distance(a).nm() <= b.nm() / 2_000 + 1);
    }
}
