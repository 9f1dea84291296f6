//! Every link of a page leads to a file of the house.

use std::collections::BTreeSet;

use crate::house::{File, House};
use crate::miss::Miss;
use crate::prose::without_code;

/// The misses of every page.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let places = places(house);
    let pages = house.files.iter().filter(|file| file.path.ends_with(".md"));
    pages.flat_map(|page| of_page(&places, page)).collect()
}

/// Every file and every folder.
fn places(house: &House) -> BTreeSet<&str> {
    let above =
        |path| std::iter::successors(Some(path), |path: &&str| Some(path.rsplit_once('/')?.0));
    house.files.iter().flat_map(|file| above(file.path.as_str())).chain([""]).collect()
}

fn of_page(places: &BTreeSet<&str>, page: &File) -> Vec<Miss> {
    let links = prose(page)
        .flat_map(|(line, text)| targets(&text).map(move |to| (line, to)).collect::<Vec<_>>());
    let dead = links.filter(|(_, to)| !places.contains(resolved(&page.path, to).as_str()));
    dead.map(|(line, to)| {
        Miss::at(
            &page.path,
            line,
            format!("nothing stands at {to:?}; mend the link or add the file"),
        )
    })
    .collect()
}

/// The lines outside fenced code, with inline code blanked out.
fn prose(page: &File) -> impl Iterator<Item = (usize, String)> {
    let mut is_fenced = false;
    page.lines().filter_map(move |(line, text)| {
        let is_fence = text.trim_start().starts_with("```");
        is_fenced ^= is_fence;
        (!is_fence && !is_fenced).then(|| (line, without_code(text)))
    })
}

/// What the links of a line lead to, those to the world and to the page itself left out.
fn targets(text: &str) -> impl Iterator<Item = String> {
    let links = text.split("](").skip(1).filter_map(|rest| rest.split_once(')'));
    let inner = links.filter_map(|(to, _)| to.split_whitespace().next());
    let paths = inner.map(|to| to.split('#').next().unwrap_or_default().to_owned());
    paths.filter(|to| !(to.is_empty() || to.contains("://") || to.starts_with("mailto:")))
}

/// A target as a path from the root, seen from the page that names it.
fn resolved(page: &str, to: &str) -> String {
    let folder = page.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in to.trim_end_matches('/').split('/') {
        match part {
            "." => {}
            ".." if parts.last().is_some_and(|last| *last != "..") => drop(parts.pop()),
            _ => parts.push(part),
        }
    }
    parts.join("/")
}

#[test]
fn dead_links_are_found() {
    let page = "[a](NUMBERS.md#lead) [b](../README.md \"Start\")\n[c](../crates/) [d](GONE.md)\n\
        `[e](x.md)` [f](https://a.b/c.md) [g](#here)\n```\n[h](y.md)\n```\n[i](../../out.md)\n";
    let house = House::planted(&[
        ("docs/A.md", page),
        ("docs/NUMBERS.md", ""),
        ("README.md", "[j](docs/A.md) [k](docs/B.md)"),
        ("crates/shop/src/lib.rs", ""),
    ]);
    let told: Vec<_> = check(&house).into_iter().map(|miss| (miss.path, miss.line)).collect();
    let wanted = [("docs/A.md", 2), ("docs/A.md", 7), ("README.md", 1)];
    assert_eq!(told, wanted.map(|(path, line)| (path.to_owned(), line)));
}
