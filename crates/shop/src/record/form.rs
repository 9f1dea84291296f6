//! The form of a cutter: its hands, its end and its teeth's profile.

use geometry::Length;
pub use geometry::screw::Hand;

use super::named::named;

/// The form of the cutter's end, where the flutes meet the end face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum EndForm {
    /// A sharp corner.
    Square,
    /// A corner rounded to this radius.
    CornerRadius(Length),
    /// A full half sphere.
    Ball,
}

impl EndForm {
    /// The name used in files and on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::CornerRadius(_) => "corner radius",
            Self::Ball => "ball",
        }
    }
}

named! {
    /// How the teeth are shaped along the flute, which decides where they may be ground.
    Profile {
        /// A plain edge, sharpened on its relief.
        Plain = "plain",
        /// A wavy or interrupted edge, sharpened on its rake face so that the waves stay.
        Rougher = "rougher",
        /// A form carried round by the relief, sharpened on its rake face only.
        FormRelieved = "form relieved",
    }
}
