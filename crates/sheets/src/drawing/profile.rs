//! The tooth's profile before the wheel, after the primary and after the secondary.

use geometry::outline::Outline;
use geometry::section::GroundSection;
use geometry::{Angle, Length};
use shop::plan::Peripheral;
use shop::record::Cutter;

/// Core of a cutter on whose record none stands, as a share of its diameter.
const CORE_SHARE: f64 = 0.57;

/// Diameter of a cutter's core, from its record if it stands there.
pub(crate) fn core_diameter(cutter: &Cutter) -> Length {
    cutter.core_diameter().unwrap_or(cutter.diameter() * CORE_SHARE)
}

/// One point of a profile: angle heelward of the new edge, and distance from the axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Polar {
    pub(crate) heelward_rad: f64,
    pub(crate) radius_mm: f64,
}

impl Polar {
    /// Heelward of the edge's radius, and outward of the axis along it, in millimetres.
    pub(crate) fn plane(self) -> (f64, f64) {
        let (sin, cos) = self.heelward_rad.sin_cos();
        (self.radius_mm * sin, self.radius_mm * cos)
    }
}

/// Points that are spread over a tooth's back, besides those of its corners.
const POINTS: u32 = 240;

/// What counts as lower: a tenth of a micrometre.
const LOWER_MM: f64 = 1e-4;

/// The three surfaces of one tooth, up to some place of its back.
pub(crate) struct Profile<'a> {
    peripheral: &'a Peripheral,
    angles_rad: Vec<f64>,
}

impl<'a> Profile<'a> {
    /// The profile from the edge to a distance behind it, or to the heel where that comes first.
    pub(crate) fn to(peripheral: &'a Peripheral, reach: Length) -> Self {
        let heel_rad = peripheral.outline_before.heel().heelward.radians().max(1e-6);
        let end_rad = heel_rad.min(reach / peripheral.section.circle_radius());
        let own = peripheral.outline_before.points().iter().map(|point| point.heelward.radians());
        let grid = (0..=POINTS).map(|step| end_rad * f64::from(step) / f64::from(POINTS));
        let mut angles_rad: Vec<f64> = grid.chain(own).collect();
        angles_rad.retain(|at| (0.0..=end_rad).contains(at));
        let mut profile = Self { peripheral, angles_rad };
        profile.sort();
        profile.add_corners();
        profile
    }

    fn sort(&mut self) {
        self.angles_rad.sort_by(f64::total_cmp);
        self.angles_rad.dedup_by(|a, b| (*a - *b).abs() < 1e-12);
    }

    /// Adds the angles at which one surface passes below another, so that corners are sharp.
    fn add_corners(&mut self) {
        let primary = |at: f64| self.surface(at) - self.before(at);
        let secondary = |at: f64| ground(&self.peripheral.secondary.section, at) - self.primary(at);
        let mut corners = crossings(&self.angles_rad, primary);
        corners.extend(crossings(&self.angles_rad, secondary));
        self.angles_rad.extend(corners);
        self.sort();
    }

    /// Radius before the wheel came; not a number where there is no metal.
    pub(crate) fn before(&self, at_rad: f64) -> f64 {
        outlined(&self.peripheral.outline_before, at_rad)
    }

    /// The primary's section, whether or not there is metal to grind; endless where the wheel
    /// leaves no surface.
    pub(crate) fn surface(&self, at_rad: f64) -> f64 {
        ground(&self.peripheral.section, at_rad)
    }

    /// Radius after the primary.
    pub(crate) fn primary(&self, at_rad: f64) -> f64 {
        self.surface(at_rad).min(self.before(at_rad))
    }

    /// Radius after the secondary.
    pub(crate) fn after(&self, at_rad: f64) -> f64 {
        self.primary(at_rad).min(ground(&self.peripheral.secondary.section, at_rad))
    }

    /// Where the profile ends.
    pub(crate) fn end_rad(&self) -> f64 {
        self.angles_rad.last().copied().unwrap_or(0.0)
    }

    /// The points of one of the surfaces, in heelward order, those that are numbers.
    pub(crate) fn points(&self, radius: impl Fn(&Self, f64) -> f64) -> Vec<Polar> {
        let point = |at: &f64| Polar { heelward_rad: *at, radius_mm: radius(self, *at) };
        self.angles_rad.iter().map(point).filter(|point| point.radius_mm.is_finite()).collect()
    }

    /// The points of the tooth before the wheel came, from its old edge on.
    pub(crate) fn before_from_face(&self) -> Vec<Polar> {
        let all = self.peripheral.outline_before.points().iter();
        let own = all.take_while(|point| point.heelward.radians() < 0.0).map(|point| Polar {
            heelward_rad: point.heelward.radians(),
            radius_mm: point.radius.mm(),
        });
        own.chain(self.points(Self::before)).collect()
    }

    /// Where the primary ends: the first angle behind which something lies below its section.
    pub(crate) fn land_end(&self) -> Option<Polar> {
        let lower = |at: &&f64| self.after(**at) < self.surface(**at) - LOWER_MM;
        let first = self.angles_rad.iter().position(|at| lower(&at))?;
        let heelward_rad = self.angles_rad[first.saturating_sub(1)];
        Some(Polar { heelward_rad, radius_mm: self.after(heelward_rad) })
    }

    /// How far the old edge stands above the new one.
    pub(crate) fn stock(&self) -> Length {
        let edge = self.peripheral.outline_before.points().first();
        edge.map_or(Length::ZERO, |edge| edge.radius - self.peripheral.section.circle_radius())
    }
}

fn outlined(outline: &Outline, at_rad: f64) -> f64 {
    outline.radius_at(Angle::from_radians(at_rad)).map_or(f64::NAN, Length::mm)
}

/// The radius that a wheel leaves; endless where it leaves none.
pub(crate) fn ground(section: &GroundSection, at_rad: f64) -> f64 {
    section.radius_at(Angle::from_radians(at_rad)).map_or(f64::INFINITY, Length::mm)
}

/// Where a difference changes sign between neighbouring angles, closed in on by halving.
fn crossings(angles_rad: &[f64], difference: impl Fn(f64) -> f64) -> Vec<f64> {
    let changes = |pair: &&[f64]| (difference(pair[0]) < 0.0) != (difference(pair[1]) < 0.0);
    let close_in = |pair: &[f64]| {
        let (mut low, mut high) = (pair[0], pair[1]);
        let below = difference(low) < 0.0;
        for _ in 0..40 {
            let middle = 0.5 * (low + high);
            if (difference(middle) < 0.0) == below { low = middle } else { high = middle }
        }
        low
    };
    angles_rad.windows(2).filter(changes).map(close_in).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_crossing_is_found_between_rays() {
        let found = crossings(&[0.0, 1.0, 2.0, 3.0], |at| at * at - 2.0);
        assert_eq!(found.len(), 1);
        assert!((found[0] - 2.0_f64.sqrt()).abs() < 1e-9);
    }

    #[test]
    fn a_point_a_quarter_turn_behind_lies_straight_behind() {
        let quarter = Polar { heelward_rad: std::f64::consts::FRAC_PI_2, radius_mm: 3.0 };
        let (heelward, outward) = quarter.plane();
        assert!((heelward - 3.0).abs() < 1e-12 && outward.abs() < 1e-12);
    }
}
