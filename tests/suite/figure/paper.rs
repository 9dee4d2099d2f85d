//! Figures at 1:1 measured in the PDF: every path of the page's content, through its transformations, in millimetres.
//!
//! Asks `qpdf` to unpack the PDF; where it is missing the test says so, and fails where `CI` is set.

#![expect(
    clippy::float_arithmetic,
    reason = "a PDF's own coordinates are measured; no verdict of the program rests on them"
)]

use std::io::Write;
use std::process::Command;

use shophead::plan::{Options, packets};
use shophead::render::{Templates, lay_out};

use crate::build::bracket::{BRACKET, FAIRING, PROJECT, job};

/// What 1:1 allows: .05 mm.
const CLOSE: f64 = 0.05;
const MM_PER_POINT: f64 = 25.4 / 72.0;

/// A painted path: where its centre lies on the page, how wide and how high it is, in millimetres from the top left.
#[derive(Debug, Clone, Copy)]
struct Painted {
    x: f64,
    y: f64,
    width: f64,
    height: f64,
}

impl Painted {
    fn is(&self, width: f64, height: f64) -> bool {
        (self.width - width).abs() < CLOSE && (self.height - height).abs() < CLOSE
    }
}

type Matrix = [f64; 6];

/// First `inner`, then `outer`.
fn chained(inner: Matrix, outer: Matrix) -> Matrix {
    let row = |x: f64, y: f64| (x * outer[0] + y * outer[2], x * outer[1] + y * outer[3]);
    let ((xx, xy), (yx, yy), (dx, dy)) = (row(inner[0], inner[1]), row(inner[2], inner[3]), row(inner[4], inner[5]));
    [xx, xy, yx, yy, dx + outer[4], dy + outer[5]]
}

/// The paths of a content stream.
fn painted(content: &str, page_height: f64) -> Vec<Painted> {
    let (mut all, mut stack, mut matrix) = (Vec::new(), Vec::new(), [1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);
    let (mut numbers, mut path): (Vec<f64>, Vec<(f64, f64)>) = (Vec::new(), Vec::new());
    // A name may follow an operator without a space between them.
    for word in content.replace('/', " /").split_ascii_whitespace() {
        if let Ok(number) = word.parse::<f64>() {
            numbers.push(number);
            continue;
        }
        let on_page = |x: f64, y: f64, m: &Matrix| (x * m[0] + y * m[2] + m[4], x * m[1] + y * m[3] + m[5]);
        match (word, numbers.as_slice()) {
            ("q", _) => stack.push(matrix),
            ("Q", _) => matrix = stack.pop().unwrap(),
            ("cm", parts) => matrix = chained(parts.try_into().unwrap(), matrix),
            // Only the ends of curves: Typst draws a circle with its ends at the extreme places.
            ("m" | "l", &[x, y]) | ("c", &[_, _, _, _, x, y]) | ("v" | "y", &[_, _, x, y]) => {
                path.push(on_page(x, y, &matrix));
            }
            ("re", &[x, y, w, h]) => path.extend([on_page(x, y, &matrix), on_page(x + w, y + h, &matrix)]),
            ("S" | "s" | "f" | "F" | "f*" | "B" | "B*" | "b" | "b*", _) => {
                all.extend(extent(&std::mem::take(&mut path), page_height));
            }
            ("n", _) => path.clear(),
            _ => {}
        }
        numbers.clear();
    }
    all
}

fn extent(path: &[(f64, f64)], page_height: f64) -> Option<Painted> {
    let (first, rest) = path.split_first()?;
    let mut edges = (first.0, first.0, first.1, first.1);
    for (x, y) in rest {
        edges = (edges.0.min(*x), edges.1.max(*x), edges.2.min(*y), edges.3.max(*y));
    }
    let (left, right, low, high) = edges;
    Some(Painted {
        x: f64::midpoint(left, right) * MM_PER_POINT,
        y: (page_height - f64::midpoint(low, high)) * MM_PER_POINT,
        width: (right - left) * MM_PER_POINT,
        height: (high - low) * MM_PER_POINT,
    })
}

/// The unpacked content of one page, counted from one; nothing where `qpdf` is missing.
fn content(pdf: &[u8], page: usize) -> Option<String> {
    let folder = tempfile::tempdir().unwrap();
    let (packed, plain) = (folder.path().join("a.pdf"), folder.path().join("b.pdf"));
    std::fs::write(&packed, pdf).unwrap();
    let run = Command::new("qpdf").args(["--qdf", "--object-streams=disable"]).arg(&packed).arg(&plain).status();
    let Ok(status) = run else {
        assert!(std::env::var_os("CI").is_none(), "qpdf is missing");
        let _ = std::io::stderr().write_all(b"skipped: qpdf is not installed\n");
        return None;
    };
    assert!(status.success());
    let text = String::from_utf8_lossy(&std::fs::read(plain).unwrap()).into_owned();
    let start = text.find(&format!("%% Contents for page {page}\n")).expect("qpdf names the page's contents");
    let stream = &text[start..];
    let begin = stream.find("stream\n").unwrap() + "stream\n".len();
    Some(stream[begin..begin + stream[begin..].find("endstream").unwrap()].to_owned())
}

/// The paths of the page with the strip of joint J1, on a paper.
fn strip_page(paper: &str, height: f64) -> Option<Vec<Painted>> {
    let project = PROJECT.replacen("spare = 10", &format!("spare = 10\nsecond = \"mm\"\npaper = \"{paper}\""), 1);
    let traveler = BRACKET.replacen(
        "pitch = \"0.75\"\n",
        "pitch = \"0.75\"\nrows = 2\nrow-gap = \"0.4\"\npattern = { end = \"0.5\" }\n",
        1,
    );
    // A template is for holes that are not there yet.
    let traveler = traveler.replacen("holes = { start = \"#40\", final = \"#30\" }", "holes = { final = \"#30\" }", 1);
    let (job, report) = job(&project, &[&traveler, FAIRING]);
    assert_eq!(report.findings, []);
    let document = packets(&job, 0, &report, &Options::default()).unwrap().remove(0).document();
    let templates = Templates::load(None).unwrap();
    let laid = lay_out(&document, &templates).unwrap_or_else(|failure| panic!("{failure}"));
    let texts = laid.page_texts();
    let page = texts.iter().position(|text| text.contains("EDGE OF THE PART")).expect("the strip is printed");
    let printed = laid.print(&document).unwrap();
    content(&printed.pdf, page + 1).map(|content| painted(&content, height))
}

fn assert_near(found: f64, wanted: f64, what: &str) {
    assert!((found - wanted).abs() < CLOSE, "{what}: {found} mm, but it must be {wanted} mm");
}

fn measure(paper: &str, height: f64) {
    let Some(paths) = strip_page(paper, height) else { return };
    for (bar, name) in [(50.0, "50 mm"), (50.8, "2 in")] {
        // One bar of the strip, one at the foot of every page.
        let found = paths.iter().filter(|path| path.is(bar, 0.0)).count();
        assert!(found >= 2, "{paper}: {found} bars of {name}");
    }
    let hole = 0.1285 * 25.4;
    let holes: Vec<&Painted> = paths.iter().filter(|path| path.is(hole, hole) && path.width > 1.0).collect();
    assert_eq!(holes.len(), 12, "{paper}: the strip shows its twelve holes");
    let (rows, pitch, gap) = (holes.split_at(6), 0.75 * 25.4, 0.4 * 25.4);
    for (row, y) in [(rows.0, holes[0].y), (rows.1, holes[0].y - gap)] {
        for (step, hole) in (0_u32..).zip(row) {
            assert_near(hole.x, holes[0].x + pitch * f64::from(step), "along");
            assert_near(hole.y, y, "across");
        }
    }
    let edge = paths
        .iter()
        .find(|path| path.height < CLOSE && path.width > 90.0 && path.y > holes[0].y && path.y < holes[0].y + 12.0);
    assert_near(edge.expect("the edge is drawn").y - holes[0].y, 0.35 * 25.4, "first row to the edge");
    let end = paths
        .iter()
        .find(|path| path.width < CLOSE && path.height > 20.0 && path.x < holes[0].x && path.x > holes[0].x - 15.0);
    assert_near(holes[0].x - end.expect("the end is drawn").x, 0.5 * 25.4, "first hole to the end");
}

#[test]
fn letter_paper_is_true_to_a_twentieth_of_a_millimetre() {
    measure("us-letter", 11.0 * 72.0);
}

#[test]
fn a4_paper_is_true_to_a_twentieth_of_a_millimetre() {
    measure("a4", 297.0 / MM_PER_POINT);
}
