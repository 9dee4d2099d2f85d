//! A part as resolved: what its traveler says of it, else what the whole build knows.
//!
//! Plain data; what it means that two descriptions differ is for the rules.

use super::{Bend, Text};
use crate::hardware::sheet_equivalent;
use crate::spec::BuildPart;
use crate::text::{Span, Spanned};
use crate::units::{Size, Style};

/// One part of a traveler.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its entry in the traveler.
    pub span: Span,
    /// Part number.
    pub id: Text,
    /// Name on paper.
    pub name: Text,
    /// Pieces per hand.
    pub quantity: Spanned<u32>,
    /// Alloy and temper, or another material in words.
    pub material: Option<Text>,
    /// Sheet thickness.
    pub thickness: Option<Spanned<Size>>,
    /// A part that it is not to be taken for.
    pub look_alike: Option<Text>,
    /// Its tightest bend.
    pub bend: Option<Bend>,
    /// Whether it is on the aircraft before this traveler begins: it is neither laid out nor pulled.
    pub is_fitted: bool,
}

/// What is known of a part, wherever it is written.
#[derive(Debug, Clone, Copy)]
pub struct PartFacts<'a> {
    /// Name on paper.
    pub name: &'a Text,
    /// Material.
    pub material: Option<&'a Text>,
    /// Sheet thickness.
    pub thickness: Option<Spanned<Size>>,
    /// Its tightest bend.
    pub bend: Option<&'a Bend>,
}

impl Part {
    /// Number and name: `B1 Bracket`; the number alone where it has no other name.
    #[must_use]
    pub fn called(&self) -> String {
        match self.name_beside() {
            "" => self.id.value.clone(),
            name => format!("{} {name}", self.id.value),
        }
    }

    /// The name beside the number: nothing where it is the number.
    #[must_use]
    pub fn name_beside(&self) -> &str {
        if self.name.value == self.id.value { "" } else { &self.name.value }
    }

    /// What it says.
    #[must_use]
    pub const fn facts(&self) -> PartFacts<'_> {
        PartFacts {
            name: &self.name,
            material: self.material.as_ref(),
            thickness: self.thickness,
            bend: self.bend.as_ref(),
        }
    }
}

/// In what two descriptions of a part differ.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartDifference {
    /// What the one says.
    pub here: String,
    /// What the other says.
    pub there: String,
    /// Where the one says it.
    pub span: Span,
}

impl PartFacts<'_> {
    /// In what it differs from another description: a fact that one of the two does not give is no difference. Sheets that
    /// stand for each other are one thickness. Names do not count.
    #[must_use]
    pub fn difference(&self, other: &PartFacts<'_>, style: &Style) -> Option<PartDifference> {
        if let (Some(here), Some(there)) = (self.thickness, other.thickness)
            && !sheet_equivalent(here.value.length, there.value.length)
        {
            let said = |size: Spanned<Size>| style.length(size.value.length);
            return Some(PartDifference { span: here.span, here: said(here), there: said(there) });
        }
        if let (Some(here), Some(there)) = (self.material, other.material)
            && plain(&here.value) != plain(&there.value)
        {
            return Some(PartDifference { span: here.span, here: here.value.clone(), there: there.value.clone() });
        }
        let (here, there) = (self.bend?, other.bend?);
        let said =
            |bend: &Bend| format!("bent through {} deg at {}", bend.angle.value, style.length(bend.radius.value));
        let same = here.radius.value == there.radius.value && here.angle.value == there.angle.value;
        (!same).then(|| PartDifference { span: here.span, here: said(here), there: said(there) })
    }

    /// The same against what the whole build knows, where the name counts too: nobody writes it twice on purpose.
    #[must_use]
    pub fn difference_from_build(&self, known: &PartFacts<'_>, style: &Style) -> Option<PartDifference> {
        self.difference(known, style).or_else(|| {
            let same = plain(&self.name.value) == plain(&known.name.value);
            let quoted = |text: &str| format!("\u{201c}{text}\u{201d}");
            let there = quoted(&known.name.value);
            (!same).then(|| PartDifference { span: self.name.span, here: quoted(&self.name.value), there })
        })
    }
}

/// A text without what only the hand that typed it put there.
fn plain(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

impl<'a> From<&'a BuildPart> for PartFacts<'a> {
    fn from(part: &'a BuildPart) -> Self {
        Self { name: &part.name, material: part.material.as_ref(), thickness: part.thickness, bend: part.bend.as_ref() }
    }
}
