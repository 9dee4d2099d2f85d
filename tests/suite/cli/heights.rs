//! Steps that have no room on a page, by the templates that print them.

use std::time::Duration;

use crate::build::shop::{Shop, TRAVELER, root};

/// A step of thirty lines, which has room.
fn shop() -> Shop {
    let shop = Shop::small();
    let look = format!(
        "\n[[step]]\nid = \"look\"\ntitle = \"Look\"\ndo = \"inspect\"\njoints = [\"J1\"]\ntext = \"{}\"\n",
        "- Look.\\n".repeat(42)
    );
    shop.write("specs/bracket.toml", TRAVELER.to_owned() + &look);
    shop
}

fn own_base(shop: &Shop, from: &str, to: &str) {
    let base = std::fs::read_to_string(root().join("templates/base.typ")).unwrap();
    assert_eq!(base.matches(from).count(), 1);
    shop.write("templates/base.typ", base.replace(from, to));
}

#[test]
fn own_templates_say_how_tall_a_step_is() {
    let shop = shop();
    let built_in = shop.run(&["check"]);
    assert!(!built_in.out.contains("step-too-tall"), "{}", built_in.out);
    own_base(&shop, "#let body-size = 11 * pt", "#let body-size = 14 * pt");
    for ran in [shop.run(&["check"]), shop.run_apart(&["check"], Duration::from_mins(1))] {
        assert_eq!(ran.code, 1, "{ran:?}");
        assert!(ran.out.contains("error[step-too-tall]: step look is "), "{}", ran.out);
    }
    let printed = shop.run(&["packet"]);
    assert!(printed.code == 1 && printed.err.contains("is taller than a page"), "{printed:?}");
}

#[test]
fn own_templates_that_cannot_be_laid_out_are_told_and_the_check_goes_on() {
    let shop = shop();
    own_base(&shop, "#let body-size = 11 * pt", "#let body-size = 11 * no-such-name");
    let ran = shop.run(&["check"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    assert!(ran.err.contains("whether every step has room on a page is not known: "), "{ran:?}");
    own_base(&shop, "#let body-size = 11 * pt", "#let body-size = { while true { }; 11pt }");
    let ran = shop.run_apart(&["check"], Duration::from_secs(5));
    assert_eq!(ran.code, 0, "{ran:?}");
    assert!(ran.err.contains("whether every step has room on a page is not known: "), "{ran:?}");
}
