//! Which way the wheel turns past the tooth, and what that means.

use geometry::wheel::{FaceToward, WheelKind};

use super::held::Held;
use crate::record::{Cutter, Hand, Machine, NutThread, Rotation, Spindle};

/// What the wheel's surface does to the tooth.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Hold {
    /// It runs down over the edge: the tooth is pressed down, and a burr is left.
    Down,
    /// It runs up from the edge: less burr, but the tooth is lifted.
    Lifts,
    /// It runs along the edge, as in a flute: neither.
    Along,
}

/// What the wheel's start and cut do to its nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fastening {
    /// The nut tightens.
    Tightens,
    /// The nut loosens unless something else holds it.
    Loosens,
    /// The nut is keyed or collared, so the direction does not matter.
    Held,
    /// It cannot be told which end of the spindle the nut is at.
    Unknown,
}

/// Why a wheel is not run the way that presses the tooth down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WhyLifts {
    /// That way would loosen the nut of this thread.
    OtherLoosens(NutThread),
    /// The spindle turns one way alone.
    OnlyWay,
}

impl WhyLifts {
    fn of(spindle: &Spindle) -> Self {
        match spindle.rotations() {
            [_, _, ..] => Self::OtherLoosens(spindle.nut_thread()),
            _ => Self::OnlyWay,
        }
    }

    /// Why, and what would change it.
    const fn words(self) -> &'static str {
        match self {
            Self::OtherLoosens(NutThread::Left) => {
                "The other way would press it down, but loosens this left-hand nut: that way only \
                 with a nut that is keyed or locked, or on a right-hand one, and nut_thread in the \
                 machine's file written so"
            }
            Self::OtherLoosens(_) => {
                "The other way would press it down, but loosens this right-hand nut: that way only \
                 with a nut that is keyed or locked, or on a left-hand one, and nut_thread in the \
                 machine's file written so"
            }
            Self::OnlyWay => {
                "The other way would press it down, but this spindle turns one way alone: choose a \
                 machine whose spindle turns both ways, where there is one"
            }
        }
    }
}

/// The direction to run in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TurnDirection {
    /// As seen from the wheel's nut; None where its end of the spindle is not on record.
    pub seen_from_nut: Option<Rotation>,
    /// What it does to the tooth.
    pub hold: Hold,
    /// What it does to the nut.
    pub fastening: Fastening,
    /// Whether the tooth is pressed onto a rest or lifted off it; otherwise an index head alone
    /// holds it.
    pub has_rest: bool,
    /// Why it does not run the other way, where it lifts the tooth.
    pub why_lifts: Option<WhyLifts>,
}

impl TurnDirection {
    /// Whether the wheel lifts the tooth.
    pub fn lifts(&self) -> bool {
        self.hold == Hold::Lifts
    }

    /// Which way to turn the wheel, what that does to the tooth and to the nut, and what to do
    /// about it: the words of every sheet, page and step.
    pub fn words(&self) -> String {
        let seen = match self.seen_from_nut {
            Some(rotation) => format!("{rotation}, seen from its nut: its"),
            None => "so that its".to_owned(),
        };
        let hold = match (self.hold, self.has_rest) {
            (Hold::Down, true) => {
                "surface runs down past the tooth and off the edge: it holds the tooth on the rest \
                 and leaves a burr"
            }
            (Hold::Down, false) => {
                "surface runs down past the tooth and off the edge: it presses the tooth down and \
                 leaves a burr; the head alone holds that"
            }
            (Hold::Lifts, true) => {
                "surface runs up past the tooth, on to the edge: less burr, but it LIFTS the tooth \
                 off the rest; hold it down through the whole stroke and feed lightly"
            }
            (Hold::Lifts, false) => {
                "surface runs up past the tooth, on to the edge: less burr, but it LIFTS the \
                 tooth; see that the head is locked, and feed lightly"
            }
            (Hold::Along, _) => "surface runs along the flute",
        };
        let nut = match self.fastening {
            Fastening::Tightens => "the nut tightens under it",
            Fastening::Loosens => "THE NUT LOOSENS under it: do not run it so",
            Fastening::Unknown => "see that its nut tightens that way",
            Fastening::Held => "the nut is held either way",
        };
        let way_out = self.why_lifts.map_or_else(String::new, |why| format!(". {}", why.words()));
        format!("{seen} {hold}; {nut}{way_out}")
    }
}

/// **Source** \[common-practice\] a nut is tightened by a wheel that turns, seen from the nut,
/// against the way in which the nut is screwed on. **Departs** nowhere. **Error** none. **Domain**
/// threaded nuts.
const fn fastening(thread: NutThread, rotation: Rotation) -> Fastening {
    match (thread, rotation) {
        (NutThread::Either, _) => Fastening::Held,
        (NutThread::Right, Rotation::CounterClockwise) | (NutThread::Left, Rotation::Clockwise) => {
            Fastening::Tightens
        }
        (NutThread::Right, Rotation::Clockwise) | (NutThread::Left, Rotation::CounterClockwise) => {
            Fastening::Loosens
        }
    }
}

/// Whether the contact lies on the right of the wheel's axis, seen from the nut; None where that
/// cannot be told.
///
/// A cup's nut faces the cutter, and with the heel up a right-hand cutter's shank lies on the right
/// of who looks that way. A disc's nut is at the machine's left or right end; seen from the right
/// end the cutter stands on the left.
fn contact_on_right(
    cutter: &Cutter,
    spindle: &Spindle,
    kind: WheelKind,
    toward: FaceToward,
) -> Option<bool> {
    if kind == WheelKind::Disc {
        let end = spindle.nut_end().to_lowercase();
        return match (end.contains("left"), end.contains("right")) {
            (true, false) => Some(true),
            (false, true) => Some(false),
            _ => None,
        };
    }
    let shank_right = cutter.hand() == Hand::Right;
    // The leading corner lies on the side away from which the face runs.
    let leading_toward_shank = toward == FaceToward::Tip;
    Some(shank_right == leading_toward_shank)
}

/// Whether every direction that a spindle has loosens the nut of a wheel of this kind. Where it
/// cannot be told how the nut sees the tooth, it is not said.
pub(super) fn loosens_always(spindle: &Spindle, kind: WheelKind) -> bool {
    let loosens =
        |rotation: &Rotation| fastening(spindle.nut_thread(), *rotation) == Fastening::Loosens;
    let end = spindle.nut_end().to_lowercase();
    let is_told = kind == WheelKind::Cup || (end.contains("left") != end.contains("right"));
    is_told && spindle.rotations().iter().all(loosens)
}

/// Chooses a direction: one that does not loosen the nut, and among those the one that holds the
/// tooth down. Where it cannot be told how the nut sees the tooth, only the hold is chosen.
pub(crate) fn direction(
    cutter: &Cutter,
    machine: &Machine,
    kind: WheelKind,
    toward: FaceToward,
) -> TurnDirection {
    let (spindle, has_rest) = (machine.spindle(), Held::on(machine).has_rest());
    let Some(right) = contact_on_right(cutter, spindle, kind, toward) else {
        let fastening = Fastening::Unknown;
        let (hold, why_lifts) = (Hold::Down, None);
        return TurnDirection { seen_from_nut: None, hold, fastening, has_rest, why_lifts };
    };
    let view = |rotation: Rotation| {
        let down = (rotation == Rotation::Clockwise) == right;
        TurnDirection {
            seen_from_nut: Some(rotation),
            hold: if down { Hold::Down } else { Hold::Lifts },
            fastening: fastening(spindle.nut_thread(), rotation),
            has_rest,
            why_lifts: (!down).then(|| WhyLifts::of(spindle)),
        }
    };
    let worth = |direction: &TurnDirection| {
        let safe = direction.fastening != Fastening::Loosens;
        (safe, direction.hold == Hold::Down)
    };
    spindle
        .rotations()
        .iter()
        .map(|rotation| view(*rotation))
        .max_by_key(worth)
        .unwrap_or_else(|| view(Rotation::Clockwise))
}

/// The direction for a wheel whose rim lies in a flute: its surface runs along the edge, so that
/// only the nut is asked.
pub(super) fn along_flute(machine: &Machine) -> TurnDirection {
    let (spindle, has_rest) = (machine.spindle(), Held::on(machine).has_rest());
    let view = |rotation: Rotation| TurnDirection {
        seen_from_nut: Some(rotation),
        hold: Hold::Along,
        fastening: fastening(spindle.nut_thread(), rotation),
        has_rest,
        why_lifts: None,
    };
    let held = |rotation: &&Rotation| view(**rotation).fastening != Fastening::Loosens;
    let rotations = spindle.rotations();
    let chosen = rotations.iter().find(held).or(rotations.first());
    view(chosen.copied().unwrap_or(Rotation::Clockwise))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turn(hold: Hold, why_lifts: Option<WhyLifts>) -> TurnDirection {
        TurnDirection {
            seen_from_nut: Some(Rotation::Clockwise),
            hold,
            fastening: Fastening::Tightens,
            has_rest: true,
            why_lifts,
        }
    }

    #[test]
    fn a_wheel_that_lifts_says_why_it_does_not_run_the_other_way() {
        let loosens = turn(Hold::Lifts, Some(WhyLifts::OtherLoosens(NutThread::Right))).words();
        let says = |words: &str, what: &str| assert!(words.contains(what), "{what}: {words}");
        ["on to the edge", "LIFTS", "right-hand nut", "keyed or locked", "nut_thread"]
            .iter()
            .for_each(|what| says(&loosens, what));
        says(&turn(Hold::Lifts, Some(WhyLifts::OnlyWay)).words(), "turns one way alone");
        let down = turn(Hold::Down, None).words();
        says(&down, "off the edge");
        assert!(!down.contains("other way"), "{down}");
    }
}
