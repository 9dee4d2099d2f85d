//! `evening`: a file for tonight's signatures, ready to be filled in: what the board proposes, with a blank for each reading.
//!
//! What it writes records nothing. It overwrites no file, and signs for nobody: what was not done is taken out by hand.

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use super::current_work::{CurrentWork, load_current_work};
use super::schema::{File, editor_line};
use super::selection::{Selected, Selection, select};
use super::{Console, Outcome, names};
use crate::archive::{Capacity, Issue, OpenBox, SheetRequirement};
use crate::calendar::Day;
use crate::disk::Taken;
use crate::job::{Hand, Item, Job, May, Step, StepRef, operation};
use crate::spec::{WrittenEntry, box_key, shown};

/// Arguments of `evening`.
#[derive(Debug, clap::Args)]
#[command(after_long_help = AFTER)]
pub(super) struct Arguments {
    /// The travelers that were worked on: of each what is left of the session in which it stands; without one, what the board
    /// proposes
    #[arg(value_name = "TRAVELER")]
    traveler: Vec<String>,
    /// Only this hand
    #[arg(long, value_parser = names::hand)]
    hand: Option<Hand>,
    /// Minutes at hand, where the board proposes
    #[arg(long, default_value_t = 120, value_parser = clap::value_parser!(u32).range(1..=10_080))]
    minutes: u32,
    /// The moment, as 2026-03-02T18:00 by your own clock
    #[arg(long, value_name = "MOMENT")]
    now: Option<String>,
    /// File to write instead of evenings/DAY.toml beside the project file
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

const AFTER: &str = "\
Take out what was not done, write what was read between the quotation marks and what it took behind `minutes`, and enter the file \
with `shophead archive enter`. Who keeps no archive copies the entries to progress.toml.";

/// Runs `evening`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let now = super::time::page_time(arguments.now.as_deref(), console)?;
    let current = load_current_work(project_path, now.day(), console)?;
    let selection = Selection {
        traveler: arguments.traveler.clone(),
        hand: arguments.hand,
        both_hands: false,
        step: None,
        evening: true,
        minutes: arguments.minutes,
        now: arguments.now.clone(),
    };
    let chosen = select(&current, &selection, console)?;
    let day = now.day();
    let usual = current.project.folder.join("evenings").join(format!("{day}.toml"));
    let path = arguments.to.clone().unwrap_or(usual);
    ensure!(
        path.symlink_metadata().is_err(),
        "{} is there already and is left as it is; --to names another",
        shown(&path)
    );
    let mut entries = String::new();
    for own in chosen {
        entries += &Packet { current: &current, own }.text()?;
    }
    ensure!(!entries.is_empty(), "nothing can be worked on: `shophead board` says what waits, and for what");
    let line = editor_line(&current.project.folder, &path, File::Evening);
    let text = format!("{line}{}{entries}", head(&current, &path, day));
    if let Some(folder) = path.parent() {
        std::fs::create_dir_all(folder).with_context(|| format!("cannot make the folder {}", folder.display()))?;
    }
    let disk = console.disk();
    disk.put(&path, Taken::Keep, |file| disk.step("write", &path, || file.write_all(text.as_bytes())))?;
    console.say(&format!("{}  fill it in, then `shophead archive enter {0}`", shown(&path)))?;
    Ok(Outcome::of(current.project.report.stops()))
}

/// What stands once: how to go on, by whom, the day.
fn head(current: &CurrentWork, path: &Path, day: Day) -> String {
    let job = &current.project.job;
    let may_do = |own: &&crate::job::Signer| job.roles_of(own).any(|role| role.may.contains(&May::Do));
    let by = job.project.signers.iter().find(may_do).map(|own| own.initials.value.as_str());
    let next = if current.archived().is_some() {
        format!("enter it: shophead archive enter {}", shown(path))
    } else {
        "copy the entries to progress.toml: there is no archive yet".to_owned()
    };
    let top = WrittenEntry::titled("").text("by", by).bare("on", Some(&day.to_string()));
    let helped = "# helpers = [\"\"]     # who helped with all of it\n";
    format!("# Take out what was not done, write what was read, and {next}.\n{}{helped}", top.finish())
}

/// One traveler and hand of the evening.
struct Packet<'a> {
    current: &'a CurrentWork,
    own: Selected,
}

impl Packet<'_> {
    fn job(&self) -> &Job {
        &self.current.project.job
    }

    fn item(&self, step: usize) -> Item {
        Item { at: StepRef { traveler: self.own.index, step }, hand: self.own.hand }
    }

    fn step(&self, step: usize) -> &Step {
        self.job().step(self.item(step).at)
    }

    /// Whether its work is not signed yet; a step whose hold is open is not done, and needs no second signature.
    fn is_open(&self, step: usize) -> bool {
        let item = self.item(step);
        let signed = self.current.archive.state.is_signed(&self.job().name_of(item), Capacity::Done);
        !signed && !self.current.state.is_done(item)
    }

    /// Its entries; a comment where its sheet is not printed for signing yet.
    fn text(&self) -> Result<String> {
        let Some(run) = self.own.run else { return Ok(String::new()) };
        let steps: Vec<usize> = (run.first..=run.last).filter(|step| self.is_open(*step)).collect();
        if steps.is_empty() {
            return Ok(String::new());
        }
        let traveler = &self.job().travelers[self.own.index];
        let packet = self.job().packet_name(self.own.index, self.own.hand);
        let mut text = format!("\n# {packet}, {}\n", traveler.title.value);
        for step in &steps {
            let step = self.step(*step);
            let minutes = step.minutes.map_or_else(String::new, |own| format!(", {} min planned", own.value));
            // Writing to a text cannot fail.
            let _ = writeln!(text, "#   {} {}{minutes}", operation(step.number), step.title.value);
        }
        let archive = &self.current.archive;
        let issue = archive.state.in_force(&packet);
        if issue.is_none() && self.current.archived().is_some() {
            let id = &traveler.id.value;
            let _ =
                writeln!(text, "# No sheet of it is in force: `shophead packet {id} --issue` prints one for signing.");
            return Ok(text);
        }
        let sheet = issue.map(|issue| archive.requirement(issue)).transpose()?;
        for group in self.groups(&steps, issue) {
            text += &self.entry(&group, sheet.as_ref());
        }
        Ok(text)
    }

    /// Steps that stand in one entry: one that asks for a photo, or for somebody else, stands for itself.
    fn groups(&self, steps: &[usize], issue: Option<&Issue>) -> Vec<Vec<usize>> {
        let is_printed = |step: &Step| issue.is_none_or(|own| own.issued.steps.iter().any(|on| on.id == step.id.value));
        let apart = |step: usize| self.step(step).photo.is_some();
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for step in steps.iter().copied().filter(|step| is_printed(self.step(*step))) {
            match groups
                .last_mut()
                .filter(|group| !apart(step) && group.last().is_some_and(|last| last + 1 == step && !apart(*last)))
            {
                Some(group) => group.push(step),
                None => groups.push(vec![step]),
            }
        }
        groups
    }

    fn entry(&self, group: &[usize], sheet: Option<&SheetRequirement>) -> String {
        let traveler = &self.job().travelers[self.own.index].id.value;
        let named = |table: &str, steps: &str| {
            WrittenEntry::titled(table)
                .text("traveler", Some(traveler))
                .text("hand", self.own.hand.map(Hand::word))
                .text("steps", Some(steps))
        };
        let number = |at: &usize| operation(self.step(*at).number);
        // A group is never empty.
        let (first, last) =
            (group.first().map(number).unwrap_or_default(), group.last().map(number).unwrap_or_default());
        let steps = if first == last { first } else { format!("{first}..{last}") };
        let mut text = named("sign", &steps).finish() + "# minutes =            # what it took";
        text += if group.len() > 1 { " together\n" } else { "\n" };
        if group.iter().any(|step| self.step(*step).photo.is_some()) {
            text += "photos = []            # their numbers\n";
        }
        let boxes: Vec<(String, String)> = group.iter().flat_map(|step| self.boxes(*step, sheet)).collect();
        if !boxes.is_empty() {
            text += "[sign.readings]\n";
            for (key, words) in boxes {
                let _ = writeln!(text, "\"{key}\" = \"\"         # {words}");
            }
        }
        for step in group {
            text += &self.looks(*step, &named);
        }
        text
    }

    /// The boxes of a step: the number beside each, and what is read with its limits.
    fn boxes(&self, step: usize, sheet: Option<&SheetRequirement>) -> Vec<(String, String)> {
        let step = self.step(step);
        let printed = sheet.and_then(|sheet| sheet.step(&step.id.value));
        if let Some(printed) = printed {
            let line = |own: OpenBox| {
                (own.key(), own.words().split_once(' ').map_or_else(String::new, |(_, words)| words.to_owned()))
            };
            return OpenBox::all(printed).into_iter().map(line).collect();
        }
        let records = step.records.iter().enumerate();
        records.map(|(nth, own)| (box_key(step.number, nth + 1), own.label.value.clone())).collect()
    }

    /// Entries of whoever has to look, as comments.
    fn looks(&self, step: usize, named: &impl Fn(&str, &str) -> WrittenEntry) -> String {
        let step = self.step(step);
        let all = [("hold", &step.hold), ("witness", &step.witness)];
        let one = |(word, role): (&str, &Option<crate::job::Text>)| {
            let role = role.as_ref()?;
            let entry = named("sign", &operation(step.number)).text("for", Some(word)).text("by", Some(""));
            let mut text = format!("# The {word} is for the {}:\n", role.value);
            for line in entry.finish().lines() {
                // Writing to a text cannot fail.
                let _ = writeln!(text, "# {line}");
            }
            Some(text)
        };
        all.into_iter().filter_map(one).collect()
    }
}
