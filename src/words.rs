//! The closed word lists, each an enum with the word that the builder writes, and the names of packets and items.
//!
//! A word is added here and nowhere else: reading, the format page, the archive and the paper all ask these lists. It
//! holds no list that the builder can make longer.

mod name;
mod record;

pub use name::{ItemName, PacketName, other_joint};
pub use record::{Capacity, Class, Disposition, Stops};

/// A value of a closed list, with the word for it.
pub trait Word: Copy + 'static {
    /// Every word, in the order of its list.
    const WORDS: &'static [&'static str];

    /// The value of a word.
    fn parse(word: &str) -> Option<Self>;

    /// The word as it is written.
    fn word(self) -> &'static str;
}

/// Makes the enum of a closed list: each value with its sentence and its word.
macro_rules! words {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $variant:ident = $word:literal,)+ }) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$doc])* $variant,)+ }

        impl $name {
            /// Every value, in the order of the list.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];
            /// Every word, in the same order.
            pub const WORDS: &'static [&'static str] = &[$($word,)+];

            /// The word as it is written.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)+ }
            }

            /// The value of a word.
            #[must_use]
            pub fn parse(word: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|value| value.word() == word)
            }
        }

        impl $crate::words::Word for $name {
            const WORDS: &'static [&'static str] = Self::WORDS;
            fn parse(word: &str) -> Option<Self> {
                Self::parse(word)
            }
            fn word(self) -> &'static str {
                self.word()
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
                to.serialize_str(self.word())
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
                let word = <String as serde::Deserialize>::deserialize(from)?;
                let unknown = || serde::de::Error::custom(format!("`{word}` is none of {:?}", Self::WORDS));
                Self::parse(&word).ok_or_else(unknown)
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.word())
            }
        }
    };
}

pub(crate) use words;

words! {
    /// What a step does.
    StepKind {
        /// Verify documents, parts and tools.
        Prepare = "prepare",
        /// Mark out.
        LayOut = "lay-out",
        /// Cut to the line.
        Trim = "trim",
        /// Bend, flange, joggle or dish.
        Form = "form",
        /// Drill, also match-drill and open up.
        Drill = "drill",
        /// Ream to size.
        Ream = "ream",
        /// Countersink by cutting.
        Countersink = "countersink",
        /// Dimple by forming.
        Dimple = "dimple",
        /// Take the burr off edges and holes.
        Deburr = "deburr",
        /// Smooth and polish edges and scratches.
        Dress = "dress",
        /// Harden, age or anneal.
        HeatTreat = "heat-treat",
        /// Degrease, etch, convert.
        Clean = "clean",
        /// Prime.
        Prime = "prime",
        /// Paint.
        Paint = "paint",
        /// Put together without final fasteners.
        Fit = "fit",
        /// Press, shrink or freeze one part into another.
        PressFit = "press-fit",
        /// Take apart.
        TakeApart = "take-apart",
        /// Drive or pull rivets.
        Rivet = "rivet",
        /// Fit bolts, screws and nuts for good.
        Bolt = "bolt",
        /// Torque and safety.
        Torque = "torque",
        /// Bond with adhesive.
        Bond = "bond",
        /// Seal.
        Seal = "seal",
        /// Put equipment, cables, hoses and instruments in.
        Install = "install",
        /// Connect wires, lines, hoses or controls.
        Connect = "connect",
        /// Rig and adjust.
        Rig = "rig",
        /// Level and align.
        Level = "level",
        /// Measure and record.
        Measure = "measure",
        /// Test for leaks or for function, and record.
        Test = "test",
        /// Look and record.
        Inspect = "inspect",
        /// Photograph.
        Photograph = "photograph",
        /// Close a space.
        Close = "close",
    }
}

impl StepKind {
    /// Whether the step makes or enlarges holes.
    #[must_use]
    pub const fn makes_holes(self) -> bool {
        matches!(self, Self::Drill | Self::Ream)
    }

    /// Whether the step puts the final fasteners in.
    #[must_use]
    pub const fn fastens(self) -> bool {
        matches!(self, Self::Rivet | Self::Bolt)
    }
}

words! {
    /// The signal words of ANSI Z535, heaviest first.
    SignalWord {
        /// Will kill or injure badly.
        Danger = "DANGER",
        /// Could kill or injure badly.
        Warning = "WARNING",
        /// Could injure lightly.
        Caution = "CAUTION",
        /// Damages the work, hurts nobody.
        Notice = "NOTICE",
    }
}

words! {
    /// Which side of the aircraft.
    Hand {
        /// Left.
        Left = "left",
        /// Right.
        Right = "right",
    }
}

words! {
    /// What a role may do.
    May {
        /// Sign work as done.
        Do = "do",
        /// Look at work: sign a hold, a witness point, a stage.
        Look = "look",
        /// Give advice, which binds nobody.
        Advise = "advise",
        /// Sign a stage that releases a space or a traveler, with an outcome in the builder's own words.
        Release = "release",
    }
}

words! {
    /// What is done to one layer around the hole.
    Preparation {
        /// Nothing but deburring.
        Plain = "plain",
        /// Formed.
        Dimple = "dimple",
        /// Cut.
        Countersink = "countersink",
        /// Cut from both sides, for a dimple on each.
        CountersinkBoth = "countersink both sides",
    }
}

impl Preparation {
    /// Whether it is cut, from one side or from both.
    #[must_use]
    pub const fn is_cut(self) -> bool {
        matches!(self, Self::Countersink | Self::CountersinkBoth)
    }
}

/// The word for a layer that is delivered without holes.
pub const UNDRILLED: &str = "undrilled";

words! {
    /// What holds a part that turns, so that neither bolt nor nut turns with it.
    Clamped {
        /// The inner race of a bearing, as in a pulley or a rod end.
        InnerRace = "inner race",
        /// A bushing longer than the part is thick.
        Bushing = "bushing",
    }
}

words! {
    /// What a reading measures, where more than its own limits depends on it.
    Measures {
        /// Width of the smallest shop head.
        HeadWidth = "shop head width",
        /// Height of the smallest shop head.
        HeadHeight = "shop head height",
        /// Run-down drag of a self-locking nut.
        Drag = "drag",
        /// Torque without the drag.
        Torque = "torque",
        /// Pressure of a test, where its unit does not say so.
        Pressure = "pressure",
        /// Time between two readings or under a heat, likewise.
        Time = "time",
        /// Temperature, likewise.
        Temperature = "temperature",
    }
}

words! {
    /// What a space holds.
    Holds {
        /// Fuel: a wet tank.
        Fuel = "fuel",
    }
}

words! {
    /// Where the steps of a traveler come from.
    Steps {
        /// They follow from parts and joints.
        Usual = "usual",
        /// They are written.
        Written = "written",
    }
}

words! {
    /// How the hands of a traveler share packets.
    Packets {
        /// Each hand has its own.
        OneHand = "one hand",
        /// One packet has the boxes of both.
        BothHands = "both hands",
    }
}

words! {
    /// How a bend line runs to the rolling direction of the sheet.
    Grain {
        /// Parallel to it.
        Along = "along",
        /// At right angles to it.
        Across = "across",
    }
}

words! {
    /// Whether a torque holds the drag of the nut.
    Drag {
        /// It is in the range.
        Included = "included",
        /// It is added at the wrench, as with the table.
        Added = "added",
    }
}

words! {
    /// How much rests on the joint.
    Structure {
        /// Its failure endangers the aircraft.
        Primary = "primary",
        /// It carries load, but its failure does not endanger the aircraft.
        Secondary = "secondary",
        /// It carries none.
        Nothing = "none",
    }
}

words! {
    /// A direction on the aircraft, the same on either hand.
    Direction {
        /// Upwards.
        Up = "up",
        /// Downwards.
        Down = "down",
        /// Towards the nose.
        Forward = "forward",
        /// Towards the tail.
        Aft = "aft",
        /// Towards the aircraft's middle.
        Inboard = "inboard",
        /// Away from the aircraft's middle.
        Outboard = "outboard",
    }
}

impl Direction {
    /// Whether another direction runs along the same line.
    #[must_use]
    pub const fn runs_with(self, other: Self) -> bool {
        (self as u8) / 2 == (other as u8) / 2
    }
}

words! {
    /// From where the fastener can be reached.
    Access {
        /// A tool on each side.
        BothSides = "both sides",
        /// A tool on the head side only.
        OneSide = "one side",
    }
}

words! {
    /// What a kit-supplied fastener is.
    FastenerKind {
        /// Driven against a bar.
        SolidRivet = "solid-rivet",
        /// Pulled from one side.
        BlindRivet = "blind-rivet",
        /// Bolt.
        Bolt = "bolt",
        /// Screw.
        Screw = "screw",
        /// Nut.
        Nut = "nut",
        /// Washer.
        Washer = "washer",
        /// Nutplate.
        Nutplate = "nutplate",
        /// Cotter pin.
        CotterPin = "cotter-pin",
    }
}

words! {
    /// How the threads are for which a torque is.
    Lubrication {
        /// Without oil, grease or paste.
        Dry = "dry",
        /// With any of them.
        Lubricated = "lubricated",
    }
}

words! {
    /// For what nut a torque is.
    TorqueNut {
        /// Plain, of full height.
        Plain = "plain",
        /// Self-locking, of full height; nutplates too.
        SelfLocking = "self-locking",
        /// With slots for a cotter pin.
        Castle = "castle",
        /// Thin: of the shear column.
        Thin = "thin",
    }
}

words! {
    /// Head form of a kit-supplied fastener.
    HeadForm {
        /// Stands proud of the sheet.
        Protruding = "protruding",
        /// Lies in a countersink or dimple.
        Flush = "flush",
    }
}

words! {
    /// What a step waits for that only a person can bring.
    WaitFor {
        /// An answer to a question or a discrepancy.
        Answer = "answer",
        /// A helper, a counselor, an inspector.
        Person = "person",
        /// A part, hardware or a tool.
        Part = "part",
        /// A decision of the builder's own.
        Decision = "decision",
        /// Anything else: weather, room, mood.
        Other = "other",
    }
}

words! {
    /// Paper size.
    Paper {
        /// 8.5 x 11 in.
        UsLetter = "us-letter",
        /// 210 x 297 mm.
        A4 = "a4",
    }
}

/// What a box holds where there was nothing to measure.
pub const NOT_APPLICABLE: &str = "N/A";
