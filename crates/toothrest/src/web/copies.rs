//! Copies of the book: the folder they lie in, and what lies there.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::time::SystemTime;

use book::{Place, SUM_ENDING};

/// The folder beside the book.
const FOLDER: &str = "copies";

/// How the names of copies begin: a whole book, or files that a person can read.
const STARTS: [&str; 2] = ["book-", "files-"];

/// One copy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Copy {
    pub(crate) name: String,
    pub(crate) is_folder: bool,
    pub(crate) bytes: u64,
    pub(crate) made: Option<SystemTime>,
}

/// The folder for copies of a book that is a file.
pub(super) fn folder_of(place: &Place) -> Option<PathBuf> {
    let beside = place.file()?.parent()?;
    Some(beside.join(FOLDER))
}

/// A name that is not taken yet, from the day and minute as people here write them.
pub(crate) fn fresh(folder: &Path, start: &str, minute: &str, ending: &str) -> PathBuf {
    let day: String = minute.chars().map(|c| if c == ' ' { '-' } else { c }).collect();
    let plain = day.replace(':', "");
    let named = |more: &str| folder.join(format!("{start}{plain}{more}{ending}"));
    let further = (2..1_000).map(|count| named(&format!("-{count}")));
    let mut names = std::iter::once(named("")).chain(further);
    names.find(|path| !path.exists()).unwrap_or_else(|| named("-more"))
}

/// The copies in a folder, the latest first; none where there is no such folder. Only what this
/// program has named, and nothing that a link leads to.
///
/// # Errors
/// Where the folder cannot be read.
pub(crate) fn listed(folder: &Path) -> io::Result<Vec<Copy>> {
    let entries = match fs::read_dir(folder) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
        entries => entries?,
    };
    let mut copies: Vec<Copy> = Vec::new();
    for entry in entries {
        copies.extend(copy(&entry?)?);
    }
    copies.sort_by(|one, other| other.made.cmp(&one.made).then(other.name.cmp(&one.name)));
    Ok(copies)
}

fn copy(entry: &fs::DirEntry) -> io::Result<Option<Copy>> {
    let Ok(name) = entry.file_name().into_string() else { return Ok(None) };
    let facts = entry.metadata()?;
    let is_copy = ![".part", SUM_ENDING].iter().any(|ending| name.ends_with(ending));
    let is_ours = STARTS.iter().any(|start| name.starts_with(start)) && is_copy;
    if !is_ours || facts.file_type().is_symlink() {
        return Ok(None);
    }
    let bytes = if facts.is_dir() { held(&entry.path())? } else { facts.len() };
    Ok(Some(Copy { name, is_folder: facts.is_dir(), bytes, made: facts.modified().ok() }))
}

/// The bytes of the files in a folder.
fn held(folder: &Path) -> io::Result<u64> {
    let sizes = fs::read_dir(folder)?.map(|entry| Ok(entry?.metadata()?.len()));
    sizes.sum()
}

/// Takes away what earlier jobs left half written.
pub(crate) fn forget_unfinished(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries {
        let name = entry.file_name().to_string_lossy().into_owned();
        let is_ours = STARTS.iter().any(|start| name.starts_with(start));
        if is_ours && name.ends_with(".part") {
            // What cannot be taken away only takes room.
            drop(fs::remove_file(entry.path()).or_else(|_| fs::remove_dir_all(entry.path())));
        }
    }
}

/// A size as people read it.
pub(crate) fn size_words(bytes: u64) -> String {
    match bytes {
        0..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{:.0} kB", bytes as f64 / 1e3),
        _ => format!("{:.1} MB", bytes as f64 / 1e6),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_this_program_wrote_is_listed() {
        let folder = tempfile::tempdir().unwrap();
        let copies = folder.path().join("copies");
        assert_eq!(listed(&copies).unwrap(), []);
        fs::create_dir(&copies).unwrap();
        fs::write(folder.path().join("book-secret"), "x").unwrap();
        fs::write(copies.join("other.txt"), "x").unwrap();
        fs::write(copies.join("book-2.sqlite.part"), "x").unwrap();
        fs::write(copies.join("book-1.sqlite.sha256"), "x").unwrap();
        let name = fresh(&copies, "book-", "2026-11-25 15:48", ".sqlite");
        assert_eq!(name, copies.join("book-2026-11-25-1548.sqlite"));
        fs::write(&name, "0123456789").unwrap();
        let second = fresh(&copies, "book-", "2026-11-25 15:48", ".sqlite");
        assert_eq!(second, copies.join("book-2026-11-25-1548-2.sqlite"));
        let found = listed(&copies).unwrap();
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].bytes, found[0].is_folder), (10, false));
        forget_unfinished(&copies);
        assert!(!copies.join("book-2.sqlite.part").exists() && copies.join("other.txt").exists());
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_no_copy() {
        let folder = tempfile::tempdir().unwrap();
        std::os::unix::fs::symlink("/etc/hostname", folder.path().join("book-link")).unwrap();
        assert_eq!(listed(folder.path()).unwrap(), []);
    }

    #[test]
    fn sizes_are_told_as_people_read_them() {
        assert_eq!([999, 1_500, 2_340_000].map(size_words), ["999 bytes", "2 kB", "2.3 MB"]);
    }
}
