//! Samples, quantiles and shares of variance against what is in print and what follows from
//! theory.
//!
//! Direction numbers: S. Joe and F. Y. Kuo, the published table of 2008, first rows, from memory
//! and then found the same in a general-purpose library (grade C). Ishigami function: T. Ishigami
//! and T. Homma, 1990, whose shares have a closed form (grade D). The rest is own derivation.

#![expect(clippy::unwrap_used, reason = "a check that has no figures must stop")]

use std::f64::consts::PI;

use geometry::sampling::{Points, Share, Shares, quantile};

/// Degree, coefficient and first numbers of the recurrences, dimensions 2 to 8.
const JOE_KUO: [(u32, u32, &[u32]); 7] = [
    (1, 0, &[1]),
    (2, 1, &[1, 3]),
    (3, 1, &[1, 3, 1]),
    (3, 2, &[1, 1, 1]),
    (4, 1, &[1, 1, 3, 3]),
    (4, 4, &[1, 3, 5, 13]),
    (5, 2, &[1, 1, 5, 5, 17]),
];

/// The direction numbers of a dimension, as fractions of 2³².
fn directions(dimension: usize) -> [u32; 32] {
    let mut found = [0; 32];
    if dimension == 0 {
        for (bit, direction) in (0_u32..).zip(&mut found) {
            *direction = 1 << (31 - bit);
        }
        return found;
    }
    let (degree, coefficient, first) = JOE_KUO[dimension - 1];
    let degree = degree as usize;
    for at in 0..32 {
        if at < degree {
            found[at] = first[at] << (31 - at);
            continue;
        }
        let mut next = found[at - degree] ^ (found[at - degree] >> degree);
        for back in 1..degree {
            let bit = coefficient >> (degree - 1 - back) & 1;
            next ^= bit * found[at - back];
        }
        found[at] = next;
    }
    found
}

/// The plain sequence, in the order of the binary digits.
fn plain(index: u32, dimension: usize) -> f64 {
    let directions = directions(dimension);
    let bits = (0..32).filter(|bit| index >> bit & 1 == 1);
    let whole = bits.fold(0_u32, |sum, bit| sum ^ directions[bit]);
    f64::from(whole) / 2.0_f64.powi(32)
}

#[test]
fn the_plain_sequence_begins_as_printed() {
    let first = |dimension: usize| (0..4).map(|at| plain(at, dimension)).collect::<Vec<_>>();
    assert_eq!(first(0), [0.0, 0.5, 0.25, 0.75]);
    assert_eq!(first(1), [0.0, 0.5, 0.75, 0.25]);
    assert_eq!(first(2), [0.0, 0.5, 0.75, 0.25]);
    // By hand: the third number of dimension 3 is 2·3 ⊕ 4·1 ⊕ 1 = 3, so point 4 lies at 3/8.
    let later: Vec<f64> = (4..8).map(|at| plain(at, 2)).collect();
    assert_eq!(later, [0.375, 0.875, 0.625, 0.125]);
}

/// How many points fall into each box of a grid, smallest first.
fn counts(of: impl Fn(u32, u32) -> f64, pair: (u32, u32), bits: (u32, u32)) -> Vec<u32> {
    let mut boxes = vec![0; 1 << (bits.0 + bits.1)];
    for index in 0..1_u32 << (bits.0 + bits.1) {
        let place = |dimension: u32, bits: u32| {
            (of(index, dimension) * f64::from(1_u32 << bits)).floor() as usize
        };
        boxes[(place(pair.0, bits.0) << bits.1) + place(pair.1, bits.1)] += 1;
    }
    boxes.sort_unstable();
    boxes
}

/// Nested scrambling moves boxes about and leaves what is in them together, so that every grid of
/// boxes is filled as the plain sequence fills it; the first two dimensions fill each box once.
#[test]
fn scrambled_points_fill_boxes_as_the_published_sequence_does() {
    for seed in [0, 1, 20_261] {
        let scrambled = |index: u32, dimension: u32| Points::new(seed).coordinate(index, dimension);
        let published = |index: u32, dimension: u32| plain(index, dimension as usize);
        for pair in (0..8).flat_map(|one| (0..one).map(move |other| (one, other))) {
            for bits in [(3, 3), (5, 2), (1, 6), (4, 5)] {
                let (ours, theirs) = (counts(scrambled, pair, bits), counts(published, pair, bits));
                assert_eq!(ours, theirs, "seed {seed}, dimensions {pair:?}, boxes {bits:?}");
            }
        }
        assert!(counts(scrambled, (1, 0), (4, 4)).iter().all(|count| *count == 1));
    }
}

#[test]
fn seeds_differ_and_coordinates_keep_off_the_ends() {
    let first = |seed: u32| (0..64).map(|at| Points::new(seed).coordinate(at, 3)).collect();
    let (one, other): (Vec<f64>, Vec<f64>) = (first(1), first(2));
    assert_ne!(one, other);
    assert!(one.iter().chain(&other).all(|at| *at > 0.0 && *at < 1.0));
}

/// Shares of a function of so many quantities, from 2^13 points.
fn shares(quantities: u32, seed: u32, of: impl Fn(&[f64]) -> f64) -> Vec<Share> {
    let points = Points::new(seed);
    let value = |index: u32, from_b: &dyn Fn(u32) -> bool| {
        let at =
            |one: u32| points.coordinate(index, one + if from_b(one) { quantities } else { 0 });
        of(&(0..quantities).map(at).collect::<Vec<_>>())
    };
    let all = |from_b: &dyn Fn(u32) -> bool| {
        (0..8192).map(|index| value(index, from_b)).collect::<Vec<_>>()
    };
    let (a, b) = (all(&|_| false), all(&|_| true));
    let shares = Shares::new(&a, &b).unwrap();
    (0..quantities).map(|one| shares.of(&all(&|other| other == one))).collect()
}

/// Ishigami and Homma's function, a = 7 and b = 0.1, of three angles even between −π and π.
#[test]
fn the_shares_of_the_ishigami_function_are_the_closed_ones() {
    let (a, b) = (7.0, 0.1);
    let ishigami = |at: &[f64]| {
        let angle = |one: usize| PI * (2.0 * at[one] - 1.0);
        angle(0).sin() + a * angle(1).sin().powi(2) + b * angle(2).powi(4) * angle(0).sin()
    };
    let first = 0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2);
    let second = a * a / 8.0;
    let both = b * b * PI.powi(8) * (1.0 / 18.0 - 1.0 / 50.0);
    let all = first + second + both;
    let wanted =
        [(first / all, (first + both) / all), (second / all, second / all), (0.0, both / all)];
    // The closed form is the printed one: 0.3139, 0.4424, 0 and 0.5576, 0.4424, 0.2437 (memory).
    assert!((wanted[0].0 - 0.3139).abs() < 5e-5 && (wanted[1].0 - 0.4424).abs() < 5e-5);
    assert!((wanted[0].1 - 0.5576).abs() < 5e-5 && (wanted[2].1 - 0.2437).abs() < 5e-5);
    for seed in [1, 2, 3] {
        for (share, (first, total)) in shares(3, seed, ishigami).iter().zip(wanted) {
            assert!((share.first - first).abs() < 0.01, "{share:?}, not {first}");
            assert!((share.total - total).abs() < 0.01, "{share:?}, not {total}");
        }
    }
}

/// A sum has the shares of its parts' variances, and first and total are the same.
#[test]
fn a_sum_shares_its_variance_by_squares() {
    let weights = [4.0, 3.0, 2.0, 1.0, 0.0];
    let sum = |at: &[f64]| at.iter().zip(weights).map(|(at, weight)| weight * at).sum();
    let all: f64 = weights.iter().map(|weight| weight * weight).sum();
    for (share, weight) in shares(5, 4, sum).iter().zip(weights) {
        let wanted = weight * weight / all;
        assert!((share.first - wanted).abs() < 0.005, "{share:?}, not {wanted}");
        assert!((share.total - wanted).abs() < 0.005, "{share:?}, not {wanted}");
    }
}

#[test]
fn nothing_that_stands_still_has_shares() {
    assert!(Shares::new(&[2.0; 8], &[2.0; 8]).is_none());
    assert!(Shares::new(&[1.0], &[2.0]).is_none());
    assert!(Shares::new(&[1.0, 2.0], &[2.0]).is_none());
}

/// The exponential of a normal deviate: its quantiles are the exponentials of the normal's, 1.6449
/// either side of nought for nine tenths, as every table of the normal has it (memory).
#[test]
fn quantiles_of_a_bent_normal_are_the_bent_quantiles() {
    let points = Points::new(9);
    let mut bent: Vec<f64> = (0..8192).map(|at| (0.3 * points.normal(at, 5)).exp()).collect();
    bent.sort_by(f64::total_cmp);
    for (share, normal) in [(0.05, -1.6449), (0.5, 0.0), (0.95, 1.6449)] {
        let (got, wanted) = (quantile(&bent, share).unwrap(), (0.3_f64 * normal).exp());
        assert!((got / wanted - 1.0).abs() < 1e-3, "{share}: {got}, not {wanted}");
    }
}
