//! What the wheel leaves behind an edge of the end, in the section square to the edge.

use nalgebra::Vector3;

use super::error::EndError;
use super::plane::EndPlane;
use super::setup::{EndSetup, EndStance, POLE_MM};
use crate::quantity::{Angle, Length};
use crate::section::GroundSection;
use crate::wheel::{Part, Pose};

/// The section that a wheel leaves, led along the edge.
#[derive(Clone, Debug)]
pub struct EndSection {
    setup: EndSetup,
    section: GroundSection,
}

impl EndSection {
    pub(super) const fn new(setup: EndSetup, section: GroundSection) -> Self {
        Self { setup, section }
    }

    /// The set-up that it comes from.
    pub const fn setup(&self) -> &EndSetup {
        &self.setup
    }

    /// The mean relief over a distance behind the edge, or that at the edge, square to the edge.
    pub fn square_relief(&self, over: Option<Length>) -> Option<Angle> {
        match over {
            Some(distance) => self.section.mean_relief(distance),
            None => self.section.edge_relief(),
        }
    }

    /// The plane that stands for the surface over a distance behind the edge, or at the edge: the
    /// dish, and the relief along the axis.
    pub fn plane(&self, over: Option<Length>) -> Option<EndPlane> {
        EndPlane::of_square_relief(self.setup.dish(), self.square_relief(over)?).ok()
    }

    /// The part of the wheel that cuts the edge.
    pub fn cut_by(&self) -> Option<Part> {
        Some(self.section.contact_at(Angle::ZERO)?.part)
    }

    /// How far outward along the edge from the wheel's innermost corner the place lies at which it
    /// cuts the edge.
    pub fn cuts_outward(&self) -> Option<Length> {
        Some(self.section.contact_at(Angle::ZERO)?.along)
    }

    /// How far inside the edge the surface stands, square to edge and end, at a distance behind it.
    pub fn depth_at(&self, heelward: Length) -> Option<Length> {
        let y_mm = heelward.mm();
        let mut out_mm = POLE_MM;
        for _ in 0..40 {
            let angle = Angle::from_radians(y_mm.atan2(out_mm));
            let next_mm = self.section.contact_at(angle)?.radius.mm() * angle.cos();
            if (next_mm - out_mm).abs() < 1e-12 {
                break;
            }
            out_mm = next_mm;
        }
        Some(Length::from_mm(POLE_MM - out_mm))
    }

    /// Width of the land that this surface keeps when `behind` is ground behind it.
    pub fn land_before(&self, behind: &Self) -> Option<Length> {
        self.section.land_before(&behind.section)
    }

    /// The point at the back of a land of that width: heelward of the edge and below it.
    pub fn back_of_land(&self, land: Length) -> Option<(Length, Length)> {
        let mut heelward = land;
        for _ in 0..40 {
            let depth = self.depth_at(heelward)?;
            let width = heelward.mm().hypot(depth.mm());
            let step = land.mm() / width;
            heelward = heelward * step;
            if (step - 1.0).abs() < 1e-13 {
                break;
            }
        }
        Some((heelward, self.depth_at(heelward)?))
    }

    /// How much comes off along the cutter's axis for each length by which the wheel comes nearer
    /// across the travel: one over the cosine of the whole way between the two.
    ///
    /// **Source** \[own-derivation\] the gain at the edge square to the travel, over cos(dish).
    /// **Departs** nowhere. **Error** that of the section. **Domain** every section.
    pub fn length_per_feed(&self) -> Option<f64> {
        let contact = self.section.contact_at(Angle::ZERO)?;
        Some(contact.per_backing_off / self.setup.dish().cos())
    }

    /// The same stance with the wheel farther off by `change`, nearer where that is below zero.
    ///
    /// # Errors
    /// Where the wheel then leaves no surface above the edge.
    pub fn backed_off(&self, change: Length) -> Result<Self, EndError> {
        let edge = self.section.contact_at(Angle::ZERO).ok_or_else(|| {
            EndError::invalid("feed", "the wheel leaves no surface above the edge".to_owned())
        })?;
        let mut out = edge.radius + change * edge.per_backing_off;
        let wanted = self.section.leading_corner_from_axis() + change;
        let mut next = self.setup.section_through(Length::ZERO, Length::from_mm(POLE_MM) - out)?;
        for _ in 0..6 {
            let miss = wanted - next.section.leading_corner_from_axis();
            if miss.abs().mm() < 1e-9 {
                break;
            }
            out += miss * edge.per_backing_off;
            next = self.setup.section_through(Length::ZERO, Length::from_mm(POLE_MM) - out)?;
        }
        Ok(next)
    }

    /// How far the wheel stands from where it would cut this section's edge, along the feed.
    pub fn feed_from(&self, other: &Self) -> Length {
        other.section.leading_corner_from_axis() - self.section.leading_corner_from_axis()
    }

    /// The wheel's pose in the tooth's frame while its innermost corner stands over the corner of
    /// the tooth, which is at `corner_mm`.
    pub(super) fn pose_at(&self, corner_mm: &Vector3<f64>) -> Option<Pose> {
        let EndStance { tilt, .. } = *self.setup.stance();
        let (sin, cos) = (tilt.sin(), tilt.cos());
        let plane = EndPlane::new(self.setup.dish(), Angle::ZERO).ok()?;
        let turned = |v: &Vector3<f64>| {
            let (out, heelward) = (v.y * cos - v.z * sin, v.y * sin + v.z * cos);
            plane.edge() * v.x + Vector3::y() * heelward - plane.inward() * out
        };
        let pose = self.section.wheel_pose();
        let edge = Vector3::new(0.0, POLE_MM * cos, -POLE_MM * sin);
        let origin = corner_mm + turned(&(pose.origin - edge));
        Pose::new(origin, turned(&pose.axis), turned(&pose.near))
    }
}
