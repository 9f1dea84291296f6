//! The end of a cutter: what a wheel leaves that is led along the table's travel past a tooth that
//! stands still.
//!
//! A tooth has a frame of its own: x from the cutter's axis outward, y heelward, z toward the
//! shank, with its origin on the axis at the height of the corner. A left-hand cutter is the mirror
//! image, so that heelward is +y on it too. In that frame the edge runs from the corner toward the
//! centre and sinks by the dish; the primary falls away heelward by the relief. An [`EndPlane`]
//! says both, and [`WorkAngles`] how a work head must be swung and tilted for it.
//!
//! The wheel is a solid of revolution, swept along a line. Its sweep is a cylinder along the
//! travel, and its section square to the travel is the ground section of a straight tooth, so
//! [`EndSetup`] asks the kernel of [`crate::section`] for it and an [`EndSection`] tells relief and
//! land by it. Where the stroke ends and what else the wheel meets there, [`EndStroke`] knows.
//!
//! A rounded corner swings about an upright pivot in front of the wheel: [`RoundSetup`] says how
//! both stand, and a [`RoundCut`] what is then left of the tooth, place by place round the corner.

mod corner;
mod error;
mod gash;
mod plane;
mod reach;
mod round;
mod round_cut;
mod section;
mod setup;
mod stroke;
mod teeth;
mod work;

pub use corner::{Chamfer, RoundBefore, RoundCorner};
pub use error::EndError;
pub use gash::{Gash, GashShape};
pub use plane::EndPlane;
pub use reach::Reach;
pub use round::{RoundBy, RoundEdge, RoundHold, RoundPivot, RoundSetup, RoundStance};
pub use round_cut::RoundCut;
pub use section::EndSection;
pub use setup::{EndSetup, EndStance};
pub use stroke::EndStroke;
pub use teeth::{EndTeeth, EndTeethShape};
pub use work::WorkAngles;
