//! Which setting matters: how the finished tooth spreads when every setting is off by as much as a
//! hand is ordinarily off, what causes the spread, and how loosely each setting may be set.

mod causes;
mod design;
mod habit;
mod loosest;
mod model;
mod outcome;
mod regrind;
mod spread;

pub use causes::{Cause, Causes};
pub use habit::{Habit, Habits, Scatter};
pub use loosest::{Allowance, Closer, HELD, Widest};
pub use outcome::{Danger, Measure, Wanted};
pub use regrind::{SAMPLES_MAX, SAMPLES_MIN, Study, StudyProgress, StudyRegrind, study_regrind};
pub use spread::{BINS, Endangered, Spread};
