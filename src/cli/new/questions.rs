//! `new traveler` without its words, before a terminal: asked line by line, with what the project knows on offer.
//!
//! The answers are the words that the options take. Each joint is judged as soon as it is given.

use std::collections::BTreeSet;

use anyhow::Result;

use super::TravelerArguments;
use crate::cli::Console;
use crate::hardware::{Fastener, decode, every_call};
use crate::job::{Job, Part};
use crate::start::{JointOutline, PartOutline};
use crate::words::Hand;

/// Fills in what a traveler is made from.
///
/// `judge` says what speaks against the newest joint, and gives whether it may stay.
///
/// # Errors
/// When nobody answers, or nothing can be said.
pub(super) fn ask(
    job: &Job,
    own: &mut TravelerArguments,
    console: &mut Console,
    mut judge: impl FnMut(&TravelerArguments, &mut Console) -> Result<bool>,
) -> Result<()> {
    head(job, own, console)?;
    parts(job, own, console)?;
    while let Some(joint) = joint(job, own, console)? {
        own.joints.push(joint);
        let stays = judge(own, console)? || {
            let answer = console.ask_offering("Keep it all the same? yes, or Enter to give it again:", &[])?;
            answer.as_deref() == Some("yes")
        };
        if !stays {
            own.joints.pop();
        }
    }
    let spaces: Vec<String> = job.project.spaces.iter().map(|space| space.id.value.clone()).collect();
    if !spaces.is_empty() {
        own.closes = console.ask_offering("Space that its last step closes; Enter for none:", &spaces)?;
    }
    Ok(())
}

fn head(job: &Job, own: &mut TravelerArguments, console: &mut Console) -> Result<()> {
    own.id = Some(loop {
        let id = needed("Id of the traveler, as WNG-210:", &[], console)?;
        if job.travelers.iter().all(|traveler| traveler.id.value != id) {
            break id;
        }
        console.complain(&format!("there is a traveler {id} already"));
    });
    own.title = Some(needed("Title on every page:", &[], console)?);
    let hands = ["left,right", "left", "right"].map(str::to_owned);
    own.hands = loop {
        let answer = console.ask_offering("Hands, as left,right; Enter for a one-off:", &hands)?;
        let words = answer.iter().flat_map(|said| said.split(',')).map(|word| word.trim().to_owned());
        let words: Vec<String> = words.collect();
        let Some(word) = words.iter().find(|word| Hand::parse(word).is_none()) else { break words };
        console.complain(&format!("`{word}` is no hand: {} or {}", Hand::Left.word(), Hand::Right.word()));
    };
    let register = job.project.drawings.iter();
    let register: Vec<String> = register.map(|own| format!("{}:{}", own.sheet.value, own.revision.value)).collect();
    while let Some(sheet) = console.ask_offering("A drawing, as SHEET:REVISION; Enter for no more:", &register)? {
        own.drawing.push(sheet);
    }
    Ok(())
}

fn parts(job: &Job, own: &mut TravelerArguments, console: &mut Console) -> Result<()> {
    let known: Vec<&Part> = job.travelers.iter().flat_map(|traveler| &traveler.parts).collect();
    let of_build = job.project.parts.iter().map(|part| part.id.value.clone());
    let ids = distinct(of_build.chain(known.iter().map(|part| part.id.value.clone())));
    let materials = distinct(known.iter().rev().filter_map(|part| part.material.as_ref()).map(|own| own.value.clone()));
    let style = &job.project.style;
    let used = known.iter().rev().filter_map(|part| part.thickness.map(|own| own.value.length));
    let sheets = used.chain(job.project.shop.sheets());
    let sheets = distinct(sheets.map(|sheet| style.number(sheet)));
    while let Some(id) = console.ask_offering("A part: its number; Enter for no more:", &ids)? {
        if job.project.parts.iter().any(|part| part.id.value == id) {
            own.parts.push(PartOutline { id, name: None, material: None, thickness: None });
            continue;
        }
        let as_known = known.iter().rev().find(|part| part.id.value == id);
        let name = needed("  its name:", &distinct(as_known.map(|part| part.name.value.clone()).into_iter()), console)?;
        let material = console.ask_offering("  its material, as 2024-T3; Enter where it has none:", &materials)?;
        let thickness = console.ask_offering("  its thickness; Enter where it is no sheet:", &sheets)?;
        own.parts.push(PartOutline { id, name: Some(name), material, thickness });
    }
    Ok(())
}

/// A joint; nothing where there are no more.
fn joint(job: &Job, own: &TravelerArguments, console: &mut Console) -> Result<Option<JointOutline>> {
    let ids: Vec<String> = own.parts.iter().map(|part| part.id.clone()).collect();
    let question = "A joint: its parts, head side first, as P1+P2; Enter for no more:";
    let Some(stack) = console.ask_offering(question, &ids)? else { return Ok(None) };
    let call = needed("  its fastener: a callout, a number, or family and diameter:", &calls(job), console)?;
    let count = loop {
        let said = needed("  how many:", &[], console)?;
        match said.parse::<u32>() {
            Ok(count) => break count,
            Err(_) => console.complain(&format!("`{said}` is no number of fasteners, as 24")),
        }
    };
    let mut joint = JointOutline::new(format!("J{}", own.joints.len() + 1), &stack, call, count);
    for (key, question) in questions_of(job, joint.fastener()) {
        while let Some(answer) = console.ask_offering(question, &offers_of(key, job))? {
            match joint.set(key, &answer, &job.project) {
                Ok(()) => break,
                Err(fault) => console.complain(&fault.to_string()),
            }
        }
    }
    Ok(Some(joint))
}

/// What is asked of a joint beside its stack and its count, by what its call is: a key, and the question.
fn questions_of(job: &Job, call: &str) -> Vec<(&'static str, &'static str)> {
    let callout = job.project.callouts.iter().find(|(name, _)| name.value == call);
    let call = callout.map_or(call, |(_, meaning)| meaning.value.as_str());
    let mut questions = vec![("edge", "  edge distance, the smallest; Enter where it is not known:")];
    let Ok(fastener) = decode(call, &job.project.kit) else { return questions };
    match &fastener {
        Fastener::SolidRivet(_) | Fastener::BlindRivet(_) => {
            questions.push(("pitch", "  pitch, the smallest; Enter where it is not known:"));
            if fastener.head().is_flush() {
                questions
                    .push(("prepare", "  sheets: dimple, countersink or plain, one word for all or dimple+plain:"));
            }
        }
        Fastener::Bolt(_) | Fastener::Screw(_) => {
            questions.push(("nut", "  its nut; Enter where it goes into a nutplate or a thread:"));
            questions.push(("washer", "  washers under the nut, as A+B; Enter for none:"));
            questions.push(("cotter", "  its cotter pin; Enter for none:"));
        }
        _ => {}
    }
    questions
}

/// What may be answered to the question of a key.
fn offers_of(key: &str, job: &Job) -> Vec<String> {
    let of_kind = |is_kind: fn(&Fastener) -> bool| {
        every_call().filter(|call| decode(call, &job.project.kit).is_ok_and(|own| is_kind(&own))).collect()
    };
    match key {
        "nut" => of_kind(|own| matches!(own, Fastener::Nut(_))),
        "washer" => of_kind(|own| matches!(own, Fastener::Washer(_))),
        "cotter" => of_kind(|own| matches!(own, Fastener::CotterPin(_))),
        "prepare" => ["dimple", "countersink", "plain"].map(str::to_owned).to_vec(),
        _ => Vec::new(),
    }
}

/// Callouts, calls that the build uses, and calls of the tables.
fn calls(job: &Job) -> Vec<String> {
    let callouts = job.project.callouts.iter().map(|(name, _)| name.value.clone());
    let used = job.travelers.iter().flat_map(|own| &own.joints).map(|joint| joint.spec.fastener.value.clone());
    distinct(callouts.chain(used).chain(every_call()))
}

/// An answer that must be given.
fn needed(question: &str, offers: &[String], console: &mut Console) -> Result<String> {
    loop {
        if let Some(answer) = console.ask_offering(question, offers)? {
            return Ok(answer);
        }
    }
}

/// The texts, each where it stands first.
fn distinct(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut seen = BTreeSet::new();
    texts.filter(|text| seen.insert(text.clone())).collect()
}
