//! The hardware to pull for a packet: calls in plain words, counts by step, totals, spares.
//!
//! It counts what this packet sets; holes that stay open get no fastener here.

use serde::Serialize;

use super::source::Source;
use crate::hardware::{Fastener, Undecoded};
use crate::job::{Hardware, Joint, operation};
use crate::plan::spare::spare_of;

/// One call of the pick list.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
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
#[serde(rename_all = "kebab-case")]
pub struct Use {
    /// The step's number.
    pub number: String,
    /// Pieces.
    pub count: u32,
}

/// The calls in the order in which the packet first takes them; in an excerpt only what its steps take, and the
/// fit-up hardware of its joints.
pub(super) fn hardware(source: Source<'_>) -> Vec<HardwareLine> {
    let mut list = List { spare: source.job.project.settings.spare.value, lines: Vec::new() };
    let traveler = source.traveler();
    for (index, joint) in traveler.joints.iter().enumerate() {
        // A joint without a fastening step is fastened elsewhere and takes nothing from this tray.
        for at in joint.fastenings() {
            let number = operation(traveler.steps[at.step].number);
            list.joint(joint, source.has(at.step).then_some(number.as_str()));
        }
        if let Some(temporary) = &joint.temporary {
            let here = source.has_joint(index).then_some("temporary");
            list.add(&temporary.fastener, joint.count.value, here, true);
            if let Some(nut) = &temporary.nut {
                list.add(nut, joint.count.value, here, true);
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
    /// What a joint takes at a step; without a step, which is not printed, it only keeps its place in the list.
    fn joint(&mut self, joint: &Joint, step: Option<&str>) {
        let count = joint.set_here();
        let main = Hardware {
            written: joint.spec.fastener.clone(),
            call: joint.call.clone(),
            fastener: joint.fastener.clone(),
        };
        self.add(&main, count, step, false);
        let more = joint.washers_head.iter().chain(&joint.washers_nut).chain(&joint.nut).chain(&joint.cotter);
        for hardware in more {
            self.add(hardware, count, step, false);
        }
    }

    fn add(&mut self, hardware: &Hardware, count: u32, step: Option<&str>, temporary: bool) {
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
        let Some(number) = step else { return };
        line.total = line.total.saturating_add(count);
        match line.uses.iter_mut().find(|one| one.number == number) {
            Some(one) => one.count = one.count.saturating_add(count),
            None => line.uses.push(Use { number: number.to_owned(), count }),
        }
    }

    fn finish(self) -> Vec<HardwareLine> {
        let spare = self.spare;
        let taken = self.lines.into_iter().filter(|(line, _)| line.total > 0);
        let finished = taken.map(|(mut line, rivet)| {
            line.spare = if rivet && !line.temporary { spare_of(line.total, spare) } else { 0 };
            line.pull = line.total.saturating_add(line.spare);
            line
        });
        finished.collect()
    }
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
