//! Pictures from the project's folder: read from there and from nowhere else, and told of at their place.

use crate::build::shop::Shop;
use crate::render::pictures::{jpeg, png};

const SVG: &str =
    "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"40\" height=\"20\"><path d=\"M2 2h36v16h-36z\"/></svg>";

/// A shop whose last step shows a picture.
fn showing(path: &str) -> Shop {
    let shop = Shop::small();
    shop.edit(
        "specs/bracket.toml",
        "Drive {{ joint.J1.call }}.",
        &format!("Drive {{{{ joint.J1.call }}}} as ![shown]({path})."),
    );
    shop
}

/// What `check` says of a picture, with its place.
fn said(shop: &Shop) -> String {
    let ran = shop.run(&["check"]);
    assert_eq!(ran.code, 1, "{}\n{}", ran.out, ran.err);
    assert!(ran.out.contains("error[value-invalid]") && ran.out.contains("1 error,"), "{}", ran.out);
    // The place is the picture, not the text: line 47 begins with `text = "Drive `.
    assert!(ran.out.contains("specs/bracket.toml:47:38"), "{}", ran.out);
    ran.out
}

#[test]
fn each_kind_is_found_in_the_folder_and_printed() {
    for (path, bytes) in [("a.png", png(30, 20)), ("jigs/b.jpg", jpeg()), ("c.svg", SVG.into())] {
        let shop = showing(path);
        shop.write(&format!("pictures/{path}"), &bytes);
        let ran = shop.run(&["packet"]);
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{path}: {}", ran.out);
    }
}

#[test]
fn the_project_names_the_folder() {
    let shop = showing("c.svg");
    shop.write("sketches/c.svg", SVG);
    assert!(said(&shop).contains("there is no picture `c.svg`"));
    shop.write("build.toml", "[aircraft]\nname = \"Dunlin two-seat\"\n[project]\npictures = \"sketches\"\n");
    let ran = shop.run(&["check"]);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
}

#[test]
fn no_path_leaves_the_folder() {
    for path in [
        "../build.svg",
        "a/../../build.svg",
        "/etc/hostname",
        "https://example.org/a.png",
        "file:a.png",
        "a\\\\..\\\\b.svg",
        "./c.svg",
    ] {
        let shop = showing(path);
        shop.write("build.svg", SVG);
        shop.write("pictures/c.svg", SVG);
        let ran = shop.run(&["check"]);
        assert!(
            ran.code == 1 && ran.out.contains("is not named by a path below the folder of pictures"),
            "{path}: {}",
            ran.out
        );
    }
}

#[cfg(unix)]
#[test]
fn no_link_leads_out_of_the_folder() {
    let shop = showing("c.svg");
    shop.write("elsewhere/c.svg", SVG);
    shop.write("pictures/real.svg", SVG);
    std::os::unix::fs::symlink(shop.path("elsewhere/c.svg"), shop.path("pictures/c.svg")).unwrap();
    assert!(said(&shop).contains("is a link that leads out of the folder of pictures"));
    std::fs::remove_file(shop.path("pictures/c.svg")).unwrap();
    std::os::unix::fs::symlink(shop.path("elsewhere"), shop.path("pictures/c.svg")).unwrap();
    assert!(said(&shop).contains("is a link that leads out of the folder of pictures"));
    std::fs::remove_file(shop.path("pictures/c.svg")).unwrap();
    std::os::unix::fs::symlink(shop.path("pictures/real.svg"), shop.path("pictures/c.svg")).unwrap();
    assert_eq!(shop.run(&["check"]).code, 0, "a link inside the folder is fine");
}

#[test]
fn what_cannot_be_shown_is_told_at_its_place_and_a_draft_describes_it() {
    let shop = showing("c.svg");
    assert!(said(&shop).contains("there is no picture `c.svg`"));
    std::fs::create_dir_all(shop.path("pictures/c.svg")).unwrap();
    assert!(said(&shop).contains("the picture `c.svg` cannot be read: it is a folder, not a file"));
    std::fs::remove_dir(shop.path("pictures/c.svg")).unwrap();
    shop.write("pictures/c.svg", "GIF89a");
    assert!(said(&shop).contains("the picture `c.svg` is no PNG, JPEG or SVG"));
    shop.write("pictures/c.svg", "<svg xmlns=\"http://www.w3.org/2000/svg\"");
    assert!(said(&shop).contains("the picture `c.svg` cannot be printed: "));
    let ran = shop.run(&["packet", "--draft"]);
    assert!(ran.code == 0 && shop.path("output/B-1-draft.pdf").exists(), "{}\n{}", ran.out, ran.err);
    shop.write("pictures/c.svg", vec![b' '; (8 << 20) + 1]);
    assert!(said(&shop).contains("has 8388609 bytes; the most is 8388608"));
    let mut large = png(4, 4);
    large[16..24].copy_from_slice(&[0, 0, 0x0F, 0xA1, 0, 0, 0x0F, 0xA0]);
    shop.write("pictures/c.svg", large);
    assert!(said(&shop).contains("has 4001 x 4000 pixels; the most is 16000000 in all"));
}

#[test]
fn another_drawing_under_the_same_name_is_told_of_as_a_change() {
    let shop = showing("c.svg");
    shop.write("pictures/c.svg", SVG);
    let issued = shop.run(&["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]);
    assert_eq!(issued.code, 0, "{}{}", issued.out, issued.err);
    let unchanged = shop.run(&["change"]);
    assert!(unchanged.out.contains("as it was issued"), "{}{}", unchanged.out, unchanged.err);
    shop.write("pictures/c.svg", SVG.replace("M2 2h36", "M3 2h36"));
    let changed = shop.run(&["change"]);
    assert!(changed.out.contains("030 rivet") && changed.out.contains("is replaced by"), "{}", changed.out);
}
