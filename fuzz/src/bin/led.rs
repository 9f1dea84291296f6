//! Every reader of the program, tried for as long as one likes with input that is led by what the
//! input before it reached. `fuzz/run` starts this.
#![no_main]

use std::fs;
use std::path::Path;

use libfuzzer_sys::fuzz_target;

/// Writes what to begin from, and the words it is made of, into the folder that `SEEDS` names.
fn write_seeds(folder: &Path) {
    let seeds = fuzz::seeds();
    fs::create_dir_all(folder.join("seeds")).expect("a folder for seeds");
    for (at, seed) in seeds.iter().enumerate() {
        fs::write(folder.join(format!("seeds/{at:03}")), seed).expect("a seed is written");
    }
    let word = |word: Vec<u8>| {
        let bytes: String = word.iter().map(|byte| format!("\\x{byte:02x}")).collect();
        format!("\"{bytes}\"\n")
    };
    let words: String = fuzz::words().into_iter().map(word).collect();
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
        if let Err(broken) = fuzz::run(bytes) {
            panic!("{broken}");
        }
    }
);
