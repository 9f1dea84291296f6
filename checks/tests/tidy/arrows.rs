//! Which crate may depend on which, and which outside packages only one crate may know.

use std::collections::BTreeSet;

use crate::house::{House, Member, Need};
use crate::miss::Miss;

/// The arrows that are allowed, by the crate they start from.
const ARROWS: [(&str, &[&str]); 8] = [
    ("geometry", &[]),
    ("trade", &["geometry"]),
    ("shop", &["trade", "geometry"]),
    ("sheets", &["shop", "geometry"]),
    ("exchange", &["shop", "geometry"]),
    ("book", &["shop"]),
    ("toothrest", &["geometry", "trade", "shop", "sheets", "exchange", "book"]),
    ("checks", &["geometry", "trade", "shop", "sheets", "exchange", "book"]),
];

/// Outside packages with the only crates that may depend on them, for whatever purpose. A name
/// stands for its companions too: `clap` for `clap_complete`.
const KEPT_TO: [(&str, &[&str]); 9] = [
    ("clap", &["toothrest"]),
    ("axum", &["toothrest"]),
    ("hyper", &["toothrest"]),
    ("tokio", &["toothrest", "book"]),
    ("serde_json", &["toothrest", "book", "exchange", "checks"]),
    ("sqlx", &["book"]),
    ("rusqlite", &["book"]),
    ("i_overlay", &["checks"]),
    ("glam", &["checks"]),
];

/// Crates whose types are not serialisable.
const NO_SERDE: [&str; 2] = ["geometry", "shop"];

/// The misses of every member.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let names: BTreeSet<&str> = house.members.iter().map(|member| member.name.as_str()).collect();
    let of_member = |member: &Member| {
        let needs = member.needs.iter();
        needs.filter_map(|need| wrong(&names, member, need)).map(place(member)).collect::<Vec<_>>()
    };
    house.members.iter().flat_map(of_member).collect()
}

/// A miss stands in the member's manifest.
fn place(member: &Member) -> impl Fn(String) -> Miss + '_ {
    |what| Miss::of(&member.manifest, what)
}

/// What is wrong with one dependency, if anything is.
fn wrong(names: &BTreeSet<&str>, member: &Member, need: &Need) -> Option<String> {
    if names.contains(need.name.as_str()) {
        wrong_arrow(member, need)
    } else {
        wrong_outsider(&member.name, &need.name)
    }
}

fn wrong_arrow(member: &Member, need: &Need) -> Option<String> {
    let (from, to) = (member.name.as_str(), need.name.as_str());
    let allowed = if need.is_for_tests { reach(from) } else { straight(from) };
    (!allowed.contains(to)).then(|| {
        format!(
            "{from} may not depend on {to}; drop the arrow or move the code to the crate that \
             may (allowed from {from}: {allowed:?})"
        )
    })
}

/// The crates to which an arrow may lead.
fn straight(from: &str) -> BTreeSet<&'static str> {
    let row = ARROWS.iter().find(|(name, _)| *name == from);
    row.into_iter().flat_map(|(_, to)| to.iter().copied()).collect()
}

/// The crates that lie below one. Its tests may build their cases with any of them.
fn reach(from: &str) -> BTreeSet<&'static str> {
    let near = straight(from);
    near.iter().flat_map(|next| reach(next)).chain(near.iter().copied()).collect()
}

fn wrong_outsider(member: &str, need: &str) -> Option<String> {
    if NO_SERDE.contains(&member) && is_or_is_with(need, "serde") {
        return Some(format!("{member} is not serialisable; give {need} to the crate at the edge"));
    }
    let (name, homes) = KEPT_TO.iter().find(|(name, _)| is_or_is_with(need, name))?;
    (!homes.contains(&member))
        .then(|| format!("only {homes:?} may know {name}; drop {need} from {member}"))
}

/// Whether a package is the one of that name or one of its companions.
fn is_or_is_with(package: &str, name: &str) -> bool {
    let rest = package.strip_prefix(name);
    rest.is_some_and(|rest| rest.is_empty() || rest.starts_with(['-', '_']))
}

#[cfg(test)]
fn planted(arrows: &[(&str, &str, bool)]) -> Vec<Miss> {
    let need = |name: &str, is_for_tests| Need { name: name.to_owned(), is_for_tests };
    let member = |name: &str, needs| Member {
        name: name.to_owned(),
        manifest: format!("crates/{name}/Cargo.toml"),
        rust_version: None,
        needs,
    };
    let empty = ARROWS.iter().map(|(name, _)| member(name, Vec::new()));
    let full = arrows.iter().map(|(from, to, test)| member(from, vec![need(to, *test)]));
    check(&House::new(Vec::new(), empty.chain(full).collect()))
}

#[test]
fn allowed_arrows_pass() {
    let drawn = ARROWS.iter().flat_map(|(from, to)| to.iter().map(|to| (*from, *to, false)));
    assert_eq!(planted(&drawn.collect::<Vec<_>>()), []);
    let outside = [("toothrest", "clap", false), ("checks", "i_overlay", true)];
    assert_eq!(planted(&outside), []);
    assert_eq!(planted(&[("sheets", "trade", true), ("trade", "serde", false)]), []);
}

#[test]
fn every_other_arrow_fails() {
    let wrong = [
        ("geometry", "trade", false),
        ("geometry", "shop", true),
        ("sheets", "trade", false),
        ("shop", "sheets", true),
        ("checks", "toothrest", true),
        ("toothrest", "checks", false),
    ];
    for arrow in wrong {
        assert_eq!(planted(&[arrow]).len(), 1, "{arrow:?}");
    }
}

#[test]
fn outsiders_stay_where_they_belong() {
    let wrong = [
        ("shop", "serde", false),
        ("geometry", "serde_json", true),
        ("sheets", "clap_complete", false),
        ("sheets", "tokio", true),
        ("shop", "sqlx-core", false),
        ("geometry", "i_overlay", true),
        ("geometry", "glam", true),
        ("toothrest", "rusqlite", false),
    ];
    for arrow in wrong {
        assert_eq!(planted(&[arrow]).len(), 1, "{arrow:?}");
    }
}
