//! The facts that a step may require, typed: what each is about, and its value.
//!
//! It names things by the ids of specs and knows nothing else of them. How a fact is written is in `line`; what a
//! changed fact means is for the change notice.

use crate::archive::stage::StageFacts;
use crate::ident::Digest;
use crate::units::{Decimal, DifferenceLimits, Length, Minutes, Ratio, TorqueRange};
use crate::words::{StepKind, words};

words! {
    /// What side of the work a fact is about; decides what a change of it does to a signature.
    Aspect {
        /// What the step does.
        Work = "work",
        /// Drawing sheet and view.
        Drawing = "drawing",
        /// A part and its material, thickness, bend.
        Part = "part",
        /// The layers of a stack, and what is done to each.
        Stack = "stack",
        /// Holes, edges, pitches, numbers of fasteners.
        Size = "size",
        /// Rivets, bolts, nuts, washers, pins, sealant.
        Fastener = "fastener",
        /// Torque and what it depends on.
        Torque = "torque",
        /// Values to be measured, with label, unit and limits.
        Tolerance = "tolerance",
        /// Holds, witnesses, stages, photos.
        Inspection = "inspection",
        /// Steps, spaces and waits on which the order depends.
        Order = "order",
        /// Cure times.
        Cure = "cure",
        /// By what the finished joint is judged: structure, limits of the plans, heat, movement.
        Judged = "judged",
        /// What is read at the bench: texts that are the work, pictures, sources.
        Read = "read",
    }
}

words! {
    /// One side of a joint.
    Side {
        /// Number of fasteners.
        Count = "count",
        /// Distance from hole to edge, one a layer.
        Edge = "edge",
        /// Distance from fastener to fastener.
        Pitch = "pitch",
        /// Number of rows.
        Rows = "rows",
        /// Distance from row to row.
        RowGap = "row gap",
        /// Place of a hole: along and across.
        HoleAt = "hole at",
        /// Hole as delivered.
        HoleStart = "hole as delivered",
        /// Hole as the step leaves it.
        HoleAfter = "hole after this",
        /// Final hole.
        Hole = "hole",
        /// Depth of the burr chamfer.
        Chamfer = "chamfer",
        /// Diameter of the fastener whose head a recess fits.
        HeadOf = "head of",
        /// Form of the head that a recess fits.
        HeadForm = "head form",
        /// Call of the fastener.
        Fastener = "fastener",
        /// Nut.
        Nut = "nut",
        /// Nut that locks the nut.
        CheckNut = "check nut",
        /// Washer under the head.
        WasherHead = "washer at the head",
        /// Washer under the nut.
        WasherNut = "washer at the nut",
        /// Cotter pin.
        Cotter = "cotter",
        /// Holes left open.
        LeftOpen = "left open",
        /// Final fasteners that the step sets.
        SetHere = "set here",
        /// Pieces of fit-up hardware that the step puts in.
        PutIn = "put in here",
        /// What it is set wet with.
        Wet = "wet with",
        /// Torque.
        Torque = "torque",
        /// Never more than this torque, where the build's own entry says so.
        TorqueMost = "torque at most",
        /// Where the torque comes from, where an entry of the build gives it.
        TorqueSource = "source of the torque",
        /// Run-down torque of a nut that is used again.
        RunDown = "run-down torque",
        /// Whether the torque holds the drag of the nut.
        Drag = "drag",
        /// How it is tightened, where that is no torque.
        Tightened = "tightened",
        /// State of the threads.
        Threads = "threads",
        /// Fit-up hardware.
        Temporary = "temporary",
        /// How much rests on the joint.
        Structure = "structure",
        /// Smallest edge distance that the plans allow.
        LeastEdge = "least edge",
        /// Smallest pitch that the plans allow.
        LeastPitch = "least pitch",
        /// Smallest row gap that the plans allow.
        LeastRowGap = "least row gap",
        /// Smallest distance to the bend that the plans allow.
        LeastBend = "least distance to the bend",
        /// Hole that the plans set.
        PlansHole = "hole of the plans",
        /// Stack that the plans let the fastener grip.
        PlansGrip = "grip of the plans",
        /// Torque that the plans set as a limit.
        PlansTorque = "torque limit of the plans",
        /// Whether it turns in use.
        Rotates = "turns in use",
        /// What the bolt clamps of a joint that turns.
        Clamped = "clamps",
        /// Hottest temperature in use.
        Temperature = "temperature",
        /// Whether it is opened again and again.
        OftenRemoved = "often removed",
        /// Width of a stringer's leg.
        StringerLeg = "stringer leg",
        /// Outside diameter of a tube.
        Tube = "tube",
    }
}

impl Side {
    /// What it is a side of.
    #[must_use]
    pub const fn aspect(self) -> Aspect {
        match self {
            Self::Count
            | Self::Edge
            | Self::Pitch
            | Self::Rows
            | Self::RowGap
            | Self::HoleAt
            | Self::HoleStart
            | Self::HoleAfter
            | Self::Hole
            | Self::Chamfer
            | Self::HeadOf
            | Self::HeadForm => Aspect::Size,
            Self::Fastener
            | Self::Nut
            | Self::CheckNut
            | Self::WasherHead
            | Self::WasherNut
            | Self::Cotter
            | Self::LeftOpen
            | Self::SetHere
            | Self::PutIn
            | Self::Wet
            | Self::Temporary => Aspect::Fastener,
            Self::TorqueSource => Aspect::Read,
            Self::Torque | Self::TorqueMost | Self::RunDown | Self::Drag | Self::Tightened | Self::Threads => {
                Aspect::Torque
            }
            Self::Structure
            | Self::LeastEdge
            | Self::LeastPitch
            | Self::LeastRowGap
            | Self::LeastBend
            | Self::PlansHole
            | Self::PlansGrip
            | Self::PlansTorque
            | Self::Rotates
            | Self::Clamped
            | Self::Temperature
            | Self::OftenRemoved
            | Self::StringerLeg
            | Self::Tube => Aspect::Judged,
        }
    }
}

words! {
    /// One side of a kit-supplied fastener, as `build.toml` gives it.
    KitSide {
        /// What it is.
        Kind = "kind",
        /// Nominal diameter.
        Diameter = "diameter",
        /// Smallest and largest hole.
        Hole = "hole",
        /// Smallest and largest stack.
        Grip = "grip",
        /// Shape of the head.
        Head = "head",
        /// Material.
        Material = "material",
        /// Thread.
        Thread = "thread",
        /// Length under the head.
        Length = "length",
        /// Length of the thread.
        ThreadLength = "thread length",
        /// Thickness of a washer.
        Thickness = "thickness",
        /// Height of a nut.
        Height = "height",
        /// Whether a nut locks itself.
        SelfLocking = "self-locking",
        /// Whether a nut has slots.
        Castle = "castle",
        /// Hole for the cotter pin.
        PinHole = "pin hole",
        /// Whether the shank is drilled.
        DrilledShank = "drilled shank",
        /// Property class.
        Class = "property class",
        /// Where the numbers come from.
        Source = "source",
    }
}

words! {
    /// One side of a value to be measured.
    RecordSide {
        /// What is measured, as printed.
        Label = "label",
        /// Unit.
        Unit = "unit",
        /// Smallest value that passes.
        Min = "min",
        /// Largest value that passes.
        Max = "max",
        /// Instrument.
        Tool = "tool",
        /// Limits of it less another value.
        Less = "less another",
    }
}

words! {
    /// What a step needs of a space, or does to it.
    SpaceUse {
        /// It must be open.
        Open = "open",
        /// The step closes it.
        Closed = "closed by this",
        /// The step opens it.
        Opened = "opened by this",
    }
}

words! {
    /// What an accepted departure is limited to.
    Scope {
        /// One joint.
        Joint = "joint",
        /// One step.
        Step = "step",
        /// One part.
        Part = "part",
    }
}

/// What a fact is about. A step may state several facts about one thing, a washer twice; they are told apart by order.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// A traveler that must be finished first.
    After(String),
    /// An accepted departure: rule, and what it is limited to.
    Departure(String, Option<(Scope, String)>),
    /// Kind of work.
    Kind,
    /// The text of a step whose words are the work.
    Text,
    /// The revision of the procedure, by its id, from which a step has that text.
    Procedure(String),
    /// A drawing view.
    View(String),
    /// A picture that the text shows, by the bytes of its file: the name under which the text asks for it is wording.
    Picture,
    /// A part.
    Part(String),
    /// A layer of a joint, counted from one.
    Layer(String, u32),
    /// What is done to a layer around the hole.
    Preparation(String, u32),
    /// A side of a joint.
    Joint(String, Side),
    /// A side of a kit-supplied fastener, by its call.
    Kit(String, KitSide),
    /// A side of a value to be measured, by the record's id.
    Record(String, RecordSide),
    /// The role that must release the step.
    Hold,
    /// The role that is invited.
    Witness,
    /// A stage that is signed at the step, by its id.
    Stage(String),
    /// A photo.
    Photo,
    /// A step that must be done first: traveler and step.
    Needs(String, String),
    /// What the step does to a state, or that it needs it.
    State(String),
    /// A space.
    Space(String),
    /// How long nothing touches the parts.
    Cure,
    /// End of the window for the next coat.
    CureLatest,
    /// A line that this program does not know, as written.
    Other(Aspect, String),
}

impl About {
    /// The side of the work.
    #[must_use]
    pub const fn aspect(&self) -> Aspect {
        match self {
            Self::After(_) | Self::Needs(..) | Self::State(_) | Self::Space(_) => Aspect::Order,
            Self::Departure(..) | Self::Kind => Aspect::Work,
            Self::Text | Self::Procedure(_) | Self::Picture | Self::Kit(_, KitSide::Source) => Aspect::Read,
            Self::View(_) => Aspect::Drawing,
            Self::Part(_) => Aspect::Part,
            Self::Layer(..) | Self::Preparation(..) => Aspect::Stack,
            Self::Joint(_, side) => side.aspect(),
            Self::Kit(..) => Aspect::Fastener,
            Self::Record(..) => Aspect::Tolerance,
            Self::Hold | Self::Witness | Self::Stage(_) | Self::Photo => Aspect::Inspection,
            Self::Cure | Self::CureLatest => Aspect::Cure,
            Self::Other(aspect, _) => *aspect,
        }
    }

    /// The joint, where it is about one.
    #[must_use]
    pub fn joint(&self) -> Option<&str> {
        match self {
            Self::Joint(joint, _) | Self::Layer(joint, _) | Self::Preparation(joint, _) => Some(joint),
            _ => None,
        }
    }
}

/// A layer of a stack.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct LayerFacts {
    /// Id of the part.
    pub part: Option<String>,
    /// Material with temper, as written; absent where it is not given.
    pub material: Option<String>,
    /// Thickness.
    pub thickness: Option<Length>,
}

/// A part that a step works on.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct PartFacts {
    /// Pieces per hand.
    pub quantity: u32,
    /// Material with temper, as written; absent where it is not given.
    pub material: Option<String>,
    /// Thickness.
    pub thickness: Option<Length>,
    /// Degrees and inside radius of the tightest bend.
    pub bend: Option<(u32, Length)>,
}

/// What a measured value is compared with.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct ComparedFacts {
    /// The other value: a record of the same step, or `step/record`.
    pub other: String,
    /// Limits of the one less the other.
    pub limits: DifferenceLimits,
}

/// The value of a fact.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum FactValue {
    /// A kind of work.
    Kind(StepKind),
    /// A word or a text: a call, a material, a role, a unit.
    Text(String),
    /// A length.
    Length(Length),
    /// A number of pieces.
    Count(u32),
    /// A torque range.
    Torque(TorqueRange),
    /// A multiple of the diameter.
    Ratio(Ratio),
    /// A time.
    Minutes(Minutes),
    /// A limit of a measured value.
    Limit(Decimal),
    /// A measured value against another.
    Compared(ComparedFacts),
    /// Two lengths: along and across.
    Point(Length, Length),
    /// Two lengths: smallest and largest.
    Range(Length, Length),
    /// A layer.
    Layer(LayerFacts),
    /// A part.
    Part(PartFacts),
    /// Holes left open: how many, and the step that fills them as written.
    LeftOpen(u32, String),
    /// Fit-up hardware: fastener and nut.
    Temporary(String, Option<String>),
    /// The digest of a file.
    File(Digest),
    /// What happens to a space.
    Space(SpaceUse),
    /// Who signs a stage, what it releases, with which outcomes.
    Stage(StageFacts),
    /// Nothing more than that the step states it.
    Stated,
}

/// One fact that a step requires.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Fact {
    /// What it is about.
    pub about: About,
    /// The value.
    pub value: FactValue,
}

impl Fact {
    /// A fact.
    #[must_use]
    pub const fn new(about: About, value: FactValue) -> Self {
        Self { about, value }
    }

    /// The fact without what is only written differently: a limit with as many places as it needs.
    #[must_use]
    pub fn plain(&self) -> Self {
        match &self.value {
            FactValue::Limit(limit) => Self::new(self.about.clone(), FactValue::Limit(limit.plain())),
            FactValue::Compared(own) => {
                let limits = DifferenceLimits { low: own.limits.low.plain(), high: own.limits.high.plain() };
                let other = own.other.clone();
                Self::new(self.about.clone(), FactValue::Compared(ComparedFacts { other, limits }))
            }
            _ => self.clone(),
        }
    }

    /// The text, where the value is one.
    #[must_use]
    pub fn text(&self) -> Option<&str> {
        match &self.value {
            FactValue::Text(text) => Some(text),
            _ => None,
        }
    }
}

/// The value of the only fact, or the first, about something.
#[must_use]
pub fn fact_value<'a>(facts: &'a [Fact], about: &About) -> Option<&'a FactValue> {
    facts.iter().find(|fact| fact.about == *about).map(|fact| &fact.value)
}
