//! A straight stretch of an outline.

use super::OutlinePoint;

/// A straight line that does not pass through the axis: in the reciprocal radius it is a sum of a
/// sine and a cosine of the angle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Straight {
    cosine: f64,
    sine: f64,
}

impl Straight {
    /// The line through two points that stand at different angles.
    pub(super) fn between(low: &OutlinePoint, high: &OutlinePoint) -> Self {
        let [u_low, u_high] = [low, high].map(|point| 1.0 / point.radius.mm());
        let (sin_low, cos_low) = low.heelward.radians().sin_cos();
        let (sin_high, cos_high) = high.heelward.radians().sin_cos();
        let turned = (high.heelward - low.heelward).sin();
        Self {
            cosine: (sin_high * u_low - sin_low * u_high) / turned,
            sine: (cos_low * u_high - cos_high * u_low) / turned,
        }
    }

    /// One over the radius in millimetres at an angle in radians.
    pub(super) fn reciprocal(&self, at_rad: f64) -> f64 {
        let (sin, cos) = at_rad.sin_cos();
        self.cosine * cos + self.sine * sin
    }
}
