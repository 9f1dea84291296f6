//! One wheel in one flute, and the face that it leaves.

use thiserror::Error;

use crate::quantity::{Angle, Length};
use crate::screw::Flutes;
use crate::wheel::{ElementShape, WheelBody};

/// How the wheel stands in the flute.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceStance {
    /// How far the wheel is turned from along the cutter, the way the helix runs.
    pub swivel: Angle,
    /// How far its flat side stands past the cutter's axis toward the heel; less than nothing
    /// before it.
    pub offset: Length,
    /// How far its rim stays from the axis at the lowest.
    pub root: Length,
}

/// Why a wheel leaves no such face.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum FaceError {
    /// The rim does not stand in the flute.
    #[error(
        "the rim must come into the flute: its lowest is {root_mm:.3} mm from the axis, the \
             edge {radius_mm:.3} mm"
    )]
    Root {
        /// Distance of the rim's lowest point from the axis.
        root_mm: f64,
        /// Radius of the edge.
        radius_mm: f64,
    },
    /// No offset of the wheel gives the rake.
    #[error("no offset of the wheel leaves a rake of {0:.2} deg here")]
    NoOffset(f64),
}

/// A circle of the wheel: its radius, and how far it lies behind the flat side.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Circle {
    radius_mm: f64,
    behind_mm: f64,
}

/// A wheel in a flute.
#[derive(Clone, Debug, PartialEq)]
pub struct FaceSetup {
    twist_rad_per_mm: f64,
    wheel_radius_mm: f64,
    edge_mm: f64,
    stance: FaceStance,
    circles: Vec<Circle>,
}

/// Circles on each line or arc of the wheel's profile.
const CIRCLES: u32 = 48;
/// Places round a circle at which it is looked for a radius; each crossing is then halved.
const PLACES: u32 = 360;
/// Halvings of a crossing, and of the offset.
const HALVINGS: u32 = 48;
/// An offset is looked for within so many degrees of rake on either side.
const RAKE_REACH_DEG: f64 = 20.0;

impl FaceSetup {
    /// A wheel in the flute of a cutter whose edge stands at `radius`.
    ///
    /// # Errors
    /// Where the rim does not come into the flute at all.
    pub fn new(
        flutes: &Flutes,
        wheel: &WheelBody,
        radius: Length,
        stance: FaceStance,
    ) -> Result<Self, FaceError> {
        let (root_mm, radius_mm) = (stance.root.mm(), radius.mm());
        if !(root_mm > 0.0 && root_mm < radius_mm && stance.offset.abs() < radius) {
            return Err(FaceError::Root { root_mm, radius_mm });
        }
        Ok(Self {
            twist_rad_per_mm: flutes.twist_rad_per_mm(),
            wheel_radius_mm: wheel.radius_mm(),
            edge_mm: radius_mm,
            stance,
            circles: circles(wheel),
        })
    }

    /// The same with the offset at which the face has a rake, as the chord over a depth below the
    /// edge.
    ///
    /// # Errors
    /// As for [`FaceSetup::new`], and where no offset gives that rake.
    pub fn with_rake(self, rake: Angle, over: Length) -> Result<Self, FaceError> {
        let at = |degrees: f64| {
            let lean = Angle::from_degrees(rake.degrees() + degrees);
            let offset = Length::from_mm(self.edge_mm * lean.sin());
            Self { stance: FaceStance { offset, ..self.stance }, ..self.clone() }
        };
        let miss = |degrees: f64| Some(at(degrees).rake(over)? - rake);
        let (mut low, mut high) = (-RAKE_REACH_DEG, RAKE_REACH_DEG);
        let none = || FaceError::NoOffset(rake.degrees());
        let is_above = |degrees: f64| miss(degrees).map(|miss| miss > Angle::ZERO);
        if is_above(low) != Some(false) || is_above(high) != Some(true) {
            return Err(none());
        }
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if is_above(middle).ok_or_else(none)? { high = middle } else { low = middle }
        }
        Ok(at(0.5 * (low + high)))
    }

    /// How the wheel stands.
    pub const fn stance(&self) -> &FaceStance {
        &self.stance
    }

    /// How far heelward the wheel comes at a distance from the axis, in the tooth's own section;
    /// None where it does not come there. The face that is left stands there.
    ///
    /// **Source** \[own-derivation\] a point at t along the cutter and y heelward stands in the
    /// section at atan2(y, z) + twist · t; the face is the farthest of them at each radius.
    /// **Departs** in taking 48 circles on each stretch of the profile. **Error** below 0.2 µm at
    /// the circle, for the stretch of the face is a line. **Domain** radii from the root to the
    /// edge.
    pub fn face_at(&self, radius: Length) -> Option<Angle> {
        self.angles_at(radius.mm()).reduce(f64::max).map(Angle::from_radians)
    }

    /// How far the other way the wheel comes there, toward the tooth before.
    pub fn back_at(&self, radius: Length) -> Option<Angle> {
        self.angles_at(radius.mm()).reduce(f64::min).map(Angle::from_radians)
    }

    /// Rake of the face as the chord from the edge to a depth below it, positive for a hooked
    /// tooth; None where the wheel does not come there.
    pub fn rake(&self, over: Length) -> Option<Angle> {
        let edge = Length::from_mm(self.edge_mm);
        let (at_edge, below) = (self.face_at(edge)?, self.face_at(edge - over)?);
        let turned = below - at_edge;
        let below_mm = self.edge_mm - over.mm();
        let (back, down) = (below_mm * turned.sin(), self.edge_mm - below_mm * turned.cos());
        Some(Angle::from_radians(back.atan2(down)))
    }

    /// How far the table must carry the wheel past each end, so that the rim's lowest point or the
    /// chord above it has ground the whole face.
    ///
    /// **Source** \[own-derivation\] half the chord of the rim at the edge's height, √(h (2 Rw −
    /// h)). **Departs** nowhere. **Error** rounding. **Domain** a face less deep than the wheel's
    /// radius.
    pub fn overrun(&self) -> Length {
        let deep = self.edge_mm - self.stance.root.mm();
        Length::from_mm((deep * (2.0 * self.wheel_radius_mm - deep)).max(0.0).sqrt())
    }

    /// Height of the wheel's axis above the cutter's.
    pub fn axis_above(&self) -> Length {
        Length::from_mm(self.rim_mm() + self.wheel_radius_mm)
    }

    /// Height of the rim's lowest point, where the flat side comes to the root.
    fn rim_mm(&self) -> f64 {
        let (offset_mm, root_mm) = (self.stance.offset.mm(), self.stance.root.mm());
        (root_mm * root_mm - offset_mm * offset_mm).max(0.0).sqrt()
    }

    /// The heelward angles of every point of the wheel at a radius.
    fn angles_at(&self, radius_mm: f64) -> impl Iterator<Item = f64> {
        let axis_mm = self.rim_mm() + self.wheel_radius_mm;
        self.circles.iter().flat_map(move |circle| {
            let lowest = (axis_mm - radius_mm) / circle.radius_mm;
            let reach = (1.1 * lowest - 0.1).clamp(-1.0, 1.0).acos();
            let turn = move |place: u32| reach * (2.0 * f64::from(place) / f64::from(PLACES) - 1.0);
            let crossing = move |place: u32| {
                let (low, high) = (turn(place), turn(place + 1));
                let miss = |turn: f64| self.carried(circle, turn).1 - radius_mm;
                let (at_low, at_high) = (miss(low), miss(high));
                ((at_low <= 0.0) != (at_high <= 0.0)).then(|| {
                    let turn = crossed(low, high, at_low <= 0.0, miss);
                    self.carried(circle, turn).0
                })
            };
            (0..PLACES).filter_map(crossing)
        })
    }

    /// Heelward angle and radius of a point of a circle, turned so far from its lowest.
    fn carried(&self, circle: &Circle, turn_rad: f64) -> (f64, f64) {
        let (sin, cos) = (self.stance.swivel.sin(), self.stance.swivel.cos());
        let along = circle.radius_mm * turn_rad.sin();
        let t = along * cos - circle.behind_mm * sin;
        let y = self.stance.offset.mm() - along * sin - circle.behind_mm * cos;
        let z = self.rim_mm() + self.wheel_radius_mm - circle.radius_mm * turn_rad.cos();
        (y.atan2(z) + self.twist_rad_per_mm * t, y.hypot(z))
    }
}

/// Where a miss changes its sign between two places.
fn crossed(mut low: f64, mut high: f64, low_is_inside: bool, miss: impl Fn(f64) -> f64) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if (miss(middle) <= 0.0) == low_is_inside { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Circles on every stretch of the wheel's profile, its ends included.
fn circles(wheel: &WheelBody) -> Vec<Circle> {
    let of = |shape: &ElementShape| {
        let shape = *shape;
        (0..=CIRCLES).map(move |place| {
            let share = f64::from(place) / f64::from(CIRCLES);
            let (radius_mm, behind_mm) = match shape {
                ElementShape::Line { from, direction, length_mm } => (
                    from.radius_mm + direction.0 * length_mm * share,
                    from.axial_mm + direction.1 * length_mm * share,
                ),
                ElementShape::Arc { centre, radius_mm, from_rad, to_rad } => {
                    let (sin, cos) = (from_rad + (to_rad - from_rad) * share).sin_cos();
                    (centre.radius_mm + radius_mm * cos, centre.axial_mm + radius_mm * sin)
                }
            };
            Circle { radius_mm, behind_mm }
        })
    };
    let circles = wheel.profile().elements().iter().flat_map(|element| of(&element.shape));
    circles.filter(|circle| circle.radius_mm > 1e-6).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::screw::Hand;
    use crate::wheel::{Corner, CupShape};

    fn dish() -> WheelBody {
        WheelBody::cup(&CupShape {
            diameter_mm: 100.0,
            face_width_mm: 2.0,
            outer_wall_rad: 45_f64.to_radians(),
            inner_wall_rad: 70_f64.to_radians(),
            leading: Corner::Sharp,
            trailing: Corner::Sharp,
        })
        .unwrap()
    }

    fn made(helix_deg: f64, offset_mm: f64, root_mm: f64) -> Result<FaceSetup, FaceError> {
        let helix = Angle::from_degrees(helix_deg);
        let flutes = Flutes {
            nominal_diameter: Length::from_mm(20.0),
            teeth: 4,
            hand: Hand::Right,
            helix,
            helix_hand: Hand::Right,
        };
        let (offset, root) = (Length::from_mm(offset_mm), Length::from_mm(root_mm));
        let stance = FaceStance { swivel: helix, offset, root };
        FaceSetup::new(&flutes, &dish(), Length::from_mm(10.0), stance)
    }

    fn setup(helix_deg: f64, offset_mm: f64) -> FaceSetup {
        made(helix_deg, offset_mm, 6.0).unwrap()
    }

    #[test]
    fn a_straight_face_is_the_wheels_own_plane() {
        let setup = setup(0.0, 10.0 * 12_f64.to_radians().sin());
        for over in [0.1, 1.0, 3.0] {
            let rake = setup.rake(Length::from_mm(over)).unwrap().degrees();
            assert!((rake - 12.0).abs() < 1e-6, "{rake} over {over}");
        }
    }

    #[test]
    fn the_offset_is_found_that_gives_a_rake_on_a_helix() {
        let over = Length::from_mm(0.5);
        let found = setup(6.0, 0.0).with_rake(Angle::from_degrees(8.0), over).unwrap();
        let rake = found.rake(over).unwrap().degrees();
        assert!((rake - 8.0).abs() < 1e-6, "{rake}");
        // The round rim takes more at the edge than a plane would, so the offset is another.
        let plane = 10.0 * 8_f64.to_radians().sin();
        assert!((found.stance().offset.mm() - plane).abs() > 0.01, "{:?}", found.stance());
    }

    #[test]
    fn a_rim_above_the_edge_is_refused() {
        let refused = made(0.0, 0.0, 11.0).unwrap_err();
        assert!(matches!(refused, FaceError::Root { .. }));
    }
}
