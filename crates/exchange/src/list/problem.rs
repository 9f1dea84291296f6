//! What is wrong with a list, said so that whoever wrote it can put it right.

use std::fmt;

use geometry::quantity::shortened;

/// The longest part of a problem, in characters: cells may be longer than anybody reads.
const PART_CHARACTERS_MAX: usize = 300;

/// One thing wrong with a list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListProblem {
    /// The line of the file or the row of the sheet, counted from 1; none where all is meant.
    pub line: Option<usize>,
    /// The heading of the column, as it is written; empty where none is meant.
    pub column: String,
    /// What is written there.
    pub value: String,
    /// What is wrong.
    pub message: String,
    /// What would be right, as an instruction.
    pub right: String,
}

/// A problem of the whole list.
pub(super) fn problem(message: impl Into<String>, right: impl Into<String>) -> ListProblem {
    ListProblem {
        line: None,
        column: String::new(),
        value: String::new(),
        message: message.into(),
        right: right.into(),
    }
}

impl ListProblem {
    /// The same with no part longer than a person reads.
    pub(super) fn short(self) -> Self {
        let short = |text: &str| shortened(text, PART_CHARACTERS_MAX);
        Self {
            line: self.line,
            column: short(&self.column),
            value: short(&self.value),
            message: short(&self.message),
            right: short(&self.right),
        }
    }
}

impl fmt::Display for ListProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(line) = self.line {
            write!(f, "line {line}: ")?;
        }
        if !self.column.is_empty() {
            write!(f, "column \"{}\"", self.column)?;
            if !self.value.is_empty() {
                write!(f, " = {}", self.value)?;
            }
            f.write_str(": ")?;
        }
        write!(f, "{}; {}", self.message, self.right)
    }
}

impl std::error::Error for ListProblem {}
