//! Photos, scans and letters of the archive, in the order in which they were taken, and the photos that are missing.
//!
//! It names files; what a photo shows, and whether it shows enough, is for whoever looks at it.

use serde::Serialize;

use super::found::{space_name, step_words};
use super::{BookFacts, Signature, State, step_of, unstruck};
use crate::archive::{About, Added, Capacity, EntryNumber};
use crate::job::{Job, StepKind, operation};
use crate::phrase::say;
use crate::plan::document::Thumbnail;

/// A file of the archive.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct FileLine {
    /// The entry.
    pub entry: u32,
    /// Number of the photo.
    pub photo: Option<String>,
    /// Day on which it was taken.
    pub taken: Option<String>,
    /// Name as it came.
    pub name: String,
    /// Name among the blobs, its first digits.
    pub blob: String,
    /// What it belongs to.
    pub of: String,
    /// Space and caption.
    pub about: Vec<String>,
    /// Whether the builder is in the picture, where that was said.
    pub builder_seen: Option<bool>,
    /// The picture on the page, where the file is one.
    pub shown: Option<Shown>,
}

/// A picture on the page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Shown {
    /// Its name among the pictures of the document.
    pub name: String,
    /// Pixels across.
    pub width: u32,
    /// Pixels down.
    pub height: u32,
}

impl FileLine {
    /// Puts a picture beside the line and says under which name the page asks for it.
    pub fn show(&mut self, picture: &Thumbnail) -> String {
        let name = format!("photo-{:06}", self.entry);
        self.shown = Some(Shown { name: name.clone(), width: picture.width, height: picture.height });
        name
    }
}

/// Every file that was not struck out: dated ones first, by day.
pub(super) fn files(job: &Job, state: &State) -> Vec<FileLine> {
    let mut files: Vec<(EntryNumber, &Added)> = state.files.iter().map(|(entry, added)| (*entry, added)).collect();
    files.sort_by_key(|(entry, added)| (added.taken.is_none(), added.taken, *entry));
    files.into_iter().map(|(entry, added)| line(job, state, entry, added)).collect()
}

fn line(job: &Job, state: &State, entry: EntryNumber, added: &Added) -> FileLine {
    let packet = added.sheet.and_then(|code| state.sheet(code)).map(|issue| issue.issued.packet());
    let step = added.step.as_ref().map(|id| step_words(job, state, packet.as_ref(), id));
    let sheet = added.sheet.map(|code| format!("({code})"));
    let of = [packet.map(|packet| packet.to_string()), step, sheet, added.discrepancy.clone()];
    FileLine {
        entry: entry.0,
        photo: added.photo.clone(),
        taken: added.taken.map(|day| day.to_string()),
        name: added.name.clone(),
        blob: added.file.digest.hex()[..12].to_owned(),
        of: of.into_iter().flatten().collect::<Vec<_>>().join(" "),
        about: [added.space.as_ref().map(|id| space_name(job, id)), added.caption.clone()]
            .into_iter()
            .flatten()
            .collect(),
        builder_seen: added.builder_seen,
        shown: None,
    }
}

/// Numbers of photos that signatures name and the archive does not hold, with their steps.
pub(super) fn missing(job: &Job, state: &State) -> Vec<String> {
    let held: std::collections::BTreeSet<&String> =
        state.files.iter().filter_map(|(_, added)| added.photo.as_ref()).collect();
    let named =
        unstruck(state).flat_map(|signature| signature.signed.photos.iter().map(move |photo| (photo, signature)));
    let missing = named.filter(|(photo, _)| !held.contains(photo));
    let name = |(photo, signature): (&String, &Signature)| {
        let packet = signature.packet();
        format!("{photo}: {packet} {}", step_words(job, state, Some(&packet), &signature.signed.step))
    };
    missing.map(name).collect()
}

/// Signed steps whose sheet asks for a photo and that name none.
pub(super) fn unphotographed(state: &State, facts: &BookFacts<'_>) -> Vec<String> {
    let asked = |signature: &&Signature| {
        let required = step_of(signature, facts);
        signature.signed.capacity == Capacity::Done
            && signature.signed.photos.is_empty()
            && required
                .is_some_and(|step| step.value(&About::Photo).is_some() || step.kind() == Some(StepKind::Photograph))
    };
    let name = |signature: &Signature| {
        let number = step_of(signature, facts).map(|step| operation(step.number));
        say!(
            "{packet} step {step}",
            packet = signature.packet(),
            step = number.unwrap_or_else(|| signature.signed.step.clone())
        )
    };
    unstruck(state).filter(asked).map(name).collect()
}
