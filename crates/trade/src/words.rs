//! The closed lists of words that tables use: steps of the job, kinds of work, how a source was
//! read. Each word is written in files exactly as it is shown.

/// Declares an enum whose variants have one written name each, read without regard to case.
macro_rules! named {
    (
        $(#[$about:meta])*
        pub enum $name:ident as $what:literal {
            $($(#[$one:meta])* $variant:ident = $text:literal,)+
        }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name {
            $($(#[$one])* $variant,)+
        }

        impl $name {
            /// Every one, in the order in which tables list them.
            pub const ALL: &'static [Self] = &[$(Self::$variant),+];

            /// The name used in files and on sheets.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $text,)+ }
            }

            /// The one of that name, without regard to case.
            pub fn from_name(name: &str) -> Option<Self> {
                let name = name.trim();
                Self::ALL.iter().copied().find(|one| one.name().eq_ignore_ascii_case(name))
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                out.write_str(self.name())
            }
        }

        impl $crate::cell::Cell for $name {
            fn from_text(text: &str) -> Result<Self, $crate::fault::Fault> {
                use $crate::fault::Fault;
                let names = Self::ALL.iter().map(|one| one.name());
                Self::from_name(text).ok_or_else(|| Fault::unknown($what, text, names))
            }
        }
    };
}
pub(crate) use named;

named! {
    /// How a source was read.
    pub enum HowRead as "manner of reading" {
        /// Its words or numbers were seen in a stored copy, or are the shop's own.
        Read = "read",
        /// Recalled, not seen.
        Memory = "memory",
        /// Computed from stated geometry.
        Derived = "derived",
        /// Done in the trade; no source at hand.
        CommonPractice = "common practice",
    }
}

named! {
    /// What the cutter cuts, as far as the sources tell it apart.
    pub enum WorkGroup as "work group" {
        /// Anything: the general row.
        Any = "any work",
        /// Hard or brittle work.
        HardOrBrittle = "hard or brittle",
        /// Soft work.
        Soft = "soft",
        /// Stainless steel.
        Stainless = "stainless",
        /// Aluminium, which the source names as its example of soft work.
        Aluminium = "aluminium",
    }
}

named! {
    /// Whether the wheel runs with coolant.
    pub enum Coolant as "coolant" {
        /// With coolant.
        Wet = "wet",
        /// Without.
        Dry = "dry",
    }
}

named! {
    /// A step of the job, in its order.
    pub enum Step as "step" {
        /// The cutter comes in and is looked at.
        Arrive = "arrive",
        /// A wheel is chosen and mounted.
        Wheel = "wheel",
        /// The wheel is trued and dressed.
        True = "true",
        /// The machine is set up.
        SetUp = "set up",
        /// The cutter is ground.
        Grind = "grind",
        /// The cutter is checked.
        Check = "check",
        /// The cutter is handed back.
        HandBack = "hand back",
    }
}

named! {
    /// The body of a wheel, told apart by where it grinds.
    pub enum WheelBody as "wheel body" {
        /// Grinds on its face.
        Cup = "cup",
        /// Grinds on its periphery.
        Disc = "disc",
    }
}

named! {
    /// The part of a wheel that does the grinding.
    pub enum GrindsOn as "part of a wheel" {
        /// The flat of the rim, square to the axis.
        RimFace = "rim face",
        /// The periphery.
        Periphery = "periphery",
        /// A narrow face at the outer corner of the rim.
        RimCorner = "rim corner",
    }
}

named! {
    /// The two families of wheel, which are trued and dressed differently.
    pub enum WheelFamily as "wheel family" {
        /// Aluminium oxide or silicon carbide.
        Conventional = "conventional",
        /// Diamond or CBN.
        Superabrasive = "superabrasive",
    }
}
