//! `visit`: the packet for somebody who comes to look before a space closes.

use std::path::Path;

use anyhow::{Result, anyhow, bail};

use super::current_work::load_current_work;
use super::options::{DocumentOptions, NowOption};
use super::{Console, Outcome, names};
use crate::calendar::{Moment, When};
use crate::job::{Hand, Job};
use crate::plan::{Recorded, VisitChoice, visit};

/// Arguments of `visit`.
#[derive(Debug, clap::Args)]
#[command(after_long_help = AFTER)]
pub(super) struct Arguments {
    /// A space to be looked into; may be given more than once. Without one, the spaces that close next
    #[arg(long, value_name = "SPACE")]
    space: Vec<String>,
    /// A stage that is to be signed, with the spaces that it is about; may be given more than once
    #[arg(long, value_name = "STAGE")]
    stage: Vec<String>,
    /// Only this hand of the spaces
    #[arg(long, value_parser = names::hand)]
    hand: Option<Hand>,
    /// Initials of whoever comes, or the id of a role
    #[arg(long, value_name = "WHO")]
    visitor: Option<String>,
    /// The day on which the visitor comes, as 2026-03-02; printed beside the line to fill in
    #[arg(long, value_name = "DAY")]
    on: Option<String>,
    #[command(flatten)]
    now: NowOption,
    /// Print the lines in which the findings are typed in afterwards, instead of the packet
    #[arg(long)]
    typed: bool,
    #[command(flatten)]
    document: DocumentOptions,
}

const AFTER: &str = "\
The packet is for a technical counselor, an inspector or any other second pair of eyes, before a space is closed for good or a \
stage is signed. Its sentences are those of the visitor's role (`says` in build.toml). It needs no knowledge of this program: \
what is to be closed and by which step; what to look at, space by space; the readings, those \
outside their limits first; discrepancies, temporary hardware and holes left open; everything that needs \
the space and is not done; a page for findings. It is never longer than six pages: what does not fit is counted on the \
page, and `--format json` has all of it.

State comes from the archive, or from progress.toml where there is no archive. Afterwards `--typed` with the same choice prints \
the lines in which the findings are typed in: redirect them to a file, fill it in, and enter it with `shophead archive enter`.";

/// Runs `visit`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let now = arguments.now.moment(console)?;
    let current = load_current_work(project_path, now.day(), console)?;
    let choice = VisitChoice {
        spaces: names::spaces(&current.project.job, &arguments.space)?,
        stages: names::stages(&current.project.job, &arguments.stage)?,
        hand: arguments.hand,
        visitor: arguments.visitor.as_deref().map(|name| visitor(&current.project.job, name)).transpose()?,
    };
    let planned = arguments.on.as_deref().map(day).transpose()?;
    let job = &current.project.job;
    let archive = &current.archive;
    let sheets = archive.sheets(archive.state.issues.iter().map(|issue| issue.issued.sheet))?;
    let recorded = current.archived().map(|state| Recorded { state, sheets: &sheets });
    let _spoken = (!arguments.typed).then(|| arguments.document.speak(&current.project));
    let packet = visit(job, &current.order, &current.state, recorded, &choice).with_errors(&current.project.report);
    if packet.spaces.is_empty() {
        bail!(
            "no space is left to close, or no step works in what was asked for; name a space with --space or a stage with --stage"
        );
    }
    if arguments.typed {
        console.say(&packet.typed.join("\n"))?;
        return Ok(Outcome::of(current.project.report.stops()));
    }
    arguments.document.put_out(&packet, |packet| packet.document(job, now, planned), &current, console)
}

fn day(text: &str) -> Result<Moment> {
    Ok(When::parse(text).map_err(|fault| anyhow!("--on: {fault}"))?.earliest)
}

/// A person or a role of the project.
fn visitor(job: &Job, name: &str) -> Result<String> {
    if job.signatory(name).is_some() {
        return Ok(name.to_owned());
    }
    let people = job.project.signers.iter().map(|signer| signer.initials.value.as_str());
    let known: Vec<&str> = people.chain(job.project.roles.iter().map(|role| role.id.as_str())).collect();
    bail!("nobody in build.toml has the initials `{name}`, and no role this id; there are {}", known.join(", "))
}
