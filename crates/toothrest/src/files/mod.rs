//! The files people keep: cutters, wear, histories, machines, wheels and settings as TOML, bench
//! readings as TOML or CSV.
//!
//! A file can be opened in any editor, so a reader says what is wrong in the words of whoever
//! wrote it: the file, the line, the key, the value, what is wrong and what would be right. It
//! collects everything wrong in one reading. The shapes of files live here only; what comes out
//! are the sound records of `shop`; `write` turns those into such files again.

mod axis;
mod control;
mod cutter;
mod history;
mod holding;
mod labels;
mod ledger;
mod locate;
mod machine;
mod prices;
mod problem;
mod reading;
mod readings;
mod section;
mod setting;
mod source;
mod speed;
mod spindle;
mod syntax;
mod template;
mod value;
mod wear;
mod wheel;
mod write;

use std::path::Path;

pub use control::read_control;
pub use cutter::read_cutter;
pub use history::read_history;
pub use labels::read_labels;
pub use locate::{Place, locate};
pub use machine::read_machine;
pub use prices::read_prices;
pub(crate) use problem::plain;
pub use problem::{FileProblem, FileProblems};
pub use readings::read_readings;
pub use setting::{GrindsWith, SettingCutter, SettingFile, SettingWheel, Settings, read_setting};
pub(crate) use template::{Part, PartKind, Sheet};
pub use template::{TemplateForm, readings_template};
pub use wear::read_wear;
pub use wheel::read_wheels;
pub(crate) use write::length_words;
pub use write::{cutter_text, history_text, machine_text, readings_text, wear_text, wheel_text};

/// Loads a file and reads it with one of the readers of this module, which see its name and text.
///
/// # Errors
/// What the reader finds wrong, or one problem without a line where the file cannot be loaded.
pub fn load<T>(
    path: &Path,
    read: impl FnOnce(&str, &str) -> Result<T, FileProblems>,
) -> Result<T, FileProblems> {
    let file = path.display().to_string();
    match std::fs::read_to_string(path) {
        Ok(text) => read(&file, &text),
        Err(error) => Err(FileProblems::in_order_of_lines(vec![FileProblem {
            file,
            line: None,
            key: String::new(),
            path: String::new(),
            value: None,
            message: format!("cannot be loaded: {error}"),
            right: "name a text file that can be opened".to_owned(),
        }])),
    }
}
