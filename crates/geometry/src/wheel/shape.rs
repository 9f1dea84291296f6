//! The wheels that a tool and cutter grinder carries, as profiles.

use super::corner::Corner;
use super::profile::{Outline, Part, Profile, ProfileError, ProfilePoint};

/// Which way a wheel is meant to meet the tooth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WheelKind {
    /// Grinds on the plane face of its rim: cups, flaring cups and dishes.
    Cup,
    /// Grinds on its periphery.
    Disc,
}

/// A wheel that grinds on the face of its rim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CupShape {
    /// Outer diameter of the face.
    pub diameter_mm: f64,
    /// Width of the face across the rim.
    pub face_width_mm: f64,
    /// How far the outer wall draws in, in radians from the wheel's axis (0 for a straight cup).
    pub outer_wall_rad: f64,
    /// How far the inner wall draws in, in radians from the wheel's axis (0 for a straight cup,
    /// large for the shallow hollow of a dish).
    pub inner_wall_rad: f64,
    /// The outer corner of the face.
    pub leading: Corner,
    /// The inner corner of the face.
    pub trailing: Corner,
}

/// A wheel that grinds on its periphery.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DiscShape {
    /// Outer diameter.
    pub diameter_mm: f64,
    /// Width of the periphery.
    pub face_width_mm: f64,
    /// The corner nearest the cutter because of the lean.
    pub leading: Corner,
    /// The other corner.
    pub trailing: Corner,
}

/// A wheel's body: its profile, with the sizes that set-ups are measured from.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelBody {
    kind: WheelKind,
    radius_mm: f64,
    face_width_mm: f64,
    profile: Profile,
}

impl WheelBody {
    /// A wheel that grinds on the face of its rim.
    ///
    /// # Errors
    /// Where a size is not positive, the rim is wider than the wheel's radius, a wall leans by
    /// 85 degrees or more, or a corner takes more than its flank has.
    pub fn cup(shape: &CupShape) -> Result<Self, ProfileError> {
        let radius_mm = 0.5 * shape.diameter_mm;
        check_sizes(shape.diameter_mm, shape.face_width_mm, [shape.leading, shape.trailing])?;
        let inner_mm = radius_mm - shape.face_width_mm;
        if inner_mm < 0.0 {
            return Err(size("face width", shape.face_width_mm, "no more than half its diameter"));
        }
        for wall_rad in [shape.outer_wall_rad, shape.inner_wall_rad] {
            if !(0.0..=85.0_f64.to_radians()).contains(&wall_rad) {
                let degrees = wall_rad.to_degrees();
                return Err(size("wall angle (in degrees)", degrees, "from 0 to 85 degrees"));
            }
        }
        let back = |from_mm: f64, wall_rad: f64| {
            let reach_mm = (from_mm / wall_rad.sin().max(1e-9)).min(radius_mm);
            let axial_mm = reach_mm * wall_rad.cos();
            ProfilePoint::new((from_mm - reach_mm * wall_rad.sin()).max(0.0), axial_mm)
        };
        let outline = Outline {
            points: [
                back(inner_mm, shape.inner_wall_rad),
                ProfilePoint::new(inner_mm, 0.0),
                ProfilePoint::new(radius_mm, 0.0),
                back(radius_mm, shape.outer_wall_rad),
            ],
            parts: [Part::TrailingFlank, Part::Face, Part::LeadingFlank],
            corners: [(Part::TrailingCorner, shape.trailing), (Part::LeadingCorner, shape.leading)],
        };
        let profile = Profile::from_outline(&outline)?;
        Ok(Self { kind: WheelKind::Cup, radius_mm, face_width_mm: shape.face_width_mm, profile })
    }

    /// A wheel that grinds on its periphery.
    ///
    /// # Errors
    /// Where a size is not positive or a corner takes more than its flank has.
    pub fn disc(shape: &DiscShape) -> Result<Self, ProfileError> {
        let radius_mm = 0.5 * shape.diameter_mm;
        let width_mm = shape.face_width_mm;
        check_sizes(shape.diameter_mm, width_mm, [shape.leading, shape.trailing])?;
        let outline = Outline {
            points: [
                ProfilePoint::new(0.0, 0.0),
                ProfilePoint::new(radius_mm, 0.0),
                ProfilePoint::new(radius_mm, width_mm),
                ProfilePoint::new(0.0, width_mm),
            ],
            parts: [Part::LeadingFlank, Part::Face, Part::TrailingFlank],
            corners: [(Part::LeadingCorner, shape.leading), (Part::TrailingCorner, shape.trailing)],
        };
        let profile = Profile::from_outline(&outline)?;
        Ok(Self { kind: WheelKind::Disc, radius_mm, face_width_mm: width_mm, profile })
    }

    /// On what it grinds.
    pub const fn kind(&self) -> WheelKind {
        self.kind
    }

    /// Half its diameter.
    pub const fn radius_mm(&self) -> f64 {
        self.radius_mm
    }

    /// Width of its face between the true corners.
    pub const fn face_width_mm(&self) -> f64 {
        self.face_width_mm
    }

    /// Its half section.
    pub const fn profile(&self) -> &Profile {
        &self.profile
    }
}

fn check_sizes(diameter: f64, face_width: f64, corners: [Corner; 2]) -> Result<(), ProfileError> {
    for (what, value_mm) in [("diameter", diameter), ("face width", face_width)] {
        if !(value_mm.is_finite() && value_mm > 0.0) {
            return Err(size(what, value_mm, "more than 0"));
        }
    }
    for corner in corners {
        if !corner.is_valid() {
            return Err(size("corner", f64::NAN, "a size of 0 or more"));
        }
    }
    Ok(())
}

fn size(what: &'static str, value_mm: f64, needs: &'static str) -> ProfileError {
    ProfileError::Size { what, value_mm, needs }
}
