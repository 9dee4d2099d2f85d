//! # process-unrecorded
//!
//! ## What it checks
//! A step whose outcome cannot be seen afterwards asks for what it was done under: a test for leaks (`do = "test"` whose
//! title says leak, or with the procedure `leak-test`) for a pressure and a time; a `heat-treat` for a temperature and a
//! time; a `press-fit` for the readings of bore and pin, with a `fit`. A reading is told by its unit (psi, kPa, in H2O; min, h; F, C) or by `measures`.
//!
//! ## Why it matters
//! "Tight" without a pressure and a time is an opinion. A part that was hardened too cold, or a bushing in a worn bore,
//! looks like a good one until it carries load.
//!
//! ## Source
//! - `common-practice` common practice: a special process is proved by the record of its conditions.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! title = "Test the tank for leaks"
//! do = "test"                    # no reading of pressure and time
//! ```
//!
//! ## How to put it right
//! Add the readings, with units; for a press fit also `fit = { bore = "..", pin = "..", interference = [..] }`.
//!
//! ## When to allow it
//! When the shop that does it gives a certificate with these values, and the reason names it.

use crate::job::{Record, Step, StepKind};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Unit;
use crate::words::Measures;

/// Units of pressure, in small letters without blanks and points.
const PRESSURES: [&str; 17] = [
    "psi", "psig", "bar", "mbar", "pa", "hpa", "kpa", "inhg", "mmhg", "inh2o", "mmh2o", "cmh2o", "inwater", "mmwater",
    "cmwater", "inwg", "mmwg",
];
/// Units of time.
const TIMES: [&str; 9] = ["s", "sec", "seconds", "min", "minutes", "h", "hr", "hours", "d"];
/// Units of temperature.
const TEMPERATURES: [&str; 7] = ["f", "c", "k", "°f", "°c", "degf", "degc"];

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Step(look) };

fn look(step: &Step, _: &At<'_>, sink: &mut Sink<'_>) {
    let asked: &[Measures] = match step.kind.value {
        StepKind::PressFit if step.fit.is_none() => {
            let message = format!("step {} presses a part in and measures no interference", step.id.value);
            let help = "measure both and add `fit = { bore = \"bore\", pin = \"pin\", interference = [\"0.0005\", \"0.0015\"] }`";
            return sink.push(sink.warning(step.id.span, message).help(help));
        }
        StepKind::HeatTreat => &[Measures::Temperature, Measures::Time],
        _ if step.tests_for_leaks() => &[Measures::Pressure, Measures::Time],
        _ => return,
    };
    let is_read = |what: &Measures| step.records.iter().any(|record| measured(record) == Some(*what));
    let missing: Vec<&str> = asked.iter().filter(|what| !is_read(what)).map(|what| what.word()).collect();
    if missing.is_empty() {
        return;
    }
    let work = if step.kind.value == StepKind::HeatTreat { "heat-treats" } else { "tests for leaks" };
    let message = format!("step {} {work} and asks for no reading of {}", step.id.value, missing.join(" or "));
    let is_inch = sink.style.unit == Unit::Inch;
    let example = match missing[0] {
        "pressure" if is_inch => "{ id = \"pressure\", label = \"Pressure at the end\", unit = \"psi\" }",
        "pressure" => "{ id = \"pressure\", label = \"Pressure at the end\", unit = \"kPa\" }",
        "temperature" if is_inch => "{ id = \"temperature\", label = \"Temperature at the part\", unit = \"F\" }",
        "temperature" => "{ id = \"temperature\", label = \"Temperature at the part\", unit = \"C\" }",
        _ => "{ id = \"time\", label = \"Time\", unit = \"min\" }",
    };
    sink.push(sink.warning(step.id.span, message).help(format!("add it under `records`, as {example}")));
}

/// Pressure, time or temperature, by its unit or by its key.
fn measured(record: &Record) -> Option<Measures> {
    if let Some(measures) = record.measures {
        return Some(measures.value);
    }
    let unit = record.unit.as_ref()?.value.to_lowercase().replace([' ', '.'], "");
    let is = |units: &[&str]| units.contains(&unit.as_str());
    match () {
        () if is(&PRESSURES) => Some(Measures::Pressure),
        () if is(&TIMES) => Some(Measures::Time),
        () if is(&TEMPERATURES) => Some(Measures::Temperature),
        () => None,
    }
}
