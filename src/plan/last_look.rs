//! THE LAST LOOK before a space closes, in words: at the closing step, where everything is named, and on the board, where
//! a few lines point to the sheet.
//!
//! What is signed is a count, what is not is named. It decides nothing: whether a closing is right is for the rules.

use serde::Serialize;

use super::said::{Piece, Said};
use crate::work::{Held, LastChance, LedgerLine, LookLine, OpenDiscrepancy};

/// The last look on the closing step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LastLook {
    /// The space.
    pub space: String,
    /// What is signed in it, and whether it is opened again, a sentence each.
    pub notes: Vec<String>,
    /// What must be seen, a line each.
    pub lines: Vec<Vec<Piece>>,
}

/// The last look on the board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LookCard {
    /// The space.
    pub space: String,
    /// Which step closes it, and what comes before that.
    pub closes: Vec<Piece>,
    /// Who must have looked.
    pub hold: Option<String>,
    /// Whether a later step opens it again.
    pub reopened: bool,
    /// The first lines.
    pub lines: Vec<Vec<Piece>>,
    /// How many more there are, and how many steps are done.
    pub notes: Vec<String>,
}

/// Lines of a card on the board.
const MOST_LINES: usize = 5;

/// What a card leaves out is on the sheet of the closing step and in the visit packet.
const ELSEWHERE: &str = "the sheet of the closing step and the visit packet list all";

fn unsigned(chance: &LastChance) -> impl Iterator<Item = &LookLine> {
    chance.steps.iter().filter(|look| !look.done)
}

fn still_there(chance: &LastChance) -> impl Iterator<Item = &LedgerLine> {
    chance.parked.iter().filter(|parked| parked.held != Held::Ended)
}

/// Everything that must be seen before a step closes a space: what is not signed, a line for each traveler and hand.
pub(super) fn at_step(chance: &LastChance) -> LastLook {
    let parked = |line: &LedgerLine| {
        let place = line.hand.map_or_else(|| line.traveler.clone(), |hand| format!("{} {hand}", line.traveler));
        Said::new()
            .strong(format!("{} x {}", line.count, line.call))
            .plain(format!(", {}, {} of {place}", line.kind, line.joint))
            .maybe(line.until.as_ref(), |said, until| said.plain(format!("; must end with {until}")))
    };
    let discrepancy = |open: &OpenDiscrepancy| Said::new().strong("discrepancy").plain(format!(" {open}"));
    let rest = "nothing else lies, hangs or is written down for this space: wires, brackets, tools, swarf";
    let lines = packets(unsigned(chance)).into_iter().map(|own| steps_of(&own)).chain(still_there(chance).map(parked));
    let lines = lines.chain(chance.discrepancies.iter().map(discrepancy)).chain([Said::new().plain(rest)]);
    let signed = chance.steps.iter().filter(|look| look.done).count();
    let counted =
        (signed > 0).then(|| format!("{signed} of {} steps in it were signed at printing.", chance.steps.len()));
    let reopened = chance.reopened.then(|| "A later step opens it again.".to_owned());
    LastLook {
        space: chance.space.clone(),
        notes: counted.into_iter().chain(reopened).collect(),
        lines: lines.map(Said::pieces).collect(),
    }
}

/// Steps by the packet that they stand in, in the order of the first of each.
fn packets<'a>(looks: impl Iterator<Item = &'a LookLine>) -> Vec<Vec<&'a LookLine>> {
    let mut packets: Vec<Vec<&LookLine>> = Vec::new();
    for look in looks {
        let same = |own: &&mut Vec<&LookLine>| own[0].traveler == look.traveler && own[0].hand == look.hand;
        match packets.iter_mut().find(same) {
            Some(own) => own.push(look),
            None => packets.push(vec![look]),
        }
    }
    packets
}

/// `CTRL-20 left 060, 070, 080; photo 080`.
fn steps_of(looks: &[&LookLine]) -> Said {
    let numbers = |some: &mut dyn Iterator<Item = &&LookLine>| -> String {
        some.map(|look| look.number.as_str()).collect::<Vec<_>>().join(", ")
    };
    let photos = numbers(&mut looks.iter().filter(|look| look.photo));
    let all = numbers(&mut looks.iter());
    let said = looks.first().map_or_else(Said::new, |look| {
        let hand = look.hand.map_or(String::new(), |hand| format!(" {hand}"));
        Said::new().strong(format!("{}{hand}", look.traveler)).plain(format!(" steps {all}"))
    });
    said.maybe((!photos.is_empty()).then_some(photos), |said, photos| {
        said.plain("; ").strong(format!("photo {photos}"))
    })
}

/// The few lines of the board.
pub(super) fn on_board(chance: &LastChance) -> LookCard {
    let step = |look: &LookLine| {
        let said = Said::new().strong(&look.step).plain(format!(" {}", look.title));
        if look.photo { said.strong(" PHOTO") } else { said }
    };
    let discrepancy = |open: &OpenDiscrepancy| Said::new().strong(format!("discrepancy {open}"));
    let lines = chance.discrepancies.iter().map(discrepancy).chain(still_there(chance).map(parked_on_board));
    let lines: Vec<Vec<Piece>> = lines.chain(unsigned(chance).map(step)).map(Said::pieces).collect();
    let all = chance.steps.len();
    let done = all - unsigned(chance).count();
    let rest = lines.len().saturating_sub(MOST_LINES);
    let more = (rest > 0).then(|| format!("and {rest} more: {ELSEWHERE}"));
    let counted = (done > 0).then(|| format!("{done} of {all} steps in this space are done"));
    let before = format!("; {} steps before it", chance.before);
    let closes = Said::new().plain("closes with ").strong(&chance.closes).plain(before);
    let looks: Vec<&str> = chance.holds.iter().chain(&chance.stages).map(String::as_str).collect();
    LookCard {
        space: chance.space.clone(),
        closes: closes.maybe(chance.time.as_ref(), |said, time| said.plain(format!(", about {time}"))).pieces(),
        hold: (!looks.is_empty()).then(|| looks.join(" and ")),
        reopened: chance.reopened,
        lines: lines.into_iter().take(MOST_LINES).collect(),
        notes: more.into_iter().chain(counted).collect(),
    }
}

/// An entry of the ledger as the board says it.
pub(super) fn parked_on_board(line: &LedgerLine) -> Said {
    let end = line.until.as_ref().map_or_else(|| ": no step ends it".to_owned(), |until| format!(": until {until}"));
    Said::new()
        .strong(format!("{} x {}", line.count, line.kind))
        .plain(format!(", joint {} in {}", line.joint, line.traveler))
        .maybe(line.hand, |said, hand| said.strong(format!(" {}", hand.to_uppercase())))
        .plain(end)
}
