//! An order to print and its answer go over as bytes and lose nothing.

use shophead::plan::{Document, Thumbnail, Thumbnails};
use shophead::render::{Picture, Pictures, Templates, carry_out, order, print, read_answer};

use super::pictures::png;
use crate::build::bracket::bracket_document;

/// A library of one's own that shows a picture and a thumbnail on every page.
fn own_templates() -> (tempfile::TempDir, Templates) {
    let folder = tempfile::tempdir().unwrap();
    let text = "#import \"base.typ\": own-mark\n#set page(width: 200mm, height: 200mm, footer: own-mark)\n#repr({{ head }})\n\
                #image({{ \"a.png\" | picture }}, width: 9mm)\n";
    std::fs::write(folder.path().join("packet.typ.j2"), text).unwrap();
    let mut templates = Templates::load(Some(folder.path())).unwrap();
    templates.set_mark("OWN".to_owned());
    templates.show_pictures(Pictures::from([("a.png".to_owned(), Picture::of(png(30, 20)).unwrap())]));
    (folder, templates)
}

fn document() -> Document {
    let grey = vec![200; 12];
    let thumbnails = Thumbnails::from([("photo-1".to_owned(), Thumbnail { width: 4, height: 3, grey })]);
    Document { thumbnails, ..bracket_document() }
}

#[test]
fn what_is_printed_apart_is_what_is_printed_here() {
    let (_folder, templates) = own_templates();
    let here = print(&document(), &templates).unwrap();
    let answer = carry_out(&order(&document(), &templates).unwrap()).unwrap();
    assert_eq!(read_answer(&answer), Some(Ok(here)));
    let embedded = Templates::load(None).unwrap();
    let answer = carry_out(&order(&bracket_document(), &embedded).unwrap()).unwrap();
    let printed = read_answer(&answer).unwrap().unwrap();
    assert!(!printed.boxes.is_empty() && !printed.items.is_empty());
    assert_eq!(printed, print(&bracket_document(), &embedded).unwrap());
}

#[test]
fn a_failure_comes_back_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("packet.typ.j2"), "\n#let x = 1 + \"a\"\n").unwrap();
    let templates = Templates::load(Some(folder.path())).unwrap();
    let here = print(&bracket_document(), &templates).unwrap_err();
    let answer = carry_out(&order(&bracket_document(), &templates).unwrap()).unwrap();
    assert_eq!(here.place.as_ref().map(|place| place.line), Some(2));
    assert_eq!(read_answer(&answer), Some(Err(here)));
}

#[test]
fn half_an_order_and_half_an_answer_are_none() {
    let (_folder, templates) = own_templates();
    let whole = order(&document(), &templates).unwrap();
    for length in [0, 7, 8, 100, whole.len() - 1] {
        assert!(carry_out(&whole[..length]).is_err(), "{length}");
    }
    let answer = carry_out(&whole).unwrap();
    assert!([0, 7, 20].iter().all(|length| read_answer(&answer[..*length]).is_none()));
}
