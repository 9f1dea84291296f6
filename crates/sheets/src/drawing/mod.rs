//! Drawings, each a scene on a sheet of its own.
//!
//! Those of a plan are drawn from the surfaces that it has computed, to the scale that they state,
//! and in the machine's frame: Y runs from the cutter toward the wheel and Z up, so that both are
//! seen from the end toward which +X runs, the shank of a right-hand cutter or the tip of a
//! left-hand one. Those of a check show the cutter from its tip, and so do those of a cutter by
//! itself, which is also shown from its side with its tip on the left.

mod axes;
mod check;
mod cutter;
mod day;
mod dial;
mod end_teeth;
mod end_view;
mod figure;
mod frame;
mod leaf;
mod life;
pub(crate) mod profile;
mod run;
mod study;
mod tag;
mod tooth;
mod wheel;

pub use check::{before_after, land_ring, residuals};
pub use cutter::cutter_view;
pub use day::{Day, DayCutter, DayStep, DayStepKind, day_view};
pub use dial::dial_view;
pub use end_teeth::{end_face, end_section};
pub use end_view::end_view;
pub use life::{GroundTo, Life, life_scale};
pub use run::drop_run;
pub use study::{causes_view, spread_view};
pub use tag::{Tag, TagRadius, tag_view};
pub use tooth::{tooth_section, tooth_small};
pub use wheel::wheel_view;
