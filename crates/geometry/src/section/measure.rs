//! What a person measures on a ground section: relief, drop, land, heel drag, clearances.

use super::cubic::Cubic;
use super::ground::GroundSection;
use super::trace::TRACE_ERROR_MM;
use crate::quantity::{Angle, Length};
use crate::search::dent;
use crate::wheel::{ElementShape, Part, Pose, WheelKind};

/// A section this little inside the circle counts as standing on it: twice the error of the
/// interpolation, in millimetres.
const DRAG_MARGIN_MM: f64 = 2.0 * TRACE_ERROR_MM;

impl GroundSection {
    /// Relief at the edge: the angle between the section's tangent there and the cutting circle's.
    ///
    /// **Source** \[own-derivation\] tan(relief) = −r′/r in polar coordinates. **Departs** nowhere.
    /// **Error** below 0.0001 degrees; 0.003 degrees under a corner of next to no radius, whose
    /// slope turns within the error of the wheel's place. **Domain** every section.
    pub fn edge_relief(&self) -> Option<Angle> {
        let edge = self.contact_at(Angle::ZERO)?;
        Some(Angle::from_tangent(-edge.slope_mm_per_rad / edge.radius.mm()))
    }

    /// Drop at a distance behind the edge, measured along the cutting circle; None where the wheel
    /// leaves no surface.
    pub fn drop_at(&self, distance: Length) -> Option<Length> {
        let heelward = Angle::from_radians(distance.mm() / self.circle_mm);
        Some(self.circle_radius() - self.contact_at(heelward)?.radius)
    }

    /// Mean relief over a distance behind the edge: the angle of the chord from the edge to the
    /// section at that distance, against the cutting circle's tangent at the edge.
    ///
    /// **Source** \[own-derivation\] tan a = (R − r cos θ)/(r sin θ), θ = distance/R. **Departs**
    /// nowhere: on a plane relief it is that plane's angle at any distance. **Error** rounding.
    /// **Domain** 0 < distance < a quarter turn.
    pub fn mean_relief(&self, distance: Length) -> Option<Angle> {
        let heelward = Angle::from_radians(distance.mm() / self.circle_mm);
        let radius_mm = self.contact_at(heelward)?.radius.mm();
        let rise = self.circle_mm - radius_mm * heelward.cos();
        Some(Angle::from_radians(rise.atan2(radius_mm * heelward.sin())))
    }

    /// First distance behind the edge, along the cutting circle and within one tooth pitch, at
    /// which the section stands on or outside the circle; None where there is none.
    pub fn heel_drag_from(&self) -> Option<Length> {
        let edge = self.contact_at(Angle::ZERO)?;
        if edge.slope_mm_per_rad >= -1e-9 {
            return Some(Length::ZERO);
        }
        let end_rad = self.setup.flutes().pitch_rad();
        let circle = 1.0 / (self.circle_mm + DRAG_MARGIN_MM);
        for owned in &self.traced.owned {
            let low = owned.from_rad.max(0.0);
            let high = owned.to_rad.min(end_rad);
            for stretch in &self.traced.runs[owned.run].stretches {
                let from = stretch.cubic.from_rad.max(low);
                let to = stretch.cubic.to_rad.min(high);
                if from >= to {
                    continue;
                }
                if let Some(at_rad) = first_outside(&stretch.cubic, circle, from, to) {
                    return Some(Length::from_mm(at_rad * self.circle_mm));
                }
            }
        }
        None
    }

    /// How far the wheel stands outside the cutting circle at the edges of the two neighbouring
    /// teeth, the lesser of the two; None where the wheel does not come over either.
    pub fn next_tooth_gap(&self) -> Option<Length> {
        let pitch_rad = self.setup.flutes().pitch_rad();
        let gap_at = |at_rad: f64| {
            let contact = self.contact_at(Angle::from_radians(at_rad))?;
            Some(contact.radius - self.circle_radius())
        };
        match (gap_at(pitch_rad), gap_at(-pitch_rad)) {
            (Some(ahead), Some(behind)) => Some(ahead.min(behind)),
            (one, other) => one.or(other),
        }
    }

    /// How far the far side of a cup's rim stands outside the cutting circle, at its nearest;
    /// negative where it would cut a cutter long enough to reach it. None for a disc.
    pub fn far_side_gap(&self) -> Option<Length> {
        if self.setup.wheel().kind() == WheelKind::Disc {
            return None;
        }
        let pose = &self.traced.meeting.pose;
        let mut nearest_mm = f64::INFINITY;
        for element in self.setup.wheel().profile().elements() {
            if element.part != Part::Face {
                continue;
            }
            let ElementShape::Line { from, direction, length_mm } = element.shape else { continue };
            for end_mm in [0.0, length_mm] {
                let radius_mm = from.radius_mm + direction.0 * end_mm;
                let axial_mm = from.axial_mm;
                nearest_mm = nearest_mm.min(far_side_mm(pose, radius_mm, axial_mm));
            }
        }
        Some(Length::from_mm(nearest_mm - self.circle_mm))
    }

    /// The same as [`Self::land_before_turned`] for a land that is expected to be about so wide: it
    /// is looked for on fewer rays, up to three times that width, and only where it does not end
    /// there on all of them.
    pub fn land_before_near(&self, behind: &Self, turned: Angle, about: Length) -> Option<Length> {
        let end_rad = (3.0 * about.mm() / self.circle_mm).min(self.setup.flutes().pitch_rad());
        let near = self.land_within::<NEAR_RAYS>(behind, turned, end_rad);
        near.or_else(|| self.land_before_turned(behind, turned))
    }

    /// Width of the land that this section keeps when `behind` (ground later, on the same tooth)
    /// cuts away its back: the chord from the edge to where the two cross. None where they do not
    /// cross behind the edge within one tooth pitch.
    pub fn land_before(&self, behind: &Self) -> Option<Length> {
        self.land_before_turned(behind, Angle::ZERO)
    }

    /// The same where this section's edge does not stand where `behind` was placed from: `turned`
    /// is how far edgeward of that it lies, as where an edge moves out along its face.
    pub fn land_before_turned(&self, behind: &Self, turned: Angle) -> Option<Length> {
        self.land_within::<LAND_RAYS>(behind, turned, self.setup.flutes().pitch_rad())
    }

    /// The land, where it ends within an angle; it is first looked for on so many rays.
    fn land_within<const RAYS: usize>(
        &self,
        behind: &Self,
        turned: Angle,
        end_rad: f64,
    ) -> Option<Length> {
        let turned_rad = turned.radians();
        let end = Angle::from_radians(end_rad);
        let mut own = self.rays(Angle::ZERO, end, RAYS);
        let mut others = behind.rays(-turned, end - turned, RAYS);
        let index = (0..RAYS).position(|_| {
            let radius_mm = own.next_mm();
            others.next_mm() < radius_mm
        })?;
        let step_rad = end_rad / (RAYS - 1) as f64;
        let high = step_rad * index as f64;
        let mut bracket = ((high - step_rad).max(0.0), high);
        let cut = |at: f64| Some(behind.reciprocal(at - turned_rad)? > self.reciprocal(at)?);
        while bracket.1 - bracket.0 > 1e-13 {
            let middle = 0.5 * (bracket.0 + bracket.1);
            if cut(middle)? {
                bracket.1 = middle
            } else {
                bracket.0 = middle
            }
            if middle == bracket.0 && middle == bracket.1 {
                break;
            }
        }
        let radius_mm = 1.0 / self.reciprocal(bracket.1)?;
        let (sin, cos) = bracket.1.sin_cos();
        let width_mm = (self.circle_mm - radius_mm * cos).hypot(radius_mm * sin);
        Some(Length::from_mm(width_mm))
    }
}

/// Rays on which the end of a land is first looked for; it is then closed in on by halving.
const LAND_RAYS: usize = 2001;

/// The same where a land of about a known width is looked for.
const NEAR_RAYS: usize = 65;

/// Steps on which the nearest point of a cup's far side is first looked for, and their width.
const FAR_STEPS: i32 = 18;
const FAR_STEP_DEG: f64 = 5.0;

/// How exactly the place of the nearest point is told; its distance is level there.
const FAR_ERROR_RAD: f64 = 1e-6;

/// How far from the cutter's axis the far side of a circle on a wheel comes, at its nearest: the
/// distance is smooth along the circle, so a coarse walk and the dent beside its best place find
/// it.
fn far_side_mm(pose: &Pose, radius_mm: f64, axial_mm: f64) -> f64 {
    let distance_mm = |turn_rad: f64| {
        let around = pose.side * turn_rad.sin() - pose.near * turn_rad.cos();
        let point = pose.origin + pose.axis * axial_mm + around * radius_mm;
        point.y.hypot(point.z)
    };
    let turn_rad = |step: i32| (FAR_STEP_DEG * f64::from(step)).to_radians();
    let by_distance =
        |a: &i32, b: &i32| distance_mm(turn_rad(*a)).total_cmp(&distance_mm(turn_rad(*b)));
    let nearest = (-FAR_STEPS..=FAR_STEPS).min_by(by_distance).unwrap_or(0);
    let ends = [nearest - 1, nearest + 1].map(|step| turn_rad(step.clamp(-FAR_STEPS, FAR_STEPS)));
    dent(distance_mm, (ends[0], ends[1]), FAR_ERROR_RAD).1
}

/// The first angle of a range at which a cubic's radius is not inside the circle.
fn first_outside(cubic: &Cubic, circle: f64, from: f64, to: f64) -> Option<f64> {
    if cubic.value(from) <= circle {
        return Some(from);
    }
    let level = Cubic { from_rad: from, to_rad: to, coefficients: [circle, 0.0, 0.0, 0.0] };
    cubic.crossings(&level, from, to).next()
}
