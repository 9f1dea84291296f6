//! What the book keeps: bodies of entries, and lines of its exports.

use book::{Stored, decode, encode};
use shop::book::{Event, EventKind, SubjectKind};
use shop::record::Named;

use super::each::{Outcome, is_short};

/// The first line names the kind and the version, the rest is the body.
pub(crate) fn body(bytes: &[u8]) -> Outcome {
    let text = String::from_utf8_lossy(bytes);
    let (head, body) = text.split_once('\n').unwrap_or((&text, ""));
    let (kind, version) = head.rsplit_once(' ').unwrap_or((head, "1"));
    let version = version.parse().unwrap_or(1);
    keeps(&Stored { kind: kind.to_owned(), version, body: body.to_owned() })
}

/// What is kept of a body is what came out of it, and what cannot be read stays as it came.
fn keeps(stored: &Stored) -> Outcome {
    let event = decode(stored);
    let again = encode(&event);
    if let Event::Foreign(foreign) = &event {
        let is_same = again == *stored && !foreign.why.is_empty();
        return if is_same { Ok(()) } else { Err(format!("{stored:?} became {again:?}")) };
    }
    if decode(&again) != event {
        return Err(format!("{stored:?} became {again:?}"));
    }
    match event.check() {
        Ok(()) => Ok(()),
        Err(error) => is_short(&error.to_string()),
    }
}

/// The first byte chooses the file of an export, the rest is one of its lines, or its manifest.
pub(crate) fn line(bytes: &[u8]) -> Outcome {
    let text = String::from_utf8_lossy(bytes);
    let mut letters = text.chars();
    let chosen = letters.next().map_or(0, |letter| u32::from(letter).wrapping_sub(97)) as usize
        % (SubjectKind::ALL.len() + 1);
    let told = match SubjectKind::ALL.get(chosen) {
        Some(&kind) => book::files::entry_of_line(kind, letters.as_str()).map(|_| ()),
        None => book::files::entries_of_manifest(letters.as_str()).map(|_| ()),
    };
    match told {
        Ok(()) => Ok(()),
        Err(why) if why.is_empty() => Err("refused without a word".to_owned()),
        Err(why) => is_short(&why),
    }
}

/// A body of each kind as small as it can be, beside the samples of the book's own tests.
pub(crate) fn kinds() -> Vec<String> {
    EventKind::ALL.iter().map(|kind| format!("{} 1\n{{}}", kind.name())).collect()
}
