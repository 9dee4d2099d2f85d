//! Boxes that are filled in by hand: all there, large enough, apart, on the page of their step.

use shophead::job::StepKind;
use shophead::plan::{Document, Options};
use shophead::render::{BoxPlace, Templates, lay_out};

use super::{laid, packed};
use crate::build::bracket::{bracket_document, bracket_packets, one_step};

/// Millimetres as the layout gives them, in thousandths.
const MM: i64 = 1_000;
/// A hundredth of a millimetre: below what a printer or a scan resolves.
const SLACK: i64 = 10;

fn of<'a>(boxes: &'a [BoxPlace], step: &'a str) -> impl Iterator<Item = &'a BoxPlace> {
    boxes.iter().filter(move |one| one.step == step)
}

#[test]
fn every_step_has_its_boxes_on_the_page_of_its_title() {
    let packet = bracket_packets(Options::default()).remove(0);
    let pages = laid(&packet.document());
    let boxes = pages.boxes().unwrap();
    let texts = pages.page_texts();
    for step in &packet.steps {
        let numbered = format!("{}{}", step.number, packed(&step.title));
        let holding: Vec<usize> =
            (0..texts.len()).filter(|at| packed(&texts[*at]).contains(&numbered)).map(|at| at + 1).collect();
        let own: Vec<&BoxPlace> = of(&boxes, &step.id).collect();
        for sign in &step.signs {
            for field in ["initials", "date", "void"] {
                let wanted = format!("{}:{field}", sign.kind);
                let found = own.iter().filter(|one| one.field == wanted && one.role == sign.role).count();
                assert_eq!(found, 1, "step {}: {wanted} of {}", step.id, sign.role);
            }
        }
        assert_eq!(own.iter().filter(|one| one.role == "reading").count(), step.records.len());
        for one in &own {
            assert!(
                holding.contains(&one.page),
                "step {} stands on {holding:?}, its {} on {}",
                step.id,
                one.field,
                one.page
            );
        }
    }
}

#[test]
fn boxes_are_large_enough_apart_and_on_the_page() {
    for paper in ["us-letter", "a4"] {
        let mut document = bracket_document();
        document.data["head"]["paper"] = paper.into();
        let pages = laid(&document);
        let (width, height) = pages.page_sizes()[0];
        let expected = if paper == "a4" { (210 * MM, 297 * MM) } else { (215_900, 279_400) };
        assert!(
            (width.0 - expected.0).abs() <= SLACK && (height.0 - expected.1).abs() <= SLACK,
            "{paper}: {width:?} x {height:?}"
        );
        let boxes = pages.boxes().unwrap();
        assert!(boxes.len() > 40, "{}", boxes.len());
        for one in &boxes {
            assert!(one.x.0 >= 12 * MM && one.x.0 + one.width.0 <= width.0 - 12 * MM, "{one:?}");
            assert!(
                one.y.0 >= 29 * MM && one.y.0 + one.height.0 <= height.0 - 29 * MM,
                "{one:?} runs into the furniture"
            );
            let least = match one.field.rsplit(':').next().unwrap() {
                "initials" => (18, 8),
                "date" => (24, 8),
                "void" => (6, 6),
                _ => (14, 7),
            };
            assert!(
                one.width.0 + SLACK >= least.0 * MM && one.height.0 + SLACK >= least.1 * MM,
                "{one:?} is under {least:?} mm"
            );
        }
        for (at, one) in boxes.iter().enumerate() {
            for other in boxes[at + 1..].iter().filter(|other| other.page == one.page) {
                let gap_x = (other.x.0 - one.x.0 - one.width.0).max(one.x.0 - other.x.0 - other.width.0);
                let gap_y = (other.y.0 - one.y.0 - one.height.0).max(one.y.0 - other.y.0 - other.height.0);
                assert!(gap_x > 0 || gap_y > 0, "{one:?} and {other:?} overlap");
            }
        }
    }
}

#[test]
fn the_boxes_of_one_mark_stand_four_millimetres_apart() {
    let boxes = laid(&bracket_document()).boxes().unwrap();
    let row: Vec<&BoxPlace> = of(&boxes, "drill").filter(|one| one.field.starts_with("done:")).collect();
    let [initials, date, void] = row.as_slice() else { panic!("{row:?}") };
    assert_eq!([&initials.field, &date.field, &void.field], ["done:initials", "done:date", "done:void"]);
    for (left, right) in [(initials, date), (date, void)] {
        assert!((right.x.0 - left.x.0 - left.width.0 - 4 * MM).abs() <= SLACK, "{left:?} {right:?}");
    }
}

#[test]
fn rows_of_boxes_do_not_all_keep_one_distance() {
    let boxes = laid(&bracket_document()).boxes().unwrap();
    for page in 1..=boxes.iter().map(|one| one.page).max().unwrap() {
        let mut rows: Vec<i64> =
            boxes.iter().filter(|one| one.page == page && one.field.ends_with("initials")).map(|one| one.y.0).collect();
        rows.dedup();
        let pitches: Vec<i64> = rows.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(
            pitches.len() < 2 || pitches.iter().any(|pitch| (pitch - pitches[0]).abs() > 300),
            "page {page}: {pitches:?}"
        );
    }
}

#[test]
fn a_draft_has_a_watermark_and_no_box_and_no_code() {
    let packet = bracket_packets(Options { draft: true, ..Options::default() }).remove(0);
    assert_eq!(packet.head.code, None);
    let pages = laid(&packet.document());
    assert_eq!(pages.boxes().unwrap(), []);
    for text in pages.page_texts() {
        // Once in the foot where the code would stand, once across the page.
        assert!(text.matches("DRAFT").count() >= 2, "{text}");
    }
}

fn tall(lines: usize) -> Document {
    let text = (1..=lines).map(|n| format!("{n}. Look at place {n}.")).collect::<Vec<_>>().join("\n");
    one_step("Look at everything", &text, "Plate")
}

#[test]
fn a_step_taller_than_a_page_is_refused_with_the_lines_that_it_must_lose() {
    let templates = Templates::load(None).unwrap();
    let fits = (1..=90).rev().find(|lines| lay_out(&tall(*lines), &templates).is_ok()).unwrap();
    assert!((30..60).contains(&fits), "{fits} lines fit");
    for over in [1, 2, 9] {
        let failure = lay_out(&tall(fits + over), &templates).err().unwrap().to_string();
        let lines = if over == 1 { "1 line".to_owned() } else { format!("{over} lines") };
        assert!(failure.contains(&format!("step 010 is taller than a page: it must lose {lines} ")), "{failure}");
    }
}

#[test]
fn in_a_draft_a_step_taller_than_a_page_runs_on() {
    let mut document = tall(90);
    document.code = None;
    document.data["head"]["draft"] = true.into();
    let texts = laid(&document).page_texts();
    assert!(packed(&texts.concat()).contains("Lookatplace90."));
    assert!(texts.iter().filter(|page| packed(page).contains("Lookatplace")).count() >= 2);
}

#[test]
fn every_kind_of_step_can_be_printed() {
    for kind in StepKind::ALL {
        let traveler = format!(
            "[traveler]\nid = \"T\"\ntitle = \"t\"\nrevision = \"A\"\n[[step]]\nid = \"only\"\ntitle = \"Only step\"\ndo = \"{}\"\n",
            kind.word()
        );
        let (job, report) = crate::build::bracket::job(crate::build::bracket::PROJECT, &[&traveler]);
        let packet = shophead::plan::packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
        let boxes = laid(&packet.document()).boxes().unwrap();
        assert_eq!(of(&boxes, "only").count(), 3, "{}", kind.word());
    }
}
