//! Pictures in texts: each kind prints over its caption, inside the page and whole; what would not print is refused.

use serde_json::json;
use shophead::plan::Document;
use shophead::render::{Laid, MOST_PIXELS, Picture, PictureUse, Pictures, Templates, lay_out, pictures_of};

use super::packed;
use crate::build::bracket::one_step;

/// A grey picture as PNG, its data stored without compression.
pub fn png(width: u32, height: u32) -> Vec<u8> {
    let rows = (0..height).flat_map(|_| std::iter::once(0).chain(std::iter::repeat_n(0x80, width as usize)));
    let rows: Vec<u8> = rows.collect();
    let mut data = vec![0x78, 0x01];
    for (at, piece) in rows.chunks(0xFFFF).enumerate() {
        let last = u8::from((at + 1) * 0xFFFF >= rows.len());
        let length = u16::try_from(piece.len()).unwrap();
        data.push(last);
        data.extend(length.to_le_bytes());
        data.extend((!length).to_le_bytes());
        data.extend(piece);
    }
    let (mut low, mut high) = (1_u32, 0_u32);
    for byte in &rows {
        low = (low + u32::from(*byte)) % 65_521;
        high = (high + low) % 65_521;
    }
    data.extend(((high << 16) | low).to_be_bytes());
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    let mut head = [width.to_be_bytes(), height.to_be_bytes()].concat();
    head.extend([8, 0, 0, 0, 0]);
    for (kind, body) in [(b"IHDR", head), (b"IDAT", data), (b"IEND", Vec::new())] {
        file.extend(u32::try_from(body.len()).unwrap().to_be_bytes());
        let typed = [kind.as_slice(), &body].concat();
        file.extend(&typed);
        file.extend(crc(&typed).to_be_bytes());
    }
    file
}

fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32, byte: &u8| {
        (0..8).fold(crc ^ u32::from(*byte), |crc, _| if crc & 1 == 1 { (crc >> 1) ^ 0xEDB8_8320 } else { crc >> 1 })
    };
    !bytes.iter().fold(!0, step)
}

/// A grey JPEG of 8 by 8, written by hand after ITU-T T.81: one component, one block, one code in each table.
pub fn jpeg() -> Vec<u8> {
    let mut file = vec![0xFF, 0xD8, 0xFF, 0xDB, 0x00, 0x43, 0x00];
    file.extend([1; 64]);
    file.extend([0xFF, 0xC0, 0x00, 0x0B, 8, 0, 8, 0, 8, 1, 1, 0x11, 0]);
    for class in [0x00, 0x10] {
        file.extend([0xFF, 0xC4, 0x00, 0x14, class, 1]);
        file.extend([0; 15]);
        file.push(0);
    }
    file.extend([0xFF, 0xDA, 0x00, 0x08, 1, 1, 0x00, 0, 63, 0, 0x3F, 0xFF, 0xD9]);
    file
}

const SVG: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="200" height="100"><rect x="10" y="10" width="180" height="80" fill="none" stroke="black"/><text x="20" y="60" font-family="B612" font-size="20">FWD</text></svg>"#;

fn shown(document: &Document, pictures: Pictures) -> Laid {
    let mut templates = Templates::load(None).unwrap();
    templates.show_pictures(pictures);
    let laid = lay_out(document, &templates).unwrap_or_else(|failure| panic!("{failure}"));
    laid.print(document).unwrap_or_else(|failure| panic!("{failure}"));
    laid
}

fn with(path: &str, bytes: impl Into<Vec<u8>>) -> Pictures {
    Pictures::from([(path.to_owned(), Picture::of(bytes.into()).unwrap())])
}

#[test]
fn each_kind_prints_over_its_caption() {
    for (path, bytes) in [("a.png", png(40, 20)), ("deep/b.jpg", jpeg()), ("c d.svg", SVG.into())] {
        let text = format!("Before.\n\n![the *forward* mark](<{path}>)\n\nAfter.");
        let laid = shown(&one_step("Look", &text, "Plate"), with(path, bytes));
        let page: String = laid.page_texts().iter().map(|page| packed(page)).collect();
        assert!(page.contains("theforwardmarkAfter."), "{path}: {page}");
        assert!(!page.contains("[picture:"), "{path}");
        let bare = shown(&one_step("Look", &text, "Plate"), Pictures::new());
        let page: String = bare.page_texts().iter().map(|page| packed(page)).collect();
        assert!(page.contains("[picture:theforwardmark]"), "a picture that is not there is described");
    }
}

#[test]
fn a_picture_stands_in_lists_tables_and_between_words() {
    let text = "Look ![one](a.svg) and ![two](a.svg).\n\n- first ![three](a.svg)\n- second\n\n| part |\n|---|\n| ![four](a.svg) |\n\n> ![five](a.svg)";
    let laid = shown(&one_step("Look", text, "Plate"), with("a.svg", SVG));
    let page: String = laid.page_texts().iter().map(|page| packed(page)).collect();
    for caption in ["one", "two", "three", "four", "five"] {
        assert!(page.contains(caption), "{caption}: {page}");
    }
    assert_eq!(laid.picture_sizes().len(), 5);
}

#[test]
fn a_tall_picture_is_half_a_page_at_most_and_a_wide_one_fits_the_column() {
    for (width, height) in [(100, 3_000), (3_000, 100), (2_000, 2_000)] {
        let text = "![view](a.png)\n\n![again](a.png)";
        let laid = shown(&one_step("Look", text, "Plate"), with("a.png", png(width, height)));
        let places = laid.picture_sizes();
        assert_eq!(places.len(), 2);
        let (page_width, page_height) = laid.page_sizes()[0];
        for (drawn_width, drawn_height) in places {
            assert!(drawn_width.0 <= page_width.0 - 45_000, "{width} x {height}: {drawn_width:?} of {page_width:?}");
            assert!(
                drawn_height.0 <= (page_height.0 - 70_000) / 2,
                "{width} x {height}: {drawn_height:?} of {page_height:?}"
            );
            let square = (drawn_width.0 * i64::from(height) - drawn_height.0 * i64::from(width)).abs();
            assert!(
                square <= 2 * i64::from(width.max(height)),
                "{width} x {height} is drawn {drawn_width:?} x {drawn_height:?}"
            );
        }
    }
}

#[test]
fn a_picture_may_be_chosen_by_a_value() {
    let text = "![marks](marks-{{traveler.hand}}.svg) {{ part.P }}";
    let of = |hand: &str| pictures_of(text, &json!({ "traveler": { "hand": hand }, "part": { "P": "x" } }));
    assert_eq!(of("left"), [PictureUse { path: "marks-left.svg".into(), offset: 0, len: 37 }]);
    assert_eq!(&text[..37], "![marks](marks-{{traveler.hand}}.svg)");
    assert_eq!(of("right")[0].path, "marks-right.svg");
    assert_eq!(pictures_of(text, &json!({})), [], "what cannot be filled in shows nothing");
}

#[test]
fn what_would_not_print_is_refused_with_its_reason() {
    let fault = |bytes: &[u8]| Picture::of(bytes.to_vec()).unwrap_err();
    assert_eq!(fault(b"GIF89a......"), "is no PNG, JPEG or SVG");
    assert_eq!(fault(b"%PDF-1.7"), "is no PNG, JPEG or SVG");
    assert_eq!(fault(b""), "is no PNG, JPEG or SVG");
    assert_eq!(fault(b"<html><p>no</p></html>"), "is no PNG, JPEG or SVG");
    assert_eq!(fault(&png(4, 4)[..20]), "is a PNG that is cut off");
    assert_eq!(fault(&jpeg()[..40]), "is a JPEG that is cut off");
    let torn = fault(&png(40, 40)[..300]);
    assert!(torn.starts_with("cannot be printed: "), "{torn}");
    for length in 40..jpeg().len() {
        assert_eq!(fault(&jpeg()[..length]), "is a JPEG that is cut off", "{length} bytes");
    }
    let torn = fault(b"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9\" height=\"9\"><rect");
    assert!(torn.starts_with("cannot be printed: "), "{torn}");
    let mut large = png(4, 4);
    large[16..24].copy_from_slice(&[0, 0, 0x10, 0, 0, 0, 0x10, 0]);
    assert_eq!(fault(&large), format!("has 4096 x 4096 pixels; the most is {MOST_PIXELS} in all"));
    let nested = SVG.replace("<rect", "<image href=\"file:///etc/hostname\" width=\"9\" height=\"9\"/><rect");
    assert!(fault(nested.as_bytes()).starts_with("is an SVG that holds another picture"));
    let filtered = SVG.replace("<rect", "<filter id=\"f\"><feImage href=\"a.png\"/></filter><rect");
    assert!(fault(filtered.as_bytes()).starts_with("is an SVG with <filter> (line 1), which is not drawn"));
    let spoken = SVG.replace("<rect", "<!-- no <image> here --><rect");
    assert!(Picture::of(spoken.into_bytes()).is_ok(), "a comment is no picture");
    let entity = format!("<!DOCTYPE svg [<!ENTITY a \"aaaa\">]>{SVG}");
    assert!(fault(entity.as_bytes()).starts_with("is an SVG that defines entities"));
}

#[test]
fn the_same_picture_gives_the_same_bytes() {
    let document = one_step("Look", "![a](a.png) ![b](b.svg)", "Plate");
    let print = || {
        let mut templates = Templates::load(None).unwrap();
        let pictures = [("a.png", png(30, 30)), ("b.svg", SVG.into())];
        templates.show_pictures(
            pictures.into_iter().map(|(path, bytes)| (path.to_owned(), Picture::of(bytes).unwrap())).collect(),
        );
        shophead::render::print(&document, &templates).unwrap().pdf
    };
    assert_eq!(print(), print());
}

/// A drawing with something before its frame.
fn drawing_with(more: &str) -> Vec<u8> {
    SVG.replace("<rect", &format!("{more}<rect")).into_bytes()
}

#[test]
fn a_drawing_is_taken_by_what_it_contains() {
    for plain in [
        "<style>rect { stroke-width: 2; filter: none }</style>",
        "<defs><linearGradient id=\"g\"><stop offset=\"0\"/></linearGradient></defs><circle r=\"9\" fill=\"url(#g)\"/>",
        "<defs><marker id=\"m\"><path d=\"M0 0L9 4L0 9z\"/></marker></defs><path d=\"M9 9H90\" marker-end=\"url(#m)\"/>",
        "<defs><pattern id=\"p\" width=\"4\" height=\"4\"><path d=\"M0 0L4 4\"/></pattern></defs><circle r=\"9\" fill=\"url(#p)\"/>",
        "<defs><g id=\"u\"><circle r=\"3\"/></g></defs><use href=\"#u\" x=\"5\"/><use href=\"#u\" x=\"9\"/>",
        "<other:view xmlns:other=\"urn:other\"><other:filter/></other:view>",
        "<!-- <script> -->",
    ] {
        assert!(Picture::of(drawing_with(plain)).is_ok(), "{plain}: {:?}", Picture::of(drawing_with(plain)));
    }
    for (hostile, said) in [
        ("<script>alert(1)</script>", "is an SVG with <script> (line 1)"),
        ("<foreignObject/>", "is an SVG with <foreignObject>"),
        ("<filter id=\"f\"><feTurbulence numOctaves=\"1000000\"/></filter>", "is an SVG with <filter>"),
        ("<mask id=\"f\"/>", "is an SVG with <mask>"),
        ("<animate/>", "is an SVG with <animate>"),
        ("<g filter=\"url(#f)\"/>", "is an SVG with `filter` on line 1"),
        ("<g style=\"fill:red;filter:url(#f)\"/>", "is an SVG with `style` on line 1"),
        ("<g onload=\"alert(1)\"/>", "is an SVG with `onload`"),
        ("<use href=\"other.svg#a\"/>", "is an SVG with `href`"),
        ("<a href=\"https://example.org\"/>", "is an SVG with `href`"),
        ("<circle r=\"9\" fill=\"url(https://example.org)\"/>", "is an SVG with `fill`"),
        ("<style>@import 'a.css';</style>", "is an SVG whose style sheet refers"),
        ("<style>* { marker-mid: url(#m) }</style>", "is an SVG whose style sheet refers"),
        ("<g id=\"a\"><use href=\"#a\"/></g>", "is an SVG that uses itself"),
        (
            "<marker id=\"m\"><path d=\"M0 0\" marker-mid=\"url(#n)\"/></marker><marker id=\"n\"/>",
            "is an SVG whose markers, patterns or clips refer to further ones",
        ),
        ("<text y=\"9\">left \u{4e2d} side</text>", "is an SVG whose text `left \u{4e2d} side` on line 1 holds U+4E2D"),
    ] {
        let fault = Picture::of(drawing_with(hostile)).unwrap_err();
        assert!(fault.starts_with(said), "{hostile}: {fault}");
    }
}

#[test]
fn a_drawing_that_unfolds_without_end_is_refused_before_it_is_drawn() {
    let began = std::time::Instant::now();
    let doubled = |levels: usize| {
        let level = |at: usize| format!("<g id=\"l{at}\"><use href=\"#l{0}\"/><use href=\"#l{0}\"/></g>", at - 1);
        format!("<defs><g id=\"l0\"><path d=\"M0 0H1\"/></g>{}</defs>", (1..=levels).map(level).collect::<String>())
    };
    let corners = "1 1 ".repeat(100_000);
    let marked = format!(
        "<marker id=\"m\"><path d=\"M0 0H1\"/><path d=\"M0 0H1\"/></marker><polyline points=\"{corners}\" marker-mid=\"url(#m)\"/>"
    );
    for bomb in [doubled(30), marked] {
        let fault = Picture::of(drawing_with(&bomb)).unwrap_err();
        assert_eq!(fault, "is an SVG that unfolds into more than 200000 shapes; draw it plainer");
    }
    let deep = drawing_with(&"<g>".repeat(100_000));
    assert!(Picture::of(deep).unwrap_err().starts_with("is an SVG nested more than 64 deep"));
    let many = drawing_with(&"<g/>".repeat(300_000));
    assert!(Picture::of(many).unwrap_err().starts_with("is an SVG of more than 50000 elements"));
    let spoken = drawing_with(&format!("<text>{}</text>", "x".repeat(60_000)));
    assert!(Picture::of(spoken).unwrap_err().starts_with("is an SVG with more than 50000 letters"));
    assert!(began.elapsed().as_secs() < 20, "{:?}", began.elapsed());
}
