//! The corner between end and periphery: chamfered, or rounded by a swivel below it.

use super::error::{EndError, check_within};
use super::plane::EndPlane;
use crate::quantity::{Angle, Length};

/// A chamfer over the corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chamfer {
    /// Its width along its own edge, from the end's edge to the periphery's.
    pub width: Length,
    /// The angle of its edge against the end's.
    pub angle: Angle,
    /// Its relief along the axis.
    pub relief: Angle,
}

impl Chamfer {
    /// The plane behind its edge: a dish below zero by its angle.
    ///
    /// # Errors
    /// Where its angle is outside 10 to 80 degrees or its relief is none of a plane.
    pub fn plane(&self) -> Result<EndPlane, EndError> {
        check_within("corner_angle", self.angle.degrees(), (10.0, 80.0), "deg")?;
        EndPlane::new(-self.angle, self.relief)
    }

    /// What it takes of the end's edge, and of the periphery's along the cutter.
    pub fn takes(&self) -> (Length, Length) {
        (self.width * self.angle.cos(), self.width * self.angle.sin())
    }

    /// How far its plane must be fed past the sharp corner, square to its edge.
    ///
    /// **Source** \[own-derivation\] height of a right triangle over its longest side: width ·
    /// sin(angle) · cos(angle). **Departs** in taking end and periphery as square to each other.
    /// **Error** width · dish. **Domain** angles between 0 and 90 degrees.
    pub fn depth(&self) -> Length {
        self.width * (self.angle.sin() * self.angle.cos())
    }
}

/// A corner before its round is ground, against the finished one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundBefore {
    /// Its radius.
    pub radius: Length,
    /// How far its periphery stood outside the finished one.
    pub side: Length,
    /// How far its end stood beyond the finished one.
    pub end: Length,
    /// Whether the periphery has been ground to its finished size since.
    pub side_is_ground: bool,
    /// Whether the end has.
    pub end_is_ground: bool,
}

impl RoundBefore {
    /// Where its middle lies against that of the finished round: outward, and toward the wheel.
    fn middle_mm(&self, round: &RoundCorner) -> (f64, f64) {
        let shrunk = self.radius - round.radius;
        ((self.side - shrunk).mm(), (self.end - shrunk).mm())
    }

    /// How far its sides lie from the middle of the finished round.
    fn sides_mm(&self, round: &RoundCorner) -> (f64, f64) {
        let beyond = |ground: bool, by: Length| if ground { Length::ZERO } else { by };
        let side = round.radius + beyond(self.side_is_ground, self.side);
        (side.mm(), (round.radius + beyond(self.end_is_ground, self.end)).mm())
    }
}

/// A corner rounded by swinging the cutter about an upright pivot below the middle of the round.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundCorner {
    /// Radius of the corner; half the diameter on a ball.
    pub radius: Length,
    /// Radius of the cutter.
    pub cutter: Length,
}

impl RoundCorner {
    /// A corner of that radius on a cutter of that diameter.
    ///
    /// # Errors
    /// Where the radius is not over 0 and at most half the diameter.
    pub fn new(radius: Length, diameter: Length) -> Result<Self, EndError> {
        let cutter = diameter / 2.0;
        check_within("corner_radius", radius.mm(), (1e-3, cutter.mm() * (1.0 + 1e-9)), "mm")?;
        Ok(Self { radius, cutter })
    }

    /// How far the cutter's axis stands to the side of the pivot.
    pub fn axis_beside_pivot(&self) -> Length {
        self.cutter - self.radius
    }

    /// How far the end stands past the pivot, toward the wheel.
    pub fn end_past_pivot(&self) -> Length {
        self.radius
    }

    /// How far the metal of a corner stands outside this round at a swing from the end.
    ///
    /// **Source** \[own-derivation\] the least of the ways to the end, to the periphery and to the
    /// old round, from the middle of the finished one. **Departs** nowhere. **Error** rounding.
    /// **Domain** swings from 0 to 90 degrees.
    pub fn stock_at(&self, before: &RoundBefore, swing: Angle) -> Length {
        let (sin, cos) = (swing.sin(), swing.cos());
        let ((x, y), (side_mm, end_mm)) = (before.middle_mm(self), before.sides_mm(self));
        let straight_mm = (side_mm / sin.max(1e-12)).min(end_mm / cos.max(1e-12));
        let toward_mm = x * sin + y * cos;
        let under = before.radius.mm().powi(2) - x * x - y * y + toward_mm * toward_mm;
        let arc_mm = toward_mm + under.max(0.0).sqrt();
        // Beside its two ends the old round has gone over into the straight.
        let is_round = under >= 0.0 && arc_mm * sin >= x && arc_mm * cos >= y;
        let far_mm = if is_round { straight_mm.min(arc_mm) } else { straight_mm };
        Length::from_mm(far_mm) - self.radius
    }

    /// Where the wheel first touches a corner as it is fed, as a swing from the end, and how far it
    /// is fed from there until the round is made.
    ///
    /// **Source** \[own-derivation\] of a shape of two straights and an arc the place farthest from
    /// a point is a corner, an end, or where the arc's own middle points. **Departs** nowhere.
    /// **Error** rounding. **Domain** as for the stock.
    pub fn first_touch(&self, before: &RoundBefore) -> (Angle, Length) {
        let ((x, y), (side_mm, end_mm)) = (before.middle_mm(self), before.sides_mm(self));
        let radius_mm = before.radius.mm();
        let over = |way_mm: f64| (radius_mm * radius_mm - way_mm * way_mm).max(0.0).sqrt();
        let places = [
            (0.0, 1.0),
            (1.0, 0.0),
            (x, y),
            (side_mm, end_mm),
            (side_mm, y + over(side_mm - x)),
            (x + over(end_mm - y), end_mm),
        ];
        let swings = places.map(|(x, y)| {
            let quarter = std::f64::consts::FRAC_PI_2;
            Angle::from_radians(x.atan2(y).clamp(0.0, quarter))
        });
        let stock = |swing: Angle| (swing, self.stock_at(before, swing));
        let first = stock(Angle::from_degrees(45.0));
        let farther = |best: (Angle, Length), next: (Angle, Length)| {
            if next.1 > best.1 + Length::from_um(1e-6) { next } else { best }
        };
        swings.into_iter().map(stock).fold(first, farther)
    }

    /// Whether it is a whole half sphere.
    pub fn is_ball(&self) -> bool {
        self.axis_beside_pivot().mm() < 1e-9 * self.cutter.mm()
    }

    /// The relief that a tilt of the cutter under the swivel leaves at a swing from the end: all of
    /// it at the end, none at the periphery. A wheel that leans by itself leaves its relief all
    /// round.
    ///
    /// **Source** \[own-derivation\] the tilted axis swings with the cutter, and only its part
    /// square to the travel is relief: tan(relief) = tan(tilt) · cos(swing). **Departs** nowhere.
    /// **Error** rounding. **Domain** swings from 0 to 90 degrees.
    pub fn relief_by_tilt(&self, tilt: Angle, swing: Angle) -> Angle {
        Angle::from_tangent(tilt.tan() * swing.cos())
    }
}
