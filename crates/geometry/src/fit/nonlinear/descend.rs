//! The way down: Levenberg's and Marquardt's damped steps, then undamped ones to the last digits.

use nalgebra::DVector;

use super::model::Model;
use super::problem::{Differences, NonlinearFit, NonlinearProblem, Place};
use crate::fit::error::FitError;
use crate::fit::problem::LinearProblem;
use crate::fit::singular::Singular;

/// Rounds after which the descent gives up.
const ROUNDS: usize = 2000;

/// The share of the sum of squares that a full step promises to take off, below which comparing
/// sums of squares says nothing any more.
const FLAT: f64 = 1e-13;

/// The share of the readings' own squares that counts as an exact fit.
const EXACT: f64 = 1e-28;

/// The offset at which a descent that can go no further may stop, after the source: a thousandth of
/// a standard deviation changes no band.
const OFFSET_MAX: f64 = 1e-3;

/// Undamped steps at the end, at most.
const LAST_STEPS: usize = 100;

/// What such a step must leave at most of what is left to go, squared.
const GAIN: f64 = 0.8;

/// The least size of a parameter over which derivatives are taken, beside the size of its start;
/// and how many of its own standard deviations make a size.
const SIZE_MIN: f64 = 1e-6;
const KNOWN_SIZES: f64 = 150.0;

/// The first damping, and how often it may be raised within one round.
const FIRST_DAMPING: f64 = 1e-3;
const RAISES: usize = 40;

/// The model linearised at a place, taken apart.
struct Slope {
    linear: LinearProblem,
    singular: Singular,
    values: DVector<f64>,
    rank: usize,
    /// What a full step promises to take off the sum of squares.
    promise: f64,
}

/// How strongly steps are damped, and how fast that grows when they fail.
struct Damping {
    value: f64,
    raise: f64,
}

impl<M: Model> NonlinearProblem<M> {
    /// The fit, from the start to the nearest best parameters.
    ///
    /// Convergence: the descent ends where a full Gauss-Newton step promises less than 1e-13 of the
    /// sum of squares (or 1e-28 of the readings' squares). Then undamped steps are taken as long as
    /// each takes a tenth off what is left to go. What remains is told as the fit's `offset`.
    ///
    /// **Source** \[madsen-nielsen-tingleff\] section 3.2, damping by the ratio of gain to promise;
    /// \[bates-watts\] section 2.2, the offset as the measure of convergence. **Departs** by
    /// scaling parameters with the lengths of their columns of derivatives. **Error** parameters to
    /// about 1e-8 of their standard deviations with central differences; checked against
    /// \[nist-strd\]. **Domain** smooth models; finds a nearest best fit, not always the best of
    /// all.
    ///
    /// # Errors
    /// Where the model is not finite at the start or beside the way, has another count of readings,
    /// or the descent does not come to rest.
    pub fn fit(&self) -> Result<NonlinearFit, FitError> {
        let mut place = self.start()?;
        let mut damping = Damping { value: FIRST_DAMPING, raise: 2.0 };
        let floor = EXACT * self.whole();
        let plain = Differences::Plain(self.sizes.clone());
        let mut lengths = DVector::zeros(place.at.len());
        for round in 1..=ROUNDS {
            let slope = self.slope(&place.at, &lengths, &plain)?;
            lengths.copy_from(&slope.singular.lengths);
            if slope.promise <= FLAT * place.square + floor {
                return self.finish(slope, round);
            }
            match self.improved(&place, &slope, &mut damping) {
                Some(better) => place = better,
                None if slope.offset() <= OFFSET_MAX => {
                    return self.finish(slope, round);
                }
                None => return Err(FitError::NotConverged { iterations: round }),
            }
        }
        Err(FitError::NotConverged { iterations: ROUNDS })
    }

    fn slope(
        &self,
        at: &DVector<f64>,
        lengths: &DVector<f64>,
        differences: &Differences,
    ) -> Result<Slope, FitError> {
        let linear = self.linearised(at, differences)?;
        let (rows, values) = linear.weighted();
        if rows.iter().any(|entry| !entry.is_finite()) {
            return Err(FitError::Overflow);
        }
        let singular = Singular::with_lengths(rows, lengths);
        let rank = singular.rank(linear.rank_tolerance);
        let promise = singular.within(&values, rank).powi(2);
        Ok(Slope { linear, singular, values, rank, promise })
    }

    /// A place with a smaller sum of squares; none where no step, however short, leads to one.
    fn improved(&self, place: &Place, slope: &Slope, damping: &mut Damping) -> Option<Place> {
        for _ in 0..RAISES {
            let step = slope.singular.step(&slope.values, slope.rank, damping.value);
            let promise = slope.promise_of(damping.value);
            // Where the model is not finite the step was too long.
            let found = self.place(&place.at + step).ok();
            match found.filter(|found| found.square < place.square) {
                Some(better) => {
                    damping.lower((place.square - better.square) / promise);
                    return Some(better);
                }
                None => damping.raise(),
            }
        }
        None
    }

    /// Undamped steps as long as each takes enough off what is left to go.
    fn finish(&self, slope: Slope, mut rounds: usize) -> Result<NonlinearFit, FitError> {
        let finer = Differences::Finer(self.last_sizes(&slope));
        let none = DVector::zeros(self.parameters());
        let mut slope = self.slope(&slope.linear.centre, &none, &finer)?;
        for _ in 0..LAST_STEPS {
            let step = slope.singular.step(&slope.values, slope.rank, 0.0);
            let at = &slope.linear.centre + step;
            let Ok(next) = self.slope(&at, &none, &finer) else { break };
            if next.promise > GAIN * slope.promise {
                break;
            }
            slope = next;
            rounds += 1;
        }
        let offset = slope.offset();
        Ok(NonlinearFit { fit: slope.linear.fit()?, rounds, offset })
    }

    /// The sizes over which the last derivatives are taken: those of the parameters as they were
    /// found, or of how well each alone is known, unless the caller has named them.
    fn last_sizes(&self, slope: &Slope) -> Vec<f64> {
        if self.has_given_sizes {
            return self.sizes.clone();
        }
        let known = slope.scale() * KNOWN_SIZES;
        let places = slope.linear.centre.iter().zip(slope.singular.lengths.iter());
        let size = |((value, length), first): ((&f64, &f64), &f64)| {
            value.abs().max(known / length).max(SIZE_MIN * first)
        };
        places.zip(&self.sizes).map(size).collect()
    }
}

impl Slope {
    /// The length of a full step over the parameters' standard deviations.
    fn offset(&self) -> f64 {
        let scale = self.scale();
        let length = (self.promise / self.rank.max(1) as f64).sqrt();
        if scale > 0.0 { length / scale } else { length }
    }

    /// The root of the mean weighted square that a full step would leave.
    fn scale(&self) -> f64 {
        let degrees = self.values.len().saturating_sub(self.rank).max(1);
        ((self.values.norm_squared() - self.promise).max(0.0) / degrees as f64).sqrt()
    }

    /// What a damped step promises to take off the sum of squares.
    fn promise_of(&self, damping: f64) -> f64 {
        let turned = self.singular.turned.columns(0, self.rank).tr_mul(&self.values);
        let part = |(part, value): (&f64, &f64)| {
            let square = value * value;
            // The share of a direction that is left is (damping/(s² + damping))².
            let left = damping / (square + damping);
            part * part / square * (1.0 - left * left)
        };
        turned.iter().zip(self.singular.values.iter()).map(part).sum()
    }
}

impl Damping {
    fn lower(&mut self, gain: f64) {
        self.value *= (1.0 - (2.0 * gain - 1.0).powi(3)).max(1.0 / 3.0);
        self.value = self.value.max(f64::EPSILON);
        self.raise = 2.0;
    }

    fn raise(&mut self) {
        self.value *= self.raise;
        self.raise *= 2.0;
    }
}
