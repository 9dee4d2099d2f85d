//! Issuing: what is archived is what was rendered, whatever becomes of the output folder.

use std::cell::RefCell;
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::rc::Rc;

use shophead::cli::{Console, run_on};

use crate::build::shop::{Shop, TRAVELER};

/// Takes every PDF out of the output folder and leaves something else there as soon as the program says a word.
struct Meddler {
    output: PathBuf,
    taken: Rc<RefCell<Vec<Vec<u8>>>>,
}

impl Write for Meddler {
    fn write(&mut self, said: &[u8]) -> std::io::Result<usize> {
        for path in pdfs(&self.output) {
            let bytes = std::fs::read(&path)?;
            if bytes.starts_with(b"%PDF") {
                self.taken.borrow_mut().push(bytes);
                std::fs::write(path, "something else")?;
            }
        }
        Ok(said.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

fn pdfs(folder: &Path) -> Vec<PathBuf> {
    let all = std::fs::read_dir(folder).into_iter().flatten().map(|entry| entry.unwrap().path());
    all.filter(|path| path.extension().is_some_and(|ending| ending == "pdf")).collect()
}

/// Runs the program while its output folder is meddled with, and gives the PDFs that it wrote.
fn meddle(shop: &Shop, arguments: &[&str]) -> BTreeSet<Vec<u8>> {
    let taken = Rc::default();
    let meddler = Meddler { output: shop.path("output"), taken: Rc::clone(&taken) };
    let mut console = Console::of_writers(meddler, std::io::sink());
    let project = shop.path("build.toml").into_os_string();
    let head = [OsString::from("shophead"), "--project".into(), project];
    run_on(head.into_iter().chain(arguments.iter().map(OsString::from)), &mut console);
    assert!(pdfs(&shop.path("output")).iter().all(|path| std::fs::read(path).unwrap() == b"something else"));
    taken.take().into_iter().collect()
}

/// The PDFs that the archive holds; that their digests are right is left to `archive verify`.
fn archived(shop: &Shop) -> BTreeSet<Vec<u8>> {
    let verified = shop.run(&["archive", "verify"]);
    assert_eq!(verified.code, 0, "{}{}", verified.out, verified.err);
    let files = walkdir::WalkDir::new(shop.path("archive")).into_iter().map(Result::unwrap);
    let pdfs = files.filter(|entry| entry.path().extension().is_some_and(|ending| ending == "pdf"));
    pdfs.map(|entry| std::fs::read(entry.path()).unwrap()).collect()
}

#[test]
fn what_is_archived_is_what_was_rendered_though_the_output_folder_is_written_over() {
    let shop = Shop::small();
    shop.write("specs/other.toml", TRAVELER.replace("id = \"B-1\"", "id = \"C-1\""));
    let packets = meddle(&shop, &["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]);
    assert_eq!(packets.len(), 2);
    assert_eq!(archived(&shop), packets);
}

#[test]
fn two_packets_of_one_name_are_both_stopped_before_anything_is_printed() {
    let shop = Shop::small();
    shop.edit("specs/bracket.toml", "revision = \"A\"", "revision = \"A\"\nhands = [\"left\", \"right\"]");
    shop.write("specs/other.toml", TRAVELER.replace("id = \"B-1\"", "id = \"b-1-LEFT\""));
    let checked = shop.run(&["check"]);
    assert_eq!(checked.code, 1);
    for place in ["error[file-name-shared]", "specs/bracket.toml:", "specs/other.toml:"] {
        assert!(checked.out.contains(place), "{place} is not in\n{}", checked.out);
    }
    let issued = shop.run(&["packet", "--issue"]);
    assert_eq!((issued.code, pdfs(&shop.path("output")).len()), (1, 0), "{}", issued.err);
}
