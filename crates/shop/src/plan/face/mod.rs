//! The plan of a regrind on the face: roughers and form-relieved cutters keep their form only if
//! every tooth loses the same angle off its face.

mod grind;
mod lines;

pub(super) use grind::face_stock;
pub use grind::{FaceExpected, FaceGrind, FacePass, FacePlan, FaceStock, asks_for_face, plan_face};
pub use lines::face_setup;
