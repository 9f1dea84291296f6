//! A small disk: a file system in memory with room for a megabyte.

use std::path::Path;
use std::process::{Command, Stdio};

use tempfile::TempDir;

/// Set by whoever cannot mount a disk and knows it.
const WITHOUT: &str = "BOOK_WITHOUT_SMALL_DISK";

/// A disk that goes away with this.
pub(crate) struct Small {
    folder: TempDir,
}

fn run(program: &str, arguments: &[&str]) -> bool {
    let mut command = Command::new(program);
    command.args(arguments).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok_and(|status| status.success())
}

impl Small {
    /// A new one; nothing, with a word, where somebody said to do without.
    ///
    /// # Panics
    /// Where none can be mounted and nobody said to do without.
    pub(crate) fn new() -> Option<Self> {
        if std::env::var_os(WITHOUT).is_some() {
            println!("skipped: {WITHOUT} is set, so nothing is tried on a small disk");
            return None;
        }
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().to_str().unwrap();
        let is_there = run("mount", &["-t", "tmpfs", "-o", "size=1m", "tmpfs", at]);
        assert!(is_there, "only root may mount a small disk; run this as root, or set {WITHOUT}=1");
        Some(Self { folder })
    }

    pub(crate) fn path(&self) -> &Path {
        self.folder.path()
    }

    /// Whether it may only be read from now on.
    #[allow(dead_code, reason = "not every test needs it")]
    pub(crate) fn only_reads(&self, only: bool) {
        let how = if only { "remount,ro" } else { "remount,rw,size=1m" };
        assert!(run("mount", &["-o", how, self.path().to_str().unwrap()]), "mount -o {how}");
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        run("umount", &["--lazy", self.folder.path().to_str().unwrap_or_default()]);
    }
}
