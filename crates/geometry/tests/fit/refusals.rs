//! What is refused, and that no number that is not one ever leaves.

use geometry::fit::quantile::{chi_square_quantile, normal_quantile, student_quantile};
use geometry::fit::robust::{OutlierRule, set_aside};
use geometry::fit::{FitError, LinearFit, LinearProblem, Noise, Prior};
use proptest::prelude::*;

use crate::random::Random;

fn refused(rows: &[Vec<f64>], readings: &[f64], noise: Noise) -> FitError {
    LinearProblem::new(rows, readings, noise).unwrap_err()
}

#[test]
fn input_that_makes_no_sense_is_refused_with_its_place() {
    let rows = [vec![1.0, 2.0], vec![3.0, 4.0]];
    let noise = || Noise::unknown(2);
    assert_eq!(refused(&[], &[], Noise::unknown(0)), FitError::Empty { what: "reading" });
    let none = refused(&[vec![], vec![]], &[1.0, 2.0], noise());
    assert_eq!(none, FitError::Empty { what: "parameter" });
    let short = refused(&[vec![1.0, 2.0], vec![3.0]], &[1.0, 2.0], noise());
    assert_eq!(short, FitError::Count { what: "entries of a row", expected: 2, found: 1 });
    let readings = refused(&rows, &[1.0], noise());
    assert_eq!(readings, FitError::Count { what: "readings", expected: 2, found: 1 });
    let infinite = refused(&rows, &[1.0, f64::INFINITY], noise());
    assert_eq!(infinite, FitError::NotFinite { what: "reading", index: 1 });
    assert_eq!(infinite.to_string(), "reading 2 is not finite");
    let nought = refused(&rows, &[1.0, 2.0], Noise::Known(vec![0.1, 0.0]));
    assert!(matches!(nought, FitError::NotPositive { index: 1, .. }), "{nought}");
    assert!(LinearProblem::new(&[[f64::NAN]], &[1.0], Noise::unknown(1)).is_err());
}

#[test]
fn priors_need_a_scale_and_a_parameter() {
    let problem = |noise| LinearProblem::new(&[[1.0], [1.0]], &[1.0, 2.0], noise).unwrap();
    let prior = Prior { mean: 0.0, deviation: 1.0 };
    let unknown = problem(Noise::unknown(2)).with_prior(0, prior);
    assert_eq!(unknown.unwrap_err(), FitError::UnknownScale { what: "a prior" });
    let known = || problem(Noise::known(0.1, 2));
    assert!(known().with_prior(1, prior).is_err());
    assert!(known().with_prior(0, Prior { mean: 0.0, deviation: 0.0 }).is_err());
    assert!(known().with_priors(&[prior, prior]).is_err());
    assert_eq!(known().evidence().unwrap_err(), FitError::MissingPrior { parameter: 0 });
    assert!(known().with_rank_tolerance(0.0).is_err());
    assert!(known().with_parameters(&[1]).is_err());
    assert!(known().with_parameters(&[]).is_err());
}

#[test]
fn probabilities_lie_between_nought_and_one() {
    for level in [0.0, 1.0, -0.5, 1.5, f64::NAN] {
        assert!(normal_quantile(level).is_err());
        assert!(student_quantile(3.0, level).is_err());
        assert!(chi_square_quantile(3.0, level).is_err());
        assert!(OutlierRule::new(level, 1).is_err());
        let fit = LinearProblem::new(&[[1.0]], &[1.0], Noise::known(0.1, 1)).unwrap().fit();
        assert!(fit.unwrap().parameter_band(0, level).is_err());
    }
    assert!(student_quantile(0.0, 0.5).is_err());
    let fit = LinearProblem::new(&[[1.0]], &[1.0], Noise::known(0.1, 1)).unwrap().fit().unwrap();
    assert!(fit.parameter_band(1, 0.95).is_err());
    assert!(fit.value(&[1.0, 2.0]).is_err());
    assert!(fit.reading_band(&[1.0], -1.0, 0.95).is_err());
}

/// Every number that a fit tells.
fn told(fit: &LinearFit) -> Vec<f64> {
    let count = fit.parameters().len();
    let mut numbers = [fit.parameters(), fit.residuals(), fit.leverages()].concat();
    numbers.extend(fit.standardised().into_iter().chain(fit.studentised()).flatten());
    numbers.extend((0..count).filter_map(|at| fit.deviation(at)));
    numbers.extend([fit.chi_square()].into_iter().chain(fit.scale()));
    numbers.extend(fit.misfit_probability());
    numbers.extend(fit.null_directions().iter().flat_map(|direction| direction.weights.clone()));
    numbers
}

/// A number of any size, nought among them.
fn any_size(random: &mut Random) -> f64 {
    match random.below(6) {
        0 => 0.0,
        1 => 1.0,
        2 => random.normal() * 1e150,
        3 => random.normal() * 1e-150,
        _ => random.normal(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn numbers_of_any_size_are_fitted_or_refused(
        seed in any::<u64>(), count in 1_usize..9, columns in 1_usize..5, is_known in any::<bool>(),
    ) {
        let mut random = Random(seed);
        let mut draw = |count: usize| -> Vec<f64> {
            (0..count).map(|_| any_size(&mut random)).collect()
        };
        let rows: Vec<Vec<f64>> = (0..count).map(|_| draw(columns)).collect();
        let readings = draw(count);
        let noise = if is_known { Noise::known(0.5, count) } else { Noise::unknown(count) };
        let problem = LinearProblem::new(&rows, &readings, noise).unwrap();
        if let Ok(fit) = problem.fit() {
            let numbers = told(&fit);
            prop_assert!(numbers.iter().all(|number| !number.is_nan()), "{numbers:?}");
        }
        if let Ok(robust) = set_aside(&problem, OutlierRule::default()) {
            prop_assert!(told(&robust.fit).iter().all(|number| !number.is_nan()));
            prop_assert!(robust.set_aside.iter().all(|gone| gone.shift.is_finite()));
        }
    }
}
