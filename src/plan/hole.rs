//! The size of a joint's hole in words: a drill by its name, a reamed hole by its decimal.
//!
//! Reamers go by their decimal, and a reamed hole that is called by a drill's name is drilled by somebody. It judges no
//! size.

use crate::job::{Joint, StepKind};
use crate::units::Size;

/// Size in full: `#30 (0.1285 in, 3.26 mm)`, of a reamed hole `0.191 in (4.85 mm)`.
pub(super) fn full(joint: &Joint, size: Size) -> String {
    if joint.is_reamed_to(size.length) { reamed(size) } else { size.full() }
}

/// Size for a narrow box: `#30`, of a reamed hole `0.191 in`.
pub(super) fn short(joint: &Joint, size: Size) -> String {
    if joint.is_reamed_to(size.length) { reamed_short(size) } else { size.short() }
}

/// Size in full as the tool of a step has it.
pub(super) fn cut(kind: StepKind, size: Size) -> String {
    if kind == StepKind::Ream { reamed(size) } else { size.full() }
}

/// The same for a narrow box.
pub(super) fn cut_short(kind: StepKind, size: Size) -> String {
    if kind == StepKind::Ream { reamed_short(size) } else { size.short() }
}

fn reamed(size: Size) -> String {
    let fraction = size.length.fraction_text().map_or_else(String::new, |fraction| format!("{fraction}, "));
    format!("{} in ({fraction}{} mm)", size.length.inch_text(), size.length.mm_text())
}

fn reamed_short(size: Size) -> String {
    format!("{} in", size.length.inch_text())
}
