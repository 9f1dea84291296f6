//! What can go wrong, and the exit code that says so.

use shop::ShopError;
use shop::check::Question;
use thiserror::Error;

use crate::files::{FileProblems, Place, locate};

/// What each exit code says. The help, the man pages and docs/MESSAGES.md have it from here.
pub(super) const EXIT_CODES: [(u8, &str); 3] = [
    (0, "done; a verdict of scrap is an answer too"),
    (
        1,
        "the surroundings failed: an answer, a picture or a PDF could not be written, or the book \
         cannot be reached or has faults",
    ),
    (
        2,
        "refused: a file or an argument is missing or wrong, readings or a list are asked about, \
         or the work is not to be done; the message says what would be right",
    ),
];

/// Why a command gives no answer.
#[derive(Debug, Error)]
pub(crate) enum Failure {
    /// Something is wrong in files.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Files(Vec<FileProblems>),
    /// A value that stands in a file cannot be worked with.
    #[error("{file}:{line}: {key} = {value}: {reason}")]
    Value {
        /// The file.
        file: String,
        /// The line in it.
        line: usize,
        /// The key, with its section.
        key: String,
        /// The value as written.
        value: String,
        /// What is wrong and what would be right.
        reason: String,
    },
    /// A whole file cannot be worked with.
    #[error("{file}: {reason}")]
    File {
        /// The file.
        file: String,
        /// What is wrong and what would be right.
        reason: String,
    },
    /// Readings can hardly be meant: nothing was weighed.
    #[error("{}", asked(.file, .questions, .stands))]
    Asked {
        /// The file of readings.
        file: String,
        /// What is in doubt.
        questions: Vec<Question>,
        /// The line with which the file says that its readings stand.
        stands: &'static str,
    },
    /// The same, as the answer in JSON that it is to another program.
    #[error("{0}")]
    AskedInJson(String),
    /// The work was refused or the records do not fit each other.
    #[error(transparent)]
    Shop(#[from] ShopError),
    /// An argument cannot be used.
    #[error("{argument} = {value}: {message}")]
    Argument {
        /// Which one.
        argument: &'static str,
        /// What was given.
        value: String,
        /// What is wrong and what would be right.
        message: String,
    },
    /// The trade tables or the shop's own are unsound.
    #[error("{file}: {message}")]
    Tables {
        /// The file, or what stands for the bundled one.
        file: String,
        /// What is wrong.
        message: String,
    },
    /// Something could not be written.
    #[error("{what}: {source}{}", super::file::next(.source))]
    Write {
        /// What was to be written.
        what: String,
        /// Why it was not.
        source: std::io::Error,
    },
    /// Files that were to go into the book do not fit.
    #[error("{0}")]
    Unfit(String),
    /// The book has faults.
    #[error(
        "{book} has faults; keep it as it is and restore the last backup\n{}",
        .faults.join("\n")
    )]
    Faults {
        /// Where it lies.
        book: String,
        /// What is wrong with it.
        faults: Vec<String>,
    },
    /// The same, as the answer in JSON that it is to another program.
    #[error("{0}")]
    FaultsInJson(String),
    /// The program cannot work here at all.
    #[error("the program cannot begin to work: {0}")]
    Runtime(std::io::Error),
    /// An answer could not be put into JSON.
    #[error("the answer could not be written as JSON: {0}")]
    Json(#[from] serde_json::Error),
}

impl From<FileProblems> for Failure {
    fn from(problems: FileProblems) -> Self {
        Self::Files(vec![problems])
    }
}

impl Failure {
    /// A complaint about a key of a file, with its line where the key stands there.
    pub(super) fn about(file: &str, text: &str, key: &str, reason: String) -> Self {
        let file = file.to_owned();
        match locate(text, key) {
            Some(Place { line, value }) if !value.is_empty() => {
                Self::Value { file, line, key: key.to_owned(), value, reason }
            }
            _ => Self::File { file, reason: format!("{key}: {reason}") },
        }
    }

    /// 2 where the input is to blame, 1 where the surroundings are.
    pub(super) const fn exit_code(&self) -> u8 {
        match self {
            Self::Shop(ShopError::Store { .. }) => 1,
            Self::Files(_)
            | Self::Value { .. }
            | Self::File { .. }
            | Self::Asked { .. }
            | Self::AskedInJson(_)
            | Self::Shop(_)
            | Self::Argument { .. }
            | Self::Tables { .. }
            | Self::Unfit(_) => 2,
            Self::Faults { .. } | Self::FaultsInJson(_) => 1,
            Self::Write { .. } | Self::Runtime(_) | Self::Json(_) => 1,
        }
    }
}

/// Each question on a line of its own, and how to go on.
fn asked(file: &str, questions: &[Question], stands: &str) -> String {
    let line = |one: &Question| format!("{file}: {}: {}; {}", one.about, one.doubt, one.ask);
    let mut lines: Vec<String> = questions.iter().map(line).collect();
    lines.push(format!(
        "Nothing was weighed. Mend {file} and check again; or look again, and where the readings \
         stand as they are, write \"{stands}\" at its head."
    ));
    lines.join("\n")
}
