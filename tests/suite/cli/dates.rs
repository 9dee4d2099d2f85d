//! Days of work that lie ahead: refused in evenings and on the command line.

use shophead::archive::Archive;

use super::letters::{shop, today};

#[test]
fn work_that_is_dated_after_today_is_refused_wherever_it_is_typed() {
    let shop = shop();
    let archive = Archive::at(shop.path("archive"));
    let today = today(&archive).in_record();
    let ahead = "2099-01-02";
    for entry in [
        format!("[[discrepancy]]\nwhat = \"long\"\non = {ahead}"),
        format!("[[visit]]\nby = \"T1\"\non = {ahead}\nspaces = [\"bay\"]"),
        format!(
            "[[discrepancy]]\nwhat = \"long\"\n[[close]]\ndiscrepancy = \"D-001\"\ndisposition = \"rework\"\nauthority = \"plans\"\non = {ahead}"
        ),
    ] {
        shop.write("evening.toml", format!("by = \"B1\"\n{entry}\n"));
        let ran = shop.run(&["archive", "enter", "evening.toml", "--entered", &today]);
        assert_eq!(ran.code, 1, "{entry}: {}{}", ran.out, ran.err);
        assert!(ran.err.contains("this is dated 2099-01-02, which is after today"), "{}", ran.err);
    }
    shop.write("evening.toml", "by = \"B1\"\n[[discrepancy]]\nwhat = \"long\"\n");
    assert_eq!(shop.run(&["archive", "enter", "evening.toml", "--entered", &today]).code, 0);
    shop.write(
        "evening.toml",
        format!("by = \"B1\"\n[[correct]]\nentry = 3\nfield = \"found\"\nnow = \"{ahead}\"\nbecause = \"a slip\"\n"),
    );
    let ran = shop.run(&["archive", "enter", "evening.toml", "--entered", &today]);
    assert!(ran.code == 1 && ran.err.contains("`found` would be 2099-01-02, which is after today"), "{}", ran.err);
    shop.write("rivets.jpg", b"a photo");
    let ran = shop.run(&["archive", "add", "rivets.jpg", "--taken", ahead]);
    assert!(ran.code == 2 && ran.err.contains("--taken is 2099-01-02, which is after today"), "{}", ran.err);
    assert_eq!(archive.read().unwrap().records.len(), 3, "begun, issued, one discrepancy");
}
