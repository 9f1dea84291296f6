//! The mathematics of grinding a tooth on a rest: quantities, screw motion, wheel bodies, the
//! ground section and its inverse. No trade names, files, clock or printing live here.

pub mod chain;
pub mod clearance;
pub mod closed_form;
pub mod cone;
pub mod end;
pub mod face;
pub mod fit;
pub mod outline;
pub mod quantity;
pub mod sampling;
pub mod screw;
mod search;
pub mod section;
pub mod solid;
pub mod solve;
pub mod wheel;

pub use quantity::{Angle, Length, QuantityError, ShownAngle, ShownLength, System};
