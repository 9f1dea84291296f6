//! A seeded source of random numbers, so that every simulation is the same on every machine.

use std::f64::consts::TAU;

/// SplitMix64 with normal deviates from pairs of uniform ones.
pub(crate) struct Random(pub(crate) u64);

impl Random {
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Uniform between 0 and 1, both left out.
    pub(crate) fn uniform(&mut self) -> f64 {
        ((self.bits() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    /// Below a whole number.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        ((self.uniform() * count as f64) as usize).min(count - 1)
    }

    /// Standard normal.
    pub(crate) fn normal(&mut self) -> f64 {
        (-2.0 * self.uniform().ln()).sqrt() * (TAU * self.uniform()).cos()
    }

    /// As many standard normal deviates as asked for.
    pub(crate) fn normals(&mut self, count: usize) -> Vec<f64> {
        (0..count).map(|_| self.normal()).collect()
    }

    /// Rows of standard normal deviates.
    pub(crate) fn rows(&mut self, rows: usize, columns: usize) -> Vec<Vec<f64>> {
        (0..rows).map(|_| self.normals(columns)).collect()
    }
}

/// Σ x b.
pub(crate) fn dot(row: &[f64], parameters: &[f64]) -> f64 {
    row.iter().zip(parameters).map(|(x, b)| x * b).sum()
}

/// The readings of rows at these parameters, with noise of these standard deviations.
pub(crate) fn noisy(
    random: &mut Random,
    rows: &[Vec<f64>],
    parameters: &[f64],
    deviations: &[f64],
) -> Vec<f64> {
    let pairs = rows.iter().zip(deviations);
    pairs.map(|(row, s)| dot(row, parameters) + s * random.normal()).collect()
}

/// Rows of a mean, a slope and one turn of sine and cosine over places 0, 1, 2, ….
pub(crate) fn turning_rows(count: usize) -> Vec<Vec<f64>> {
    let row = |at: usize| {
        let angle = 2.3 * at as f64;
        vec![1.0, at as f64, angle.cos(), angle.sin()]
    };
    (0..count).map(row).collect()
}
