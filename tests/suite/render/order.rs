//! Reading order: what a reader that takes a page's text from top to bottom meets first, as the PDF holds it.

use super::{laid, packed};
use crate::build::bracket::{BRACKET, FAIRING, PROJECT, job, set_open};
use shophead::plan::{Options, Packet, StepSheet, packets};
use shophead::render::{Templates, print};

/// The left packet of the bracket, with a caution at a step that has a text, values and a photo.
fn packet() -> Packet {
    let drill = "do = \"drill\"\njoints = [\"J1\", \"J3\"]";
    assert!(BRACKET.contains(drill));
    let more = "cautions = [\"eye-protection\"]\nphoto = \"holes from the head side\"\n\
                records = [{ id = \"gap\", label = \"Gap under the plate\", unit = \"in\", max = 0.005 }]";
    let (job, report) = job(PROJECT, &[&BRACKET.replace(drill, &format!("{drill}\n{more}")), FAIRING]);
    set_open(packets(&job, 0, &report, &Options::default()).unwrap().remove(0))
}

/// Whether the pieces of a step follow each other in a text that begins with it, and its boxes behind them; only what must be signed
/// before the work has its boxes in front. Panics where a piece is missing.
fn is_in_order(text: &str, step: &StepSheet) -> bool {
    let place = |piece: String| text.find(&packed(&piece)).unwrap_or_else(|| panic!("`{piece}` is not in\n{text}"));
    let places: Vec<usize> = pieces(step).into_iter().map(place).collect();
    let (read, signed) = text.split_at(*places.last().unwrap());
    let waits = step.signs.iter().any(|sign| sign.first);
    places.is_sorted() && signed.contains("initials") && (waits || !read.contains("initials"))
}

/// What stands in a step, in the order in which it is read.
fn pieces(step: &StepSheet) -> Vec<String> {
    let mut all = vec![format!("{}{}", step.number, step.title)];
    all.extend(step.cautions.iter().map(|caution| caution.text.clone()));
    // Values were filled in: the words before the first stay.
    let words = step.text.iter().filter_map(|text| text.split("{{").next());
    all.extend(
        words.map(|words| {
            words.split_once("\n- ").map_or(words, |(first, _)| first).trim_start_matches("- ").to_owned()
        }),
    );
    all.extend(step.records.iter().map(|record| record.label.clone()));
    all.extend(step.photo.clone());
    all
}

#[test]
fn a_step_reads_head_caution_text_values_signature() {
    let packet = packet();
    let whole: String = laid(&packet.document()).page_texts().iter().map(|page| packed(page)).collect();
    let mut looked = 0;
    for step in &packet.steps {
        let head = packed(&format!("{}{}", step.number, step.title));
        // Points where somebody looks are named in front with the same words.
        let from = whole.rfind(&head).unwrap_or_else(|| panic!("{head} is not in\n{whole}"));
        assert!(is_in_order(&whole[from..], step), "{}: {:?} in {}", step.id, pieces(step), &whole[from..]);
        looked += usize::from(!step.cautions.is_empty() && step.text.is_some());
    }
    assert!(looked > 0, "some step of the bracket has both a caution and a text");
}

/// The same from the bytes of the PDF, by an outside reader that keeps the order of the content.
#[test]
fn the_pdf_reads_in_the_same_order() {
    let packet = packet();
    let document = packet.document();
    let printed = print(&document, &Templates::load(None).unwrap()).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("packet.pdf");
    std::fs::write(&file, &printed.pdf).unwrap();
    let Ok(output) = std::process::Command::new("pdftotext").arg("-raw").arg(&file).arg("-").output() else {
        assert!(std::env::var_os("CI").is_none(), "pdftotext is not installed");
        let _ = std::io::Write::write_all(&mut std::io::stderr(), b"skipped: pdftotext is not installed\n");
        return;
    };
    let text = packed(&String::from_utf8_lossy(&output.stdout));
    for step in packet.steps.iter().filter(|step| !step.cautions.is_empty()) {
        let head = packed(&format!("{}{}", step.number, step.title));
        let from = text.rfind(&head).unwrap_or_else(|| panic!("{head} is not in\n{text}"));
        assert!(is_in_order(&text[from..], step), "{}", step.id);
    }
}
