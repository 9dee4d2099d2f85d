//! Templates: the embedded set, a builder's own files in its place, and how a document's values fill them.
//!
//! Undefined names are failures with file, line and place. A template decides the order of a page, its headings
//! and its looks; every fact, and every sentence about the work, comes with the values.

use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;

use minijinja::value::Serde;
use minijinja::{Environment, Error, ErrorKind, State, UndefinedBehavior, Value, context};
use serde::{Deserialize, Serialize};

use super::bounds::{Bounded, DOCUMENT_FUEL, LONGEST_LIBRARY, LONGEST_TEMPLATE, LONGEST_VALUE, NO_END, with_room};
use super::failure::Failure;
use super::literal::{Code, take_stood_in, write_text, write_value};
use super::picture::{Pictures, file_name};
use super::say::{self, SAY};
use super::world::EDITION;
use super::{markdown, qr, text};
use crate::disk;
use crate::phrase::say;
use crate::plan::Document;
use crate::text::stand_in;

macro_rules! template_files {
    ($($name:literal),+ $(,)?) => { [$(($name, include_str!(concat!("../../templates/", $name)))),+] };
}

/// The templates that come with the program, by file name.
const EMBEDDED: &[(&str, &str)] = &template_files![
    "base.typ",
    "block.typ.j2",
    "board.typ",
    "board.typ.j2",
    "book.typ",
    "book.typ.j2",
    "caution.typ",
    "close-out.typ",
    "discrepancy.typ",
    "discrepancy.typ.j2",
    "drawings.typ",
    "drawings.typ.j2",
    "edition.typ",
    "figures.typ",
    "fitted.typ",
    "front.typ",
    "front.typ.j2",
    "joint.typ",
    "landscape.typ",
    "last-look.typ",
    "lib.typ",
    "mark.typ",
    "markdown.typ",
    "notice.typ",
    "notice.typ.j2",
    "packet.typ.j2",
    "page.typ",
    "pick.typ",
    "pick.typ.j2",
    "portrait.typ",
    "purpose.typ.j2",
    "run.typ",
    "small.typ.j2",
    "step.typ",
    "step.typ.j2",
    "visit.typ",
    "visit.typ.j2",
    "where.typ",
];

/// Every template of a run, ready to be filled in.
pub struct Templates {
    filled: Environment<'static>,
    libraries: BTreeMap<String, String>,
    /// The builder's own files and where they lie.
    own: BTreeMap<String, String>,
    mark: Option<String>,
    pictures: Pictures,
    /// What is said of characters that cannot be printed.
    stand_in: String,
}

/// A template of the builder's own.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub(super) struct OwnFile {
    /// As it is shown.
    pub path: String,
    /// The file's name.
    pub name: String,
    /// What it holds.
    pub text: String,
}

/// The name of an embedded template, where it is one.
pub(super) fn embedded_name(name: &str) -> Option<&'static str> {
    EMBEDDED.iter().map(|(own, _)| *own).find(|own| *own == name)
}

/// The library that tells pages the mark of the builder's own templates.
const OWN_MARK: &str = "own.typ";

impl Templates {
    /// The embedded templates; with a folder, a file there takes the place of the embedded one of the same name.
    ///
    /// Files that end in `.j2` are filled in; files that end in `.typ` are Typst libraries and are not.
    ///
    /// # Errors
    /// When the folder or a file cannot be read, or a template is not well formed.
    pub fn load(folder: Option<&Path>) -> Result<Self, Failure> {
        Self::of_files(folder.map_or_else(|| Ok(Vec::new()), read_folder)?)
    }

    /// The embedded templates, and a builder's own files in the places of those of their names.
    pub(super) fn of_files(own_files: Vec<OwnFile>) -> Result<Self, Failure> {
        let mut files: BTreeMap<String, String> =
            EMBEDDED.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect();
        let mut own = BTreeMap::new();
        for OwnFile { path, name, text } in own_files {
            if [OWN_MARK, EDITION, SAY].contains(&name.as_str()) {
                return Err(Failure::new(format!("{path} is made by the program: call your library by another name")));
            }
            own.insert(name.clone(), path);
            files.insert(name, text);
        }
        let shown = |name: &str| own.get(name).map_or(name, String::as_str).to_owned();
        let mut filled = environment();
        let mut libraries = BTreeMap::new();
        for (name, text) in files {
            if is_library(&name) {
                libraries.insert(name, text);
            } else {
                with_room(text.len(), || filled.add_template_owned(name.clone(), text.clone()))
                    .map_err(|error| Failure::new(format!("the template {} cannot be read: {error}", shown(&name))))?
                    .map_err(|error| failure(&error, &shown(&name), &text))?;
            }
        }
        libraries.insert(SAY.to_owned(), say::library());
        let stand_in = say!(
            "characters that the paper's fonts cannot print stand here by their codes. The files hold them as they were written."
        );
        let mut templates =
            Self { filled, libraries, own, mark: None, pictures: Pictures::new(), stand_in: stand_in.to_owned() };
        templates.write_mark();
        Ok(templates)
    }

    /// Names the set, where it holds own templates: every page then carries the mark, a digest of the set.
    pub fn set_mark(&mut self, mark: String) {
        self.set_own_mark((!self.own.is_empty()).then_some(mark));
    }

    /// The mark as another process has it.
    pub(super) fn set_own_mark(&mut self, mark: Option<String>) {
        self.mark = mark;
        self.write_mark();
    }

    /// The mark on pages; absent where every template is embedded.
    #[must_use]
    pub fn mark(&self) -> Option<&str> {
        self.mark.as_deref()
    }

    fn write_mark(&mut self) {
        let mut line = "#let own-templates = ".to_owned();
        match &self.mark {
            Some(mark) => write_text(&mut line, mark).expect("writing to a string cannot fail"),
            None => line.push_str("none"),
        }
        self.libraries.insert(OWN_MARK.to_owned(), line);
    }

    /// Hands in the pictures that texts show, by the path that they name.
    pub fn show_pictures(&mut self, pictures: Pictures) {
        let places: BTreeMap<String, usize> =
            pictures.keys().enumerate().map(|(at, path)| (path.clone(), at)).collect();
        self.filled.add_filter("markdown", move |state: &State<'_, '_>, written: &Value| {
            from_markdown(state, written, &places)
        });
        self.filled.add_filter("picture", {
            let places: BTreeMap<String, usize> =
                pictures.keys().enumerate().map(|(at, path)| (path.clone(), at)).collect();
            move |path: String| places.get(&path).map(|at| file_name(*at))
        });
        self.pictures = pictures;
    }

    /// The pictures in the order of their file names in Typst.
    pub(super) const fn pictures(&self) -> &Pictures {
        &self.pictures
    }

    /// Every template and library, name and text, in the order of their names: what a digest of them is made of.
    #[must_use]
    pub fn digest_input(&self) -> String {
        let filled = self.filled.templates().map(|(name, template)| (name.to_owned(), template.source().to_owned()));
        let libraries =
            self.libraries.clone().into_iter().filter(|(name, _)| ![OWN_MARK, SAY].contains(&name.as_str()));
        let all: BTreeMap<String, String> = libraries.chain(filled).collect();
        let mut input = String::new();
        for (name, text) in all {
            let length = text.len().to_string();
            input.extend([name.as_str(), " ", length.as_str(), "\n", text.as_str()]);
        }
        input
    }

    /// The fixed words of the templates in the language that is spoken, and what is said of characters that cannot be printed.
    pub(super) fn words(&self) -> (&str, &str) {
        (self.libraries.get(SAY).map_or("", String::as_str), &self.stand_in)
    }

    /// The same fixed words as another process has them.
    pub(super) fn set_words(&mut self, library: String, stand_in: String) {
        self.libraries.insert(SAY.to_owned(), library);
        self.stand_in = stand_in;
    }

    /// The names of the builder's own templates, sorted.
    #[must_use]
    pub fn own(&self) -> Vec<&str> {
        self.own.keys().map(String::as_str).collect()
    }

    /// The builder's own templates as they were read.
    pub(super) fn own_texts(&self) -> Vec<OwnFile> {
        let library = |name: &str| self.libraries.get(name).cloned();
        let filled = |name: &str| Some(self.filled.get_template(name).ok()?.source().to_owned());
        let file = |(name, path): (&String, &String)| {
            let text = library(name).or_else(|| filled(name))?;
            Some(OwnFile { path: path.clone(), name: name.clone(), text })
        };
        self.own.iter().filter_map(file).collect()
    }

    /// Where the builder's own templates lie, as they are shown.
    pub fn own_paths(&self) -> impl Iterator<Item = &str> {
        self.own.values().map(String::as_str)
    }

    /// What is said of own files that take no embedded one's place and that no other own file names.
    #[must_use]
    pub fn strays(&self) -> Vec<String> {
        let names = || EMBEDDED.iter().map(|(name, _)| *name);
        let filled = self.filled.templates().map(|(name, own)| (name.to_owned(), own.source().to_owned()));
        let all: Vec<(String, String)> = self.libraries.clone().into_iter().chain(filled).collect();
        let own = || all.iter().filter(|(name, _)| self.own.contains_key(name));
        let is_used = |stray: &str| own().any(|(name, text)| name != stray && text.contains(stray));
        let strays = self.own.iter().filter(|(name, _)| !names().any(|known| known == *name) && !is_used(name));
        let told = strays.map(|(name, path)| {
            match names().min_by_key(|known| distance(name, known)).filter(|known| distance(name, known) <= 2) {
                Some(known) => format!("{path} is not used: no template is called so; the nearest is {known}"),
                None => format!("{path} is not used: no template is called so, and none of yours names it"),
            }
        });
        told.collect()
    }

    /// The builder's own templates by name, with the path of each.
    pub(super) const fn own_files(&self) -> &BTreeMap<String, String> {
        &self.own
    }

    /// Typst libraries by file name.
    pub(super) const fn libraries(&self) -> &BTreeMap<String, String> {
        &self.libraries
    }

    /// Fills the template of a document; `pages` is how many page codes it gets.
    pub(super) fn fill(&self, document: &Document, print: &str, pages: u32) -> Result<String, Failure> {
        let template =
            self.filled.get_template(document.template).map_err(|error| self.failure(&error, document.template))?;
        let values = context! {
            document => Value::from(Serde(&document.data)),
            values => Value::from(Serde(&document.values)),
            codes => qr::page_codes(document, print, pages),
            ..Value::from(Serde(&document.data))
        };
        // What an earlier document left is not of this one.
        take_stood_in();
        let text = template.render(values).map_err(|error| self.failure(&error, document.template))?;
        Ok(text + &told(&take_stood_in(), &self.stand_in))
    }

    fn failure(&self, error: &Error, fallback: &str) -> Failure {
        let error = innermost(error);
        let name = error.name().unwrap_or(fallback);
        // A template that could not be read has no text to show a place in.
        let source = self.filled.get_template(name).map(|template| template.source().to_owned()).unwrap_or_default();
        failure(error, self.own.get(name).map_or(name, String::as_str), &source)
    }
}

/// The last lines of a document in which codes stand for characters, told so; nothing where none does.
fn told(stood_in: &BTreeSet<char>, words: &str) -> String {
    if stood_in.is_empty() {
        return String::new();
    }
    let codes: Vec<String> = stood_in.iter().map(|c| stand_in(*c)).collect();
    let words = format!("{}: {words}", codes.join(" "));
    let mut text = "\n#block(width: 100%, stroke: 0.5pt, inset: 2mm, above: 4mm, breakable: false, text(".to_owned();
    write_text(&mut text, &words).expect("writing to a string cannot fail");
    text.push_str("))\n");
    text
}

fn environment() -> Environment<'static> {
    let mut filled = Environment::new();
    filled.set_undefined_behavior(UndefinedBehavior::Strict);
    filled.set_debug(true);
    filled.set_auto_escape_callback(|_| minijinja::AutoEscape::None);
    filled.set_formatter(|out, _, value| match write_value(&mut Bounded::new(out, LONGEST_VALUE), value) {
        Err(error) if error.kind() == ErrorKind::WriteFailure => Err(Error::new(ErrorKind::OutOfFuel, NO_END)),
        other => other,
    });
    filled.set_fuel(Some(DOCUMENT_FUEL));
    filled.remove_global("namespace");
    filled.add_filter("markdown", |state: &State<'_, '_>, written: &Value| {
        from_markdown(state, written, &BTreeMap::new())
    });
    // No picture is at hand until it is handed in.
    filled.add_filter("picture", |_: String| None::<String>);
    filled
}

/// The filter `markdown`: a text of the builder, with the document's values, as Typst code.
fn from_markdown(state: &State<'_, '_>, written: &Value, pictures: &BTreeMap<String, usize>) -> Result<Value, Error> {
    if written.is_none() {
        return Ok(Value::from(()));
    }
    // A document without values: every name that a text uses is then an error of its own.
    let values = state.lookup("values").unwrap_or_default();
    let text =
        written.as_str().ok_or_else(|| Error::new(ErrorKind::InvalidOperation, "only a text can be Markdown"))?;
    let filled = text::fill(text, &values).map_err(|fault| {
        // A place that does not fit is told as the first line.
        let line = text.get(..fault.offset).unwrap_or_default().matches('\n').count() + 1;
        Error::new(ErrorKind::InvalidOperation, format!("in a step's text, line {line}: {}", fault.message))
    })?;
    Ok(Value::from_object(Code(markdown::to_typst(&filled, pictures))))
}

fn distance(one: &str, other: &str) -> usize {
    strsim::damerau_levenshtein(one, other)
}

fn is_library(name: &str) -> bool {
    Path::new(name).extension().is_some_and(|extension| extension == "typ")
}

/// Every template in a folder.
fn read_folder(folder: &Path) -> Result<Vec<OwnFile>, Failure> {
    let cannot = |path: &Path, error: &std::io::Error| {
        Failure::new(format!("the template {} cannot be read: {error}", path.display()))
    };
    let mut files = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(|error| cannot(folder, &error))? {
        let entry = entry.map_err(|error| cannot(folder, &error))?;
        let path = entry.path();
        let name = entry.file_name().to_string_lossy().into_owned();
        let ours = path.extension().is_some_and(|extension| extension == "j2" || extension == "typ");
        if !ours || path.is_dir() {
            continue;
        }
        let most = if is_library(&name) { LONGEST_LIBRARY } else { LONGEST_TEMPLATE };
        let text = disk::read_text(&path, most).map_err(|failure| cannot(&path, failure.cause()))?;
        files.push(OwnFile { path: path.display().to_string(), name, text });
    }
    files.sort();
    Ok(files)
}

/// The error that says where it went wrong: an included template's own error hides below the include.
fn innermost(error: &Error) -> &Error {
    let mut found = error;
    let mut source = std::error::Error::source(error);
    while let Some(inner) = source {
        if let Some(inner) = inner.downcast_ref::<Error>() {
            found = inner;
        }
        source = inner.source();
    }
    found
}

fn failure(error: &Error, name: &str, source: &str) -> Failure {
    let said = error.detail().map_or_else(|| error.kind().to_string(), str::to_owned);
    let range = error.range().map(|range| text::whole_expression(source, range));
    // Without a place the message has no name to quote.
    let written = range.clone().and_then(|range| source.get(range)).unwrap_or_default();
    let message = match error.kind() {
        ErrorKind::UndefinedError => format!("the template uses `{written}`, which does not exist here"),
        ErrorKind::TemplateNotFound => format!("the template includes one that does not exist: {said}"),
        ErrorKind::OutOfFuel => format!("the template cannot be filled in: {NO_END}"),
        ErrorKind::InvalidOperation if said.contains("recursion limit") => {
            "the templates include each other without end".to_owned()
        }
        _ => format!("the template cannot be filled in: {said}"),
    };
    match range {
        Some(range) => Failure::at(message, name, source, range),
        // An error of a whole template is told at its first line.
        None => Failure { message: format!("{message} ({name}, line {})", error.line().unwrap_or(1)), place: None },
    }
}
