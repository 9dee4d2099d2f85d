//! What is printed together after a change: the new sheet of one hand, or those of both on one packet.
//!
//! Hands that share a packet on the bench share it afterwards, unless the spec asks for one a hand; a hand whose sheet stays has
//! its boxes on the new pages too. It prints nothing.

use super::NoticeSheet;
use crate::archive::{Issue, State};
use crate::ident::SheetCode;
use crate::job::{Hand, Job};
use crate::phrase::say;
use crate::words::{PacketName, Packets};
use crate::work::SheetChange;

/// Sheets that are printed together.
#[derive(Debug, Clone)]
pub struct Bundle<'a> {
    /// Index of the traveler.
    pub index: usize,
    /// One hand or a one-off; or the left hand and then the right one.
    pub parts: Vec<Part<'a>>,
}

/// The sheet of one hand.
#[derive(Debug, Clone, Copy)]
pub struct Part<'a> {
    /// The hand; `None` for a one-off.
    pub hand: Option<Hand>,
    /// The sheet that is in force until now.
    pub issue: &'a Issue,
    /// What replaces it; absent where it stays and only its pages are printed anew.
    pub change: Option<&'a SheetChange>,
}

impl Part<'_> {
    /// The sheet in force until now.
    #[must_use]
    pub const fn old(&self) -> SheetCode {
        self.issue.issued.sheet
    }

    /// The code on the new pages.
    #[must_use]
    pub fn new_code(&self) -> String {
        self.change.and_then(|own| own.new.clone()).unwrap_or_else(|| self.old().to_string())
    }
}

/// What is printed after a change, in the order of the sheets.
#[must_use]
pub fn bundles<'a>(job: &Job, state: &'a State, sheets: &'a [SheetChange]) -> Vec<Bundle<'a>> {
    let mut bundles: Vec<Bundle<'a>> = Vec::new();
    for sheet in sheets.iter().filter(|sheet| sheet.is_replaced()) {
        let Some(index) = job.travelers.iter().position(|own| own.id.value == sheet.traveler) else { continue };
        let parts = parts(job, state, sheets, index, sheet);
        let is_known = bundles.iter().any(|own| own.index == index && has_part_of(own, &parts));
        if !parts.is_empty() && !is_known {
            bundles.push(Bundle { index, parts });
        }
    }
    bundles
}

fn has_part_of(bundle: &Bundle<'_>, parts: &[Part<'_>]) -> bool {
    parts.iter().any(|part| bundle.parts.iter().any(|own| own.hand == part.hand))
}

/// The sheets that are printed with one that is replaced or gone.
fn parts<'a>(
    job: &Job,
    state: &'a State,
    sheets: &'a [SheetChange],
    index: usize,
    sheet: &SheetChange,
) -> Vec<Part<'a>> {
    let part = |hand: Option<Hand>| {
        let issue = state.in_force(&PacketName::new(sheet.traveler.as_str(), hand))?;
        let own = sheets.iter().find(|own| own.traveler == sheet.traveler && own.hand == hand);
        Some(Part { hand, issue, change: own.filter(|own| own.is_replaced()) })
    };
    let mut hands = job.hands_of(index);
    hands.sort_unstable();
    let mut parts: Vec<Part<'a>> = hands.into_iter().filter_map(part).collect();
    if sheet.new.is_none() {
        // Who shared a packet with a hand that is gone gets one of its own.
        parts.retain(|part| SheetCode::parse(&sheet.old).is_ok_and(|old| state.share_a_packet(old, part.old())));
    } else if !shares(job, state, index, &parts) {
        parts.retain(|part| part.hand == sheet.hand);
    }
    parts
}

/// Whether the hands of a traveler have one packet.
fn shares(job: &Job, state: &State, index: usize, parts: &[Part<'_>]) -> bool {
    let [left, right] = parts else { return false };
    match job.travelers[index].packet.as_ref().map(|own| own.value) {
        Some(Packets::BothHands) => true,
        Some(Packets::OneHand) => false,
        None => state.share_a_packet(left.old(), right.old()),
    }
}

/// What is taken out of the binder, and what is put in for it.
#[derive(Debug, Clone)]
pub(super) struct Exchange {
    pub(super) remove: Vec<NoticeSheet>,
    pub(super) insert: Option<NoticeSheet>,
}

/// What is taken out and put in, each page once: sheets that lie in one packet come out together.
pub(super) fn exchanges(job: &Job, state: &State, sheets: &[SheetChange]) -> Vec<Exchange> {
    let mut taken: Vec<SheetCode> = Vec::new();
    let mut exchanges: Vec<Exchange> = Vec::new();
    for bundle in bundles(job, state, sheets) {
        let mut remove = Vec::new();
        for part in &bundle.parts {
            remove.extend(removed(state, sheets, part.old(), &mut taken));
        }
        exchanges.push(Exchange { remove, insert: Some(inserted(job, &bundle)) });
    }
    let gone = sheets.iter().filter(|sheet| sheet.new.is_none()).filter_map(|sheet| SheetCode::parse(&sheet.old).ok());
    let rest: Vec<NoticeSheet> = gone.filter_map(|old| removed(state, sheets, old, &mut taken)).collect();
    exchanges.extend(rest.into_iter().map(|sheet| Exchange { remove: vec![sheet], insert: None }));
    exchanges
}

/// The pages of a sheet with those that lie in one packet with it; nothing where they are taken already.
fn removed(state: &State, sheets: &[SheetChange], old: SheetCode, taken: &mut Vec<SheetCode>) -> Option<NoticeSheet> {
    if taken.contains(&old) {
        return None;
    }
    let own = state.sheet(old)?;
    let in_one: Vec<&Issue> = state
        .all_in_force()
        .filter(|issue| issue.issued.sheet == old || state.share_a_packet(issue.issued.sheet, old))
        .collect();
    taken.extend(in_one.iter().map(|issue| issue.issued.sheet));
    let codes: Vec<String> = in_one.iter().map(|issue| issue.issued.sheet.to_string()).collect();
    let is_signed = |sheet: &SheetChange| sheet.steps.iter().any(|step| step.done.is_some());
    let hands: Vec<Option<Hand>> = in_one.iter().map(|issue| issue.issued.hand).collect();
    let mut revisions: Vec<&str> = in_one.iter().map(|issue| issue.issued.revision.as_str()).collect();
    revisions.dedup();
    let print = state.newest_print(old);
    let kept = print.map_or(own.issued.kept.len(), |print| print.kept.len());
    let printed = print.map_or(Some(own.issued.pages), |print| print.pages);
    Some(NoticeSheet {
        what: what(&own.issued.traveler, &hands, &own.issued.title),
        revision: revisions.join(", "),
        pages: printed.and_then(|pages| pages.checked_add(u32::try_from(kept).ok()?)),
        which: None,
        both_sides: false,
        signed: sheets.iter().any(|sheet| codes.contains(&sheet.old) && is_signed(sheet)),
        codes,
    })
}

fn inserted(job: &Job, bundle: &Bundle<'_>) -> NoticeSheet {
    let traveler = &job.travelers[bundle.index];
    let hands: Vec<Option<Hand>> = bundle.parts.iter().map(|part| part.hand).collect();
    NoticeSheet {
        codes: bundle.parts.iter().map(Part::new_code).collect(),
        what: what(&traveler.id.value, &hands, &traveler.title.value),
        revision: traveler.revision.value.clone(),
        pages: None,
        which: None,
        both_sides: false,
        signed: false,
    }
}

/// Traveler, hand or hands, and title.
fn what(traveler: &str, hands: &[Option<Hand>], title: &str) -> String {
    match hands {
        [hand] => format!("{} {title}", PacketName::new(traveler, *hand)),
        _ => say!("{traveler} both hands {title}", traveler, title),
    }
}
