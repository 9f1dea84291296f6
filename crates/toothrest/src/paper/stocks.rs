//! The labels that the bench offers: those of the examples, which go with the program.

use sheets::label::LabelStock;

use crate::files::{FileProblems, read_labels};

/// Labels by their short name, with what they are and their file.
pub(crate) const STOCKS: [(&str, &str, &str); 3] = [
    ("roll", "a roll of 62 mm", include_str!("../../../../examples/labels/roll-62.toml")),
    ("a4", "A4 with 3 by 7 labels", include_str!("../../../../examples/labels/a4-3-by-7.toml")),
    (
        "letter",
        "Letter with 3 by 10 labels",
        include_str!("../../../../examples/labels/letter-3-by-10.toml"),
    ),
];

/// The labels of that name; none where there are no such.
pub(crate) fn stock(name: &str) -> Option<Result<LabelStock, FileProblems>> {
    let (_, what, text) = STOCKS.iter().find(|(known, ..)| *known == name)?;
    Some(read_labels(what, text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_labels_of_the_examples_are_sound() {
        for (name, what, _) in STOCKS {
            assert!(stock(name).unwrap().is_ok(), "{what}");
        }
        assert!(stock("other").is_none());
    }
}
