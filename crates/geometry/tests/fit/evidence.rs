//! Evidence and foresight, against brute-force integration and simulation.

use geometry::fit::evidence::{Predictive, compare, discriminate, expected_separation};
use geometry::fit::{LinearProblem, Noise, Prior};

use crate::random::{Random, dot, noisy};

fn log_density(value: f64, mean: f64, deviation: f64) -> f64 {
    let z = (value - mean) / deviation;
    -0.5 * z * z - deviation.ln() - 0.5 * std::f64::consts::TAU.ln()
}

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} against {wanted}");
}

fn problem(rows: &[Vec<f64>], readings: &[f64], s: &[f64], priors: &[Prior]) -> LinearProblem {
    let problem = LinearProblem::new(rows, readings, Noise::Known(s.to_vec())).unwrap();
    problem.with_priors(priors).unwrap()
}

/// ln ∫ likelihood · prior over one or two parameters, by the trapezoidal rule over ten standard
/// deviations of each prior.
fn integrated(rows: &[Vec<f64>], readings: &[f64], s: &[f64], priors: &[Prior]) -> f64 {
    let steps = 1600_i32;
    let density = |b: &[f64]| {
        let of_readings = rows.iter().zip(readings).zip(s);
        let log: f64 = of_readings.map(|((row, y), s)| log_density(*y, dot(row, b), *s)).sum();
        let priors = priors.iter().zip(b);
        (log + priors.map(|(prior, b)| log_density(*b, prior.mean, prior.deviation)).sum::<f64>())
            .exp()
    };
    let places = |prior: &Prior| -> Vec<f64> {
        let width = 10.0 * prior.deviation;
        (-steps..=steps).map(|k| prior.mean + width * f64::from(k) / f64::from(steps)).collect()
    };
    let step = |prior: &Prior| 10.0 * prior.deviation / f64::from(steps);
    let along = |rest: &[f64]| -> f64 {
        let at = |b: f64| density(&[rest, &[b]].concat());
        places(&priors[priors.len() - 1]).into_iter().map(at).sum::<f64>()
    };
    let sum = match priors {
        [_] => along(&[]),
        [first, _] => places(first).into_iter().map(|b| along(&[b])).sum(),
        _ => panic!("one or two parameters"),
    };
    (sum * priors.iter().map(step).product::<f64>()).ln()
}

#[test]
fn evidence_is_the_integral_of_likelihood_and_prior() {
    let mut random = Random(31);
    for parameters in [1, 2] {
        let rows = random.rows(5, parameters);
        let readings = random.normals(5);
        let s = [0.6, 0.8, 1.0, 0.7, 0.9];
        let priors = [Prior { mean: 0.2, deviation: 0.8 }, Prior { mean: -0.4, deviation: 1.3 }];
        let priors = &priors[..parameters];
        let evidence = problem(&rows, &readings, &s, priors).evidence().unwrap();
        near(evidence.log_evidence, integrated(&rows, &readings, &s, priors), 1e-9);
        near(evidence.log_best + evidence.log_occam, evidence.log_evidence, 1e-12);
        assert!(evidence.log_occam < 0.0);
    }
}

#[test]
fn evidence_is_the_product_of_what_was_foretold_reading_by_reading() {
    let mut random = Random(32);
    let rows = random.rows(9, 4);
    let readings = random.normals(9);
    let s: Vec<f64> = (0..9).map(|_| 0.05 + random.uniform()).collect();
    let priors: Vec<Prior> =
        (0..4).map(|at| Prior { mean: 0.3, deviation: 10_f64.powi(at - 2) }).collect();
    let whole = problem(&rows, &readings, &s, &priors).evidence().unwrap();
    // The first reading has nothing but the priors to be foretold from.
    let prior_mean: f64 = priors.iter().zip(&rows[0]).map(|(prior, x)| prior.mean * x).sum();
    let spread: f64 = priors.iter().zip(&rows[0]).map(|(p, x)| (p.deviation * x).powi(2)).sum();
    let mut sum = log_density(readings[0], prior_mean, (spread + s[0] * s[0]).sqrt());
    for at in 1..9 {
        let before = problem(&rows[..at], &readings[..at], &s[..at], &priors).evidence().unwrap();
        let foretold = before.belief.predictive(&rows[at], s[at]).unwrap();
        sum += log_density(readings[at], foretold.mean(), foretold.deviation());
    }
    near(whole.log_evidence, sum, 1e-9);
    // And the belief is the fit's.
    let fit = problem(&rows, &readings, &s, &priors).fit().unwrap();
    for at in 0..4 {
        near(whole.belief.mean()[at], fit.parameters()[at], 1e-11);
        let (one, other) =
            (whole.belief.covariance(at, 1).unwrap(), fit.covariance(at, 1).unwrap());
        near(one, other, 1e-12);
        near(fit.belief().unwrap().covariance(at, 1).unwrap(), other, 1e-14);
    }
}

#[test]
fn evidence_keeps_its_digits_under_priors_a_million_times_too_wide() {
    // Two columns alike: in closed form the readings see their sum only.
    let (wide, s) = (1e6, 1.0);
    let readings = [0.3, -0.2, 0.4];
    let priors = [Prior { mean: 0.0, deviation: wide }; 2];
    let rows = [vec![1.0, 1.0], vec![1.0, 1.0], vec![1.0, 1.0]];
    let evidence = problem(&rows, &readings, &[s; 3], &priors).evidence().unwrap();
    let sum = Prior { mean: 0.0, deviation: wide * 2.0_f64.sqrt() };
    let rows = [vec![1.0], vec![1.0], vec![1.0]];
    let plain = problem(&rows, &readings, &[s; 3], &[sum]).evidence().unwrap();
    near(evidence.log_evidence, plain.log_evidence, 1e-8);
    // By hand: det(σ² I + τ² 1 1ᵀ) = σ⁴ (σ² + 3 τ²), and the mean takes its share.
    let tau_squared = 2.0 * wide * wide;
    let squares: f64 = readings.iter().map(|y| y * y).sum();
    let total: f64 = readings.iter().sum();
    let quadratic = squares - total * total * tau_squared / (1.0 + 3.0 * tau_squared);
    let by_hand = -0.5 * (3.0 * std::f64::consts::TAU.ln() + (1.0 + 3.0 * tau_squared).ln());
    near(plain.log_evidence, by_hand - 0.5 * quadratic, 1e-10);
}

#[test]
fn probabilities_of_models_come_true() {
    // Readings are drawn from one of two models at random: among the runs that are told 70 %, 70 %
    // must be right. In all, the mean told probability is the share of the first model.
    let mut random = Random(33);
    let rows: Vec<Vec<f64>> = (0..6).map(|at| vec![1.0, (1.9 * f64::from(at)).cos()]).collect();
    let prior = Prior { mean: 0.0, deviation: 0.5 };
    let (mut told, mut right, mut bin) = (0.0, 0.0, (0.0, 0.0));
    for _ in 0..4000 {
        let is_full = random.uniform() < 0.4;
        let b = [0.5 * random.normal(), if is_full { 0.5 * random.normal() } else { 0.0 }];
        let readings = noisy(&mut random, &rows, &b, &[0.3; 6]);
        let full = problem(&rows, &readings, &[0.3; 6], &[prior; 2]);
        let short = full.with_parameters(&[0]).unwrap();
        let comparison = compare(&[full, short], &[0.4, 0.6]).unwrap();
        let probability = comparison.probabilities[0];
        near(comparison.probabilities.iter().sum(), 1.0, 1e-12);
        assert_eq!(comparison.best() == 0, probability > 0.5);
        told += probability / 4000.0;
        right += f64::from(u8::from(is_full)) / 4000.0;
        if (0.2..0.5).contains(&probability) {
            bin = (bin.0 + probability - f64::from(u8::from(is_full)), bin.1 + 1.0);
        }
    }
    near(told, right, 0.02);
    assert!(bin.1 > 500.0);
    near(bin.0 / bin.1, 0.0, 0.05);
}

#[test]
fn information_is_the_fall_of_entropy() {
    let mut random = Random(34);
    let rows = random.rows(6, 3);
    let readings = random.normals(6);
    let priors = [Prior { mean: 0.0, deviation: 2.0 }; 3];
    let before = problem(&rows, &readings, &[0.4; 6], &priors).fit().unwrap();
    let row = random.normals(3);
    let (rows, readings) = ([rows, vec![row.clone()]].concat(), [readings, vec![5.0]].concat());
    let after = problem(&rows, &readings, &[vec![0.4; 6], vec![0.1]].concat(), &priors);
    let after = after.fit().unwrap();
    let determinant = |fit: &geometry::fit::LinearFit| {
        let c = |i, j| fit.covariance(i, j).unwrap();
        c(0, 0) * (c(1, 1) * c(2, 2) - c(1, 2) * c(2, 1))
            - c(0, 1) * (c(1, 0) * c(2, 2) - c(1, 2) * c(2, 0))
            + c(0, 2) * (c(1, 0) * c(2, 1) - c(1, 1) * c(2, 0))
    };
    let belief = before.belief().unwrap();
    let fall = 0.5 * (determinant(&before) / determinant(&after)).ln();
    near(belief.information(&row, 0.1).unwrap(), fall, 1e-9);
    // Of one combination: half the log of the ratio of its variances.
    let question = [1.0, -2.0, 0.5];
    let (wide, narrow) =
        (before.deviation_of(&question).unwrap(), after.deviation_of(&question).unwrap());
    let told = belief.information_about(&question, &row, 0.1).unwrap();
    near(told, (wide / narrow).ln(), 1e-10);
    // Of several candidates the one that falls furthest is chosen.
    let candidates = [(vec![0.0; 3], 0.1), (row.clone(), 0.1), (row.clone(), 0.4)];
    let (best, most) = belief.most_informative(&candidates).unwrap().unwrap();
    assert_eq!(best, 1);
    near(most, fall, 1e-9);
    near(belief.information(&[0.0; 3], 0.1).unwrap(), 0.0, 0.0);
}

#[test]
fn discrimination_is_the_mean_log_bayes_factor() {
    let (first, second) = (Predictive::new(0.3, 0.8).unwrap(), Predictive::new(-0.5, 1.1).unwrap());
    let told = discriminate(&first, &second);
    // ∫ p₁ ln(p₁/p₂) by the trapezoidal rule.
    let mean = |one: &Predictive, other: &Predictive| {
        let at = |k: i32| {
            let y = one.mean() + 12.0 * one.deviation() * f64::from(k) / 4000.0;
            let (p, q) = (
                log_density(y, one.mean(), one.deviation()),
                log_density(y, other.mean(), other.deviation()),
            );
            p.exp() * (p - q)
        };
        (-4000..=4000).map(at).sum::<f64>() * 12.0 * one.deviation() / 4000.0
    };
    near(told.if_first, mean(&first, &second), 1e-10);
    near(told.if_second, mean(&second, &first), 1e-10);
    let both = expected_separation(&[0.25, 0.75], &[first, second]).unwrap();
    near(both, 0.1875 * (told.if_first + told.if_second), 1e-12);
    let same = discriminate(&first, &first);
    assert_eq!((same.if_first, same.if_second), (0.0, 0.0));
}
