//! A progress bar on a terminal, and nothing elsewhere.

use indicatif::{ProgressBar, ProgressStyle};

/// Progress over a known number of documents.
pub(super) struct Progress(ProgressBar);

impl Progress {
    /// Starts a bar; hidden where standard error is not a terminal.
    pub fn start(total: usize, live: bool) -> Self {
        let bar = if live && total > 1 { ProgressBar::new(total as u64) } else { ProgressBar::hidden() };
        if let Ok(style) = ProgressStyle::with_template("{bar:30} {pos}/{len} {msg}") {
            bar.set_style(style);
        }
        Self(bar)
    }

    /// One more is done.
    pub fn step(&self, name: &str) {
        self.0.set_message(name.to_owned());
        self.0.inc(1);
    }

    /// Takes the bar away.
    pub fn finish(&self) {
        self.0.finish_and_clear();
    }
}
