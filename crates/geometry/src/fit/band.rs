//! Bands: between which bounds a parameter, a combination or a further reading lies.

use super::error::{FitError, all_positive};
use super::linear::LinearFit;
use super::quantile::{check_probability, normal_quantile, student_quantile};

/// A value with the half-width of the band that holds the truth with the probability asked for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// The middle of the band.
    pub value: f64,
    /// Half of its width, in the same unit.
    pub half_width: f64,
}

impl Band {
    /// The lower bound.
    pub fn least(&self) -> f64 {
        self.value - self.half_width
    }

    /// The upper bound.
    pub fn greatest(&self) -> f64 {
        self.value + self.half_width
    }

    /// Whether a value lies between the bounds.
    pub fn holds(&self, value: f64) -> bool {
        (value - self.value).abs() <= self.half_width
    }
}

impl LinearFit {
    /// The value of a combination row · b of the parameters.
    ///
    /// # Errors
    /// Where the row has another length than the parameters, or is not finite.
    pub fn value(&self, row: &[f64]) -> Result<f64, FitError> {
        self.check_row(row)?;
        Ok(row.iter().zip(self.parameters()).map(|(x, b)| x * b).sum())
    }

    /// The standard deviation of a combination row · b.
    ///
    /// **Source** \[jcgm-100\] clause 5.2: √(x C xᵀ). **Departs** nowhere. **Error** as the
    /// covariance's. **Domain** combinations that the readings determine.
    ///
    /// # Errors
    /// Where the row does not fit, the readings do not determine the combination, or no scale is
    /// known.
    pub fn deviation_of(&self, row: &[f64]) -> Result<f64, FitError> {
        if !self.is_determined(row)? {
            let why = "parameters that cannot be told apart enter into it";
            return Err(FitError::Undetermined { what: "this combination", why });
        }
        Ok(self.spread(row) * self.needed_scale()?)
    }

    /// The band of one parameter.
    ///
    /// # Errors
    /// As [`Self::band`].
    pub fn parameter_band(&self, parameter: usize, level: f64) -> Result<Band, FitError> {
        let count = self.parameters().len();
        let mut row = vec![0.0; count];
        let entry = row.get_mut(parameter);
        *entry.ok_or(FitError::NoSuch { what: "parameter", index: parameter, count })? = 1.0;
        self.band(&row, level)
    }

    /// The band that holds the combination row · b with this probability.
    ///
    /// **Source** \[jcgm-100\] annex G: value ± quantile · standard deviation, the quantile normal
    /// where standard deviations are known, Student's where their scale is estimated.
    /// **Departs** nowhere. **Error** that of the quantile. **Domain** normal noise; one
    /// combination at a time; 0 < level < 1.
    ///
    /// # Errors
    /// As [`Self::deviation_of`], and where the level is no probability.
    pub fn band(&self, row: &[f64], level: f64) -> Result<Band, FitError> {
        let half_width = self.coverage(level)? * self.deviation_of(row)?;
        Ok(Band { value: self.value(row)?, half_width })
    }

    /// The band that holds one further reading with this row and this standard deviation, known
    /// or relative as the others were.
    ///
    /// **Source** \[jcgm-100\] clause 5.1: the further reading's own variance is added. **Departs**
    /// nowhere. **Error** and **Domain** as [`Self::band`].
    ///
    /// # Errors
    /// As [`Self::band`], and where the standard deviation is not above zero.
    pub fn reading_band(&self, row: &[f64], noise: f64, level: f64) -> Result<Band, FitError> {
        all_positive("the standard deviation of reading", &[noise])?;
        let deviation = self.deviation_of(row)?.hypot(noise * self.needed_scale()?);
        Ok(Band { value: self.value(row)?, half_width: self.coverage(level)? * deviation })
    }

    /// How many standard deviations hold the truth with this probability.
    ///
    /// # Errors
    /// Where the level is no probability, or no degree of freedom is left to estimate the scale.
    pub fn coverage(&self, level: f64) -> Result<f64, FitError> {
        check_probability(level)?;
        let upper = 0.5 + 0.5 * level;
        if self.has_known_noise() {
            return normal_quantile(upper);
        }
        self.needed_scale()?;
        student_quantile(self.degrees_of_freedom() as f64, upper)
    }

    fn needed_scale(&self) -> Result<f64, FitError> {
        let why = "there are no more readings than parameters";
        self.scale().ok_or(FitError::Undetermined { what: "their own scale", why })
    }
}
