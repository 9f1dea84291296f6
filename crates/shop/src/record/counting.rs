//! Where an axis reads 0 and which way its reading grows, in plain phrases of a closed list.
//!
//! A phrase that stands in no list is kept as it was written. The axis then does its work on the
//! periphery as before, but nothing that needs to know how it turns can be worked out; whoever
//! needs it says which phrases there are.
//!
//! Right and left are those of somebody who looks from the cutter at the wheel.

use super::axis::AxisRole;

/// Which way a reading grows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Grows {
    /// What it carries goes up.
    Up,
    /// What it carries goes down.
    Down,
    /// What it carries goes to the right.
    Right,
    /// What it carries goes to the left.
    Left,
    /// Wheel and work come together.
    Together,
    /// Wheel and work go apart.
    Apart,
    /// The finger goes into the wheel's face.
    IntoFace,
    /// The finger goes out of the wheel's face.
    OutOfFace,
    /// Clockwise, seen from above.
    Clockwise,
    /// Counterclockwise, seen from above.
    Counterclockwise,
    /// The end of the spindle that carries the wheel goes down.
    WheelEndDown,
    /// The end of the spindle that carries the wheel goes up.
    WheelEndUp,
    /// The right side goes down, seen from the cutter.
    RightSideDown,
    /// The left side goes down, seen from the cutter.
    LeftSideDown,
    /// The collet swings toward the wheel.
    ColletTowardWheel,
    /// The collet swings away from the wheel.
    ColletFromWheel,
    /// The collet goes down.
    ColletDown,
    /// The collet goes up.
    ColletUp,
    /// The top of what it carries tips toward the wheel.
    TopTowardWheel,
    /// The top of what it carries tips away from the wheel.
    TopFromWheel,
    /// The edge on the wheel's side goes down.
    EdgeDown,
    /// The edge on the wheel's side goes up.
    EdgeUp,
    /// Clockwise, seen by somebody who looks at the cutter's tip.
    ClockwiseFromTip,
    /// Counterclockwise, seen by somebody who looks at the cutter's tip.
    CounterclockwiseFromTip,
}

/// Where an axis reads 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ReadsZero {
    /// Wheel spindle square to the travel, level; table and work spindle along the travel, level;
    /// tooth, finger or wheel axis on centre: as everything stands before it is set to an angle.
    Straight,
    /// The wheel spindle along the travel; the wheel then faces the work at 90.
    AlongTravel,
    /// The work spindle square to the travel, its collet toward the wheel.
    ColletAtWheel,
    /// The work spindle upright, its collet up.
    ColletUp,
    /// The slide full back, wheel and work farthest apart.
    FullBack,
    /// The slide at its left end.
    LeftEnd,
    /// The slide at its right end.
    RightEnd,
    /// The finger at the leading corner of the wheel's face.
    AtCorner,
}

/// Phrases of some roles, the one to be shown first.
type Phrases<T> = (&'static [AxisRole], T, &'static [&'static str]);

use AxisRole as R;
use Grows as G;
use ReadsZero as Z;

const ALONG: &[AxisRole] = &[R::TableTravel, R::LongFeed];
const HEAD: &[AxisRole] = &[R::HeadSwivel, R::ColumnSwivel];
const WORK_HEAD: &[AxisRole] = &[R::WorkHeadSwivel, R::WorkHeadUpperSwivel];
const UPRIGHT: &[AxisRole] =
    &[R::HeadSwivel, R::ColumnSwivel, R::TableSwivel, R::WorkHeadSwivel, R::WorkHeadUpperSwivel];
const SPINDLE: &[AxisRole] = &[R::ReliefDial, R::SpindleDial, R::WorkSpindleIndex];

/// Every phrase for the way a reading grows.
const GROWS: &[Phrases<Grows>] = &[
    (
        &[R::CrossFeed],
        G::Together,
        &[
            "work toward the wheel",
            "table toward the wheel",
            "cutter toward the wheel",
            "wheel toward the work",
            "wheel toward the cutter",
            "toward the wheel",
            "wheel and work together",
        ],
    ),
    (
        &[R::CrossFeed],
        G::Apart,
        &[
            "work away from the wheel",
            "table away from the wheel",
            "cutter away from the wheel",
            "wheel away from the work",
            "wheel away from the cutter",
            "away from the wheel",
            "wheel and work apart",
        ],
    ),
    (ALONG, G::Right, &["table to the right", "work to the right", "to the right", "right"]),
    (ALONG, G::Left, &["table to the left", "work to the left", "to the left", "left"]),
    (
        &[R::WheelHeadHeight],
        G::Up,
        &["up", "wheel up", "wheel head up", "head up", "raises the wheel", "wheel rises"],
    ),
    (
        &[R::WheelHeadHeight],
        G::Down,
        &["down", "wheel down", "wheel head down", "head down", "lowers the wheel", "wheel sinks"],
    ),
    (&[R::RestHeight], G::Down, &["down", "finger down", "rest down", "lowers the finger"]),
    (&[R::RestHeight], G::Up, &["up", "finger up", "rest up", "raises the finger"]),
    (&[R::RestAlong], G::IntoFace, &["into the face", "finger into the face"]),
    (&[R::RestAlong], G::OutOfFace, &["out of the face", "finger out of the face"]),
    (&[R::RestAlong], G::Right, &["to the right", "finger to the right"]),
    (&[R::RestAlong], G::Left, &["to the left", "finger to the left"]),
    (UPRIGHT, G::Clockwise, &["clockwise seen from above", "clockwise from above", "clockwise"]),
    (
        UPRIGHT,
        G::Counterclockwise,
        &["counterclockwise seen from above", "counterclockwise from above", "counterclockwise"],
    ),
    (HEAD, G::Clockwise, &["wheel end to the left", "wheel to the left"]),
    (HEAD, G::Counterclockwise, &["wheel end to the right", "wheel to the right"]),
    (
        &[R::TableSwivel],
        G::Clockwise,
        &["right end away from the wheel", "left end toward the wheel"],
    ),
    (
        &[R::TableSwivel],
        G::Counterclockwise,
        &["right end toward the wheel", "left end away from the wheel"],
    ),
    (
        WORK_HEAD,
        G::ColletTowardWheel,
        &["collet toward the wheel", "tip toward the wheel", "nose toward the wheel"],
    ),
    (
        WORK_HEAD,
        G::ColletFromWheel,
        &["collet away from the wheel", "tip away from the wheel", "nose away from the wheel"],
    ),
    (
        &[R::HeadTilt],
        G::WheelEndDown,
        &["wheel end down", "wheel down", "head tips toward the work", "top toward the work"],
    ),
    (
        &[R::HeadTilt],
        G::WheelEndUp,
        &["wheel end up", "wheel up", "head tips away from the work", "top away from the work"],
    ),
    (&[R::HeadTilt], G::RightSideDown, &["right side down", "left side up"]),
    (&[R::HeadTilt], G::LeftSideDown, &["left side down", "right side up"]),
    (&[R::WorkHeadTilt], G::ColletDown, &["collet down", "tip down", "nose down"]),
    (&[R::WorkHeadTilt], G::ColletUp, &["collet up", "tip up", "nose up"]),
    (
        &[R::WorkHeadTilt],
        G::TopTowardWheel,
        &["top toward the wheel", "work head tips toward the wheel"],
    ),
    (
        &[R::WorkHeadTilt],
        G::TopFromWheel,
        &["top away from the wheel", "work head tips away from the wheel"],
    ),
    (
        SPINDLE,
        G::EdgeDown,
        &["tooth at the rest down", "edge down", "tooth down", "edge at the rest down"],
    ),
    (SPINDLE, G::EdgeUp, &["tooth at the rest up", "edge up", "tooth up", "edge at the rest up"]),
    (SPINDLE, G::ClockwiseFromTip, &["clockwise seen from the tip"]),
    (SPINDLE, G::CounterclockwiseFromTip, &["counterclockwise seen from the tip"]),
];

/// Every phrase for where an axis reads 0.
const ZEROS: &[Phrases<ReadsZero>] = &[
    (HEAD, Z::Straight, &["square to travel"]),
    (HEAD, Z::AlongTravel, &["parallel to travel"]),
    (&[R::ColumnSwivel], Z::Straight, &["column straight", "column square to the travel"]),
    (&[R::ColumnSwivel], Z::AlongTravel, &["column parallel to the travel"]),
    (&[R::HeadTilt], Z::Straight, &["wheel spindle level", "spindle level", "head level", "level"]),
    (
        &[R::TableSwivel],
        Z::Straight,
        &["table top along the travel", "table along the travel", "table straight"],
    ),
    (WORK_HEAD, Z::Straight, &["work spindle along the table", "work spindle along the travel"]),
    (
        WORK_HEAD,
        Z::ColletAtWheel,
        &["collet at the wheel", "work spindle square to the table, collet toward the wheel"],
    ),
    (
        &[R::WorkHeadTilt],
        Z::Straight,
        &["work spindle level", "work head level", "spindle level", "level"],
    ),
    (&[R::WorkHeadTilt], Z::ColletUp, &["collet straight up", "work spindle upright"]),
    (
        SPINDLE,
        Z::Straight,
        &[
            "tooth on centre",
            "edge on centre",
            "on centre",
            "tooth level with the work spindle",
            "notch 1",
        ],
    ),
    (
        &[R::CrossFeed],
        Z::FullBack,
        &["slide full back", "saddle full back", "cross slide full back", "full back"],
    ),
    (ALONG, Z::LeftEnd, &["left stop", "table at its left end", "left end"]),
    (ALONG, Z::RightEnd, &["right stop", "table at its right end", "right end"]),
    (
        &[R::WheelHeadHeight],
        Z::Straight,
        &[
            "wheel axis level with the work centres",
            "wheel axis level with the centres",
            "wheel axis level with the work spindle",
            "wheel axis on centre",
        ],
    ),
    (&[R::RestHeight], Z::Straight, &["finger level with the work spindle", "finger on centre"]),
    (
        &[R::RestAlong],
        Z::AtCorner,
        &["finger at the wheel's corner", "finger at the leading corner"],
    ),
];

/// What a phrase says of the way in which the reading of such an axis grows.
pub(super) fn grows(role: AxisRole, words: &str) -> Option<Grows> {
    meaning(GROWS, role, words)
}

/// What a phrase says of where such an axis reads 0.
pub(super) fn reads_zero(role: AxisRole, words: &str) -> Option<ReadsZero> {
    meaning(ZEROS, role, words)
}

impl AxisRole {
    /// The phrases that say which way the reading of such an axis grows.
    pub fn growing_phrases(self) -> Vec<&'static str> {
        phrases(GROWS, self)
    }

    /// The phrases that say where such an axis reads 0.
    pub fn zero_phrases(self) -> Vec<&'static str> {
        phrases(ZEROS, self)
    }
}

fn meaning<T: Copy>(all: &[Phrases<T>], role: AxisRole, words: &str) -> Option<T> {
    let words = plain(words);
    let says =
        |row: &&Phrases<T>| row.0.contains(&role) && row.2.iter().any(|it| plain(it) == words);
    all.iter().find(says).map(|row| row.1)
}

fn phrases<T>(all: &[Phrases<T>], role: AxisRole) -> Vec<&'static str> {
    let ours = all.iter().filter(|row| row.0.contains(&role));
    ours.flat_map(|row| row.2.iter().copied()).collect()
}

/// Words without case, articles and marks, in the spellings of the lists.
fn plain(words: &str) -> String {
    let words = words.to_lowercase().replace("counter-", "counter").replace("anti-", "anti");
    let words = words.replace(|letter: char| !letter.is_alphanumeric() && letter != '\'', " ");
    let kept = words.split_whitespace().filter(|word| !["the", "a", "an"].contains(word));
    let spelt = kept.map(|word| match word {
        "anticlockwise" => "counterclockwise",
        "towards" => "toward",
        "center" => "centre",
        "centers" => "centres",
        "viewed" => "seen",
        word => word,
    });
    spelt.collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::Named;

    #[test]
    fn every_role_can_say_both_its_zero_and_both_its_senses() {
        for &role in AxisRole::ALL {
            assert!(!role.zero_phrases().is_empty(), "{role}");
            let senses: Vec<_> =
                GROWS.iter().filter(|row| row.0.contains(&role)).map(|row| row.1).collect();
            assert!(senses.len() >= 2 && senses.len() % 2 == 0, "{role}: {senses:?}");
        }
    }

    #[test]
    fn no_phrase_of_a_role_says_two_things() {
        for &role in AxisRole::ALL {
            let said = |phrase: &&str| grows(role, phrase);
            let phrases = role.growing_phrases();
            assert!(phrases.iter().all(|phrase| said(phrase).is_some()), "{role}");
            let rows = GROWS.iter().filter(|row| row.0.contains(&role));
            for row in rows {
                assert!(row.2.iter().all(|phrase| grows(role, phrase) == Some(row.1)), "{role}");
            }
            let rows = ZEROS.iter().filter(|row| row.0.contains(&role));
            for row in rows {
                let zero = |phrase: &&str| reads_zero(role, phrase) == Some(row.1);
                assert!(row.2.iter().all(zero), "{role}");
            }
        }
    }

    #[test]
    fn spelling_does_not_matter_and_other_words_say_nothing() {
        let clockwise = "Anti-clockwise, viewed from above.";
        assert_eq!(grows(R::HeadSwivel, clockwise), Some(G::Counterclockwise));
        assert_eq!(grows(R::TableSwivel, "Right end towards wheel"), Some(G::Counterclockwise));
        assert_eq!(grows(R::WorkSpindleIndex, "clockwise seen from the collet"), None);
        assert_eq!(grows(R::RestHeight, "clockwise"), None);
        assert_eq!(reads_zero(R::HeadTilt, "about here"), None);
    }
}
