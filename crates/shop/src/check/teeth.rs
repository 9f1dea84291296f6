//! Where the edges stand round the cutter, and which of them an instrument meets.

use std::f64::consts::{PI, TAU};

use geometry::Length;

use crate::bridge;
use crate::record::{Cutter, Over, TeethRun};

/// The edges of a cutter round its axis, seen so that the heel lies at growing angles.
pub(super) struct Teeth {
    count: u32,
    twist_rad_per_mm: f64,
}

/// One edge at one place, and how much of its stand enters into a reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Touched {
    pub(super) tooth: u32,
    pub(super) from_end_mm: f64,
    pub(super) weight: f64,
}

impl Teeth {
    pub(super) fn of(cutter: &Cutter) -> Self {
        let twist_rad_per_mm = bridge::flutes(cutter).twist_rad_per_mm();
        Self { count: cutter.teeth(), twist_rad_per_mm }
    }

    pub(super) const fn count(&self) -> u32 {
        self.count
    }

    /// Whether the numbering's direction changes anything: on straight teeth it only mirrors the
    /// runout's vector.
    pub(super) fn is_helical(&self) -> bool {
        self.twist_rad_per_mm != 0.0
    }

    /// Angle heelward of tooth 1's edge at the tip.
    ///
    /// **Source** \[own-derivation\] 2π (i − 1)/N, and 2π z/lead along the helix. **Departs** in
    /// taking the teeth as equally spaced. **Error** rounding. **Domain** equal index.
    pub(super) fn angle_rad(&self, tooth: u32, from_end_mm: f64, run: TeethRun) -> f64 {
        let sign = match run {
            TeethRun::Heelward => 1.0,
            TeethRun::Edgeward => -1.0,
        };
        let steps = f64::from(tooth) - 1.0;
        sign * TAU * steps / f64::from(self.count) + self.twist_rad_per_mm * from_end_mm
    }

    /// The tooth `steps` after this one in the numbering.
    fn after(&self, tooth: u32, steps: u32) -> u32 {
        (tooth - 1 + steps) % self.count + 1
    }

    /// The edges that a diameter is taken over, with the weights of their stands in the reading;
    /// where nobody noted the tooth, the mean over all that it may have been.
    pub(super) fn under(
        &self,
        over: Over,
        tooth: Option<u32>,
        from_end_mm: f64,
        anvil_mm: f64,
    ) -> Vec<Touched> {
        let one = |tooth| match over {
            Over::Micrometer => self.opposite(tooth, from_end_mm),
            Over::FlatAnvils => self.on_anvils(tooth, from_end_mm, anvil_mm),
            Over::VeeAnvil => self.in_vee(tooth, from_end_mm),
        };
        if let Some(tooth) = tooth {
            return one(tooth);
        }
        let share = 1.0 / f64::from(self.count);
        let thinned = |touched: Touched| Touched { weight: touched.weight * share, ..touched };
        (1..=self.count).flat_map(one).map(thinned).collect()
    }

    fn opposite(&self, tooth: u32, from_end_mm: f64) -> Vec<Touched> {
        let touched = |tooth| Touched { tooth, from_end_mm, weight: 1.0 };
        vec![touched(tooth), touched(self.after(tooth, self.count / 2))]
    }

    /// How far off the opposite of a tooth the two nearest edges stand under an anvil, in radians:
    /// half a pitch, less what the helix turns over half of the anvil's width.
    ///
    /// **Source** \[own-derivation\] π/N − π w/lead, not below nought. **Departs** nowhere.
    /// **Error** rounding. **Domain** odd teeth.
    pub(super) fn off_opposite_rad(&self, anvil_mm: f64) -> f64 {
        let half_pitch = PI / f64::from(self.count);
        (half_pitch - self.twist_rad_per_mm.abs() * anvil_mm / 2.0).max(0.0)
    }

    /// One tooth on one anvil, two on the other at the ends of its width.
    ///
    /// **Source** \[own-derivation\] the reading is r₁ + ½ cos c (r₂ + r₃), c the angle of
    /// [`Self::off_opposite_rad`]. **Departs** to first order in the stands. **Error** the square
    /// of a stand over the radius. **Domain** odd teeth, the cutter turned to the least reading.
    fn on_anvils(&self, tooth: u32, from_end_mm: f64, anvil_mm: f64) -> Vec<Touched> {
        let half_pitch = PI / f64::from(self.count);
        let weight = 0.5 * self.off_opposite_rad(anvil_mm).cos();
        // The helix brings one of the two nearer toward the tip, the other toward the shank.
        let reach_mm = if self.is_helical() {
            (half_pitch / self.twist_rad_per_mm.abs()).min(anvil_mm / 2.0)
        } else {
            0.0
        };
        let sign = self.twist_rad_per_mm.signum();
        let (before, behind) =
            (self.after(tooth, self.count / 2), self.after(tooth, self.count / 2 + 1));
        let at =
            |tooth, along_mm: f64| Touched { tooth, from_end_mm: from_end_mm + along_mm, weight };
        let first = Touched { tooth, from_end_mm, weight: 1.0 };
        vec![first, at(before, sign * reach_mm), at(behind, -sign * reach_mm)]
    }

    /// Two teeth in the vee, the third under the spindle.
    ///
    /// **Source** \[own-derivation\] the vee's half angle is 90° − 180°/N; tip to apex is
    /// r₁ + (r₂ + r₃)/(2 sin a), and the instrument is divided so that equal radii read their
    /// diameter. **Departs** to first order in the stands. **Error** the square of a stand over the
    /// radius. **Domain** odd teeth, a vee of the right angle, anvils narrow against the helix.
    fn in_vee(&self, tooth: u32, from_end_mm: f64) -> Vec<Touched> {
        let half_angle_rad = 0.5 * PI - PI / f64::from(self.count);
        let of_two = 1.0 / half_angle_rad.sin();
        let scale = 2.0 / (1.0 + of_two);
        let at = |tooth, share: f64| Touched { tooth, from_end_mm, weight: scale * share };
        let (before, behind) =
            (self.after(tooth, self.count / 2), self.after(tooth, self.count / 2 + 1));
        vec![at(tooth, 1.0), at(before, 0.5 * of_two), at(behind, 0.5 * of_two)]
    }

    /// What the instrument reads over edges that all stand on a circle of this radius.
    pub(super) fn reading_mm(&self, over: Over, radius_mm: f64, anvil_mm: f64) -> f64 {
        match over {
            Over::Micrometer | Over::VeeAnvil => 2.0 * radius_mm,
            Over::FlatAnvils => radius_mm * (1.0 + self.off_opposite_rad(anvil_mm).cos()),
        }
    }
}

/// The middle of a shank, from the cutter's end.
pub(super) fn middle_of_shank(cutter: &Cutter) -> Length {
    (cutter.flute_length() + cutter.overall_length()) / 2.0
}

#[cfg(test)]
mod tests {
    use geometry::closed_form::flat_anvil_reading;

    use super::*;

    fn teeth(count: u32, twist_rad_per_mm: f64) -> Teeth {
        Teeth { count, twist_rad_per_mm }
    }

    fn weight(touched: &[Touched]) -> f64 {
        touched.iter().map(|one| one.weight).sum()
    }

    #[test]
    fn equal_stands_move_a_reading_as_a_larger_cutter_does() {
        for count in 2..=9 {
            let kinds: &[Over] = if count % 2 == 0 {
                &[Over::Micrometer]
            } else {
                &[Over::FlatAnvils, Over::VeeAnvil]
            };
            for over in kinds {
                let teeth = teeth(count, 0.0);
                let grown = teeth.reading_mm(*over, 11.0, 0.0) - teeth.reading_mm(*over, 10.0, 0.0);
                for tooth in [None, Some(1), Some(count)] {
                    let under = teeth.under(*over, tooth, 3.0, 0.0);
                    assert!((weight(&under) - grown).abs() < 1e-12, "{count} teeth, {over}");
                }
            }
        }
    }

    #[test]
    fn narrow_anvils_read_as_the_closed_form_does() {
        for count in [3, 5, 7, 9] {
            let wanted = flat_anvil_reading(Length::from_mm(20.0), count).mm();
            let got = teeth(count, 0.1).reading_mm(Over::FlatAnvils, 10.0, 0.0);
            assert!((got - wanted).abs() < 1e-12, "{count} teeth");
        }
    }

    #[test]
    fn anvils_as_wide_as_the_helix_turns_half_a_pitch_read_the_diameter() {
        // 5 teeth at 0.1 rad/mm: a fifth of a turn is 12.57 mm along the cutter.
        let turned = teeth(5, -0.1);
        assert!((turned.reading_mm(Over::FlatAnvils, 10.0, 12.6) - 20.0).abs() < 1e-12);
        let under = turned.under(Over::FlatAnvils, Some(2), 30.0, 12.6);
        assert_eq!(under.iter().map(|one| one.tooth).collect::<Vec<_>>(), [2, 4, 5]);
        // The two stand half a pitch off the opposite, 6.28 mm along on either side.
        assert!((under[1].from_end_mm - 30.0 + 2.0 * PI).abs() < 1e-9);
        assert!((under[2].from_end_mm - 30.0 - 2.0 * PI).abs() < 1e-9);
    }

    #[test]
    fn edges_turn_with_the_helix_and_with_the_numbering() {
        let turned = teeth(4, 0.05);
        let third = turned.angle_rad(3, 10.0, TeethRun::Heelward);
        assert!((third - PI - 0.5).abs() < 1e-12);
        let third = turned.angle_rad(3, 10.0, TeethRun::Edgeward);
        assert!((third + PI - 0.5).abs() < 1e-12);
    }
}
