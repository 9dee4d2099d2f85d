//! Photos, scans and letters of the archive, in the order in which they were taken, and the photos that are missing.
//!
//! It names files; what a photo shows, and whether it shows enough, is for whoever looks at it.

use serde::Serialize;

use super::{BookFacts, Signature, State, counted, step_of};
use crate::archive::{About, Added, Capacity, EntryNumber};
use crate::job::{StepKind, operation};
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
pub(super) fn files(state: &State) -> Vec<FileLine> {
    let mut files: Vec<(EntryNumber, &Added)> = state.files.iter().map(|(entry, added)| (*entry, added)).collect();
    files.sort_by_key(|(entry, added)| (added.taken.is_none(), added.taken, *entry));
    files.into_iter().map(|(entry, added)| line(state, entry, added)).collect()
}

fn line(state: &State, entry: EntryNumber, added: &Added) -> FileLine {
    let traveler = added.sheet.and_then(|code| state.sheet(code)).map(|issue| issue.issued.packet().to_string());
    let sheet = added.sheet.map(|code| format!("({code})"));
    let of = [traveler, added.step.clone(), sheet, added.discrepancy.clone()];
    FileLine {
        entry: entry.0,
        photo: added.photo.clone(),
        taken: added.taken.map(|day| day.to_string()),
        name: added.name.clone(),
        blob: added.file.digest.hex()[..12].to_owned(),
        of: of.into_iter().flatten().collect::<Vec<_>>().join(" "),
        about: [added.zone.clone(), added.caption.clone()].into_iter().flatten().collect(),
        builder_seen: added.builder_seen,
        shown: None,
    }
}

/// Numbers of photos that signatures name and the archive does not hold, with their steps.
pub(super) fn missing(state: &State) -> Vec<String> {
    let held: std::collections::BTreeSet<&String> =
        state.files.iter().filter_map(|(_, added)| added.photo.as_ref()).collect();
    let named =
        counted(state).flat_map(|signature| signature.signed.photos.iter().map(move |photo| (photo, signature)));
    let missing = named.filter(|(photo, _)| !held.contains(photo));
    missing.map(|(photo, signature)| format!("{photo}: {} {}", signature.packet(), signature.signed.step)).collect()
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
        let number = step_of(signature, facts).map_or_else(String::new, |step| format!("{} ", operation(step.number)));
        format!("{} {number}{}", signature.packet(), signature.signed.step)
    };
    counted(state).filter(asked).map(name).collect()
}
