//! The parts of a model.

use geometry::Angle;
use geometry::solid::{Mesh, Shaded, Surface};

/// What a part is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PartName {
    /// The primary land of every tooth.
    Primary,
    /// The backs of the teeth behind it, with the secondary.
    Secondary,
    /// The gullets and faces.
    Flutes,
    /// The body between flutes and shank.
    Body,
    /// The shank.
    Shank,
    /// The end.
    End,
    /// The wheel.
    Wheel,
    /// The finger of the tooth rest.
    Rest,
}

/// One part, with what a screen needs to draw it.
#[derive(Clone, Debug, PartialEq)]
pub struct ModelPart {
    /// What it is.
    pub name: PartName,
    /// Its corners and triangles, in millimetres.
    pub shaded: Shaded,
}

impl PartName {
    /// Every part.
    pub const ALL: [Self; 8] = [
        Self::Primary,
        Self::Secondary,
        Self::Flutes,
        Self::Body,
        Self::Shank,
        Self::End,
        Self::Wheel,
        Self::Rest,
    ];

    /// The part of a cutter that a surface is.
    pub(super) const fn of_cutter(surface: Surface) -> Self {
        match surface {
            Surface::Land => Self::Primary,
            Surface::Back => Self::Secondary,
            Surface::Flute => Self::Flutes,
            Surface::Runout | Surface::Whole => Self::Body,
            Surface::Shank => Self::Shank,
            Surface::End => Self::End,
        }
    }

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Primary => "primary",
            Self::Secondary => "secondary",
            Self::Flutes => "flutes",
            Self::Body => "body",
            Self::Shank => "shank",
            Self::End => "end",
            Self::Wheel => "wheel",
            Self::Rest => "rest",
        }
    }
}

/// Facets that meet at more than this meet in an edge.
const CREASE_DEG: f64 = 30.0;

/// The surfaces of a mesh as parts.
pub(super) fn parts_of(
    mesh: Mesh,
    name: impl Fn(Surface) -> PartName,
    is_mirrored: bool,
) -> Vec<ModelPart> {
    let mesh = if is_mirrored { mesh.mirrored() } else { mesh };
    let all = mesh.shaded(Angle::from_degrees(CREASE_DEG)).into_iter();
    all.map(|(surface, shaded)| ModelPart { name: name(surface), shaded }).collect()
}
