//! How a work head is swung, tilted and its spindle turned for a plane of the end.

use nalgebra::Vector3;

use super::error::EndError;
use super::plane::EndPlane;
use crate::quantity::Angle;

/// The angles of a work head against the wheel.
///
/// At zero the cutter's tip points square at the wheel, its axis level, and the edge lies level,
/// its heel up. The swing lowers the centre of the end, which is dish; the tilt points the tip
/// down, which is relief. The turn brings the edge back level, heelward positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WorkAngles {
    /// Swing about an upright axis.
    pub swing: Angle,
    /// Tilt of the spindle below level.
    pub tilt: Angle,
    /// Turn of the cutter about its own axis that levels its edge.
    pub turn: Angle,
}

impl WorkAngles {
    /// A head whose swivel stands below its tilt: swung first, then tilted about the swung axis.
    /// `wheel` is the relief that the wheel by itself leaves on a tooth that is not tilted.
    ///
    /// **Source** \[own-derivation\] with d the dish and a the tilt square to the edge: tan(swing)
    /// = tan d / cos a, sin(tilt) = cos d · sin a, sin(turn) = sin d · sin a / cos(tilt).
    /// **Departs** from the common rule that swing is dish and tilt is relief, by second order in
    /// the two. **Error** rounding. **Domain** tilts and dishes below a quarter turn.
    pub fn swing_carries_tilt(plane: &EndPlane, wheel: Angle) -> Self {
        let (dish, square) = (plane.dish(), plane.square_relief() - wheel);
        let tilt = (dish.cos() * square.sin()).asin();
        Self {
            swing: Angle::from_radians(dish.sin().atan2(dish.cos() * square.cos())),
            tilt: Angle::from_radians(tilt),
            turn: Angle::from_radians((dish.sin() * square.sin() / tilt.cos()).asin()),
        }
    }

    /// A head whose tilt stands below its swivel: tilted about the travel first, then swung. Each
    /// angle is then what it is for, and the edge stays level.
    pub fn tilt_carries_swing(plane: &EndPlane, wheel: Angle) -> Self {
        let tilt = plane.square_relief() - wheel;
        Self { swing: plane.dish(), tilt, turn: Angle::ZERO }
    }

    /// The plane that a cutter gets whose axis points so and whose edge was then levelled along the
    /// travel. `shank` is the direction of the cutter's axis toward its shank in the machine, right
    /// hand, its heel up: along the travel, toward the wheel, up.
    ///
    /// **Source** \[own-derivation\] an edge along the travel has a dish of −asin of the axis' part
    /// along it; the other two parts give the tilt square to it. **Departs** nowhere: whatever
    /// swivels brought the axis there. **Error** rounding. **Domain** axes less than a quarter turn
    /// from facing the wheel.
    ///
    /// # Errors
    /// Where that is no plane of an end tooth.
    pub fn plane_of_axis(shank: [f64; 3], wheel: Angle) -> Result<EndPlane, EndError> {
        let [along, toward, up] = shank;
        let dish = Angle::from_radians((-along).clamp(-1.0, 1.0).asin());
        let square = Angle::from_radians(up.atan2(-toward)) + wheel;
        EndPlane::of_square_relief(dish, square)
    }

    /// Direction of the cutter's axis toward its shank that gives a plane, the inverse of
    /// [`WorkAngles::plane_of_axis`].
    pub fn axis_for(plane: &EndPlane, wheel: Angle) -> [f64; 3] {
        let (dish, square) = (plane.dish(), plane.square_relief() - wheel);
        let axis: Vector3<f64> =
            Vector3::new(-dish.sin(), -dish.cos() * square.cos(), dish.cos() * square.sin());
        axis.into()
    }
}
