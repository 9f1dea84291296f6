//! Every reader of the program, tried for as long as one likes with input that is led by what the
//! input before it reached. `fuzz/run` starts this; what is tried, and what must hold, is the same
//! as in the smoke run of the tests.
#![no_main]

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
#[path = "../../crates/exchange/tests/common/workbook.rs"]
mod workbook;

use std::fs;
use std::path::Path;
use std::sync::{LazyLock, Mutex};

use libfuzzer_sys::fuzz_target;

use each::{Outcome, TRIALS, Trial};

/// The reader that is tried; none where it is the pages.
static TRIAL: LazyLock<Option<&'static Trial>> = LazyLock::new(|| {
    let name = std::env::var("TRIAL").expect("TRIAL names what is tried");
    let found = TRIALS.iter().find(|trial| trial.name == name);
    assert!(found.is_some() || name == "pages", "there is no trial {name:?}");
    found
});

static PAGES: LazyLock<Mutex<pages::Pages>> = LazyLock::new(|| Mutex::new(pages::Pages::open()));

fn run(bytes: &[u8]) -> Outcome {
    match *TRIAL {
        Some(trial) => (trial.run)(bytes),
        None => PAGES.lock().expect("nobody stopped").run(bytes),
    }
}

/// Writes what to begin from, and the words it is made of, into the folder that `SEEDS` names.
fn write_seeds(folder: &Path) {
    let seeds = match *TRIAL {
        Some(trial) => trial.seeds(),
        None => PAGES.lock().expect("nobody stopped").seeds(),
    };
    fs::create_dir_all(folder.join("seeds")).expect("a folder for seeds");
    for (at, seed) in seeds.iter().enumerate() {
        fs::write(folder.join(format!("seeds/{at:03}")), seed).expect("a seed is written");
    }
    let word = |word: Vec<u8>| {
        let bytes: String = word.iter().map(|byte| format!("\\x{byte:02x}")).collect();
        format!("\"{bytes}\"\n")
    };
    let words: String = mutate::words_of(&seeds).into_iter().map(word).collect();
    fs::write(folder.join("words"), words).expect("the words are written");
}

fuzz_target!(
    init: {
        if let Some(folder) = std::env::var_os("SEEDS") {
            write_seeds(Path::new(&folder));
            std::process::exit(0);
        }
    },
    |bytes: &[u8]| {
        if let Err(broken) = run(bytes) {
            panic!("{broken}");
        }
    }
);
