//! What few cutters have: teeth that stand or run unalike, and a taper.

use std::f64::consts::TAU;

use geometry::{Angle, Length};

use super::cutter::CutterDraft;
use super::faults::{Faults, degrees, fault};

/// Least angle from one edge to the next that leaves a tooth and a flute.
const GAP_DEG_MIN: f64 = 3.0;
/// Places this near to equal are equal: no shop spaces teeth finer on purpose (own choice, no
/// source).
const EQUAL_DEG: f64 = 0.05;
/// Steepest side of a tapered cutter that is planned.
const TAPER_DEG_MAX: f64 = 10.0;

/// The places of the teeth, their own helices, and the taper.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Special {
    /// Where the edge of each tooth stands at the tip, heelward from tooth 1's; empty where nobody
    /// measured it.
    pub index: Vec<Angle>,
    /// The helix of each tooth; empty where all have the cutter's.
    pub tooth_helix: Vec<Angle>,
    /// How far the side leans from the axis, wider toward the shank; 0 on a cylinder.
    pub taper: Angle,
}

impl Special {
    /// Whether the places of the teeth are known and are not equal.
    pub fn is_unequal(&self) -> bool {
        let count = self.index.len().max(1) as f64;
        let off = |(place, angle): (usize, &Angle)| angle.degrees() - 360.0 * place as f64 / count;
        self.index.iter().enumerate().map(off).any(|off| off.abs() > EQUAL_DEG)
    }

    /// Angle from each edge to the next one heelward, at the tip.
    pub fn gaps(&self) -> Vec<Angle> {
        let next = self.index.iter().skip(1).copied().chain([Angle::from_radians(TAU)]);
        self.index.iter().zip(next).map(|(angle, next)| next - *angle).collect()
    }

    pub(super) fn check(&self, cutter: &CutterDraft, faults: &mut Faults) {
        self.check_index(cutter, faults);
        self.check_helices(cutter, faults);
        let steepest = Angle::from_degrees(TAPER_DEG_MAX);
        faults.angle("taper", self.taper, Angle::ZERO, steepest);
    }

    fn check_index(&self, cutter: &CutterDraft, faults: &mut Faults) {
        if self.index.is_empty() {
            return;
        }
        let count = self.index.len();
        let blamed: (&str, &[&str]) = ("index", &["teeth"]);
        faults.require_with(count == cutter.teeth as usize, blamed, listed(&self.index), || {
            fault(
                format!("{count} places for {} teeth", cutter.teeth),
                "write one angle for each tooth, the first of them 0 deg",
            )
        });
        let least = Angle::from_degrees(GAP_DEG_MIN);
        let rises = self.index[0] == Angle::ZERO && self.gaps().iter().all(|gap| *gap >= least);
        faults.require(rises, "index", listed(&self.index), || {
            fault(
                "places must begin at 0 deg and rise, tooth by tooth, to less than a turn",
                format!("write them in order, each at least {} further", degrees(least)),
            )
        });
        let said = cutter.unequal_index.is_none_or(|unequal| unequal == self.is_unequal());
        let blamed: (&str, &[&str]) = ("unequal_index", &["index"]);
        faults.require_with(said, blamed, cutter.unequal_index == Some(true), || {
            fault("the places in index say otherwise", "leave it out, or mend index")
        });
    }

    fn check_helices(&self, cutter: &CutterDraft, faults: &mut Faults) {
        if self.tooth_helix.is_empty() {
            return;
        }
        let count = self.tooth_helix.len();
        let blamed: (&str, &[&str]) = ("tooth_helix", &["teeth"]);
        let shown = listed(&self.tooth_helix);
        faults.require_with(count == cutter.teeth as usize, blamed, &shown, || {
            let right = "write one angle for each tooth";
            fault(format!("{count} helices for {} teeth", cutter.teeth), right)
        });
        let steepest = Angle::from_degrees(60.0);
        let in_range = |helix: &Angle| *helix > Angle::ZERO && *helix <= steepest;
        faults.require(self.tooth_helix.iter().all(in_range), "tooth_helix", &shown, || {
            fault("each tooth needs a helix of its own", "write angles over 0 and up to 60 deg")
        });
        let least = self.tooth_helix.iter().copied().fold(steepest, Angle::min);
        let most = self.tooth_helix.iter().copied().fold(Angle::ZERO, Angle::max);
        let holds = (least..=most).contains(&cutter.helix);
        let blamed: (&str, &[&str]) = ("helix", &["tooth_helix"]);
        faults.require_with(holds, blamed, degrees(cutter.helix), || {
            let right = format!("write one from {} to {}", degrees(least), degrees(most));
            fault("the cutter's helix lies among those of its teeth", right)
        });
    }
}

impl CutterDraft {
    /// The cutter with so much taken off its end: shorter, and with what its facts at the tip come
    /// to there. A tapered one is wider where the new tip lies, on the same lead; teeth of unlike
    /// helix stand otherwise to each other.
    ///
    /// **Source** \[own-derivation\] an edge stands at its index and 2 z tan(helix) / D, heelward
    /// with the sign of the hands; the lead is π D / tan(helix) at either tip. **Departs** nowhere.
    /// **Error** rounding. **Domain** less than the flute.
    #[must_use]
    pub fn shortened(self, by: Length) -> Self {
        let (diameter, nominal) = (self.diameter_at(by), self.diameter);
        let wider = diameter / nominal;
        // On a cylinder nothing changes, not even by rounding.
        let same_lead = |helix: Angle| match self.special.taper > Angle::ZERO {
            true => Angle::from_tangent(helix.tan() * wider),
            false => helix,
        };
        let agrees = self.helix_hand.is_none_or(|hand| hand == self.hand);
        let sign = if agrees { 1.0 } else { -1.0 };
        let mut special = self.special.clone();
        let first = special.tooth_helix.first().copied().unwrap_or(self.helix);
        for (place, helix) in special.index.iter_mut().zip(&special.tooth_helix) {
            let gains = 2.0 * sign * (helix.tan() - first.tan());
            *place = *place + Angle::from_radians(gains * (by / nominal));
        }
        special.tooth_helix = special.tooth_helix.into_iter().map(same_lead).collect();
        let helix = same_lead(self.helix);
        Self {
            diameter,
            helix,
            flute_length: self.flute_length - by,
            overall_length: self.overall_length - by,
            special,
            ..self
        }
    }

    /// Diameter at a distance from the tip: the nominal one there, and more toward the shank of a
    /// tapered cutter.
    ///
    /// **Source** \[own-derivation\] D + 2 z tan(taper). **Departs** nowhere. **Error** rounding.
    /// **Domain** within the flute.
    fn diameter_at(&self, from_tip: Length) -> Length {
        self.diameter + from_tip * (2.0 * self.special.taper.tan())
    }
}

fn listed(angles: &[Angle]) -> String {
    let shown: Vec<String> = angles.iter().map(|angle| degrees(*angle)).collect();
    format!("[{}]", shown.join(", "))
}
