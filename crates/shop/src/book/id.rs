//! What entries speak of by a name that never changes.

use std::fmt;

use crate::error::ShopError;

/// The bits of a UUID written in each of its five groups of hexadecimal digits.
const GROUP_DIGITS: [usize; 5] = [8, 4, 4, 4, 12];

/// A UUID as text (RFC 9562, section 4): 36 characters in lower case. It names a cutter, a wheel or
/// anything else that has a history, whatever number people write on it.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id(String);

impl Id {
    /// The id with these 128 bits.
    pub fn from_bits(bits: u128) -> Self {
        let digits = format!("{bits:032x}");
        let mut rest = digits.as_str();
        let groups = GROUP_DIGITS.map(|length| {
            let (group, after) = rest.split_at(length);
            rest = after;
            group
        });
        Self(groups.join("-"))
    }

    /// The id that is written so; capitals are taken for small letters.
    ///
    /// # Errors
    /// `Invalid` where the text has not the form of a UUID.
    pub fn from_text(text: &str) -> Result<Self, ShopError> {
        let mut groups = text.split('-');
        let fits = GROUP_DIGITS.iter().all(|&length| {
            let group = groups.next().unwrap_or_default();
            group.len() == length && group.bytes().all(|byte| byte.is_ascii_hexdigit())
        });
        if fits && groups.next().is_none() {
            Ok(Self(text.to_ascii_lowercase()))
        } else {
            let reason = format!("{text:?} is no UUID; write 32 hexadecimal digits as 8-4-4-4-12");
            Err(ShopError::invalid("id", reason))
        }
    }

    /// The text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Where new ids come from. A port: what is unique or random is not of this crate's making.
pub trait Ids: Send + Sync {
    /// An id that was never given before and will never be given again.
    fn next(&self) -> Id;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_and_text_are_one() {
        // The example of a UUID in RFC 9562, section 4.
        let text = "f81d4fae-7dec-11d0-a765-00a0c91e6bf6";
        let id = Id::from_bits(0xf81d_4fae_7dec_11d0_a765_00a0_c91e_6bf6);
        assert_eq!(id.as_str(), text);
        assert_eq!(Id::from_text(&text.to_uppercase()).unwrap(), id);
    }

    #[test]
    fn what_is_no_uuid_is_refused() {
        for text in [
            "",
            "f81d4fae7dec11d0a76500a0c91e6bf6",
            "f81d4fae-7dec-11d0-a765-00a0c91e6bf6-",
            "f81d4fae-7dec-11d0-a765-00a0c91e6bg6",
            "f81d4fae-7dec-11d0-a7é-00a0c91e6bf6",
        ] {
            assert!(Id::from_text(text).is_err(), "{text:?}");
        }
    }
}
