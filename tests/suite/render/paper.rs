//! Whole documents: what the plan put in stands on the pages, twice the same bytes, marks where a scan looks for them.

use shophead::calendar::Day;
use shophead::plan::{Options, StepRun, packets};
use shophead::render::{Templates, print, render_many};

use super::{laid, packed, whole};
use crate::build::bracket::{PROJECT, bracket_document, bracket_packets, job, one_step};
use crate::build::picture::Picture;

#[test]
fn the_pages_hold_what_the_plan_put_there() {
    let packet = bracket_packets(Options::default()).remove(0);
    let pages = laid(&packet.document());
    let text = whole(&pages);
    let mut expected: Vec<String> = Vec::new();
    for part in &packet.preparation.parts {
        expected.extend([part.id.clone(), part.name.clone()]);
        expected.extend(part.look_alike.iter().map(|other| format!("NOT {other}")));
    }
    // What is not there: how a packet is signed and what governs it stand in front, once.
    assert_eq!(text.matches("licensedpracticegovern").count(), 1);
    assert_eq!(text.matches("Nothingerased").count(), 1);
    for line in &packet.preparation.hardware {
        expected.extend([line.call.clone(), line.decode.clone()]);
    }
    for tool in &packet.preparation.tools {
        expected.extend([tool.what.clone(), tool.size.clone()]);
    }
    for joint in &packet.joints {
        expected.extend(joint.ladder.iter().map(|rung| format!("{} {} {}", rung.when, rung.short, rung.more)));
        expected.extend(joint.hardware.clone());
        expected.extend(joint.stages.clone());
        expected.extend(joint.leave_open.clone());
        expected.extend(joint.notes.clone());
        expected.extend(joint.places.clone());
        expected.push(joint.next_size.why.clone());
        expected.extend(joint.layers.iter().filter_map(|layer| layer.thickness.clone()));
    }
    for step in &packet.steps {
        expected.push(step.title.clone());
        expected.extend(step.cautions.iter().map(|caution| caution.text.clone()));
        expected.extend(
            step.joints
                .iter()
                .flat_map(|joint| joint.lines.iter().chain(&joint.hardware).chain([&joint.lead]).cloned()),
        );
        expected.extend(step.common.clone());
        expected.extend(step.records.iter().map(|record| record.requirement.clone()));
        expected.extend(step.photo.clone());
    }
    expected.extend(packet.cover.cautions.iter().map(|caution| caution.text.clone()));
    expected.extend(packet.cover.departures.iter().map(|departure| departure.because.clone()));
    assert!(expected.len() > 100);
    for wanted in expected {
        assert!(text.contains(&packed(&wanted)), "`{wanted}` is not on paper");
    }
    assert!(text.contains("Holesto") || text.contains("Holeto#30(0.1285in),thenAN3-5."), "values are filled in");
}

#[test]
fn every_page_can_be_put_back_where_it_belongs() {
    let packet = bracket_packets(Options::default()).remove(1);
    let pages = laid(&packet.document());
    let texts = pages.page_texts();
    let total = texts.len();
    for (at, text) in texts.iter().enumerate() {
        let text = packed(text);
        let code = packet.head.code.clone().unwrap();
        for wanted in [
            "Dunlintwo-seat",
            "serialD-014",
            "N00DN",
            "T-1Bellcrankbracket",
            "RIGHT",
            "RevisionA",
            "W-1revB",
            code.as_str(),
        ] {
            assert!(text.contains(wanted), "page {}: {wanted}", at + 1);
        }
        assert!(text.contains(&format!("page{}of{total}", at + 1)), "page {}", at + 1);
        assert!(!text.contains("50mm") && text.contains("2in,measurebeforeuse") && text.contains("recordcopy"));
    }
}

#[test]
fn nothing_on_paper_reads_like_an_approval() {
    let text = whole(&laid(&bracket_document())).to_lowercase();
    for word in ["approved", "airworth", "certif", "conform", "acceptedby", "returntoservice"] {
        assert!(!text.contains(word), "{word}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes_on_any_thread() {
    let templates = Templates::load(None).unwrap();
    let documents: Vec<_> = bracket_packets(Options::default()).iter().map(shophead::plan::Packet::document).collect();
    let one = |threads| render_many(&documents, &templates, threads, |_, printed| printed.unwrap().pdf);
    let (first, second) = (one(1), one(2));
    assert!(first == second, "the same documents, the same bytes");
    assert!(first[0] != first[1]);
    assert!(first[0] == print(&documents[0], &templates).unwrap().pdf);
}

#[test]
fn the_date_is_the_plans() {
    let templates = Templates::load(None).unwrap();
    let dated = |day| {
        let date = Day::new(2026, 3, day);
        print(&bracket_packets(Options { date, ..Options::default() }).remove(0).document(), &templates).unwrap().pdf
    };
    assert!(dated(2) == dated(2) && dated(2) != dated(3));
    let text = String::from_utf8_lossy(&dated(2)).into_owned();
    assert!(text.contains("D:20260302"), "the day stands in the PDF's description");
}

#[test]
fn many_documents_come_back_in_their_order_with_failures_in_place() {
    let mut documents: Vec<_> = (1..=5).map(|n| one_step(&format!("Step number {n}"), "Look.", "Plate")).collect();
    documents[2].template = "missing.typ.j2";
    let templates = Templates::load(None).unwrap();
    let mut seen = Vec::new();
    let results = render_many(&documents, &templates, 3, |at, printed| {
        seen.push(at);
        printed.map(|printed| printed.pages)
    });
    seen.sort_unstable();
    assert_eq!(seen, [0, 1, 2, 3, 4]);
    assert_eq!(results.iter().map(Result::is_ok).collect::<Vec<_>>(), [true, true, false, true, true]);
    assert!(render_many(&[], &templates, 2, |_, _| ()).is_empty());
}

#[test]
fn a_packet_of_more_pages_than_usual_has_a_code_on_every_page() {
    let step = |n: usize| format!("[[step]]\nid = \"s{n}\"\ntitle = \"Look\"\ndo = \"inspect\"\ntext = \"Look.\"\n");
    let traveler = "[traveler]\nid = \"T\"\ntitle = \"t\"\nrevision = \"A\"\n".to_owned();
    let (job, report) = job(PROJECT, &[&(traveler + &(1..=260).map(step).collect::<String>())]);
    let document = packets(&job, 0, &report, &Options::default()).unwrap().remove(0).document();
    let templates = Templates::load(None).unwrap();
    let pages = laid(&document);
    assert!(pages.page_count() > 16, "{}", pages.page_count());
    let printed = print(&document, &templates).unwrap();
    let Some(codes) = Picture::of(&printed.pdf, pages.page_count(), 200).and_then(|page| page.codes()) else { return };
    let last = document.page_text(u32::try_from(pages.page_count()).unwrap(), &printed.print);
    assert!(last.starts_with(&format!("{}/{}/", document.code.unwrap(), pages.page_count())), "{last}");
    assert_eq!(codes, [last.clone(), last]);
}

#[test]
fn both_codes_of_a_page_say_the_sheet_code_and_the_page() {
    let document = bracket_document();
    let printed = print(&document, &Templates::load(None).unwrap()).unwrap();
    let read = |pdf: &[u8], page| Picture::of(pdf, page, 200)?.codes();
    let Some(codes) = read(&printed.pdf, 2) else { return };
    let second = document.page_text(2, &printed.print);
    let code = document.code.unwrap();
    assert!(second.starts_with(&format!("{code}/2/")), "{second}");
    assert_eq!(codes, [second.clone(), second]);
    let steps = Some(StepRun { first: 1, last: 2 });
    let document = bracket_packets(Options { steps, ..Options::default() }).remove(0).document();
    let printed = print(&document, &Templates::load(None).unwrap()).unwrap();
    let run = document.page_text(1, &printed.print);
    assert!(run.starts_with(&format!("{code}/{}/1/", document.part.unwrap())), "{run}");
    assert_eq!(
        read(&printed.pdf, 1),
        Some(vec![run.clone(), run]),
        "a page of a run is never taken for one of the packet"
    );
}

#[test]
fn ring_marks_stand_in_the_corners() {
    let printed = print(&bracket_document(), &Templates::load(None).unwrap()).unwrap();
    let Some(Picture { width, height, pixels }) = Picture::of(&printed.pdf, 1, 254) else { return };
    // At 254 dots an inch a millimetre is ten pixels.
    for (x, y) in [(120, 120), (width - 120, 120), (120, height - 120), (width - 120, height - 120)] {
        let at = |dx: usize| pixels[y * width + x + dx];
        assert!(at(0) < 64, "dot at {x},{y}");
        assert!(at(15) > 192, "hole at {x},{y}");
        assert!(at(25) < 64, "ring at {x},{y}");
        assert!(at(34) > 192, "outside at {x},{y}");
    }
    // Nothing but the marks within 12 mm of the hole side.
    for y in 160..height - 160 {
        assert!(pixels[y * width..y * width + 118].iter().all(|gray| *gray > 192), "ink in the binding margin at {y}");
    }
}
