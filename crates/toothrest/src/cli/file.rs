//! A file that a command writes: whole, or not there at all.

use std::fs::{self, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::failure::Failure;

/// What could not be written, as a failure.
pub(super) fn failed(path: &Path) -> impl FnOnce(io::Error) -> Failure {
    let what = path.display().to_string();
    move |source| Failure::Write { what, source }
}

/// Writes a file that must not be there yet; what could not be written whole is taken away again.
///
/// # Errors
/// `AlreadyExists` where it is, and whatever the disk says.
pub(super) fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    // The first failure is the one to tell.
    written.inspect_err(|_| drop(fs::remove_file(path)))
}

/// Writes a file beside its place and puts it there when it is whole, so that a full disk leaves
/// what was there before.
///
/// # Errors
/// Whatever the disk says.
pub(super) fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let beside = beside(path);
    drop(fs::remove_file(&beside));
    write_new(&beside, bytes)?;
    fs::rename(&beside, path).inspect_err(|_| drop(fs::remove_file(&beside)))
}

fn beside(path: &Path) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(format!(".{}.part", std::process::id()));
    path.with_file_name(name)
}

/// Writes a PDF; only another PDF may be there, never an input or a book.
///
/// # Errors
/// `Argument` for a name of something else, `Write` for whatever the disk says.
pub(super) fn write_pdf(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let refused = |message: &str| {
        let (argument, value) = ("--pdf", path.display().to_string());
        Err(Failure::Argument { argument, value, message: message.to_owned() })
    };
    let ending = path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("pdf"));
    if !ending {
        return refused("the name must end in .pdf");
    }
    if !is_free(path, b"%PDF-").map_err(failed(path))? {
        return refused("is there already and is no PDF; give another name");
    }
    replace(path, bytes).map_err(failed(path))
}

/// Whether nothing is there, or a file that begins so.
fn is_free(path: &Path, begins: &[u8]) -> io::Result<bool> {
    let mut head = vec![0; begins.len()];
    match fs::File::open(path).and_then(|mut file| io::Read::read_exact(&mut file, &mut head)) {
        Ok(()) => Ok(head == begins),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(true),
        // Shorter than that: an empty file holds nothing that could be lost.
        Err(error) if error.kind() == ErrorKind::UnexpectedEof => {
            Ok(fs::metadata(path)?.len() == 0)
        }
        Err(error) => Err(error),
    }
}

/// What to do about it, where that is known.
pub(super) fn next(error: &io::Error) -> &'static str {
    match error.kind() {
        ErrorKind::NotFound => "; its folder is not there: make it, or name another",
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            "; name a place that may be written to"
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            "; make room on the disk, then do it again: nothing half-written was left"
        }
        ErrorKind::IsADirectory => "; a folder has that name: name a file",
        ErrorKind::AlreadyExists | ErrorKind::NotADirectory => {
            "; a file has that name where a folder must be: name another folder"
        }
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_pdf_is_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let at = |name: &str| folder.path().join(name);
        let said = |path: &Path| write_pdf(path, b"%PDF-new").map_err(|error| error.to_string());
        fs::write(at("book.sqlite"), "SQLite format 3").unwrap();
        fs::write(at("cutter.pdf"), "[cutter]").unwrap();
        fs::write(at("old.pdf"), "%PDF-1.7 old").unwrap();
        fs::write(at("empty.pdf"), "").unwrap();
        assert!(said(&at("book.sqlite")).unwrap_err().contains("must end in .pdf"));
        assert!(said(&at("cutter.pdf")).unwrap_err().contains("is no PDF"));
        assert!(said(&at("no/sheet.pdf")).unwrap_err().contains("its folder is not there"));
        assert_eq!(fs::read(at("cutter.pdf")).unwrap(), b"[cutter]");
        for name in ["old.pdf", "empty.pdf", "new.pdf"] {
            said(&at(name)).unwrap();
            assert_eq!(fs::read(at(name)).unwrap(), b"%PDF-new", "{name}");
        }
        // Nothing was left beside them.
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 5);
    }

    /// The device that is always full says what a full disk says.
    #[test]
    fn a_full_disk_is_told_with_what_to_do() {
        let error = fs::write("/dev/full", b"x").unwrap_err();
        assert!(next(&error).contains("make room on the disk"), "{error}");
    }

    #[test]
    fn what_cannot_be_put_in_place_leaves_nothing_beside_it() {
        let folder = tempfile::tempdir().unwrap();
        let taken = folder.path().join("taken");
        fs::create_dir(&taken).unwrap();
        let error = replace(&taken, b"x").unwrap_err();
        assert!(next(&error).contains("name a file"), "{error}");
        assert!(write_new(&taken, b"x").is_err());
        let names: Vec<_> = fs::read_dir(folder.path()).unwrap().collect();
        assert_eq!(names.len(), 1, "{names:?}");
    }
}
