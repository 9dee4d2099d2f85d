//! How much the filling in of texts and templates may cost: work, memory, length, depth.
//!
//! The engine pays for every step and every 64 bytes with one unit of fuel, so that nothing loops or doubles without end. Its
//! reader goes one call deeper for every link of a chain such as `1+1+1`: what it reads is bounded, and long texts are
//! read with room for that. Typst code in a builder's own library is a program and is not bounded.

use std::fmt;
use std::io;
use std::thread;

/// Most bytes of a text that is filled in: several times what one step has room for on its page.
pub(super) const LONGEST_TEXT: usize = 20_000;
/// Fuel of a text: what it makes takes 4 MB at most.
pub(super) const TEXT_FUEL: u64 = 1 << 16;

/// Most bytes of a template of the builder's own that is filled in: several times the largest that comes with the program.
/// The engine folds chains in a time that grows as their square.
pub(super) const LONGEST_TEMPLATE: u64 = 32 << 10;
/// Most bytes of a library of the builder's own.
pub(super) const LONGEST_LIBRARY: u64 = 1 << 20;
/// Fuel of a document: its text takes 512 MB at most.
pub(super) const DOCUMENT_FUEL: u64 = 1 << 23;

/// Most bytes that one value writes; shared lists in lists write far more than they hold.
pub(super) const LONGEST_VALUE: usize = 16 << 20;
/// Deepest nesting of a value that is written.
pub(super) const DEEPEST_VALUE: usize = 64;

/// What is shorter is read on any stack.
const SHORT: usize = 2_000;
/// Stack for each byte that is read; a link of a chain takes one byte at least, and 420 bytes of stack as measured.
const STACK_OF_BYTE: usize = 640;

/// Has the engine read something of this length, with room for the deepest chain that it can hold.
///
/// # Errors
/// When no thread can be started.
pub(super) fn with_room<T: Send>(length: usize, read: impl FnOnce() -> T + Send) -> io::Result<T> {
    if length <= SHORT {
        return Ok(read());
    }
    thread::scope(|scope| {
        let reader = thread::Builder::new().stack_size(length * STACK_OF_BYTE).spawn_scoped(scope, read)?;
        // A reader that panics has hit a bug, and takes the run with it.
        reader.join().map_err(|_| io::Error::other("the text's reader died"))
    })
}

/// What is said where a text or a template costs more.
pub(super) const NO_END: &str = "it repeats or grows without end";

/// Takes no more than it has room for.
pub(super) struct Bounded<'a, W> {
    out: &'a mut W,
    left: usize,
}

impl<'a, W: fmt::Write> Bounded<'a, W> {
    /// Hands on to `out` what fits into `most` bytes.
    pub(super) const fn new(out: &'a mut W, most: usize) -> Self {
        Self { out, left: most }
    }
}

impl<W: fmt::Write> fmt::Write for Bounded<'_, W> {
    fn write_str(&mut self, piece: &str) -> fmt::Result {
        self.left = self.left.checked_sub(piece.len()).ok_or(fmt::Error)?;
        self.out.write_str(piece)
    }
}
