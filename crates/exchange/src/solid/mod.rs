//! Solids as files for other programs: STL and GLB.

mod glb;
mod stl;

use geometry::solid::Shaded;

pub use glb::solid_glb;
pub use stl::solid_stl;

/// A part of a solid.
#[derive(Clone, Debug, PartialEq)]
pub struct SolidPart<'a> {
    /// The word for it.
    pub name: &'static str,
    /// Its corners and triangles, in millimetres.
    pub shaded: &'a Shaded,
}

/// A solid in parts that together are closed.
#[derive(Clone, Debug, PartialEq)]
pub struct Solid<'a> {
    /// What it is, in words.
    pub title: String,
    /// How far facets may stand off the true surfaces, in millimetres.
    pub chord_error_mm: f64,
    /// The parts.
    pub parts: Vec<SolidPart<'a>>,
}
