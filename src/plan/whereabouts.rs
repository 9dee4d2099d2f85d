//! Where the joints of an assembly lie: the builder's own picture with the joints marked on it, or without one each pattern
//! of holes beside its edge and end.
//!
//! The front of the packet shows it; a visit may. It places nothing that the spec does not place: without picture and
//! patterns there is nothing to show.

use serde::Serialize;

use super::joint::leave_open;
use super::told;
use crate::figure::{Drawing, PatternSketch, pattern_sketch};
use crate::job::{Along, Hand, Job, Joint, PictureSpec, Traveler};
use crate::phrase::say;
use crate::units::{Decimal, Style};

/// Where the joints of one traveler lie.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Whereabouts {
    /// The builder's own picture, where the spec names one.
    pub picture: Option<MarkedPicture>,
    /// Else the patterns of the joints that have one.
    pub patterns: Option<Drawing>,
    /// The joints that are shown.
    pub joints: Vec<JointWhere>,
    /// What to know before the figure is believed.
    pub note: Option<String>,
}

/// A picture with the places of the joints on it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct MarkedPicture {
    /// Its file, as the spec names it.
    pub file: String,
    /// Width in print in millimetres; absent: what the page has room for.
    pub width: Option<String>,
    /// The marks in the order of the spec.
    pub marks: Vec<PlacedMark>,
}

/// One joint at one place of a picture.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PlacedMark {
    /// Id of the joint.
    pub joint: String,
    /// From the left: `30%` of the picture, or `12.5mm`.
    pub right: String,
    /// From the top, likewise.
    pub down: String,
}

/// A joint of the figure in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct JointWhere {
    /// Its id.
    pub id: String,
    /// What it is called, where the spec says.
    pub name: Option<String>,
    /// Whether holes of it stay open.
    pub leave_open: bool,
    /// Whether it is on the figure.
    pub shown: bool,
}

/// Where the joints of a traveler lie, as far as its spec says.
///
/// # Panics
/// When the job has no traveler of that index.
#[must_use]
pub fn whereabouts(job: &Job, index: usize, hand: Option<Hand>) -> Option<Whereabouts> {
    let traveler = &job.travelers[index];
    let style = &job.project.style;
    let line = |joint: &Joint, shown: bool| JointWhere {
        id: joint.id.value.clone(),
        name: joint.name.as_ref().map(|name| name.value.clone()),
        leave_open: leave_open(job, joint).is_some(),
        shown,
    };
    let is_other_hand = hand.is_some() && hand != traveler.hands.first().map(|first| first.value);
    if let Some(picture) = &traveler.picture {
        let is_marked = |joint: &Joint| picture.marks.iter().any(|(id, _)| id.value == joint.id.value);
        return Some(Whereabouts {
            picture: Some(marked(picture, style)),
            patterns: None,
            joints: traveler.joints.iter().map(|joint| line(joint, is_marked(joint))).collect(),
            note: is_other_hand
                .then(|| say!("the picture shows the other hand: this one is its mirror image").to_owned()),
        });
    }
    let patterns = pattern_sketch(&sketches(traveler, is_other_hand)).map(told::drawing);
    patterns.is_some().then(|| Whereabouts {
        picture: None,
        patterns,
        joints: traveler.joints.iter().filter(|joint| joint.places.is_some()).map(|joint| line(joint, true)).collect(),
        note: Some(say!("seen from the head side; in proportion, not to scale").to_owned()),
    })
}

fn marked(picture: &PictureSpec, style: &Style) -> MarkedPicture {
    let marks = picture.marks.iter().flat_map(|(joint, written)| {
        // What is wrong with a place was said when it was read.
        let places = picture.places(&written.value, style).into_iter().flatten();
        places.map(|place| PlacedMark {
            joint: joint.value.clone(),
            right: along(place.right),
            down: along(place.down),
        })
    });
    MarkedPicture {
        file: picture.file.value.clone(),
        width: picture.width.map(|width| width.value.mm_exact()),
        marks: marks.collect(),
    }
}

fn along(along: Along) -> String {
    match along {
        Along::Percent(millionths) => format!("{}%", Decimal::from_micro(millionths)),
        Along::Length(length) => format!("{}mm", length.mm_exact()),
    }
}

fn sketches(traveler: &Traveler, mirrored: bool) -> Vec<PatternSketch> {
    let sketch = |joint: &Joint| {
        let pattern = joint.pattern.as_ref()?;
        Some(PatternSketch {
            joint: joint.id.value.clone(),
            edge: pattern
                .edge_name
                .as_ref()
                .map_or_else(|| say!("edge of the part").to_owned(), |name| name.value.clone()),
            end: pattern.end_name.as_ref().map_or_else(|| say!("end").to_owned(), |name| name.value.clone()),
            across: pattern.across.map(|way| way.value),
            along: pattern.along.map(|way| way.value),
            places: joint.places.clone()?,
            mirrored,
        })
    };
    traveler.joints.iter().filter_map(sketch).collect()
}
