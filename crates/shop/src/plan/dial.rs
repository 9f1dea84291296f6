//! Settings in the marks of one machine's own dials.

use geometry::quantity::System;
use geometry::{Angle, Length};

use crate::record::{Axis, Reads, SlideScale, SwivelScale};

/// A length or an angle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Quantity {
    /// A length.
    Length(Length),
    /// An angle.
    Angle(Angle),
}

/// What to set on one axis.
#[derive(Clone, Debug, PartialEq)]
pub struct DialMark {
    /// What people at the machine call the axis.
    pub axis: String,
    /// The reading to set, as that dial counts.
    pub reading: Quantity,
    /// The smallest step of that dial.
    pub finest: Quantity,
    /// Whether the dial counts on diameter.
    pub on_diameter: bool,
    /// Which way the reading grows, in the machine file's words.
    pub positive: String,
}

impl DialMark {
    /// The mark for a travel along a slide.
    pub(crate) fn slide(axis: &Axis, scale: &SlideScale, travel: Length) -> Self {
        Self {
            axis: axis.name().to_owned(),
            reading: Quantity::Length(scale.reading(travel)),
            finest: Quantity::Length(scale.finest()),
            on_diameter: scale.reads == Reads::Diameter,
            positive: axis.positive().to_owned(),
        }
    }

    /// The same dial at zero.
    pub(crate) fn at_zero(&self) -> Self {
        let reading = match self.reading {
            Quantity::Length(length) => Quantity::Length(length * 0.0),
            Quantity::Angle(angle) => Quantity::Angle(angle * 0.0),
        };
        Self { reading, ..self.clone() }
    }

    /// The mark for an angle on a swivel.
    pub(crate) fn swivel(axis: &Axis, scale: &SwivelScale, reading: Angle) -> Self {
        Self {
            axis: axis.name().to_owned(),
            reading: Quantity::Angle(reading),
            finest: Quantity::Angle(scale.finest()),
            on_diameter: false,
            positive: axis.positive().to_owned(),
        }
    }
}

/// The system in which a scale is divided: inch where its step is a whole number of ten-thousandths
/// or of sixty-fourths of an inch, else metric.
pub fn system_of(step: Length) -> System {
    let whole = |count: f64| (count - count.round()).abs() < 1e-3 && count.round() >= 1.0;
    if whole(step.inches() * 10_000.0) || whole(step.inches() * 64.0) {
        System::Inch
    } else {
        System::Millimetre
    }
}

/// A travel rounded to what a slide can be made to move.
pub(crate) fn snapped_travel(scale: &SlideScale, travel: Length) -> Length {
    scale.travel(scale.reading(travel).snapped_to(scale.finest()))
}

/// A travel rounded up to what a slide can be made to move.
pub(crate) fn snapped_up(scale: &SlideScale, travel: Length) -> Length {
    let finest = scale.finest_travel();
    finest * (travel / finest - 1e-6).ceil()
}
