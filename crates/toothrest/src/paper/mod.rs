//! From the records of the shop to the sheets that are printed, for the command line and for the
//! bench alike.

mod of_cutter;
mod stocks;

use geometry::System;
use sha2::{Digest, Sha256};
use sheets::paper::{
    Elsewhere, Imprint, OtherPages, Pages, Paper, ball_setup_sheet, corrective_setup_sheet,
    end_setup_sheet, face_setup_sheet, not_planned_sheet, setup_sheet,
};
use shop::plan::{CorrectivePlan, RegrindPlan};
use shop::record::Cutter;

use crate::cli::{Beside, Part};
use crate::wire::Inputs;

pub(crate) use of_cutter::{card_line, delivered, ground_before, life, tag, unsettled};
pub(crate) use stocks::{STOCKS, stock};

/// What every page of a sheet carries; on the paper of the system where none is named.
pub(crate) fn imprint(
    paper: Option<Paper>,
    record: impl Into<String>,
    revision: String,
    date: String,
    system: System,
) -> Imprint {
    let paper = paper.unwrap_or_else(|| Paper::of_system(system));
    Imprint { paper, record: record.into(), revision, date, system }
}

/// The revision of what was made from an entry of the book.
pub(crate) fn of_entry(number: u64) -> String {
    format!("revision {number} (entry of the book)")
}

/// The revision of what was made from files: the same texts have the same, and others another.
pub(crate) fn of_files(inputs: &Inputs) -> String {
    let mut digest = Sha256::new();
    let named = [&inputs.cutter, &inputs.machine].into_iter().chain(&inputs.wheels);
    let named = named.chain(&inputs.wear).chain(&inputs.history).chain(&inputs.tables);
    for text in named {
        digest.update(text.text.as_bytes());
        digest.update([0]);
    }
    for choice in inputs.relief.iter().chain(&inputs.to_size) {
        digest.update(choice.as_bytes());
        digest.update([0]);
    }
    // What came later counts only where it is there, so that the sheets of before keep theirs.
    for (name, text) in of_later(inputs) {
        digest.update(name.as_bytes());
        digest.update([0]);
        digest.update(text.as_bytes());
        digest.update([0]);
    }
    format!("revision {} (digest of its files)", start_of(digest))
}

/// What a plan may be made from beside its files: the end, and the grinds after a check.
fn of_later(inputs: &Inputs) -> Vec<(&'static str, &str)> {
    let end = inputs.end.then_some(("end", ""));
    let off = inputs.off_length.iter().map(|off| ("off length", off.as_str()));
    let after = inputs.after.iter().flat_map(|check| {
        let left = check.left.iter().map(|fault| ("left", fault.as_str()));
        let fed = check.fed.iter().map(|fed| ("fed", fed.as_str()));
        [("after", check.readings.text.as_str())].into_iter().chain(left).chain(fed)
    });
    end.into_iter().chain(off).chain(after).collect()
}

/// The sheets of a plan: of the periphery or of the corrective grind, with those of end and face
/// behind it. One that is asked for and cannot be planned has a page that says why, so that nobody
/// takes the paper for the whole work.
pub(crate) fn set_up(
    plan: &RegrindPlan,
    beside: &Beside,
    corrective: Option<&CorrectivePlan>,
    imprint: &Imprint,
) -> Pages {
    let (end, face) = (&beside.end, &beside.face);
    let mut pages = match corrective {
        Some(corrective) => corrective_setup_sheet(corrective, imprint),
        None => setup_sheet(plan, &other_pages(beside), imprint),
    };
    if let Some(end) = end.planned() {
        pages = pages.followed_by(end_setup_sheet(plan, end, imprint));
    }
    if let Some(why) = end.refused() {
        pages = pages.followed_by(not_planned_sheet(plan, "THE END", &why, imprint));
    }
    if let Some(ball) = beside.ball.planned() {
        pages = pages.followed_by(ball_setup_sheet(plan, ball, imprint));
    }
    if let Some(why) = beside.ball.refused() {
        pages = pages.followed_by(not_planned_sheet(plan, "THE BALL", &why, imprint));
    }
    if let Some(face) = face.planned() {
        pages = pages.followed_by(face_setup_sheet(plan, face, imprint));
    }
    if let Some(why) = face.refused() {
        pages = pages.followed_by(not_planned_sheet(plan, "THE FACE", &why, imprint));
    }
    pages
}

/// What of the work the set-up sheet says stands elsewhere.
fn other_pages(beside: &Beside) -> OtherPages {
    let end = match elsewhere(&beside.end) {
        Elsewhere::No => elsewhere(&beside.ball),
        end => end,
    };
    let gash_first = beside.end.planned().is_some_and(|end| end.gash.is_needed);
    OtherPages { end, face: elsewhere(&beside.face), gash_first }
}

fn elsewhere<T>(part: &Part<T>) -> Elsewhere {
    match (part.planned(), part.refused()) {
        (Some(_), _) => Elsewhere::Planned,
        (None, Some(why)) => Elsewhere::NotPlanned(why),
        (None, None) => Elsewhere::No,
    }
}

/// The revision of what was reckoned from many records: the same answer has the same.
pub(crate) fn of_answer(answer: &str) -> String {
    format!("revision {} (digest of its figures)", start_of(Sha256::new().chain_update(answer)))
}

/// The first letters of a digest.
fn start_of(digest: Sha256) -> String {
    digest.finalize().iter().take(4).map(|byte| format!("{byte:02x}")).collect()
}

/// A name for a file, of letters that every system takes.
pub(crate) fn file_name(what: &str, number: &str) -> String {
    let safe = |letter: char| if letter.is_ascii_alphanumeric() { letter } else { '-' };
    let number: String = number.chars().map(safe).collect();
    format!("{what}-{number}.pdf")
}

/// What a cutter is, in a few words.
pub(crate) fn about(cutter: &Cutter, system: System) -> String {
    sheets::text::describe(cutter, sheets::text::Units { system, both: false })
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::wire::{AfterCheck, NamedText};

    #[test]
    fn other_files_are_another_revision() {
        let named = |text: &str| NamedText { file: "a".to_owned(), text: text.to_owned() };
        let inputs = |cutter: &str| Inputs {
            cutter: named(cutter),
            machine: named("machine"),
            wheels: vec![named("wheel")],
            wear: None,
            history: None,
            tables: None,
            relief: None,
            to_size: None,
            end: false,
            off_length: None,
            after: Vec::new(),
        };
        assert_eq!(of_files(&inputs("one")), of_files(&inputs("one")));
        assert_ne!(of_files(&inputs("one")), of_files(&inputs("other")));
        let check = |text: &str, left: &[&str], fed: Option<&str>| AfterCheck {
            readings: named(text),
            left: left.iter().map(|fault| (*fault).to_owned()).collect(),
            fed: fed.map(str::to_owned),
        };
        let checks = |after| Inputs { after, ..inputs("one") };
        let all = [
            inputs("one"),
            Inputs { end: true, ..inputs("one") },
            Inputs { off_length: Some("0.1 mm".to_owned()), ..inputs("one") },
            checks(vec![check("a", &[], None)]),
            checks(vec![check("b", &[], None)]),
            checks(vec![check("a", &["taper"], None)]),
            checks(vec![check("a", &[], Some("taper"))]),
            checks(vec![check("a", &[], None), check("a", &[], None)]),
        ];
        let revisions: BTreeSet<String> = all.iter().map(of_files).collect();
        assert_eq!(revisions.len(), all.len(), "{revisions:?}");
    }

    #[test]
    fn names_of_files_are_plain() {
        assert_eq!(file_name("tag", "K/117 \"a\".."), "tag-K-117--a---.pdf");
    }
}
