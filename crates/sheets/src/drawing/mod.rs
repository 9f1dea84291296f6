//! The drawings of a plan, each a scene on a sheet of its own.
//!
//! They are drawn from the surfaces that the plan has computed, to the scale that they state, and
//! in the machine's frame: Y runs from the cutter toward the wheel and Z up, so that both are seen
//! from the end toward which +X runs, the shank of a right-hand cutter or the tip of a left-hand
//! one.

mod axes;
mod check;
mod end_view;
mod figure;
mod frame;
pub(crate) mod profile;
mod run;
mod tooth;

pub use check::{before_after, land_ring, residuals};
pub use end_view::end_view;
pub use run::drop_run;
pub use tooth::tooth_section;
