//! Where the tooth stands on the sheet.

use std::f64::consts::{FRAC_PI_2, PI};

use geometry::Length;
use kurbo::{Point, Vec2};
use shop::plan::{Peripheral, RegrindPlan};

use super::super::profile::{Polar, Profile};
use crate::scene::Scale;

/// How much of the back is drawn, in widths of the land: a back up to the first is drawn whole, a
/// wider one is broken off at the second.
const LANDS_WHOLE: f64 = 7.5;
const LANDS_BROKEN: f64 = 6.0;

/// Where on a sheet the tooth has room.
#[derive(Clone, Copy, Debug)]
pub(super) struct Frame {
    /// Paper for the tooth.
    pub(super) paper_mm: (f64, f64),
    /// Where its upper edge stands.
    pub(super) top_mm: f64,
    /// Where its edge stands.
    pub(super) edge_x_mm: f64,
    /// How far down the face and the heel are drawn.
    pub(super) bottom_mm: f64,
}

impl Frame {
    /// The sheet of the section by itself.
    pub(super) const SHEET: Self =
        Self { paper_mm: (132.0, 62.0), top_mm: 37.0, edge_x_mm: 141.0, bottom_mm: 103.0 };
}

/// The tooth's profile and its place on the sheet.
pub(super) struct View<'a> {
    profile: Profile<'a>,
    radius_mm: f64,
    rake_rad: f64,
    scale: Scale,
    edge: Point,
    is_broken: bool,
    bottom_mm: f64,
}

impl<'a> View<'a> {
    pub(super) fn of(plan: &RegrindPlan, peripheral: &'a Peripheral, frame: Frame) -> Self {
        let land = peripheral.expected.land.max(plan.wanted.land.value);
        let radius = peripheral.section.circle_radius();
        let back = radius * peripheral.outline_before.heel().heelward.radians();
        let is_broken = back > land * LANDS_WHOLE;
        let reach = if is_broken { land * LANDS_BROKEN } else { back };
        let profile = Profile::to(peripheral, reach);
        let radius_mm = radius.mm();
        let corners = || {
            let before = profile.before_from_face().into_iter();
            before.chain(profile.points(Profile::after)).map(Polar::plane)
        };
        let highest = corners().map(|(_, out)| out - radius_mm).fold(0.0, f64::max);
        let lowest = corners().map(|(_, out)| out - radius_mm).fold(0.0, f64::min);
        let width = corners().map(|(heelward, _)| heelward).fold(0.0, f64::max);
        let (wide, high) = frame.paper_mm;
        let scale = Scale::fitting(width, wide).min(Scale::fitting(highest - lowest, high));
        let edge = Point::new(frame.edge_x_mm, frame.top_mm + highest * scale.factor());
        let rake_rad = plan.request.cutter.rake().radians();
        let bottom_mm = frame.bottom_mm;
        Self { profile, radius_mm, rake_rad, scale, edge, is_broken, bottom_mm }
    }

    pub(super) const fn profile(&self) -> &Profile<'a> {
        &self.profile
    }

    pub(super) const fn scale(&self) -> Scale {
        self.scale
    }

    /// Where the new edge stands.
    pub(super) const fn edge(&self) -> Point {
        self.edge
    }

    /// How far down the face and the heel are drawn.
    pub(super) const fn bottom_mm(&self) -> f64 {
        self.bottom_mm
    }

    /// Whether the heel lies outside the drawing.
    pub(super) const fn is_broken(&self) -> bool {
        self.is_broken
    }

    /// Radius of the cutting circle on paper.
    pub(super) fn circle_mm(&self) -> f64 {
        self.radius_mm * self.scale.factor()
    }

    /// A length of the tooth on paper.
    pub(super) fn paper_mm(&self, length: Length) -> f64 {
        length.mm() * self.scale.factor()
    }

    /// The cutter's axis.
    pub(super) fn axis(&self) -> Point {
        self.edge + Vec2::new(0.0, self.circle_mm())
    }

    /// A point of the section.
    pub(super) fn at(&self, point: Polar) -> Point {
        let (heelward, outward) = point.plane();
        self.axis() + Vec2::new(-heelward, -outward) * self.scale.factor()
    }

    /// Points of the section.
    pub(super) fn points(&self, points: &[Polar]) -> Vec<Point> {
        points.iter().map(|point| self.at(*point)).collect()
    }

    /// The point of the cutting circle at an angle, and the way outward there.
    pub(super) fn on_circle(&self, heelward_rad: f64) -> (Point, Vec2) {
        let point = self.at(Polar { heelward_rad, radius_mm: self.radius_mm });
        (point, Vec2::from_angle(-FRAC_PI_2 - heelward_rad))
    }

    /// The way down along the face of the tooth.
    pub(super) fn down_face(&self) -> Vec2 {
        Vec2::from_angle(FRAC_PI_2 + self.rake_rad)
    }

    /// The way heelward from a point at an angle below the tangent of the edge.
    pub(super) fn below_tangent(&self, angle_rad: f64) -> Vec2 {
        Vec2::from_angle(PI - angle_rad)
    }

    /// Rake on the face.
    pub(super) const fn rake_rad(&self) -> f64 {
        self.rake_rad
    }
}
