//! The keys of a traveler file: the packet, its parts, the departures that are accepted.
//!
//! Joints and steps have files of their own. Nothing is resolved here: a part that nobody has heard of reads as well.

use super::fitted::Fitted;
use super::form::{Count, Distance, Filled, Id, IdOfFile, Markdown, Size, Table, Tables, Text, Texts, Word, Words};
use super::joint::JointSpec;
use super::list::section;
use super::picture::PictureSpec;
use super::step::StepEntry;
use crate::words::{Grain, Hand, Packets, Steps};

section! {
    /// A traveler file: one assembly.
    TravelerFile = "" {
        /// What the packet is.
        traveler "traveler": need Table<TravelerSpec> => work,
        /// Parts, in find-number order.
        parts "part": any Tables<PartSpec> => work,
        /// Sets of equal fasteners through one stack.
        joints "joint": any Tables<JointSpec> => work,
        /// Steps in working order; or what is to be changed of the usual ones.
        steps "step": any Tables<StepEntry> => work,
        /// Accepted departures, printed on the sheet with their reason.
        allows "allow": any Tables<Allow> => work,
    }

    /// What the packet is.
    TravelerSpec = "traveler" {
        /// Id, unique in the project. Absent: the name of the file, without `.toml`.
        id "id": own IdOfFile => work,
        /// Title on every page.
        title "title": need Filled => wording,
        /// Revision of this spec, raised with every change of a requirement. Default: `A`.
        revision "revision": or Filled = "A".into() => work,
        /// Hands that are built; one packet each. All counts are per hand. Absent: a one-off.
        hands "hands": any Words<Hand> => work,
        /// `one hand`: each hand has a packet of its own. `both hands`: one packet has the boxes of both side by side, each hand
        /// is signed for itself all the same. Absent: `one hand`.
        packet "packet": may Word<Packets> => apart,
        /// `SHEET:REVISION`: sheets and the revisions that the spec was written against.
        drawings "drawings": any Texts => work,
        /// Travelers that must be finished first.
        after "after": any Texts => work,
        /// `usual`: the steps of the trade follow from parts and joints, and each `[[step]]` changes one of them, leaves it
        /// out, or is one more. `written`: the steps are those that stand here. Absent: `usual` where no `[[step]]` stands.
        steps "steps": may Word<Steps> => work,
        /// Spaces that the last usual steps close, each with the hold or the stage that it asks for.
        closes "closes": any Texts => work,
        /// What is built here and why, printed on the cover.
        summary "summary": may Markdown => wording,
        /// The builder's own picture, with the joints marked on it.
        picture "picture": may Table<PictureSpec> => wording,
    }

    /// One part. One that `build.toml` has under the same id takes from there what is not said here.
    PartSpec = "part" {
        /// Part number.
        id "id": need Id => work,
        /// Name on paper. Default: that of `build.toml`, else the id; a part that `build.toml` does not have needs a name, a
        /// material or a thickness.
        name "name": may Filled => wording,
        /// Pieces per hand. Default: 1.
        quantity "quantity": or Count<1> = 1 => work,
        /// Alloy and temper (`2024-T3`), or another material in words.
        material "material": may Text => work,
        /// Sheet thickness.
        thickness "thickness": may Size => work,
        /// A part that it is not to be taken for: printed as *not the same as*.
        look_alike "look-alike": may Text => wording,
        /// Its tightest bend.
        bend "bend": may Table<Bend> => work,
        /// Since when it is on the aircraft: a traveler's id, once that is finished, or `true`, from the start. A part that is
        /// there is neither laid out nor pulled.
        fitted "fitted": may Fitted => apart,
    }

    /// The tightest bend of a part.
    Bend = "bend" {
        /// Inside radius.
        radius "radius": need Distance => work,
        /// Degrees through which the sheet is bent. Default: 90.
        angle "angle": or Count<1> = 90 => work,
        /// How the bend line runs to the rolling direction.
        grain "grain": may Word<Grain> => apart,
    }

    /// An accepted departure, printed on the sheet with its reason. One that matches nothing is itself reported.
    Allow = "allow" {
        /// Name of the rule.
        rule "rule": need Filled => work,
        /// Only for this joint.
        joint "joint": may Text => work,
        /// Only for this step.
        step "step": may Text => work,
        /// Only for this part.
        part "part": may Text => work,
        /// The reason.
        because "because": need Filled => wording,
    }
}
