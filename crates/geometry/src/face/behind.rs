//! How far a wheel in a flute reaches toward the tooth before, with a bound that is proved.

use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::f64::consts::PI;

use super::standing::Standing;

/// How much farther than it is the reach may be told, along the circle.
const REACH_ERROR_MM: f64 = 0.002;
/// Patches looked at before what is proved by then is told.
const PATCHES_MAX: usize = 200_000;

/// A patch of the wheel's surface: a part of a stretch of its half section, and of a turn.
struct Patch {
    element: usize,
    along_mm: (f64, f64),
    turn_rad: (f64, f64),
    /// No point of it stands farther toward the tooth before.
    bound_rad: f64,
}

impl Ord for Patch {
    /// A heap gives its greatest first, and the patch that can reach farthest is wanted first.
    fn cmp(&self, other: &Self) -> Ordering {
        other.bound_rad.total_cmp(&self.bound_rad)
    }
}

impl PartialOrd for Patch {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl PartialEq for Patch {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other).is_eq()
    }
}

impl Eq for Patch {}

/// A search over the patches of a wheel.
struct Search<'a> {
    standing: &'a Standing,
    /// The wheel is looked at within this circle about the cutter's axis.
    radius_mm: f64,
    /// No point of the wheel stands nearer to that axis.
    root_mm: f64,
    /// The farthest point that was seen.
    seen_rad: f64,
    open: BinaryHeap<Patch>,
}

impl Search<'_> {
    /// Looks at the middle of a patch and keeps the patch if any of it can matter.
    fn look(&mut self, element: usize, along_mm: (f64, f64), turn_rad: (f64, f64)) {
        let shape = &self.standing.elements[element];
        let middle = |(from, to): (f64, f64)| 0.5 * (from + to);
        let point = self.standing.carried(shape.at(middle(along_mm)), middle(turn_rad));
        let wide_mm = self.standing.wheel_radius_mm * (turn_rad.1 - turn_rad.0);
        let reach_mm = 0.5 * (along_mm.1 - along_mm.0 + wide_mm);
        let least_mm = (point.radius_mm - reach_mm).max(self.root_mm);
        if point.radius_mm - reach_mm > self.radius_mm {
            return;
        }
        if point.radius_mm <= self.radius_mm {
            self.seen_rad = self.seen_rad.min(point.heelward_rad);
        }
        let steep = self.standing.twist_rad_per_mm.hypot(1.0 / least_mm);
        let bound_rad = point.heelward_rad - steep * reach_mm;
        self.open.push(Patch { element, along_mm, turn_rad, bound_rad });
    }

    /// Halves a patch across its longer side.
    fn halve(&mut self, patch: &Patch) {
        let Patch { element, along_mm, turn_rad, .. } = *patch;
        let wide_mm = self.standing.wheel_radius_mm * (turn_rad.1 - turn_rad.0);
        if wide_mm > along_mm.1 - along_mm.0 {
            let middle = 0.5 * (turn_rad.0 + turn_rad.1);
            self.look(element, along_mm, (turn_rad.0, middle));
            self.look(element, along_mm, (middle, turn_rad.1));
        } else {
            let middle = 0.5 * (along_mm.0 + along_mm.1);
            self.look(element, (along_mm.0, middle), turn_rad);
            self.look(element, (middle, along_mm.1), turn_rad);
        }
    }
}

/// How far against the heel the wheel comes anywhere within a circle, as the heelward angle of no
/// point of it that is less; None where it does not come within it.
///
/// **Source** \[own-derivation\] a heelward angle changes by √(1/r² + twist²) for each length at
/// most, so a patch of the surface reaches no farther than its middle by that times its half size;
/// patches that can reach farthest are halved first. **Departs** nowhere. **Error** 2 µm along the
/// circle, always too far and never too little. **Domain** wheels no part of which is nearer to the
/// axis than `root_mm`.
pub(super) fn behind_rad(standing: &Standing, radius_mm: f64, root_mm: f64) -> Option<f64> {
    let open = BinaryHeap::new();
    let mut search = Search { standing, radius_mm, root_mm, seen_rad: f64::INFINITY, open };
    for (element, shape) in standing.elements.iter().enumerate() {
        search.look(element, (0.0, shape.length_mm()), (-PI, PI));
    }
    for _ in 0..PATCHES_MAX {
        let patch = search.open.pop()?;
        if patch.bound_rad >= search.seen_rad - REACH_ERROR_MM / radius_mm {
            return Some(patch.bound_rad);
        }
        search.halve(&patch);
    }
    search.open.pop().map(|patch| patch.bound_rad)
}
