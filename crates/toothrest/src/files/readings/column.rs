//! The columns of a CSV file that has one reading a row.

use shop::record::Named;

/// A column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Column {
    Kind,
    How,
    Tooth,
    FromEnd,
    Distance,
    Reading,
    Resolution,
    Repeatability,
    AnvilWidth,
}

impl Named for Column {
    const ALL: &'static [Self] = &[
        Self::Kind,
        Self::How,
        Self::Tooth,
        Self::FromEnd,
        Self::Distance,
        Self::Reading,
        Self::Resolution,
        Self::Repeatability,
        Self::AnvilWidth,
    ];

    fn name(self) -> &'static str {
        match self {
            Self::Kind => "kind",
            Self::How => "how",
            Self::Tooth => "tooth",
            Self::FromEnd => "from_end",
            Self::Distance => "distance",
            Self::Reading => "reading",
            Self::Resolution => "resolution",
            Self::Repeatability => "repeatability",
            Self::AnvilWidth => "anvil_width",
        }
    }

    fn from_name(name: &str) -> Option<Self> {
        let name = spaced(name);
        Self::ALL.iter().copied().find(|column| spaced(column.name()) == name)
    }
}

impl Column {
    /// Whether lengths stand in it, so that its heading may give their unit.
    pub(super) const fn holds_lengths(self) -> bool {
        !matches!(self, Self::Kind | Self::How | Self::Tooth)
    }
}

/// A name in small letters with single spaces, in whatever way its words were joined.
pub(super) fn spaced(name: &str) -> String {
    let parts = name.split(|letter: char| letter.is_whitespace() || "_-".contains(letter));
    let words: Vec<_> = parts.filter(|word| !word.is_empty()).map(str::to_lowercase).collect();
    words.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_known_in_whatever_way_its_words_are_joined() {
        for name in ["from_end", "From End", " FROM-END ", "from  end"] {
            assert_eq!(Column::from_name(name), Some(Column::FromEnd), "{name}");
        }
        assert_eq!(Column::from_name("fromend"), None);
        assert_eq!(Column::from_name(""), None);
    }
}
