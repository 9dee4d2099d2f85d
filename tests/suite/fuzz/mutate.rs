//! Random edits of good input: bits, pieces, numbers, words of the trade, pieces of other inputs. The same seed, the same inputs.

use proptest::prelude::*;
use proptest::test_runner::{RngAlgorithm, TestRng};

/// Pieces that have hurt programs before.
const PIECES: &[&str] = &[
    "",
    "\u{0}",
    "\u{1b}[2J",
    "\u{202e}",
    "\u{2705}",
    "\u{fffd}",
    "\r",
    "\n\n",
    "\"",
    "'''",
    "\"\"\"",
    "[[",
    "]]",
    "{{",
    "}}",
    "{%",
    "%}",
    "{# ",
    "{{ joint.J1.call }}",
    "{% for i in range(9) %}",
    "{% endfor %}",
    "|join",
    "<",
    "/>",
    "<!--",
    "url(#a)",
    "![a](",
    "](b.svg)",
    "| a | b |\n|--|--|\n",
    "> > > > ",
    "- - - - ",
    "`",
    "#",
    "$",
    "\\",
    "-1",
    "0",
    "99999999999999999999",
    "1e308",
    "-0.0",
    "nan",
    "1/0",
    "2026-02-30",
    "9999-12-31",
    "0001-01-01T00:00",
    "24 h",
    "MS20470AD4-5",
    "NAS1149F0363P",
    "AN3-6A",
    "ISO 4017",
    "../../x",
    "a = { b = { c = [",
];

/// Makes inputs out of others.
pub struct Mutator {
    random: TestRng,
}

impl Mutator {
    pub fn new(seed: u64) -> Self {
        let mut bytes = [7; 32];
        bytes[..8].copy_from_slice(&seed.to_le_bytes());
        Self { random: TestRng::from_seed(RngAlgorithm::ChaCha, &bytes) }
    }

    fn below(&mut self, most: usize) -> usize {
        self.random.random_range(0..most.max(1))
    }

    /// One of the corpus after one to six edits.
    pub fn input(&mut self, corpus: &[Vec<u8>]) -> Vec<u8> {
        let mut input = corpus[self.below(corpus.len())].clone();
        for _ in 0..=self.below(6) {
            self.edit(&mut input, corpus);
        }
        input
    }

    fn edit(&mut self, input: &mut Vec<u8>, corpus: &[Vec<u8>]) {
        let at = self.below(input.len() + 1);
        let widest = 1 << self.below(9);
        let length = self.below(widest).min(input.len() - at);
        match self.below(9) {
            0 if at < input.len() => input[at] ^= 1 << self.below(8),
            1 if at < input.len() => input[at] = u8::try_from(self.below(256)).unwrap(),
            2 => drop(input.drain(at..at + length)),
            3 => {
                let piece = input[at..at + length].to_vec();
                let to = self.below(input.len() + 1);
                input.splice(to..to, piece);
            }
            4 => {
                let piece = input[at..at + length].repeat(1 << self.below(7));
                input.splice(at..at, piece);
            }
            5 => {
                let other = &corpus[self.below(corpus.len())];
                let from = self.below(other.len() + 1);
                let end = (from + length.max(8)).min(other.len());
                input.splice(at..at + length, other[from..end].to_vec());
            }
            6 => self.number(input),
            _ => {
                let piece = PIECES[self.below(PIECES.len())];
                input.splice(at..at + length.min(4), piece.bytes());
            }
        }
        input.truncate(1 << 20);
    }

    /// Another number in the place of one.
    fn number(&mut self, input: &mut Vec<u8>) {
        let digits: Vec<usize> = (0..input.len()).filter(|at| input[*at].is_ascii_digit()).collect();
        if let Some(at) = digits.get(self.below(digits.len())).copied() {
            let wide = input[at..].iter().take_while(|byte| byte.is_ascii_digit()).count();
            let new = ["0", "1", "7", "-3", "65536", "4294967296", "18446744073709551616", ".5"][self.below(8)];
            input.splice(at..at + wide, new.bytes());
        }
    }
}
