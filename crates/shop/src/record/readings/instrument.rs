//! How finely and how repeatably an instrument is read.

use geometry::Length;

use crate::record::faults::Faults;

/// Coarsest step of an instrument that reads a fresh edge, in mm.
const RESOLUTION_MM_MAX: f64 = 1.0;

/// A hand repeats a reading to this share of the instrument's step, where nobody has tried it out
/// (own choice, no source).
const REPEATS_TO_SHARE_OF_STEP: f64 = 0.5;

/// How finely an instrument is read, and how well a reading repeats.
///
/// Its fields are public because a value by itself proves nothing; the readings check it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instrument {
    /// The smallest step that is read.
    pub resolution: Length,
    /// Standard deviation of one reading taken again and again on the same spot; none where nobody
    /// has tried it out.
    pub repeatability: Option<Length>,
}

impl Instrument {
    /// Standard deviation of one reading.
    ///
    /// **Source** \[jcgm-100\] clause F.2.2.1: a step of δ has the standard deviation δ/√12, added
    /// in squares to that of the repeated reading. **Departs** where repeatability was not tried
    /// out: half the step stands for it. **Error** the instrument's own calibration is left out.
    /// **Domain** readings rounded to the nearest step.
    pub fn deviation(&self) -> Length {
        let step_mm = self.resolution.mm();
        let assumed = self.resolution * REPEATS_TO_SHARE_OF_STEP;
        let repeats_mm = self.repeatability.unwrap_or(assumed).mm();
        Length::from_mm((step_mm * step_mm / 12.0 + repeats_mm * repeats_mm).sqrt())
    }

    pub(super) fn check(&self, field: &str, faults: &mut Faults) {
        let coarsest = Length::from_mm(RESOLUTION_MM_MAX);
        faults.length_over_zero(&format!("{field}.resolution"), self.resolution, coarsest);
        if let Some(repeats) = self.repeatability {
            let field = format!("{field}.repeatability");
            faults.length(&field, repeats, Length::ZERO, coarsest);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_step_and_a_spread_add_in_squares() {
        let read = |repeats: Option<f64>| {
            let resolution = Length::from_mm(0.012);
            let repeatability = repeats.map(Length::from_mm);
            Instrument { resolution, repeatability }.deviation().mm()
        };
        assert!((read(Some(0.0)) - 0.012 / 12.0_f64.sqrt()).abs() < 1e-15);
        assert!((read(Some(0.002)) - 16.0_f64.sqrt() * 1e-3).abs() < 1e-15);
        assert!((read(None) - 48.0_f64.sqrt() * 1e-3).abs() < 1e-15);
    }
}
