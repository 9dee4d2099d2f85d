//! What the tables promise: a call built from any row passes every rule of its family, one step out fails the rule concerned.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use proptest::prelude::*;
use shophead::hardware::{
    BlindRivet, Bolt, BoltSeries, Fastener, SolidRivet, countersink_minimum, decode, every_call, holes_for,
    standard_sheets,
};
use shophead::report::Severity;
use shophead::units::{Length, Ratio};

use super::{Judged, judge_joint};

/// Just beyond the slack on edges, pitches and lengths.
const STEP: Length = Length::from_ten_thousandths(6);
/// The least difference that the file format can tell in a hole: nothing is given away there.
const TENTH_MIL: Length = Length::from_ten_thousandths(1);

static CALLS: LazyLock<Vec<Fastener>> =
    LazyLock::new(|| every_call().map(|call| decode(&call, &[]).unwrap()).collect());
static SOLID: LazyLock<Vec<SolidRivet>> = LazyLock::new(|| {
    let solid = CALLS
        .iter()
        .filter_map(|fastener| if let Fastener::SolidRivet(rivet) = fastener { Some(rivet.clone()) } else { None });
    solid
        .filter(|rivet| {
            rivet.length.is_some_and(|length| length - rivet.diameter.times(Ratio(1_500)) >= Length::from_mils(32))
        })
        .collect()
});
static BLIND: LazyLock<Vec<BlindRivet>> = LazyLock::new(|| {
    let blind = CALLS
        .iter()
        .filter_map(|fastener| if let Fastener::BlindRivet(rivet) = fastener { Some(rivet.clone()) } else { None });
    blind.filter(|rivet| rivet.grip.is_some()).collect()
});

/// One joint to judge; changed one fact at a time.
#[derive(Clone)]
struct Trial {
    call: String,
    stack: [Length; 2],
    prepare: &'static str,
    hole: Length,
    edge: Length,
    pitch: Length,
    structure: &'static str,
    /// Further keys of the joint.
    rest: String,
}

impl Trial {
    fn judge(&self) -> Judged {
        let Self { call, prepare, structure, .. } = self;
        // Millimetres are exact to the last nanometre.
        let mm = |length: Length| format!("{} mm", length.mm_exact());
        let (hole, edge, pitch) = (mm(self.hole), mm(self.edge), mm(self.pitch));
        let joint = format!(
            "fastener = \"{call}\"\nholes = {{ final = \"{hole}\" }}\nedge = \"{edge}\"\npitch = \"{pitch}\"\n\
             structure = \"{structure}\"\naccess = \"both sides\"\nprepare = [{prepare}]\nwet = \"sealant\"\n{}",
            self.rest
        );
        let [outer, inner] = self.stack.map(mm);
        judge_joint([&outer, &inner], &joint)
    }

    fn fires(&self, rule: &str) -> bool {
        !self.judge().of(rule).is_empty()
    }

    /// Findings that weigh more than a note; that the stack is computed, no standard sheet, and thin or thick for its
    /// rivet, is not what is tried.
    fn heavy(&self) -> Vec<String> {
        let judged = self.judge();
        let standing = judged.standing().filter(|finding| !COMPUTED.contains(&finding.rule));
        standing
            .filter(|finding| finding.severity != Severity::Note)
            .map(|f| format!("{}: {}", f.rule, f.message))
            .collect()
    }
}

/// What is said of a stack whose sheets are computed from a length.
const COMPUTED: [&str; 4] =
    ["sheet-not-standard", "rivet-large-for-sheet", "rivet-small-for-sheet", "stack-thick-for-rivet"];

fn halves(stack: Length) -> [Length; 2] {
    let outer = Length::from_nm(stack.nm() / 2);
    [outer, stack - outer]
}

/// A joint that suits a solid rivet in every way; none where no preparation suits its flush head.
fn suited(rivet: &SolidRivet, hole: Length) -> Option<Trial> {
    let (d, length) = (rivet.diameter, rivet.length?);
    let stack = halves(length - d.times(Ratio(1_500)));
    // A wide hole through a thick stack wants more than 1.5 D.
    let best = rivet.with_length(*rivet.lengths_for(stack[0] + stack[1], hole).first()?);
    let prepare = match countersink_minimum(d, rivet.head) {
        _ if !rivet.head.is_flush() => "\"plain\", \"plain\"",
        _ if stack.iter().all(|layer| *layer <= Length::from_mils(40)) => "\"dimple\", \"dimple\"",
        Some(least) if stack[0] >= least.value => "\"countersink\", \"plain\"",
        _ => return None,
    };
    let weak = d < Length::from_64ths(6) || rivet.alloy.is_some_and(|alloy| !alloy.structural);
    let structure = if weak { "none" } else { "primary" };
    Some(Trial {
        call: best.call.usual,
        stack,
        prepare,
        hole,
        edge: d * 3,
        pitch: d * 5,
        structure,
        rest: String::new(),
    })
}

fn holes(rivet: &SolidRivet) -> Vec<Length> {
    let rows = holes_for(&Fastener::SolidRivet(rivet.clone()));
    rows.iter().flat_map(|row| [row.low, row.size.length, row.high]).collect()
}

proptest! {
    #[test]
    fn a_solid_rivet_of_any_row_in_any_listed_hole_passes(pick in any::<prop::sample::Index>(), which in any::<prop::sample::Index>()) {
        let rivet = pick.get(&SOLID);
        let trial = suited(rivet, *which.get(&holes(rivet)));
        prop_assume!(trial.is_some());
        let heavy = trial.unwrap().heavy();
        prop_assert!(heavy.is_empty(), "{}: {heavy:?}", rivet.call.usual);
    }

    #[test]
    fn the_next_length_out_fails(pick in any::<prop::sample::Index>()) {
        let rivet = pick.get(&SOLID);
        let hole = holes(rivet)[0];
        let trial = suited(rivet, hole);
        prop_assume!(trial.is_some());
        let trial = trial.unwrap();
        let lengths = rivet.lengths_for(trial.stack[0] + trial.stack[1], hole);
        for length in &lengths {
            let same = Trial { call: rivet.with_length(*length).call.usual, ..trial.clone() };
            prop_assert!(same.heavy().is_empty(), "{}: {:?}", same.call, same.heavy());
        }
        let (longest, shortest) = (*lengths.iter().max().unwrap(), *lengths.iter().min().unwrap());
        let half = Length::from_64ths(2);
        let long = Trial { call: rivet.with_length(longest + half).call.usual, ..trial.clone() };
        prop_assert!(long.fires("rivet-long"), "{}", long.call);
        if shortest > half * 2 {
            let short = Trial { call: rivet.with_length(shortest - half).call.usual, ..trial.clone() };
            prop_assert!(short.fires("rivet-short"), "{}", short.call);
        }
    }

    #[test]
    fn the_next_hole_out_fails(pick in any::<prop::sample::Index>()) {
        let rivet = pick.get(&SOLID);
        let all = holes(rivet);
        let trial = suited(rivet, all[0]);
        prop_assume!(trial.is_some());
        let trial = trial.unwrap();
        let above = Trial { hole: *all.iter().max().unwrap() + TENTH_MIL, ..trial.clone() };
        let below = Trial { hole: *all.iter().min().unwrap() - TENTH_MIL, ..trial };
        prop_assert!(above.fires("hole-too-large") && !above.fires("hole-too-small"));
        prop_assert!(below.fires("hole-too-small") && !below.fires("hole-too-large"));
    }

    #[test]
    fn the_next_size_in_the_same_hole_and_at_the_same_edge_fails(pick in any::<prop::sample::Index>()) {
        let rivet = pick.get(&SOLID);
        let Some(next) = SOLID.iter().find(|other| Some(other.diameter) == rivet.next_larger() && other.head == rivet.head) else { return Ok(()) };
        let trial = suited(rivet, holes(rivet)[0]);
        prop_assume!(trial.is_some());
        let trial = Trial { edge: rivet.diameter * 2, ..trial.unwrap() };
        prop_assert!(!trial.fires("edge-distance-short") && trial.fires("edge-no-room-for-next-size"));
        let larger = Trial { call: next.call.usual.clone(), ..trial };
        prop_assert!(larger.fires("hole-too-small") && larger.fires("edge-distance-short"));
    }

    #[test]
    fn edge_and_pitch_just_below_their_limits_fail(pick in any::<prop::sample::Index>()) {
        let rivet = pick.get(&SOLID);
        let trial = suited(rivet, holes(rivet)[0]);
        prop_assume!(trial.is_some());
        let (trial, d) = (trial.unwrap(), rivet.diameter);
        let edge_short = Trial { edge: d * 2 - STEP, ..trial.clone() };
        let edge_long = Trial { edge: d * 4 + STEP, ..trial.clone() };
        let pitch_short = Trial { pitch: d * 3 - STEP, ..trial.clone() };
        let pitch_long = Trial { pitch: d * 12 + STEP, ..trial };
        prop_assert!(edge_short.fires("edge-distance-short") && edge_long.fires("edge-distance-long"));
        prop_assert!(pitch_short.fires("pitch-short") && pitch_long.fires("pitch-long"));
    }

    #[test]
    fn a_blind_rivet_passes_in_its_grip_and_fails_beside_it(pick in any::<prop::sample::Index>(), share in 0_i64..=100) {
        let rivet = pick.get(&BLIND);
        let (low, high) = rivet.grip.unwrap();
        let stack = low + (high - low).fraction(share, 100);
        prop_assume!(stack > Length::from_mils(10));
        let row = holes_for(&Fastener::BlindRivet(rivet.clone())).into_iter().find(|row| row.nominal).unwrap();
        let prepare = if rivet.head.is_flush() { "\"dimple\", \"dimple\"" } else { "\"plain\", \"plain\"" };
        let d = rivet.diameter;
        let call = rivet.call.usual.clone();
        let trial = Trial { call, stack: halves(stack), prepare, hole: row.size.length, edge: d * 3, pitch: d * 5, structure: "secondary", rest: String::new() };
        let heavy: Vec<String> = trial.heavy().into_iter().filter(|line| !line.starts_with("dimple-too-thick")).collect();
        prop_assert!(heavy.is_empty(), "{}: {heavy:?}", trial.call);
        let above = Trial { stack: halves(high + STEP), ..trial.clone() };
        prop_assert!(above.fires("grip-out-of-range"), "{} over {}", above.call, crate::INCH.length(high + STEP));
        if low > STEP {
            let below = Trial { stack: halves(low - STEP), ..trial };
            prop_assert!(below.fires("grip-out-of-range"), "{} over {}", below.call, crate::INCH.length(low - STEP));
        }
    }

    #[test]
    fn a_length_taken_from_the_stack_passes(pick in any::<prop::sample::Index>(), one in any::<prop::sample::Index>(), other in any::<prop::sample::Index>()) {
        let rivet = pick.get(&SOLID);
        let sheets: Vec<Length> = standard_sheets().collect();
        let stack = [*one.get(&sheets), *other.get(&sheets)];
        let stem = rivet.call.usual.rsplit_once('-').unwrap().0.to_owned();
        let trial = Trial { call: stem, stack, ..suited(rivet, holes(rivet)[0]).unwrap_or_else(|| Trial {
            call: String::new(), stack, prepare: "\"plain\", \"plain\"", hole: holes(rivet)[0], edge: rivet.diameter * 3, pitch: rivet.diameter * 5, structure: "none", rest: String::new() }) };
        prop_assert!(!trial.fires("rivet-short") && !trial.fires("rivet-long"), "{} over {stack:?}", trial.call);
    }
}

#[test]
fn every_listed_bolt_hole_passes_and_the_next_one_out_is_found() {
    let mut seen = BTreeSet::new();
    for fastener in CALLS.iter().filter(|fastener| matches!(fastener, Fastener::Bolt(_))) {
        let rows = holes_for(fastener);
        // One bolt for every list of holes: length and letters change nothing here.
        if !seen.insert((fastener.diameter(), rows.len())) {
            continue;
        }
        let (Some(low), Some(high)) = (rows.iter().map(|row| row.low).min(), rows.iter().map(|row| row.high).max())
        else {
            continue;
        };
        let d = fastener.diameter().unwrap();
        let quarter = Length::from_mils(250);
        let call = fastener.usual_call().to_owned();
        let trial = Trial {
            call,
            stack: [quarter; 2],
            prepare: "\"plain\"",
            hole: low,
            edge: d * 2,
            pitch: d * 5,
            structure: "primary",
            rest: String::new(),
        };
        for hole in rows.iter().flat_map(|row| [row.low, row.size.length, row.high]) {
            let inside = Trial { hole, ..trial.clone() };
            assert!(!inside.fires("hole-too-small") && !inside.fires("hole-too-large"), "{} in {hole:?}", inside.call);
        }
        assert!(Trial { hole: high + TENTH_MIL, ..trial.clone() }.fires("hole-too-large"), "{}", trial.call);
        assert!(Trial { hole: low - TENTH_MIL, ..trial.clone() }.fires("hole-too-small"), "{}", trial.call);
    }
}

/// A bolt through a stack of its grip, with the nut, washer and pin of its size.
fn suited_bolt(bolt: &Bolt) -> Option<Trial> {
    let (grip, thread) = (bolt.grip.as_ref()?.value, bolt.thread?);
    let size = thread.sixteenths()?;
    let nominal = holes_for(&Fastener::Bolt(bolt.clone())).into_iter().find(|row| row.nominal)?;
    let pin = match size {
        3..=5 => "MS24665-132",
        6..=8 => "MS24665-283",
        _ => "MS24665-353",
    };
    let nut = if bolt.drilled_shank { format!("AN310-{size}\"\ncotter = \"{pin}") } else { format!("MS21044N{size}") };
    let rest = format!("nut = \"{nut}\"\nwashers = {{ nut = [\"NAS1149F{size:02}63P\"] }}");
    let (d, call) = (bolt.diameter, bolt.call.usual.clone());
    let (hole, edge, pitch) = (nominal.size.length, d * 3, d * 5);
    Some(Trial { call, stack: halves(grip), prepare: "\"plain\"", hole, edge, pitch, structure: "secondary", rest })
}

#[test]
fn a_bolt_through_a_stack_of_its_grip_passes_and_the_next_dash_out_fails() {
    let mut tried = 0;
    // Every seventh call meets every size, dash and ending, and does not take minutes.
    for fastener in CALLS.iter().filter(|fastener| matches!(fastener, Fastener::Bolt(_))).step_by(7) {
        let Fastener::Bolt(bolt) = fastener else { continue };
        let Some(trial) = suited_bolt(bolt) else { continue };
        tried += 1;
        assert!(trial.heavy().is_empty(), "{}: {:?}", trial.call, trial.heavy());
        let dashes = bolt.dashes();
        let at = dashes.iter().position(|dash| Some(*dash) == bolt.dash).unwrap();
        // A dash of the AN series is 1/8 in of grip, one of the NAS series 1/16, which the washer takes up.
        let out = if bolt.series == BoltSeries::Nas { 2 } else { 1 };
        let long = Trial { call: bolt.with_dash(dashes[at + out]).call.usual, ..trial.clone() };
        assert!(long.fires("grip-long"), "{}", long.call);
        if let Some(shorter) = at.checked_sub(out) {
            let short = Trial { call: bolt.with_dash(dashes[shorter]).call.usual, ..trial };
            assert!(short.fires("grip-short"), "{}", short.call);
        }
    }
    assert!(tried > 40, "{tried}");
}

#[test]
fn the_tables_hold_enough_rows_to_try() {
    assert!(SOLID.len() > 1_000 && BLIND.len() > 40, "{} solid, {} blind", SOLID.len(), BLIND.len());
}
