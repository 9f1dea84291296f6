//! Tails and quantiles of the normal, Student's and the chi-square distribution.
//!
//! The special functions are those of a general library; the quantiles are found here on the
//! tails, because the library's own lose their digits far out.

use statrs::function::{beta, erf, gamma};

use super::error::{FitError, all_finite, all_positive};

/// Halvings of a bracket after which nothing is left of it.
const HALVINGS: usize = 200;

/// Probability that a standard normal deviate is at least x.
///
/// **Source** \[dlmf\] 7.2: half of erfc(x/√2). **Departs** nowhere. **Error** relative 1e-10.
/// **Domain** finite x.
pub fn normal_tail(x: f64) -> f64 {
    0.5 * erf::erfc(x / std::f64::consts::SQRT_2)
}

/// Probability that Student's t with these degrees of freedom is at least t.
///
/// **Source** \[dlmf\] 8.17: half of the regularised incomplete beta function I(ν/(ν + t²); ν/2,
/// ½). **Departs** for t² < ν by the complement, which keeps the digits. **Error** relative 1e-10
/// up to 200 degrees of freedom, 1e-7 up to 10 000. **Domain** ν > 0.
///
/// # Errors
/// Where the degrees of freedom are not above zero, or a number is not finite.
pub fn student_tail(degrees: f64, t: f64) -> Result<f64, FitError> {
    all_positive("the degrees of freedom", &[degrees])?;
    all_finite("a value of t", &[t])?;
    let upper = student_upper(degrees, t.abs());
    Ok(if t >= 0.0 { upper } else { 1.0 - upper })
}

fn student_upper(degrees: f64, t: f64) -> f64 {
    let (half, square) = (0.5 * degrees, t * t);
    if square < degrees {
        0.5 * (1.0 - beta::beta_reg(0.5, half, square / (degrees + square)))
    } else {
        0.5 * beta::beta_reg(half, 0.5, degrees / (degrees + square))
    }
}

/// Probability that chi-square with these degrees of freedom is at least the value.
///
/// **Source** \[dlmf\] 8.2: the regularised incomplete gamma function Q(ν/2, χ²/2). **Departs**
/// nowhere. **Error** relative 1e-12. **Domain** ν > 0; one for a value of nought or below.
///
/// # Errors
/// Where the degrees of freedom are not above zero, or a number is not finite.
pub fn chi_square_tail(degrees: f64, value: f64) -> Result<f64, FitError> {
    all_positive("the degrees of freedom", &[degrees])?;
    all_finite("a value of chi-square", &[value])?;
    Ok(gamma::checked_gamma_ur(0.5 * degrees, 0.5 * value).unwrap_or(1.0))
}

/// The value below which a standard normal deviate lies with this probability.
///
/// **Source** \[dlmf\] 7.17: −√2 erfc⁻¹(2p). **Departs** nowhere. **Error** relative 1e-13.
/// **Domain** 0 < p < 1.
///
/// # Errors
/// Where the probability lies outside.
pub fn normal_quantile(probability: f64) -> Result<f64, FitError> {
    check_probability(probability)?;
    Ok(-std::f64::consts::SQRT_2 * erf::erfc_inv(2.0 * probability))
}

/// The value below which Student's t lies with this probability.
///
/// **Source** \[dlmf\] 8.17, inverse of [`student_tail`] by halving. **Departs** nowhere. **Error**
/// that of the tail. **Domain** 0 < p < 1, ν > 0.
///
/// # Errors
/// Where the probability or the degrees of freedom lie outside.
pub fn student_quantile(degrees: f64, probability: f64) -> Result<f64, FitError> {
    check_probability(probability)?;
    all_positive("the degrees of freedom", &[degrees])?;
    let rest = probability.min(1.0 - probability);
    let t = bisect(|t| student_upper(degrees, t) > rest);
    Ok(if probability < 0.5 { -t } else { t })
}

/// The value below which chi-square lies with this probability.
///
/// **Source** \[dlmf\] 8.2, inverse of [`chi_square_tail`] by halving. **Departs** nowhere.
/// **Error** that of the tail. **Domain** 0 < p < 1, ν > 0.
///
/// # Errors
/// Where the probability or the degrees of freedom lie outside.
pub fn chi_square_quantile(degrees: f64, probability: f64) -> Result<f64, FitError> {
    check_probability(probability)?;
    all_positive("the degrees of freedom", &[degrees])?;
    let half = 0.5 * degrees;
    // Either tail is taken where it is the smaller, so that its digits are kept.
    let is_below = |value: f64| {
        if probability < 0.5 {
            gamma::checked_gamma_lr(half, 0.5 * value).unwrap_or(0.0) < probability
        } else {
            gamma::checked_gamma_ur(half, 0.5 * value).unwrap_or(1.0) > 1.0 - probability
        }
    };
    Ok(bisect(is_below))
}

/// That a probability lies strictly between 0 and 1.
pub(super) fn check_probability(probability: f64) -> Result<(), FitError> {
    if probability > 0.0 && probability < 1.0 {
        Ok(())
    } else {
        Err(FitError::Probability { value: probability })
    }
}

/// The positive number up to which a statement holds, to the last digits: by doubling until it is
/// bracketed and then halving the bracket.
fn bisect(is_below: impl Fn(f64) -> bool) -> f64 {
    let mut high = 1.0;
    while is_below(high) && high < 1e150 {
        high *= 2.0;
    }
    let mut low = 0.5 * high;
    while !is_below(low) && low > 1e-150 {
        (low, high) = (0.5 * low, low);
    }
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if middle <= low || middle >= high {
            break;
        }
        if is_below(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}
