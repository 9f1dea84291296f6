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

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};

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

/// Stands for standard input where a file is named, and what it is then called.
const INPUT: &str = "-";
const INPUT_NAME: &str = "standard input";

/// Whether standard input was read: it can be only once.
static INPUT_IS_READ: AtomicBool = AtomicBool::new(false);

/// Loads a file, or standard input where it is named `-`, and reads it with one of the readers of
/// this module, which see its name and text.
///
/// # Errors
/// What the reader finds wrong, or one problem without a line where the file cannot be loaded.
pub fn load<T>(
    path: &Path,
    read: impl FnOnce(&str, &str) -> Result<T, FileProblems>,
) -> Result<T, FileProblems> {
    let file = if is_input(path) { INPUT_NAME.to_owned() } else { path.display().to_string() };
    match text(path) {
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

/// The longest text that is loaded: a file without an end would fill the memory.
const LOADED_BYTES_MAX: u64 = 32_000_000;

fn text(path: &Path) -> io::Result<String> {
    let most = LOADED_BYTES_MAX + 1;
    let mut text = String::new();
    let read = match is_input(path) {
        true => input(most)?.read_to_string(&mut text)?,
        false => File::open(path)?.take(most).read_to_string(&mut text)?,
    };
    if read as u64 == most {
        let words = format!("it is longer than {} MB", LOADED_BYTES_MAX / 1_000_000);
        return Err(io::Error::other(words));
    }
    Ok(text)
}

/// Whether a name stands for standard input.
pub(crate) fn is_input(path: &Path) -> bool {
    path == Path::new(INPUT)
}

/// Standard input, so much of it at most; it can be had once.
pub(crate) fn input(most: u64) -> io::Result<impl Read> {
    if INPUT_IS_READ.swap(true, Ordering::SeqCst) {
        return Err(io::Error::other("it was read for another file; name \"-\" once"));
    }
    Ok(io::stdin().take(most))
}
