//! The blind rivet for a stack: the one whose grip range holds it, and its holes.
//!
//! It does not say whether a blind rivet may stand there at all.

use super::{NoProposal, thickness};
use crate::hardware::{BlindRivet, Fastener, Head, ListedHole, commercial_blind_for, decode, holes_for};
use crate::units::{Length, Size};

/// A blind rivet that fits a stack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BlindProposal {
    /// The rivet.
    pub rivet: BlindRivet,
    /// Thickness of the stack.
    pub stack: Length,
    /// Thinnest and thickest stack it fits.
    pub grip: (Length, Length),
    /// Every listed hole.
    pub holes: Vec<ListedHole>,
}

/// What a blind rivet is asked for by.
#[derive(Debug, Clone, Copy)]
pub enum BlindQuestion<'a> {
    /// Diameter and head of a commercial rivet.
    Commercial(Length, Head),
    /// A call of any family, with or without its grip.
    Call(&'a BlindRivet),
}

/// The blind rivet that fits a stack.
///
/// # Errors
/// When the stack is empty, or no rivet of the family and diameter covers it.
pub fn propose_blind(question: BlindQuestion<'_>, layers: &[Length]) -> Result<BlindProposal, NoProposal> {
    let stack = thickness(layers)?;
    let found = match question {
        BlindQuestion::Commercial(diameter, head) => commercial_blind_for(stack, diameter, head),
        BlindQuestion::Call(rivet) => rivet.fitting(stack),
    };
    let Some((rivet, grip)) = found.and_then(|rivet| rivet.grip.map(|grip| (rivet, grip))) else {
        return Err(none_covers(question, stack));
    };
    let holes = holes_for(&Fastener::BlindRivet(rivet.clone()));
    Ok(BlindProposal { rivet, stack, grip, holes })
}

fn none_covers(question: BlindQuestion<'_>, stack: Length) -> NoProposal {
    let (diameter, name) = match question {
        BlindQuestion::Commercial(diameter, _) => (diameter, "commercial blind rivet"),
        BlindQuestion::Call(rivet) => (rivet.diameter, "blind rivet of this family"),
    };
    let size = Size::plain(diameter).short();
    let ranges = match question {
        BlindQuestion::Commercial(diameter, _) => commercial_ranges(diameter),
        BlindQuestion::Call(_) => None,
    };
    NoProposal(match (ranges, question) {
        (Some(ranges), _) => format!("no {name} of {size} in covers {stack}; the grips are {ranges} in"),
        (None, BlindQuestion::Commercial(..)) => {
            let listed = "3/32, 1/8, 5/32, 3/16 and 1/4 in";
            format!("no {name} of {size} in is listed; they come in {listed}")
        }
        (None, BlindQuestion::Call(_)) => {
            format!("no {name} in {size} in covers {stack}; another diameter or family may")
        }
    })
}

/// Every grip range of a diameter, thinnest first: `0.020-0.062, 0.063-0.125`.
fn commercial_ranges(diameter: Length) -> Option<String> {
    let dash = [3_u16, 4, 5, 6, 8].into_iter().find(|dash| Length::from_32nds(*dash) == diameter)?;
    let known = (1..=12).filter_map(|sixteenths| decode(&format!("IFI114-{dash}{sixteenths}"), &[]).ok());
    let grips = known.filter_map(|fastener| match fastener {
        Fastener::BlindRivet(rivet) => rivet.grip,
        _ => None,
    });
    let words: Vec<String> = grips.map(|(low, high)| format!("{}-{}", low.inch_text(), high.inch_text())).collect();
    (!words.is_empty()).then(|| words.join(", "))
}
