//! # cotter-reused
//!
//! ## What it checks
//! No step says that a cotter pin or safety wire is used again.
//!
//! ## Why it matters
//! A pin that was bent back is cracked where it bends, and a wire that was twisted breaks at the next twist.
//!
//! ## Source
//! - `AC-7-38` AC 43.13-1B, par. 7-38: cotter pins and safety wire are not used again (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! text = "Refit the nut and reuse the old cotter pin."
//! ```
//!
//! ## How to put it right
//! Write that a new pin or new wire is fitted.
//!
//! ## When to allow it
//! Never. Where the text says that it is not used again, and is found all the same, word it with `new`.

use crate::job::Step;
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

/// What must not be used again, and the words for using it again.
const THINGS: [&str; 5] = ["cotter", "split pin", "safety wire", "locking wire", "lockwire"];
const AGAIN: [&str; 6] = ["reuse", "re-use", "reusing", "re-using", "use again", "used again"];
/// Words that turn the sentence round.
const NOT: [&str; 5] = ["not ", "never", "n't", "no ", "instead of"];

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Step(look) };

fn look(step: &Step, _: &At<'_>, sink: &mut Sink<'_>) {
    for text in std::iter::once(&step.title).chain(&step.text) {
        let Some(sentence) = text.value.split(['.', ';', '!', '\n']).find(|sentence| says_so(sentence)) else {
            continue;
        };
        let message = format!("step {} uses a cotter pin or safety wire again: \"{}\"", step.id.value, sentence.trim());
        sink.push(sink.error(text.span, message).help("write that a new one is fitted"));
    }
}

fn says_so(sentence: &str) -> bool {
    let lower = sentence.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|word| lower.contains(word));
    has(&THINGS) && has(&AGAIN) && !has(&NOT)
}
