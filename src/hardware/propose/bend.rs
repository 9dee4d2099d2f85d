//! The bend of a sheet: least inside radius, set-back, and how a radius stands to the table.
//!
//! The table is for 90 degrees; for other angles it is the nearest that there is, and the answer says so.

use super::NoProposal;
use crate::hardware::source::Graded;
use crate::hardware::{BendMinimum, bend_alloys, bend_minimum, limit, setback};
use crate::units::{Length, Style};

/// What the table says of a bend.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BendProposal {
    /// The least radius by the columns around the thickness.
    pub minimum: Graded<BendMinimum>,
    /// The radius asked about, with its set-back and verdict.
    pub asked: Option<(Length, Length, BendVerdict)>,
}

/// How a radius stands to the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BendVerdict {
    /// Below the least radius of either column.
    TooTight,
    /// Between the columns: enough by one, not by the other.
    Doubtful,
    /// Enough by both.
    Passes,
}

impl BendVerdict {
    /// The verdict in words.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::TooTight => "too tight",
            Self::Doubtful => "doubtful",
            Self::Passes => "passes",
        }
    }

    /// How a radius stands to the least one, give or take what a die in thirty-seconds of an inch is off.
    #[must_use]
    pub fn of(radius: Length, minimum: &BendMinimum) -> Self {
        let reaches = |least: Length| radius.reaches(least, limit::bend_slack().value);
        if !reaches(minimum.least) {
            Self::TooTight
        } else if reaches(minimum.cautious) {
            Self::Passes
        } else {
            Self::Doubtful
        }
    }
}

/// What the table says of a bend of an angle, in thousandths of a degree, with or without a radius.
///
/// # Errors
/// When the table lacks the material or the thickness, or the angle has no set-back.
pub fn propose_bend(
    material: &str,
    thickness: Length,
    radius: Option<Length>,
    angle: i64,
    style: &Style,
) -> Result<BendProposal, NoProposal> {
    let minimum = bend_minimum(material, thickness).filter(|_| thickness > Length::ZERO);
    let minimum = minimum.ok_or_else(|| {
        let alloys: Vec<&str> = bend_alloys().collect();
        let listed = alloys.join(", ");
        NoProposal(format!(
            "Table 4-6 does not list `{material}` in {}; it has {listed}, up to {} thick",
            style.length(thickness),
            style.length(Length::from_mils(258))
        ))
    })?;
    let asked = radius.map(|radius| {
        let setback = setback(angle, radius, thickness);
        let setback =
            setback.ok_or_else(|| NoProposal("the angle of a bend must be from 0 to below 180 degrees".to_owned()))?;
        Ok((radius, setback, BendVerdict::of(radius, &minimum.value)))
    });
    Ok(BendProposal { asked: asked.transpose()?, minimum })
}
