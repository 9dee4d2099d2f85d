//! RESOLVE: what the specs mean: references followed, calls decoded, hole sizes and the order of the work known.
//!
//! It gives findings only for what cannot be followed (a part, joint, step, zone, drawing or traveler that
//! does not exist, two things with one id). It judges nothing else; what could not be followed is left out and counted.

mod caution;
mod cure;
mod joint;
mod order;
mod parked;
mod progress;
mod resolve;
mod room;
mod space;
mod step;
mod traveler;

pub use caution::{Cautions, Weakened};
pub use cure::{Clock, Clocks, Touch, same_side};
pub use joint::{FinalHole, Hardware, HoleLife, Joint, Layer, LeaveOpen, Limits, LivesAt, ShopHead, Temporary};
pub use order::{After, Before, Item, Link, Order, Why};
pub use parked::{Parked, ParkedKind};
pub use progress::{Discrepancy, Done, Started, State, Waiting, resolve_progress};
pub use resolve::resolve;
pub use room::Room;
pub use space::{Closing, Space, SpaceLife, Standing, Visit};
pub use step::{Record, Step, StepRef, sheet_of_view};
pub use traveler::{Allow, Bend, DrawingRef, Part, Traveler};

pub use crate::spec::{
    Access, CautionRule, Hand, HolePlace, OnlyWhere, Paper, Preparation, Role, Settings, SignalWord, StepKind,
    Structure, Text, WaitFor, nearest,
};

use crate::calendar::Day;
use crate::hardware::KitFastener;
use crate::text::Spanned;

/// The whole build, resolved.
#[derive(Debug, Clone)]
pub struct Job {
    /// Aircraft, folders, signers.
    pub project: Project,
    /// Travelers in the order of their files' paths.
    pub travelers: Vec<Traveler>,
    /// Travelers that could not be read at all.
    pub unread: usize,
}

/// What `build.toml` says.
#[derive(Debug, Clone)]
pub struct Project {
    /// Aircraft name.
    pub aircraft: Text,
    /// Serial number.
    pub serial: Option<Text>,
    /// Registration.
    pub registration: Option<Text>,
    /// Folders, paper, unit, spares.
    pub settings: Settings,
    /// Who may sign.
    pub signers: Vec<Signer>,
    /// Spaces that close.
    pub zones: Vec<Zone>,
    /// The plans' own calls, by name.
    pub callouts: Vec<(Text, Text)>,
    /// Kit-supplied hardware.
    pub kit: Vec<KitFastener>,
    /// Drawing register.
    pub register: Vec<Drawing>,
    /// Pieces on the shelf.
    pub stock: Vec<Stock>,
    /// Measuring tools that are calibrated.
    pub tools: Vec<Tool>,
    /// Cautions, with what the project made of the built-in ones.
    pub cautions: Cautions,
}

/// A person by initials.
#[derive(Debug, Clone)]
pub struct Signer {
    /// As written on the sheets.
    pub initials: Text,
    /// Role.
    pub role: Role,
}

/// A space that steps need open and some step closes.
#[derive(Debug, Clone)]
pub struct Zone {
    /// Id.
    pub id: Text,
    /// Name on paper.
    pub name: Text,
    /// Who must have looked before it closes.
    pub hold: Option<Role>,
    /// Hands that have a space of their own; empty: one space for all.
    pub hands: Vec<Hand>,
}

/// One sheet of the register.
#[derive(Debug, Clone)]
pub struct Drawing {
    /// Sheet number.
    pub sheet: Text,
    /// Title.
    pub title: Option<Text>,
    /// Current revision.
    pub revision: Text,
    /// Date of that revision.
    pub date: Option<Spanned<Day>>,
}

/// A measuring tool that is calibrated.
#[derive(Debug, Clone)]
pub struct Tool {
    /// As steps name it.
    pub id: Text,
    /// Name on paper.
    pub name: Option<Text>,
    /// Day of the last calibration, as `2026-03-02`.
    pub calibrated: Spanned<Day>,
}

/// Pieces on the shelf.
#[derive(Debug, Clone)]
pub struct Stock {
    /// A call or a part id.
    pub item: Text,
    /// How many.
    pub on_hand: u32,
}

impl Job {
    /// The step that a reference names.
    #[must_use]
    pub fn step(&self, at: StepRef) -> &Step {
        &self.travelers[at.traveler].steps[at.step]
    }

    /// The hands in which a traveler is built; one absent hand for a one-off.
    #[must_use]
    pub fn hands_of(&self, traveler: usize) -> Vec<Option<Hand>> {
        match self.travelers[traveler].hands.as_slice() {
            [] => vec![None],
            hands => hands.iter().copied().map(Some).collect(),
        }
    }

    /// The zone of an index that resolving gave.
    #[must_use]
    pub fn zone(&self, index: usize) -> &Zone {
        &self.project.zones[index]
    }

    /// `TRAVELER/step` as the builder writes it.
    #[must_use]
    pub fn step_name(&self, at: StepRef) -> String {
        let traveler = &self.travelers[at.traveler];
        format!("{}/{}", traveler.id.value, traveler.steps[at.step].id.value)
    }
}

/// An index with the place that named it.
pub type Index = Spanned<usize>;

/// An operation number as it is printed: `010`.
#[must_use]
pub fn operation(number: u32) -> String {
    format!("{number:03}")
}
