//! THE LAST LOOK before a space closes, in words: at the closing step, where everything is named, and on the board, where
//! a line points to the sheet.
//!
//! What is signed is a count, what is not is named. It decides nothing: whether a closing is right is for the rules.

use serde::Serialize;

use super::named::{retold_item, said_hand, said_in_hand, said_packet};
use super::said::{Piece, Said};
use crate::phrase::{self, say, say_count};
use crate::work::{Held, LastChance, LedgerLine, LookLine, OpenDiscrepancy};

/// The last look on the closing step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LastLook {
    /// The hand that closes it, on a packet of both whose hands look at different things.
    pub hand: Option<&'static str>,
    /// The space; empty where what is seen is for the spaces of both hands before it.
    pub space: String,
    /// What is signed in it, and whether it is opened again, a sentence each.
    pub notes: Vec<String>,
    /// What must be seen, a line each.
    pub lines: Vec<Vec<Piece>>,
}

/// A space that closes, on the board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LookRow {
    /// The space.
    pub space: String,
    /// What closes it, after what.
    pub words: Vec<Piece>,
    /// Who must have looked.
    pub hold: Option<String>,
}

fn unsigned(chance: &LastChance) -> impl Iterator<Item = &LookLine> {
    chance.steps.iter().filter(|look| !look.done)
}

fn still_there(chance: &LastChance) -> impl Iterator<Item = &LedgerLine> {
    chance.parked.iter().filter(|parked| parked.held != Held::Ended)
}

/// Everything that must be seen before a step closes a space: what is not signed, a line for each traveler and hand.
pub(super) fn at_step(chance: &LastChance) -> LastLook {
    let parked = |line: &LedgerLine| {
        let place = said_packet(&line.traveler, line.hand);
        Said::new()
            .strong(format!("{} x {}", line.count, line.call))
            .plain(say!(", {kind}, {joint} of {place}", kind = phrase::word(line.kind), joint = line.joint, place))
            .maybe(line.until.as_ref(), |said, until| said.plain(say!("; must end with {until}", until)))
    };
    let discrepancy = |open: &OpenDiscrepancy| Said::new().strong(say!("discrepancy")).plain(format!(" {open}"));
    let rest = say!("nothing else lies, hangs or is written down for this space: wires, brackets, tools, swarf");
    let lines = packets(unsigned(chance)).into_iter().map(|own| steps_of(&own)).chain(still_there(chance).map(parked));
    let lines = lines.chain(chance.discrepancies.iter().map(discrepancy)).chain([Said::new().plain(rest)]);
    let signed = chance.steps.iter().filter(|look| look.done).count();
    let counted = (signed > 0)
        .then(|| say!("{signed} of {steps} steps in it were signed at printing.", signed, steps = chance.steps.len()));
    let reopened = chance.reopened.then(|| say!("A later step opens it again.").to_owned());
    LastLook {
        hand: None,
        space: said_in_hand(&chance.name, chance.hand),
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
        Said::new().strong(said_packet(&look.traveler, look.hand)).plain(say!(" steps {all}", all))
    });
    said.maybe((!photos.is_empty()).then_some(photos), |said, photos| {
        said.plain("; ").strong(say!("photo {photos}", photos))
    })
}

/// A space that closes, in a line of the board: with which step, after what, and who must have looked.
pub(super) fn on_board(chance: &LastChance) -> LookRow {
    let steps = say_count!(chance.before, "{n} step", "{n} steps");
    let looks: Vec<String> = chance.holds.iter().chain(&chance.stages).map(|who| phrase::word(who)).collect();
    let parked: Vec<String> = still_there(chance)
        .filter(|line| line.held == Held::Open)
        .map(|line| format!("{}: {}", phrase::word(line.kind), line.count))
        .collect();
    let open: Vec<String> =
        chance.discrepancies.iter().map(|open| say!("discrepancy {number}", number = open.number)).collect();
    let said = Said::new()
        .strong(retold_item(&chance.closes))
        .plain(if chance.before == 0 {
            say!(", nothing left to do before").to_owned()
        } else {
            say!(" after {steps}", steps)
        })
        .maybe(chance.time.as_ref(), |said, time| said.plain(format!(" ({time})")))
        .maybe((!parked.is_empty()).then(|| parked.join(", ")), |said, parked| {
            said.plain(say!("; still there: ")).strong(parked)
        })
        .maybe((!open.is_empty()).then(|| open.join(", ")), |said, open| said.plain("; ").strong(open));
    LookRow {
        space: named(&chance.name, chance.hand),
        words: said.plain(if chance.reopened { say!("; opened again later") } else { "" }).pieces(),
        hold: (!looks.is_empty()).then(|| looks.join(say!(" and "))),
    }
}

/// A name with its hand in capitals: `TANK-10 LEFT`.
pub(super) fn named(name: &str, hand: Option<&str>) -> String {
    hand.map_or_else(|| name.to_owned(), |hand| format!("{name} {}", said_hand(hand)))
}

/// An entry of the ledger as the board says it.
pub(super) fn parked_on_board(line: &LedgerLine) -> Said {
    let end = line
        .until
        .as_ref()
        .map_or_else(|| say!(": no step ends it").to_owned(), |until| say!(": until {until}", until));
    Said::new()
        .strong(format!("{}: {}", phrase::word(line.kind), line.count))
        .plain(say!(", joint {joint} in ", joint = line.joint))
        .strong(named(&line.traveler, line.hand))
        .plain(end)
}
