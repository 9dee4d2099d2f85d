//! Pages as grey pictures, and the outside programs that look at them: a rasteriser, a code reader, a text reader.
//!
//! A missing program is said and the look skipped; where `CI` is set it is a failure.

use std::io::Write as _;
use std::path::Path;
use std::process::Command;

/// A grey picture; 0 is black.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Picture {
    /// Dots in a row.
    pub width: usize,
    /// Rows.
    pub height: usize,
    /// Row after row.
    pub pixels: Vec<u8>,
}

/// What a program printed on standard output; nothing where it is not installed. `FILE` stands for the file.
fn run(program: &str, arguments: &[&str], file: &Path) -> Option<String> {
    let file = file.display().to_string();
    let arguments = arguments.iter().map(|argument| argument.replace("FILE", &file));
    let Ok(output) = Command::new(program).args(arguments).env("OMP_THREAD_LIMIT", "1").output() else {
        assert!(std::env::var_os("CI").is_none(), "{program} is missing");
        let _ = writeln!(std::io::stderr(), "skipped: {program} is not installed");
        return None;
    };
    Some(String::from_utf8_lossy(&output.stdout).into_owned())
}

impl Picture {
    /// A page of a PDF, counted from one.
    pub fn of(pdf: &[u8], page: usize, dots_an_inch: usize) -> Option<Self> {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("a.pdf");
        std::fs::write(&file, pdf).unwrap();
        let (page, dots) = (page.to_string(), dots_an_inch.to_string());
        run("pdftoppm", &["-r", &dots, "-gray", "-f", &page, "-l", &page, "-singlefile", "FILE", "FILE"], &file)?;
        Some(Self::read(&std::fs::read(folder.path().join("a.pdf.pgm")).unwrap()))
    }

    fn read(bytes: &[u8]) -> Self {
        let mut fields = bytes.splitn(4, u8::is_ascii_whitespace);
        let mut next = || std::str::from_utf8(fields.next().unwrap()).unwrap().to_owned();
        assert_eq!(next(), "P5");
        let (width, height): (usize, usize) = (next().parse().unwrap(), next().parse().unwrap());
        Self { width, height, pixels: bytes[bytes.len() - width * height..].to_vec() }
    }

    /// The grey of a dot; white outside.
    pub fn at(&self, x: i64, y: i64) -> u8 {
        let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else { return 255 };
        if x < self.width && y < self.height { self.pixels[y * self.width + x] } else { 255 }
    }

    fn with_file<T>(&self, look: impl FnOnce(&Path) -> T) -> T {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("page.pgm");
        let mut bytes = format!("P5 {} {} 255\n", self.width, self.height).into_bytes();
        bytes.extend(&self.pixels);
        std::fs::write(&file, bytes).unwrap();
        look(&file)
    }

    /// The machine-readable codes on it, sorted.
    pub fn codes(&self) -> Option<Vec<String>> {
        let text = self.with_file(|file| run("zbarimg", &["-q", "--raw", "FILE"], file))?;
        let mut codes: Vec<String> = text.lines().map(str::to_owned).collect();
        codes.sort();
        Some(codes)
    }

    /// The words on it as a program reads them, without white space.
    pub fn words(&self) -> Option<String> {
        let text = self.with_file(|file| run("tesseract", &["FILE", "stdout", "--psm", "4", "--dpi", "200"], file))?;
        Some(text.chars().filter(|c| !c.is_whitespace()).collect())
    }
}
