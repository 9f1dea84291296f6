//! A machine as a chain of swivels and slides, forward and backward.
//!
//! A [`Linkage`] holds the joints that carry the wheel and those that carry the cutter, each from
//! the floor outward, in the machine's frame: X along the table's travel, Y from the cutter toward
//! the wheel, Z up. Every joint is told as it lies when all joints stand at 0. [`Settings`] say
//! where each joint stands; [`Linkage::placement`] says where that puts wheel and cutter, and
//! [`Linkage::relative`] one in the frame of the other.
//!
//! Backward, a [`Relation`] says what is wanted, such as a plane of the cutter lying in the wheel's
//! face, and [`Linkage::solve`] finds every setting of the free swivels that gives it, each with
//! how well conditioned it is. Where one to three swivels decide, that is a closed form; elsewhere
//! it is a search from many starts.
//!
//! Each body has a frame of its own. The wheel's z points out of its face, away from the spindle.
//! The cutter's z points toward its shank.
//!
//! ```
//! use geometry::Angle;
//! use geometry::chain::{Direction, Joint, Linkage, Relation, Side};
//!
//! // A cup faces a work head that swings about an upright axis and tips about a level one.
//! let joints = vec![
//!     Joint::swivel(Side::Cutter, Direction::UP),
//!     Joint::swivel(Side::Cutter, -Direction::ALONG),
//! ];
//! let linkage = Linkage::facing(joints);
//! // The end of the cutter is to lie in the wheel's face, lower at the back by 2 degrees.
//! let relief = Angle::from_degrees(2.0);
//! let normal = Direction::new(0.0, relief.sin(), -relief.cos()).unwrap();
//! let found = linkage.solve(&[Relation::plane_in_face(normal)], &[0, 1], &linkage.home())?;
//! assert!(!found.is_empty());
//! # Ok::<(), geometry::chain::ChainError>(())
//! ```

mod closed;
mod direction;
mod error;
mod inverse;
mod joint;
mod linkage;
mod path;
mod placement;
mod problem;
mod refine;
mod relation;
mod walk;

pub use direction::Direction;
pub use error::ChainError;
pub use inverse::{FREE_MAX, Solution};
pub use joint::{Joint, JointKind, Settings, Side};
pub use linkage::Linkage;
pub use placement::Placement;
pub use relation::{Arrow, Body, Relation, Sense};
