//! What is wrong with a file, said so that the person at the bench can put it right.

use std::fmt;

use geometry::quantity::shortened;

/// One thing wrong with a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileProblem {
    /// The file's name as it was given.
    pub file: String,
    /// The line, counted from 1; none where the whole file is meant.
    pub line: Option<usize>,
    /// The key with its sections, as in `cutter.teeth`; empty where the whole file is meant.
    pub key: String,
    /// The same with the place in every list, as in `axis[2].vernier`, for a form that has a field
    /// for each.
    pub path: String,
    /// The value as it is written in the file; none where there is none.
    pub value: Option<String>,
    /// What is wrong.
    pub message: String,
    /// What would be right, as an instruction: "write …".
    pub right: String,
}

/// Everything wrong with one file, in the order of its lines; never empty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileProblems {
    problems: Vec<FileProblem>,
}

impl FileProblems {
    pub(super) fn in_order_of_lines(mut problems: Vec<FileProblem>) -> Self {
        problems.sort_by_key(|problem| problem.line);
        for problem in &mut problems {
            problem.message = fitted(&problem.message);
            problem.right = fitted(&problem.right);
        }
        // A parser that loses its way can trip over the same place again and again.
        problems.dedup();
        Self { problems }
    }

    /// The problems in the order of their lines.
    pub fn problems(&self) -> &[FileProblem] {
        &self.problems
    }
}

impl fmt::Display for FileProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut said = self.file.clone();
        if let Some(line) = self.line {
            said += &format!(":{line}");
        }
        said += ": ";
        if !self.key.is_empty() {
            said += &self.key;
            if let Some(value) = &self.value {
                said += &format!(" = {value}");
            }
            said += ": ";
        }
        f.write_str(&plain(&format!("{said}{}; {}", self.message, self.right)))
    }
}

/// The longest part of a message as it is shown, in bytes. A part that repeats what is written in a
/// file is as long as that, and longer where signs are written out.
const PART_BYTES_MAX: usize = 600;

/// A part of a message that is no longer than that.
fn fitted(part: &str) -> String {
    let shown = plain(part);
    if shown.len() <= PART_BYTES_MAX {
        return part.to_owned();
    }
    // A sign may take several bytes, so the count of signs is halved until they fit.
    let counts = std::iter::successors(Some(PART_BYTES_MAX), |count| Some(count / 2));
    let mut cut = counts.map(|count| shortened(&shown, count));
    cut.find(|cut| cut.len() <= PART_BYTES_MAX).unwrap_or_default()
}

/// A line with whatever would move a terminal's cursor written out, for it may come from a file.
pub(crate) fn plain(line: &str) -> String {
    if line.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        return line.to_owned();
    }
    let mut plain = String::with_capacity(line.len());
    for letter in line.chars() {
        match letter {
            letter if letter.is_control() => plain.extend(letter.escape_default()),
            letter => plain.push(letter),
        }
    }
    plain
}

impl fmt::Display for FileProblems {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.problems.iter().enumerate() {
            let separator = if index == 0 { "" } else { "\n" };
            write!(f, "{separator}{problem}")?;
        }
        Ok(())
    }
}

impl std::error::Error for FileProblem {}

impl std::error::Error for FileProblems {}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_of_a_file_moves_the_cursor() {
        assert_eq!(plain("a\u{1b}[2J\rb\u{7}½"), "a\\u{1b}[2J\\rb\\u{7}½");
    }

    #[test]
    fn a_part_fits_however_its_signs_are_written() {
        assert_eq!(fitted("write a length"), "write a length");
        for sign in ["x", "\0", "½", "𝄞"] {
            let part = fitted(&sign.repeat(1_000));
            assert!(plain(&part).len() <= PART_BYTES_MAX && part.contains('…'), "{part}");
        }
    }
}
