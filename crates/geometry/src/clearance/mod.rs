//! What else the wheel comes near while a tooth rides over its rest: the other teeth, the shank,
//! the work head, the finger of the rest, and the cutter under the far side of a cup's rim.
//!
//! The tooth's screw carries every edge along itself. Seen from the wheel, which stands still, the
//! helices of the edges are therefore fixed lines in space, and the table only decides how much of
//! each there is; shank and head are round, and the table only moves where they begin. So nothing
//! has to be stepped along the travel: the bodies that the whole travel sweeps are known as they
//! are, and a [`Passage`] finds where each comes nearest to the whole body of the wheel.

mod body;
mod finger;
mod passage;
mod round;
mod teeth;

pub use body::WheelBack;
pub use finger::Finger;
pub use passage::{Begin, Nearest, Passage, Travel};
pub use round::Round;
