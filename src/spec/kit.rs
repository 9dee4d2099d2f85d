//! The keys of `[[fastener]]` and `[[torque]]`: the builder's own numbers, where no table has them.
//!
//! It refuses a number that the kind of hardware does not have, and a range whose ends are the wrong way round. Whether
//! the numbers are right is not said here.

use super::form::{Filled, Flag, Id, Size, SizePair, Text, Torque, Word};
use super::list::section;
use super::read::Reading;
use crate::text::{Span, Spanned};
use crate::units;
use crate::words::{FastenerKind, HeadForm, Lubrication, TorqueNut};

section! {
    /// Kit-supplied hardware that no standard covers. Its source is printed wherever it is used.
    FastenerSpec = "fastener" checked by check_fastener {
        /// Used as a call.
        id "id": need Id => work,
        /// What it is.
        kind "kind": need Word<FastenerKind> => work,
        /// Nominal diameter: of a nut or a washer that of its bolt, of a cotter pin that of the hole it is made for.
        diameter "diameter": need Size => work,
        /// Smallest and largest hole that it goes into.
        hole "hole": may SizePair => work,
        /// Smallest and largest stack.
        grip "grip": may SizePair => work,
        /// Length under the head, of a rivet, a bolt, a screw or a pin.
        length "length": may Size => work,
        /// Length of the thread of a bolt, from its end; with `length` it tells where the thread begins.
        thread_length "thread-length": may Size => work,
        /// Thickness of a washer.
        thickness "thickness": may Size => work,
        /// Height of a nut.
        height "height": may Size => work,
        /// Whether a nut locks itself. Default: false.
        self_locking "self-locking": may Flag => work,
        /// Whether a nut has slots for a cotter pin. Default: false.
        castle "castle": may Flag => work,
        /// Whether the shank of a bolt is drilled for a cotter pin. Absent: it is not known.
        drilled_shank "drilled-shank": may Flag => work,
        /// Hole in the shank of a bolt for its cotter pin; the shank is then drilled.
        pin_hole "pin-hole": may Size => work,
        /// Property class of a bolt or a screw, as `8.8` or `A2-70`.
        property_class "property-class": may Filled => work,
        /// Head form. Default: `protruding`.
        head "head": may Word<HeadForm> => work,
        /// Material in words.
        material "material": may Text => work,
        /// Thread of a bolt, screw, nut or nutplate, as `10-32` or `M6`.
        thread "thread": may Text => work,
        /// Where these numbers come from, as `kit drawing H-2`.
        source "source": need Filled => work,
    }

    /// A torque of the plans, the kit or a manual, and what it is for: a joint takes it where its bolt has the thread and
    /// the class, its nut is of the kind, and its threads are as said. Of several that fit, the one that says most counts.
    TorqueSpec = "torque" checked by check_torque {
        /// Thread of the bolt, as `M6` or `1/4-28`.
        thread "thread": need Filled => work,
        /// Property class of the bolt, as `8.8`. Absent: any.
        class "class": may Filled => work,
        /// Kind of the nut. Absent: any, and a bolt without one.
        nut "nut": may Word<TorqueNut> => work,
        /// How the threads are. Default: `dry`.
        lubrication "lubrication": or Word<Lubrication> = Lubrication::Dry => work,
        /// Least torque.
        low "low": need Torque => work,
        /// Greatest torque.
        high "high": need Torque => work,
        /// Never more than this, where the source says so.
        most "most": may Torque => work,
        /// Where it comes from, as `kit drawing M-3, note 2`; printed beside it.
        source "source": need Filled => work,
    }
}

/// Numbers that hardware of the kind does not have, and numbers of which one speaks against the other.
fn check_fastener(own: &FastenerSpec, reading: &mut Reading) {
    numbers_of_its_kind(own, reading);
    if let (Some(threaded), None) = (own.thread_length, own.length) {
        let message = "`thread-length` without `length` does not tell where the thread begins";
        reading.invalid(threaded.span, message).help = Some("give `length` too".to_owned());
    }
    if let (Some(threaded), Some(length)) = (own.thread_length, own.length)
        && threaded.value.length > length.value.length
    {
        reading.invalid(threaded.span, "`thread-length` is longer than `length`");
    }
    if let (Some(hole), Some(Spanned { value: false, .. })) = (own.pin_hole, own.drilled_shank) {
        reading.invalid(hole.span, "`pin-hole` is given, and `drilled-shank` is false");
    }
    if let (Some(grip), Some(length)) = (own.grip, own.length)
        && own.kind.value == FastenerKind::Bolt
        && grip.1.value > length.value.length
    {
        reading.invalid(grip.1.span, "`grip` is longer than `length`");
    }
}

fn numbers_of_its_kind(own: &FastenerSpec, reading: &mut Reading) {
    use FastenerKind::{BlindRivet, Bolt, CotterPin, Nut, Nutplate, Screw, SolidRivet, Washer};
    let size = |size: Option<Spanned<units::Size>>| size.map(|size| size.span);
    let flag = |flag: Option<Spanned<bool>>| flag.map(|flag| flag.span);
    let text = |text: &Option<Spanned<String>>| text.as_ref().map(|text| text.span);
    let given: [(&str, Option<Span>, &[FastenerKind]); 10] = [
        ("length", size(own.length), &[SolidRivet, BlindRivet, Bolt, Screw, CotterPin]),
        ("thread-length", size(own.thread_length), &[Bolt]),
        ("thickness", size(own.thickness), &[Washer]),
        ("height", size(own.height), &[Nut]),
        ("self-locking", flag(own.self_locking), &[Nut]),
        ("castle", flag(own.castle), &[Nut]),
        ("drilled-shank", flag(own.drilled_shank), &[Bolt]),
        ("pin-hole", size(own.pin_hole), &[Bolt]),
        ("property-class", text(&own.property_class), &[Bolt, Screw]),
        ("thread", text(&own.thread), &[Bolt, Screw, Nut, Nutplate]),
    ];
    let kind = own.kind.value;
    for (key, span, kinds) in given {
        let Some(span) = span.filter(|_| !kinds.contains(&kind)) else { continue };
        let words: Vec<&str> = kinds.iter().map(|kind| kind.word()).collect();
        let message = format!("`{key}` is given, and `{}` is a {}", own.id.value, kind.word());
        reading.invalid(span, message).help = Some(format!("`{key}` is for: {}", words.join(", ")));
    }
}

/// A torque that stands for two, or ends that are the wrong way round.
fn check_torque(own: &TorqueSpec, reading: &mut Reading) {
    for (key, torque) in [("low", Some(own.low)), ("high", Some(own.high)), ("most", own.most)] {
        let Some(torque) = torque.filter(|torque| torque.value.low != torque.value.high) else { continue };
        let message = format!("`{key}` is a range, and must be one torque");
        reading.invalid(torque.span, message).help = Some("write the ends under `low` and `high`".to_owned());
    }
    if own.low.value.low > own.high.value.high {
        reading.invalid(own.low.span, "`low` is above `high`");
    }
    if let Some(most) = own.most.filter(|most| most.value.low < own.high.value.high) {
        reading.invalid(most.span, "`most` is below `high`");
    }
}
