//! Reads `build.toml`.
//!
//! A fault in one entry leaves that entry out; the rest of the file still counts.

use super::caution::{CautionSpec, SIGN_NUMBERS, sign_number};
use super::keys;
use super::read::{Reading, Table, parse};
use super::section::{
    DrawingSpec, FastenerSpec, ProjectSpec, Settings, SignerSpec, StockSpec, Text, ToolSpec, ZoneSpec,
};
use crate::report::Finding;
use crate::text::{FileId, Files, Span, Spanned};
use crate::units::Unit;
use crate::words::{FastenerKind, Hand, HeadForm, Paper, Role, SignalWord, StepKind};

/// Reads the project file; what is missing takes its default.
pub(super) fn read(file: FileId, files: &Files) -> (ProjectSpec, Vec<Finding>) {
    let mut reading = Reading { file, unit: Unit::Inch, findings: Vec::new() };
    let tree = parse(file, files, &mut reading);
    let mut table = Table::new(tree.get_ref(), 0..0, &keys::PROJECT_FILE, &mut reading);
    let settings = table.table("project", &keys::SETTINGS, settings).unwrap_or_default();
    table.reading.unit = settings.unit;
    let named =
        table.table("aircraft", &keys::AIRCRAFT, |t| (t.filled("name"), t.text("serial"), t.text("registration")));
    let (aircraft, serial, registration) = named.unwrap_or_default();
    let spec = ProjectSpec {
        file,
        aircraft: aircraft.unwrap_or_else(|| unnamed(file)),
        serial,
        registration,
        settings,
        signers: table.tables("signer", &keys::SIGNER, signer),
        zones: table.tables("zone", &keys::ZONE, zone),
        callouts: table.text_map("callouts"),
        fasteners: table.tables("fastener", &keys::FASTENER, fastener),
        drawings: table.tables("drawing", &keys::DRAWING, drawing),
        stock: table.tables("stock", &keys::STOCK, stock),
        tools: table.tables("tool", &keys::TOOL, tool),
        cautions: table.tables("caution", &keys::caution::CAUTION, caution),
    };
    (spec, reading.findings)
}

fn unnamed(file: FileId) -> Text {
    Spanned { value: "unnamed aircraft".into(), span: Span { file, start: 0, end: 0 } }
}

fn settings(table: &mut Table<'_, '_>) -> Settings {
    let default = Settings::default();
    let unit = table.word("unit", &["inch", "mm"], |word| match word {
        "inch" => Some(Unit::Inch),
        "mm" => Some(Unit::Mm),
        _ => None,
    });
    let mut folder = |name, default: String| table.filled(name).map_or(default, |text| text.value);
    let (specs, output) = (folder("specs", default.specs), folder("output", default.output));
    let (archive, pictures) = (folder("archive", default.archive), folder("pictures", default.pictures));
    Settings {
        unit: unit.map_or(default.unit, |unit| unit.value),
        paper: table.word("paper", Paper::WORDS, Paper::parse).map_or(default.paper, |paper| paper.value),
        specs,
        output,
        pictures,
        archive,
        spare: table.count("spare", 0).map_or(default.spare, |spare| spare.value),
        date: table.date("date"),
    }
}

fn signer(table: &mut Table<'_, '_>) -> Option<SignerSpec> {
    let (initials, role) = (table.filled("initials"), table.word("role", Role::WORDS, Role::parse));
    Some(SignerSpec { initials: initials?, role: role? })
}

fn zone(table: &mut Table<'_, '_>) -> Option<ZoneSpec> {
    let (id, name) = (table.filled("id"), table.filled("name"));
    let hold = table.word("hold", Role::WORDS, Role::parse);
    let hands = table.words("hands", Hand::WORDS, Hand::parse);
    Some(ZoneSpec { id: id?, name: name?, hold, hands })
}

fn fastener(table: &mut Table<'_, '_>) -> Option<FastenerSpec> {
    let id = table.filled("id");
    let kind = table.word("kind", FastenerKind::WORDS, FastenerKind::parse);
    let diameter = table.size("diameter");
    let (hole, grip) = (table.size_pair("hole"), table.size_pair("grip"));
    let head = table.word("head", HeadForm::WORDS, HeadForm::parse);
    let (material, thread) = (table.text("material"), table.text("thread"));
    let source = table.filled("source");
    Some(FastenerSpec {
        id: id?,
        kind: kind?,
        diameter: diameter?,
        hole,
        grip,
        head,
        material,
        thread,
        source: source?,
    })
}

fn drawing(table: &mut Table<'_, '_>) -> Option<DrawingSpec> {
    let (sheet, title, revision) = (table.filled("sheet"), table.text("title"), table.filled("revision"));
    let date = table.date("date");
    Some(DrawingSpec { sheet: sheet?, title, revision: revision?, date })
}

fn tool(table: &mut Table<'_, '_>) -> Option<ToolSpec> {
    let (id, name, calibrated) = (table.filled("id"), table.text("name"), table.date("calibrated"));
    Some(ToolSpec { id: id?, name, calibrated: calibrated? })
}

fn stock(table: &mut Table<'_, '_>) -> Option<StockSpec> {
    let (item, on_hand) = (table.filled("item"), table.count("on-hand", 0));
    Some(StockSpec { item: item?, on_hand: on_hand? })
}

fn caution(table: &mut Table<'_, '_>) -> Option<CautionSpec> {
    let id = table.filled("id");
    let word = table.word("word", SignalWord::WORDS, SignalWord::parse);
    let (kinds, words) = (table.words("kinds", StepKind::WORDS, StepKind::parse), table.texts("words"));
    let (closes, general) = (table.flag("closes"), table.flag("general"));
    let signs = table.words("signs", SIGN_NUMBERS, sign_number);
    let (text, omit, because) = (table.filled("text"), table.flag("omit"), table.filled("because"));
    let span = table.span();
    Some(CautionSpec { id: id?, word, kinds, words, closes, general, signs, text, omit, because, span })
}
