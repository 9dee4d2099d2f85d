//! Names of files in the output folder: those of travelers, and those that the program's own documents take.
//!
//! Planning names documents by it and a rule compares them by it. It touches no file.

use unicode_normalization::UnicodeNormalization;

use crate::words::{Hand, words};

words! {
    /// A document of the program's own, by the first word of its file's name.
    OwnDocument {
        /// What can be started and what waits.
        Board = "board",
        /// Hardware and parts to pull.
        Pick = "pick",
        /// What an update of the drawing register touches.
        Drawings = "drawings",
        /// The book of the build.
        Book = "build-record",
        /// For somebody who looks before a space closes.
        Visit = "visit",
        /// A discrepancy sheet.
        Discrepancy = "discrepancy",
        /// What a revision does to signed work.
        Notice = "notice",
    }
}

impl OwnDocument {
    /// The name of its file without the ending: the word alone, or the word and what it is about.
    #[must_use]
    pub fn stem(self, about: Option<&str>) -> String {
        about.map_or_else(|| self.word().to_owned(), |about| format!("{self}-{}", file_name(about)))
    }

    /// The document that takes a name, in any case of its letters: its word, also with more where it has more.
    #[must_use]
    pub fn taking(stem: &str) -> Option<Self> {
        let stem = FileKey::of(stem).0;
        Self::ALL.iter().copied().find(|own| {
            let has_more = matches!(own, Self::Visit | Self::Discrepancy | Self::Notice);
            stem.strip_prefix(own.word()).is_some_and(|rest| rest.is_empty() || has_more && rest.starts_with('-'))
        })
    }
}

/// How the print of a packet differs from the one for signing; each kind has its word in the file's name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct PrintKind {
    /// For reading only.
    pub reference: bool,
    /// In larger type.
    pub large: bool,
    /// A draft.
    pub draft: bool,
}

impl PrintKind {
    /// Every kind, the one for signing first.
    pub fn all() -> impl Iterator<Item = Self> {
        let both = [false, true];
        both.into_iter().flat_map(move |draft| {
            both.into_iter()
                .flat_map(move |large| both.into_iter().map(move |reference| Self { reference, large, draft }))
        })
    }
}

/// The name of a packet's file without its ending: traveler, hand or `both-hands`, run of steps (as `040-070`), kind of print.
#[must_use]
pub fn packet_stem(traveler: &str, hands: &[Hand], part: Option<&str>, kind: PrintKind) -> String {
    let mut stem = file_name(traveler);
    let kinds = [(kind.reference, "reference"), (kind.large, "large"), (kind.draft, "draft")];
    let kinds = kinds.into_iter().filter_map(|(is, word)| is.then_some(word));
    let hand = match hands {
        [] => None,
        [hand] => Some(hand.word()),
        _ => Some("both-hands"),
    };
    for more in hand.into_iter().chain(part).chain(kinds) {
        stem.push('-');
        stem.push_str(more);
    }
    stem
}

/// A text as part of a file's name: anything that a file system dislikes becomes a dash.
fn file_name(text: &str) -> String {
    let plain: String = text
        .chars()
        .map(|c| if c.is_alphanumeric() || matches!(c, '-' | '_' | '.') { c } else { '-' })
        .take(80)
        .collect();
    plain.trim_start_matches('.').to_owned()
}

/// What two names have in common that some file system takes for one: neither case nor Unicode form (NFC) counts.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct FileKey(String);

impl FileKey {
    /// The key of a name.
    #[must_use]
    pub fn of(stem: &str) -> Self {
        Self(stem.nfc().collect::<String>().to_lowercase().nfc().collect())
    }
}
