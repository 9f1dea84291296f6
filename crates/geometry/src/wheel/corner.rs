//! The state of one corner of a wheel's profile.

/// How a corner of a wheel's profile is finished or worn.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum Corner {
    /// A true corner.
    #[default]
    Sharp,
    /// Rounded by a tangent arc of this radius.
    Round {
        /// Radius of the arc.
        radius_mm: f64,
    },
    /// Worn to a flat, straight from the face to the flank behind it.
    Worn {
        /// How much of the face is gone.
        face_mm: f64,
        /// How much of the flank is gone.
        flank_mm: f64,
    },
}

impl Corner {
    /// A rounded corner, or a sharp one where the radius is zero.
    pub fn round(radius_mm: f64) -> Self {
        if radius_mm > 0.0 { Self::Round { radius_mm } } else { Self::Sharp }
    }

    /// How much of the face and of the flank this finish takes away where the profile turns by
    /// `turn_rad`.
    pub(crate) fn taken_mm(self, turn_rad: f64) -> (f64, f64) {
        match self {
            Self::Sharp => (0.0, 0.0),
            Self::Round { radius_mm } => {
                let tangent_mm = radius_mm * (0.5 * turn_rad).tan();
                (tangent_mm, tangent_mm)
            }
            Self::Worn { face_mm, flank_mm } => (face_mm, flank_mm),
        }
    }

    /// Whether its sizes are numbers and not negative.
    pub(crate) fn is_valid(self) -> bool {
        let sound = |size: f64| size.is_finite() && size >= 0.0;
        match self {
            Self::Sharp => true,
            Self::Round { radius_mm } => sound(radius_mm),
            Self::Worn { face_mm, flank_mm } => sound(face_mm) && sound(flank_mm),
        }
    }
}
