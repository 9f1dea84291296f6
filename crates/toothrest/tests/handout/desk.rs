//! A folder of a newcomer's own, in which lines are typed at a shell.

#![allow(dead_code, reason = "each test uses its part of this")]

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use tempfile::TempDir;

/// A folder with the examples in it, and a book that is not there yet.
pub(crate) struct Desk {
    folder: TempDir,
}

/// What whoever types a PIN types, twice.
const PIN: &str = "481216\n481216\n";

pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

/// The root of the repository.
pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

impl Desk {
    /// A folder with nothing in it.
    pub(crate) fn empty() -> Self {
        Self { folder: tempfile::tempdir().unwrap() }
    }

    pub(crate) fn new() -> Self {
        let desk = Self::empty();
        desk.answer("toothrest example --write .");
        desk
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Types a line at a shell that finds the program by its name.
    pub(crate) fn typed(&self, line: &str) -> Output {
        self.typed_with(line, &[])
    }

    /// The same with variables of the surroundings.
    pub(crate) fn typed_with(&self, line: &str, variables: &[(&str, &str)]) -> Output {
        let program = Path::new(env!("CARGO_BIN_EXE_toothrest")).parent().unwrap();
        let path = std::env::var("PATH").unwrap();
        let mut shell = Command::new("sh")
            .args(["-c", line])
            .current_dir(self.folder.path())
            .env("PATH", format!("{}:{path}", program.display()))
            .env("TOOTHREST_BOOK", self.path("book.sqlite"))
            .env("TZ", "Europe/Berlin")
            .env_remove("NO_COLOR")
            .envs(variables.iter().copied())
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // A command that reads nothing may be gone before it is written to.
        let _ = shell.stdin.take().unwrap().write_all(PIN.as_bytes());
        shell.wait_with_output().unwrap()
    }

    /// Types a line that must do what it says, without a word on standard error.
    pub(crate) fn answer(&self, line: &str) -> String {
        let output = self.typed(line);
        let said = text(&output.stderr);
        assert!(output.status.success() && said.is_empty(), "{line}: {said}");
        text(&output.stdout)
    }

    /// Types the lines that fill the book: machine, wheel, two cutters in the blue tray, prices.
    pub(crate) fn shop(&self) {
        for line in [
            "machine machine.toml",
            "wheel wheel.toml",
            "cutter cutter.toml --tray blue",
            "cutter examples/cutters/k-121-corner-radius.toml --tray blue",
            "cutter examples/cutters/k-126-one-inch-powder.toml --shelf",
            "prices examples/prices/bench-rates.toml",
        ] {
            self.answer(&format!("toothrest book keep {line} --by AB"));
        }
    }

    /// Makes plan.json and check.json, for the commands that read them.
    pub(crate) fn planned(&self) {
        let files = "--cutter cutter.toml --machine machine.toml --wheel wheel.toml";
        self.answer(&format!("toothrest plan {files} --json > plan.json"));
        let readings = "examples/readings/k-117-heavy-toward-shank.toml";
        let check = "toothrest check --plan plan.json --readings";
        self.answer(&format!("{check} {readings} --json > check.json"));
    }
}
