//! `new traveler` asked line by line: the same file as the options write, a verdict a joint.

use crate::build::shop::Shop;

/// The answers of somebody who starts a bracket, a line each.
const BRACKET: &str = "\
B-1
BRK-20
Bracket of the pitot line


B1
Bracket
2024-T3
0.032
B2
Rib
2024-T3
0.040

B1+B2
MS20470AD4
four
4
0.35
0.75


";

#[test]
fn the_answers_write_the_file_that_the_options_write() {
    let asked = Shop::small();
    let ran = asked.run_answered(&["new", "traveler"], BRACKET);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("there is a traveler B-1 already"), "{}", ran.err);
    assert!(ran.err.contains("`four` is no number of fasteners"), "{}", ran.err);
    assert!(ran.out.contains("J1: nothing speaks against it"), "{}", ran.out);
    let told = Shop::small();
    let options = [
        "new",
        "traveler",
        "BRK-20",
        "--title",
        "Bracket of the pitot line",
        "--part",
        "B1:Bracket:2024-T3:0.032",
        "--part",
        "B2:Rib:2024-T3:0.040",
        "--joint",
        "J1:B1+B2:MS20470AD4:4:0.35:pitch=0.75",
    ];
    assert_eq!(told.run(&options).code, 0);
    let file = |shop: &Shop| std::fs::read_to_string(shop.path("specs/brk-20.toml")).unwrap();
    assert_eq!(file(&asked), file(&told));
}

#[test]
fn a_joint_that_is_wrong_is_said_at_once_and_given_again() {
    let shop = Shop::small();
    let wrong = "B1+B2\nMS20470AD4-12\n4\n0.35\n0.75\n\nB1+B2\nMS20470AD4\n4\n0.35\n0.75\n\n\n";
    let answers = BRACKET.replacen("B-1\n", "", 1).split("B1+B2\n").next().unwrap().to_owned() + wrong;
    let ran = shop.run_answered(&["new", "traveler"], answers.leak());
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    assert!(ran.out.contains("rivet-long") && ran.err.contains("Keep it all the same?"), "{}{}", ran.out, ran.err);
    let file = std::fs::read_to_string(shop.path("specs/brk-20.toml")).unwrap();
    assert!(file.matches("[[joint]]").count() == 1 && !file.contains("AD4-12"), "{file}");
}

#[test]
fn nothing_is_written_where_the_answers_end_or_nobody_is_there() {
    let shop = Shop::small();
    let ran = shop.run_answered(&["new", "traveler"], "BRK-20\nBracket\n");
    assert!(ran.code == 2 && ran.err.contains("there are no more answers"), "{}", ran.err);
    let piped = shop.run(&["new", "traveler"]);
    assert!(piped.code == 2 && piped.err.contains("give the traveler an id and a --title"), "{}", piped.err);
    assert!(!shop.path("specs/brk-20.toml").exists());
}
