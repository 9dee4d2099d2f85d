//! Many documents on several threads with flat memory.
//!
//! Each thread has a rayon pool of its own with one thread: Typst's inner work would else be stolen across documents
//! and keep all of them in memory. After each document the caches are emptied.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::sync_channel;

use super::failure::Failure;
use super::pdf::Printed;
use super::template::Templates;
use crate::plan::Document;

/// Deeply nested tables need more than a thread's usual stack.
const STACK: usize = 16 << 20;

/// Prints documents on `threads` threads and hands each to `on_done` as soon as it is printed.
///
/// `on_done` runs on the calling thread, in the order in which documents are finished; what it gives comes back in
/// the order of the documents. No more than a few PDFs are in memory at a time.
///
/// # Panics
/// Where Typst does: a thread that dies takes the run with it.
pub fn render_many<R>(
    documents: &[Document],
    templates: &Templates,
    threads: usize,
    on_done: impl FnMut(usize, Result<Printed, Failure>) -> R,
) -> Vec<R> {
    print_many(documents, threads, |document| super::print(document, templates), on_done)
}

/// The same, each document printed, or only measured, in a way that is handed in.
///
/// # Panics
/// As [`render_many`].
pub fn print_many<T: Send, R>(
    documents: &[Document],
    threads: usize,
    print: impl Fn(&Document) -> Result<T, Failure> + Sync,
    mut on_done: impl FnMut(usize, Result<T, Failure>) -> R,
) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let threads = threads.clamp(1, documents.len().max(1));
    let mut results: Vec<Option<R>> = documents.iter().map(|_| None).collect();
    std::thread::scope(|scope| {
        let (send, receive) = sync_channel(1);
        for _ in 0..threads {
            let send = send.clone();
            let next = &next;
            let print = &print;
            scope.spawn(move || {
                let pool = rayon::ThreadPoolBuilder::new().num_threads(1).stack_size(STACK).build();
                while let Some((at, document)) = take(next, documents) {
                    let printed = match &pool {
                        Ok(pool) => pool.install(|| print(document)),
                        Err(error) => Err(Failure::new(format!("a thread cannot be started: {error}"))),
                    };
                    typst::comemo::evict(0);
                    if send.send((at, printed)).is_err() {
                        return;
                    }
                }
            });
        }
        drop(send);
        for (at, printed) in receive {
            results[at] = Some(on_done(at, printed));
        }
    });
    results.into_iter().map(|result| result.expect("every document is sent once")).collect()
}

fn take<'a>(next: &AtomicUsize, documents: &'a [Document]) -> Option<(usize, &'a Document)> {
    let at = next.fetch_add(1, Ordering::Relaxed);
    documents.get(at).map(|document| (at, document))
}
