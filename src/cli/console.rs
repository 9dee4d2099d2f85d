//! What a run has of its surroundings: the terminal for text and complaints, in colour or not, and the disk.
//!
//! Nothing else writes to the process's streams.

use std::io::{BufRead, IsTerminal, Write};
use std::path::PathBuf;
use std::time::Duration;

use anyhow::{Context, Result, ensure};

use super::apart::Apart;
use crate::calendar::Moment;
use crate::disk::{Disk, Watch};
use crate::report::Colour;
use crate::text::without_controls;

/// Where answers come from.
enum Answers {
    /// The terminal of this process.
    Terminal,
    /// Lines that were given.
    Lines(Box<dyn BufRead>),
}

/// Standard output and standard error of one run.
pub struct Console {
    out: Box<dyn Write>,
    err: Box<dyn Write>,
    colour: Colour,
    live: bool,
    asks: Option<Answers>,
    disk: Disk,
    apart: Option<Apart>,
    clock: Option<Moment>,
}

impl Console {
    /// The console of this process; colour follows `NO_COLOR` and whether standard output is a terminal.
    #[must_use]
    pub fn of_process() -> Self {
        let plain = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        let terminal = std::io::stdout().is_terminal();
        Self {
            out: Box::new(std::io::BufWriter::new(std::io::stdout())),
            err: Box::new(std::io::stderr()),
            colour: if terminal && !plain { Colour::Terminal } else { Colour::Plain },
            live: std::io::stderr().is_terminal(),
            asks: asks_process(),
            disk: Disk::default(),
            apart: Apart::of_process(),
            clock: None,
        }
    }

    /// A console that writes to these instead of the process's streams, without colour.
    #[must_use]
    pub fn of_writers(out: impl Write + 'static, err: impl Write + 'static) -> Self {
        Self {
            out: Box::new(out),
            err: Box::new(err),
            colour: Colour::Plain,
            live: false,
            asks: None,
            disk: Disk::default(),
            apart: None,
            clock: None,
        }
    }

    /// The same console in a run of which every writing step is watched.
    #[must_use]
    pub fn watched(mut self, watch: Watch) -> Self {
        self.disk = Disk::watched(watch);
        self
    }

    /// The same console with somebody before it, whose answers are these lines.
    #[must_use]
    pub fn answered(mut self, answers: impl BufRead + 'static) -> Self {
        self.asks = Some(Answers::Lines(Box::new(answers)));
        self
    }

    /// The same console in a run that prints with own templates by starting a program, which may take so long.
    #[must_use]
    pub fn printing_apart(mut self, program: PathBuf, time: Duration) -> Self {
        self.apart = Some(Apart::with(program, time));
        self
    }

    /// Notes the time of an entry that the clock gave when the run began.
    pub(super) const fn note_clock(&mut self, now: Moment) {
        self.clock = Some(now);
    }

    /// Whether the clock gave a time of an entry.
    pub(super) fn is_of_clock(&self, time: Moment) -> bool {
        self.clock == Some(time)
    }

    /// How this run prints with own templates.
    pub(super) fn apart(&self) -> Option<Apart> {
        self.apart.clone()
    }

    /// Asks a question and returns the answer; nothing where nobody sits before the terminal or the answer is empty.
    pub(super) fn ask(&mut self, question: &str) -> Option<String> {
        self.ask_offering(question, &[]).ok().flatten()
    }

    /// Whether somebody can be asked.
    #[must_use]
    pub(super) const fn can_ask(&self) -> bool {
        self.asks.is_some()
    }

    /// Asks a question whose answer may be one of those on offer, which the terminal shows as they fit what is typed;
    /// gives nothing where the answer is empty.
    ///
    /// # Errors
    /// When nobody answers: there is no terminal, the questions were broken off, or the lines have ended.
    pub(super) fn ask_offering(&mut self, question: &str, offers: &[String]) -> Result<Option<String>> {
        // What was said before the question stands above it.
        self.out.flush()?;
        let question = &*without_controls(question);
        let answer = match self.asks.as_mut().context("there is nobody to ask")? {
            Answers::Terminal => inquire::Text::new(question).with_autocomplete(Offers(offers.to_vec())).prompt()?,
            Answers::Lines(lines) => {
                write!(self.err, "{question} ")?;
                self.err.flush()?;
                let mut answer = String::new();
                ensure!(lines.read_line(&mut answer)? > 0, "there are no more answers");
                answer
            }
        };
        let answer = answer.trim();
        Ok((!answer.is_empty()).then(|| answer.to_owned()))
    }

    /// What this run writes files through.
    #[must_use]
    pub(super) fn disk(&self) -> Disk {
        self.disk.clone()
    }

    /// Whether text on standard output carries colours.
    #[must_use]
    pub const fn colour(&self) -> Colour {
        self.colour
    }

    /// Whether progress can be shown on standard error.
    #[must_use]
    pub const fn live(&self) -> bool {
        self.live
    }

    /// Writes text to standard output.
    ///
    /// # Errors
    /// When the stream cannot be written.
    pub fn print(&mut self, text: &str) -> Result<()> {
        Ok(self.out.write_all(text.as_bytes())?)
    }

    /// Writes one line to standard output; control characters in it are spelled out.
    ///
    /// # Errors
    /// When the stream cannot be written.
    pub fn say(&mut self, line: &str) -> Result<()> {
        Ok(writeln!(self.out, "{}", without_controls(line))?)
    }

    /// Writes one line to standard error; there is nowhere left to report that this failed.
    pub fn complain(&mut self, line: &str) {
        let _ = writeln!(self.err, "shophead: {}", without_controls(line));
    }

    /// Writes findings, which spell control characters out themselves, to standard error.
    pub fn warn(&mut self, findings: &str) {
        // There is nowhere left to report that this failed.
        let _ = self.err.write_all(findings.as_bytes());
    }

    /// Whether text on standard error carries colours.
    #[must_use]
    pub const fn error_colour(&self) -> Colour {
        if self.live { self.colour } else { Colour::Plain }
    }

    /// Writes out what is still buffered.
    ///
    /// # Errors
    /// When the stream cannot be written.
    pub fn finish(&mut self) -> Result<()> {
        Ok(self.out.flush()?)
    }
}

/// Where answers of this process come from: a terminal on both sides.
fn asks_process() -> Option<Answers> {
    let somebody = std::io::stdin().is_terminal() && std::io::stderr().is_terminal();
    somebody.then_some(Answers::Terminal)
}

/// What may be answered, for a terminal that shows what fits the letters typed so far.
#[derive(Clone)]
struct Offers(Vec<String>);

impl inquire::Autocomplete for Offers {
    fn get_suggestions(&mut self, typed: &str) -> Result<Vec<String>, inquire::CustomUserError> {
        let typed = typed.to_lowercase();
        Ok(self.0.iter().filter(|own| own.to_lowercase().contains(&typed)).cloned().collect())
    }

    fn get_completion(
        &mut self,
        _: &str,
        marked: Option<String>,
    ) -> Result<inquire::autocompletion::Replacement, inquire::CustomUserError> {
        Ok(marked)
    }
}

/// Whether a failure is only that nobody reads the output any more.
pub(super) fn is_broken_pipe(failure: &anyhow::Error) -> bool {
    let kind = failure.downcast_ref::<std::io::Error>().map(std::io::Error::kind);
    kind == Some(std::io::ErrorKind::BrokenPipe)
}
