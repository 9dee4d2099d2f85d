//! Order, circles, spaces and clocks in builds small enough to read.

use shophead::job::{Item, Order, ParkedKind, StepRef};
use shophead::report::{Colour, Report, render_human};

use crate::build::{job_of, order_findings, text};

const PROJECT: &str =
    "[aircraft]\nname = \"Dunlin\"\n[[space]]\nid = \"bay\"\nname = \"Bay\"\nhands = [\"left\", \"right\"]\n";

fn traveler(id: &str, head: &str, steps: &[&str]) -> String {
    text::traveler(id, head) + &text::written_steps("title = \"t\"\n", steps)
}

#[test]
fn a_circle_is_told_whole_with_the_line_of_every_link() {
    let a = traveler("A", "after = [\"B\"]", &["id = \"one\"\ndo = \"fit\"", "id = \"two\"\ndo = \"fit\""]);
    let b = traveler(
        "B",
        "hands = [\"left\", \"right\"]",
        &["id = \"x\"\ndo = \"fit\"\nneeds = [\"A/two\"]", "id = \"y\"\ndo = \"fit\""],
    );
    let (job, files, _) = job_of(PROJECT, &[a, b]);
    let findings = order_findings(&job);
    assert_eq!(findings.len(), 1, "both hands are one circle: {findings:#?}");
    let text = render_human(&Report { findings, travelers: 2, ..Report::default() }, &files, Colour::Plain);
    for part in ["B/x -> B/y -> A/one -> A/two -> B/x", "specs/0.toml:5", "specs/1.toml"] {
        assert!(text.contains(part), "{part} is not in\n{text}");
    }
    for label in [
        "A/one begins a traveler that comes after B/y",
        "B/x needs A/two",
        "A/two comes later in the same traveler than A/one",
    ] {
        assert!(text.contains(label), "{label} is not in\n{text}");
    }
}

#[test]
fn a_chain_of_a_hundred_thousand_steps_does_not_exhaust_the_stack() {
    let step = |n: usize| format!("[[step]]\nid = \"s{n}\"\ntitle = \"t\"\ndo = \"fit\"\n");
    let text = traveler("A", "", &[]) + &(0..100_000).map(step).collect::<String>();
    let (job, ..) = job_of(PROJECT, &[text]);
    let order = Order::of(&job);
    assert!(order.circles().is_empty());
    let item = |step| Item { at: StepRef { traveler: 0, step }, hand: None };
    assert_eq!(order.all_after(item(0)).count(), 99_999);
    assert!(order.precedes(item(0), item(99_999)));
    assert!(!order.precedes(item(5), item(5)));
}

#[test]
fn the_left_closing_does_not_shut_the_right_hand_out() {
    let steps =
        ["id = \"fit\"\ndo = \"fit\"\nspaces = [\"bay\"]", "id = \"close\"\ndo = \"close\"\ncloses = [\"bay\"]"];
    let (handed, ..) = job_of(PROJECT, &[traveler("A", "hands = [\"left\", \"right\"]", &steps)]);
    assert!(order_findings(&handed).is_empty());
    let one_space = PROJECT.replace("hands = [\"left\", \"right\"]\n", "");
    let (shared, ..) = job_of(&one_space, &[traveler("A", "hands = [\"left\", \"right\"]", &steps)]);
    let findings = order_findings(&shared);
    assert_eq!(findings.len(), 1, "{findings:#?}");
    assert!(findings[0].help.as_ref().unwrap().contains("give space `bay` `hands`"));
}

const JOINTS: &str = "[[part]]\nid = \"P\"\nname = \"p\"\n\
    [[joint]]\nid = \"J1\"\nstack = [\"P\"]\nfastener = \"AN3-5A\"\ncount = 4\ntemporary = { fastener = \"AN3-6A\", why = \"fit-up\" }\n\
    [[joint]]\nid = \"J2\"\nstack = [\"P\"]\nfastener = \"MS20470AD4-4\"\ncount = 10\nleave-open = { count = 2, until = \"A/last\", why = \"bracket\" }\n\
    [[joint]]\nid = \"J3\"\nstack = [\"P\"]\nfastener = \"MS20470AD4-4\"\ncount = 3\nleave-open = { count = 3, until = \"A/last\", why = \"later\" }\n";

#[test]
fn parked_work_knows_when_it_begins_and_ends() {
    let steps = [
        "id = \"drill\"\ndo = \"drill\"\njoints = [\"J3\"]\nspaces = [\"bay\"]",
        "id = \"fit\"\ndo = \"fit\"\njoints = [\"J1\"]\nspaces = [\"bay\"]",
        "id = \"rivet\"\ndo = \"rivet\"\njoints = [\"J2\"]\nspaces = [\"bay\"]",
        "id = \"bolt\"\ndo = \"bolt\"\njoints = [\"J1\"]\nspaces = [\"bay\"]",
        "id = \"torque\"\ndo = \"torque\"\njoints = [\"J1\"]\nspaces = [\"bay\"]",
        "id = \"last\"\ndo = \"rivet\"\nspaces = [\"bay\"]",
    ];
    let text =
        traveler("A", "", &[]) + JOINTS + &steps.map(|step| format!("[[step]]\ntitle = \"t\"\n{step}\n")).concat();
    let (job, ..) = job_of(PROJECT, &[text]);
    let seen: Vec<_> = job
        .parked()
        .iter()
        .map(|p| (p.kind, p.count, p.since.at.step, p.until.iter().map(|item| item.at.step).collect::<Vec<_>>()))
        .collect();
    let expected = [
        (ParkedKind::Temporary, 4, 1, vec![3]),
        (ParkedKind::NotTorqued, 4, 3, vec![4]),
        (ParkedKind::LeaveOpen, 2, 2, vec![5]),
        (ParkedKind::Deferred, 3, 0, vec![5]),
    ];
    assert_eq!(seen, expected);
}

/// Closing over one temporary bolt, one photo and one undone bracket is refused, and each is named.
#[test]
fn a_closing_names_everything_that_is_left() {
    let steps = [
        "id = \"fit\"\ndo = \"fit\"\njoints = [\"J1\"]\nspaces = [\"bay\"]",
        "id = \"close\"\ndo = \"close\"\ncloses = [\"bay\"]",
        "id = \"bolt\"\ndo = \"bolt\"\njoints = [\"J1\"]",
    ];
    let a = traveler("A", "", &[]) + JOINTS + &steps.map(|step| format!("[[step]]\ntitle = \"t\"\n{step}\n")).concat();
    let photo = traveler("PHOTO", "", &["id = \"take\"\ndo = \"photograph\"\nspaces = [\"bay\"]"]);
    let bracket = traveler("BRACKET", "", &["id = \"set\"\ndo = \"rivet\"\nspaces = [\"bay\"]"]);
    let (job, ..) = job_of(PROJECT, &[a, photo, bracket]);
    let findings = order_findings(&job);
    assert_eq!(findings.len(), 1, "one finding a closing: {findings:#?}");
    for part in ["4 x temporary hardware of joint J1 in A (ended by A/bolt)", "PHOTO/take (photo)", "BRACKET/set"] {
        assert!(findings[0].message.contains(part), "{part} is not in {}", findings[0].message);
    }
    assert_eq!(findings[0].labels.len(), 3);
}

#[test]
fn a_step_that_names_steps_of_its_traveler_waits_for_those_alone() {
    let steps = [
        "id = \"cut\"\ndo = \"trim\"",
        "id = \"paint\"\ndo = \"paint\"",
        "id = \"tuck\"\ndo = \"fit\"\nneeds = [\"A/cut\"]",
        "id = \"look\"\ndo = \"inspect\"",
        "id = \"label\"\ndo = \"fit\"\nneeds = [\"A/tuck\"]",
    ];
    let after = traveler("B", "after = [\"A\"]", &["id = \"go\"\ndo = \"fit\""]);
    let (job, ..) = job_of(PROJECT, &[traveler("A", "hands = [\"left\", \"right\"]", &steps), after]);
    let order = Order::of(&job);
    assert!(order.circles().is_empty());
    let all: Vec<Item> = order.items().collect();
    // Which comes before which, from the links alone.
    let mut before = vec![vec![false; all.len()]; all.len()];
    let place = |item: Item| all.iter().position(|own| *own == item).unwrap();
    for item in &all {
        for link in order.links_to(*item) {
            assert!(order.links_from(link.from).any(|own| own == link), "{link:?}");
            before[place(link.from)][place(*item)] = true;
        }
    }
    for middle in 0..all.len() {
        for from in 0..all.len() {
            for to in 0..all.len() {
                before[from][to] |= before[from][middle] && before[middle][to];
            }
        }
    }
    for (from, first) in all.iter().enumerate() {
        let until: Vec<Item> = order.all_before(*first).items().collect();
        for (to, later) in all.iter().enumerate() {
            assert_eq!(order.precedes(*first, *later), before[from][to], "{first:?} {later:?}");
            assert_eq!(until.contains(later), before[to][from], "{later:?} {first:?}");
        }
        assert_eq!(order.all_after(*first).count(), before[from].iter().filter(|is| **is).count());
    }
    let left = |step| Item { at: StepRef { traveler: 0, step }, hand: Some(shophead::job::Hand::Left) };
    let go = Item { at: StepRef { traveler: 1, step: 0 }, hand: None };
    assert!(!order.precedes(left(1), left(2)), "tucking does not wait for paint");
    assert!(order.precedes(left(0), left(2)) && order.precedes(left(2), left(3)) && order.precedes(left(1), left(3)));
    assert!(order.precedes(left(4), go) && order.precedes(left(3), go), "what comes after waits for both ends");
    assert_eq!(all.len(), order.len());
}
