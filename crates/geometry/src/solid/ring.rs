//! The rings of a swept body: its section at one station, turned by the helix and drawn out into a
//! circle where the flutes run out.

use std::f64::consts::TAU;

use nalgebra::Vector3;

use super::mesh::Surface;
use super::plane::{Point, polar};
use super::tooth::ToothLoop;

/// The whole section, all its teeth, and for each point its place on the circle into which it
/// runs out.
#[derive(Clone, Debug)]
pub(super) struct Loop {
    pub(super) points: Vec<Point>,
    pub(super) surfaces: Vec<Surface>,
    circle: Vec<Point>,
}

/// One station of the sweep.
#[derive(Clone, Copy, Debug)]
pub(super) struct Station {
    /// Place along the axis.
    pub(super) z_mm: f64,
    /// How far the section is turned.
    pub(super) turn_rad: f64,
    /// How far it is drawn out into the circle, from 0 to 1.
    pub(super) share: f64,
    /// The circle's radius.
    pub(super) radius_mm: f64,
}

impl Loop {
    /// As many teeth as there are, one behind another.
    pub(super) fn new(tooth: &ToothLoop, teeth: u32) -> Self {
        let pitch_rad = TAU / f64::from(teeth);
        let own = circle_angles(tooth, pitch_rad);
        let count = tooth.points.len() * teeth as usize;
        let mut all = Self {
            points: Vec::with_capacity(count),
            surfaces: Vec::with_capacity(count),
            circle: Vec::with_capacity(count),
        };
        for number in 0..teeth {
            let turn_rad = pitch_rad * f64::from(number);
            let (sin, cos) = turn_rad.sin_cos();
            let turned = |p: &Point| Point::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos);
            all.points.extend(tooth.points.iter().map(turned));
            all.circle.extend(own.iter().map(|at_rad| polar(1.0, at_rad + turn_rad)));
            all.surfaces.extend_from_slice(&tooth.surfaces);
        }
        all
    }

    /// Largest distance between neighbours on the section, and largest change of a point's way to
    /// its place on a circle between neighbours.
    pub(super) fn strides(&self, radius_mm: f64) -> (f64, f64) {
        let way = |at: usize| self.circle[at] * radius_mm - self.points[at];
        let pairs = (0..self.points.len()).map(|at| (at, (at + 1) % self.points.len()));
        pairs.fold((0.0, 0.0), |(stride, change), (at, next)| {
            let step = (self.points[next] - self.points[at]).norm();
            (step.max(stride), (way(next) - way(at)).norm().max(change))
        })
    }

    /// The longest way of a point to its place on a circle.
    pub(super) fn way_mm(&self, radius_mm: f64) -> f64 {
        let both = self.points.iter().zip(&self.circle);
        both.map(|(point, place)| (place * radius_mm - point).norm()).fold(0.0, f64::max)
    }

    /// The points of a station.
    pub(super) fn ring(&self, station: Station) -> impl Iterator<Item = Vector3<f64>> + '_ {
        let Station { z_mm, turn_rad, share, radius_mm } = station;
        let (sin, cos) = turn_rad.sin_cos();
        self.points.iter().zip(&self.circle).map(move |(point, place)| {
            let p = point * (1.0 - share) + place * (share * radius_mm);
            Vector3::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos, z_mm)
        })
    }
}

/// Where each point of a tooth's section goes on the circle: points of the back keep their angle,
/// those of the gullet are shared out by their way along it, so that none passes another.
fn circle_angles(tooth: &ToothLoop, pitch_rad: f64) -> Vec<f64> {
    let angle = |point: &Point| point.y.atan2(point.x).rem_euclid(TAU);
    let mut angles: Vec<f64> = tooth.points[..=tooth.heel].iter().map(angle).collect();
    angles[0] = 0.0;
    let heel_rad = angles[tooth.heel];
    let edge = polar(tooth.points[0].norm(), pitch_rad);
    let gullet = tooth.points[tooth.heel..].iter().copied().chain([edge]);
    let mut way_mm = 0.0;
    let ways: Vec<f64> = gullet
        .clone()
        .zip(gullet.skip(1))
        .map(|(from, to)| {
            way_mm += (to - from).norm();
            way_mm
        })
        .collect();
    let inner = &ways[..ways.len() - 1];
    angles.extend(inner.iter().map(|way| heel_rad + (pitch_rad - heel_rad) * way / way_mm));
    angles
}
