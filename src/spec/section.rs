//! What was written in one traveler file and in the project file, as plain data with a place on every leaf.
//!
//! Nothing here is resolved or judged: a part that nobody has heard of reads as well as any other.

use super::caution::CautionSpec;
use super::pattern::PatternSpec;
use crate::calendar::Day;
use crate::text::{FileId, Span, Spanned};
use crate::units::{Decimal, Minutes, Ratio, Size, Temperature, TorqueRange, Unit};
use crate::words::{Access, FastenerKind, Hand, HeadForm, Paper, Preparation, Role, StepKind, Structure};

/// A text with its place.
pub type Text = Spanned<String>;

/// A whole project as written.
#[derive(Debug, Clone)]
pub struct Spec {
    /// The project file.
    pub project: ProjectSpec,
    /// Every traveler that could be read, in the order of their paths.
    pub travelers: Vec<TravelerSpec>,
    /// Traveler files of which nothing could be read.
    pub unread: usize,
}

/// `build.toml`.
#[derive(Debug, Clone)]
pub struct ProjectSpec {
    /// The file.
    pub file: FileId,
    /// `[aircraft] name`.
    pub aircraft: Text,
    /// `[aircraft] serial`.
    pub serial: Option<Text>,
    /// `[aircraft] registration`.
    pub registration: Option<Text>,
    /// `[project]`.
    pub settings: Settings,
    /// `[[signer]]`.
    pub signers: Vec<SignerSpec>,
    /// `[[zone]]`.
    pub zones: Vec<ZoneSpec>,
    /// `[callouts]`: the plans' own short call and what it stands for.
    pub callouts: Vec<(Text, Text)>,
    /// `[[fastener]]`.
    pub fasteners: Vec<FastenerSpec>,
    /// `[[drawing]]`.
    pub drawings: Vec<DrawingSpec>,
    /// `[[stock]]`.
    pub stock: Vec<StockSpec>,
    /// `[[tool]]`.
    pub tools: Vec<ToolSpec>,
    /// `[[caution]]`.
    pub cautions: Vec<CautionSpec>,
}

/// `[[tool]]`: a measuring tool that is calibrated.
#[derive(Debug, Clone)]
pub struct ToolSpec {
    /// As steps name it.
    pub id: Text,
    /// Name on paper.
    pub name: Option<Text>,
    /// Day of the last calibration, as `2026-03-02`.
    pub calibrated: Spanned<Day>,
}

/// `[project]`: folders are relative to the project file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Settings {
    /// Unit of a bare number.
    pub unit: Unit,
    /// Paper size.
    pub paper: Paper,
    /// Folder of the travelers.
    pub specs: String,
    /// Folder of what can be made again.
    pub output: String,
    /// Folder of the pictures that texts show.
    pub pictures: String,
    /// Folder of what must be kept.
    pub archive: String,
    /// Per cent added to rivets on pick lists.
    pub spare: u32,
    /// Day for which calibrations are judged, as `2026-03-02`.
    pub date: Option<Spanned<Day>>,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            unit: Unit::Inch,
            paper: Paper::UsLetter,
            specs: "specs".into(),
            output: "output".into(),
            pictures: "pictures".into(),
            archive: "archive".into(),
            spare: 10,
            date: None,
        }
    }
}

/// `[[signer]]`.
#[derive(Debug, Clone)]
pub struct SignerSpec {
    /// As written on the sheets.
    pub initials: Text,
    /// What the person may sign as.
    pub role: Spanned<Role>,
}

/// `[[zone]]`: a space that steps need open and some step closes.
#[derive(Debug, Clone)]
pub struct ZoneSpec {
    /// Id.
    pub id: Text,
    /// Name on paper.
    pub name: Text,
    /// Who must have looked before it closes.
    pub hold: Option<Spanned<Role>>,
    /// Hands that have a space of their own; empty: one space for all.
    pub hands: Vec<Spanned<Hand>>,
}

/// `[[fastener]]`: kit-supplied hardware that no standard covers.
#[derive(Debug, Clone)]
pub struct FastenerSpec {
    /// Id, used as a call.
    pub id: Text,
    /// What it is.
    pub kind: Spanned<FastenerKind>,
    /// Nominal diameter.
    pub diameter: Spanned<Size>,
    /// Smallest and largest hole.
    pub hole: Option<(Spanned<Size>, Spanned<Size>)>,
    /// Smallest and largest stack.
    pub grip: Option<(Spanned<Size>, Spanned<Size>)>,
    /// Head form; absent: protruding.
    pub head: Option<Spanned<HeadForm>>,
    /// Material in words.
    pub material: Option<Text>,
    /// Thread, of a bolt, screw, nut or nutplate.
    pub thread: Option<Text>,
    /// Where these numbers come from.
    pub source: Text,
}

/// `[[drawing]]`: one sheet of the register.
#[derive(Debug, Clone)]
pub struct DrawingSpec {
    /// Sheet number.
    pub sheet: Text,
    /// Title.
    pub title: Option<Text>,
    /// Current revision.
    pub revision: Text,
    /// Date of that revision, as `2026-03-02`.
    pub date: Option<Spanned<Day>>,
}

/// `[[stock]]`.
#[derive(Debug, Clone)]
pub struct StockSpec {
    /// A call or a part id.
    pub item: Text,
    /// Pieces on the shelf.
    pub on_hand: Spanned<u32>,
}

/// One traveler file.
#[derive(Debug, Clone)]
pub struct TravelerSpec {
    /// The file.
    pub file: FileId,
    /// Id.
    pub id: Text,
    /// Title.
    pub title: Text,
    /// Revision of the spec.
    pub revision: Text,
    /// Hands; empty for a one-off.
    pub hands: Vec<Spanned<Hand>>,
    /// Sheets and the revisions that the spec was written against.
    pub drawings: Vec<Text>,
    /// Travelers that must be finished first.
    pub after: Vec<Text>,
    /// Markdown.
    pub summary: Option<Text>,
    /// `[[part]]`.
    pub parts: Vec<PartSpec>,
    /// `[[joint]]`.
    pub joints: Vec<JointSpec>,
    /// `[[step]]`.
    pub steps: Vec<StepSpec>,
    /// `[[allow]]`.
    pub allows: Vec<AllowSpec>,
}

/// `[[part]]`.
#[derive(Debug, Clone)]
pub struct PartSpec {
    /// Id.
    pub id: Text,
    /// Name on paper.
    pub name: Text,
    /// Pieces per hand.
    pub quantity: Spanned<u32>,
    /// Alloy and temper, or another material in words.
    pub material: Option<Text>,
    /// Sheet thickness.
    pub thickness: Option<Spanned<Size>>,
    /// A part that it is not to be taken for.
    pub look_alike: Option<Text>,
    /// Its tightest bend.
    pub bend: Option<BendSpec>,
}

/// `bend = { radius = .., angle = .. }`.
#[derive(Debug, Clone)]
pub struct BendSpec {
    /// Inside radius.
    pub radius: Spanned<Size>,
    /// Degrees through which the sheet is bent; absent: 90.
    pub angle: Option<Spanned<u32>>,
}

/// One layer of a stack.
#[derive(Debug, Clone)]
pub struct LayerSpec {
    /// The part, where it is one of this traveler's.
    pub part: Option<Text>,
    /// Material, where it is not the part's.
    pub material: Option<Text>,
    /// Thickness, where it is not the part's.
    pub thickness: Option<Spanned<Size>>,
    /// The whole entry.
    pub span: Span,
}

/// `[[joint]]`.
#[derive(Debug, Clone)]
pub struct JointSpec {
    /// Id.
    pub id: Text,
    /// Name on paper.
    pub name: Option<Text>,
    /// Layers, manufactured-head side first.
    pub stack: Spanned<Vec<LayerSpec>>,
    /// Part number, callout, or family and diameter.
    pub fastener: Text,
    /// Fasteners per hand.
    pub count: Spanned<u32>,
    /// `holes`.
    pub holes: HolesSpec,
    /// Smallest hole-centre-to-edge distance, one for all layers or one per layer.
    pub edge: Vec<Spanned<Size>>,
    /// Distance from fastener to fastener in a row.
    pub pitch: Option<Spanned<Size>>,
    /// Number of rows; absent: one.
    pub rows: Option<Spanned<u32>>,
    /// Distance from row to row.
    pub row_gap: Option<Spanned<Size>>,
    /// Where the holes lie.
    pub pattern: Option<PatternSpec>,
    /// One word for all layers or one per layer.
    pub prepare: Vec<Spanned<Preparation>>,
    /// How much rests on it.
    pub structure: Option<Spanned<Structure>>,
    /// From where it is reached; absent: not stated.
    pub access: Option<Spanned<Access>>,
    /// What it is set wet with.
    pub wet: Option<Text>,
    /// Holes that stay open.
    pub leave_open: Option<LeaveOpenSpec>,
    /// Width of a stringer's leg.
    pub stringer_leg: Option<Spanned<Size>>,
    /// Outside diameter of a tube.
    pub tube: Option<Spanned<Size>>,
    /// Limits that the plans set instead of the tables.
    pub limits: Option<LimitsSpec>,
    /// Nut.
    pub nut: Option<Text>,
    /// Washers under the head.
    pub washers_head: Vec<Text>,
    /// Washers under the nut.
    pub washers_nut: Vec<Text>,
    /// Cotter pin.
    pub cotter: Option<Text>,
    /// Torque of the drawing.
    pub torque: Option<Spanned<TorqueRange>>,
    /// Whether the joint turns in use.
    pub rotates: Option<Spanned<bool>>,
    /// Hottest temperature in use.
    pub temperature: Option<Spanned<Temperature>>,
    /// Whether the threads are lubricated.
    pub lubricated: Option<Spanned<bool>>,
    /// Fit-up hardware before the final one.
    pub temporary: Option<TemporarySpec>,
    /// Whether the joint is opened again and again.
    pub often_removed: Option<Spanned<bool>>,
    /// Run-down torque of a nut that is used again.
    pub run_down: Option<Spanned<TorqueRange>>,
    /// The rivet that the call replaces.
    pub replaces: Option<Text>,
    /// Smallest shop head measured.
    pub shop_head: Option<ShopHeadSpec>,
}

/// `shop-head = { .. }`.
#[derive(Debug, Clone, Copy)]
pub struct ShopHeadSpec {
    /// Its width.
    pub diameter: Spanned<Size>,
    /// Its height.
    pub height: Spanned<Size>,
}

/// `holes = { .. }`.
#[derive(Debug, Clone, Default)]
pub struct HolesSpec {
    /// As delivered; absent: undrilled.
    pub start: Option<Spanned<Size>>,
    /// What the drawing says; absent: from the tables.
    pub last: Option<Spanned<Size>>,
    /// Depth of the burr chamfer.
    pub chamfer: Option<Spanned<Size>>,
}

/// `leave-open = { .. }`.
#[derive(Debug, Clone)]
pub struct LeaveOpenSpec {
    /// How many.
    pub count: Spanned<u32>,
    /// `TRAVELER/step` that fills them.
    pub until: Text,
    /// Why.
    pub why: Text,
}

/// `limits = { .. }`: multiples of the diameter.
#[derive(Debug, Clone)]
pub struct LimitsSpec {
    /// Smallest edge distance.
    pub edge: Option<Spanned<Ratio>>,
    /// Smallest pitch.
    pub pitch: Option<Spanned<Ratio>>,
    /// Smallest row gap.
    pub row_gap: Option<Spanned<Ratio>>,
    /// The reason, printed on the sheet.
    pub because: Text,
}

/// `temporary = { .. }`.
#[derive(Debug, Clone)]
pub struct TemporarySpec {
    /// Fit-up fastener.
    pub fastener: Text,
    /// Its nut.
    pub nut: Option<Text>,
    /// Why.
    pub why: Text,
}

/// `[[step]]`.
#[derive(Debug, Clone)]
pub struct StepSpec {
    /// Stable name.
    pub id: Text,
    /// Title.
    pub title: Text,
    /// What it does.
    pub kind: Spanned<StepKind>,
    /// Joints it works on.
    pub joints: Vec<Text>,
    /// Size that a drilling step reaches; absent: the final size.
    pub to: Option<Spanned<Size>>,
    /// Parts it works on.
    pub parts: Vec<Text>,
    /// Markdown with values.
    pub text: Option<Text>,
    /// Drawing views.
    pub drawings: Vec<Text>,
    /// Tools.
    pub tools: Vec<Text>,
    /// `TRAVELER/step` that must be done first.
    pub needs: Vec<Text>,
    /// Spaces that must be open.
    pub zones: Vec<Text>,
    /// Spaces that this step closes.
    pub closes: Vec<Text>,
    /// Spaces that this step opens again.
    pub opens: Vec<Text>,
    /// Nothing touches the parts until then.
    pub cure: Option<Spanned<Minutes>>,
    /// End of the recoat window.
    pub cure_latest: Option<Spanned<Minutes>>,
    /// Work stops until this role has signed.
    pub hold: Option<Spanned<Role>>,
    /// This role is invited; work may go on.
    pub witness: Option<Spanned<Role>>,
    /// Values to measure.
    pub records: Vec<RecordSpec>,
    /// Cautions beyond those that come by themselves.
    pub cautions: Vec<Text>,
    /// Photo prompt.
    pub photo: Option<Text>,
    /// Whether a helper is needed.
    pub helper: Option<Spanned<bool>>,
    /// Estimated time.
    pub minutes: Option<Spanned<u32>>,
}

/// One measured value.
#[derive(Debug, Clone)]
pub struct RecordSpec {
    /// Id.
    pub id: Text,
    /// What is measured.
    pub label: Text,
    /// Unit.
    pub unit: Option<Text>,
    /// Smallest value that passes.
    pub min: Option<Spanned<Decimal>>,
    /// Largest value that passes.
    pub max: Option<Spanned<Decimal>>,
    /// Instrument.
    pub tool: Option<Text>,
}

/// `[[allow]]`.
#[derive(Debug, Clone)]
pub struct AllowSpec {
    /// Name of the rule.
    pub rule: Text,
    /// Only for this joint.
    pub joint: Option<Text>,
    /// Only for this step.
    pub step: Option<Text>,
    /// Only for this part.
    pub part: Option<Text>,
    /// The reason, printed on the sheet.
    pub because: Text,
}
