//! Models that are not linear.

use geometry::fit::nonlinear::{Model, NonlinearProblem, central_jacobian, finer_jacobian};
use geometry::fit::{FitError, LinearProblem, Noise, Prior};

use crate::random::{Random, noisy, turning_rows};

/// b0 · (1 − e^(−b1 x)) at x = 0.5, 1, 1.5, ….
fn rising(b: &[f64]) -> Vec<f64> {
    (1..=10).map(|k| b[0] * (1.0 - (-b[1] * 0.5 * f64::from(k)).exp())).collect()
}

#[test]
fn a_linear_model_is_fitted_as_the_linear_fit_does() {
    let mut random = Random(41);
    let rows = turning_rows(12);
    let truth = [0.3, 0.02, -0.1, 0.2];
    let readings = noisy(&mut random, &rows, &truth, &[0.05; 12]);
    let noise = Noise::known(0.05, 12);
    let prior = Prior { mean: 0.1, deviation: 0.03 };
    let linear = LinearProblem::new(&rows, &readings, noise.clone()).unwrap();
    let linear = linear.with_prior(2, prior).unwrap().fit().unwrap();
    let model = |b: &[f64]| -> Vec<f64> {
        rows.iter().map(|row| row.iter().zip(b).map(|(x, b)| x * b).sum()).collect()
    };
    let problem = NonlinearProblem::new(model, &readings, noise, &[0.0; 4]).unwrap();
    let found = problem.with_prior(2, prior).unwrap().fit().unwrap();
    assert!(found.offset < 1e-8, "{}", found.offset);
    for at in 0..4 {
        let (one, other) = (found.fit.parameters()[at], linear.parameters()[at]);
        assert!((one - other).abs() < 1e-11, "{one} {other}");
        let (one, other) = (found.fit.deviation(at).unwrap(), linear.deviation(at).unwrap());
        assert!((one / other - 1.0).abs() < 1e-10, "{one} {other}");
    }
    assert!((found.fit.chi_square() - linear.chi_square()).abs() < 1e-9);
    assert_eq!(found.fit.degrees_of_freedom(), linear.degrees_of_freedom());
}

#[test]
fn bands_hold_as_often_as_they_say_where_the_model_is_nearly_straight() {
    let mut random = Random(42);
    let truth = [2.0, 0.7];
    let mut held = 0;
    for _ in 0..4000 {
        let readings: Vec<f64> =
            rising(&truth).iter().map(|value| value + 0.02 * random.normal()).collect();
        let problem = NonlinearProblem::new(rising, &readings, Noise::unknown(10), &[1.0, 1.0]);
        let found = problem.unwrap().fit().unwrap();
        held += usize::from(found.fit.parameter_band(1, 0.95).unwrap().holds(truth[1]));
    }
    assert!((3760..=3840).contains(&held), "{held} of 4000");
}

#[test]
fn an_exact_fit_is_reached_to_the_last_digits() {
    let readings = rising(&[2.0, 0.7]);
    let problem = NonlinearProblem::new(rising, &readings, Noise::known(0.01, 10), &[0.3, 3.0]);
    let found = problem.unwrap().fit().unwrap();
    assert!((found.fit.parameters()[0] - 2.0).abs() < 1e-12);
    assert!((found.fit.parameters()[1] - 0.7).abs() < 1e-12);
}

/// The same model with its own derivatives.
struct Rising;

impl Model for Rising {
    fn values(&self, b: &[f64]) -> Vec<f64> {
        rising(b)
    }

    fn jacobian(&self, b: &[f64]) -> Option<Vec<Vec<f64>>> {
        let row = |k: i32| {
            let x = 0.5 * f64::from(k);
            let rest = (-b[1] * x).exp();
            vec![1.0 - rest, b[0] * x * rest]
        };
        Some((1..=10).map(row).collect())
    }
}

#[test]
fn differences_come_close_to_the_models_own_derivatives() {
    let at = [2.0, 0.7];
    let own = Rising.jacobian(&at).unwrap();
    let plain = central_jacobian(rising, &at, &[1.0, 1.0]).unwrap();
    let finer = finer_jacobian(rising, &at, &[1.0, 1.0]).unwrap();
    for row in 0..10 {
        for column in 0..2 {
            assert!((plain[row][column] - own[row][column]).abs() < 1e-9);
            assert!((finer[row][column] - own[row][column]).abs() < 2e-11);
        }
    }
    let mut random = Random(43);
    let readings: Vec<f64> = rising(&at).iter().map(|y| y + 0.05 * random.normal()).collect();
    let start = [1.0, 1.0];
    let own = NonlinearProblem::new(Rising, &readings, Noise::unknown(10), &start).unwrap();
    let other = NonlinearProblem::new(rising, &readings, Noise::unknown(10), &start).unwrap();
    let (own, other) = (own.fit().unwrap(), other.fit().unwrap());
    for at in 0..2 {
        assert!((own.fit.parameters()[at] - other.fit.parameters()[at]).abs() < 1e-10);
    }
}

#[test]
fn parameters_that_only_act_together_are_named() {
    let product =
        |b: &[f64]| -> Vec<f64> { (1..=6).map(|k| b[0] * b[1] * f64::from(k) + b[2]).collect() };
    let mut random = Random(44);
    let readings: Vec<f64> =
        product(&[2.0, 3.0, 1.0]).iter().map(|y| y + 0.01 * random.normal()).collect();
    let problem = NonlinearProblem::new(product, &readings, Noise::known(0.01, 6), &[1.0; 3]);
    let found = problem.unwrap().fit().unwrap();
    let b = found.fit.parameters();
    assert!((b[0] * b[1] - 6.0).abs() < 0.01 && (b[2] - 1.0).abs() < 0.04, "{b:?}");
    let open = found.fit.null_directions();
    assert_eq!((open.len(), open[0].parameters()), (1, vec![0, 1]));
    assert!(found.fit.deviation(0).is_none() && found.fit.deviation(2).is_some());
}

#[test]
fn what_is_not_finite_is_refused_at_the_start_and_turned_back_from_later() {
    let readings = [1.0, 1.4, 1.7];
    let root = |b: &[f64]| -> Vec<f64> { (1..=3).map(|k| (b[0] * f64::from(k)).sqrt()).collect() };
    let problem = |start: f64| NonlinearProblem::new(root, &readings, Noise::unknown(3), &[start]);
    assert_eq!(
        problem(-1.0).unwrap().fit().unwrap_err(),
        FitError::NotFinite { what: "the model's reading", index: 0 }
    );
    // From far above, a full step would lead below nought.
    let found = problem(400.0).unwrap().fit().unwrap();
    assert!((found.fit.parameters()[0] - 0.98).abs() < 0.05, "{:?}", found.fit.parameters());
    assert!(problem(f64::NAN).is_err());
}

#[test]
fn a_descent_without_an_end_is_refused() {
    // The readings ask for less than any parameter gives: the best lies at minus infinity.
    let never = |b: &[f64]| vec![1e3 * b[0].exp() + 1e3 * b[1].exp().ln_1p(), b[0], b[1]];
    let readings = [f64::MAX.sqrt(), 0.0, 0.0];
    let problem = NonlinearProblem::new(never, &readings, Noise::known(1e-140, 3), &[1.0, 1.0]);
    assert!(problem.unwrap().fit().is_err());
    // Too few values for the readings.
    let short = |b: &[f64]| vec![b[0]];
    let problem = NonlinearProblem::new(short, &[1.0, 2.0], Noise::unknown(2), &[1.0]).unwrap();
    let wanted = FitError::Count { what: "readings of the model", expected: 2, found: 1 };
    assert_eq!(problem.fit().unwrap_err(), wanted);
}
