//! What is tried: every reader of the program, and what must hold of it. It is the same as in the
//! smoke run of the tests, taken in from there.

#[path = "../../crates/exchange/tests/common/drawer.rs"]
mod drawer;
#[path = "../../crates/toothrest/tests/trials/each.rs"]
mod each;
#[path = "../../crates/toothrest/tests/trials/forms.rs"]
mod forms;
#[path = "../../crates/toothrest/tests/trials/kept.rs"]
mod kept;
#[path = "../../crates/toothrest/tests/trials/mutate.rs"]
mod mutate;
#[path = "../../crates/toothrest/tests/trials/pages.rs"]
mod pages;
#[path = "../../crates/toothrest/tests/trials/seeds.rs"]
mod seeds;
#[path = "../../crates/toothrest/tests/trials/sent.rs"]
mod sent;
#[path = "../../crates/exchange/tests/common/workbook.rs"]
mod workbook;

use std::sync::{LazyLock, Mutex};

use each::{TRIALS, Trial};
use mutate::Draws;

/// The reader that is tried; none where it is the pages.
static TRIAL: LazyLock<Option<&'static Trial>> = LazyLock::new(|| {
    let name = std::env::var("TRIAL").expect("TRIAL names what is tried");
    let found = TRIALS.iter().find(|trial| trial.name == name);
    assert!(found.is_some() || name == "pages", "there is no trial {name:?}");
    found
});

static PAGES: LazyLock<Mutex<pages::Pages>> = LazyLock::new(|| Mutex::new(pages::Pages::open()));

/// Tries the reader that `TRIAL` names.
///
/// # Errors
/// The promise that it broke.
pub fn run(bytes: &[u8]) -> Result<(), String> {
    match *TRIAL {
        Some(trial) => (trial.run)(bytes),
        None => PAGES.lock().expect("nobody stopped").run(bytes),
    }
}

/// What it reads as it should be.
#[must_use]
pub fn seeds() -> Vec<Vec<u8>> {
    match *TRIAL {
        Some(trial) => trial.seeds(),
        None => PAGES.lock().expect("nobody stopped").seeds(),
    }
}

/// The words that sound files are made of.
#[must_use]
pub fn words() -> Vec<Vec<u8>> {
    mutate::words_of(&seeds())
}

/// Spoils what there is, one thing after another, the same at every run.
pub struct Spoiler {
    draws: Draws,
    seeds: Vec<Vec<u8>>,
    words: Vec<Vec<u8>>,
}

impl Spoiler {
    /// One that spoils what the reader reads as it should be, and what was reached beside it.
    #[must_use]
    pub fn of(reached: Vec<Vec<u8>>) -> Self {
        let (words, seeds) = (words(), [seeds(), reached].concat());
        Self { draws: Draws::of(20_261_130), seeds, words }
    }

    /// The next spoilt file.
    pub fn spoilt(&mut self) -> Vec<u8> {
        mutate::spoilt(&mut self.draws, &self.seeds, &self.words)
    }
}
