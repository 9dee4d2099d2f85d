//! `bench torque`: the torque of a bolt and nut, and what to set on a wrench with an adapter.

use anyhow::{Result, anyhow, bail};

use super::answer::{Answer, Row, Shown};
use super::{Asked, typed};
use crate::hardware::{
    Basis, Fastener, Nut, NutDuty, OwnTorque, Sureness, Thread, TorqueAsked, TorqueProposal, WrenchSetting,
    propose_own_torque, propose_torque, set_wrench, thread,
};
use crate::units::{Style, Torque};
use crate::words::Lubrication;

/// Arguments of `bench torque`; a bare number is in the project's units.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The bolt, or its thread: AN4, AN3-6A, 1/4-28
    #[arg(long)]
    bolt: String,
    /// The nut, with or without its size: AN365, AN310-4
    #[arg(long)]
    nut: String,
    /// The nut's own drag, measured on running it down
    #[arg(long, value_name = "TORQUE", default_value = "0")]
    drag: String,
    /// The threads are lubricated: only a [[torque]] entry of build.toml has a torque for that
    #[arg(long)]
    lubricated: bool,
    /// Wrench from the middle of its grip to its square
    #[arg(long, value_name = "SIZE")]
    wrench: Option<String>,
    /// Adapter from the wrench's square to the bolt; below zero where it shortens the wrench
    #[arg(long, value_name = "SIZE", requires = "wrench", allow_hyphen_values = true)]
    adapter: Option<String>,
    /// Angle of the adapter to the wrench: 0 lengthens, 90 changes nothing, 180 shortens
    #[arg(long, value_name = "DEGREES", requires = "adapter", default_value = "0")]
    angle: String,
}

/// Answers `bench torque`.
pub(super) fn answer(typed_in: &Arguments, asked: &Asked) -> Result<Answer> {
    let nut = nut(&typed_in.nut, asked)?;
    let drag = typed::torque("drag", &typed_in.drag, asked)?;
    let thread = thread_of(&typed_in.bolt, asked)?;
    let found = match own_torque(typed_in, thread, &nut, asked) {
        Some(own) => propose_own_torque(thread, &nut, own, drag)?,
        None if typed_in.lubricated => bail!(
            "the torque table is for dry threads, and no [[torque]] of build.toml is for {} lubricated with this nut",
            thread.name
        ),
        None => propose_torque(thread, &nut, drag)?,
    };
    let setting = setting(typed_in, &found, asked)?;
    let title = format!("thread {} with {}, {}", found.thread.name, nut.call.usual, nut.words);
    let notes = notes(&found, &asked.style);
    Ok(Answer { title, rows: rows(found, setting, &asked.style), notes })
}

/// The entry of the build that is for this bolt and nut, as for a joint.
fn own_torque<'a>(typed_in: &Arguments, thread: &Thread, nut: &Nut, asked: &'a Asked) -> Option<&'a OwnTorque> {
    let bolt = typed::fastener("bolt", &typed_in.bolt, asked).ok();
    let nut = Fastener::Nut(nut.clone());
    let wanted = TorqueAsked {
        thread: Some(&thread.name),
        class: bolt.as_ref().and_then(Fastener::property_class),
        nut: Some(&nut),
        lubrication: if typed_in.lubricated { Lubrication::Lubricated } else { Lubrication::Dry },
    };
    wanted.among(&asked.torques)
}

fn setting(typed_in: &Arguments, found: &TorqueProposal, asked: &Asked) -> Result<Option<WrenchSetting>> {
    let Some(wrench) = &typed_in.wrench else { return Ok(None) };
    let wrench = typed::positive("wrench", wrench, asked)?;
    let adapter = typed_in
        .adapter
        .as_deref()
        .map_or(Ok(crate::units::Length::ZERO), |text| typed::signed("adapter", text, asked))?;
    Ok(Some(set_wrench(found.range, wrench, adapter, typed::angle(&typed_in.angle)?, &asked.style)?))
}

fn thread_of(bolt: &str, asked: &Asked) -> Result<&'static Thread> {
    if let Some(thread) = thread(bolt) {
        return Ok(thread);
    }
    let fastener = typed::fastener("bolt", bolt, asked)?;
    fastener.thread().ok_or_else(|| anyhow!("--bolt: `{bolt}` has no thread; write AN4, ISO 4014-M6, 1/4-28 or M6"))
}

fn nut(nut: &str, asked: &Asked) -> Result<Nut> {
    match typed::fastener("nut", nut, asked)? {
        Fastener::Nut(nut) => Ok(nut),
        other => bail!("--nut: `{nut}` is no nut but {}", other.describe(&asked.style)),
    }
}

fn rows(found: TorqueProposal, setting: Option<WrenchSetting>, style: &Style) -> Vec<Row> {
    let (table, basis) = (found.table.value, found.table.basis);
    let of_table = |key, label, torque| Row::sourced(key, label, Shown::Torque(torque), basis.clone());
    let plain = |key, label, torque: Torque| Row::plain(key, label, Shown::Torque(torque));
    let column = if found.duty == NutDuty::Tension { "tension" } else { "shear" };
    let labels = if found.is_own { ["build.toml, low", "build.toml, high"] } else { ["table, low", "table, high"] };
    let most = match found.most {
        Some(most) => of_table("most", "never more than, drag added", most),
        None => Row::plain("most", "", Shown::Nothing("the entry names no greatest torque")),
    };
    let mut rows = vec![
        Row::plain("thread", "thread", Shown::Text(found.thread.name.clone())),
        Row::plain("column", "column of the table", Shown::Text(column.to_owned())),
        of_table("table-low", labels[0], table.install.low),
        of_table("table-high", labels[1], table.install.high),
        most,
        plain("drag", "drag of the nut", found.drag),
        plain("low", "low, drag added", found.range.low),
        plain("high", "high, drag added", found.range.high),
    ];
    if let Some(reuse) = found.reuse {
        rows.push(Row::sourced("reuse-drag-min", "used nut drags at least", Shown::Torque(reuse.value), reuse.basis));
    }
    let by = Basis::published("TM-23-9", Sureness::A);
    match setting {
        Some(setting) => rows.extend([
            Row::plain("wrench", "wrench", Shown::Length(setting.wrench)),
            Row::plain("reach", "adapter adds", Shown::Length(setting.reach)),
            Row::sourced("setting-low", "set on the wrench, low", Shown::Torque(setting.range.low), by.clone()),
            Row::sourced("setting-high", "set on the wrench, high", Shown::Torque(setting.range.high), by),
        ]),
        None => rows.extend(
            ["setting-low", "setting-high"].map(|key| Row::plain(key, "", Shown::Nothing("no wrench was given"))),
        ),
    }
    rows.push(Row::plain("unit", "", Shown::Text(style.torque_word().to_owned())));
    rows
}

fn notes(found: &TorqueProposal, style: &Style) -> Vec<String> {
    let mut notes = Vec::new();
    if !found.is_own {
        notes.push("the table is for dry, oil-free, cadmium-plated threads".to_owned());
    }
    if found.has_drag && found.drag == Torque::default() {
        notes.push("add the drag of the nut, measured on running it down (--drag)".to_owned());
    }
    if found.table.value.estimated {
        notes.push("the circular marks this range as estimated".to_owned());
    }
    if let Some(reuse) = found.reuse.as_ref().filter(|reuse| found.drag > Torque::default() && found.drag < reuse.value)
    {
        notes.push(format!(
            "a drag of {} is below {}: a used nut with so little is thrown away",
            style.torque(found.drag),
            style.torque(reuse.value)
        ));
    }
    notes
}
