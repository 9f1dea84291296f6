//! Everything into the book: all of it, or nothing and a list of what does not fit.

use std::collections::BTreeMap;
use std::fmt;
use std::fs::{self, File};
use std::io::{BufRead, BufReader};
use std::path::Path;

use sha2::{Digest, Sha256};
use shop::ShopError;
use shop::book::{Entry, Event, Latest, Subject};
use thiserror::Error;

use super::line::{self, Line};
use super::manifest::{self, Part};
use super::{Counted, Tell};
use crate::book::Book;
use crate::engine::{Fault, Work};
use crate::sum::shown;
use crate::{sql, write};

/// What the book is doing, for its messages.
const IMPORT: &str = "be filled";

/// After so many problems the rest is not looked at.
const PROBLEMS_MAX: usize = 20;

/// Something that does not fit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// In which file of the folder.
    pub file: String,
    /// In which line, from 1; 0 where the whole file is meant.
    pub line: u64,
    /// What is wrong, and what would be right.
    pub what: String,
}

impl fmt::Display for Problem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => write!(f, "{}: {}", self.file, self.what),
            line => write!(f, "{}:{line}: {}", self.file, self.what),
        }
    }
}

/// Why nothing was imported.
#[derive(Debug, Error)]
pub enum ImportError {
    /// The files do not fit.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Refused(Vec<Problem>),
    /// The book failed.
    #[error(transparent)]
    Book(#[from] ShopError),
}

/// Reads a folder that [`export`](super::export()) wrote into a book, and tells how many entries
/// are read. Subjects that are in the book already are refused.
///
/// # Errors
/// `Refused` with what does not fit, by file and line; `Book` where the book fails. Either way the
/// book is as it was.
pub async fn import(book: &Book, folder: &Path, tell: Tell<'_>) -> Result<Counted, ImportError> {
    let text = fs::read_to_string(folder.join(manifest::NAME));
    let text = text.map_err(|error| whole(manifest::NAME, error.to_string()))?;
    let parts = manifest::read(&text).map_err(|what| whole(manifest::NAME, what))?;
    let told = |fault: Fault| ImportError::Book(fault.told(IMPORT));
    let work = book.engine.begin().await.map_err(told)?;
    let mut read = Reading {
        work,
        refers: BTreeMap::new(),
        counted: Counted::default(),
        is_stuck: false,
        of: parts.iter().fold(0, |sum, part| part.entries.saturating_add(sum)),
        tell,
    };
    let mut problems = Vec::new();
    for part in &parts {
        problems.extend(read.part(folder, part).await.map_err(told)?);
        if problems.len() >= PROBLEMS_MAX || read.is_stuck {
            break;
        }
    }
    if problems.is_empty() {
        problems = read.missing().await.map_err(told)?;
    }
    if !problems.is_empty() {
        problems.truncate(PROBLEMS_MAX);
        return Err(ImportError::Refused(problems));
    }
    read.work.commit().await.map_err(told)?;
    Ok(read.counted)
}

fn whole(file: &str, what: String) -> ImportError {
    ImportError::Refused(vec![Problem { file: file.to_owned(), line: 0, what }])
}

/// An import on its way.
struct Reading<'a> {
    work: Work,
    /// What is spoken of, and where for the first time.
    refers: BTreeMap<Subject, (String, u64)>,
    counted: Counted,
    /// The engine has given the transaction up, as PostgreSQL does where a number is taken.
    is_stuck: bool,
    /// How many entries there are by the manifest.
    of: u64,
    tell: Tell<'a>,
}

/// One file on its way.
struct Within {
    file: String,
    /// The history that is being read, each entry with its line.
    history: Vec<(u64, Line)>,
    problems: Vec<Problem>,
}

impl Within {
    fn add(&mut self, line: u64, what: impl Into<String>) {
        self.problems.push(Problem { file: self.file.clone(), line, what: what.into() });
    }
}

impl Reading<'_> {
    async fn part(&mut self, folder: &Path, part: &Part) -> Result<Vec<Problem>, Fault> {
        let file = part.file();
        let mut within = Within { file, history: Vec::new(), problems: Vec::new() };
        let mut lines = match File::open(folder.join(&within.file)) {
            Ok(file) => BufReader::new(file),
            Err(error) => {
                within.add(0, error.to_string());
                return Ok(within.problems);
            }
        };
        let (mut digest, mut number, mut text) = (Sha256::new(), 0, String::new());
        while within.problems.len() < PROBLEMS_MAX && !self.is_stuck {
            text.clear();
            match lines.read_line(&mut text) {
                Ok(0) => break,
                Ok(_) => number += 1,
                Err(error) => {
                    within.add(number + 1, error.to_string());
                    return Ok(within.problems);
                }
            }
            digest.update(text.as_bytes());
            self.line(part, &mut within, number, text.trim_end()).await?;
        }
        self.history(&mut within).await?;
        if within.problems.is_empty() {
            check_whole(part, number, &shown(digest), &mut within);
        }
        Ok(within.problems)
    }

    async fn line(
        &mut self,
        part: &Part,
        within: &mut Within,
        number: u64,
        text: &str,
    ) -> Result<(), Fault> {
        match line::read(part.kind, text) {
            Ok(read) => {
                let last = within.history.last();
                if last.is_some_and(|(_, last)| last.entry.subject != read.entry.subject) {
                    self.history(within).await?;
                }
                within.history.push((number, read));
            }
            Err(what) => within.add(number, what),
        }
        Ok(())
    }

    /// Writes one history, unless something was wrong already: then it is only looked at.
    async fn history(&mut self, within: &mut Within) -> Result<(), Fault> {
        let history = std::mem::take(&mut within.history);
        let entries: Vec<Entry> = history.iter().map(|(_, line)| line.entry.clone()).collect();
        let Some(latest) = Latest::of(&entries) else { return Ok(()) };
        let found = wrong(&history, &latest);
        for (line, what) in found {
            within.add(line, what);
        }
        if !within.problems.is_empty() {
            return Ok(());
        }
        let line = history.first().map_or(0, |(line, _)| *line);
        if let Err(fault) = write::add_subject(&mut self.work, &latest).await {
            self.is_stuck = matches!(fault, Fault::Shop(ShopError::Invalid { .. }));
            within.add(line, refused(fault)?);
            return Ok(());
        }
        write::set_words(&mut self.work, &latest, None).await?;
        for (line, Line { entry, stored }) in history {
            for subject in entry.event.refers() {
                self.refers.entry(subject).or_insert_with(|| (within.file.clone(), line));
            }
            write::add_entry(&mut self.work, &entry, stored).await?;
            self.counted.entries += 1;
        }
        self.counted.subjects += 1;
        (self.tell)(self.counted.entries, self.of);
        Ok(())
    }

    /// What is spoken of and stands nowhere.
    async fn missing(&mut self) -> Result<Vec<Problem>, Fault> {
        let mut problems = Vec::new();
        for (subject, (file, line)) in &self.refers {
            if self.work.rows(sql::IS_THERE, write::named(subject)).await?.is_empty() {
                let what = ShopError::not_in_book(subject).to_string();
                problems.push(Problem { file: file.clone(), line: *line, what });
            }
        }
        Ok(problems)
    }
}

/// The shop's own refusal in words; an engine's failure goes on.
fn refused(fault: Fault) -> Result<String, Fault> {
    match fault {
        Fault::Shop(ShopError::Conflict { what, .. }) => {
            Ok(format!("{what} is in the book already, or stands here twice"))
        }
        Fault::Shop(error) => Ok(error.to_string()),
        failure => Err(failure),
    }
}

/// What is wrong with a history, by line. What cannot be read is taken as it stands.
fn wrong(history: &[(u64, Line)], latest: &Latest) -> Vec<(u64, String)> {
    let mut wrong = Vec::new();
    for ((line, read), expected) in history.iter().zip(1..) {
        let Entry { number, event, .. } = &read.entry;
        let fits = latest.remarks.iter().find(|remark| remark.entry == *number);
        if *number != expected {
            wrong.push((*line, format!("number: is {number}; {expected} comes next here")));
        } else if let Event::Foreign(foreign) = event {
            let is_known = crate::body::is_known(&foreign.kind, foreign.version);
            wrong.extend(is_known.then(|| (*line, foreign.why.clone())));
        } else if let Err(error) = event.check() {
            wrong.push((*line, error.to_string()));
        } else if let Some(remark) = fits {
            wrong.push((*line, remark.what.clone()));
        } else {
            let odd = crate::body::oddities(&read.stored);
            wrong.extend(odd.into_iter().map(|what| (*line, what)));
        }
    }
    wrong
}

/// Whether the file is as long and as it was when it was exported.
fn check_whole(part: &Part, lines: u64, digest: &str, within: &mut Within) {
    if lines != part.entries {
        within.add(0, format!("{lines} entries, but the manifest counts {}", part.entries));
    } else if part.sha256.as_deref().is_some_and(|sha256| sha256 != digest) {
        let what = "is not as it was exported; where you changed it on purpose, take its sha256 \
                    out of the manifest";
        within.add(0, what);
    }
}
