//! Texts print as themselves: nothing that a builder writes runs, vanishes or is taken for markup.

use proptest::prelude::*;
use shophead::render::{TextFault, check_text, fonts};
use shophead::text::unprintable;

use super::{laid, packed, whole};
use crate::build::bracket::{bracket_document, one_step};

const NASTY: &[&str] = &[
    "#30 drill",
    "#import \"x\": *",
    "#panic(\"run\")",
    "]",
    "[[[",
    "\"unbalanced 'quotes`",
    "$x^2$ @ref <label> // comment /* more */ \\ backslash \\n \\u{41}",
    "*_~`#{}[]()<>=-+!|&%^;:'\"",
    "{% raw %} {{ nothing }} {# no #}",
    "Ευρωπαϊκό σχέδιο, Чертёж, žluťoučký, ≤ ≥ → ° ½ ⌀ ±",
    "---",
    "1. not a list",
];

#[test]
fn nasty_names_print_literally() {
    for nasty in NASTY {
        let pages = laid(&one_step(nasty, "Look.", &format!("part {nasty}")));
        let text = whole(&pages);
        assert!(text.contains(&packed(&format!("part {nasty}"))), "{nasty}\n{text}");
        assert!(text.matches(&packed(nasty)).count() >= 3, "{nasty} stands in the head, at the step and in the name");
    }
}

#[test]
fn a_long_unbroken_part_number_stays_inside_the_page() {
    let long = "MS20470AD4-5/".repeat(16);
    let pages = laid(&one_step("Look", "Look.", &long));
    assert!(whole(&pages).contains(&long));
    let (width, _) = pages.page_sizes()[0];
    for (page, x, text) in pages.text_ends() {
        assert!(x < width, "page {page}: `{text}` ends at {x:?}, the page at {width:?}");
    }
}

#[test]
fn markdown_is_understood_and_nothing_else_is() {
    let text = "# Head\n\nA *slanted* and **strong** word, `code #30`, <b>html</b>, [a link](file:x) and #panic(1).\n\n\
                - one\n- two\n  1. inner\n\n| a | b |\n|---|--:|\n| 1 | 2 |\n\n> quoted\n\n```\n#let x = 1\n```\n\n---\n\n![a view](x.png)";
    let text = whole(&laid(&one_step("Look", text, "Plate")));
    for expected in [
        "Head",
        "Aslantedandstrongword,code#30,<b>html</b>,alink(file:x)and#panic(1).",
        "one",
        "two",
        "inner",
        "quoted",
        "#letx=1",
        "[picture:aview]",
    ] {
        assert!(text.contains(expected), "{expected}\n{text}");
    }
    assert!(!text.contains("**"), "marks of emphasis are not printed");
}

#[test]
fn a_text_of_one_piece_of_any_kind_prints() {
    for (text, expected) in [
        ("<div>", "<div>"),
        ("<!-- look at it -->", "<!--lookatit-->"),
        ("<script>\nrun()\n</script>", "<script>run()</script>"),
        ("[a]: b", ""),
        ("> ", ""),
        ("- ", ""),
        ("#", ""),
        ("---", ""),
        ("```\n```", ""),
        ("| a |\n|---|", "a"),
        ("`code`", "code"),
        ("**strong**", "strong"),
        ("[](x)", ""),
        ("{{ traveler.title }}", "Look"),
        ("{% if false %}a{% endif %}", ""),
    ] {
        let text_of = |text: &str| whole(&laid(&one_step("Look", text, "Plate")));
        assert!(text_of(text).contains(expected), "{text}");
    }
}

#[test]
fn values_enter_a_text_as_themselves() {
    let title = "*#30* _`x`_ \"$ {{ 1 }}";
    let text =
        "Named {{ traveler.title }}, in code `{{ traveler.title }}`, twice {{ traveler.title ~ traveler.title }}.";
    let pages = whole(&laid(&one_step(title, text, "Plate")));
    let title = packed(title);
    assert!(pages.contains(&format!("Named{title},incode{title},twice{title}{title}.")), "{pages}");
}

#[test]
fn deep_nesting_prints_flat_instead_of_failing() {
    for deep in ["> ".repeat(400) + "deep", "- ".repeat(200) + "deep", "*".repeat(3_000) + "deep" + &"*".repeat(3_000)]
    {
        assert!(whole(&laid(&one_step("Look", &deep, "Plate"))).contains("deep"));
    }
}

#[test]
fn faults_of_a_text_have_their_place() {
    let values = bracket_document().values;
    let fault = |text: &str| check_text(text, &values).err().into_iter().collect::<Vec<_>>();
    assert_eq!(fault("Hole {{ joint.J1.hole.final }}, {{ joint[\"J-2\"].nut }}."), []);
    let text = "Ä {{ joint.J9.count }} holes";
    assert_eq!(
        fault(text),
        [TextFault { offset: 6, len: 14, message: "`joint.J9.count` is not a value of this traveler".into() }]
    );
    assert_eq!(&text[6..20], "joint.J9.count");
    let [broken] = fault("{{ joint.J1.call ").try_into().unwrap();
    assert!(broken.message.contains("unexpected end"), "{}", broken.message);
    assert_eq!(fault("a \u{e000} b")[0].message, "the character U+E000 is private and cannot be printed");
}

#[test]
fn the_glyph_table_equals_the_embedded_fonts() {
    let plain = fonts().iter().filter(|font| {
        let variant = font.info().variant;
        variant.weight.to_number() == 400 && format!("{:?}", variant.style) == "Normal"
    });
    let plain: Vec<_> = plain.collect();
    assert_eq!(plain.len(), 5, "B612, Noto Sans and the three symbol faces");
    for code in 0x20..0x2_0000_u32 {
        let Some(c) = char::from_u32(code).filter(|c| !c.is_control()) else { continue };
        let covered = plain.iter().any(|font| font.info().coverage.contains(code));
        let printable = unprintable(&c.to_string()).is_none();
        assert_eq!(covered, printable, "U+{code:04X}: fonts {covered}, table {printable}");
    }
    for font in fonts() {
        let family = font.info().family.as_str();
        let base = plain.iter().find(|plain| plain.info().family == family).unwrap();
        let same =
            (0x20..0x2_0000).all(|code| font.info().coverage.contains(code) == base.info().coverage.contains(code));
        assert!(same, "every face of {family} covers the same characters");
    }
}

#[test]
fn what_has_no_glyph_is_named_with_its_byte() {
    assert_eq!(unprintable("ok\n\t"), None);
    assert_eq!(unprintable("ä漢"), Some((2, '漢')));
    assert_eq!(unprintable("a\u{1}"), Some((1, '\u{1}')));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn any_printable_text_prints_in_a_name(text in "[ -~¡-žΑ-ωА-я°±→≤≥]{1,40}") {
        prop_assume!(!text.trim().is_empty() && unprintable(&text).is_none());
        let pages = whole(&laid(&one_step("Look", "Look.", &text)));
        prop_assert!(pages.contains(&packed(&text)), "{}\n{}", text, pages);
    }

    #[test]
    fn any_text_of_a_step_prints_or_is_a_fault(text in "[ -~\n]{0,60}") {
        let values = bracket_document().values;
        if check_text(&text, &values).is_ok() {
            laid(&one_step("Look", &text, "Plate"));
        }
    }
}
