//! The stages of a visit: who signs each and who has, which steps it is about, what is open before it.
//!
//! It repeats the specs and the records. Outcomes are the builder's own words, and stand beside whose act they are.

use serde::Serialize;

use super::STAGE_BOXES;
use super::scene::{Chosen, Scene};
use crate::archive::State as Archived;
use crate::job::{Item, May, Role, Signatory, operation};
use crate::phrase::{say, say_count};
use crate::plan::act::{said_by, whose_act};
use crate::plan::named::{said_role, said_signers};
use crate::plan::said::{Piece, Said};
use crate::plan::told;
use crate::work::{Stages, stage_facts, stage_missing};

/// One stage at one of the steps at which it is signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StageLine {
    /// Its id.
    pub id: String,
    /// Id and name.
    pub title: String,
    /// Who signs it, in words.
    pub who: String,
    /// Traveler, hand, number and title of the step at which it is signed.
    pub at: String,
    /// Code of the sheet in force with its box.
    pub sheet: Option<String>,
    /// Number of the step on it.
    pub number: String,
    /// Names of the spaces and travelers that it is about.
    pub about: Vec<String>,
    /// Its steps that are done, and all of them; the step at which it is signed is not counted.
    pub done: (usize, usize),
    /// Steps that must be done first and are not: traveler, hand, number, title.
    pub open: Vec<String>,
    /// Signatures so far: by whom, when, with which outcome.
    pub signed: Vec<String>,
    /// Who has not signed, or who wrote an outcome that stops; empty where the stage is passed.
    pub missing: Vec<String>,
    /// Fields beside the boxes.
    pub fields: Vec<String>,
    /// Outcomes to tick, in the builder's words.
    pub outcomes: Vec<String>,
    /// Whose act the tick is, where there are outcomes.
    pub act: Option<String>,
}

/// The stages of everything that was chosen, each once a step at which it is signed.
pub(super) fn stages(scene: &Scene<'_>) -> Vec<StageLine> {
    let mut known: Vec<(usize, Item)> = Vec::new();
    for point in scene.chosen.iter().flat_map(|chosen: &Chosen| &chosen.stages) {
        if !known.contains(point) {
            known.push(*point);
        }
    }
    let all = Stages::of(scene.job, scene.order);
    known.into_iter().map(|(stage, at)| line(scene, &all, stage, at)).collect()
}

fn line(scene: &Scene<'_>, all: &Stages<'_>, stage: usize, at: Item) -> StageLine {
    let job = scene.job;
    let own = &job.project.stages[stage];
    let nothing = Archived::default();
    let archived = scene.archived.unwrap_or(&nothing);
    let steps = all.steps(stage, at);
    let others = || steps.iter().filter(|item| **item != at);
    let named = |item: Item| {
        let step = job.step(item.at);
        format!("{} {} {}", scene.place(item.at.traveler, item.hand), operation(step.number), told::title(job, item.at))
    };
    let spaces = own.spaces.iter().map(|space| job.space_spec(*space).name.value.clone());
    let travelers = own.travelers.iter().map(|traveler| {
        let traveler = &job.travelers[*traveler];
        format!("{} {}", traveler.id.value, traveler.title.value)
    });
    let facts = stage_facts(own);
    let standing = facts.standing(&own.id.value, archived, &job.name_of(at));
    let signed = standing.places.iter().flatten().chain(&standing.stopped).map(|signature| {
        let signed = &signature.signed;
        let role = said_role(job, &signed.role);
        match &signed.outcome {
            Some(said) => format!("{}: {}", signed.worked, said_by(said, &signed.by, &role)),
            None => say!("{worked}: {by} as {role}", worked = signed.worked, by = signed.by, role),
        }
    });
    let roles = signing_roles(scene, stage);
    let releasing: Vec<String> =
        roles.iter().filter(|role| role.may(May::Release)).map(|role| said_role(job, &role.id)).collect();
    let outcomes: Vec<String> = own.outcomes.iter().map(|word| word.value.clone()).collect();
    StageLine {
        id: own.id.value.clone(),
        title: own.title(),
        who: said_signers(job, own),
        at: named(at),
        sheet: archived.in_force(&job.packet_name(at.at.traveler, at.hand)).map(|issue| issue.issued.sheet.to_string()),
        number: operation(job.step(at.at).number),
        about: spaces.chain(travelers).collect(),
        done: (others().filter(|item| scene.state.is_done(**item)).count(), others().count()),
        open: all.open_steps(archived, scene.state, stage, at).into_iter().map(named).collect(),
        signed: signed.collect(),
        missing: stage_missing(job, archived, stage, at),
        fields: fields(&roles),
        act: (!outcomes.is_empty()).then(|| whose_act(&releasing.join(say!(" or ")))),
        outcomes,
    }
}

/// The roles in which a stage is signed.
fn signing_roles<'a>(scene: &Scene<'a>, stage: usize) -> Vec<&'a Role> {
    let job = scene.job;
    let sign = &job.project.stages[stage].sign;
    let mut roles: Vec<&Role> = Vec::new();
    for name in sign.all.iter().chain(&sign.any) {
        let own: Vec<&Role> = match job.signatory(&name.value) {
            Some(Signatory::Role(role)) => vec![role],
            Some(Signatory::Person(signer)) => job.roles_of(signer).collect(),
            None => Vec::new(),
        };
        for role in own {
            if !roles.iter().any(|known| known.id == role.id) {
                roles.push(role);
            }
        }
    }
    roles
}

/// Fields of the roles that may release, or of all where none may.
fn fields(roles: &[&Role]) -> Vec<String> {
    let releases = roles.iter().any(|role| role.may(May::Release));
    let asking = roles.iter().filter(|role| !releases || role.may(May::Release));
    let mut fields: Vec<String> = Vec::new();
    for field in asking.flat_map(|role| &role.asks) {
        if !fields.contains(field) {
            fields.push(field.clone());
        }
    }
    fields
}

/// One stage.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StageOnPage {
    /// Id and name.
    pub title: String,
    /// Where it is signed, by whom, what it is about, and how it stands.
    pub words: Vec<Piece>,
    /// Fields to fill in.
    pub fields: Vec<String>,
    /// Outcomes to tick.
    pub outcomes: Vec<String>,
    /// Whose act the tick is.
    pub act: Option<String>,
    /// The box that is entered: sheet and step.
    pub original: String,
    /// Whether it has a box here: not where it is passed, nor where the page has no room for more.
    pub boxed: bool,
}

/// The stages as the packet prints them.
pub(super) fn stages_on_page(lines: &[StageLine]) -> Vec<StageOnPage> {
    let mut boxes = 0;
    let mut all: Vec<StageOnPage> = lines.iter().map(on_page).collect();
    for stage in &mut all {
        boxes += usize::from(stage.boxed);
        stage.boxed &= boxes <= STAGE_BOXES;
    }
    all
}

fn on_page(line: &StageLine) -> StageOnPage {
    let (done, all) = line.done;
    let about = if line.about.is_empty() {
        String::new()
    } else {
        say!(" It is about {about}.", about = line.about.join(", "))
    };
    let said = Said::new()
        .plain(say!("Signed at "))
        .strong(&line.at)
        .plain(say!(" by "))
        .strong(&line.who)
        .plain(".")
        .plain(about);
    let said = said.plain(say!(
        " Of {steps}, {signed}.",
        steps = say_count!(all, "{n} step", "{n} steps"),
        signed = say_count!(done, "{n} is signed", "{n} are signed")
    ));
    let signed = line.signed.iter().fold(said, |said, signed| said.plain(format!(" {signed}.")));
    let passed = line.missing.is_empty();
    let missing = if passed { String::new() } else { format!(" {}.", line.missing.join("; ")) };
    let sheet = line.sheet.as_ref().map_or_else(|| say!("the sheet").to_owned(), |code| say!("sheet {code}", code));
    StageOnPage {
        title: say!("Stage {title}", title = line.title),
        words: signed.strong(missing).pieces(),
        fields: line.fields.clone(),
        outcomes: line.outcomes.clone(),
        act: line.act.clone(),
        original: say!(
            "The box at step {number} of {sheet} is the original; this one is the visitor's.",
            number = line.number,
            sheet
        ),
        boxed: !passed,
    }
}
