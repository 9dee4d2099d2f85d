//! Lists of cells that become entries of the project file: shown first, written where that is agreed to.

use crate::build::shop::Shop;

const SHELF: &str = "Part No.;Where;Qty\nMS20470AD4-5;bin 3;340\nAN365-428A;bin 9;12\n";

fn shelf(text: &str) -> Shop {
    let shop = Shop::small();
    shop.write("shelf.csv", text);
    shop
}

fn project(shop: &Shop) -> String {
    std::fs::read_to_string(shop.path("build.toml")).unwrap()
}

#[test]
fn a_shelf_list_is_shown_and_written_only_where_that_is_agreed_to() {
    let shop = shelf(SHELF);
    let before = project(&shop);
    let ran = shop.run(&["new", "stock", "shelf.csv"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("[[stock]]\nitem = \"AN365-428A\"\non-hand = 12\n"), "{}", ran.out);
    assert!(ran.err.contains("nothing was written"), "{}", ran.err);
    assert_eq!(project(&shop), before);
    let refused = shop.run_answered(&["new", "stock", "{}/shelf.csv"], "no\n");
    assert!(refused.err.contains("Add 2 entries"), "{}", refused.err);
    assert_eq!(project(&shop), before);
    let agreed = shop.run_answered(&["new", "stock", "{}/shelf.csv"], "yes\n");
    assert_eq!(agreed.code, 0, "{}", agreed.err);
    let after = project(&shop);
    assert!(after.starts_with(before.trim_end()) && after.ends_with("on-hand = 12\n"), "{after}");
    let pick = shop.run(&["pick", "--format", "json"]);
    assert!(pick.out.contains("\"on-hand\": 340"), "{}", pick.out);
    // What is there already is left alone.
    let again = shop.run(&["new", "stock", "shelf.csv", "--write"]);
    assert_eq!((again.code, again.out.as_str()), (1, "nothing to add\n"));
    assert!(again.err.contains("shelf.csv:2: left out: MS20470AD4-5 is in build.toml already, with 340 on hand"));
    assert_eq!(project(&shop), after);
}

#[test]
fn odd_rows_are_named_by_line_and_left_out() {
    let shop = shelf(
        "\u{feff}item,on hand\nMS20470AD4-5,340\nMS20470AD4-6,about 20\n,5\nGizmo 7,2\n\n\"AN365-\n428A\",1\nMS20470AD4-5,1\n",
    );
    let ran = shop.run(&["new", "stock", "shelf.csv", "--write"]);
    assert_eq!(ran.code, 1);
    for said in [
        "shelf.csv:3: left out: on-hand `about 20` is no whole number",
        "shelf.csv:4: left out: no item is given",
        "shelf.csv:5: left out: Gizmo 7 is no part",
        "shelf.csv:7: left out: item holds a line break",
        "shelf.csv:9: left out: MS20470AD4-5 stands in line 2 already",
    ] {
        assert!(ran.err.contains(said), "{said} is not in\n{}", ran.err);
    }
    assert_eq!(project(&shop).matches("[[stock]]").count(), 1);
}

#[test]
fn a_column_that_no_heading_tells_is_named_or_asked_for() {
    let shop = shelf("Bezeichnung\tStueck\nMS20470AD4-5\t340\n");
    let silent = shop.run(&["new", "stock", "shelf.csv"]);
    assert_eq!(silent.code, 2);
    assert!(silent.err.contains("--column item=HEADING: Bezeichnung, Stueck"), "{}", silent.err);
    let told = shop.run(&["new", "stock", "shelf.csv", "--column", "item=bezeichnung", "--column", "on-hand=Stueck"]);
    assert!(told.code == 0 && told.out.contains("on-hand = 340"), "{}{}", told.out, told.err);
    let asked = shop.run_answered(&["new", "stock", "{}/shelf.csv"], "1\nStueck\nyes\n");
    assert_eq!(asked.code, 0, "{}", asked.err);
    assert!(project(&shop).ends_with("item = \"MS20470AD4-5\"\non-hand = 340\n"));
    for (wrong, said) in [
        ("item=Name", "no column is called `Name`"),
        ("price=Stueck", "there is no key `price`; a stock has item, on-hand"),
        ("item", "write KEY=HEADING"),
    ] {
        let ran = shop.run(&["new", "stock", "shelf.csv", "--column", wrong]);
        assert!(ran.code == 2 && ran.err.contains(said), "{}", ran.err);
    }
}

#[test]
fn what_is_no_list_is_refused() {
    for (text, said) in [("", "the first line is empty"), ("\n\nitem\n", "the first line is empty")] {
        let ran = shelf(text).run(&["new", "stock", "shelf.csv", "--write"]);
        assert!(ran.code == 2 && ran.err.contains(said), "{}", ran.err);
    }
    // A build.toml that writes its stock as one list cannot take entries behind it.
    let shop = shelf(SHELF);
    shop.edit("build.toml", "[aircraft]", "stock = []\n[aircraft]");
    let before = project(&shop);
    let ran = shop.run(&["new", "stock", "shelf.csv", "--write"]);
    assert!(ran.code == 2 && ran.err.contains("nothing was written"), "{}{}", ran.out, ran.err);
    assert_eq!(project(&shop), before);
}
