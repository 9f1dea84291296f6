//! What readings leave open.

use geometry::fit::{LinearFit, LinearProblem, Noise, Prior};
use proptest::prelude::*;

use crate::random::{Random, dot};

fn fitted(rows: &[Vec<f64>], readings: &[f64]) -> LinearFit {
    let noise = Noise::known(0.1, readings.len());
    LinearProblem::new(rows, readings, noise).unwrap().fit().unwrap()
}

/// Rows of four free columns, then the sum of the first two over 1000, and a column of noughts.
fn deficient(random: &mut Random, count: usize) -> Vec<Vec<f64>> {
    let mut rows = random.rows(count, 4);
    for row in &mut rows {
        let sum = row[0] + row[1];
        row.extend([1e-3 * sum, 0.0]);
    }
    rows
}

#[test]
fn columns_that_cannot_be_told_apart_are_named() {
    let mut random = Random(11);
    let rows = deficient(&mut random, 15);
    let fit = fitted(&rows, &random.normals(15));
    assert_eq!((fit.rank(), fit.degrees_of_freedom()), (4, 11));
    let mut named: Vec<Vec<usize>> =
        fit.null_directions().iter().map(|direction| direction.parameters()).collect();
    named.sort();
    assert_eq!(named, [vec![0, 1, 4], vec![5]]);
    for direction in fit.null_directions() {
        for row in &rows {
            assert!(dot(row, &direction.weights).abs() < 1e-12, "{direction:?}");
        }
        let largest = direction.shares.iter().fold(0.0_f64, |most, share| most.max(share.abs()));
        assert_eq!(largest, 1.0);
    }
    let determined: Vec<bool> = (0..6).map(|at| fit.is_parameter_determined(at)).collect();
    assert_eq!(determined, [false, false, true, true, false, false]);
    assert!(fit.deviation(0).is_none() && fit.deviation(2).is_some());
    assert!(fit.belief().is_none());
}

#[test]
fn combinations_that_are_seen_have_bands_and_others_have_none() {
    let mut random = Random(12);
    let rows = deficient(&mut random, 9);
    let readings = random.normals(9);
    let fit = fitted(&rows, &readings);
    // b0 + b4/1000 is seen, b0 alone is not; the difference b0 − b1 is.
    for (row, is_seen) in [
        ([1.0, 0.0, 0.0, 0.0, 1e-3, 0.0], true),
        ([1.0, -1.0, 0.0, 0.0, 0.0, 0.0], true),
        ([1.0, 0.0, 0.0, 0.0, 0.0, 0.0], false),
        ([0.0, 0.0, 0.0, 0.0, 0.0, 1.0], false),
    ] {
        assert_eq!(fit.is_determined(&row).unwrap(), is_seen, "{row:?}");
        assert_eq!(fit.band(&row, 0.95).is_ok(), is_seen, "{row:?}");
    }
    // The model without the surplus columns says the same of what both can say.
    let short: Vec<Vec<f64>> = rows.iter().map(|row| row[..4].to_vec()).collect();
    let plain = fitted(&short, &readings);
    let (one, other) = (
        fit.band(&[1.0, -1.0, 0.0, 0.0, 0.0, 0.0], 0.95).unwrap(),
        plain.band(&[1.0, -1.0, 0.0, 0.0], 0.95).unwrap(),
    );
    assert!((one.value - other.value).abs() < 1e-12);
    assert!((one.half_width - other.half_width).abs() < 1e-12);
    for (a, b) in fit.residuals().iter().zip(plain.residuals()) {
        assert!((a - b).abs() < 1e-12);
    }
}

#[test]
fn of_the_best_fits_the_smallest_is_given_in_whatever_units() {
    let mut random = Random(13);
    let rows = deficient(&mut random, 10);
    let readings = random.normals(10);
    let fit = fitted(&rows, &readings);
    let length = |at: usize| rows.iter().map(|row| row[at] * row[at]).sum::<f64>().sqrt();
    let size = |b: &[f64]| (0..6).map(|at| (b[at] * length(at)).powi(2)).sum::<f64>();
    let best = size(fit.parameters());
    for direction in fit.null_directions() {
        for t in [-0.01, 0.01] {
            let pairs = fit.parameters().iter().zip(&direction.weights);
            let moved: Vec<f64> = pairs.map(|(b, w)| b + t * w).collect();
            assert!(size(&moved) >= best, "{direction:?}");
        }
    }
    let units = [3.0, 1e-6, 25.4, 1.0, 1e4, 2.0];
    let other: Vec<Vec<f64>> =
        rows.iter().map(|row| row.iter().zip(units).map(|(x, unit)| x * unit).collect()).collect();
    let scaled = fitted(&other, &readings);
    for (at, unit) in units.into_iter().enumerate() {
        let (b, c) = (fit.parameters()[at], scaled.parameters()[at] * unit);
        assert!((b - c).abs() <= 1e-11 * b.abs().max(1e-12), "{at}: {b} {c}");
    }
}

#[test]
fn a_prior_closes_what_the_readings_leave_open() {
    let mut random = Random(14);
    let rows = deficient(&mut random, 10);
    let readings = random.normals(10);
    let problem = LinearProblem::new(&rows, &readings, Noise::known(0.1, 10)).unwrap();
    let prior = Prior { mean: 0.0, deviation: 1.0 };
    let fit = problem.with_prior(4, prior).unwrap().with_prior(5, prior).unwrap().fit().unwrap();
    assert_eq!(fit.rank(), 6);
    // Where the readings say nothing the prior is all there is.
    assert!((fit.deviation(5).unwrap() - 1.0).abs() < 1e-12);
    assert!(fit.parameters()[5].abs() < 1e-12);
    assert!((fit.deviation(4).unwrap() - 1.0).abs() < 1e-9);
}

#[test]
fn fewer_readings_than_parameters_are_fitted_exactly() {
    let mut random = Random(15);
    let rows = random.rows(2, 5);
    let readings = random.normals(2);
    let fit = fitted(&rows, &readings);
    assert_eq!((fit.rank(), fit.null_directions().len(), fit.degrees_of_freedom()), (2, 3, 0));
    assert!(fit.residuals().iter().all(|residual| residual.abs() < 1e-12));
    assert_eq!(fit.standardised(), [None, None]);
    // A further reading like the first is determined; a new one would tell something.
    assert!(fit.is_determined(&rows[0]).unwrap());
    assert!(!fit.is_determined(&random.normals(5)).unwrap());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// Any rank, any count of readings and parameters: what is reported open is open, and what is
    /// reported determined agrees between two fits that differ by a null direction.
    #[test]
    fn the_rank_is_found_and_the_null_space_is_unseen(
        seed in any::<u64>(), count in 1_usize..14, columns in 1_usize..7, rank in 1_usize..7,
    ) {
        let mut random = Random(seed);
        let rank = rank.min(columns).min(count);
        let (left, right) = (random.rows(count, rank), random.rows(rank, columns));
        let product = |row: &Vec<f64>| -> Vec<f64> {
            (0..columns).map(|at| (0..rank).map(|k| row[k] * right[k][at]).sum()).collect()
        };
        let rows: Vec<Vec<f64>> = left.iter().map(product).collect();
        let fit = fitted(&rows, &random.normals(count));
        let values = fit.singular_values();
        // A product of random factors can itself be close to a lower rank.
        prop_assume!(values[rank - 1] > 1e-6 * values[0]);
        prop_assert_eq!(fit.rank(), rank);
        prop_assert_eq!(fit.null_directions().len(), columns - rank);
        for direction in fit.null_directions() {
            let size = direction.weights.iter().fold(0.0_f64, |most, w| most.max(w.abs()));
            for row in &rows {
                prop_assert!(dot(row, &direction.weights).abs() <= 1e-7 * size);
            }
        }
        for row in &rows {
            prop_assert!(fit.is_determined(row).unwrap());
        }
        // The residuals are orthogonal to every column: nothing better is left.
        for at in 0..columns {
            let along: f64 = rows.iter().zip(fit.residuals()).map(|(row, r)| row[at] * r).sum();
            prop_assert!(along.abs() < 1e-9, "{along}");
        }
    }
}
