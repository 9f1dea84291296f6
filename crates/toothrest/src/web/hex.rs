//! Bytes as a word of letters and digits, which needs no escaping anywhere.

/// Two digits for each byte.
pub(super) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The bytes again; none where a digit is wrong or missing.
pub(super) fn from_hex(text: &str) -> Option<Vec<u8>> {
    let digits: Vec<u8> =
        text.chars().map(|c| c.to_digit(16)?.try_into().ok()).collect::<Option<_>>()?;
    digits
        .len()
        .is_multiple_of(2)
        .then(|| digits.chunks_exact(2).map(|pair| pair[0] << 4 | pair[1]).collect())
}
