//! The hardware to pull for a packet: calls in plain words, counts by step, totals, spares.
//!
//! What a step takes is counted where all lists count it; holes that stay open get their fasteners in the packet that
//! fills them.

use serde::Serialize;

use super::source::Source;
use crate::hardware::{Fastener, Undecoded};
use crate::job::{Handled, Hardware, operation};
use crate::plan::spare::spare_of;
use crate::plan::told;
use crate::units::Style;
use crate::work::{Need, taken};

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
    /// Whether what is left is counted at the end: rivets are not.
    #[serde(skip)]
    pub counted: bool,
}

/// What one step takes.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Use {
    /// The step's number.
    pub number: String,
    /// Pieces that the step sets.
    pub count: u32,
}

/// The calls in the order of the joints, those of other travelers last; in an excerpt only what its steps take.
pub(super) fn hardware(source: Source<'_>) -> Vec<HardwareLine> {
    let mut list =
        List { spare: source.job.project.settings.spare.value, style: &source.job.project.style, lines: Vec::new() };
    let traveler = source.traveler();
    let steps = 0..traveler.steps.len();
    let handled = steps.flat_map(|at| source.job.handled(source.item(at)).into_iter().map(move |one| (at, one)));
    let mut handled: Vec<(usize, Handled)> = handled.collect();
    handled.sort_by_key(|(_, one)| (one.joint.traveler != source.index, one.joint, !one.what.is_final()));
    for (at, one) in handled {
        let number = operation(traveler.steps[at].number);
        list.add(&taken(source.job.joint(one.joint), one), source.has(at).then_some(number.as_str()));
    }
    list.finish()
}

struct List<'a> {
    spare: u32,
    style: &'a Style,
    lines: Vec<(HardwareLine, bool)>,
}

impl List<'_> {
    /// What a step takes; without a step, which is not printed, a call only keeps its place in the list.
    fn add(&mut self, needs: &[Need], step: Option<&str>) {
        for need in needs {
            let line = self.line(need);
            let Some(number) = step else { continue };
            line.total = line.total.saturating_add(need.count);
            match line.uses.iter_mut().find(|one| one.number == number) {
                Some(one) => one.count = one.count.saturating_add(need.count),
                None => line.uses.push(Use { number: number.to_owned(), count: need.count }),
            }
        }
    }

    fn line(&mut self, need: &Need) -> &mut HardwareLine {
        let same =
            |(line, _): &(HardwareLine, bool)| line.call == need.hardware.call && line.temporary == need.temporary;
        let at = self.lines.iter().position(same).unwrap_or_else(|| {
            let rivet = matches!(need.hardware.fastener, Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)));
            self.lines.push((new_line(&need.hardware, need.temporary, self.style), rivet));
            self.lines.len() - 1
        });
        &mut self.lines[at].0
    }

    fn finish(self) -> Vec<HardwareLine> {
        let spare = self.spare;
        let taken = self.lines.into_iter().filter(|(line, _)| line.total > 0);
        let finished = taken.map(|(mut line, rivet)| {
            line.spare = if rivet && !line.temporary { spare_of(line.total, spare) } else { 0 };
            line.pull = line.total.saturating_add(line.spare);
            line.counted = !rivet;
            line
        });
        finished.collect()
    }
}

fn new_line(hardware: &Hardware, temporary: bool, style: &Style) -> HardwareLine {
    HardwareLine {
        call: hardware.call.clone(),
        written: (hardware.written.value != hardware.call).then(|| hardware.written.value.clone()),
        decode: match &hardware.fastener {
            Ok(fastener) => told::described(fastener, style),
            Err(Undecoded { message, .. }) => message.clone(),
        },
        uses: Vec::new(),
        total: 0,
        spare: 0,
        pull: 0,
        // AC 43.13-1B, par. 7-38: cotter pins are not used again.
        single_use: matches!(hardware.fastener, Ok(Fastener::CotterPin(_))),
        temporary,
        counted: true,
    }
}
