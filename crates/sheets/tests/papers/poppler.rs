//! A general reader of PDF files, run from the command line.

use std::path::PathBuf;
use std::process::Command;
use std::sync::atomic::{AtomicU32, Ordering};

use kurbo::Rect;

/// Points in a millimetre.
const POINTS_PER_MM: f64 = 72.0 / 25.4;

/// A file that the reader can open; it goes away with it.
pub(crate) struct Opened {
    path: PathBuf,
}

impl Drop for Opened {
    fn drop(&mut self) {
        let _ = std::fs::remove_file(&self.path);
    }
}

/// A word with the paper it covers, in millimetres.
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) page: usize,
    pub(crate) area: Rect,
}

impl Opened {
    pub(crate) fn of(name: &str, bytes: &[u8]) -> Self {
        static COUNT: AtomicU32 = AtomicU32::new(0);
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(format!("paper-{count}.pdf"));
        std::fs::write(&path, bytes).unwrap();
        if let Some(folder) = std::env::var_os("PAPERS_TO") {
            let name: String =
                name.chars().map(|l| if l.is_ascii_alphanumeric() { l } else { '-' }).collect();
            std::fs::write(PathBuf::from(folder).join(format!("{name}.pdf")), bytes).unwrap();
        }
        Self { path }
    }

    fn run(&self, program: &str, before: &[&str], after: &[&str]) -> Vec<u8> {
        let output = Command::new(program).args(before).arg(&self.path).args(after).output();
        let output = output.unwrap_or_else(|error| {
            panic!("{program}: {error}; install Debian's package poppler-utils, as ./test does")
        });
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success() && said.is_empty(), "{program}: {said}");
        output.stdout
    }

    fn told(&self, program: &str, before: &[&str], after: &[&str]) -> String {
        String::from_utf8(self.run(program, before, after)).unwrap()
    }

    /// The text as somebody would copy it.
    pub(crate) fn text(&self) -> String {
        self.told("pdftotext", &["-layout"], &["-"])
    }

    /// What the file says of itself, `Key: value` on each line.
    pub(crate) fn info(&self, key: &str) -> String {
        let info = self.told("pdfinfo", &[], &[]);
        let line = info.lines().find(|line| line.starts_with(&format!("{key}:")));
        let value = line.and_then(|line| line.split_once(':'));
        value.map(|(_, value)| value.trim().to_owned()).unwrap_or_default()
    }

    /// Each face with whether it is embedded, a subset and has a map to Unicode.
    pub(crate) fn fonts(&self) -> Vec<(String, bool)> {
        let table = self.told("pdffonts", &[], &[]);
        let font = |line: &str| {
            let words: Vec<&str> = line.split_whitespace().collect();
            let flags = &words[words.len() - 5..words.len() - 2];
            (words[0].to_owned(), flags.iter().all(|flag| *flag == "yes"))
        };
        table.lines().skip(2).map(font).collect()
    }

    /// Every word with its place.
    pub(crate) fn words(&self) -> Vec<Word> {
        let html = self.told("pdftotext", &["-bbox"], &["-"]);
        let mut page = 0;
        let mut words = Vec::new();
        for line in html.lines().map(str::trim) {
            if line.starts_with("<page ") {
                page += 1;
            }
            let Some(rest) = line.strip_prefix("<word ") else { continue };
            let of = |key: &str| -> f64 {
                let from = rest.find(&format!("{key}=\"")).unwrap() + key.len() + 2;
                let value = &rest[from..from + rest[from..].find('"').unwrap()];
                value.parse::<f64>().unwrap() / POINTS_PER_MM
            };
            let area = Rect::new(of("xMin"), of("yMin"), of("xMax"), of("yMax"));
            let text = &rest[rest.find('>').unwrap() + 1..rest.rfind("</word>").unwrap()];
            let text = text.replace("&lt;", "<").replace("&gt;", ">").replace("&quot;", "\"");
            words.push(Word { text: text.replace("&amp;", "&"), page, area });
        }
        words
    }

    /// One page as grey dots, row by row, with the width and the height of the picture.
    pub(crate) fn dots(&self, page: u32, per_inch: u32) -> (Vec<u8>, u32, u32) {
        let (page, per_inch) = (page.to_string(), per_inch.to_string());
        let before = ["-gray", "-r", &per_inch, "-f", &page, "-l", &page];
        grey(&self.run("pdftoppm", &before, &[]))
    }
}

/// A picture in the form P5 of netpbm.
fn grey(bytes: &[u8]) -> (Vec<u8>, u32, u32) {
    let mut heads = Vec::new();
    let mut at = 0;
    while heads.len() < 4 {
        let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
        heads.push(std::str::from_utf8(&bytes[at..end]).unwrap());
        at = end + 1;
    }
    assert_eq!((heads[0], heads[3]), ("P5", "255"));
    (bytes[at..].to_vec(), heads[1].parse().unwrap(), heads[2].parse().unwrap())
}
