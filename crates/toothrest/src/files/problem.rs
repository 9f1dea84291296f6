//! What is wrong with a file, said so that the person at the bench can put it right.

use std::fmt;

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
        f.write_str(&self.file)?;
        if let Some(line) = self.line {
            write!(f, ":{line}")?;
        }
        f.write_str(": ")?;
        if !self.key.is_empty() {
            f.write_str(&self.key)?;
            if let Some(value) = &self.value {
                write!(f, " = {value}")?;
            }
            f.write_str(": ")?;
        }
        write!(f, "{}; {}", self.message, self.right)
    }
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
