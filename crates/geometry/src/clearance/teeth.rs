//! The teeth that are not being ground, edges and backs, all along the flute.

use nalgebra::Vector3;

use super::body::WheelSolid;
use super::passage::{GAP_ERROR_MM, Nearest};
use crate::outline::{Outline, OutlinePoint};
use crate::screw::{Flutes, Screw};
use crate::search::place_below;
use crate::wheel::WheelKind;

/// The teeth beside the one on the rest, on a stretch of the cutter's axis.
pub(super) struct OtherTeeth<'a> {
    pub(super) flutes: &'a Flutes,
    pub(super) screw: Screw,
    pub(super) outline: &'a Outline,
    /// From the rest's contact toward the tip, in millimetres.
    pub(super) ends_mm: (f64, f64),
}

/// A back is looked at on lines no farther apart than this share of the cutter's radius.
const LINES_SHARE: f64 = 0.02;

impl OtherTeeth<'_> {
    /// The place of another tooth that comes nearest to the wheel or deepest into it, and which
    /// tooth: so many pitches heelward. None where there is but one, or none beside the wheel.
    ///
    /// **Source** \[own-derivation\] a point of a tooth's section runs along a helix, along which
    /// the wheel's distance changes no faster than the place. **Departs** nowhere. **Error** 0.005
    /// mm along a line; between two lines over a back, no more than a fiftieth of a fiftieth of the
    /// cutter's radius on a wheel as round as the cutter or flatter. **Domain** teeth that stand
    /// alike; a cup's near half, whose far half is looked at by itself.
    pub(super) fn nearest(&self, wheel: &WheelSolid<'_>) -> Option<(u32, Nearest)> {
        let ends_mm = self.beside(wheel)?;
        let lines = self.lines();
        let mut found: Option<(u32, Nearest)> = None;
        for tooth in nearest_first(self.flutes.teeth) {
            for line in &lines {
                let ceiling_mm = found.map_or(f64::INFINITY, |(_, nearest)| nearest.gap.mm());
                let nearer = self.along(wheel, (tooth, line), ends_mm, ceiling_mm);
                found = nearer.map(|nearest| (tooth, nearest)).or(found);
            }
        }
        found
    }

    /// The stretch of the axis that lies beside the near half of a cup, or all of it under a disc.
    fn beside(&self, wheel: &WheelSolid<'_>) -> Option<(f64, f64)> {
        let (mut low, mut high) = self.ends_mm;
        if wheel.kind() == WheelKind::Cup {
            let axis_mm = wheel.pose.origin.x;
            if wheel.pose.near.x < 0.0 { high = high.min(axis_mm) } else { low = low.max(axis_mm) }
        }
        (low < high).then_some((low, high))
    }

    /// The outline's own corners, and points between them.
    fn lines(&self) -> Vec<OutlinePoint> {
        let points = self.outline.points();
        let mut lines = points.to_vec();
        for pair in points.windows(2) {
            let apart_mm = (pair[1].heelward - pair[0].heelward).radians() * pair[0].radius.mm();
            let step_mm = LINES_SHARE * pair[0].radius.mm();
            let parts = (apart_mm / step_mm).ceil().clamp(1.0, 100.0) as u32;
            lines.extend((1..parts).filter_map(|part| {
                let share = f64::from(part) / f64::from(parts);
                let heelward = pair[0].heelward + (pair[1].heelward - pair[0].heelward) * share;
                Some(OutlinePoint { heelward, radius: self.outline.radius_at(heelward)? })
            }));
        }
        lines
    }

    /// The nearest place along one line of one tooth, where it lies below a ceiling.
    fn along(
        &self,
        wheel: &WheelSolid<'_>,
        (tooth, line): (u32, &OutlinePoint),
        (low_mm, high_mm): (f64, f64),
        ceiling_mm: f64,
    ) -> Option<Nearest> {
        let radius_mm = line.radius.mm();
        let heelward_rad = line.heelward.radians() + f64::from(tooth) * self.flutes.pitch_rad();
        let twist = self.screw.twist_rad_per_mm;
        let point = |along_mm: f64| {
            let turn_rad = heelward_rad - self.screw.setting_rad - twist * along_mm;
            Vector3::new(along_mm, radius_mm * turn_rad.cos(), radius_mm * turn_rad.sin())
        };
        // The line's own length, so that the distance changes no faster than the place.
        let pace = (radius_mm * twist).hypot(1.0);
        let gap_mm = |place_mm: f64| wheel.distance_mm(&point(place_mm / pace));
        let ends = (low_mm * pace, high_mm * pace);
        let (place_mm, gap_mm) = place_below(gap_mm, ends, GAP_ERROR_MM, ceiling_mm)?;
        Some(Nearest::new(gap_mm, &point(place_mm / pace)))
    }
}

/// The other teeth, neighbours first: what they bound need not be looked at again.
fn nearest_first(teeth: u32) -> impl Iterator<Item = u32> {
    let half = teeth / 2;
    (1..=half).flat_map(move |tooth| {
        let other = (tooth != teeth - tooth).then_some(teeth - tooth);
        std::iter::once(tooth).chain(other)
    })
}
