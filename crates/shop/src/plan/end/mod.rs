//! The plan of the end: the end teeth squared, relieved, cornered and gashed where they must be.

mod ball;
mod corner;
mod expect;
mod gash;
mod grind;
mod lines;
mod order;
mod plan;
mod round;
mod round_lines;
mod secondary;
mod steps;
mod stock;
mod stroke;
mod swivels;
mod wanted;

pub use ball::{BallExpected, BallPlan, ball_bench_steps, plan_ball};
pub use corner::{ChamferGrind, CornerGrind};
pub use expect::{EndExpected, FeelerReading};
pub use gash::{GashGrind, GashPlan};
pub use grind::EndGrind;
pub use lines::{chamfer_setup, end_secondary_setup, end_setup, gash_setup};
pub use order::EndStep;
pub use plan::{EndPlan, EndWork, asks_for_end, plan_end};
pub use round::{RoundGrind, RoundPlace, RoundRelief, RoundSet};
pub use round_lines::{PivotReading, pivot_readings};
pub use secondary::EndSecondary;
pub use steps::{cuts_end, end_bench_steps, end_first_steps, is_end_step, without_finished_end};
pub(super) use stock::end_stock;
pub use stock::{CornerWear, EndStock};
pub use stroke::Stops;
pub use swivels::{Swung, SwungMark};
pub use wanted::{CornerWanted, EndWanted, GashWanted};
