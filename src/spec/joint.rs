//! The keys of `[[joint]]`.
//!
//! It refuses a joint that contradicts itself: lists that are not one per layer, a gap between the rows of one row, a
//! pattern that does not agree.

use super::form::{
    Count, Delivered, Distance, Distances, Filled, Flag, IdOfJoint, JointTorque, Ratio, Size, SizeRange, Table,
    Temperature, Text, Texts, Torque, Word, Words, mixed,
};
use super::list::section;
use super::pattern::{Around, HolePlace, PatternFault, PatternSpec};
use super::read::{Entry, Node, Reading, Reads};
use super::section::Form;
use crate::report::Label;
use crate::text::Spanned;
use crate::units::Style;
use crate::words::{Access, Clamped, Drag, Preparation, Structure};

section! {
    /// A set of equal fasteners through one stack.
    JointSpec = "joint" checked by check {
        /// Id, unique in the traveler: of several joints each has its own. Default: `J1`.
        id "id": own IdOfJoint => work,
        /// Name on paper.
        name "name": may Text => wording,
        /// Layers, manufactured-head side first: part ids, or `{ part = .., thickness = .. }`, or `{ material = ..,
        /// thickness = .. }`.
        stack "stack": need Stack => work,
        /// Part number, callout, or family and diameter without a length: the length then comes from the stack.
        fastener "fastener": need Filled => work,
        /// Fasteners per hand.
        count "count": need Count<1> => work,
        /// Hole sizes.
        holes "holes": any Table<HolesSpec> => work,
        /// Smallest distance from hole centre to edge, one for all layers or one per layer.
        edge "edge": any Distances => work,
        /// Distance from fastener to fastener in a row.
        pitch "pitch": may Distance => work,
        /// Number of rows. Default: 1.
        rows "rows": or Count<1> = 1 => work,
        /// Distance from row to row.
        row_gap "row-gap": may Distance => work,
        /// Where the holes lie. Printed as a drill template at 1:1 where it fits the paper.
        pattern "pattern": may Table<PatternSpec> => work,
        /// What is done to the layers around the hole, one word for all or one per layer. Default: `plain`.
        prepare "prepare": any Words<Preparation> => work,
        /// How much rests on the joint.
        structure "structure": may Word<Structure> => work,
        /// From where the fastener can be reached.
        access "access": may Word<Access> => apart,
        /// What the fastener is set wet with.
        wet "wet": may Text => work,
        /// Holes that stay open on purpose.
        leave_open "leave-open": may Table<LeaveOpenSpec> => work,
        /// From the hole's centre to where the bend begins, where there is one beside the row.
        bend_distance "bend-distance": may Distance => apart,
        /// Width of the stringer leg that the rivet goes through.
        stringer_leg "stringer-leg": may Distance => work,
        /// Outside diameter of the tube that the rivet goes through.
        tube "tube": may Distance => work,
        /// Limits that the plans set instead of the tables, printed on the sheet.
        limits "limits": may Table<Limits> => work,
        /// Nut.
        nut "nut": may Text => work,
        /// Nut that locks the nut, or a bolt in a tapped hole.
        check_nut "check-nut": may Text => work,
        /// Washers under the head and under the nut.
        washers "washers": any Table<WashersSpec> => work,
        /// Cotter pin.
        cotter "cotter": may Text => work,
        /// Torque of the drawing, or `snug` where the joint turns: finger-tight and back to the nearest slot. Absent: from the
        /// table by thread and nut.
        torque "torque": may JointTorque => work,
        /// Whether the torque holds the drag of the nut.
        drag "drag": may Word<Drag> => work,
        /// Whether the joint turns in use.
        rotates "rotates": may Flag => work,
        /// What the bolt clamps of a joint that turns, so that neither bolt nor nut turns with it.
        clamped "clamped": may Word<Clamped> => work,
        /// Hottest temperature in use.
        temperature "temperature": may Temperature => work,
        /// Whether the threads are lubricated.
        lubricated "lubricated": may Flag => work,
        /// Fit-up hardware before the final one.
        temporary "temporary": may Table<TemporarySpec> => work,
        /// Whether the joint is opened again and again, as an inspection cover is.
        often_removed "often-removed": may Flag => work,
        /// Run-down torque of a self-locking nut that is used again, as measured.
        run_down "run-down": may Torque => work,
        /// The rivet of the drawing, where the call is a replacement for it.
        replaces "replaces": may Text => apart,
        /// Smallest shop head measured in the joint.
        shop_head "shop-head": may Table<MeasuredHead> => apart,
    }

    /// One layer, where a part id alone does not say it.
    LayerSpec = "stack" {
        /// Part id of this traveler.
        part "part": may Text => work,
        /// Material, where it is not the part's.
        material "material": may Text => work,
        /// Thickness, where it is not the part's.
        thickness "thickness": may Size => work,
    }

    /// Smallest shop head measured in the joint.
    MeasuredHead = "shop-head" {
        /// Its width.
        diameter "diameter": need Distance => apart,
        /// Its height.
        height "height": need Distance => apart,
    }

    /// Hole sizes of a joint.
    HolesSpec = "holes" {
        /// As delivered, one for all layers or one per layer; `undrilled` for a layer without holes. Absent: undrilled.
        start "start": any Delivered => work,
        /// What the drawing says. Absent: the usual hole of the fastener, not below `start`.
        last "final": may Size => work,
        /// Depth of the burr chamfer.
        chamfer "chamfer": may Size => work,
    }

    /// Holes that stay open on purpose.
    LeaveOpenSpec = "leave-open" {
        /// How many, of the joint's count.
        count "count": need Count<1> => work,
        /// `TRAVELER/step` that fills them.
        until "until": need Filled => work,
        /// Joint of that traveler whose fasteners go through these holes. Absent: they get this joint's own.
        joint "joint": may Text => work,
        /// Why, printed before the fastening step.
        why "why": need Filled => wording,
    }

    /// Limits that the plans set instead of the tables: multiples of the diameter, sizes, a torque.
    Limits = "limits" {
        /// Smallest edge distance, as `1.5 D`.
        edge "edge": may Ratio => work,
        /// Smallest pitch.
        pitch "pitch": may Ratio => work,
        /// Smallest row gap.
        row_gap "row-gap": may Ratio => work,
        /// Smallest distance from the hole's centre to where the bend begins.
        bend "bend": may Ratio => work,
        /// Hole of the plans. Where `holes` has no `final`, it is the final size.
        hole "hole": may SizeRange => work,
        /// Stack that the plans let the fastener grip.
        grip "grip": may SizeRange => work,
        /// Torque of the plans. Where the joint has no `torque`, it is what is printed.
        torque "torque": may Torque => work,
        /// The reason, printed on the sheet.
        because "because": need Filled => wording,
    }

    /// Washers of a bolt.
    WashersSpec = "washers" {
        /// Under the head, from the head on.
        head "head": any Texts => work,
        /// Under the nut, from the structure on.
        nut "nut": any Texts => work,
    }

    /// Fit-up hardware before the final one.
    TemporarySpec = "temporary" checked by check_temporary {
        /// Fit-up fastener. Absent: the joint's own goes in at once and stays, and only the nut is changed later.
        fastener "fastener": may Filled => work,
        /// Its nut.
        nut "nut": may Text => work,
        /// Why it goes in and comes out again.
        why "why": need Filled => wording,
    }
}

fn check_temporary(temporary: &TemporarySpec, reading: &mut Reading) {
    if temporary.fastener.is_none() && temporary.nut.is_none() {
        reading.invalid(temporary.why.span, "`temporary` names neither a `fastener` nor a `nut`".to_owned()).help =
            Some("name the fit-up fastener, or the nut alone where the bolt stays in".into());
    }
}

/// A list of part ids and layers, at least one.
#[derive(Debug)]
pub struct Stack;

impl Reads for Stack {
    const FORM: Form = Form::Stack(LayerSpec::SECTION);
    type Value = Spanned<Vec<LayerSpec>>;

    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value> {
        let by_id = |id: super::Text| LayerSpec { span: id.span, part: Some(id), material: None, thickness: None };
        let stack = mixed(node, name, reading, by_id)?;
        if stack.value.is_empty() {
            reading.invalid(stack.span, "`stack` is empty: a fastener goes through at least one layer");
            return None;
        }
        Some(stack)
    }
}

impl JointSpec {
    /// The places of its holes in the order of their numbers, where it has a pattern.
    #[must_use]
    pub fn hole_places(&self, style: &Style) -> Option<Result<Vec<HolePlace>, PatternFault>> {
        let around = Around {
            count: self.count.value,
            rows: self.rows.value,
            edge: self.edge.iter().map(|edge| edge.value).min(),
            pitch: self.pitch.map(|pitch| pitch.value),
            row_gap: self.row_gap.map(|gap| gap.value),
        };
        self.pattern.as_ref().map(|pattern| pattern.places(&around, style))
    }
}

fn check(joint: &JointSpec, reading: &mut Reading) {
    per_layer(joint, "edge", joint.edge.len(), reading);
    per_layer(joint, "prepare", joint.prepare.len(), reading);
    per_layer(joint, "start", joint.holes.start.len(), reading);
    if let Some(Err(fault)) = joint.hole_places(&reading.style) {
        let span = joint.pattern.as_ref().map_or(joint.id.span, |pattern| pattern.span);
        reading.invalid(span, format!("`pattern`: {}", fault.message)).help = Some(fault.help);
    }
    if let (Some(gap), 1) = (&joint.row_gap, joint.rows.value) {
        let finding = reading.invalid(gap.span, "`row-gap` is given, but the joint has one row");
        finding.help = Some("write `rows = 2` or more beside it, or take it out".to_owned());
    }
}

/// Refuses a list that is neither one for all layers nor one per layer.
fn per_layer(joint: &JointSpec, name: &str, found: usize, reading: &mut Reading) {
    let layers = joint.stack.value.len();
    if found > 1 && found != layers {
        let message = format!("`{name}` has {found} values, but the stack has {layers} layers");
        let finding = reading.invalid(joint.id.span, message);
        finding.help = Some(format!("write one value for all layers or {layers}, manufactured-head side first"));
        finding.labels.push(Label { span: joint.stack.span, text: format!("{layers} layers") });
    }
}
