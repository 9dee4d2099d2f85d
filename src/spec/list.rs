//! The frame of the file format: a table of it is one `section!`, a key is one line of that.
//!
//! A line says the field, the key as written, whether it must be there, the form of its value, and what a change of it
//! means to work that is signed; the comment above it is the sentence of the format page. The structure, its reader,
//! the page and the schema follow. What a form looks like is said in `form`; nothing is judged here.
//!
//!     /// Fasteners per hand.
//!     count "count": need Count<1> => work,
//!
//! `need` must be there, or the entry is left out; `want` must be there, and the entry goes on without it; `may` can be
//! absent; `any` is empty where it is absent; `own` has what its form says where it is absent, and must be right where it is
//! there; `or`, with `= value` behind the form, is that value where it is absent. A key that had another name has it in front of
//! the colon, as `spaces "spaces" was "zones": ...`; it is refused with the new one named. One that is read under a second name
//! as well has that behind `also`.

macro_rules! slot {
    (need $form:ty) => { <$form as $crate::spec::read::Reads>::Value };
    (any $form:ty) => { <$form as $crate::spec::read::Reads>::Value };
    (own $form:ty) => { <$form as $crate::spec::read::Reads>::Value };
    (or $form:ty) => { <$form as $crate::spec::read::Reads>::Value };
    (want $form:ty) => { Option<<$form as $crate::spec::read::Reads>::Value> };
    (may $form:ty) => { Option<<$form as $crate::spec::read::Reads>::Value> };
}

macro_rules! fetch {
    ($table:ident, $key:literal, or $form:ty = $default:expr) => {
        Some($table.or::<$form, _>($key, $default))
    };
    ($table:ident, $key:literal, want $form:ty) => {
        Some($table.may::<$form>($key))
    };
    ($table:ident, $key:literal, may $form:ty) => {
        Some($table.may::<$form>($key))
    };
    ($table:ident, $key:literal, $need:ident $form:ty) => {
        $table.$need::<$form>($key)
    };
}

macro_rules! required {
    (need) => {
        true
    };
    (want) => {
        true
    };
    ($need:ident) => {
        false
    };
}

macro_rules! change {
    (work) => {
        Change::Work
    };
    (wording) => {
        Change::Wording
    };
    (reread) => {
        Change::ReadAgain
    };
    (apart) => {
        Change::Apart
    };
}

macro_rules! earlier {
    () => {
        None
    };
    ($was:literal) => {
        Some($was)
    };
}

macro_rules! section {
    ($($(#[doc = $about:literal])+ $name:ident = $word:literal $(checked by $check:path)? {
        $($(#[doc = $line:literal])+ $field:ident $key:literal $(was $was:literal)? $(also $also:literal)?: $need:ident $form:ty $(= $default:expr)? => $change:ident,)+
    })+) => {
        use $crate::spec::list::{change, earlier, fetch, required, slot};
        use $crate::spec::section::{Change, Key, Section};
        $(
            $(#[doc = $about])+
            #[derive(Debug, Clone)]
            pub struct $name {
                /// The whole table.
                pub span: $crate::text::Span,
                $($(#[doc = $line])+ pub $field: slot!($need $form),)+
            }

            impl $crate::spec::read::Entry for $name {
                const SECTION: &'static Section = &Section {
                    name: $word,
                    about: &[$($about),+],
                    keys: &[$(Key {
                        name: $key,
                        was: earlier!($($was)?),
                        also: earlier!($($also)?),
                        form: <$form as $crate::spec::read::Reads>::FORM,
                        required: required!($need),
                        change: change!($change),
                        about: &[$($line),+],
                    },)+],
                };

                fn read(table: &mut $crate::spec::read::Table<'_, '_>) -> Option<Self> {
                    $(let $field = fetch!(table, $key, $need $form $(= $default)?);)+
                    let entry = Self { span: table.span(), $($field: $field?,)+ };
                    $($check(&entry, table.reading);)?
                    Some(entry)
                }
            }
        )+
    };
}

pub(super) use {change, earlier, fetch, required, section, slot};
