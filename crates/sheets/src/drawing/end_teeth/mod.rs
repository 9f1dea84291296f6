//! The end of a cutter: its teeth as the wheel sees them, and one of them in section.

mod face;
mod section;

pub use face::end_face;
pub use section::end_section;
