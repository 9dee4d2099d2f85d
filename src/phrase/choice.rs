//! Which form of a phrase a number takes, as the file of a language states it: `"1"`, `"0-1"`, `"*2-4 not *12-14"`.
//!
//! A choice is a list of numbers and ranges, with a star for the last digits; what stands behind `not` is left out. It is no
//! language of its own: no sums, no nesting.

/// One choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Choice {
    taken: Vec<Range>,
    left_out: Vec<Range>,
}

/// Numbers from one to another; with a remainder, the last digits alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Range {
    from: u64,
    to: u64,
    /// Ten to the number of last digits that count.
    last: Option<u64>,
}

/// Digits of a number of a choice.
const MOST_DIGITS: usize = 6;

impl Choice {
    /// Reads one; nothing where it is none.
    pub(super) fn parse(text: &str) -> Option<Self> {
        let mut own = Self { taken: Vec::new(), left_out: Vec::new() };
        let mut out = false;
        for word in text.split_whitespace() {
            match (word, Range::parse(word)) {
                ("not", _) if !out => out = true,
                (_, Some(range)) if out => own.left_out.push(range),
                (_, Some(range)) => own.taken.push(range),
                (_, None) => return None,
            }
        }
        (!own.taken.is_empty() && out != own.left_out.is_empty()).then_some(own)
    }

    pub(super) fn takes(&self, number: u64) -> bool {
        let any = |ranges: &[Range]| ranges.iter().any(|range| range.holds(number));
        any(&self.taken) && !any(&self.left_out)
    }
}

impl Range {
    fn parse(word: &str) -> Option<Self> {
        let digits = word.strip_prefix('*');
        let (from, to) = digits.unwrap_or(word).split_once('-').unwrap_or((digits.unwrap_or(word), ""));
        let number = |text: &str| {
            let plain = !text.is_empty() && text.len() <= MOST_DIGITS && text.bytes().all(|b| b.is_ascii_digit());
            plain.then(|| text.parse::<u64>().ok()).flatten()
        };
        let wide = u32::try_from(from.len().max(to.len())).ok()?;
        let last = digits.is_some().then(|| 10_u64.pow(wide));
        let first = number(from)?;
        let own = Self { from: first, to: if to.is_empty() { first } else { number(to)? }, last };
        (own.from <= own.to && !word.ends_with('-')).then_some(own)
    }

    fn holds(self, number: u64) -> bool {
        let number = self.last.map_or(number, |last| number % last);
        (self.from..=self.to).contains(&number)
    }
}
