//! Every member promises a toolchain, opts into the workspace's lints, and stays unpublished.

use toml::{Table, Value};

use crate::house::{House, Member};
use crate::miss::Miss;

/// The misses of every member.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    house.members.iter().flat_map(|member| of_member(house, member)).collect()
}

fn of_member(house: &House, member: &Member) -> Vec<Miss> {
    let manifest = manifest(house, member);
    let holds = |path: [&str; 3]| inherits(&manifest, path);
    let laws = [
        (member.rust_version.is_some(), "set rust-version.workspace = true"),
        (holds(["lints", "workspace", ""]), "opt into the lints: [lints] workspace = true"),
        (holds(["package", "publish", "workspace"]), "set publish.workspace = true"),
        (holds(["package", "license", "workspace"]), "set license.workspace = true"),
    ];
    let broken = laws.into_iter().filter(|(is_kept, _)| !is_kept);
    broken.map(|(_, what)| Miss::of(&member.manifest, what)).collect()
}

/// The member's manifest; empty where it cannot be read, so that every law fails.
fn manifest(house: &House, member: &Member) -> Table {
    let text = house.file(&member.manifest).and_then(|file| file.text.as_deref());
    text.and_then(|text| text.parse().ok()).unwrap_or_default()
}

/// Whether the value at a path is `true`; an empty step ends the path.
fn inherits(manifest: &Table, path: [&str; 3]) -> bool {
    let mut steps = path.iter().filter(|step| !step.is_empty());
    let first = steps.next().and_then(|step| manifest.get(*step));
    let last = steps.fold(first, |value, step| value?.get(*step));
    last.and_then(Value::as_bool) == Some(true)
}

#[cfg(test)]
fn planted(rust_version: Option<&str>, manifest: &str) -> usize {
    let path = "crates/shop/Cargo.toml";
    let mut house = House::planted(&[(path, manifest)]);
    house.members.push(Member {
        name: "shop".to_owned(),
        manifest: path.to_owned(),
        rust_version: rust_version.map(str::to_owned),
        needs: Vec::new(),
    });
    check(&house).len()
}

#[test]
fn a_member_that_opts_out_is_found() {
    let whole = "[package]\nlicense.workspace = true\npublish.workspace = true\n\
        [lints]\nworkspace = true\n";
    assert_eq!(planted(Some("1.95"), whole), 0);
    assert_eq!(planted(None, whole), 1);
    assert_eq!(planted(Some("1.95"), &whole.replace("[lints]", "[other]")), 1);
    assert_eq!(
        planted(Some("1.95"), &whole.replace("publish.workspace = true", "publish = true")),
        1
    );
    assert_eq!(planted(Some("1.95"), "not a manifest"), 3);
}
