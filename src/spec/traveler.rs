//! Reads a traveler file.
//!
//! A part, joint or step of which a needed key is missing is left out, after all its faults were reported.

use super::keys;
use super::pattern;
use super::read::{Reading, Table, parse};
use super::section::{
    AllowSpec, BendSpec, HolesSpec, JointSpec, LayerSpec, LeaveOpenSpec, LimitsSpec, PartSpec, RecordSpec,
    ShopHeadSpec, StepSpec, TemporarySpec, Text, TravelerSpec,
};
use crate::report::Finding;
use crate::text::{FileId, Files, Spanned};
use crate::units::Unit;
use crate::words::{Access, Hand, Preparation, Role, StepKind, Structure};

/// What `[traveler]` holds.
struct Head {
    id: Option<Text>,
    title: Option<Text>,
    revision: Option<Text>,
    hands: Vec<Spanned<Hand>>,
    drawings: Vec<Text>,
    after: Vec<Text>,
    summary: Option<Text>,
}

/// Reads one file; nothing where it has no usable `[traveler]`.
pub(super) fn read(file: FileId, unit: Unit, files: &Files) -> (Option<TravelerSpec>, Vec<Finding>) {
    let mut reading = Reading { file, unit, findings: Vec::new() };
    let tree = parse(file, files, &mut reading);
    let mut table = Table::new(tree.get_ref(), 0..0, &keys::TRAVELER_FILE, &mut reading);
    let head = table.table("traveler", &keys::TRAVELER, head);
    let parts = table.tables("part", &keys::PART, part);
    let joints = table.tables("joint", &keys::JOINT, joint);
    let steps = table.tables("step", &keys::STEP, step);
    let allows = table.tables("allow", &keys::ALLOW, allow);
    let spec = head.and_then(|head| {
        Some(TravelerSpec {
            file,
            id: head.id?,
            title: head.title?,
            revision: head.revision?,
            hands: head.hands,
            drawings: head.drawings,
            after: head.after,
            summary: head.summary,
            parts,
            joints,
            steps,
            allows,
        })
    });
    (spec, reading.findings)
}

fn head(table: &mut Table<'_, '_>) -> Head {
    Head {
        id: table.filled("id"),
        title: table.filled("title"),
        revision: table.filled("revision"),
        hands: table.words("hands", Hand::WORDS, Hand::parse),
        drawings: table.texts("drawings"),
        after: table.texts("after"),
        summary: table.text("summary"),
    }
}

fn part(table: &mut Table<'_, '_>) -> Option<PartSpec> {
    let span = table.span();
    let (id, name) = (table.filled("id"), table.filled("name"));
    let quantity = table.count("quantity", 1).unwrap_or(Spanned { value: 1, span });
    let (material, thickness) = (table.text("material"), table.size("thickness"));
    let look_alike = table.text("look-alike");
    let bend = table.table("bend", &keys::BEND, |bend| {
        let (radius, angle) = (bend.size("radius"), bend.count("angle", 1));
        radius.map(|radius| BendSpec { radius, angle })
    });
    Some(PartSpec { id: id?, name: name?, quantity, material, thickness, look_alike, bend: bend.flatten() })
}

fn joint(table: &mut Table<'_, '_>) -> Option<JointSpec> {
    let (id, name, stack) = (table.filled("id"), table.text("name"), stack(table));
    let (fastener, count) = (table.filled("fastener"), table.count("count", 1));
    let washers = table.table("washers", &keys::WASHERS, |washers| (washers.texts("head"), washers.texts("nut")));
    let (washers_head, washers_nut) = washers.unwrap_or_default();
    let rest = JointRest {
        holes: table.table("holes", &keys::HOLES, holes).unwrap_or_default(),
        leave_open: table.table("leave-open", &keys::LEAVE_OPEN, leave_open).flatten(),
        limits: table.table("limits", &keys::LIMITS, limits).flatten(),
        temporary: table.table("temporary", &keys::TEMPORARY, temporary).flatten(),
        shop_head: table.table("shop-head", &keys::SHOP_HEAD, shop_head).flatten(),
    };
    // The needed keys come last, so that every other key is read and judged before one of them ends the entry.
    let spec = JointSpec {
        name,
        holes: rest.holes,
        edge: table.sizes("edge"),
        pitch: table.size("pitch"),
        rows: table.count("rows", 1),
        row_gap: table.size("row-gap"),
        pattern: table.table("pattern", &keys::PATTERN, pattern::read),
        prepare: table.words("prepare", Preparation::WORDS, Preparation::parse),
        structure: table.word("structure", Structure::WORDS, Structure::parse),
        access: table.word("access", Access::WORDS, Access::parse),
        wet: table.text("wet"),
        leave_open: rest.leave_open,
        stringer_leg: table.size("stringer-leg"),
        tube: table.size("tube"),
        limits: rest.limits,
        nut: table.text("nut"),
        washers_head,
        washers_nut,
        cotter: table.text("cotter"),
        torque: table.torque("torque"),
        rotates: table.flag("rotates"),
        temperature: table.temperature("temperature"),
        lubricated: table.flag("lubricated"),
        temporary: rest.temporary,
        often_removed: table.flag("often-removed"),
        run_down: table.torque("run-down"),
        replaces: table.text("replaces"),
        shop_head: rest.shop_head,
        id: id?,
        stack: stack?,
        fastener: fastener?,
        count: count?,
    };
    per_layer(table, "edge", spec.edge.len(), &spec);
    per_layer(table, "prepare", spec.prepare.len(), &spec);
    pattern::check(table, &spec);
    if let (Some(gap), None | Some(1)) = (&spec.row_gap, spec.rows.as_ref().map(|rows| rows.value)) {
        let finding = table.reading.invalid(gap.span, "`row-gap` is given, but the joint has one row".to_owned());
        finding.help = Some("write `rows = 2` or more beside it, or take it out".to_owned());
    }
    Some(spec)
}

/// The inner tables of a joint.
struct JointRest {
    holes: HolesSpec,
    leave_open: Option<LeaveOpenSpec>,
    limits: Option<LimitsSpec>,
    temporary: Option<TemporarySpec>,
    shop_head: Option<ShopHeadSpec>,
}

/// A list that is neither one for all layers nor one per layer.
fn per_layer(table: &mut Table<'_, '_>, name: &str, found: usize, spec: &JointSpec) {
    let layers = spec.stack.value.len();
    if found > 1 && found != layers {
        let message = format!("`{name}` has {found} values, but the stack has {layers} layers");
        let finding = table.reading.invalid(spec.id.span, message);
        finding.help = Some(format!("write one value for all layers or {layers}, manufactured-head side first"));
        finding.labels.push(crate::report::Label { span: spec.stack.span, text: format!("{layers} layers") });
    }
}

fn stack(table: &mut Table<'_, '_>) -> Option<Spanned<Vec<LayerSpec>>> {
    let by_id = |part: Text| LayerSpec { span: part.span, part: Some(part), material: None, thickness: None };
    let stack = table.mixed("stack", &keys::LAYER, by_id, |layer| {
        let (part, material) = (layer.text("part"), layer.text("material"));
        LayerSpec { part, material, thickness: layer.size("thickness"), span: layer.span() }
    })?;
    if stack.value.is_empty() {
        table.reading.invalid(stack.span, "`stack` is empty: a fastener goes through at least one layer");
        return None;
    }
    Some(stack)
}

fn holes(table: &mut Table<'_, '_>) -> HolesSpec {
    HolesSpec { start: table.size("start"), last: table.size("final"), chamfer: table.size("chamfer") }
}

fn leave_open(table: &mut Table<'_, '_>) -> Option<LeaveOpenSpec> {
    let (count, until, why) = (table.count("count", 1), table.filled("until"), table.filled("why"));
    Some(LeaveOpenSpec { count: count?, until: until?, why: why? })
}

fn limits(table: &mut Table<'_, '_>) -> Option<LimitsSpec> {
    let (edge, pitch, row_gap) = (table.ratio("edge"), table.ratio("pitch"), table.ratio("row-gap"));
    let because = table.filled("because");
    Some(LimitsSpec { edge, pitch, row_gap, because: because? })
}

fn temporary(table: &mut Table<'_, '_>) -> Option<TemporarySpec> {
    let (fastener, nut, why) = (table.filled("fastener"), table.text("nut"), table.filled("why"));
    Some(TemporarySpec { fastener: fastener?, nut, why: why? })
}

fn shop_head(table: &mut Table<'_, '_>) -> Option<ShopHeadSpec> {
    let (diameter, height) = (table.size("diameter"), table.size("height"));
    Some(ShopHeadSpec { diameter: diameter?, height: height? })
}

fn step(table: &mut Table<'_, '_>) -> Option<StepSpec> {
    let (id, title) = (table.filled("id"), table.filled("title"));
    let kind = table.word("do", StepKind::WORDS, StepKind::parse);
    let records = table.tables("records", &keys::RECORD, record);
    // The needed keys come last, as in `joint`.
    Some(StepSpec {
        joints: table.texts("joints"),
        to: table.size("to"),
        parts: table.texts("parts"),
        text: table.text("text"),
        drawings: table.texts("drawings"),
        tools: table.texts("tools"),
        needs: table.texts("needs"),
        zones: table.texts("zones"),
        closes: table.texts("closes"),
        opens: table.texts("opens"),
        cure: table.duration("cure"),
        cure_latest: table.duration("cure-latest"),
        hold: table.word("hold", Role::WORDS, Role::parse),
        witness: table.word("witness", Role::WORDS, Role::parse),
        records,
        cautions: table.texts("cautions"),
        photo: table.text("photo"),
        helper: table.flag("helper"),
        minutes: table.count("minutes", 1),
        id: id?,
        title: title?,
        kind: kind?,
    })
}

fn record(table: &mut Table<'_, '_>) -> Option<RecordSpec> {
    let (id, label, unit) = (table.filled("id"), table.filled("label"), table.text("unit"));
    let (min, max, tool) = (table.decimal("min"), table.decimal("max"), table.text("tool"));
    if let (Some(low), Some(high)) = (&min, &max)
        && low.value > high.value
    {
        let message = format!("`min` is {}, above `max` at {}: no reading passes", low.value, high.value);
        table.reading.invalid(low.span, message);
    }
    Some(RecordSpec { id: id?, label: label?, unit, min, max, tool })
}

fn allow(table: &mut Table<'_, '_>) -> Option<AllowSpec> {
    let (rule, because) = (table.filled("rule"), table.filled("because"));
    let (joint, step, part) = (table.text("joint"), table.text("step"), table.text("part"));
    Some(AllowSpec { rule: rule?, joint, step, part, because: because? })
}
