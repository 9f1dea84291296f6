//! Sets of causes: the same weights as comparing every model one by one.

use geometry::fit::evidence::{Cause, NoiseScale, Search, compare, weigh};
use geometry::fit::{LinearProblem, Noise, Prior};

use crate::random::Random;

const ALL: Search = Search { most: 3, width: 100 };
const PLAIN: [NoiseScale; 1] = [NoiseScale { factor: 1.0, odds: 1.0 }];

fn problem(random: &mut Random, readings: usize, parameters: usize) -> LinearProblem {
    let rows = random.rows(readings, parameters);
    let values = random.normals(readings);
    let deviations = (0..readings).map(|at| 0.4 + 0.1 * at as f64).collect();
    let priors: Vec<Prior> =
        (0..parameters).map(|at| Prior { mean: 0.0, deviation: 0.5 + at as f64 }).collect();
    let problem = LinearProblem::new(&rows, &values, Noise::Known(deviations)).unwrap();
    problem.with_priors(&priors).unwrap()
}

fn single(column: usize, odds: f64) -> Cause {
    Cause { columns: vec![column], odds, family: column }
}

#[test]
fn every_set_weighs_what_its_model_does() {
    let mut random = Random(77);
    for _ in 0..20 {
        // The first parameter is always there: a model needs one.
        let problem = problem(&mut random, 6, 4);
        let causes = [single(1, 0.2), single(2, 0.05), single(3, 1.5)];
        let found = weigh(&problem, &[0], &causes, &PLAIN, ALL).unwrap();
        assert_eq!(found.sets.len(), 8);
        let columns = |set: &[usize]| -> Vec<usize> {
            std::iter::once(0).chain(set.iter().map(|at| at + 1)).collect()
        };
        let models: Vec<LinearProblem> = found
            .sets
            .iter()
            .map(|one| problem.with_parameters(&columns(&one.causes)).unwrap())
            .collect();
        let weight = |set: &[usize]| set.iter().map(|at| causes[*at].odds).product();
        let odds: Vec<f64> = found.sets.iter().map(|one| weight(&one.causes)).collect();
        let compared = compare(&models, &odds).unwrap();
        for (one, wanted) in found.sets.iter().zip(&compared.probabilities) {
            assert!((one.probability - wanted).abs() < 1e-9, "{one:?} against {wanted}");
        }
    }
}

#[test]
fn a_noise_scale_weighs_what_the_scaled_problem_does() {
    let mut random = Random(78);
    let problem = problem(&mut random, 7, 3);
    let causes = [single(1, 0.3), single(2, 0.7)];
    let scales = [NoiseScale { factor: 1.0, odds: 0.8 }, NoiseScale { factor: 2.5, odds: 0.2 }];
    let found = weigh(&problem, &[0], &causes, &scales, ALL).unwrap();
    let log = |scale: usize| {
        let scaled = problem.with_noise_times(scales[scale].factor).unwrap();
        scaled.evidence().unwrap().log_evidence + scales[scale].odds.ln()
    };
    let of = |scale: usize| {
        let whole =
            |one: &&geometry::fit::evidence::Weighed| one.scale == scale && one.causes == [0, 1];
        found.sets.iter().find(whole).unwrap().probability
    };
    let wanted = (log(1) - log(0)).exp();
    assert!((of(1) / of(0) / wanted - 1.0).abs() < 1e-9);
}

#[test]
fn forms_of_one_thing_never_stand_together() {
    let mut random = Random(79);
    let problem = problem(&mut random, 6, 4);
    let of_family = |column, family| Cause { columns: vec![column], odds: 0.5, family };
    let causes = [of_family(1, 0), of_family(2, 0), of_family(3, 1)];
    let found = weigh(&problem, &[0], &causes, &PLAIN, ALL).unwrap();
    assert!(found.sets.iter().all(|one| !(one.causes.contains(&0) && one.causes.contains(&1))));
    // None, three singles, and the third beside each of the first two.
    assert_eq!(found.sets.len(), 6);
    let sum: f64 = found.sets.iter().map(|one| one.probability).sum();
    assert!((sum - 1.0).abs() < 1e-9);
}

#[test]
fn what_cannot_be_weighed_is_refused() {
    let mut random = Random(80);
    let problem = problem(&mut random, 6, 3);
    let refused = |causes: &[Cause], scales: &[NoiseScale]| {
        weigh(&problem, &[0], causes, scales, ALL).unwrap_err().to_string()
    };
    assert!(refused(&[single(7, 0.5)], &PLAIN).contains("parameter"));
    assert!(refused(&[single(1, 0.0)], &PLAIN).contains("odds"));
    assert!(refused(&[single(1, 0.5)], &[]).contains("noise scale"));
    let none = [NoiseScale { factor: 0.0, odds: 1.0 }];
    assert!(refused(&[single(1, 0.5)], &none).contains("noise scale"));
    let unknown = LinearProblem::new(&[[1.0], [1.0]], &[0.0, 1.0], Noise::unknown(2)).unwrap();
    assert!(weigh(&unknown, &[0], &[], &PLAIN, ALL).is_err());
}
