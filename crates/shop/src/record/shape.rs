//! What form a wheel has and what holds its grains together.

use super::named::{Named, named};

/// The forms of wheel that a cutter grinder works with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WheelForm {
    /// Straight: grinds on its periphery.
    Straight,
    /// Straight cup: grinds on the rim's face.
    StraightCup,
    /// Flaring cup: grinds on the rim's face, its wall leaning outward.
    FlaringCup,
    /// Dish: grinds on a thin rim that reaches into flutes.
    Dish,
}

impl WheelForm {
    /// Whether the wheel grinds on the face of its rim; otherwise on its periphery.
    pub const fn grinds_on_face(self) -> bool {
        !matches!(self, Self::Straight)
    }

    /// Whether its wall leans, so that a wall angle says something.
    pub const fn has_leaning_wall(self) -> bool {
        matches!(self, Self::FlaringCup | Self::Dish)
    }

    /// The trade's word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Straight => "straight wheel",
            Self::StraightCup => "straight cup",
            Self::FlaringCup => "flaring cup",
            Self::Dish => "dish",
        }
    }
}

named! {
    /// The symbol a wheel's shape is marked with: a type number of ISO 525 for conventional
    /// abrasives, a shape symbol of ISO 6104 for diamond and CBN.
    WheelShape {
        /// Straight wheel, ISO 525.
        Type1 = "type 1",
        /// Straight cup, ISO 525.
        Type6 = "type 6",
        /// Flaring cup, ISO 525.
        Type11 = "type 11",
        /// Dish, ISO 525.
        Type12 = "type 12",
        /// Straight wheel, ISO 6104.
        Symbol1A1 = "1A1",
        /// Straight cup, ISO 6104.
        Symbol6A2 = "6A2",
        /// Flaring cup, ISO 6104.
        Symbol11V9 = "11V9",
        /// Dish grinding on the rim's face, ISO 6104.
        Symbol12A2 = "12A2",
        /// Dish grinding on a leaning rim, ISO 6104.
        Symbol12V9 = "12V9",
    }
}

impl WheelShape {
    /// The form behind the symbol.
    pub const fn form(self) -> WheelForm {
        match self {
            Self::Type1 | Self::Symbol1A1 => WheelForm::Straight,
            Self::Type6 | Self::Symbol6A2 => WheelForm::StraightCup,
            Self::Type11 | Self::Symbol11V9 => WheelForm::FlaringCup,
            Self::Type12 | Self::Symbol12A2 | Self::Symbol12V9 => WheelForm::Dish,
        }
    }

    /// Whether the symbol is one of ISO 6104, for diamond and CBN.
    pub const fn is_of_super_abrasive(self) -> bool {
        !matches!(self, Self::Type1 | Self::Type6 | Self::Type11 | Self::Type12)
    }

    /// Every symbol that marks wheels of this kind of abrasive.
    pub fn marking(super_abrasive: bool) -> impl Iterator<Item = Self> {
        let all = Self::ALL.iter().copied();
        all.filter(move |shape| shape.is_of_super_abrasive() == super_abrasive)
    }
}

named! {
    /// What holds the grains together.
    Bond {
        /// Resin, marked B.
        Resin = "resin",
        /// Glass, marked V.
        Vitrified = "vitrified",
        /// Sintered metal, marked M.
        Metal = "metal",
        /// One layer of grains in plated nickel.
        Electroplated = "electroplated",
    }
}

impl Bond {
    /// Whether only diamond and CBN are bonded so.
    pub const fn holds_super_abrasive_only(self) -> bool {
        matches!(self, Self::Metal | Self::Electroplated)
    }
}
