//! What a shop learns, against worked figures from outside.
//!
//! Grades: A standard · B handbook or published example · D own derivation.

use shop::learn::{Beforehand, Entry, shrunk};

fn entry(value: f64) -> Entry {
    Entry { value, count: 1, reading: 0.0 }
}

/// Grade B, read: [efron-morris-1977] shrink batting averages over 45 times at bat toward the grand
/// mean 0.265 by the factor 0.212, printed to three places. The factor is 1 / (1 + σ²/τ²), with σ
/// the binomial scatter of 45 tries; so τ follows, and one entry beside the table must give the
/// printed rule. 0.294 for the batter at 0.400 is the article's own figure, from memory.
#[test]
fn batting_averages_shrink_as_printed() {
    let within = (0.265_f64 * 0.735 / 45.0).sqrt();
    let between = within * (0.212_f64 / 0.788).sqrt();
    let before = Beforehand { mean: 0.265, between, within, worth: 1e9 };
    let found = |average: f64| shrunk(&[entry(average)], &before).unwrap().value;
    assert!((found(0.400) - 0.294).abs() <= 0.0005, "{}", found(0.400));
    for average in [0.378, 0.333, 0.289, 0.244, 0.222, 0.178, 0.156] {
        let printed = 0.212 * average + 0.788 * 0.265;
        assert!((found(average) - printed).abs() <= 0.0005, "{average}: {}", found(average));
    }
}

/// Grade A: NIST's univariate set NumAcc2 \[nist-strd\], certified mean 1.2 and standard deviation
/// 0.1 exactly: 1.2 once, then 1.1 and 1.3 by turns, 1001 in all. With next to nothing held
/// beforehand the mean and the scatter are the certified ones.
#[test]
fn a_long_history_speaks_for_itself() {
    let pairs = [1.1, 1.3].repeat(500);
    let values: Vec<Entry> = [1.2].into_iter().chain(pairs).map(entry).collect();
    let before = Beforehand { mean: 0.0, between: 1e6, within: 1.0, worth: 1e-13 };
    let found = shrunk(&values, &before).unwrap();
    assert!((found.value - 1.2).abs() < 1e-12, "{}", found.value);
    assert!((found.scatter - 0.1).abs() < 1e-12, "{}", found.scatter);
    let of_mean = 0.1 / 1001_f64.sqrt();
    assert!((found.deviation - of_mean).abs() < 1e-12, "{}", found.deviation);
}
