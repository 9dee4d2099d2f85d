//! One packet for both hands: a place for each hand wherever something is written, and no fact of one hand lost.

use std::collections::{BTreeMap, BTreeSet};

use shophead::job::{Hand, Job, Order, State};
use shophead::plan::{AtPrinting, Document, Options, Packet, Source, StepRun, packet, packet_of_both};
use shophead::render::{BoxPlace, Laid};
use shophead::report::Report;
use shophead::text::Files;
use shophead::words::Packets;

use crate::build::bracket::{BRACKET, FAIRING, PROJECT, job, set_open};
use crate::build::shop::job_of;
use crate::build::stand;
use crate::render::{laid, packed, whole};

/// The bracket with a space that each hand has for itself, and a text that the hands read differently.
fn handed() -> (String, String) {
    let project = PROJECT
        .replace("hold = \"technical counselor\"", "hold = \"technical counselor\"\nhands = [\"left\", \"right\"]");
    let apart = "text = \"Arrow to the {{ traveler.hand }} tip.\"\ndo = \"dimple\"";
    (project, BRACKET.replace("do = \"dimple\"", apart))
}

fn source<'a>(job: &'a Job, report: &'a Report, hand: Hand) -> Source<'a> {
    Source::of_specs(job, 0, Some(hand), report, Options::default())
}

fn both(job: &Job, report: &Report) -> Packet {
    packet_of_both(source(job, report, Hand::Left), source(job, report, Hand::Right)).unwrap()
}

fn handed_job() -> (Job, Report) {
    let (project, bracket) = handed();
    let (job, report) = job(&project, &[&bracket, FAIRING]);
    assert_eq!(report.findings, []);
    (job, report)
}

#[test]
fn it_names_both_hands_and_both_sheets() {
    let (job, report) = handed_job();
    let packet = both(&job, &report);
    assert_eq!(packet.stem(), "T-1-both-hands");
    assert_eq!(packet.head.hands, ["left", "right"]);
    let codes: Vec<String> = [Hand::Left, Hand::Right]
        .into_iter()
        .map(|hand| shophead::work::packet_digest(&job, 0, Some(hand)).code().to_string())
        .collect();
    assert_eq!(packet.head.codes, codes);
    assert_eq!(packet.head.code, Some(codes.join("+")));
    for page in laid(&packet.document()).page_texts() {
        let head = packed(&page);
        let named = format!("LEFT{}RIGHT{}", codes[0], codes[1]);
        assert!(head.contains(&named) && head.contains("LEFT+RIGHT"), "{named} is not on\n{page}");
    }
}

/// What a box is for, whoever's it is.
type Place = (String, String, String);

fn place(one: &BoxPlace) -> Place {
    (one.step.clone(), one.role.clone(), one.field.clone())
}

fn by_place(pages: &Laid) -> BTreeMap<Place, Vec<BoxPlace>> {
    let mut all: BTreeMap<Place, Vec<BoxPlace>> = BTreeMap::new();
    for one in pages.boxes().unwrap() {
        all.entry(place(&one)).or_default().push(one);
    }
    all
}

/// Parts of a packet that are not one hand's.
const SHARED: [&str; 2] = ["signature-log", "prepare"];

fn assert_a_box_a_hand(two: &Packet, one: Packet) {
    let boxes = by_place(&laid(&two.document()));
    let alone = by_place(&laid(&set_open(one).document()));
    let all: BTreeSet<&Place> = boxes.keys().chain(alone.keys()).collect();
    assert!(all.len() > 30, "{}", all.len());
    for place in all {
        let found = boxes.get(place).map_or(&[] as &[BoxPlace], Vec::as_slice);
        let hands: Vec<Option<&str>> = found.iter().map(|own| own.hand.as_deref()).collect();
        if SHARED.contains(&place.0.as_str()) {
            assert_eq!(hands, [None], "{place:?}");
            continue;
        }
        assert_eq!(hands, [Some("left"), Some("right")], "{place:?}: left stands first");
        assert_eq!((found[0].page, found[0].y), (found[1].page, found[1].y), "{place:?}: side by side");
        assert_eq!(alone[place].len(), 1, "{place:?} is of a packet of one hand too");
        assert_eq!(alone[place][0].hand, None);
    }
}

#[test]
fn every_box_of_a_hand_has_one_of_the_other_beside_it() {
    let (job, report) = handed_job();
    assert_a_box_a_hand(&both(&job, &report), packet(source(&job, &report, Hand::Left)).unwrap());
}

#[test]
fn an_excerpt_has_boxes_for_both_as_well() {
    let (job, report) = handed_job();
    let some = |hand| {
        let source = source(&job, &report, hand);
        Source { options: Options { steps: Some(StepRun { first: 1, last: 6 }), ..source.options }, ..source }
    };
    let two = packet_of_both(some(Hand::Left), some(Hand::Right)).unwrap();
    assert_eq!(two.stem(), "T-1-both-hands-020-070");
    let boxes = laid(&two.document()).boxes().unwrap();
    let counts = |hand: &str| boxes.iter().filter(|one| one.hand.as_deref() == Some(hand)).count();
    assert!(counts("left") > 20 && counts("left") == counts("right"), "{} {}", counts("left"), counts("right"));
}

/// The words of a document that say something: no numbers of pages, no captions of boxes.
fn words_of(document: &Document) -> BTreeSet<String> {
    let captions = ["initials", "Revision", "hand", "LEFT", "RIGHT"];
    let texts = laid(document).page_texts().join(" ");
    let words = texts.split_whitespace().map(|word| word.trim_matches(|c: char| ",;.:()".contains(c)));
    let says = |word: &&str| word.chars().any(char::is_alphabetic) && !captions.contains(word);
    words.filter(says).map(str::to_owned).collect()
}

#[test]
fn no_word_of_either_hand_is_lost() {
    let (job, report) = handed_job();
    let (order, state) = (Order::of(&job), open_at_left(&job));
    let work = AtPrinting::of(&job, &order, &state);
    let at = |hand| Source { work: Some(&work), ..source(&job, &report, hand) };
    let two = words_of(&packet_of_both(at(Hand::Left), at(Hand::Right)).unwrap().document());
    for hand in [Hand::Left, Hand::Right] {
        let one = words_of(&set_open(packet(at(hand)).unwrap()).document());
        let lost: Vec<&String> = one.difference(&two).collect();
        assert_eq!(lost, [] as [&String; 0], "{hand}");
    }
}

/// The left hand is riveted, and has a discrepancy.
fn open_at_left(job: &Job) -> State {
    let done = |(step, more): (&str, &str)| {
        format!("[[sign]]\nstep = \"T-1/{step}\"\nhand = \"left\"\non = {more}\nby = \"B1\"\n")
    };
    let steps = [
        ("drill", "2026-03-01"),
        ("pivot-hole", "2026-03-01\nreadings = { pivot = \"0.1880\" }"),
        ("dimple", "2026-03-01"),
        ("prime", "2026-03-01"),
        ("rivet", "2026-03-03"),
    ];
    let signed: String = steps.into_iter().map(done).collect();
    let wrong = "[[discrepancy]]\nnumber = \"7\"\nstep = \"T-1/rivet\"\nhand = \"left\"\nwhat = \"hole long\"\n";
    let (_, state, report) = stand(job, &mut Files::default(), &(signed + wrong));
    assert_eq!(report.findings, []);
    state
}

#[test]
fn what_differs_between_the_hands_stands_with_its_hand() {
    let (job, report) = handed_job();
    let (order, state) = (Order::of(&job), open_at_left(&job));
    let work = AtPrinting::of(&job, &order, &state);
    let at = |hand| Source { work: Some(&work), ..source(&job, &report, hand) };
    let two = packet_of_both(at(Hand::Left), at(Hand::Right)).unwrap();
    let step = |id: &str| two.steps.iter().find(|step| step.id == id).unwrap();
    assert_eq!(step("rivet").discrepancies, ["LEFT: 7: hole long"]);
    assert_eq!(step("close").closes, ["Left bay behind the spar (left)", "Left bay behind the spar (right)"]);
    let looks: Vec<(Option<&str>, &str)> =
        step("close").last_looks.iter().map(|look| (look.hand, look.space.as_str())).collect();
    assert_eq!(
        looks,
        [
            (Some("left"), "Left bay behind the spar (left)"),
            (Some("right"), "Left bay behind the spar (right)"),
            // What is seen for both.
            (None, ""),
        ]
    );
    let open = two.head.open.clone().unwrap();
    assert!(open.starts_with("LEFT: ") && open.contains("1 discrepancy"), "{open}");
    let text = whole(&laid(&two.document()));
    for said in [
        "LEFT: Arrow to the left tip.",
        "RIGHT: Arrow to the right tip.",
        "Open discrepancy LEFT: 7: hole long",
        "counts and times of steps and joints are those of one hand",
    ] {
        assert!(text.contains(&packed(said)), "{said} is not in\n{text}");
    }
    assert_eq!(text.matches("Holestodrillsize").count(), 0);
}

#[test]
fn what_is_laid_out_is_counted_for_both() {
    let (job, report) = handed_job();
    let one = packet(source(&job, &report, Hand::Left)).unwrap().preparation;
    let two = both(&job, &report).preparation;
    assert_eq!(two.pieces, 2 * one.pieces);
    for (both, own) in two.hardware.iter().zip(&one.hardware) {
        assert_eq!((&both.call, both.total), (&own.call, 2 * own.total));
        assert!(both.pull <= 2 * own.pull, "{}: spares for both are not more than for each", both.call);
    }
    assert_eq!(two.tools, one.tools, "the same tools do both");
}

#[test]
fn the_spec_asks_for_it_where_there_are_two_hands() {
    let asked = BRACKET.replace("hands = ", "packet = \"both hands\"\nhands = ");
    let (job, _, report) = job_of(PROJECT, &[&asked, FAIRING]);
    assert_eq!(report.findings, []);
    assert_eq!(job.travelers[0].packet.as_ref().map(|own| own.value), Some(Packets::BothHands));
    let (job, _, report) = job_of(PROJECT, &[BRACKET, &FAIRING.replace("after", "packet = \"both hands\"\nafter")]);
    assert_eq!(job.travelers.len(), 2);
    let said: Vec<(&str, &str)> = report.findings.iter().map(|own| (own.rule, own.message.as_str())).collect();
    assert_eq!(said, [("value-invalid", "`both hands` is a packet of two hands, and T-2 has not two")]);
}
