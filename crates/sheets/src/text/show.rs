//! How figures are written on a sheet.

use geometry::quantity::System;
use geometry::{Angle, Length};
use shop::plan::{DialMark, Quantity, system_of};

/// The units of a sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Units {
    /// The system that comes first.
    pub system: System,
    /// Whether the other system stands beside it.
    pub both: bool,
}

impl Units {
    /// A length to the fourth decimal of an inch or the third of a millimetre.
    pub fn length(self, length: Length) -> String {
        if self.both {
            length.show_both(self.system).to_string()
        } else {
            length.show(self.system).to_string()
        }
    }

    /// A difference with its sign.
    pub fn signed(self, length: Length) -> String {
        let sign = if length < Length::ZERO { "−" } else { "+" };
        format!("{sign}{}", self.length(length.abs()))
    }

    /// A length that is only a guide, to the nearest thou or hundredth.
    pub fn rough(self, length: Length) -> String {
        let step = match self.system {
            System::Inch => Length::from_thou(1.0),
            System::Millimetre => Length::from_mm(0.01),
        };
        length.show_to(self.system, step).to_string()
    }

    /// A nominal size: as a fraction where it is one, and always in the system it is round in.
    pub fn nominal(self, length: Length) -> String {
        let whole_mm = (length.mm() - length.mm().round()).abs() < 1e-6;
        match length.show_fraction(64) {
            Some(fraction) => fraction.to_string(),
            None if whole_mm => {
                length.show_to(System::Millimetre, Length::from_mm(1.0)).to_string()
            }
            None => length.show(self.system).to_string(),
        }
    }

    /// An amount of either kind.
    pub fn amount(self, quantity: Quantity) -> String {
        match quantity {
            Quantity::Length(length) => self.length(length),
            Quantity::Angle(angle) => angle.show().to_string(),
        }
    }

    /// A tolerance, which needs no more than two figures.
    pub fn tolerance(self, quantity: Quantity) -> String {
        match quantity {
            Quantity::Length(length) if length < Length::from_thou(2.0) => self.length(length),
            Quantity::Length(length) => self.rough(length),
            Quantity::Angle(angle) if angle.degrees() < 0.2 => {
                angle.show_to(Angle::from_minutes(1.0)).to_string()
            }
            Quantity::Angle(angle) => angle.show_to(Angle::from_degrees(0.1)).to_string(),
        }
    }

    /// A speed of a surface.
    pub fn surface(self, m_per_s: f64) -> String {
        match self.system {
            System::Inch => format!("{:.0} sfm", m_per_s * 60.0 / 0.3048),
            System::Millimetre => format!("{m_per_s:.1} m/s"),
        }
    }
}

/// A dial's mark in the scale's own divisions.
pub fn reading(mark: &DialMark) -> String {
    match (mark.reading, mark.finest) {
        (Quantity::Length(length), Quantity::Length(step)) => {
            length.show_to(system_of(step), step).to_string()
        }
        (Quantity::Angle(angle), Quantity::Angle(step)) => angle.show_to(step).to_string(),
        (Quantity::Length(length), Quantity::Angle(_)) => {
            length.show(System::Millimetre).to_string()
        }
        (Quantity::Angle(angle), Quantity::Length(_)) => angle.show().to_string(),
    }
}

/// A source's id in brackets; common practice, which has none, goes without.
pub(super) fn source(id: &str) -> String {
    if id == COMMON_PRACTICE { String::new() } else { format!(" [{id}]") }
}

/// The id under which the tables file what is done in the trade without a source.
const COMMON_PRACTICE: &str = "common-practice";
