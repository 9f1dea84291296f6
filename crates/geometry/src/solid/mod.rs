//! Solids as meshes of triangles: a fluted body swept from its tooth's section along the helix, a
//! body of revolution, a block.
//!
//! Every mesh is closed: each edge is shared by exactly two triangles, and their corners run
//! counter-clockwise as seen from outside. No triangle stands farther from the true surface than
//! the chord error that was asked for, but where the docs of a solid say so.
//!
//! Coordinates are those of whoever looks at the machine from the shank of a right-hand cutter: x
//! from the cutter's axis toward the wheel, y up, z along the axis toward the shank. A left-hand
//! cutter is the mirror image ([`Mesh::mirrored`]).

mod block;
mod cap;
mod error;
mod fluted;
mod mesh;
mod plane;
mod revolution;
mod ring;
mod shade;
mod tooth;

pub use block::block;
pub use error::SolidError;
pub use fluted::Fluted;
pub use mesh::{Mesh, Surface};
pub use revolution::{revolution, wheel_half_section};
pub use shade::Shaded;
pub use tooth::ToothForm;
