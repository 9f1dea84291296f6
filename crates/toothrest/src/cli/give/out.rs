//! Where what is given goes: to standard output, or into a file that is not there yet.

use std::io::ErrorKind;
use std::path::Path;

use geometry::Length;

use crate::cli::failure::Failure;
use crate::cli::file::{failed, write_new};

/// Prints the text, or writes it into a new file and says so.
pub(super) fn text(output: Option<&Path>, text: String) -> Result<String, Failure> {
    match output {
        None => Ok(text),
        Some(path) => bytes(path, text.as_bytes()),
    }
}

/// Writes bytes into a new file and says so.
pub(super) fn bytes(path: &Path, bytes: &[u8]) -> Result<String, Failure> {
    let shown = path.display();
    match write_new(path, bytes) {
        Ok(()) => {}
        Err(error) if error.kind() == ErrorKind::AlreadyExists => {
            let message = "is there already; give another name, or take it away first";
            return Err(wrong_name(path, message));
        }
        Err(error) => return Err(failed(path)(error)),
    }
    Ok(format!("Wrote {shown}.\n"))
}

/// The ending of a file's name, in small letters; one of `known`, or a refusal.
pub(super) fn ending(path: &Path, known: &[&'static str]) -> Result<&'static str, Failure> {
    let ending = path.extension().map(|ending| ending.to_string_lossy().to_lowercase());
    let found = known.iter().copied().find(|one| Some(*one) == ending.as_deref());
    found.ok_or_else(|| {
        let endings: Vec<String> = known.iter().map(|one| format!(".{one}")).collect();
        wrong_name(path, &format!("the name must end in {}", endings.join(" or ")))
    })
}

fn wrong_name(path: &Path, message: &str) -> Failure {
    let value = path.display().to_string();
    Failure::Argument { argument: "--output", value, message: message.to_owned() }
}

/// A length from the command line, above zero.
pub(super) fn within(text: &str) -> Result<Length, Failure> {
    let refused = |message: String| Failure::Argument {
        argument: "--within",
        value: text.to_owned(),
        message,
    };
    let length: Length =
        text.parse().map_err(|error: geometry::QuantityError| refused(error.to_string()))?;
    if length > Length::ZERO {
        Ok(length)
    } else {
        Err(refused("write a length above 0, such as \"5 um\"".to_owned()))
    }
}
