//! History files: what a cutter's own grinds took, and what its wheels' own grinds took and cost.

use shop::ShopError;
use shop::learn::{CutterGrind, CutterHistory, Known, WheelGrind};
use shop::record::Cutter;
use toml::de::DeValue;

use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::value::{Readable, Wrong, wrong};
use super::wear::check_cutter;

/// Reads a history file: `[[grind]]` for the cutter's regrinds on the diameter, oldest first, and
/// `[[wheel_grind]]` for what was read on a wheel over one cutter or several. The file may name the
/// cutter it belongs to; then it must be this one.
///
/// # Errors
/// Everything wrong with the file, and grinds that contradict themselves.
pub fn read_history(file: &str, text: &str, cutter: &Cutter) -> Result<Known, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    check_cutter(&top, cutter, "this history");
    let mut known = Known::default();
    for (place, section) in top.sections("grind").into_iter().enumerate() {
        cutter_grind(section, place, &mut known.cutter);
    }
    for (place, section) in top.sections("wheel_grind").into_iter().enumerate() {
        wheel_grind(section, place, &mut known);
    }
    top.close();
    reading.finish(Some(known))
}

fn cutter_grind(section: Section<'_, '_>, place: usize, history: &mut CutterHistory) {
    let grind = CutterGrind {
        entry: entry(&section, "grind", place),
        sharp_before: section.maybe("sharp_before"),
        dull: section.maybe("dull"),
        after: section.need("after"),
        wear_land: section.maybe("wear_land"),
        worn_on: section.maybe("worn_on"),
    };
    let keys = ["sharp_before", "dull", "after", "wear_land", "worn_on"];
    settle(section, &keys, || history.push(grind));
}

fn wheel_grind(section: Section<'_, '_>, place: usize, known: &mut Known) {
    let wheel: String = section.need("wheel");
    let cutters: Option<u32> = section.maybe("cutters");
    let grind = WheelGrind {
        entry: entry(&section, "wheel grind", place),
        fed: section.maybe("fed"),
        came_off: section.maybe("came_off"),
        face_lost: section.maybe("face_lost"),
        cutters: cutters.unwrap_or(1),
    };
    check_told(&section);
    let keys = ["wheel", "fed", "came_off", "face_lost", "cutters"];
    settle(section, &keys, || known.wheels.entry(wheel).or_default().push(grind));
}

/// What was fed says something beside what came off only, and an entry must say something.
fn check_told(section: &Section<'_, '_>) {
    let (fed, came_off) = (section.has("fed"), section.has("came_off"));
    section.require("fed", !fed || came_off, || {
        wrong("it says nothing without what came off", "write came_off too, or leave it out")
    });
    section.require("came_off", !came_off || fed, || {
        wrong("it says nothing without what was fed", "write fed too, or leave it out")
    });
    section.require("wheel", fed || came_off || section.has("face_lost"), || {
        wrong("nothing is said of this wheel", "write fed and came_off, or face_lost")
    });
}

/// Takes the grind where nothing is wrong with what it is made of, or says what it contradicts.
fn settle(section: Section<'_, '_>, keys: &[&str], push: impl FnOnce() -> Result<(), ShopError>) {
    if keys.iter().all(|key| !section.is_doubted(key))
        && let Err(error) = push()
    {
        refuse(&section, keys, &error);
    }
    section.close();
}

/// The use case names a field as `grinds[2].after`; here that is the key `after` of this section.
fn refuse(section: &Section<'_, '_>, keys: &[&str], error: &ShopError) {
    let (field, reason) = match error {
        ShopError::Invalid { field, reason } => (field.as_str(), reason.clone()),
        other => ("", other.to_string()),
    };
    let name = field.rsplit('.').next().unwrap_or_default();
    let key = keys.iter().find(|key| **key == name).or(keys.first()).copied().unwrap_or_default();
    section.refuse(key, wrong(reason, "read your notes again, or leave the entry out"));
}

/// What the entry is called: as written, or by its place among its like.
fn entry(section: &Section<'_, '_>, noun: &str, place: usize) -> String {
    let written: Option<EntryName> = section.maybe("entry");
    written.map_or_else(|| format!("{noun} {}", place + 1), |EntryName(name)| name)
}

/// A date, a number or any words.
struct EntryName(String);

impl Readable for EntryName {
    fn example() -> String {
        "write a date, a number or a few words, such as \"2025-03-11\"".to_owned()
    }

    fn stand_in() -> Self {
        Self("?".to_owned())
    }

    fn read(value: &DeValue<'_>) -> Result<Self, Wrong> {
        let name = match value {
            DeValue::String(text) => text.trim().to_owned(),
            DeValue::Integer(number) => number.as_str().to_owned(),
            DeValue::Datetime(date) => date.to_string(),
            _ => return Err(wrong("not what an entry can be called", Self::example())),
        };
        let fits = (1..=CHARACTERS_MAX).contains(&name.chars().count());
        if fits && !name.chars().any(char::is_control) {
            Ok(Self(name))
        } else {
            let what = format!("one line of 1 to {CHARACTERS_MAX} characters fits a sheet");
            Err(wrong(what, Self::example()))
        }
    }
}

/// The longest name of an entry, in characters: the longest number of a cutter, and that of an
/// entry in its history beside it.
const CHARACTERS_MAX: usize = 100;
