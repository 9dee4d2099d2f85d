//! RESOLVE: what the specs mean: references followed, calls decoded, hole sizes and the order of the work known.
//!
//! It gives findings only for what cannot be followed (a part, joint, step, space, drawing or traveler that
//! does not exist, two things with one id). It judges nothing else; what could not be followed is left out and counted.

mod across;
mod around;
mod board;
mod caution;
mod compared;
mod condition;
mod cure;
mod file_name;
mod fit_up;
mod joint;
mod limits;
mod measure;
mod number;
mod order;
mod parked;
mod part;
mod procedure;
mod progress;
mod recorded;
mod regime;
mod resolve;
mod room;
mod safety;
mod space;
mod step;
mod tally;
mod traveler;
mod usual;

pub use board::{JobWait, Queue};
pub use caution::{Cautions, Weakened};
pub use compared::{Compared, Incomparable, ReadingRef};
pub use condition::Acts;
pub use cure::{Clock, Clocks, Touch};
pub use file_name::{FileKey, OwnDocument, PrintKind, packet_stem};
pub use fit_up::FitUp;
pub use joint::{FinalHole, Hardware, HoleLife, Joint, Layer, LivesAt, Temporary};
pub use limits::{PlansRange, grip_range, hole_range};
pub use number::{Issued, IssuedSteps};
pub use order::{After, Before, Item, Link, Order, Why};
pub use parked::{Parked, ParkedKind};
pub use part::{Part, PartDifference, PartFacts};
pub use procedure::Procedure;
pub use progress::{Discrepancy, Done, Started, State, Waiting, check_days, resolve_progress};
pub use recorded::Recorded;
pub use regime::{Role, Signatory, Stage};
pub use resolve::{resolve, resolve_as_issued};
pub use room::Room;
pub use safety::Safety;
pub use space::{Closing, Space, SpaceLife, Standing, Visit};
pub use step::{Follow, JointRef, NamedJoint, Origin, Step, StepRef, sheet_of_view};
pub use tally::{Handled, Handling};
pub use traveler::{DrawingRef, Traveler};
pub use usual::Omitted;

pub use crate::words::{Grain, May};

pub use crate::spec::{
    Access, Allow, Along, Bend, CautionRule, Drawing, FitSpec, Hand, HolePlace, JointSpec, Limits, MeasuredHead,
    OnlyWhere, Paper, PictureSpec, Preparation, Record, Settings, SignalWord, Signer, SpaceSpec, StageSpec, StepEntry,
    StepKind, StepSpec, Stock, Structure, Text, Tool, TravelerSpec, Trigger, WaitFor, nearest,
};

use std::collections::BTreeMap;
use std::ops::Range;

use crate::hardware::{KitFastener, OwnTorque, Shop};
use crate::spec::ProjectSpec;
use crate::text::Spanned;
use crate::units::Style;

/// The whole build, resolved.
#[derive(Debug, Clone)]
pub struct Job {
    /// Aircraft, folders, signers.
    pub project: Project,
    /// Travelers in the order of their files' paths.
    pub travelers: Vec<Traveler>,
    /// Travelers that could not be read at all.
    pub unread: usize,
    /// Pictures that the texts of items show, in their order. Resolving reads no file: whoever reads pictures adds them.
    pub pictures: BTreeMap<Item, Vec<ShownPicture>>,
}

/// A picture that the text of a step shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShownPicture {
    /// Its bytes in the text as written: `![what it shows](file.svg)`.
    pub place: Range<usize>,
    /// SHA-256 of the file.
    pub sha256: [u8; 32],
}

/// What `build.toml` says, and what follows from it.
#[derive(Debug, Clone)]
pub struct Project {
    /// As written.
    pub spec: ProjectSpec,
    /// Aircraft name, also where none is written.
    pub aircraft: Text,
    /// How it prints sizes.
    pub style: Style,
    /// What the builder owns.
    pub shop: Shop,
    /// Kit-supplied hardware.
    pub kit: Vec<KitFastener>,
    /// Torques of the build's own.
    pub torques: Vec<OwnTorque>,
    /// Cautions, with what the project made of the built-in ones.
    pub cautions: Cautions,
    /// Standard ways of work: the builder's own, then the built-in ones that those do not replace.
    pub procedures: Vec<Procedure>,
    /// Who may sign what: the builder's own roles, or else the built-in ones.
    pub roles: Vec<Role>,
    /// Stages, in the order of the file.
    pub stages: Vec<Stage>,
    /// What the builder wants of the board.
    pub queue: Queue,
}

impl Project {
    /// Serial number.
    #[must_use]
    pub fn serial(&self) -> Option<&Text> {
        self.spec.aircraft.as_ref()?.serial.as_ref()
    }

    /// Registration marks.
    #[must_use]
    pub fn registration(&self) -> Option<&Text> {
        self.spec.aircraft.as_ref()?.registration.as_ref()
    }
}

impl std::ops::Deref for Project {
    type Target = ProjectSpec;

    fn deref(&self) -> &ProjectSpec {
        &self.spec
    }
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
            hands => hands.iter().map(|hand| Some(hand.value)).collect(),
        }
    }

    /// A space as the project file says it, by an index that resolving gave.
    #[must_use]
    pub fn space_spec(&self, index: usize) -> &SpaceSpec {
        &self.project.spec.spaces[index]
    }

    /// A joint as a traveler's steps name it: `J2`, another traveler's `FUS-10/J2`, one hand's of it `WING-10/left/J2`.
    #[must_use]
    pub fn joint_name(&self, joint: JointRef, hand: Option<Hand>, traveler: usize) -> String {
        let own = &self.joint(joint).id.value;
        let other = &self.travelers[joint.traveler].id.value;
        match hand {
            _ if joint.traveler == traveler => own.clone(),
            Some(hand) => format!("{other}/{hand}/{own}"),
            None => format!("{other}/{own}"),
        }
    }

    /// The hands of a joint on which an item works that names it so: one absent hand for a one-off.
    #[must_use]
    pub fn hands_worked(&self, named: NamedJoint, item: Item) -> Vec<Option<Hand>> {
        let only = named.hand.or(item.hand);
        self.hands_of(named.joint.traveler).into_iter().filter(|hand| same_side(*hand, only)).collect()
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

/// Whether two hands can mean the same part: the same one, or one of them is both.
#[must_use]
pub fn same_side(one: Option<Hand>, other: Option<Hand>) -> bool {
    one.is_none() || other.is_none() || one == other
}

/// An operation number as it is printed: `010`.
#[must_use]
pub fn operation(number: u32) -> String {
    format!("{number:03}")
}
