//! From the width of a land to the stand of its edge.

use crate::record::LandStage;

use super::nominal::Nominal;

/// Steps of a curve, on either side of the plan.
const STEPS_EACH_WAY: i32 = 24;

/// The first step of stand, in mm.
const STEP_MM: f64 = 0.004;

/// The farthest that a curve goes, in mm of radius.
const STAND_MM_MAX: f64 = 0.4;

/// How far beyond its ends a curve is carried on straight, as a share of the planned land.
const CARRIED_SHARE: f64 = 0.5;

/// Lands by stand for one stage, from the real sections: an edge that stands farther out has the
/// narrower land, at a rate of some seven to one.
pub(super) struct LandCurve {
    pub(super) stage: LandStage,
    /// (stand, land), stands rising, lands falling.
    points: Vec<(f64, f64)>,
    /// Land gained per degree of relief and per millimetre of the wheel's corner.
    pub(super) slopes: [f64; 2],
    /// The land of the plan itself, whatever the curve was taken about.
    planned_mm: f64,
}

/// A land as a stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stand {
    /// In mm of radius, above nothing where the edge stands out.
    pub(super) stand_mm: f64,
    /// Land gained per length of stand; below nothing.
    pub(super) land_per_stand: f64,
}

impl LandCurve {
    /// The curve of a plan; None where nothing ends the land at the planned size.
    ///
    /// **Source** \[own-derivation\] the land on the real section at each stand, and cubics through
    /// four neighbours between. **Departs** nowhere. **Error** of a stand below 0.1 µm. **Domain**
    /// stands up to 0.4 mm, lands from a fortieth of the planned one up.
    pub(super) fn of(plan: &Nominal<'_>, nominal: &Nominal<'_>, stage: LandStage) -> Option<Self> {
        let planned_mm = plan.land_mm(stage, 0.0)?;
        let planned = nominal.land_mm(stage, 0.0)?;
        let mut points = vec![(0.0, planned)];
        for sign in [-1.0, 1.0] {
            let mut last = (0.0, planned);
            for step in 1..=STEPS_EACH_WAY {
                let share = f64::from(step) / f64::from(STEPS_EACH_WAY);
                // Steps grow outward, so that small faults are finely resolved.
                let even_mm = STEP_MM * f64::from(step);
                let stand_mm = sign * (even_mm + (STAND_MM_MAX - even_mm) * share.powi(3));
                let Some(land) = nominal.land_mm(stage, stand_mm) else { break };
                if land < planned / 40.0 || (land - last.1) * sign >= 0.0 {
                    break;
                }
                last = (stand_mm, land);
                points.push(last);
            }
        }
        points.sort_by(|a, b| a.0.total_cmp(&b.0));
        let slopes = nominal.land_slopes(stage);
        (points.len() >= 6).then_some(Self { stage, points, slopes, planned_mm })
    }

    /// The stand at which the land has this width; a little beyond the curve's ends it is carried
    /// on straight. None where it is narrower than any grind leaves it.
    pub(super) fn stand(&self, land_mm: f64) -> Option<Stand> {
        let (widest, narrowest) = (self.points[0], self.points[self.points.len() - 1]);
        let carried = CARRIED_SHARE * self.planned_mm;
        if land_mm < narrowest.1 - carried {
            return None;
        }
        // A land that ran to the heel says no more than that the edge was ground at least so deep.
        let land_mm = land_mm.min(widest.1 + carried);
        let on_curve = land_mm.clamp(narrowest.1, widest.1);
        let after = self.points.partition_point(|point| point.1 > on_curve);
        let by_land = self.four(after).map(|(stand, land)| (land, stand));
        let (stand_mm, stand_per_land) = cubic(by_land, on_curve);
        let stand_mm = stand_mm + (land_mm - on_curve) * stand_per_land;
        Some(Stand { stand_mm, land_per_stand: 1.0 / stand_per_land })
    }

    /// The land at a stand; beyond the curve's ends it is carried on straight.
    pub(super) fn land_mm(&self, stand_mm: f64) -> f64 {
        let on_curve = stand_mm.clamp(self.points[0].0, self.points[self.points.len() - 1].0);
        let after = self.points.partition_point(|point| point.0 < on_curve);
        let (land, slope) = cubic(self.four(after), on_curve);
        (land + (stand_mm - on_curve) * slope).max(0.0)
    }

    /// Whether a land is so wide that nothing of the tooth's back ends it.
    pub(super) fn runs_out(&self, land_mm: f64) -> bool {
        land_mm > self.points[0].1 + CARRIED_SHARE * self.planned_mm
    }

    /// The planned land, in mm.
    pub(super) const fn planned_mm(&self) -> f64 {
        self.planned_mm
    }

    fn four(&self, after: usize) -> [(f64, f64); 4] {
        let first = after.saturating_sub(2).min(self.points.len() - 4);
        std::array::from_fn(|at| self.points[first + at])
    }
}

/// Value and slope, at `at`, of the cubic through four points, by Lagrange's formula.
fn cubic(points: [(f64, f64); 4], at: f64) -> (f64, f64) {
    let (mut value, mut slope) = (0.0, 0.0);
    for (i, (x, y)) in points.iter().enumerate() {
        let others = || points.iter().enumerate().filter(move |(j, _)| *j != i).map(|(_, p)| p.0);
        let scale: f64 = others().map(|other| x - other).product();
        value += y * others().map(|other| at - other).product::<f64>() / scale;
        let without = |left: f64| {
            others().filter(move |other| *other != left).map(|other| at - other).product::<f64>()
        };
        slope += y * others().map(without).sum::<f64>() / scale;
    }
    (value, slope)
}
