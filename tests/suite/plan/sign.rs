//! What a reprint has boxes for: everything that is still open, whoever else has signed.

use std::collections::BTreeSet;

use shophead::archive::{Capacity, Signed as Mark, State};
use shophead::job::Job;
use shophead::plan::{Document, Options, Signed, Source, packet, packet_of_both};
use shophead::report::Report;
use shophead::words::{Hand, PacketName};

use crate::build::signed::{Ledger, SPEC, edited, job};
use crate::render::{laid, whole};

const HOLD: &str = "technical counselor";

/// The boxes of the step with a hold: whose, in which role, what is marked.
fn boxes(document: &Document) -> BTreeSet<(String, String, String)> {
    let all = laid(document).boxes().unwrap();
    let own = all.into_iter().filter(|one| one.step == "look");
    own.map(|one| (one.hand.unwrap_or_default(), one.role, one.field)).collect()
}

fn expected(hand: &str, role: &str, kind: &str) -> Vec<(String, String, String)> {
    let field = |field: &str| (hand.to_owned(), role.to_owned(), format!("{kind}:{field}"));
    ["initials", "date", "void"].into_iter().map(field).collect()
}

fn all(parts: &[(&str, &str, &str)]) -> BTreeSet<(String, String, String)> {
    parts.iter().flat_map(|(hand, role, kind)| expected(hand, role, kind)).collect()
}

fn source<'a>(job: &'a Job, report: &'a Report, state: &'a State, hand: Option<Hand>) -> Source<'a> {
    let issue = state.in_force(&PacketName::new("T1", hand)).unwrap();
    let specs = Source::of_specs(job, 0, hand, report, Options::default());
    Source { signed: Signed::InForce(state, issue), ..specs }
}

fn hold(mark: Mark) -> Mark {
    Mark { capacity: Capacity::Hold, role: HOLD.into(), by: "TC1".into(), ..mark }
}

#[test]
fn a_hold_that_is_open_has_its_box_where_the_work_is_signed() {
    let job = job(SPEC);
    let mut ledger = Ledger::default();
    ledger.issue(&job, &[]);
    let report = Report::default();
    let print = |ledger: &Ledger| packet(source(&job, &report, &ledger.state(), None)).unwrap().document();
    assert_eq!(boxes(&print(&ledger)), all(&[("", "builder", "done"), ("", HOLD, "hold")]));
    ledger.sign("T1", "look", "2026-03-09", None);
    assert_eq!(boxes(&print(&ledger)), all(&[("", HOLD, "hold")]));
    let given = hold(ledger.signed("T1", None, "look", "2026-03-10"));
    ledger.add(given);
    let signed = print(&ledger);
    assert_eq!(boxes(&signed), BTreeSet::new());
    let text = whole(&laid(&signed));
    assert_eq!((text.matches("signedbyTC1on").count(), text.matches(",2026-03-10").count()), (1, 1));
}

#[test]
fn a_look_before_the_work_leaves_the_box_of_the_work() {
    let job = job(SPEC);
    let mut ledger = Ledger::default();
    ledger.issue(&job, &[]);
    let given = hold(ledger.signed("T1", None, "look", "2026-03-10"));
    ledger.add(given);
    let report = Report::default();
    let print = packet(source(&job, &report, &ledger.state(), None)).unwrap().document();
    assert_eq!(boxes(&print), all(&[("", "builder", "done")]));
}

#[test]
fn each_hand_of_a_packet_of_both_has_the_boxes_that_it_lacks() {
    let job = job(&edited("revision = \"A\"", "revision = \"A\"\nhands = [\"left\", \"right\"]"));
    let mut ledger = Ledger::default();
    ledger.issue(&job, &[]);
    let report = Report::default();
    let print = |ledger: &Ledger| {
        let state = ledger.state();
        let at = |hand| source(&job, &report, &state, Some(hand));
        packet_of_both(at(Hand::Left), at(Hand::Right)).unwrap().document()
    };
    let both = |role, kind| [("left", role, kind), ("right", role, kind)];
    assert_eq!(boxes(&print(&ledger)), all(&[both("builder", "done"), both(HOLD, "hold")].concat()));
    // The left hand's work is done: its hold is open still, and everything of the right one.
    let left = ledger.signed("T1", Some(Hand::Left), "look", "2026-03-09");
    ledger.add(left);
    let open = [&[("right", "builder", "done")], &both(HOLD, "hold")[..]].concat();
    assert_eq!(boxes(&print(&ledger)), all(&open));
    let right = ledger.signed("T1", Some(Hand::Right), "look", "2026-03-09");
    ledger.add(right);
    assert_eq!(boxes(&print(&ledger)), all(&both(HOLD, "hold")));
    let given = hold(ledger.signed("T1", Some(Hand::Right), "look", "2026-03-10"));
    ledger.add(given);
    let print = print(&ledger);
    assert_eq!(boxes(&print), all(&[("left", HOLD, "hold")]));
    let text = whole(&laid(&print));
    let given = (text.matches("signedbyTC1on").count(), text.matches(",2026-03-10").count());
    assert_eq!(given, (1, 1), "the right one's stands in its place");
}
