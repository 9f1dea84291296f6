//! Gathers the examples, so that the program carries every one of them and none is forgotten.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Where they lie, seen from this crate.
const EXAMPLES: &str = "../../examples";

/// How the names of examples end.
const ENDINGS: [&str; 2] = ["toml", "csv"];

fn main() -> io::Result<()> {
    println!("cargo:rerun-if-changed={EXAMPLES}");
    let root = Path::new(&variable("CARGO_MANIFEST_DIR")?).join(EXAMPLES);
    let mut files = Vec::new();
    gather(&root, &mut files)?;
    files.sort();
    let row = |path: &PathBuf| {
        let name = path.strip_prefix(&root).unwrap_or(path).to_string_lossy().replace('\\', "/");
        format!("    ({name:?}, include_bytes!({:?})),\n", path.display().to_string())
    };
    let rows: String = files.iter().map(row).collect();
    let out = Path::new(&variable("OUT_DIR")?).join("examples.rs");
    fs::write(out, format!("&[\n{rows}]\n"))
}

fn variable(name: &str) -> io::Result<String> {
    std::env::var(name).map_err(|error| io::Error::other(format!("{name}: {error}")))
}

fn gather(folder: &Path, files: &mut Vec<PathBuf>) -> io::Result<()> {
    for entry in fs::read_dir(folder)? {
        let path = entry?.path();
        let ending = path.extension().and_then(|ending| ending.to_str()).unwrap_or_default();
        if path.is_dir() {
            gather(&path, files)?;
        } else if ENDINGS.contains(&ending) {
            files.push(path);
        } else {
            // What an editor leaves behind would travel in every copy of the program.
            println!("cargo:warning={} is no example and is left out", path.display());
        }
    }
    Ok(())
}
