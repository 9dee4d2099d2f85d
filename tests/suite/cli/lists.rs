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

const PACKING: &str = "Part No,Description,Alloy,Thk,Qty\nK-11,Rib web,2024-T3,0.032,2\nK-12,Hinge block,nylon,,1\n";

fn packing(text: &str) -> Shop {
    let shop = Shop::small();
    shop.write("kit.csv", text);
    shop
}

#[test]
fn a_packing_list_becomes_the_parts_of_the_build_once() {
    let shop = packing(PACKING);
    let before = project(&shop);
    let shown = shop.run(&["new", "parts", "kit.csv"]);
    assert!(shown.code == 0 && shown.err.contains("nothing was written"), "{}", shown.err);
    assert_eq!(project(&shop), before);
    let agreed = shop.run_answered(&["new", "parts", "{}/kit.csv"], "yes\n");
    assert!(agreed.code == 0 && agreed.err.contains("Add 2 entries"), "{}", agreed.err);
    let after = project(&shop);
    let rib = "[[part]]\nid = \"K-11\"\nname = \"Rib web\"\nmaterial = \"2024-T3\"\nthickness = \"0.032\"\n";
    let block = "[[part]]\nid = \"K-12\"\nname = \"Hinge block\"\nmaterial = \"nylon\"\n";
    assert!(after.ends_with(&format!("{rib}\n{block}")), "{after}");
    let again = shop.run(&["new", "parts", "kit.csv", "--write"]);
    assert_eq!((again.code, again.out.as_str()), (1, "nothing to add\n"));
    assert!(again.err.contains("kit.csv:2: left out: K-11 is in build.toml already"), "{}", again.err);
    assert_eq!(project(&shop), after);
    // The same list says how many lie there.
    let stock = shop.run(&["new", "stock", "kit.csv", "--write"]);
    assert!(stock.code == 0 && project(&shop).ends_with("item = \"K-12\"\non-hand = 1\n"), "{}", stock.err);
}

#[test]
fn a_part_that_is_known_otherwise_or_cannot_be_read_is_named_and_left_out() {
    let rows = [
        "P1,Rib web,6061-T6,0.032",
        "K-1,Skin,2024-T3,0.040",
        "K-2,Rib,2024-T3,0.032",
        "K-3,Rib,2024-T3,\"0,032\"",
        "K-4,Rib,2024-T3,thin",
        "AN3-5A,Bolt,,",
        "K-5,,2024-T3,0.032",
        "K-6,Rib,2024-T3,0.032",
    ];
    let shop = packing(&format!("id,name,material,thickness\n{}\n", rows.join("\n")));
    let known =
        "\n[[part]]\nid = \"K-1\"\nname = \"Skin\"\nthickness = \"0.032\"\n\n[[part]]\nid = \"K-2\"\nname = \"Web\"\n";
    shop.write("build.toml", project(&shop) + known);
    let traveler = std::fs::read_to_string(shop.path("specs/bracket.toml")).unwrap();
    let id = traveler.split("[[part]]").nth(1).and_then(|part| part.split('"').nth(1)).unwrap();
    shop.edit("kit.csv", "P1,Rib web,6061-T6", &format!("{id},Something else,6061-T6"));
    let ran = shop.run(&["new", "parts", "kit.csv", "--write"]);
    assert_eq!(ran.code, 1);
    for said in [
        &format!("kit.csv:2: left out: {id}: the list says 0.032 in, but traveler B-1 0.063 in"),
        "kit.csv:3: left out: K-1: the list says 0.040 in, but build.toml 0.032 in",
        "kit.csv:4: left out: K-2: the list says \u{201c}Rib\u{201d}, but build.toml \u{201c}Web\u{201d}",
        "kit.csv:5: left out: `thickness`: `0,032`",
        "kit.csv:6: left out: `thickness`: `thin` is not a size",
        "kit.csv:7: left out: AN3-5A is hardware",
        "kit.csv:8: left out: no name is given",
    ] {
        assert!(ran.err.contains(said), "{said} is not in\n{}", ran.err);
    }
    assert_eq!(project(&shop).matches("[[part]]").count(), 3);
}

#[test]
fn a_column_of_a_packing_list_is_asked_for() {
    let shop = packing("Nummer;Name;Blech\nK-11;Rib web;0.032\n");
    let silent = shop.run(&["new", "parts", "kit.csv"]);
    assert!(silent.code == 2 && silent.err.contains("--column id=HEADING"), "{}", silent.err);
    let asked = shop.run_answered(&["new", "parts", "{}/kit.csv", "--column", "thickness=Blech"], "1\nyes\n");
    assert_eq!(asked.code, 0, "{}", asked.err);
    assert!(project(&shop).ends_with("id = \"K-11\"\nname = \"Rib web\"\nthickness = \"0.032\"\n"));
}
