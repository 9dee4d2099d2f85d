//! The size of a joint's hole in words: a drill by its name, a reamed hole by its decimal.
//!
//! Reamers go by their decimal, and a reamed hole that is called by a drill's name is drilled by somebody. It judges no
//! size.

use crate::job::{Joint, StepKind};
use crate::units::{Size, Style};

/// Size in full: `#30 (0.1285 in)`, of a reamed hole `0.191 in`.
pub(super) fn full(joint: &Joint, size: Size, style: &Style) -> String {
    if joint.is_reamed_to(size.length) { style.reamed(size) } else { style.size(size) }
}

/// Size for a narrow box: `#30`, of a reamed hole `0.191 in`.
pub(super) fn short(joint: &Joint, size: Size, style: &Style) -> String {
    if joint.is_reamed_to(size.length) { style.first(size.length) } else { style.name(size) }
}

/// Size in full as the tool of a step has it.
pub(super) fn cut(kind: StepKind, size: Size, style: &Style) -> String {
    if kind == StepKind::Ream { style.reamed(size) } else { style.size(size) }
}

/// The same for a narrow box.
pub(super) fn cut_short(kind: StepKind, size: Size, style: &Style) -> String {
    if kind == StepKind::Ream { style.first(size.length) } else { style.name(size) }
}
