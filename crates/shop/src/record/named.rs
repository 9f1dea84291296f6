//! Choices with fixed names, so that files, sheets and forms all write them the same way.

use geometry::screw::Hand;
use geometry::wheel::FaceToward;
use trade::{Abrasive, ToolMaterial};

/// A closed choice whose members have one fixed name each.
pub trait Named: Copy + Sized + 'static {
    /// Every member, in the order in which lists show them.
    const ALL: &'static [Self];

    /// The name used in files and on sheets.
    fn name(self) -> &'static str;

    /// The member of that name, without regard to case or surrounding space.
    fn from_name(name: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|member| member.name().eq_ignore_ascii_case(name.trim()))
    }
}

/// Declares a choice together with the names of its members.
macro_rules! named {
    (
        $(#[$about:meta])*
        $kind:ident { $($(#[$note:meta])* $member:ident = $name:literal),+ $(,)? }
    ) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $kind {
            $($(#[$note])* $member),+
        }

        impl $kind {
            /// The name used in files and on sheets.
            pub const fn name(self) -> &'static str {
                match self {
                    $(Self::$member => $name),+
                }
            }
        }

        impl $crate::record::Named for $kind {
            const ALL: &'static [Self] = &[$(Self::$member),+];

            fn name(self) -> &'static str {
                self.name()
            }
        }

        impl std::fmt::Display for $kind {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.write_str(self.name())
            }
        }
    };
}

pub(crate) use named;

impl Named for ToolMaterial {
    const ALL: &'static [Self] = &Self::ALL;

    fn name(self) -> &'static str {
        self.name()
    }
}

impl Named for Abrasive {
    const ALL: &'static [Self] = &Self::ALL;

    fn name(self) -> &'static str {
        self.name()
    }
}

impl Named for Hand {
    const ALL: &'static [Self] = &Self::ALL;

    fn name(self) -> &'static str {
        self.name()
    }
}

impl Named for FaceToward {
    const ALL: &'static [Self] = &Self::ALL;

    fn name(self) -> &'static str {
        self.name()
    }
}
