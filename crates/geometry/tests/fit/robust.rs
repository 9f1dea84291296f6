//! Bad readings: found when planted, seldom suspected when there are none, never guessed at.

use geometry::fit::robust::{OutlierRule, RobustFit, heavy_tail_fit, set_aside};
use geometry::fit::{FitError, LinearProblem, Noise};

use crate::random::{Random, dot, noisy, turning_rows};

const SIGMA: f64 = 0.02;
const TRUTH: [f64; 4] = [0.5, -0.01, 0.03, 0.04];

fn noise(count: usize, is_known: bool) -> Noise {
    if is_known { Noise::known(SIGMA, count) } else { Noise::unknown(count) }
}

/// One simulated set of readings, some shifted by so many standard deviations.
fn tried(
    random: &mut Random,
    rows: &[Vec<f64>],
    shifts: &[(usize, f64)],
    is_known: bool,
    rule: OutlierRule,
) -> RobustFit {
    let count = rows.len();
    let mut readings = noisy(random, rows, &TRUTH[..rows[0].len()], &vec![SIGMA; count]);
    shifts.iter().for_each(|(at, shift)| readings[*at] += shift * SIGMA);
    let problem = LinearProblem::new(rows, &readings, noise(count, is_known)).unwrap();
    set_aside(&problem, rule).unwrap()
}

/// A mean and a slope.
fn straight_rows(count: usize) -> Vec<Vec<f64>> {
    (0..count).map(|at| vec![1.0, at as f64]).collect()
}

/// In how many of a thousand runs exactly the one planted reading was set aside.
fn found(seed: u64, rows: &[Vec<f64>], is_known: bool) -> usize {
    let mut random = Random(seed);
    let run = |_: &usize| {
        let at = random.below(rows.len());
        let shift = if random.uniform() < 0.5 { 6.0 } else { -6.0 };
        let fit = tried(&mut random, rows, &[(at, shift)], is_known, OutlierRule::default());
        fit.set_aside.len() == 1 && fit.set_aside[0].reading == at
    };
    (0..1000).filter(run).count()
}

#[test]
fn a_reading_six_deviations_off_is_found_among_eight_or_more() {
    // Known noise: the readings at the ends of a short line hide the most.
    for (count, least) in [(8, 970), (12, 980), (20, 980)] {
        let found = found(21, &straight_rows(count), true);
        assert!(found >= least, "{count} readings: {found}");
    }
    // An estimated scale has to be learnt from the same few readings.
    for (count, least) in [(8, 600), (12, 900), (20, 900)] {
        let found = found(22, &straight_rows(count), false);
        assert!(found >= least, "{count} readings: {found}");
    }
    let found = found(23, &turning_rows(14), true);
    assert!(found >= 950, "turning rows: {found}");
}

/// In how many of 4000 sets of good readings something was set aside.
fn false_alarms(seed: u64, rows: &[Vec<f64>], is_known: bool, rule: OutlierRule) -> usize {
    let mut random = Random(seed);
    let run = |_: &usize| !tried(&mut random, rows, &[], is_known, rule).set_aside.is_empty();
    (0..4000).filter(run).count()
}

#[test]
fn false_alarms_stay_below_the_level() {
    // 5 % of 4000 is 200; three standard errors of a count are 41. Bonferroni's bound is close for
    // one reading, so that the rate may not be far below either.
    for (rows, is_known) in [
        (straight_rows(8), true),
        (straight_rows(8), false),
        (turning_rows(16), true),
        (turning_rows(16), false),
    ] {
        let alarms = false_alarms(24, &rows, is_known, OutlierRule::default());
        assert!((100..=241).contains(&alarms), "{} {is_known}: {alarms}", rows.len());
        let two = OutlierRule::new(0.05, 2).unwrap();
        let alarms = false_alarms(25, &rows, is_known, two);
        assert!((50..=241).contains(&alarms), "two of {} {is_known}: {alarms}", rows.len());
    }
}

#[test]
fn two_readings_that_hide_each_other_are_found_together() {
    let mut random = Random(26);
    let rows = straight_rows(12);
    let two = OutlierRule::new(0.05, 2).unwrap();
    let (mut alone, mut together) = (0, 0);
    for _ in 0..500 {
        let shifts = [(4, 9.0), (7, 9.0)];
        let one = tried(&mut random, &rows, &shifts, false, OutlierRule::default());
        alone += usize::from(!one.set_aside.is_empty());
        let fit = tried(&mut random, &rows, &shifts, false, two);
        let mut gone: Vec<usize> = fit.set_aside.iter().map(|gone| gone.reading).collect();
        gone.sort_unstable();
        together += usize::from(gone == [4, 7]);
    }
    assert!(together >= 400 && together > 2 * alone, "{together} together, {alone} alone");
}

#[test]
fn two_readings_that_stand_off_to_either_side_are_both_set_aside() {
    let mut random = Random(28);
    let rows = straight_rows(14);
    let two = OutlierRule::new(0.05, 2).unwrap();
    let run = |_: &usize| {
        let fit = tried(&mut random, &rows, &[(3, 8.0), (9, -12.0)], true, two);
        // The worse one goes first.
        fit.set_aside.iter().map(|gone| gone.reading).eq([9, 3])
    };
    let found = (0..200).filter(run).count();
    assert!(found >= 185, "{found} of 200");
    // The rule's number of readings is the most that go.
    let fit = tried(&mut random, &rows, &[(3, 9.0), (9, -12.0)], true, OutlierRule::default());
    assert_eq!(fit.set_aside.len(), 1);
}

#[test]
fn what_is_set_aside_says_why() {
    let rows = straight_rows(9);
    let mut readings: Vec<f64> = rows.iter().map(|row| dot(row, &[1.0, 0.5])).collect();
    readings[3] += 0.2;
    let problem = LinearProblem::new(&rows, &readings, Noise::known(SIGMA, 9)).unwrap();
    let fit = set_aside(&problem, OutlierRule::default()).unwrap();
    let gone = fit.set_aside[0];
    assert_eq!((gone.reading, gone.among, fit.kept.len()), (3, 9, 8));
    assert!(!fit.kept.contains(&3) && fit.tied.is_empty() && fit.unchecked.is_empty());
    // The rest lie on a line, so that the shift is the whole of what was added.
    assert!((gone.shift - 0.2).abs() < 1e-12);
    assert!((fit.fit.parameters()[1] - 0.5).abs() < 1e-12);
    let told = gone.to_string();
    assert!(told.starts_with("reading 4 stands +0.2000 off what the others say"), "{told}");
    assert!(gone.probability < 0.05 && gone.statistic > gone.bound);
}

#[test]
fn where_nothing_says_which_reading_is_bad_none_is_named() {
    // Two readings of the same thing that disagree: one of them is bad, but which?
    let rows = [vec![1.0], vec![1.0]];
    let problem = LinearProblem::new(&rows, &[1.0, 2.0], Noise::known(SIGMA, 2)).unwrap();
    let fit = set_aside(&problem, OutlierRule::default()).unwrap();
    assert_eq!((fit.set_aside.len(), fit.tied, fit.kept), (0, vec![0, 1], vec![0, 1]));
    // A reading that alone determines a parameter cannot be checked.
    let rows = [vec![1.0, 0.0], vec![1.0, 0.0], vec![1.0, 0.0], vec![0.0, 1.0]];
    let readings = [1.0, 1.01, 2.0, 99.0];
    let problem = LinearProblem::new(&rows, &readings, Noise::known(SIGMA, 4)).unwrap();
    let fit = set_aside(&problem, OutlierRule::default()).unwrap();
    assert_eq!((fit.set_aside[0].reading, fit.unchecked), (2, vec![3]));
}

/// Minus twice the log likelihood of Student's t noise about one mean, constants left out.
fn unlikelihood(readings: &[f64], mean: f64, sigma: f64, tail: f64) -> f64 {
    let term = |y: &f64| (tail + 1.0) * (((y - mean) / sigma).powi(2) / tail).ln_1p();
    readings.iter().map(term).sum::<f64>() + 2.0 * readings.len() as f64 * sigma.ln()
}

#[test]
fn heavy_tails_reach_the_greatest_likelihood() {
    let readings = [1.02, 0.98, 1.01, 0.97, 1.03, 1.00, 1.45];
    let rows = [[1.0]; 7];
    let known = LinearProblem::new(&rows, &readings, Noise::known(SIGMA, 7)).unwrap();
    let fit = heavy_tail_fit(&known, 4.0).unwrap();
    let best = fit.parameters[0];
    let at = |mean: f64| unlikelihood(&readings, mean, SIGMA, 4.0);
    assert!(at(best) < at(best + 1e-5) && at(best) < at(best - 1e-5), "{best}");
    assert!((best - 1.0).abs() < SIGMA, "{best}");
    assert!(fit.weights[6] < 0.02 && fit.weights[5] > 1.0, "{:?}", fit.weights);

    let unknown = LinearProblem::new(&rows, &readings, Noise::unknown(7)).unwrap();
    let fit = heavy_tail_fit(&unknown, 4.0).unwrap();
    let (mean, sigma) = (fit.parameters[0], fit.scale);
    let best = unlikelihood(&readings, mean, sigma, 4.0);
    for (a, b) in [(1e-4, 0.0), (-1e-4, 0.0), (0.0, 1e-4), (0.0, -1e-4)] {
        assert!(best < unlikelihood(&readings, mean + a, sigma + b, 4.0), "{a} {b}");
    }
}

#[test]
fn heavy_tails_have_honest_deviations() {
    // Noise that is Student's t with four degrees of freedom: the spread of the estimate is told.
    let mut random = Random(27);
    let rows = straight_rows(40);
    let (mut squares, mut told) = (0.0, 0.0);
    for _ in 0..1000 {
        let mut t = || {
            random.normal() / (random.normals(4).iter().map(|z| z * z / 4.0).sum::<f64>()).sqrt()
        };
        let readings: Vec<f64> = rows.iter().map(|row| dot(row, &TRUTH) + SIGMA * t()).collect();
        let problem = LinearProblem::new(&rows, &readings, Noise::known(SIGMA, 40)).unwrap();
        let fit = heavy_tail_fit(&problem, 4.0).unwrap();
        squares += (fit.parameters[1] - TRUTH[1]).powi(2) / 1000.0;
        told += fit.deviations[1].unwrap().powi(2) / 1000.0;
    }
    // The formula is for large samples; three standard errors of the simulation are 13 %.
    assert!((squares / told - 1.0).abs() < 0.2, "{squares} against {told}");
}

#[test]
fn a_scale_that_vanishes_is_refused() {
    let rows = [[1.0]; 5];
    for readings in [[1.0, 1.0, 1.0, 1.0, 2.0], [1.0; 5]] {
        let problem = LinearProblem::new(&rows, &readings, Noise::unknown(5)).unwrap();
        let refused = heavy_tail_fit(&problem, 0.5);
        assert!(matches!(refused, Err(FitError::Undetermined { .. })), "{refused:?}");
    }
}
