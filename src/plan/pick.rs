//! The hardware to pull for a packet: calls in plain words, counts by step, totals, spares.
//!
//! It counts what this packet sets; holes that stay open get no fastener here.

use serde::Serialize;

use super::Source;
use crate::hardware::{Fastener, Undecoded};
use crate::job::{Hardware, Joint, operation};

/// Extra rivets are never fewer than this: driving spoils a few (common practice).
const FEWEST_SPARE: u32 = 5;

/// One call of the pick list.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct HardwareLine {
    /// The full call.
    pub call: String,
    /// The call as the plans write it, where it is another word.
    pub written: Option<String>,
    /// Plain words.
    pub decode: String,
    /// How many each step takes.
    pub uses: Vec<Use>,
    /// Sum of the uses.
    pub total: u32,
    /// Spare pieces.
    pub spare: u32,
    /// Total and spare.
    pub pull: u32,
    /// Whether a piece may be used once only.
    pub single_use: bool,
    /// Whether the pieces come out again: fit-up hardware.
    pub temporary: bool,
}

/// What one step takes.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Use {
    /// The step's number.
    pub number: String,
    /// Pieces.
    pub count: u32,
}

pub(super) fn hardware(source: Source<'_>) -> Vec<HardwareLine> {
    let mut list = List { spare: source.job.project.settings.spare.value, lines: Vec::new() };
    for joint in &source.traveler.joints {
        // A joint without a fastening step is fastened elsewhere and takes nothing from this tray.
        for at in joint.fastenings() {
            let number = operation(source.traveler.steps[at.step].number);
            list.joint(joint, &number);
        }
        if let Some(temporary) = &joint.temporary {
            list.add(&temporary.fastener, joint.count.value, "temporary", true);
            if let Some(nut) = &temporary.nut {
                list.add(nut, joint.count.value, "temporary", true);
            }
        }
    }
    list.finish()
}

struct List {
    spare: u32,
    lines: Vec<(HardwareLine, bool)>,
}

impl List {
    fn joint(&mut self, joint: &Joint, number: &str) {
        let count = joint.set_here();
        let main = Hardware {
            written: joint.spec.fastener.clone(),
            call: joint.call.clone(),
            fastener: joint.fastener.clone(),
        };
        self.add(&main, count, number, false);
        let more = joint.washers_head.iter().chain(&joint.washers_nut).chain(&joint.nut).chain(&joint.cotter);
        for hardware in more {
            self.add(hardware, count, number, false);
        }
    }

    fn add(&mut self, hardware: &Hardware, count: u32, number: &str, temporary: bool) {
        if count == 0 {
            return;
        }
        let same = self.lines.iter_mut().find(|(line, _)| line.call == hardware.call && line.temporary == temporary);
        let line = if let Some((line, _)) = same {
            line
        } else {
            let rivet = matches!(hardware.fastener, Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)));
            self.lines.push((new_line(hardware, temporary), rivet));
            &mut self.lines.last_mut().expect("a line was pushed").0
        };
        line.total = line.total.saturating_add(count);
        match line.uses.iter_mut().find(|one| one.number == number) {
            Some(one) => one.count = one.count.saturating_add(count),
            None => line.uses.push(Use { number: number.to_owned(), count }),
        }
    }

    fn finish(self) -> Vec<HardwareLine> {
        let spare = self.spare;
        let finished = self.lines.into_iter().map(|(mut line, rivet)| {
            line.spare = if rivet && !line.temporary { spare_of(line.total, spare) } else { 0 };
            line.pull = line.total.saturating_add(line.spare);
            line
        });
        finished.collect()
    }
}

/// Spare rivets: the project's per cent rounded up, and at least five.
pub(super) fn spare_of(total: u32, per_cent: u32) -> u32 {
    let share = (u64::from(total) * u64::from(per_cent)).div_ceil(100);
    u32::try_from(share).unwrap_or(u32::MAX).max(FEWEST_SPARE)
}

fn new_line(hardware: &Hardware, temporary: bool) -> HardwareLine {
    HardwareLine {
        call: hardware.call.clone(),
        written: (hardware.written.value != hardware.call).then(|| hardware.written.value.clone()),
        decode: match &hardware.fastener {
            Ok(fastener) => fastener.describe(),
            Err(Undecoded { message, .. }) => message.clone(),
        },
        uses: Vec::new(),
        total: 0,
        spare: 0,
        pull: 0,
        // AC 43.13-1B, par. 7-38: cotter pins are not used again.
        single_use: matches!(hardware.fastener, Ok(Fastener::CotterPin(_))),
        temporary,
    }
}
