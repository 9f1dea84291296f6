//! How the wear land grows with the parts cut.

use geometry::Length;
use geometry::fit::robust::{OutlierRule, SetAside, set_aside};
use geometry::fit::{FitError, LinearFit, LinearProblem, Noise, Prior};

use super::above_zero;
use crate::error::ShopError;

/// A wear land read after so many parts since the edge was sharp.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WearReading {
    /// Parts cut since the edge was sharp: or minutes, or metres, as long as it is one measure.
    pub parts: f64,
    /// Width of the wear land.
    pub wear_land: Length,
}

/// How the wear land of one kind of edge grows on one kind of work.
#[derive(Clone, Debug, PartialEq)]
pub struct WearCurve {
    /// Initial stage: the wear land that the first parts leave.
    pub initial: Length,
    /// Steady stage: how fast it grows, in mm for each part.
    pub steady_mm_per_part: f64,
    /// Standard deviation of that.
    pub steady_deviation: f64,
    /// Final stage: the wear land at which it grows twice as fast as in the steady stage.
    pub doubles_at: Length,
    /// The widest wear land that was read; beyond it the curve is a guess.
    pub widest_read: Length,
    /// How many readings speak.
    pub readings: usize,
    /// Readings set aside as wild; `reading` is the place of the reading, `shift` in mm of wear
    /// land as the steady stage counts it.
    pub set_aside: Vec<SetAside>,
}

/// Standard deviation of a wear land under a glass, and of how edges differ as a share of it (own
/// choice, no source).
const READING_MM: f64 = 0.02;
const EDGES_DIFFER: f64 = 0.1;

/// What is held of the initial stage beforehand: its wear land and the deviation of that (own
/// choice, no source).
const INITIAL_MM: Prior = Prior { mean: 0.03, deviation: 0.03 };

/// What is held of the final stage beforehand: the wear land at which the rate has doubled, and the
/// deviation of its logarithm. The wear land is that at which a tool-life test ends.
const DOUBLES_MM: f64 = 0.3;
const DOUBLES_LOG_DEVIATION: f64 = 0.5;

/// The wear lands between which the final stage is sought.
const DOUBLES_SPAN_MM: (f64, f64) = (0.03, 3.0);

/// Steps of the search, and how often the best one is narrowed.
const STEPS: u32 = 120;
const NARROWINGS: usize = 60;

/// Fits the growth of a wear land to readings.
///
/// The rate is dV/dn = r (1 + (V/c)²) from an initial wear land w on: slow and steady at first,
/// twice as fast at c, then running away. Then c·atan(V/c) = c·atan(w/c) + r·n, which for a given c
/// is a straight line in n: it is fitted by weighted least squares with a prior on its start, and c
/// is the one with the greatest posterior, its logarithm having a normal prior about 0.3 mm. With
/// few readings the priors make up for what was not read.
///
/// **Source** \[own-derivation\] as above; \[milling-treatise-1910s\] that a dull cutter wears
/// faster than a sharp one; \[iso-8688-2\] 0.3 mm as the end of an edge's life, from memory.
/// **Departs** by taking the initial stage as done with the first part. **Error** where readings
/// reach to twice the pull and scatter by 0.01 mm, parts to a given wear land come out within 10 %
/// in simulation. **Domain** wear that grows; one kind of edge on one kind of work.
///
/// # Errors
/// `Invalid` where there is no reading, one is not above zero, or the wear does not grow.
pub fn wear_curve(readings: &[WearReading]) -> Result<WearCurve, ShopError> {
    if readings.is_empty() {
        return Err(ShopError::invalid("wear readings", "none: read one wear land at least"));
    }
    for reading in readings {
        above_zero("wear readings: parts", reading.parts)?;
        above_zero("wear readings: wear land", reading.wear_land.mm())?;
    }
    let refused = |error: FitError| ShopError::invalid("wear readings", error.to_string());
    let doubles_mm = best_doubling(readings).map_err(refused)?;
    let rule = OutlierRule::new(0.01, (readings.len() / 5).min(4)).map_err(refused)?;
    let sorted = set_aside(&line(readings, doubles_mm).map_err(refused)?, rule).map_err(refused)?;
    let kept: Vec<WearReading> = sorted.kept.iter().map(|at| readings[*at]).collect();
    let doubles_mm = best_doubling(&kept).map_err(refused)?;
    let fit = line(&kept, doubles_mm).and_then(|line| line.fit()).map_err(refused)?;
    told(&kept, doubles_mm, &fit, sorted.set_aside)
}

fn told(
    kept: &[WearReading],
    doubles_mm: f64,
    fit: &LinearFit,
    set_aside: Vec<SetAside>,
) -> Result<WearCurve, ShopError> {
    let (start, rate) = (fit.parameters()[0], fit.parameters()[1]);
    if rate <= 0.0 {
        let reason = "the wear land does not grow with the parts: read it at other counts";
        return Err(ShopError::invalid("wear readings", reason));
    }
    let start = start.max(0.0) / doubles_mm;
    Ok(WearCurve {
        initial: Length::from_mm(doubles_mm * start.min(START_MAX).tan()),
        steady_mm_per_part: rate,
        steady_deviation: fit.deviation(1).unwrap_or_default(),
        doubles_at: Length::from_mm(doubles_mm),
        widest_read: kept.iter().map(|reading| reading.wear_land).fold(Length::ZERO, Length::max),
        readings: kept.len(),
        set_aside,
    })
}

/// An initial stage that is as good as the whole life is a slip; its angle stays below this.
const START_MAX: f64 = 1.5;

/// The line c·atan(V/c) = start + r·n for a given c.
fn line(readings: &[WearReading], doubles_mm: f64) -> Result<LinearProblem, FitError> {
    let straight =
        |reading: &WearReading| doubles_mm * (reading.wear_land.mm() / doubles_mm).atan();
    let deviation = |reading: &WearReading| {
        let wear_mm = reading.wear_land.mm();
        READING_MM.hypot(EDGES_DIFFER * wear_mm) / (1.0 + (wear_mm / doubles_mm).powi(2))
    };
    let rows: Vec<[f64; 2]> = readings.iter().map(|reading| [1.0, reading.parts]).collect();
    let values: Vec<f64> = readings.iter().map(straight).collect();
    let noise = Noise::Known(readings.iter().map(deviation).collect());
    LinearProblem::new(&rows, &values, noise)?.with_prior(0, INITIAL_MM)
}

/// How badly a wear land of doubling fits, priors counted.
fn misfit(readings: &[WearReading], log_mm: f64) -> Result<f64, FitError> {
    let off = (log_mm - DOUBLES_MM.ln()) / DOUBLES_LOG_DEVIATION;
    Ok(line(readings, log_mm.exp())?.fit()?.chi_square() + off * off)
}

/// The wear land of doubling that fits best, in mm.
fn best_doubling(readings: &[WearReading]) -> Result<f64, FitError> {
    let (low, high) = (DOUBLES_SPAN_MM.0.ln(), DOUBLES_SPAN_MM.1.ln());
    let step = (high - low) / f64::from(STEPS);
    let mut best = (f64::INFINITY, low);
    for at in 0..=STEPS {
        let log_mm = low + step * f64::from(at);
        let found = misfit(readings, log_mm)?;
        if found < best.0 {
            best = (found, log_mm);
        }
    }
    let (mut left, mut right) = (best.1 - step, best.1 + step);
    for _ in 0..NARROWINGS {
        let third = (right - left) / 3.0;
        if misfit(readings, left + third)? < misfit(readings, right - third)? {
            right -= third;
        } else {
            left += third;
        }
    }
    Ok(f64::midpoint(left, right).exp())
}

impl WearCurve {
    /// Parts that an edge cuts until its wear land is so wide; 0 below the initial stage.
    pub fn parts(&self, wear_land: Length) -> f64 {
        let c_mm = self.doubles_at.mm();
        let angle = |length: Length| (length.mm() / c_mm).atan();
        let way = c_mm * (angle(wear_land) - angle(self.initial));
        (way / self.steady_mm_per_part).max(0.0)
    }

    /// The wear land after so many parts; none where the edge would have run away before.
    pub fn wear_land(&self, parts: f64) -> Option<Length> {
        let c_mm = self.doubles_at.mm();
        let start = (self.initial.mm() / c_mm).atan();
        let angle = start + self.steady_mm_per_part * parts.max(0.0) / c_mm;
        let is_whole = angle < std::f64::consts::FRAC_PI_2 - 1e-9;
        is_whole.then(|| Length::from_mm(c_mm * angle.tan()))
    }
}
