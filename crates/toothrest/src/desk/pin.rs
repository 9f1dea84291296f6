//! PINs: what may be one, its hash, and whether one fits.

use argon2::Argon2;
use argon2::PasswordHash;
use argon2::password_hash::{PasswordHasher, PasswordVerifier};
use shop::ShopError;

/// Shortest and longest PIN, in characters.
const PIN_CHARACTERS: (usize, usize) = (4, 64);

/// The hash of a PIN, as the book keeps it: Argon2id with a salt of its own (RFC 9106).
///
/// # Errors
/// `Invalid` where the PIN is too short or too long.
pub(crate) fn pin_hash(pin: &str) -> Result<String, ShopError> {
    if !may_be_pin(pin) {
        let (least, most) = PIN_CHARACTERS;
        let reason = format!("write {least} to {most} characters");
        return Err(ShopError::invalid("pin", reason));
    }
    let hash = Argon2::default().hash_password(pin.as_bytes());
    let hash = hash.map_err(|error| ShopError::store("hash a PIN", error))?;
    Ok(hash.to_string())
}

/// The hash of a PIN that somebody chose now.
///
/// # Errors
/// As [`pin_hash`], and `Invalid` for one that whoever guesses tries first.
pub(crate) fn new_pin_hash(pin: &str) -> Result<String, ShopError> {
    if may_be_pin(pin) && is_guessed(pin) {
        let reason = "it is among the first that anybody guesses; choose one that does not run on \
                      or repeat itself";
        return Err(ShopError::invalid("pin", reason));
    }
    pin_hash(pin)
}

/// Whether every character follows the one before in the same step of none or one, as in 1111, 1234
/// and 4321.
fn is_guessed(pin: &str) -> bool {
    let codes: Vec<i64> = pin.chars().map(|letter| i64::from(u32::from(letter))).collect();
    let runs_by = |step: i64| codes.windows(2).all(|pair| pair[1] - pair[0] == step);
    [0, 1, -1].into_iter().any(runs_by)
}

fn may_be_pin(pin: &str) -> bool {
    let (least, most) = PIN_CHARACTERS;
    (least..=most).contains(&pin.chars().count())
}

/// Whether a PIN has this hash. Somebody without a PIN is hashed for as long as anybody else, and
/// what can be no PIN is hashed for nobody, so that the time tells nothing of who works here.
/// Hashing is slow on purpose and runs beside the other requests.
pub(super) async fn pin_fits(pin: String, hash: Option<String>) -> Result<bool, ShopError> {
    if !may_be_pin(&pin) {
        return Ok(false);
    }
    let compared = tokio::task::spawn_blocking(move || {
        let Some(hash) = hash else {
            return pin_hash(&pin).is_ok_and(|hash| hash.is_empty());
        };
        let parsed = PasswordHash::new(&hash);
        parsed.is_ok_and(|hash| Argon2::default().verify_password(pin.as_bytes(), &hash).is_ok())
    });
    compared.await.map_err(|error| ShopError::store("compare a PIN", error))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hash_holds_for_its_pin_alone() {
        let hash = pin_hash("2718").unwrap();
        assert!(hash.starts_with("$argon2id$"), "{hash}");
        let parsed = PasswordHash::new(&hash).unwrap();
        let fits = |pin: &str| Argon2::default().verify_password(pin.as_bytes(), &parsed).is_ok();
        assert!(fits("2718") && !fits("2719") && !fits(""));
        assert_ne!(hash, pin_hash("2718").unwrap(), "each has a salt of its own");
        assert!(pin_hash("123").is_err() && pin_hash(&"1".repeat(65)).is_err());
    }

    #[test]
    fn a_pin_that_runs_on_is_not_taken() {
        for pin in ["1234", "4321", "00000", "abcdef"] {
            let told = new_pin_hash(pin).unwrap_err().to_string();
            assert!(told.contains("anybody guesses"), "{pin}: {told}");
        }
        assert!(new_pin_hash("1233").is_ok());
        assert!(new_pin_hash("123").unwrap_err().to_string().contains("4 to 64"));
    }

    #[tokio::test]
    async fn nobody_without_a_pin_gets_in() {
        let fits = async |pin: &str, hash: Option<&str>| {
            pin_fits(pin.to_owned(), hash.map(str::to_owned)).await.unwrap()
        };
        let hash = pin_hash("27182").unwrap();
        assert!(fits("27182", Some(&hash)).await);
        for (pin, hash) in
            [("27182", None), ("", None), ("27182", Some("")), ("27183", Some(&hash))]
        {
            assert!(!fits(pin, hash).await, "{pin:?} {hash:?}");
        }
    }
}
