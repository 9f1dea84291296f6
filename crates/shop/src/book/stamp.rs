//! Who wrote an entry, and when.

use std::fmt;

use super::moment::Moment;
use crate::error::ShopError;

/// The longest initials, in characters.
const CHARACTERS_MAX: usize = 8;

/// Initials by which a shop knows a person: 1 to 8 letters or digits.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Initials(String);

impl Initials {
    /// The initials as written, without the space around them.
    ///
    /// # Errors
    /// `Invalid` where they are empty, too long, or hold anything but letters and digits.
    pub fn new(text: &str) -> Result<Self, ShopError> {
        let text = text.trim();
        let fits = (1..=CHARACTERS_MAX).contains(&text.chars().count())
            && text.chars().all(char::is_alphanumeric);
        if fits {
            Ok(Self(text.to_owned()))
        } else {
            let shown = crate::shortened(text, 48);
            let reason = format!("{shown:?} are no initials; write 1 to 8 letters or digits");
            Err(ShopError::invalid("initials", reason))
        }
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Initials {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Who and when.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// When, by the clock of whoever wrote.
    pub at: Moment,
    /// Who.
    pub by: Initials,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_are_no_initials_is_told_in_short() {
        let told = Initials::new(&"{".repeat(5_000)).unwrap_err().to_string();
        assert!(told.len() < 200 && told.contains("are no initials"), "{told}");
    }

    #[test]
    fn initials_are_a_few_letters() {
        for (text, kept) in [(" ab ", Some("ab")), ("ÅÖ1", Some("ÅÖ1")), ("JM2", Some("JM2"))] {
            assert_eq!(Initials::new(text).ok().as_ref().map(Initials::as_str), kept);
        }
        for text in ["", "  ", "a b", "a.b", "ABCDEFGHI", "a\nb"] {
            assert!(Initials::new(text).is_err(), "{text:?}");
        }
    }
}
