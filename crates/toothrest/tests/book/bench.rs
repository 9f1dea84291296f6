//! A book of a test's own, and the program run on it.

#![allow(dead_code, reason = "each test uses its part of this")]

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;
use tempfile::TempDir;

/// A book with a folder beside it for whatever a test writes.
pub(crate) struct Bench {
    folder: TempDir,
    place: String,
}

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

impl Bench {
    /// A book in a file that is not there yet.
    pub(crate) fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let place = folder.path().join("book.sqlite").display().to_string();
        Self { folder, place }
    }

    /// The path of something beside the book.
    pub(crate) fn beside(&self, name: &str) -> String {
        self.folder.path().join(name).display().to_string()
    }

    /// The same folder with another book.
    pub(crate) fn with_place(self, place: String) -> Self {
        Self { place, ..self }
    }

    pub(crate) fn place(&self) -> &str {
        &self.place
    }

    /// Runs the program in a fixed zone, with the book named by the surroundings.
    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_toothrest"))
            .current_dir(root())
            .env("TOOTHREST_BOOK", &self.place)
            .env("TZ", "Europe/Berlin")
            .args(arguments)
            .output()
            .unwrap()
    }

    /// Runs the program, which must succeed and say nothing on standard error.
    pub(crate) fn answer(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        let said = text(&output.stderr);
        assert!(output.status.success() && said.is_empty(), "{arguments:?}: {said}");
        text(&output.stdout)
    }

    pub(crate) fn json(&self, arguments: &[&str]) -> Value {
        serde_json::from_str(&self.answer(arguments)).unwrap()
    }

    /// Runs the program, which must refuse with this code, print nothing and say `reason`.
    #[track_caller]
    pub(crate) fn refused(&self, arguments: &[&str], code: i32, reason: &str) {
        let output = self.run(arguments);
        let said = text(&output.stderr);
        assert_eq!(output.status.code(), Some(code), "{arguments:?}: {said}");
        assert!(output.stdout.is_empty(), "{arguments:?} printed something beside its refusal");
        assert!(said.contains(reason), "{arguments:?} said\n{said}\nand not\n{reason}");
    }

    /// Puts a file of the examples into the book.
    pub(crate) fn keep(&self, kind: &str, file: &str, more: &[&str]) -> String {
        let file = format!("examples/{file}");
        let mut arguments = vec!["book", "keep", kind, &file, "--by", "AB"];
        arguments.extend(more);
        self.answer(&arguments)
    }

    /// A small shop: a machine, wheels, prices, and three cutters in a tray.
    pub(crate) fn shop(&self) {
        self.keep("machine", "machines/left-bench.toml", &[]);
        self.keep("wheel", "wheels/w-05-flaring-cup-cbn.toml", &[]);
        self.keep("wheel", "wheels/w-07-flaring-cup-diamond.toml", &[]);
        self.keep("prices", "prices/bench-rates.toml", &[]);
        for cutter in ["k-117-half-inch-dull", "k-149-hopeless", "k-104-three-mm-carbide"] {
            self.keep("cutter", &format!("cutters/{cutter}.toml"), &["--tray", "blue"]);
        }
    }
}

/// A place of its own on the server that the tests were given; nothing where somebody said to do
/// without.
pub(crate) fn on_server(name: &str) -> Option<Bench> {
    if std::env::var_os("BOOK_WITHOUT_POSTGRES").is_some() {
        return None;
    }
    let address = std::env::var("BOOK_POSTGRES")
        .expect("run this through checks/postgres.sh, or set BOOK_WITHOUT_POSTGRES=1");
    let (before, settings) = address.split_once('?').unwrap_or((&address, ""));
    // Every test has a schema of its own in the one database that is there.
    let schema = format!("toothrest_{name}_{}", std::process::id());
    let path = format!("options=-csearch_path%3D{schema}");
    let place = format!("{before}?{settings}&{path}");
    let make = format!("CREATE SCHEMA {schema}");
    let made = Command::new("psql").args([&address, "-qc", &make]).status().unwrap();
    assert!(made.success(), "psql: {make}");
    Some(Bench::new().with_place(place))
}
