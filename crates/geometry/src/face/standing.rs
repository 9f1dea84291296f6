//! The surface of a wheel as it stands in a flute, carried into the tooth's own section.
//!
//! A point of the surface is a place of the wheel's half section and a turn round its axis, from
//! the lowest point of its circle.

use std::f64::consts::FRAC_PI_2;

use crate::search::{crossing, dent};
use crate::wheel::{ElementShape, Part, ProfilePoint, WheelBody};

/// A turn is found where what must vanish there is no more, in millimetres or their squares.
const TURN_MISS: f64 = 1e-12;
/// Places on a stretch of the half section at which it is first looked.
const PLACES: u32 = 48;
/// To what share of the stretch the place beside the best of them is told.
const PLACE_SHARE: f64 = 1e-6;
/// Steps toward the height of the rim; it takes three to five, and halving fewer than these.
const STEPS_MAX: u32 = 60;
/// How closely the rim is brought to its distance from the cutter's axis, in millimetres.
const RIM_ERROR_MM: f64 = 1e-10;

/// A point of the wheel in the tooth's own section.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Carried {
    pub(super) heelward_rad: f64,
    pub(super) radius_mm: f64,
    /// Where it stands along the cutter, toward the tip.
    pub(super) along_mm: f64,
    /// Its height above the cutter's axis.
    up_mm: f64,
}

/// A wheel in its place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Standing {
    pub(super) elements: Vec<ElementShape>,
    /// The outer end of the flat side.
    rim: ProfilePoint,
    pub(super) wheel_radius_mm: f64,
    pub(super) twist_rad_per_mm: f64,
    swivel: (f64, f64),
    offset_mm: f64,
    /// Height of the wheel's axis above the cutter's.
    pub(super) axis_mm: f64,
}

impl Standing {
    /// A wheel whose lowest point of all stands `root_mm` from the cutter's axis; None where no
    /// height of the wheel above the axis brings it there.
    ///
    /// **Source** \[own-derivation\] the distance of every point grows by z / r for each length by
    /// which the wheel is raised, so Newton's steps on the least of them. **Departs** nowhere.
    /// **Error** 1e-9 mm. **Domain** a lowest point above the axis.
    pub(super) fn new(
        wheel: &WheelBody,
        twist_rad_per_mm: f64,
        swivel: (f64, f64),
        (offset_mm, root_mm): (f64, f64),
    ) -> Option<Self> {
        let wheel_radius_mm = wheel.radius_mm();
        let elements = wheel.profile().elements();
        let mut standing = Self {
            elements: elements.iter().map(|element| element.shape).collect(),
            rim: rim(wheel),
            wheel_radius_mm,
            twist_rad_per_mm,
            swivel,
            offset_mm,
            axis_mm: wheel_radius_mm,
        };
        if standing.lowest().radius_mm > root_mm {
            return None;
        }
        let (mut low_mm, mut high_mm, mut rim_mm) = (0.0, root_mm, root_mm);
        for _ in 0..STEPS_MAX {
            standing.axis_mm = wheel_radius_mm + rim_mm;
            let lowest = standing.lowest();
            let above_mm = lowest.radius_mm - root_mm;
            if above_mm.abs() < RIM_ERROR_MM {
                break;
            }
            if above_mm > 0.0 {
                high_mm = rim_mm
            } else {
                low_mm = rim_mm
            }
            let next_mm = rim_mm - above_mm * lowest.radius_mm / lowest.up_mm;
            let is_within = low_mm < next_mm && next_mm < high_mm;
            rim_mm = if is_within { next_mm } else { 0.5 * (low_mm + high_mm) };
        }
        Some(standing)
    }

    /// A point of the surface where it stands in the tooth's section.
    pub(super) fn carried(&self, place: ProfilePoint, turn_rad: f64) -> Carried {
        let (sin, cos) = self.swivel;
        let across_mm = place.radius_mm * turn_rad.sin();
        let along_mm = across_mm * cos - place.axial_mm * sin;
        let y_mm = self.offset_mm - across_mm * sin - place.axial_mm * cos;
        let up_mm = self.axis_mm - place.radius_mm * turn_rad.cos();
        Carried {
            heelward_rad: y_mm.atan2(up_mm) + self.twist_rad_per_mm * along_mm,
            radius_mm: y_mm.hypot(up_mm),
            along_mm,
            up_mm,
        }
    }

    /// The turn at which a circle of the wheel comes nearest to the cutter's axis. On the lower
    /// half of a circle the square of that distance is convex along the rim's own direction, so
    /// that its slope vanishes once.
    fn lowest_turn(&self, place: ProfilePoint) -> f64 {
        let (sin, cos) = self.swivel;
        let y_mm = self.offset_mm - place.axial_mm * cos;
        let slope = |turn_rad: f64| {
            let (across, down) = turn_rad.sin_cos();
            let y_mm = y_mm - place.radius_mm * across * sin;
            let up_mm = self.axis_mm - place.radius_mm * down;
            up_mm * across - y_mm * sin * down
        };
        let [back, forth] = [-FRAC_PI_2, FRAC_PI_2].map(|turn| (turn, slope(turn)));
        crossing(slope, back, forth, TURN_MISS)
    }

    /// The point of the whole wheel that comes nearest to the cutter's axis.
    fn lowest(&self) -> Carried {
        let at = |shape: &ElementShape, along_mm: f64| {
            let place = shape.at(along_mm);
            self.carried(place, self.lowest_turn(place))
        };
        let of = |shape: &ElementShape| {
            let (along_mm, _) = greatest(shape.length_mm(), |mm| Some(-at(shape, mm).radius_mm))?;
            Some(at(shape, along_mm))
        };
        let all = self.elements.iter().filter_map(of);
        let nearest = all.min_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm));
        nearest.unwrap_or_else(|| self.carried(self.rim, 0.0))
    }

    /// The points at which a circle of the wheel crosses a cylinder about the cutter's axis, on
    /// either side of its lowest.
    fn crossings(&self, place: ProfilePoint, radius_mm: f64) -> [Option<Carried>; 2] {
        let (sin, cos) = self.swivel;
        let y_mm = self.offset_mm - place.axial_mm * cos;
        let outside = |turn_rad: f64| {
            let (across, down) = turn_rad.sin_cos();
            let y_mm = y_mm - place.radius_mm * across * sin;
            let up_mm = self.axis_mm - place.radius_mm * down;
            y_mm * y_mm + up_mm * up_mm - radius_mm * radius_mm
        };
        let lowest = self.lowest_turn(place);
        let inner = (lowest, outside(lowest));
        [-FRAC_PI_2, FRAC_PI_2].map(|end| {
            let outer = (end, outside(end));
            let is_crossed = inner.1 <= 0.0 && outer.1 > 0.0;
            let turn_rad = || crossing(outside, inner, outer, TURN_MISS);
            is_crossed.then(|| self.carried(place, turn_rad()))
        })
    }

    /// How far heelward the surface comes at a distance from the axis; None where it does not come
    /// there.
    pub(super) fn farthest_rad(&self, radius_mm: f64) -> Option<f64> {
        let of = |shape: &ElementShape| {
            let at = |along_mm: f64| {
                let crossings = self.crossings(shape.at(along_mm), radius_mm);
                let angles = crossings.into_iter().flatten().map(|point| point.heelward_rad);
                angles.reduce(f64::max)
            };
            Some(greatest(shape.length_mm(), at)?.1)
        };
        self.elements.iter().filter_map(of).reduce(f64::max)
    }

    /// How far along the cutter, either way, the flat side stands within a circle about its axis.
    pub(super) fn half_chord_mm(&self, radius_mm: f64) -> f64 {
        let crossings = self.crossings(self.rim, radius_mm);
        crossings.into_iter().flatten().map(|point| point.along_mm.abs()).fold(0.0, f64::max)
    }
}

/// The outermost point of a wheel's flat side.
fn rim(wheel: &WheelBody) -> ProfilePoint {
    let flat = wheel.profile().elements().iter().filter(|element| element.part == Part::Face);
    let ends = flat.flat_map(|flat| [0.0, flat.shape.length_mm()].map(|mm| flat.shape.at(mm)));
    let outer = ends.max_by(|a, b| a.radius_mm.total_cmp(&b.radius_mm));
    outer.unwrap_or(ProfilePoint::new(wheel.radius_mm(), 0.0))
}

/// Where a function along a stretch is greatest, and how much: a walk, then the dent beside the
/// best place. None where it has no value at all.
fn greatest(length_mm: f64, f: impl Fn(f64) -> Option<f64>) -> Option<(f64, f64)> {
    let value = |along_mm: f64| f(along_mm).unwrap_or(f64::NEG_INFINITY);
    let step_mm = length_mm / f64::from(PLACES);
    let walked = (0..=PLACES).map(|place| step_mm * f64::from(place));
    let walked = walked.map(|along_mm| (along_mm, value(along_mm)));
    let best = walked.reduce(|best, one| if one.1 > best.1 { one } else { best })?;
    if !best.1.is_finite() {
        return None;
    }
    let ends = ((best.0 - step_mm).max(0.0), (best.0 + step_mm).min(length_mm));
    let (at, below) = dent(|along_mm| -value(along_mm), ends, PLACE_SHARE * length_mm);
    Some(if -below > best.1 { (at, -below) } else { best })
}
