//! Which of many uncertain quantities a result owes its variance to.

/// The share of a result's variance that one quantity causes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    /// Alone: what would be gone if the quantity were known.
    pub first: f64,
    /// With all that it does together with others: what would be left if only it were unknown.
    pub total: f64,
    /// Standard error of the total, as if the points were random; even points have less.
    pub total_error: f64,
}

/// What a result is at the points of two independent samples A and B, from which the shares are
/// estimated.
#[derive(Clone, Copy, Debug)]
pub struct Shares<'a> {
    of_a: &'a [f64],
    of_b: &'a [f64],
    variance: f64,
}

impl<'a> Shares<'a> {
    /// Takes the results at A and at B, point for point. None where there are fewer than two, where
    /// the samples differ in length or where nothing varies.
    pub fn new(of_a: &'a [f64], of_b: &'a [f64]) -> Option<Self> {
        let count = of_a.len();
        if count < 2 || of_b.len() != count {
            return None;
        }
        let both = || of_a.iter().chain(of_b);
        let mean = both().sum::<f64>() / (2 * count) as f64;
        let variance =
            both().map(|value| (value - mean).powi(2)).sum::<f64>() / (2 * count - 1) as f64;
        let largest = both().fold(0.0, |most: f64, value| most.max(value.abs()));
        let varies = variance.is_finite() && variance.sqrt() > 1e-12 * largest;
        varies.then_some(Self { of_a, of_b, variance })
    }

    /// Variance of the result.
    pub const fn variance(&self) -> f64 {
        self.variance
    }

    /// The share of one quantity, from the results at the points of A with that one coordinate
    /// taken from B.
    ///
    /// **Source** \[saltelli-2010\] table 2: first order f(B)·(f(AB) − f(A)), row b; total by
    /// \[jansen-1999\] (f(A) − f(AB))²/2, row f. **Departs** by centring f(B) on its mean, which
    /// changes no expectation and steadies the sum. **Error** of the order of one over the root of
    /// the number of points, and less for even points; a first share may come out a little below
    /// nothing. **Domain** independent quantities.
    pub fn of(&self, of_ab: &[f64]) -> Share {
        let count = self.of_a.len().min(of_ab.len());
        let many = count.max(2) as f64;
        let mean_b = self.of_b.iter().sum::<f64>() / self.of_b.len() as f64;
        let (mut first, mut total, mut squares) = (0.0, 0.0, 0.0);
        for ((a, b), ab) in self.of_a.iter().zip(self.of_b).zip(of_ab) {
            first += (b - mean_b) * (ab - a);
            let half_square = 0.5 * (a - ab).powi(2);
            total += half_square;
            squares += half_square * half_square;
        }
        let (first, total) = (first / many, total / many);
        let scatter = (squares / many - total * total).max(0.0) / many;
        Share {
            first: first / self.variance,
            total: total / self.variance,
            total_error: scatter.sqrt() / self.variance,
        }
    }
}
