//! What Typst may see: the filled-in template, the template libraries, the embedded fonts, the pictures handed in.
//!
//! No file system, no packages, no clock.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::failure::Failure;
use super::picture::{Pictures, file_name};
use crate::plan::{Edition, Thumbnails};

macro_rules! font_files {
    ($($name:literal),+ $(,)?) => { [$(include_bytes!(concat!("../../templates/fonts/", $name)).as_slice()),+] };
}

const FONT_FILES: [&[u8]; 8] = font_files![
    "B612-Regular.otf",
    "B612-Bold.otf",
    "B612-Italic.otf",
    "NotoSans-Subset-Regular.ttf",
    "NotoSans-Subset-Bold.ttf",
    "NotoSansMath-Subset.ttf",
    "NotoSansSymbols-Subset.ttf",
    "NotoSansSymbols2-Subset.ttf",
];

static FONTS: LazyLock<Vec<Font>> = LazyLock::new(|| {
    let fonts: Vec<Font> = FONT_FILES.iter().flat_map(|data| Font::iter(Bytes::new(*data))).collect();
    assert_eq!(fonts.len(), FONT_FILES.len(), "an embedded font cannot be read");
    fonts
});
static BOOK: LazyLock<LazyHash<FontBook>> = LazyLock::new(|| LazyHash::new(FontBook::from_fonts(FONTS.iter())));
static LIBRARY: LazyLock<LazyHash<Library>> = LazyLock::new(|| LazyHash::new(Library::default()));

/// The embedded fonts.
pub(super) fn fonts() -> &'static [Font] {
    &FONTS
}

/// How one layout of a document is set.
#[derive(Debug, Clone, Copy)]
pub(super) struct Setting {
    /// Size of the type in per cent of the usual.
    pub size: u32,
    /// Whether each step says how tall it is.
    pub measuring: bool,
    /// How close a document is set that should take few pages: not at all, then closer up to `CLOSEST_SET`.
    pub close: u32,
}

impl Setting {
    pub const USUAL: Self = Self { size: 100, measuring: false, close: 0 };
}

/// The closest that a document is set; `edition.typ` says what each step towards it is.
pub(super) const CLOSEST_SET: u32 = 4;

/// One document's sources.
pub(super) struct TypstWorld {
    main: Source,
    libraries: Vec<Source>,
    pictures: Vec<(FileId, Bytes)>,
}

impl TypstWorld {
    /// The text of a document, its edition, how it is set and the libraries that it may import, by file name.
    pub(super) fn new(
        text: String,
        edition: Edition,
        setting: Setting,
        libraries: &BTreeMap<String, String>,
    ) -> Result<Self, Failure> {
        let main = Source::new(file_id("main.typ")?, text);
        let sources = libraries.iter().map(|(name, text)| {
            let id = file_id(name)?;
            Ok(Source::new(id, if name == EDITION { edition_text(edition, setting) } else { text.clone() }))
        });
        Ok(Self { main, libraries: sources.collect::<Result<_, Failure>>()?, pictures: Vec::new() })
    }

    /// With the pictures of texts and the small ones of photos, which it may show by their file names.
    pub(super) fn with_pictures(mut self, pictures: &Pictures, thumbnails: &Thumbnails) -> Result<Self, Failure> {
        for (at, picture) in pictures.values().enumerate() {
            self.pictures.push((file_id(&file_name(at))?, picture.bytes()));
        }
        for (name, thumbnail) in thumbnails {
            self.pictures.push((file_id(name)?, Bytes::new(thumbnail.grey.clone())));
        }
        Ok(self)
    }
}

/// The library that says how a document is printed; its text is made for each document.
pub(super) const EDITION: &str = "edition.typ";

fn edition_text(edition: Edition, setting: Setting) -> String {
    let whole = setting.size / 100;
    let part = setting.size % 100;
    let duplex = edition.duplex;
    let measuring = setting.measuring;
    let close = setting.close;
    let is_close = close > 0;
    // Left on the left, as on the aircraft.
    let hands = if edition.both_hands { "(\"left\", \"right\")" } else { "()" };
    format!(
        "#let magnify = {whole}.{part:02}\n#let duplex = {duplex}\n#let measuring = {measuring}\n#let close-set = {is_close}\n\
         #let closeness = {close}\n#let hands = {hands}\n"
    )
}

fn file_id(name: &str) -> Result<FileId, Failure> {
    let path =
        VirtualPath::new(name).map_err(|error| Failure::new(format!("`{name}` cannot name a template: {error:?}")))?;
    Ok(RootedPath::new(VirtualRoot::Project, path).intern())
}

impl World for TypstWorld {
    fn library(&self) -> &LazyHash<Library> {
        &LIBRARY
    }

    fn book(&self) -> &LazyHash<FontBook> {
        &BOOK
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        if id == self.main.id() {
            return Ok(self.main.clone());
        }
        self.libraries.iter().find(|source| source.id() == id).cloned().ok_or(FileError::AccessDenied)
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        self.pictures
            .iter()
            .find(|(known, _)| *known == id)
            .map(|(_, bytes)| bytes.clone())
            .ok_or(FileError::AccessDenied)
    }

    fn font(&self, index: usize) -> Option<Font> {
        FONTS.get(index).cloned()
    }

    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}
