//! Signatures that wait for a read-through: what there is to read, since somebody read last, over any number of sheets.

use shophead::archive::{Form, ReadThrough};
use shophead::units::{Style, Unit};
use shophead::work::{Unread, unread};

use super::rib::{PROJECT, SPEC, after, all_signed_as};
use crate::build::signed::{Ledger, day, job_of};

const RIGGED: &str = "flush with the trailing edge";

/// Issues the rib with another text in its rigging step, and carries what goes on.
fn reissue(ledger: &mut Ledger, text: &str) {
    let spec = SPEC.replace(RIGGED, text);
    let carried = after(ledger, PROJECT, &spec).unwrap().carried;
    ledger.issue(&job_of(PROJECT, &[&spec]), &carried);
}

fn waiting(ledger: &Ledger) -> Vec<Unread> {
    unread(&ledger.state(), &Style::of(Unit::Inch), |issue| ledger.archived.get(&issue.issued.sheet).cloned())
}

fn reasons(ledger: &Ledger) -> Vec<String> {
    waiting(ledger).into_iter().flat_map(|own| own.reasons).collect()
}

fn said(now: &str, was: &str) -> String {
    let text = |own: &str| format!("\"Set the tab {own}.\"");
    format!("text is now {}, was {}", text(now), text(was))
}

#[test]
fn what_there_is_to_read_is_what_changed_since_it_was_read_last() {
    let mut ledger = all_signed_as(Form::NEWEST);
    assert_eq!(waiting(&ledger), []);
    reissue(&mut ledger, "1/8 above it");
    let own = waiting(&ledger);
    assert_eq!((own.len(), own[0].item.step.as_str(), own[0].by.as_str()), (1, "rig", "B1"));
    assert_eq!(own[0].reasons, [said("1/8 above it", RIGGED)]);
    // Nobody read that; the next sheet's note is read together with it.
    reissue(&mut ledger, "1/4 above it");
    assert_eq!(reasons(&ledger), [said("1/4 above it", RIGGED)]);
    let sheet = waiting(&ledger)[0].sheet;
    ledger.add(ReadThrough { sheet, by: "B1".into(), on: day("2026-04-02") });
    assert_eq!(waiting(&ledger), []);
    reissue(&mut ledger, "3/8 above it");
    assert_eq!(reasons(&ledger), [said("3/8 above it", "1/4 above it")]);
}

#[test]
fn a_sheet_whose_requirements_are_lost_still_says_who_waits() {
    let mut ledger = all_signed_as(Form::NEWEST);
    reissue(&mut ledger, "1/8 above it");
    let own = unread(&ledger.state(), &Style::of(Unit::Inch), |_| None);
    assert_eq!((own.len(), own[0].item.step.as_str()), (1, "rig"));
    assert!(own[0].reasons.is_empty() && own[0].differences.is_empty());
}
