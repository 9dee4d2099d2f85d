//! Printing with a builder's own templates: in a process of its own, which is stopped where they run without end.
//!
//! The other process is this program, started for one document; it opens no file and takes no more memory than it may.
//! Embedded templates are printed here, without one.

use std::io::{Read, Write};
use std::path::PathBuf;
use std::process::{Child, Command, ExitCode, Stdio};
use std::sync::mpsc::channel;
use std::time::Duration;

use crate::plan::{Document, TooTall};
use crate::render::{self, Failure, Printed, Templates};

/// The one argument of the other process.
const WORD: &str = "--print-apart";

/// How long one document may take: the longest takes seconds, and the machine may be busy with other things.
const TIME: Duration = Duration::from_secs(90);

/// How much memory the other process may take, with the program itself.
const MEMORY: u64 = 2 << 30;

/// How documents with own templates are printed.
#[derive(Debug, Clone)]
pub(super) struct Apart {
    /// The program that is started.
    program: PathBuf,
    /// How long it may take.
    time: Duration,
}

impl Apart {
    /// By another process of this program; nothing where the system does not say where that lies.
    pub fn of_process() -> Option<Self> {
        Some(Self::with(std::env::current_exe().ok()?, TIME))
    }

    /// By a program, within a time.
    pub const fn with(program: PathBuf, time: Duration) -> Self {
        Self { program, time }
    }

    /// Has an order carried out, and reads the answer.
    fn ask<T>(
        &self,
        order: Vec<u8>,
        read: impl Fn(&[u8]) -> Option<Result<T, Failure>>,
        document: &Document,
        templates: &Templates,
    ) -> Result<T, Failure> {
        let start = || {
            let piped = Stdio::piped;
            Command::new(&self.program).arg(WORD).stdin(piped()).stdout(piped()).stderr(Stdio::null()).spawn()
        };
        let mut child = start().map_err(|error| {
            Failure::new(format!("{} cannot be started to print {}: {error}", self.program.display(), document.stem))
        })?;
        let answer = self.wait(&mut child, order);
        // Whatever came of it, nothing runs on.
        let _ = child.kill();
        let ended = child.wait();
        let said = |what: &str| {
            let files: Vec<&str> = templates.own_paths().collect();
            let stem = &document.stem;
            Failure::new(format!("{stem}: {what}; it is printed with templates of your own: {}", files.join(", ")))
        };
        match answer {
            None => Err(said(&format!("printing takes longer than {} s and was stopped", self.time.as_secs()))),
            Some(answer) => read(&answer).unwrap_or_else(|| {
                let most = MEMORY >> 30;
                let ended = ended.map_or_else(|error| error.to_string(), |ended| ended.to_string());
                Err(said(&format!(
                    "printing takes more than {most} GB of memory or nests without end, and was stopped ({ended})"
                )))
            }),
        }
    }

    /// Hands the order over and takes the answer; nothing where the time is over.
    fn wait(&self, child: &mut Child, order: Vec<u8>) -> Option<Vec<u8>> {
        let (send, receive) = channel();
        if let Some(mut input) = child.stdin.take() {
            // A process that ends early takes no more of it, and says so by having no answer.
            std::thread::spawn(move || input.write_all(&order));
        }
        if let Some(mut output) = child.stdout.take() {
            std::thread::spawn(move || {
                let mut answer = Vec::new();
                let read = output.read_to_end(&mut answer).map(|_| answer);
                // Nobody waits any more where the time is over.
                let _ = send.send(read.unwrap_or_default());
            });
        }
        receive.recv_timeout(self.time).ok()
    }
}

/// Prints a document: apart where there are own templates and a process to do it.
pub(super) fn print(apart: Option<&Apart>, document: &Document, templates: &Templates) -> Result<Printed, Failure> {
    match apart.filter(|_| templates.own_paths().next().is_some()) {
        Some(apart) => apart.ask(render::order(document, templates)?, render::read_answer, document, templates),
        None => render::print(document, templates),
    }
}

/// Finds the steps of a document that are taller than a page, likewise.
pub(super) fn measure(
    apart: Option<&Apart>,
    document: &Document,
    templates: &Templates,
) -> Result<Vec<TooTall>, Failure> {
    match apart.filter(|_| templates.own_paths().next().is_some()) {
        Some(apart) => {
            apart.ask(render::order_to_measure(document, templates)?, render::read_measured, document, templates)
        }
        None => render::too_tall(document, templates),
    }
}

/// Carries out the order on standard input, where this process was started for that; else there is an ordinary command.
pub(super) fn answered() -> Option<ExitCode> {
    let mut arguments = std::env::args_os().skip(1);
    let asked = arguments.next().is_some_and(|word| word == WORD) && arguments.next().is_none();
    asked.then(|| if carried_out().is_some() { ExitCode::SUCCESS } else { ExitCode::from(2) })
}

fn carried_out() -> Option<()> {
    bound();
    let mut order = Vec::new();
    std::io::stdin().lock().read_to_end(&mut order).ok()?;
    let answer = render::carry_out(&order).ok()?;
    let mut out = std::io::stdout().lock();
    out.write_all(&answer).and_then(|()| out.flush()).ok()
}

/// Bounds this process: memory, and time also where whoever started it is gone.
#[cfg(unix)]
fn bound() {
    use rlimit::{Resource, setrlimit};

    let seconds = TIME.as_secs();
    for (what, most) in [(Resource::AS, MEMORY), (Resource::CPU, seconds), (Resource::CORE, 0)] {
        // A system without the limit is left with that of whoever waits.
        let _ = setrlimit(what, most, most);
    }
}

/// A system without such limits is left with that of whoever waits.
#[cfg(not(unix))]
const fn bound() {}
