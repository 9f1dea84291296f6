//! The linear fit: bands that hold as often as they say, and what follows from the definition.

use geometry::fit::quantile::chi_square_tail;
use geometry::fit::{LinearFit, LinearProblem, Noise, Prior};

use crate::random::{Random, dot, noisy, turning_rows};

const RUNS: usize = 4000;

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} against {wanted}");
}

/// That something came true in 94 to 96 of 100 runs.
fn nineteen_in_twenty(what: &str, held: usize) {
    let share = held as f64 / RUNS as f64;
    assert!((0.94..=0.96).contains(&share), "{what}: {share}");
}

fn fitted(rows: &[Vec<f64>], readings: &[f64], noise: Noise) -> LinearFit {
    LinearProblem::new(rows, readings, noise).unwrap().fit().unwrap()
}

/// Simulates fits of ten readings with unequal noise and counts the bands that hold the truth: of
/// a parameter, of a combination, of one further reading.
fn bands_that_hold(seed: u64, is_known: bool) -> [usize; 3] {
    let mut random = Random(seed);
    let (rows, truth) = (turning_rows(10), [0.4, -0.03, 0.2, 0.1]);
    let deviations: Vec<f64> = (0..10).map(|at| 0.01 * (1.0 + 0.2 * at as f64)).collect();
    let further = [1.0, 12.0, 0.5, -0.5];
    let mut held = [0; 3];
    for _ in 0..RUNS {
        let readings = noisy(&mut random, &rows, &truth, &deviations);
        let noise = if is_known {
            Noise::Known(deviations.clone())
        } else {
            Noise::Relative(deviations.iter().map(|s| 7.0 * s).collect())
        };
        let fit = fitted(&rows, &readings, noise);
        let next = dot(&further, &truth) + 0.02 * random.normal();
        let given = if is_known { 0.02 } else { 0.14 };
        held[0] += usize::from(fit.parameter_band(2, 0.95).unwrap().holds(truth[2]));
        held[1] += usize::from(fit.band(&further, 0.95).unwrap().holds(dot(&further, &truth)));
        held[2] += usize::from(fit.reading_band(&further, given, 0.95).unwrap().holds(next));
    }
    held
}

#[test]
fn bands_hold_as_often_as_they_say_where_the_noise_is_known() {
    for (what, held) in ["parameter", "combination", "reading"].iter().zip(bands_that_hold(1, true))
    {
        nineteen_in_twenty(what, held);
    }
}

#[test]
fn bands_hold_as_often_as_they_say_where_the_scale_is_estimated() {
    for (what, held) in
        ["parameter", "combination", "reading"].iter().zip(bands_that_hold(2, false))
    {
        nineteen_in_twenty(what, held);
    }
}

#[test]
fn bands_with_priors_hold_for_parameters_drawn_from_them() {
    let mut random = Random(3);
    // Five readings of six parameters: only the priors make it determined.
    let rows = random.rows(5, 6);
    let priors: Vec<Prior> =
        (0..6).map(|at| Prior { mean: at as f64, deviation: 0.5 + 0.1 * at as f64 }).collect();
    let mut held = 0;
    for _ in 0..RUNS {
        let truth: Vec<f64> =
            priors.iter().map(|prior| prior.mean + prior.deviation * random.normal()).collect();
        let readings = noisy(&mut random, &rows, &truth, &[0.3; 5]);
        let problem = LinearProblem::new(&rows, &readings, Noise::known(0.3, 5)).unwrap();
        let fit = problem.with_priors(&priors).unwrap().fit().unwrap();
        assert!(fit.null_directions().is_empty());
        held += usize::from(fit.parameter_band(4, 0.95).unwrap().holds(truth[4]));
    }
    nineteen_in_twenty("parameter", held);
}

#[test]
fn covariance_is_that_of_the_estimates() {
    let mut random = Random(4);
    let (rows, truth) = (turning_rows(9), [1.0, 0.1, -0.2, 0.3]);
    let (mut sums, mut products, mut told) = ([0.0; 4], [[0.0; 4]; 4], [[0.0; 4]; 4]);
    for _ in 0..RUNS {
        let readings = noisy(&mut random, &rows, &truth, &[0.05; 9]);
        let fit = fitted(&rows, &readings, Noise::known(0.05, 9));
        for i in 0..4 {
            sums[i] += fit.parameters()[i] - truth[i];
            for j in 0..4 {
                let off = |at: usize| fit.parameters()[at] - truth[at];
                products[i][j] += off(i) * off(j) / RUNS as f64;
                told[i][j] = fit.covariance(i, j).unwrap();
            }
        }
    }
    for i in 0..4 {
        // Four standard errors of a mean, and of a covariance, of so many runs.
        let deviation = told[i][i].sqrt();
        near(sums[i] / RUNS as f64, 0.0, 4.0 * deviation / (RUNS as f64).sqrt());
        for j in 0..4 {
            let size = (told[i][i] * told[j][j] + told[i][j] * told[i][j]).sqrt();
            near(products[i][j], told[i][j], 4.0 * size / (RUNS as f64).sqrt());
        }
    }
}

#[test]
fn standardised_residuals_have_unit_variance_and_misfit_is_uniform() {
    let mut random = Random(5);
    let (rows, truth) = (turning_rows(7), [1.0, 0.1, -0.2, 0.3]);
    let (mut squares, mut unlikely) = ([0.0; 7], 0);
    for _ in 0..RUNS {
        let readings = noisy(&mut random, &rows, &truth, &[0.05; 7]);
        let fit = fitted(&rows, &readings, Noise::known(0.05, 7));
        for (square, r) in squares.iter_mut().zip(fit.standardised()) {
            *square += r.unwrap().powi(2) / RUNS as f64;
        }
        let misfit = fit.misfit_probability().unwrap();
        near(misfit, chi_square_tail(3.0, fit.chi_square()).unwrap(), 1e-12);
        unlikely += usize::from(misfit > 0.05);
    }
    // Four standard errors of a mean square.
    squares.iter().for_each(|square| near(*square, 1.0, 4.0 * (2.0 / RUNS as f64).sqrt()));
    nineteen_in_twenty("misfit", unlikely);
}

#[test]
fn a_weighted_mean_is_as_by_hand() {
    // Weights 1, 1/4 and 1/16 in units of 1/0.01²: mean (5 + 7/4 + 9/16)/(21/16) = 117/21.
    let noise = Noise::Known(vec![0.01, 0.02, 0.04]);
    let fit = fitted(&[vec![1.0], vec![1.0], vec![1.0]], &[5.0, 7.0, 9.0], noise);
    near(fit.parameters()[0], 117.0 / 21.0, 1e-14);
    near(fit.covariance(0, 0).unwrap(), 1e-4 * 16.0 / 21.0, 1e-18);
    let leverages = [16.0 / 21.0, 4.0 / 21.0, 1.0 / 21.0];
    for (found, wanted) in fit.leverages().iter().zip(leverages) {
        near(*found, wanted, 1e-14);
    }
    near(fit.residuals()[1], 7.0 - 117.0 / 21.0, 1e-14);
    assert_eq!((fit.rank(), fit.degrees_of_freedom()), (1, 2));
}

#[test]
fn leverages_sum_to_the_rank_and_units_of_columns_change_nothing() {
    let mut random = Random(6);
    let rows = random.rows(12, 4);
    let readings = random.normals(12);
    let plain = fitted(&rows, &readings, Noise::unknown(12));
    near(plain.leverages().iter().sum(), 4.0, 1e-12);
    let units = [1e-9, 25.4, 1.0, 1e12];
    let other: Vec<Vec<f64>> =
        rows.iter().map(|row| row.iter().zip(units).map(|(x, unit)| x * unit).collect()).collect();
    let scaled = fitted(&other, &readings, Noise::unknown(12));
    for (at, unit) in units.into_iter().enumerate() {
        let (b, c) = (plain.parameters()[at], scaled.parameters()[at] * unit);
        near(c / b, 1.0, 1e-12);
        let (b, c) = (plain.deviation(at).unwrap(), scaled.deviation(at).unwrap() * unit);
        near(c / b, 1.0, 1e-12);
    }
    near(scaled.chi_square() / plain.chi_square(), 1.0, 1e-12);
    near(scaled.scale().unwrap() / plain.scale().unwrap(), 1.0, 1e-12);
}

#[test]
fn relative_noise_is_scaled_by_what_is_left_over() {
    let mut random = Random(7);
    let (rows, readings) = (turning_rows(11), random.normals(11));
    let one = fitted(&rows, &readings, Noise::unknown(11));
    let ten = fitted(&rows, &readings, Noise::Relative(vec![10.0; 11]));
    near(ten.scale().unwrap() * 10.0 / one.scale().unwrap(), 1.0, 1e-12);
    near(ten.deviation(1).unwrap() / one.deviation(1).unwrap(), 1.0, 1e-12);
    assert_eq!(one.misfit_probability(), None);
    // As many readings as parameters leave no scale to estimate.
    let full = fitted(&rows[..4], &readings[..4], Noise::unknown(4));
    assert_eq!((full.scale(), full.deviation(0)), (None, None));
    assert!(full.band(&[1.0, 0.0, 0.0, 0.0], 0.9).is_err());
    assert_eq!(full.standardised(), vec![None; 4]);
}

#[test]
fn a_prior_is_a_reading_of_one_parameter() {
    let mut random = Random(8);
    let (mut rows, mut readings) = (random.rows(6, 3), random.normals(6));
    let problem = LinearProblem::new(&rows, &readings, Noise::known(0.2, 6)).unwrap();
    let with_prior =
        problem.with_prior(1, Prior { mean: 0.7, deviation: 0.05 }).unwrap().fit().unwrap();
    rows.push(vec![0.0, 1.0, 0.0]);
    readings.push(0.7);
    let deviations = [vec![0.2; 6], vec![0.05]].concat();
    let as_reading = fitted(&rows, &readings, Noise::Known(deviations));
    for at in 0..3 {
        near(with_prior.parameters()[at], as_reading.parameters()[at], 1e-13);
        near(with_prior.deviation(at).unwrap(), as_reading.deviation(at).unwrap(), 1e-13);
    }
    near(with_prior.chi_square(), as_reading.chi_square(), 1e-11);
    let of_prior = ((as_reading.parameters()[1] - 0.7) / 0.05).powi(2);
    near(with_prior.chi_square_of_priors(), of_prior, 1e-11);
    assert_eq!(with_prior.degrees_of_freedom(), 4);
    assert_eq!(with_prior.residuals().len(), 6);
}
