//! How lines are drawn.

/// What a line means, told by its weight and its dashes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Weight {
    /// A visible edge: heavy.
    Outline,
    /// Anything else that is solid: dimensions, leaders, hatching, what was there before.
    Thin,
    /// What is hidden or comes later: dashed.
    Hidden,
    /// An axis or a circle of reference: dash and dot.
    Centre,
}

impl Weight {
    /// Every weight.
    pub const ALL: [Self; 4] = [Self::Outline, Self::Thin, Self::Hidden, Self::Centre];

    /// Its width in millimetres; a heavy line is about twice as wide as the others, as drawing
    /// standards want it.
    pub const fn width_mm(self) -> f64 {
        match self {
            Self::Outline => 0.5,
            Self::Hidden => 0.25,
            Self::Thin | Self::Centre => 0.18,
        }
    }

    /// Its dashes and gaps in millimetres, in turn; empty for a solid line.
    pub const fn dashes_mm(self) -> &'static [f64] {
        match self {
            Self::Outline | Self::Thin => &[],
            Self::Hidden => &[2.4, 1.2],
            Self::Centre => &[6.0, 1.2, 0.6, 1.2],
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Weight;

    #[test]
    fn no_two_weights_look_alike() {
        for (index, one) in Weight::ALL.iter().enumerate() {
            for other in &Weight::ALL[index + 1..] {
                let same = one.width_mm() == other.width_mm();
                assert!(!same || one.dashes_mm() != other.dashes_mm(), "{one:?} {other:?}");
            }
        }
    }
}
