//! The scale of a drawing.

/// How much larger the paper is than the thing.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Scale {
    factor: f64,
}

/// The leading figures of the scales that are used.
const NICE: [f64; 9] = [1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0];

/// The tens by which they are multiplied or, below full size, divided.
const TENS: [f64; 4] = [1000.0, 100.0, 10.0, 1.0];

impl Scale {
    /// The largest usual scale at which a thing is no larger than a piece of paper.
    pub fn fitting(thing_mm: f64, paper_mm: f64) -> Self {
        let most = paper_mm / thing_mm;
        let up = TENS.iter().flat_map(|ten| NICE.iter().rev().map(move |nice| nice * ten));
        let down =
            TENS.iter().rev().flat_map(|ten| NICE.iter().map(move |nice| 1.0 / (nice * ten)));
        let factor = up.chain(down).find(|factor| *factor <= most * (1.0 + 1e-9));
        Self { factor: factor.unwrap_or(1e-4) }
    }

    /// The smaller of two scales.
    pub const fn min(self, other: Self) -> Self {
        Self { factor: self.factor.min(other.factor) }
    }

    /// Millimetres of paper for a millimetre of the thing.
    pub const fn factor(self) -> f64 {
        self.factor
    }

    /// As it is written on drawings, 40:1 or 1:2.
    pub fn name(self) -> String {
        if self.factor >= 1.0 {
            format!("{}:1", rounded(self.factor))
        } else {
            format!("1:{}", rounded(1.0 / self.factor))
        }
    }
}

fn rounded(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

#[cfg(test)]
mod tests {
    use super::Scale;

    #[test]
    fn scales_are_usual_and_fit() {
        let name = |thing: f64, paper: f64| Scale::fitting(thing, paper).name();
        assert_eq!(name(3.0, 122.0), "40:1");
        assert_eq!(name(12.7, 51.0), "4:1");
        assert_eq!(name(50.0, 50.0), "1:1");
        assert_eq!(name(20.0, 50.0), "2.5:1");
        assert_eq!(name(100.0, 50.0), "1:2");
        assert_eq!(name(250.0, 50.0), "1:5");
        assert_eq!(name(0.1, 120.0), "1000:1");
        for thing in 1..400 {
            let thing = f64::from(thing) * 0.7;
            let scale = Scale::fitting(thing, 60.0).factor();
            assert!(thing * scale <= 60.0 + 1e-6 && thing * scale >= 36.0, "{thing}");
        }
    }
}
