//! The mark by which a browser is known at which somebody signed in before.
//!
//! It lets nobody in. It says only that this browser is no stranger, so that what strangers do
//! elsewhere does not make it wait. Nothing of it is kept: it can be made only with the hash of the
//! person's PIN, and is worth nothing once they have another PIN.

use sha2::{Digest, Sha256};
use shop::ShopError;
use shop::book::{Initials, initials_key};

/// Hexadecimal digits of what makes each mark another one.
const OWN_DIGITS: usize = 32;

/// A fresh mark for the browser at which a person has just signed in.
pub(super) fn fresh(initials: &Initials, hash: &str) -> Result<String, ShopError> {
    let mut bytes = [0; OWN_DIGITS / 2];
    getrandom::fill(&mut bytes).map_err(|error| ShopError::store("mark a browser", error))?;
    let own = hexadecimal(&bytes);
    let seal = seal(&own, initials, hash);
    Ok(own + &seal)
}

/// What tries from a browser with one of these marks are counted under; none where no mark is this
/// person's.
pub(super) fn known(marks: &[String], initials: &Initials, hash: &str) -> Option<String> {
    let is_own = |mark: &&String| {
        mark.is_ascii()
            && mark.len() > OWN_DIGITS
            && is_same(&mark[OWN_DIGITS..], &seal(&mark[..OWN_DIGITS], initials, hash))
    };
    marks.iter().find(is_own).map(|mark| format!("browser {}", &mark[..OWN_DIGITS]))
}

/// A hash within a hash, so that nothing can be added behind what was sealed.
fn seal(own: &str, initials: &Initials, hash: &str) -> String {
    let inner = Sha256::new()
        .chain_update(hash.as_bytes())
        .chain_update([0])
        .chain_update(initials_key(initials).as_bytes())
        .chain_update([0])
        .chain_update(own.as_bytes())
        .finalize();
    let outer = Sha256::new().chain_update(hash.as_bytes()).chain_update(inner).finalize();
    hexadecimal(&outer)
}

/// In a time that does not tell where two seals begin to differ.
fn is_same(one: &str, other: &str) -> bool {
    let differs = one.bytes().zip(other.bytes()).fold(0, |sum, (a, b)| sum | (a ^ b));
    one.len() == other.len() && differs == 0
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_holds_for_one_person_and_one_pin() {
        let (ab, cd) = (Initials::new("AB").unwrap(), Initials::new("CD").unwrap());
        let mark = fresh(&ab, "hash").unwrap();
        let marks = [String::new(), "é".repeat(40), "0".repeat(96), mark.clone()];
        let known_as = known(&marks, &ab, "hash").unwrap();
        assert_eq!(known_as, format!("browser {}", &mark[..OWN_DIGITS]));
        assert_eq!(known(&marks, &cd, "hash"), None);
        assert_eq!(known(&marks, &ab, "another hash"), None);
        assert_ne!(mark, fresh(&ab, "hash").unwrap());
        for at in 0..mark.len() {
            let mut other = mark.clone().into_bytes();
            other[at] = if other[at] == b'0' { b'1' } else { b'0' };
            let other = String::from_utf8(other).unwrap();
            assert_eq!(known(&[other], &ab, "hash"), None, "digit {at}");
        }
    }
}
