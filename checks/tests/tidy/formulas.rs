//! Every formula names its source, and every source in the bibliography is used.
//!
//! A formula's docs carry `**Source** [id]`, `**Departs**`, `**Error**` and `**Domain**` in that
//! order, each id in brackets of its own, escaped as `\[id\]` or not. The ids stand in one
//! bibliography; rows of data name them under `source` or `sources`. Inline code in a comment is
//! not read, so that a comment can speak of the marks themselves.

use std::collections::BTreeSet;

use toml::{Table, Value};

use crate::house::{File, House, Rust};
use crate::miss::Miss;
use crate::prose::without_code;

/// The one place where sources are told in full.
const BIBLIOGRAPHY: &str = "crates/trade/data/bibliography.toml";

/// The folder of the rows of data.
const DATA: &str = "crates/trade/data/";

/// The four marks of a formula's docs, in their order.
const MARKS: [&str; 4] = ["**Source**", "**Departs**", "**Error**", "**Domain**"];

/// A mention of a source: where it stands and what it says.
struct Mention {
    path: String,
    line: usize,
    id: String,
}

/// A comment of one or more lines, with the line it starts on, from 1.
struct Block {
    line: usize,
    lines: Vec<String>,
}

/// The misses of every source, every row and the bibliography.
pub(crate) fn check(house: &House) -> Vec<Miss> {
    let known = known(house);
    let ids: BTreeSet<&str> = known.iter().map(|mention| mention.id.as_str()).collect();
    let (cited, in_code) = citations(house);
    let cited: Vec<Mention> = cited.into_iter().chain(rows(house)).collect();
    let mut misses: Vec<Miss> = formulas(house);
    misses.extend(unread(house));
    misses.extend(cited.iter().filter(|cite| !ids.contains(cite.id.as_str())).map(unknown));
    let used: BTreeSet<&str> = cited.iter().chain(&in_code).map(|cite| cite.id.as_str()).collect();
    // A shop's own rows come from outside the project, so nothing in it need cite them.
    let is_idle = |source: &&Mention| source.id != "shop" && !used.contains(source.id.as_str());
    misses.extend(known.iter().filter(is_idle).map(unused));
    misses
}

fn unknown(cite: &Mention) -> Miss {
    let what = format!("no source {:?} in {BIBLIOGRAPHY}; add it there or mend the id", cite.id);
    Miss::at(&cite.path, cite.line, what)
}

fn unused(source: &Mention) -> Miss {
    let what = format!("nothing uses the source {:?}; cite it or take it out", source.id);
    Miss::at(&source.path, source.line, what)
}

/// Docs that have some of the four marks but not all in order, or that name no source.
fn formulas(house: &House) -> Vec<Miss> {
    let of_file = |(file, rust): (&File, &Rust)| {
        let wrong = blocks(rust).into_iter().filter_map(|block| Some((block.line, wrong(&block)?)));
        wrong.map(|(line, what)| Miss::at(&file.path, line, what)).collect::<Vec<_>>()
    };
    house.sources().flat_map(of_file).collect()
}

fn wrong(block: &Block) -> Option<String> {
    let text = block.lines.join("\n");
    if MARKS.iter().all(|mark| !text.contains(mark)) {
        return None;
    }
    let in_order =
        MARKS.iter().try_fold(0, |from, mark| Some(from + text[from..].find(mark)? + mark.len()));
    if in_order.is_none() {
        return Some(format!("a formula's docs carry {} in that order", MARKS.join(", ")));
    }
    let names_none = source_lines(block).all(|(_, text)| ids(&text).is_empty());
    names_none.then(|| format!("name the source behind {}: [id]", MARKS[0]))
}

/// The comments of a source: runs of lines with the same slashes and no code.
fn blocks(rust: &Rust) -> Vec<Block> {
    let mut blocks: Vec<Block> = Vec::new();
    let mut before = "";
    for (at, line) in rust.views.comments.iter().enumerate() {
        let has_code = rust.views.code.get(at).is_some_and(|code| !code.trim().is_empty());
        let kind = if has_code { "" } else { slashes(line) };
        let text = without_code(line).replace('\\', "");
        match blocks.last_mut().filter(|block| kind == before && !starts_anew(block, &text)) {
            Some(block) if !kind.is_empty() => block.lines.push(text),
            _ if kind.is_empty() => {}
            _ => blocks.push(Block { line: at + 1, lines: vec![text] }),
        }
        before = kind;
    }
    blocks
}

/// Whether a line starts the second formula of one comment.
fn starts_anew(block: &Block, text: &str) -> bool {
    text.contains(MARKS[0]) && block.lines.iter().any(|line| line.contains(MARKS[0]))
}

/// With what a comment line starts; nothing where there is no comment.
fn slashes(line: &str) -> &'static str {
    let line = line.trim_start();
    let starts = ["///", "//!", "//"].into_iter().find(|start| line.starts_with(start));
    starts.unwrap_or(if line.is_empty() { "" } else { "/*" })
}

/// The lines of a block from the first mark up to the second, with their numbers.
fn source_lines(block: &Block) -> impl Iterator<Item = (usize, String)> {
    let from = block.lines.iter().position(|line| line.contains(MARKS[0]));
    let rest = block.lines.iter().enumerate().skip(from.unwrap_or(usize::MAX));
    let mut is_over = false;
    rest.map_while(move |(at, line)| {
        let head = line.split(MARKS[1]).next().unwrap_or_default();
        let here = (!is_over).then(|| (block.line + at, head.to_owned()));
        is_over |= head.len() < line.len();
        here
    })
}

/// The ids in square brackets; a link to a page or to an item of the code is none.
fn ids(text: &str) -> Vec<String> {
    let opened = text.split('[').skip(1).filter_map(|rest| rest.split_once(']'));
    let plain = opened.filter(|(id, after)| is_id(id) && !after.starts_with('('));
    plain.map(|(id, _)| id.to_owned()).collect()
}

fn is_id(id: &str) -> bool {
    let is_part = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || "-._".contains(c);
    id.starts_with(|first: char| first.is_ascii_lowercase()) && id.chars().all(is_part)
}

/// The ids cited by formulas, and the ids named in any comment.
fn citations(house: &House) -> (Vec<Mention>, Vec<Mention>) {
    let (mut cited, mut named) = (Vec::new(), Vec::new());
    for (file, rust) in house.sources() {
        for block in blocks(rust) {
            cited.extend(mentions(file, source_lines(&block)));
            let all = block.lines.iter().enumerate();
            named.extend(mentions(file, all.map(|(at, line)| (block.line + at, line.clone()))));
        }
    }
    (cited, named)
}

fn mentions(file: &File, lines: impl Iterator<Item = (usize, String)>) -> Vec<Mention> {
    let of_line = |(line, text): (usize, String)| {
        let mention = move |id| Mention { path: file.path.clone(), line, id };
        ids(&text).into_iter().map(mention).collect::<Vec<_>>()
    };
    lines.flat_map(of_line).collect()
}

/// The bibliography's ids, each at its line.
fn known(house: &House) -> Vec<Mention> {
    let table = house.file(BIBLIOGRAPHY).and_then(table);
    let sources = table.as_ref().and_then(|table| table.get("source")?.as_array());
    let ids = sources.into_iter().flatten().filter_map(|source| source.get("id")?.as_str());
    ids.map(|id| mention_in(house.file(BIBLIOGRAPHY), id)).collect()
}

/// The ids that rows of data name.
fn rows(house: &House) -> Vec<Mention> {
    let tables = data_files(house).filter(|file| file.path != BIBLIOGRAPHY);
    let of_file = |file| {
        let mut found = Vec::new();
        named_sources(&Value::Table(table(file).unwrap_or_default()), false, &mut found);
        found.into_iter().map(|id| mention_in(Some(file), &id)).collect::<Vec<_>>()
    };
    tables.flat_map(of_file).collect()
}

fn data_files(house: &House) -> impl Iterator<Item = &File> {
    let is_data = |file: &&File| file.path.starts_with(DATA) && file.path.ends_with(".toml");
    house.files.iter().filter(is_data)
}

/// Files of data that cannot be read as TOML.
fn unread(house: &House) -> Vec<Miss> {
    let unread = data_files(house).filter(|file| table(file).is_none());
    unread.map(|file| Miss::of(&file.path, "cannot be read as TOML; mend it")).collect()
}

fn table(file: &File) -> Option<Table> {
    file.text.as_deref()?.parse().ok()
}

/// A mention of an id at the first line that quotes it.
fn mention_in(file: Option<&File>, id: &str) -> Mention {
    let quoted = format!("\"{id}\"");
    let at =
        |file: &File| file.lines().find(|(_, text)| text.contains(&quoted)).map(|(line, _)| line);
    let line = file.and_then(at).unwrap_or(0);
    Mention {
        path: file.map_or_else(String::new, |file| file.path.clone()),
        line,
        id: id.to_owned(),
    }
}

/// Every text under a key `source` or `sources`, however deep.
fn named_sources(value: &Value, is_source: bool, found: &mut Vec<String>) {
    match value {
        Value::String(id) if is_source => found.push(id.clone()),
        Value::Array(items) => items.iter().for_each(|item| named_sources(item, is_source, found)),
        Value::Table(table) => {
            for (key, item) in table {
                named_sources(item, ["source", "sources"].contains(&key.as_str()), found);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod planted {
    use super::{BIBLIOGRAPHY, House, check};

    const BOOK: &str = "[[source]]\nid = \"mh\"\n\n[[source]]\nid = \"tc-9\"\n";
    const ROWS: &str = "[[row]]\nland_mm = 1\nsource = \"tc-9\"\n";
    const GOOD: &str = "/// **Source** [mh] p. 3, [`Length`], [a](b)\n/// **Departs** none\n\
        /// **Error** none\n/// **Domain** all\nfn a() {}\n";

    fn told(source: &str, rows: &str, book: &str) -> Vec<(String, usize)> {
        let house = House::planted(&[
            ("crates/shop/src/a.rs", source),
            ("crates/trade/data/rows.toml", rows),
            (BIBLIOGRAPHY, book),
        ]);
        let short = |path: String| path.rsplit('/').next().unwrap_or_default().to_owned();
        check(&house).into_iter().map(|miss| (short(miss.path), miss.line)).collect()
    }

    fn at(path: &str, line: usize) -> Vec<(String, usize)> {
        vec![(path.to_owned(), line)]
    }

    #[test]
    fn whole_docs_pass_on_one_line_or_four() {
        assert_eq!(told(GOOD, ROWS, BOOK), []);
        assert_eq!(told(&GOOD.replace("\n/// **", " · **"), ROWS, BOOK), []);
        let text = format!("{GOOD}const A: &str = \"\n/// **Source**\n\";");
        assert_eq!(told(&text, ROWS, BOOK), []);
    }

    #[test]
    fn escaped_ids_count_and_inline_code_does_not() {
        assert_eq!(told(&GOOD.replace("[mh]", "\\[mh\\]"), ROWS, BOOK), []);
        assert_eq!(told(&format!("{GOOD}\n// Speak of `**Source** [x]`.\n"), ROWS, BOOK), []);
    }

    #[test]
    fn a_missing_mark_is_found() {
        for mark in ["**Source**", "**Departs**", "**Error**", "**Domain**"] {
            let source = format!("{GOOD}\n\n{}// [mh]", GOOD.replace(mark, "**Else**"));
            assert_eq!(told(&source, ROWS, BOOK), at("a.rs", 8), "{mark}");
        }
        let turned =
            GOOD.replace("Error", "E").replace("Domain", "Error").replace("**E**", "**Domain**");
        assert_eq!(told(&turned, ROWS, BOOK), at("a.rs", 1));
    }

    #[test]
    fn the_second_formula_of_one_comment_is_read_too() {
        let two = format!("{}{GOOD}", GOOD.replace("fn a() {}\n", ""));
        assert_eq!(told(&two, ROWS, BOOK), []);
        let half = format!("{}/// **Source** [mh]\n", GOOD.replace("fn a() {}\n", ""));
        assert_eq!(told(&half, ROWS, BOOK), at("a.rs", 5));
    }

    #[test]
    fn a_formula_without_a_source_is_found() {
        let source = format!("{GOOD}\n{}", GOOD.replace("[mh] p. 3", "a book"));
        assert_eq!(told(&source, ROWS, BOOK), at("a.rs", 7));
    }

    #[test]
    fn an_unknown_id_is_found_in_docs_and_rows() {
        let source = GOOD.replace("p. 3", "p. 3,\n/// [gone]");
        assert_eq!(told(&source, ROWS, BOOK), at("a.rs", 2));
        let rows = format!("{ROWS}\n[[row]]\nsources = [\"mh\", \"lost\"]\n");
        assert_eq!(told(GOOD, &rows, BOOK), at("rows.toml", 6));
    }

    #[test]
    fn an_unused_source_is_found() {
        let book = format!("{BOOK}\n[[source]]\nid = \"idle\"\n");
        assert_eq!(told(GOOD, ROWS, &book), at("bibliography.toml", 8));
    }

    #[test]
    fn data_that_is_no_toml_is_found() {
        assert_eq!(told(&GOOD.replace("[mh]", "[mh] [tc-9]"), "[[", BOOK), at("rows.toml", 0));
    }
}
