//! How a kind of entry is defined: its lines in their order, how often each stands, what it says.
//!
//! The kinds themselves stand in `entry`, which these macros read.

/// How often a line stands in an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Often {
    /// Always once.
    One,
    /// Once or not at all.
    Maybe,
    /// Any number of times.
    Many,
}

/// A line of a kind of entry.
#[derive(Debug, Clone, Copy)]
pub struct LineForm {
    /// Its key.
    pub key: &'static str,
    /// How often.
    pub often: Often,
    /// What its value looks like.
    pub form: fn() -> String,
    /// What it says.
    pub about: &'static str,
}

/// A kind of entry.
#[derive(Debug, Clone, Copy)]
pub struct KindForm {
    /// The word after `kind:`.
    pub word: &'static str,
    /// What it says.
    pub about: &'static str,
    /// Its lines in order.
    pub lines: &'static [LineForm],
}

macro_rules! slot {
    (one $type:ty) => { $type };
    (maybe $type:ty) => { Option<$type> };
    (many $type:ty) => { Vec<$type> };
}

macro_rules! often {
    (one) => {
        Often::One
    };
    (maybe) => {
        Often::Maybe
    };
    (many) => {
        Often::Many
    };
}

// What the page in every archive calls the form of a line; it stands fast where a type has become narrower since.
macro_rules! form_of {
    ($type:ty) => {
        <$type as Value>::form()
    };
    ($type:ty as $form:literal) => {
        $form.to_owned()
    };
}

macro_rules! entries {
    ($(#[doc = $about:literal] $name:ident = $word:literal { $(#[doc = $line:literal] $field:ident $key:literal: $often:ident $type:ty $(as $form:literal)?,)* })+) => {
        $(
            #[doc = $about]
            #[derive(Debug, Clone, PartialEq, Eq)]
            pub struct $name { $(#[doc = $line] pub $field: slot!($often $type),)* }

            impl $name {
                fn write(&self, lines: &mut Lines) {
                    $(lines.$often($key, &self.$field);)*
                }

                fn read(lines: &mut Reader<'_>) -> Result<Self, TextFault> {
                    Ok(Self { $($field: lines.$often($key)?,)* })
                }
            }

            impl From<$name> for Entry {
                fn from(entry: $name) -> Self {
                    Self::$name(Box::new(entry))
                }
            }
        )+

        /// What one record says.
        #[derive(Debug, Clone, PartialEq, Eq)]
        pub enum Entry { $(#[doc = $about] $name(Box<$name>),)+ }

        /// Every kind, in the order of the page that explains the archive.
        pub const KINDS: &[KindForm] = &[$(KindForm {
            word: $word,
            about: $about,
            lines: &[$(LineForm { key: $key, often: often!($often), form: || form_of!($type $(as $form)?), about: $line },)*],
        },)+];

        impl Entry {
            /// The word after `kind:`.
            #[must_use]
            pub const fn kind(&self) -> &'static str {
                match self { $(Self::$name(_) => $word,)+ }
            }

            pub(super) fn write(&self, lines: &mut Lines) {
                match self { $(Self::$name(entry) => entry.write(lines),)+ }
            }

            pub(super) fn read(kind: &str, lines: &mut Reader<'_>) -> Result<Self, TextFault> {
                match kind {
                    $($word => Ok(Self::$name(Box::new($name::read(lines)?))),)+
                    other => Err(lines.fault(format!("there is no kind of entry `{}`", other.escape_debug()))),
                }
            }
        }
    };
}
