//! The kinds of row, and which columns each of them fills.

use shop::record::Named;

use super::column::Column;

/// What a row holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    Land,
    Diameter,
    Indicator,
    ShankRunout,
    EdgeRunout,
    Drop,
    Sign,
    Cutter,
    GroundOrder,
}

impl Named for Kind {
    const ALL: &'static [Self] = &[
        Self::Land,
        Self::Diameter,
        Self::Indicator,
        Self::ShankRunout,
        Self::EdgeRunout,
        Self::Drop,
        Self::Sign,
        Self::Cutter,
        Self::GroundOrder,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Land => "land",
            Self::Diameter => "diameter",
            Self::Indicator => "indicator",
            Self::ShankRunout => "shank runout",
            Self::EdgeRunout => "edge runout",
            Self::Drop => "drop",
            Self::Sign => "sign",
            Self::Cutter => "cutter",
            Self::GroundOrder => "ground order",
        }
    }
}

impl Kind {
    /// Whether its rows carry words and no length.
    const fn is_words(self) -> bool {
        matches!(self, Self::Sign | Self::Cutter | Self::GroundOrder)
    }

    /// Whether its rows fill a column.
    pub(super) const fn takes(self, column: Column) -> bool {
        match column {
            Column::Kind | Column::Reading => true,
            Column::How => !self.is_words() && !matches!(self, Self::Drop),
            Column::Tooth => {
                matches!(self, Self::Land | Self::Diameter | Self::Indicator | Self::Drop)
            }
            Column::FromEnd => !self.is_words() && !matches!(self, Self::Drop),
            Column::Distance => matches!(self, Self::Drop),
            Column::Resolution | Column::Repeatability => !self.is_words(),
            Column::AnvilWidth => matches!(self, Self::Diameter),
        }
    }
}
