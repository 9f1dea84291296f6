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

    /// The parts of a cutter and the surfaces that they are.
    pub(super) const OF_CUTTER: [(Self, Surface); 6] = [
        (Self::Primary, Surface::Land),
        (Self::Secondary, Surface::Back),
        (Self::Flutes, Surface::Flute),
        (Self::Body, Surface::Runout),
        (Self::Shank, Surface::Shank),
        (Self::End, Surface::End),
    ];

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

/// The surfaces of a mesh as parts, without those that have no facet.
pub(super) fn parts_of(
    mesh: Mesh,
    surfaces: &[(PartName, Surface)],
    is_mirrored: bool,
) -> Vec<ModelPart> {
    let mesh = if is_mirrored { mesh.mirrored() } else { mesh };
    let part = |(name, surface): &(PartName, Surface)| ModelPart {
        name: *name,
        shaded: mesh.shaded(*surface, Angle::from_degrees(CREASE_DEG)),
    };
    let all = surfaces.iter().map(part);
    all.filter(|part| !part.shaded.triangles.is_empty()).collect()
}
