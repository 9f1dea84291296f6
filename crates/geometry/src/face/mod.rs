//! The face of a tooth, ground by the flat side of a wheel that stands in the flute, and the form
//! relief on which its edge then lies.
//!
//! The tooth stands up: z from the cutter's axis through it, y heelward, t along the cutter toward
//! the tip. The wheel's flat side looks heelward; its rim comes down to the root of the flute.

mod behind;
mod setup;
mod spiral;
mod standing;

pub use setup::{FaceError, FaceSetup, FaceStance};
pub use spiral::FormRelief;
