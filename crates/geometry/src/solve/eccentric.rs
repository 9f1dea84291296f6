//! The stance of a wide leaning face that grinds an eccentric relief along a helix.

use super::relief::{Adjusted, ReliefTarget, SolveError, solve_relief};
use crate::closed_form::eccentric_lean;
use crate::quantity::Length;
use crate::section::{SectionError, Setup, Stance};
use crate::wheel::FaceToward;

/// What an eccentric relief must be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EccentricWish {
    /// The relief and the distance over which it is meant.
    pub target: ReliefTarget,
    /// Width of the land that must be eccentric.
    pub land: Length,
    /// How much face must remain beyond the contact on either side.
    pub margin: Length,
}

/// Finds lean, face direction, rest inset and setting for an eccentric relief; the set-up's own
/// stance gives only the height of the wheel's axis.
///
/// # Errors
/// Where the tooth is straight (a helix is needed), the face is too narrow for the land, or no lean
/// gives the relief.
pub fn eccentric_stance(
    setup: &Setup,
    diameter: Length,
    wish: EccentricWish,
) -> Result<Stance, SolveError> {
    let flutes = setup.flutes();
    if flutes.helix.degrees() < 1.0 {
        let reason = "an eccentric relief needs a helix of at least 1 deg: grind it flat or hollow";
        return Err(invalid("kind of relief", reason.to_owned()));
    }
    // The contact for a point of the land at distance w behind the edge lies w/tan(helix) along
    // the cutter from the rest, on the side to which the leading corner must then lie.
    let travel = wish.land * (setup.flutes().nominal_diameter / diameter) / flutes.helix.tan();
    let inset = travel + wish.margin;
    let needed = inset + wish.margin;
    let width = Length::from_mm(setup.wheel().face_width_mm());
    if needed > width {
        let reason = format!(
            "an eccentric relief {:.3} mm wide needs a face of at least {:.3} mm here, and the \
             wheel's is {:.3} mm: use a wider face, or grind the relief flat",
            wish.land.mm(),
            needed.mm(),
            width.mm()
        );
        return Err(invalid("face width", reason));
    }
    let toward = if flutes.twist_rad_per_mm() > 0.0 { FaceToward::Shank } else { FaceToward::Tip };
    let stance = Stance {
        lean: eccentric_lean(wish.target.relief, flutes.helix),
        face_toward: toward,
        rest_inset: inset,
        relief_setting: wish.target.relief,
        axis_above: setup.stance().axis_above,
        tilt: setup.stance().tilt,
    };
    solve_relief(&setup.with_stance(stance)?, diameter, wish.target, Adjusted::Lean)
}

fn invalid(field: &'static str, reason: String) -> SolveError {
    SolveError::Section(SectionError::Invalid { field, reason })
}
