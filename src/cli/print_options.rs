//! How `packet` prints: for reading only, on which paper, for both sides, in large type.
//!
//! The words and boxes are the same in every copy but that for reading, which has no boxes.

use super::names;
use super::options::LargeOption;
use crate::job::Paper;
use crate::plan::{Edition, Options};

/// The arguments that say how.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct PrintOptions {
    /// Print for reading only: marked REFERENCE, without any box to sign
    #[arg(long, conflicts_with_all = ["issue", "draft"])]
    reference: bool,
    /// Paper instead of the project's
    #[arg(long, value_parser = names::paper)]
    paper: Option<Paper>,
    /// Print for both sides of a sheet: the margins change sides with the page
    #[arg(long)]
    duplex: bool,
    #[command(flatten)]
    large: LargeOption,
}

impl PrintOptions {
    /// What planning takes.
    pub fn options(&self, draft: bool) -> Options {
        Options {
            draft,
            reference: self.reference,
            paper: self.paper,
            edition: self.large.edition(Edition { duplex: self.duplex, ..Edition::default() }),
            ..Options::default()
        }
    }
}
