//! The section of one tooth with its gullet.

use super::error::SolidError;
use super::mesh::Surface;
use super::plane::{Chords, Point, polar};
use crate::outline::OutlinePoint;
use crate::quantity::{Angle, Length};

/// The section of a tooth: its back as it really is, and sizes that close the gullet.
///
/// The back comes from grinding and is a measurement. The gullet is a picture and no measurement:
/// a face that is straight over half the depth, and a smooth plain curve from the heel down to the
/// core and up to the foot of the next face. A core that the back itself cuts into is drawn
/// thinner, one that would leave gullets deeper than wide, or teeth
/// thin as spokes, is drawn thicker.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothForm<'a> {
    /// The back of the tooth from the edge, at angle zero, to the heel, in heelward order.
    pub back: &'a [OutlinePoint],
    /// Where the land ends.
    pub land_end: Angle,
    /// Radial rake.
    pub rake: Angle,
    /// Diameter of the core under the flutes.
    pub core_diameter: Length,
}

/// Depth to which the face is straight, as a share of the gullet's (own choice, no source).
const STRAIGHT_SHARE: f64 = 0.5;

/// Where the gullet is deepest, between the foot of the face and the heel (own choice, no source).
const ROOT_SHARE: f64 = 0.45;

/// The core's share of the least radius of the back, at most (own choice, no source).
const CORE_SHARE_MAX: f64 = 0.9;

/// The core's share of the edge's radius, at least (own choice, no source).
const CORE_SHARE_MIN: f64 = 0.2;

/// The gullet's depth, at most, as a share of its width from heel to edge and of the width of the
/// tooth's back (own choice, no source).
const DEPTH_SHARES_MAX: (f64, f64) = (1.0, 2.0);

/// How far a hooked face may reach under the back, as a share of the back's width (own choice, no
/// source).
const UNDER_SHARE_MAX: f64 = 0.5;

/// How far out the handles of the gullet's curves stand, as shares of their chords: at the heel,
/// on either side of the root, at the foot (own choice, no source).
const HANDLES: [f64; 4] = [0.5, 0.45, 0.5, 0.5];

/// One tooth's share of the section, from its edge to just before the next edge.
#[derive(Clone, Debug)]
pub(super) struct ToothLoop {
    /// The points, the edge first.
    pub(super) points: Vec<Point>,
    /// The surface that runs from each point to the next.
    pub(super) surfaces: Vec<Surface>,
    /// The place of the heel.
    pub(super) heel: usize,
    /// The place of the gullet's deepest point.
    pub(super) root: usize,
}

impl ToothForm<'_> {
    /// Radius of the edge.
    pub(super) fn edge_mm(&self) -> f64 {
        self.back.first().map_or(0.0, |edge| edge.radius.mm())
    }

    pub(super) fn check(&self, pitch_rad: f64) -> Result<(), SolidError> {
        let at = |point: &OutlinePoint| point.heelward.radians();
        let [first, .., last] = self.back else {
            return Err(SolidError::invalid("back", "it needs at least an edge and a heel"));
        };
        if at(first).abs() > 1e-9 {
            return Err(SolidError::invalid("back", "it begins at the edge, at angle zero"));
        }
        if !(at(last) > 0.0 && at(last) < pitch_rad) {
            let reason = format!("the heel at {} rad is not before the next edge", at(last));
            return Err(SolidError::invalid("back", reason));
        }
        if !self.back.windows(2).all(|pair| at(&pair[0]) < at(&pair[1])) {
            return Err(SolidError::invalid("back", "its angles do not grow"));
        }
        let is_radius = |point: &OutlinePoint| point.radius.mm() > 1e-3 && point.radius.mm() < 1e4;
        if !self.back.iter().all(is_radius) {
            return Err(SolidError::invalid("back", "a radius is not between 0.001 and 10000 mm"));
        }
        if self.land_end.radians().is_nan() || self.land_end <= Angle::ZERO {
            return Err(SolidError::invalid("land_end", "a land has some width"));
        }
        if !(-45.0..=45.0).contains(&self.rake.degrees()) {
            return Err(SolidError::invalid("rake", "it is outside -45 to 45 deg"));
        }
        super::error::check_over_zero("core_diameter", self.core_diameter)
    }

    /// The section of a tooth that has passed the check.
    pub(super) fn section(&self, pitch_rad: f64, chords: &Chords) -> ToothLoop {
        let land_rad = self.land_end.radians();
        let mut points = vec![polar(self.edge_mm(), 0.0)];
        let (land, back) = self.parted(land_rad);
        chords.thin(&land, &mut points);
        let land_end = points.len() - 1;
        chords.thin(&back, &mut points);
        let heel = points.len() - 1;
        let root = self.add_gullet(pitch_rad, chords, &mut points);
        // The last point is the next tooth's edge.
        points.pop();
        let surface = |at: usize| match at {
            at if at < land_end => Surface::Land,
            at if at < heel => Surface::Back,
            _ => Surface::Flute,
        };
        let surfaces = (0..points.len()).map(surface).collect();
        ToothLoop { points, surfaces, heel, root }
    }

    /// The back before and behind the end of the land, which belongs to both.
    fn parted(&self, land_rad: f64) -> (Vec<Point>, Vec<Point>) {
        let point = |point: &OutlinePoint| polar(point.radius.mm(), point.heelward.radians());
        let all: Vec<Point> = self.back.iter().map(point).collect();
        let count = self.back.len();
        let split =
            self.back.partition_point(|point| point.heelward.radians() < land_rad).clamp(1, count);
        if split == count {
            return (all.clone(), vec![all[count - 1]]);
        }
        let (before, after) = (&self.back[split - 1], &self.back[split]);
        let (from, to) = (before.heelward.radians(), after.heelward.radians());
        let end = all[split - 1].lerp(&all[split], ((land_rad - from) / (to - from)).max(0.0));
        let land = [&all[..split], &[end]].concat();
        let back = if (all[split] - end).norm() < 1e-9 {
            all[split..].to_vec()
        } else {
            [&[end], &all[split..]].concat()
        };
        (land, back)
    }

    /// Adds the way from the heel to the next edge; gives the place of the root.
    fn add_gullet(&self, pitch_rad: f64, chords: &Chords, points: &mut Vec<Point>) -> usize {
        let heel = points[points.len() - 1];
        let edge = polar(self.edge_mm(), pitch_rad);
        let (down, foot) = self.face(pitch_rad, heel, edge);
        let (root, heelward) = self.root(pitch_rad, foot);
        let (behind_mm, before_mm) = ((root - heel).norm(), (foot - root).norm());
        let inward = -heel.normalize();
        // At the root no handle reaches over to the neighbours' gullets.
        let reach_mm = self.core_mm(pitch_rad) * (0.5 * pitch_rad).min(1.5).tan();
        let [a, b, c, d] = HANDLES;
        let d_mm = (d * before_mm).min((foot - edge).norm());
        let (b_mm, c_mm) = ((b * behind_mm).min(reach_mm), (c * before_mm).min(reach_mm));
        let falls = [heel, heel + inward * (a * behind_mm), root - heelward * b_mm, root];
        let rises = [root, root + heelward * c_mm, foot + down * d_mm, foot];
        chords.cubic(&falls, points);
        let place = points.len() - 1;
        chords.cubic(&rises, points);
        chords.straight(foot, edge, points);
        place
    }

    fn heel_rad(&self) -> f64 {
        self.back.last().map_or(0.0, |heel| heel.heelward.radians())
    }

    /// The core's radius as it is drawn.
    fn core_mm(&self, pitch_rad: f64) -> f64 {
        let edge_mm = self.edge_mm();
        let least_mm = self.back.iter().map(|point| point.radius.mm()).fold(edge_mm, f64::min);
        let (gap_mm, back_mm) =
            (edge_mm * (pitch_rad - self.heel_rad()), edge_mm * self.heel_rad());
        let deepest_mm = (DEPTH_SHARES_MAX.0 * gap_mm).min(DEPTH_SHARES_MAX.1 * back_mm);
        let thinnest_mm = (edge_mm - deepest_mm).max(CORE_SHARE_MIN * edge_mm);
        (0.5 * self.core_diameter.mm()).max(thinnest_mm).min(CORE_SHARE_MAX * least_mm)
    }

    /// The way inward along the next tooth's face, and the face's foot.
    fn face(&self, pitch_rad: f64, heel: Point, edge: Point) -> (Point, Point) {
        // The face runs inward from the next edge, turned heelward by the rake.
        let down = -polar(1.0, pitch_rad - self.rake.radians());
        let width_mm = (heel - polar(self.edge_mm(), 0.0)).norm();
        let under_mm = UNDER_SHARE_MAX * width_mm / self.rake.sin().max(1e-9);
        let straight_mm = STRAIGHT_SHARE * (self.edge_mm() - self.core_mm(pitch_rad));
        (down, edge + down * straight_mm.min(under_mm))
    }

    /// The gullet's deepest point, and the way heelward there.
    fn root(&self, pitch_rad: f64, foot: Point) -> (Point, Point) {
        let edge = polar(1.0, pitch_rad);
        let foot_rad = pitch_rad + edge.perp(&foot).atan2(edge.dot(&foot));
        let root_rad = foot_rad - ROOT_SHARE * (foot_rad - self.heel_rad());
        let ahead = polar(1.0, root_rad);
        (ahead * self.core_mm(pitch_rad), Point::new(-ahead.y, ahead.x))
    }
}
