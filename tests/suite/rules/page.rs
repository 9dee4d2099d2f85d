//! The generated page of the rules.

use shophead::rules::{HEADINGS, RULES, rules_page};

#[test]
fn the_rules_page_is_fresh() {
    let path = crate::build::shop::root().join("specs/RULES.md");
    if std::env::var_os("SHOPHEAD_BLESS").is_some() {
        std::fs::write(&path, rules_page()).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(kept, rules_page(), "run the tests with SHOPHEAD_BLESS=1 and read the change");
}

#[test]
fn the_page_holds_every_rule_whole() {
    let page = rules_page();
    for rule in RULES {
        assert!(page.contains(&format!("\n## {}\n", rule.name)), "{} has no section", rule.name);
        assert!(
            page.contains(&format!("| [`{0}`](#{0}) | {1} |", rule.name, rule.severity.word())),
            "{} is not in the table",
            rule.name
        );
    }
    for heading in HEADINGS {
        assert_eq!(page.matches(&format!("\n### {heading}\n")).count(), RULES.len(), "{heading}");
    }
}
