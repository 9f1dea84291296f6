//! The sum beside a copy, by which it is known that not a bit of it has changed: a line of 64
//! hexadecimal digits and the name of the file, as the common tool for such sums reads it.

use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use crate::book::beside;

/// What the name of a sum's file adds to that of the copy.
pub const SUM_ENDING: &str = ".sha256";

/// Where the sum of a file lies.
pub(crate) fn place(file: &Path) -> PathBuf {
    beside(file, SUM_ENDING)
}

/// A digest in hexadecimal digits.
pub(crate) fn shown(digest: Sha256) -> String {
    digest.finalize().iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The sum of a file.
pub(crate) fn of_file(file: &Path) -> io::Result<String> {
    let (mut digest, mut from) = (Sha256::new(), File::open(file)?);
    let mut piece = vec![0; 1 << 16];
    loop {
        match io::Read::read(&mut from, &mut piece)? {
            0 => return Ok(shown(digest)),
            count => digest.update(piece.get(..count).unwrap_or_default()),
        }
    }
}

/// Writes the sum of a file that is there.
pub(crate) fn write(file: &Path, sum: &str) -> io::Result<()> {
    let name = file.file_name().unwrap_or_default().to_string_lossy();
    let at = place(file);
    fs::write(&at, format!("{sum}  {name}\n"))?;
    File::open(&at)?.sync_all()
}

/// What is wrong with a file by the sum that lies beside it; nothing where none does.
pub(crate) fn wrong(file: &Path) -> io::Result<Option<String>> {
    let at = place(file);
    let text = match fs::read(&at) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        text => String::from_utf8_lossy(&text?).into_owned(),
    };
    let kept = text.split_whitespace().next().unwrap_or_default();
    if kept.len() != 64 || !kept.bytes().all(|byte| byte.is_ascii_hexdigit()) {
        return Ok(Some(format!(
            "{} holds no sum: take it away, or bring it back as it was",
            at.display()
        )));
    }
    let is_so = of_file(file)?.eq_ignore_ascii_case(kept);
    Ok((!is_so).then(|| {
        format!(
            "the file is not as it was copied, by the sum in {}: take another copy. Where somebody \
             wrote to this one on purpose, take the sum away",
            at.display()
        )
    }))
}
