//! The blind rivet for a stack: the one whose grip range holds it, and its holes.
//!
//! It does not say whether a blind rivet may stand there at all.

use super::{NoProposal, thickness};
use crate::hardware::{BlindRivet, Fastener, Head, ListedHole, commercial_blind_for, decode, holes_for};
use crate::units::{Length, Style};

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
pub fn propose_blind(
    question: BlindQuestion<'_>,
    layers: &[Length],
    style: &Style,
) -> Result<BlindProposal, NoProposal> {
    let stack = thickness(layers)?;
    let found = match question {
        BlindQuestion::Commercial(diameter, head) => commercial_blind_for(stack, diameter, head),
        BlindQuestion::Call(rivet) => rivet.fitting(stack),
    };
    let Some((rivet, grip)) = found.and_then(|rivet| rivet.grip.map(|grip| (rivet, grip))) else {
        return Err(none_covers(question, stack, style));
    };
    let holes = holes_for(&Fastener::BlindRivet(rivet.clone()));
    Ok(BlindProposal { rivet, stack, grip, holes })
}

/// Diameters of the commercial codes in 1/32 in.
const DASHES: [u16; 5] = [3, 4, 5, 6, 8];

fn none_covers(question: BlindQuestion<'_>, stack: Length, style: &Style) -> NoProposal {
    let (diameter, name) = match question {
        BlindQuestion::Commercial(diameter, _) => (diameter, "commercial blind rivet"),
        BlindQuestion::Call(rivet) => (rivet.diameter, "blind rivet of this family"),
    };
    let size = style.rivet(diameter);
    let covered = style.length(stack);
    let ranges = match question {
        BlindQuestion::Commercial(diameter, _) => commercial_ranges(diameter, style),
        BlindQuestion::Call(_) => None,
    };
    NoProposal(match (ranges, question) {
        (Some(ranges), _) => format!("no {name} of {size} covers {covered}; the grips are {ranges}"),
        (None, BlindQuestion::Commercial(..)) => {
            let listed: Vec<String> = DASHES.iter().map(|dash| style.rivet(Length::from_32nds(*dash))).collect();
            format!("no {name} of {size} is listed; they come in {}", listed.join(", "))
        }
        (None, BlindQuestion::Call(_)) => {
            format!("no {name} in {size} covers {covered}; another diameter or family may")
        }
    })
}

/// Every grip range of a diameter, thinnest first: `0.020 to 0.062 in, 0.063 to 0.125 in`.
fn commercial_ranges(diameter: Length, style: &Style) -> Option<String> {
    let dash = DASHES.into_iter().find(|dash| Length::from_32nds(*dash) == diameter)?;
    let known = (1..=12).filter_map(|sixteenths| decode(&format!("IFI114-{dash}{sixteenths}"), &[]).ok());
    let grips = known.filter_map(|fastener| match fastener {
        Fastener::BlindRivet(rivet) => rivet.grip,
        _ => None,
    });
    let words: Vec<String> = grips.map(|(low, high)| style.range(low, high)).collect();
    (!words.is_empty()).then(|| words.join(", "))
}
