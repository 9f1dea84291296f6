//! Wheels as solids of revolution, and where they stand.

mod corner;
mod distance;
mod pose;
mod profile;
mod shape;

pub use corner::Corner;
pub use pose::{FaceToward, Pose};
pub use profile::{Element, ElementShape, Part, Profile, ProfileError, ProfilePoint, Vertex};
pub use shape::{CupShape, DiscShape, WheelBody, WheelKind};
