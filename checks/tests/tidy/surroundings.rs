//! Reads the real house: the files that git knows (or the tree, where there is no git) and the
//! members that `cargo metadata` tells.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

use serde_json::Value;

use crate::house::{File, House, Member, Need};

/// The house that this test stands in, read once.
pub(crate) fn here() -> &'static House {
    static HOUSE: OnceLock<House> = OnceLock::new();
    HOUSE.get_or_init(|| read(&root()))
}

/// The root of the repository.
fn root() -> PathBuf {
    let above = Path::new(env!("CARGO_MANIFEST_DIR")).parent();
    above.expect("the checks lie in a workspace").to_path_buf()
}

fn read(root: &Path) -> House {
    let tracked = git_files(root, &["--cached"]).unwrap_or_default();
    let loose = git_files(root, &["--others"]);
    let untracked = loose.clone().unwrap_or_default();
    let paths = match loose {
        Some(loose) => tracked.union(&loose).cloned().collect(),
        None => walk(root, root),
    };
    let files = paths.iter().filter_map(|path| read_file(root, path)).collect();
    let mut house = House::new(files, members(root));
    house.untracked = if tracked.is_empty() { BTreeSet::new() } else { untracked };
    house
}

/// What `git ls-files` lists; nothing where there is no git or no repository.
fn git_files(root: &Path, which: &[&str]) -> Option<BTreeSet<String>> {
    let mut git = Command::new("git");
    git.current_dir(root).args(["ls-files", "-z", "--exclude-standard"]).args(which);
    let answer = git.output().ok().filter(|answer| answer.status.success())?;
    let listed = String::from_utf8(answer.stdout).ok()?;
    Some(listed.split('\0').filter(|path| !path.is_empty()).map(str::to_owned).collect())
}

/// Every file under `folder` but what builds leave behind.
fn walk(root: &Path, folder: &Path) -> BTreeSet<String> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let kept = entries.map(|entry| entry.path()).filter(|path| !is_left_by_builds(path));
    kept.flat_map(|path| if path.is_dir() { walk(root, &path) } else { one(root, &path) }).collect()
}

fn one(root: &Path, path: &Path) -> BTreeSet<String> {
    let below = path.strip_prefix(root).unwrap_or(path);
    BTreeSet::from([below.to_string_lossy().replace('\\', "/")])
}

fn is_left_by_builds(path: &Path) -> bool {
    [".git", "target", "node_modules"].iter().any(|name| path.ends_with(name))
}

/// Reads one file; nothing where it was deleted but is still tracked.
fn read_file(root: &Path, path: &str) -> Option<File> {
    let full = root.join(path);
    let bytes = fs::read(&full).ok()?;
    Some(File::new(path, bytes, is_executable(&full)))
}

#[cfg(unix)]
fn is_executable(path: &Path) -> bool {
    use std::os::unix::fs::PermissionsExt;
    fs::metadata(path).is_ok_and(|about| about.permissions().mode() & 0o100 != 0)
}

#[cfg(not(unix))]
fn is_executable(_: &Path) -> bool {
    true
}

/// The members that cargo tells.
fn members(root: &Path) -> Vec<Member> {
    let mut cargo = Command::new(env!("CARGO"));
    cargo.current_dir(root).args(["metadata", "--no-deps", "--offline", "--format-version", "1"]);
    let answer = cargo.output().expect("cargo runs");
    let told = String::from_utf8_lossy(&answer.stderr);
    assert!(answer.status.success(), "cargo metadata refused: {told}");
    members_of(&serde_json::from_slice(&answer.stdout).expect("cargo metadata is JSON"), root)
}

fn members_of(metadata: &Value, root: &Path) -> Vec<Member> {
    let packages = metadata["packages"].as_array().expect("cargo metadata lists packages");
    packages.iter().map(|package| member(package, root)).collect()
}

fn member(package: &Value, root: &Path) -> Member {
    let manifest = text(&package["manifest_path"]);
    let below = Path::new(&manifest).strip_prefix(root).unwrap_or(Path::new(&manifest));
    let needs = package["dependencies"].as_array().into_iter().flatten().map(need).collect();
    Member {
        name: text(&package["name"]),
        manifest: below.to_string_lossy().replace('\\', "/"),
        rust_version: package["rust_version"].as_str().map(str::to_owned),
        needs,
    }
}

fn need(dependency: &Value) -> Need {
    let is_for_tests = dependency["kind"].as_str() == Some("dev");
    Need { name: text(&dependency["name"]), is_for_tests }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

#[test]
fn members_are_read_from_what_cargo_says() {
    let told = serde_json::json!({"packages": [{
        "name": "shop", "manifest_path": "/house/crates/shop/Cargo.toml", "rust_version": null,
        "dependencies": [{"name": "trade", "kind": null}, {"name": "insta", "kind": "dev"}],
    }]});
    let members = members_of(&told, Path::new("/house"));
    assert_eq!(members[0].manifest, "crates/shop/Cargo.toml");
    assert_eq!(members[0].rust_version, None);
    let needs: Vec<_> =
        members[0].needs.iter().map(|n| (n.name.as_str(), n.is_for_tests)).collect();
    assert_eq!(needs, [("trade", false), ("insta", true)]);
}

#[test]
fn a_walk_without_git_finds_this_file_and_no_build() {
    let found = walk(&root(), &root());
    assert!(found.contains("checks/tests/tidy/surroundings.rs"));
    assert!(found.iter().all(|path| !path.starts_with("target/") && !path.starts_with(".git/")));
}
