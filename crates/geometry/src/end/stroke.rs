//! A stroke of the table: the wheel's body from outside the corner to where it stops.

use nalgebra::Vector3;

use super::gash::Gash;
use super::section::EndSection;
use super::teeth::EndTeeth;
use crate::quantity::Length;
use crate::search::{least, least_below};
use crate::wheel::{Pose, ProfilePoint, WheelBody};

/// A wheel on its way over a tooth, in that tooth's frame.
#[derive(Clone, Debug)]
pub struct EndStroke<'a> {
    wheel: &'a WheelBody,
    teeth: &'a EndTeeth,
    pose: Pose,
    /// Unit direction outward along the travel.
    travel: Vector3<f64>,
    /// How far outward from its innermost corner the wheel cuts the edge.
    cuts_outward_mm: f64,
}

/// How exactly gaps are told, in millimetres.
const GAP_ERROR_MM: f64 = 2e-4;

impl<'a> EndStroke<'a> {
    /// The stroke over tooth 0 of some teeth that leaves this section; None where the wheel leaves
    /// no surface at the edge.
    pub fn new(section: &'a EndSection, teeth: &'a EndTeeth) -> Option<Self> {
        Some(Self {
            wheel: section.setup().wheel(),
            pose: section.pose_at(&teeth.edge_mm(0, 0.0))?,
            travel: teeth.with_dish(section.setup().dish())?.shape().primary.edge(),
            cuts_outward_mm: section.cuts_outward()?.mm(),
            teeth,
        })
    }

    /// The stroke of a disc that grinds the gash of tooth 0: one side in the face, its rim along
    /// the root. It starts in the flute, and stands over the root's mouth at a stop of nothing.
    pub fn of_gash(gash: &Gash, wheel: &'a WheelBody, teeth: &'a EndTeeth) -> Option<Self> {
        let (travel, ahead) = (gash.root(), gash.face_outward());
        let into = ahead.cross(&travel);
        let shape = gash.shape();
        let from_mm = shape.from_centre.mm();
        let mouth =
            Vector3::new(from_mm, -shape.ahead.mm(), gash.depth_at(Length::from_mm(from_mm)).mm());
        let pose = Pose::new(mouth - into * wheel.radius_mm(), ahead, into)?;
        Some(Self { wheel, teeth, pose, travel, cuts_outward_mm: 0.0 })
    }

    /// The teeth.
    pub const fn teeth(&self) -> &EndTeeth {
        self.teeth
    }

    /// How far inward of the tooth's corner the wheel's innermost corner stands when the edge has
    /// been ground so far inward.
    pub fn stop_for(&self, ground: Length) -> Length {
        ground + Length::from_mm(self.cuts_outward_mm)
    }

    /// How far inward the edge has been ground when the wheel stops there.
    pub fn ground_by(&self, stop: Length) -> Length {
        stop - Length::from_mm(self.cuts_outward_mm)
    }

    /// Where the wheel starts, clear of the whole end, inward of the corner.
    fn start_mm(&self) -> f64 {
        -(self.teeth.shape().diameter.mm() + 5.0)
    }

    /// Least distance between a point and the wheel on its way to a stop; below zero the wheel cuts
    /// so deep.
    pub fn gap_at(&self, point: [Length; 3], stop: Length) -> Length {
        let point = Vector3::from(point.map(Length::mm));
        Length::from_mm(self.gap_mm(&point, stop.mm()))
    }

    fn gap_mm(&self, point: &Vector3<f64>, stop_mm: f64) -> f64 {
        let at = |inward_mm: f64| {
            let moved = point + self.travel * inward_mm;
            distance_mm(self.wheel, &self.pose, &moved)
        };
        least(at, self.start_mm(), stop_mm, GAP_ERROR_MM)
    }

    /// Least distance between the edge of another tooth, so many pitches heelward, and the wheel on
    /// its way to a stop. Of the edge counts what stands farther than `beyond` from the axis.
    pub fn gap_to_tooth(&self, tooth: u32, beyond: Length, stop: Length) -> Length {
        let end_mm = self.teeth.inward_to(beyond.max(self.teeth.shape().inner)).mm();
        let along = |inward_mm: f64| self.gap_mm(&self.teeth.edge_mm(tooth, inward_mm), stop.mm());
        Length::from_mm(least(along, 0.0, end_mm.max(0.0), 2.0 * GAP_ERROR_MM))
    }

    /// The first tooth whose edge, beyond that distance from the axis, is cut deeper than allowed.
    pub(super) fn cuts(&self, allowed: Length, beyond: Length, stop: Length) -> Option<u32> {
        let end_mm = self.teeth.inward_to(beyond.max(self.teeth.shape().inner)).mm().max(0.0);
        (1..self.teeth.shape().teeth).find(|&tooth| {
            let along =
                |inward_mm: f64| self.gap_mm(&self.teeth.edge_mm(tooth, inward_mm), stop.mm());
            let limit_mm = -allowed.mm();
            least_below(along, (0.0, end_mm), 2.0 * GAP_ERROR_MM, limit_mm) < limit_mm
        })
    }

    /// The least such distance over all other teeth, with the tooth it belongs to; None where there
    /// is but one.
    pub fn gap_to_others(&self, beyond: Length, stop: Length) -> Option<(u32, Length)> {
        (1..self.teeth.shape().teeth)
            .map(|tooth| (tooth, self.gap_to_tooth(tooth, beyond, stop)))
            .min_by(|a, b| a.1.mm().total_cmp(&b.1.mm()))
    }
}

/// Signed distance from a wheel's body in a pose to a point, below zero inside.
pub(super) fn distance_mm(body: &WheelBody, pose: &Pose, point: &Vector3<f64>) -> f64 {
    let from = point - pose.origin;
    let axial_mm = from.dot(&pose.axis);
    let radius_mm = (from - pose.axis * axial_mm).norm();
    body.profile().distance_mm(ProfilePoint::new(radius_mm, axial_mm))
}
