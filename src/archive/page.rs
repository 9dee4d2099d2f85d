//! The page that lies in every archive and explains it to a reader who does not have this program.
//!
//! It is made from the list of kinds, so that it says what is written; an archive that exists keeps the page that
//! it was begun with.

use std::fmt::Write as _;

use super::entry::KINDS;
use super::kind::Often;

const HEAD: &str = "\
shophead archive 1

This folder is the record of how an aircraft was built. Nothing in it is ever rewritten: what was entered stays, and
a correction is a new entry. It can be read with any text editor and any PDF viewer. The signed paper is the original;
this folder is its index. Keep a copy elsewhere, and write the last line of head.txt down on paper now and then.

  ledger/   small text files, each what was recorded in one go: NNNNNN-DDDDDDDD.txt with the number of its entry, or
            NNNNNN-NNNNNN-DDDDDDDD.txt with those of its first and last; last the first eight digits of its SHA-256
  blobs/    printed sheets, scans, photos: each named by the SHA-256 of its bytes
  head.txt  number of entries and the SHA-256 of the last file in ledger; replaced whenever something is recorded
  lock.txt  keeps two programs from writing at the same time
  *.unfinished   left by a program that was stopped while writing; it never counted

A file in ledger is UTF-8 text. Every line is `key: value` and ends with one line feed (byte 10); the first line is
`shophead record 2`. Older files begin with `shophead record 1`, and have the word `zone` where it is `space` below. In a
value, \\\\ is a backslash, \\n a line feed, \\u{hex} another control character.
The lines stand in this order: number, previous (SHA-256 of the file before; `none` for the first), entered (when it was
typed), time-because (why that time stands, where it needs a reason), typed (SHA-256 of the file that was entered, where
there was one), kind, the lines of the kind as below, end (the number again). Further entries that were recorded with it
follow in the same file, each with number, kind, the lines of its kind, end; they count together.
To check a file in ledger: its SHA-256 begins with the eight digits of its name, and is the `previous` of the next.
To check a file in blobs: its SHA-256 is its name.
So damage by accident is found, all of it. Somebody who sets out to rewrite these files can rewrite every SHA-256 after
the change too; that shows where the last line of head.txt was written down elsewhere before: on paper, in a build record
that was printed, in a letter. What was recorded until then ends with that SHA-256 or is not what it was.

Each issued sheet names a text file with what its steps require. A sheet code is ten characters of
0123456789ABCDEFGHJKMNPQRSTVWXYZ: nine carry five bits each of the SHA-256 over those requirements, the last is a check.

Kinds of entries, and their lines in order (1 always, ? may be absent, * any number):
";

/// The page.
#[must_use]
pub fn explain_archive() -> String {
    let mut page = HEAD.to_owned();
    for kind in KINDS {
        let _ = write!(page, "\n{}:{}\n", kind.word, kind.about);
        for line in kind.lines {
            let often = match line.often {
                Often::One => '1',
                Often::Maybe => '?',
                Often::Many => '*',
            };
            let _ = writeln!(page, "  {often} {:<20}{} ({})", line.key, line.about.trim(), (line.form)());
        }
    }
    page
}
