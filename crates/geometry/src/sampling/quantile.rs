//! Quantiles of a sample.

/// The value below which this share of a sample lies; the sample stands in rising order. None where
/// it is empty.
///
/// **Source** \[hyndman-fan-1996\] definition 7: linear between the order statistics at
/// (n − 1) p. **Departs** nowhere. **Error** that of the sample. **Domain** 0 ≤ p ≤ 1; a share
/// outside counts as its nearer end.
pub fn quantile(sorted: &[f64], share: f64) -> Option<f64> {
    let last = sorted.len().checked_sub(1)?;
    let place = share.clamp(0.0, 1.0) * last as f64;
    let (below, above) = (place.floor() as usize, place.ceil() as usize);
    let (low, high) = (sorted.get(below)?, sorted.get(above)?);
    Some(low + (high - low) * (place - place.floor()))
}

#[cfg(test)]
mod tests {
    use super::quantile;

    #[test]
    fn quantiles_lie_between_the_order_statistics() {
        let five = [1.0, 2.0, 4.0, 8.0, 16.0];
        assert_eq!(quantile(&five, 0.0), Some(1.0));
        assert_eq!(quantile(&five, 0.5), Some(4.0));
        assert_eq!(quantile(&five, 0.625), Some(6.0));
        assert_eq!(quantile(&five, 1.5), Some(16.0));
        assert_eq!(quantile(&[], 0.5), None);
    }
}
