//! What an update of the drawing register touches, before any spec is edited: sheets by sheet, travelers and steps.
//!
//! It compares the register with what travelers cite; what is inside a drawing it cannot know.

use serde::Serialize;

use crate::archive::{Standing, State};
use crate::job::{Job, Step, sheet_of_view};
use crate::words::ItemName;

/// A traveler that cites a sheet at another revision than the register's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Touched {
    /// Sheet number.
    pub sheet: String,
    /// Revision that the traveler was written against; absent where it names none.
    pub cited: Option<String>,
    /// Revision of the register.
    pub register: String,
    /// Id of the traveler.
    pub traveler: String,
    /// Title of the traveler.
    pub title: String,
    /// Whether the steps are those that cite a view of the sheet; else the traveler cites it as a whole, and all are listed.
    pub by_view: bool,
    /// The steps.
    pub steps: Vec<TouchedStep>,
}

/// A step that a drawing may touch.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TouchedStep {
    /// Number on paper.
    pub number: String,
    /// Stable name.
    pub step: String,
    /// Title of the step.
    pub title: String,
    /// Views that it cites.
    pub views: Vec<String>,
    /// Who signed it, in each hand in which it is signed.
    pub signed: Vec<String>,
}

/// Every traveler that cites a sheet at another revision than the register's.
#[must_use]
pub fn register_touches(job: &Job, state: &State) -> Vec<Touched> {
    let mut touched = Vec::new();
    for (index, traveler) in job.travelers.iter().enumerate() {
        for cited in &traveler.drawings {
            let Some(known) = cited.register.and_then(|at| job.project.drawings.get(at)) else { continue };
            if cited.revision.as_ref() == Some(&known.revision.value) {
                continue;
            }
            let cites = |step: &&Step| step.drawings.iter().any(|view| sheet_of_view(&view.value) == cited.sheet);
            let by_view = traveler.steps.iter().any(|step| cites(&step));
            let steps = traveler.steps.iter().filter(|step| !by_view || cites(step));
            touched.push(Touched {
                sheet: cited.sheet.clone(),
                cited: cited.revision.clone(),
                register: known.revision.value.clone(),
                traveler: traveler.id.value.clone(),
                title: traveler.title.value.clone(),
                by_view,
                steps: steps.map(|step| touched_step(job, state, index, step, &cited.sheet)).collect(),
            });
        }
    }
    touched.sort_by(|a, b| (&a.sheet, &a.traveler).cmp(&(&b.sheet, &b.traveler)));
    touched
}

fn touched_step(job: &Job, state: &State, traveler: usize, step: &Step, sheet: &str) -> TouchedStep {
    let id = job.travelers[traveler].id.value.as_str();
    let signed = job.hands_of(traveler).into_iter().filter_map(|hand| {
        let standing = state.standing(&ItemName::new(id, hand, step.id.value.as_str()));
        let (Standing::Signed(entry) | Standing::AwaitsReading(entry)) = standing else { return None };
        let signature = state.signatures.get(&entry)?;
        let side = hand.map(|hand| format!("{}: ", hand.word())).unwrap_or_default();
        Some(format!("{side}{}, {}", signature.signed.by, signature.signed.worked))
    });
    let views = step.drawings.iter().filter(|view| sheet_of_view(&view.value) == sheet);
    TouchedStep {
        number: crate::job::operation(step.number),
        step: step.id.value.clone(),
        title: step.title.value.clone(),
        views: views.map(|view| view.value.clone()).collect(),
        signed: signed.collect(),
    }
}
