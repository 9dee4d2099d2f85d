//! The documents beside the packets: board, pick list, drawings, visit, discrepancies, notice and build record, in every edition.

use shophead::calendar::When;
use shophead::job::{Paper, State};
use shophead::plan::{
    BoardOptions, Choice, DiscrepancySubject, Document, Edition, VisitChoice, blank_discrepancy, board, discrepancy_of,
    drawing_index, pick_list, visit,
};
use shophead::render::lay_out;

use super::fault::page_faults;
use super::{Demo, HARDEST};
use crate::render::data::of_signed_work;

/// The documents of the demo without anything done, with a filled-in discrepancy of each joint of the hardest travelers.
fn documents(demo: &Demo) -> Vec<(String, Document)> {
    let (job, order, state) = (&demo.job, &demo.order, State::default());
    let now = When::parse("2026-03-07T09:00").unwrap().latest;
    let options = BoardOptions { now, minutes: 90, alone: false };
    let mut all = vec![
        ("board".to_owned(), board(job, order, &state, options).document(job, now)),
        ("pick list".to_owned(), pick_list(job, order, &state, &Choice::default(), now).document(job, now)),
        ("drawings".to_owned(), drawing_index(job).document(job, now)),
        ("visit".to_owned(), visit(job, order, &state, None, &VisitChoice::default()).document(job, now, Some(now))),
        ("blank discrepancy".to_owned(), blank_discrepancy(None, None, &job.project).document(job, now)),
    ];
    for (traveler, own) in job.travelers.iter().enumerate() {
        if !HARDEST.contains(&own.id.value.as_str()) {
            continue;
        }
        for joint in 0..own.joints.len() {
            let hand = job.hands_of(traveler)[0];
            let subject = DiscrepancySubject { job, order, state: &state, archived: None, traveler, joint, hand };
            let name = format!("discrepancy {} {}", own.id.value, own.joints[joint].id.value);
            all.push((name, discrepancy_of(&subject, None, None).document(job, now)));
        }
    }
    let [notice, book] = of_signed_work();
    all.extend([("notice".to_owned(), notice), ("book".to_owned(), book)]);
    all
}

/// Lays every document out in an edition; its faults, and the pages of all.
fn faults_in(demo: &Demo, edition: Edition) -> (Vec<String>, usize) {
    let (mut found, mut pages) = (Vec::new(), 0);
    for (name, document) in documents(demo) {
        let document = Document { edition, ..document };
        let laid = lay_out(&document, &demo.templates).unwrap_or_else(|failure| panic!("{name}: {failure}"));
        pages += laid.page_count();
        found.extend(page_faults(&laid).into_iter().map(|fault| format!("{name}: {fault}")));
        typst::comemo::evict(0);
    }
    (found, pages)
}

#[test]
fn the_other_documents_are_laid_out_without_a_fault_in_every_edition() {
    let mut demo = Demo::load();
    let large = Edition { large: true, ..Edition::default() };
    let mut wrong = Vec::new();
    for (name, paper, edition) in [
        ("usual", Paper::UsLetter, Edition::default()),
        ("A4", Paper::A4, Edition::default()),
        ("large", Paper::UsLetter, large),
    ] {
        demo.job.project.spec.settings.paper.value = paper;
        let (found, pages) = faults_in(&demo, edition);
        wrong.push(format!("{name}: {pages} pages, {} faults", found.len()));
        wrong.extend(found);
    }
    assert!(wrong.len() == 3, "{}", wrong.join("\n"));
}
