//! Points that fill a cube of many dimensions more evenly than chance does.

use crate::fit::quantile::normal_quantile;

/// So many points the sequence has.
pub const POINTS_MAX: u32 = 1 << 16;

/// Half of the spacing on which the coordinates lie: it keeps them off 0 and 1.
const HALF_STEP: f64 = 1.0 / (1_u32 << 25) as f64;

/// A scrambled Sobol sequence, settled by its seed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Points {
    seed: u32,
}

impl Points {
    /// The sequence of a seed.
    pub const fn new(seed: u32) -> Self {
        Self { seed }
    }

    /// The coordinate of a point in one dimension, above 0 and below 1; indices run on from 0 at
    /// [`POINTS_MAX`].
    ///
    /// **Source** \[joe-kuo-2008\] direction numbers; \[burley-2020\] their nested scrambling by a
    /// hash, as the general-purpose library `sobol_burley` has it. **Departs** by half a spacing of
    /// 2⁻²⁴, which keeps every coordinate off 0 and 1. **Error** rounding to that spacing.
    /// **Domain** dimensions below 256, indices below 65 536.
    pub fn coordinate(self, index: u32, dimension: u32) -> f64 {
        let dimension = dimension % sobol_burley::NUM_DIMENSIONS;
        let within = sobol_burley::sample(index % POINTS_MAX, dimension, self.seed);
        f64::from(within) + HALF_STEP
    }

    /// The coordinate as a standard normal deviate.
    pub fn normal(self, index: u32, dimension: u32) -> f64 {
        // A coordinate is never on either end, so the quantile is always there.
        normal_quantile(self.coordinate(index, dimension)).unwrap_or(0.0)
    }
}
