//! `templates/DATA.md`, what each template is given: made from the planned structures and their own descriptions, with
//! examples from the demo; everything that the demo's documents hold must stand there.

mod page;
mod read;
mod structures;

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;
use shophead::archive::Head;
use shophead::calendar::When;
use shophead::job::{Hand, Order, State, resolve};
use shophead::plan::{
    BoardOptions, BookFacts, Choice, DiscrepancySubject, Document, NoticeFacts, Options, Source, Thumbnails,
    VisitChoice, blank_discrepancy, board, book, discrepancy_of, drawing_index, notice, packet_of_both, packets,
    pick_list, visit,
};
use shophead::report::Report;
use shophead::spec::load;
use shophead::text::Files;
use shophead::work::changes;

use crate::build::shop::root;
use crate::build::signed::{Ledger, SPEC, day, edited, job};
use page::{Root, data_page};
use structures::Structures;

/// Templates, what they are for, the structure behind each, and the name under which it comes; none: its fields come by name.
const ROOTS: &[Root] = &[
    Root {
        template: "packet.typ.j2",
        about: "The bench packet of one traveler, for one hand or both.",
        structure: "Packet",
        name: None,
    },
    Root {
        template: "board.typ.j2",
        about: "The board: what is ready, what waits, last chances.",
        structure: "BoardPage",
        name: None,
    },
    Root { template: "pick.typ.j2", about: "The pick list.", structure: "PickPage", name: None },
    Root { template: "drawings.typ.j2", about: "The drawing index.", structure: "DrawingsPage", name: None },
    Root { template: "notice.typ.j2", about: "The notice of a change.", structure: "NoticePage", name: None },
    Root {
        template: "visit.typ.j2",
        about: "The packet for a technical counselor.",
        structure: "VisitPage",
        name: None,
    },
    Root { template: "discrepancy.typ.j2", about: "A discrepancy sheet.", structure: "DiscrepancyPage", name: None },
    Root { template: "book.typ.j2", about: "The build record.", structure: "BookPage", name: None },
];

/// Documents of the demo, by the name of their template.
fn documents() -> BTreeMap<&'static str, Vec<Value>> {
    let (mut files, mut report) = (Files::default(), Report::default());
    let spec = load(&root().join("demo-data/build.toml"), &mut files, &mut report).unwrap();
    let job = resolve(spec, &mut report);
    let (order, state, now) = (Order::of(&job), State::default(), When::parse("2026-03-07T09:00").unwrap().latest);
    let all = (0..job.travelers.len())
        .flat_map(|index| packets(&job, index, &report, &Options { draft: true, ..Options::default() }).unwrap());
    let two_hands = |index: &usize| job.hands_of(*index).len() == 2;
    let both = (0..job.travelers.len()).filter(two_hands).map(|index| {
        let source = |hand| Source::of_specs(&job, index, Some(hand), &report, Options::default());
        packet_of_both(source(Hand::Left), source(Hand::Right)).unwrap()
    });
    let packets = all.chain(both).map(|packet| packet.document());
    let walls = [
        board(&job, &order, &state, BoardOptions { now, minutes: 90, alone: false }).document(&job, now),
        pick_list(&job, &order, &state, &Choice::default(), now).document(&job, now),
        drawing_index(&job).document(&job, now),
        visit(&job, &order, &state, None, &VisitChoice::default()).document(&job, now, Some(now)),
        blank_discrepancy(None, None, &job.project).document(&job, now),
    ];
    let subject = |joint| DiscrepancySubject {
        job: &job,
        order: &order,
        state: &state,
        archived: None,
        traveler: 0,
        joint,
        hand: None,
    };
    let filled =
        (0..job.travelers[0].joints.len()).map(|joint| discrepancy_of(&subject(joint), None, None).document(&job, now));
    let mut found: BTreeMap<&'static str, Vec<Value>> = BTreeMap::new();
    for Document { template, data, .. } in packets.chain(walls).chain(filled) {
        found.entry(template).or_default().push(data);
    }
    for Document { template, data, .. } in of_signed_work() {
        found.entry(template).or_default().push(data);
    }
    found
}

/// A notice and a build record of a small build with signatures.
pub fn of_signed_work() -> [Document; 2] {
    let before = job(SPEC);
    let after = job(&edited("final = \"#30\"", "final = \"#29\""));
    let mut ledger = Ledger::default();
    ledger.issue(&before, &[]);
    for (step, worked) in [("open", "2026-03-02"), ("deburr", "2026-03-03"), ("prime", "2026-03-04")] {
        ledger.sign("T1", step, worked, None);
    }
    let state = ledger.state();
    let facts = NoticeFacts { on: day("2026-04-01"), source: Some("plan change 7".into()), by: "B1".into() };
    let notice = notice(&after, &state, changes(&after, &state, &ledger.archived), &facts);
    let facts = BookFacts { sheets: &ledger.archived, head: Head::default(), on: day("2026-04-01"), tasks: None };
    let book = book(&before, &state, &facts);
    [notice.document(&after, None), book.document(&before, None, Thumbnails::new())]
}

#[test]
fn the_data_page_is_fresh_and_holds_all_that_templates_are_given() {
    let structures = Structures::read();
    let documents = documents();
    let (page, absent) = data_page(&structures, ROOTS, &documents);
    assert_eq!(absent, Vec::<String>::new(), "given to a template and described nowhere");
    let path = root().join("templates/DATA.md");
    if std::env::var_os("SHOPHEAD_BLESS").is_some() {
        std::fs::write(&path, &page).unwrap();
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(kept == page, "run the tests with SHOPHEAD_BLESS=1 and read the change of templates/DATA.md");
}

/// Keys below a value that are not kebab-case.
fn odd_keys(value: &Value, odd: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            for (key, inner) in fields {
                if !key.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-') {
                    odd.push(key.clone());
                }
                // The values of texts are by the ids of the builder, and by the names that texts use.
                if key != "values" {
                    odd_keys(inner, odd);
                }
            }
        }
        Value::Array(all) => all.iter().for_each(|inner| odd_keys(inner, odd)),
        _ => {}
    }
}

#[test]
fn every_key_that_templates_are_given_is_kebab_case() {
    let mut odd = Vec::new();
    documents().values().flatten().for_each(|data| odd_keys(data, &mut odd));
    assert_eq!(odd, Vec::<String>::new());
    odd_keys(&serde_json::json!({ "one": [{ "two_words": 1 }] }), &mut odd);
    assert_eq!(odd, ["two_words"], "and it finds one");
}

/// What a template is given and none reads is either for programs, or nobody's.
#[test]
fn every_key_is_read_by_a_template_or_is_for_programs() {
    let unread = read::unread(&Structures::read(), ROOTS);
    let listed = read::FOR_PROGRAMS.iter().map(|(structure, keys)| {
        (String::from(*structure), keys.iter().copied().map(String::from).collect::<BTreeSet<_>>())
    });
    assert_eq!(unread, listed.collect(), "left: read by no template; right: listed as for programs");
}

#[test]
fn a_value_that_no_structure_describes_is_found() {
    let mut documents = documents();
    documents.get_mut("packet.typ.j2").unwrap()[0]["cover"]["surprise"] = "x".into();
    documents.get_mut("board.typ.j2").unwrap()[0]["surprise"] = "x".into();
    let (_, absent) = data_page(&Structures::read(), ROOTS, &documents);
    assert_eq!(absent, ["packet.typ.j2: cover.surprise", "board.typ.j2: surprise"]);
}
