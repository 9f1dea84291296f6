//! What happens to a wheel.

use geometry::Length;

use crate::book::id::Id;
use crate::record::Wheel;

/// The wheel is entered in the book, with its marked speed.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelEntered {
    /// The record.
    pub wheel: Wheel,
    /// What else is marked on it, line by line.
    pub marks: Vec<String>,
}

/// A wheel's size as it was measured; what was not measured is left out.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WheelSize {
    /// Diameter over the rim that grinds.
    pub diameter: Option<Length>,
    /// Width of the face that grinds.
    pub face_width: Option<Length>,
    /// Radius that wear has left on the leading corner.
    pub corner_radius: Option<Length>,
    /// Height of a cup or dish over all, which its face loses as it wears; thickness of a straight
    /// wheel.
    pub depth: Option<Length>,
}

/// It was trued or dressed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Dressed {
    /// Its size afterwards.
    pub size: WheelSize,
    /// How much was taken off the face or the radius.
    pub taken: Option<Length>,
    /// With what and how, in words.
    pub words: String,
}

/// It was measured.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Measured {
    /// Its size.
    pub size: WheelSize,
}

/// It was looked at. What was found says nothing about what was not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Inspected {
    /// Whether it was looked at by eye.
    pub looked: bool,
    /// Whether it was rung.
    pub rung: bool,
    /// What was seen and heard.
    pub words: String,
}

/// It was put on a spindle.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Mounted {
    /// Of which machine.
    pub machine: Option<Id>,
}
