//! The leaf on which pictures for the screen at the bench are drawn, and how their words are set.
//!
//! It is so wide that its smallest words still stand 14 dots high where it is shown 700 dots wide,
//! which an arm's length from a tablet wants.

use geometry::{Length, System};
use kurbo::Point;

use super::frame::{HEADING, LEFT};
use crate::scene::{Scene, Words, width_mm};

/// Width of a leaf, in millimetres.
pub(super) const WIDTH: f64 = 168.0;

/// Right edge of what is set on a leaf.
pub(super) const RIGHT: f64 = WIDTH - LEFT;

/// Sizes of type: what is read in passing, and what is read first.
pub(super) const SMALL: f64 = 3.6;
pub(super) const LARGE: f64 = 4.8;

/// The smallest type of any leaf: 14 dots where a leaf is shown 700 dots wide.
const SMALLEST: f64 = 14.0 * WIDTH / 700.0;

/// From line to line of small words.
pub(super) const LINE_MM: f64 = 5.0;

/// Where the heading and its note stand.
const HEADING_Y: (f64, f64) = (7.5, 12.8);

/// A leaf with its heading and one line about it.
pub(super) fn leaf(heading: &str, note: &str, description: String, height_mm: f64) -> Scene {
    let mut scene = Scene::new(heading.to_owned(), description, WIDTH, height_mm);
    scene.part("heading");
    set(&mut scene, Words::starting((LEFT, HEADING_Y.0), HEADING, heading), RIGHT - LEFT);
    set(&mut scene, Words::starting((LEFT, HEADING_Y.1), SMALL, note), RIGHT - LEFT);
    scene
}

/// Sets words no wider than a room.
pub(super) fn set(scene: &mut Scene, words: Words, room_mm: f64) {
    scene.text(fitted(words, room_mm, SMALLEST));
}

/// Words no wider than a room: set smaller as far as they may be, then cut with a mark that they
/// were.
pub(super) fn fitted(words: Words, room_mm: f64, least_mm: f64) -> Words {
    let wide_mm = words.bounds().width();
    let size_mm = if wide_mm > room_mm {
        (words.size_mm * room_mm / wide_mm).max(least_mm.min(words.size_mm))
    } else {
        words.size_mm
    };
    Words { text: cut(&words.text, size_mm, room_mm), size_mm, ..words }
}

fn cut(text: &str, size_mm: f64, room_mm: f64) -> String {
    // Rounding in the size must not cut a letter that fits.
    let fits = |text: &str| width_mm(text, size_mm) <= room_mm * (1.0 + 1e-9);
    if fits(text) {
        return text.to_owned();
    }
    let mut kept: Vec<char> = text.chars().collect();
    let with_mark = |kept: &[char]| format!("{}…", kept.iter().collect::<String>().trim_end());
    while !kept.is_empty() && !fits(&with_mark(&kept)) {
        kept.pop();
    }
    with_mark(&kept)
}

/// Words broken into lines no wider than a room; a word that is wider alone is cut.
pub(super) fn broken(text: &str, room_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let word = cut(word, SMALL, room_mm);
        match lines.last_mut() {
            Some(line) if width_mm(&format!("{line} {word}"), SMALL) <= room_mm => {
                line.push(' ');
                line.push_str(&word);
            }
            _ => lines.push(word),
        }
    }
    lines
}

/// Texts broken to the leaf's width, each on lines of its own.
pub(super) fn all_broken(texts: &[String]) -> Vec<String> {
    texts.iter().flat_map(|text| broken(text, RIGHT - LEFT)).collect()
}

/// Sets lines below one another from a baseline.
pub(super) fn set_lines(scene: &mut Scene, from: Point, lines: &[String]) {
    for (row, line) in lines.iter().enumerate() {
        let at = Point::new(from.x, from.y + LINE_MM * row as f64);
        scene.text(Words::starting(at, SMALL, line.as_str()));
    }
}

/// Height of so many lines.
pub(super) fn lines_mm(lines: &[String]) -> f64 {
    LINE_MM * lines.len() as f64
}

/// A size as it stands on drawings: a fraction where it is one of inches, without zeros that say
/// nothing where it is none.
pub(super) fn size(value: Length, system: System) -> String {
    let fraction = || value.show_fraction(64).filter(|_| value.mm() > 0.01);
    match system {
        System::Inch => {
            fraction().map_or_else(|| value.show(system).to_string(), |f| f.to_string())
        }
        System::Millimetre => trimmed(value, system),
    }
}

/// A length without the zeros that say nothing.
pub(super) fn trimmed(value: Length, system: System) -> String {
    let shown = value.show(system).to_string();
    let Some((number, unit)) = shown.split_once(' ') else { return shown };
    let number = match number.contains('.') {
        true => number.trim_end_matches('0').trim_end_matches('.'),
        false => number,
    };
    format!("{number} {unit}")
}

/// A difference with its sign; none where it rounds to nothing.
pub(super) fn signed(value: Length, system: System) -> Option<String> {
    let shown = value.abs().show(system).to_string();
    let is_nothing = !shown.contains(|letter: char| ('1'..='9').contains(&letter));
    let sign = if value < Length::ZERO { "−" } else { "+" };
    (!is_nothing).then(|| format!("{sign}{shown}"))
}

/// A count with its noun.
pub(super) fn counted(count: u32, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// Words in a row as people say them: a, b and c.
pub(super) fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_as_on_drawings() {
        let half = Length::from_mm(12.7);
        assert_eq!(
            [System::Inch, System::Millimetre].map(|s| size(half, s)),
            ["1/2 in", "12.7 mm"]
        );
        let fifty = Length::from_mm(50.0);
        let both = [System::Inch, System::Millimetre].map(|system| size(fifty, system));
        assert_eq!(both, ["1.9685 in", "50 mm"]);
        assert_eq!(size(Length::ZERO, System::Millimetre), "0 mm");
        assert_eq!(size(Length::from_mm(100.0), System::Millimetre), "100 mm");
    }

    #[test]
    fn a_difference_of_nothing_is_none() {
        let inch = |thou: f64| signed(Length::from_thou(thou), System::Inch);
        assert_eq!(inch(-13.0).as_deref(), Some("−0.0130 in"));
        assert_eq!(inch(2.0).as_deref(), Some("+0.0020 in"));
        assert_eq!(inch(-0.01), None);
    }

    #[test]
    fn words_that_are_too_wide_are_set_smaller_and_then_cut() {
        let long = "K-101 ".repeat(20);
        let narrow = fitted(Words::starting((0.0, 0.0), 5.0, long.trim()), 60.0, 3.4);
        assert!(narrow.bounds().width() <= 60.0 + 1e-6 && narrow.text.ends_with('…'));
        let near = fitted(Words::starting((0.0, 0.0), 5.0, "eight words"), 28.0, 3.4);
        assert!(near.size_mm < 5.0 && near.text == "eight words", "{near:?}");
        assert!(broken(&long, 60.0).iter().all(|line| width_mm(line, SMALL) <= 60.0));
    }

    #[test]
    fn lists_are_as_people_say_them() {
        let words = ["1", "3", "4"].map(str::to_owned);
        assert_eq!(listed(&words), "1, 3 and 4");
        assert_eq!(listed(&words[..1]), "1");
        assert_eq!(
            [counted(1, "tooth", "teeth"), counted(4, "tooth", "teeth")],
            ["1 tooth", "4 teeth"]
        );
    }
}
