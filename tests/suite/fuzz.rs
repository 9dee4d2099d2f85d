//! Damaged input of every kind, made from good input by random edits: nothing panics, hangs or loses what was recorded.
//!
//! It runs on the stable compiler, in this process, without watching what code is reached: a fuzzer that does that needs the
//! whole tree built once more for it. `SHOPHEAD_FUZZ_SECONDS=600 cargo test --release -- --ignored fuzz::` runs each target
//! that long; a plain test run tries a few hundred inputs of each. What fails is left in `target/fuzz/`.

mod mutate;
mod target;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::time::{Duration, Instant};

use mutate::Mutator;
use target::{TARGETS, Target};

use crate::build::shop::root;

/// Longest that one input may take; the machine may be busy with other things.
const LONGEST: Duration = Duration::from_secs(30);

/// What came of a target.
#[derive(Debug, Default)]
struct Tally {
    inputs: u64,
    slowest: Duration,
}

fn left_at(target: &Target) -> PathBuf {
    let folder = root().join("target/fuzz");
    std::fs::create_dir_all(&folder).unwrap();
    folder.join(target.name)
}

/// Tries inputs until there were so many or the time is over. The input that is being tried lies on the disk, so that one
/// that ends the process is found there.
fn run(target: &Target, seed: u64, most: u64, time: Duration) -> Tally {
    let corpus = (target.corpus)();
    let mut mutator = Mutator::new(seed);
    let left = left_at(target);
    let began = Instant::now();
    let mut tally = Tally::default();
    while tally.inputs < most && began.elapsed() < time {
        let input = mutator.input(&corpus);
        std::fs::write(&left, &input).unwrap();
        let at = Instant::now();
        let tried = catch_unwind(AssertUnwindSafe(|| (target.attempt)(&input)));
        let took = at.elapsed();
        assert!(tried.is_ok(), "{}: the input in {} ends in a panic", target.name, left.display());
        assert!(took < LONGEST, "{}: the input in {} takes {took:?}", target.name, left.display());
        tally.inputs += 1;
        tally.slowest = tally.slowest.max(took);
    }
    std::fs::remove_file(left).unwrap();
    tally
}

#[test]
fn a_few_damaged_inputs_of_each_kind_are_taken_or_refused() {
    for target in TARGETS {
        let tally = run(target, 1, target.few, Duration::from_secs(20));
        assert!(tally.inputs > 0, "{}", target.name);
    }
}

#[allow(clippy::print_stdout)]
fn long(name: &str) {
    let time = std::env::var("SHOPHEAD_FUZZ_SECONDS").ok().and_then(|text| text.parse().ok()).unwrap_or(60);
    let seed = std::env::var("SHOPHEAD_FUZZ_SEED").ok().and_then(|text| text.parse().ok()).unwrap_or(2);
    let target = TARGETS.iter().find(|target| target.name == name).unwrap();
    let tally = run(target, seed, u64::MAX, Duration::from_secs(time));
    println!("{name:<10}{:>10} inputs in {time} s, the slowest {:?}", tally.inputs, tally.slowest);
}

/// A long run of each target, as a test that is not run with the others.
macro_rules! long_runs {
    ($($name:ident),+) => {
        $(#[test]
        #[ignore = "runs as long as it is told to"]
        fn $name() {
            long(stringify!($name));
        })+
    };
}

long_runs!(specs, calls, texts, templates, evenings, archives, pictures, scans);
