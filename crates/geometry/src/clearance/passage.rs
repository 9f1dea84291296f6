//! A wheel in its place while the whole of a flute passes it.

use nalgebra::Vector3;

use super::body::{WheelBack, WheelSolid};
use super::finger::Finger;
use super::round::{Half, Round};
use super::teeth::OtherTeeth;
use crate::outline::Outline;
use crate::quantity::Length;
use crate::section::GroundSection;
use crate::wheel::WheelKind;

/// How exactly gaps are told, in millimetres.
pub(super) const GAP_ERROR_MM: f64 = 0.005;

/// Steps toward the place at which a round body just clears the wheel.
const STEPS_MAX: u32 = 60;

/// Longer than any part that could come before a wheel, in millimetres.
const ENDLESS_MM: f64 = 10_000.0;

/// How far the table goes: where the rest stands along the cutter at either end of the stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Travel {
    /// How far the tip has passed the rest at the one end.
    pub past_tip: Length,
    /// How far from the tip the rest stands at the other.
    pub from_tip: Length,
}

/// The place at which something comes nearest to the wheel, or stands deepest in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// The least distance; below zero the wheel would cut so deep.
    pub gap: Length,
    /// Where, along the cutter from the rest's contact toward the tip.
    pub along: Length,
    /// Distance from the cutter's axis toward the wheel.
    pub across: Length,
    /// Height above the cutter's axis.
    pub up: Length,
}

impl Nearest {
    pub(super) fn new(gap_mm: f64, point: &Vector3<f64>) -> Self {
        let [along, across, up] = [point.x, point.y, point.z].map(Length::from_mm);
        Self { gap: Length::from_mm(gap_mm), along, across, up }
    }
}

/// Where a part behind the flutes may begin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Begin {
    /// The wheel clears it wherever it begins.
    Anywhere,
    /// No nearer to the tip than that.
    From(Length),
    /// The wheel, or what stands on its spindle, comes too near to it even behind all its reach.
    Nowhere,
}

/// A wheel in the place in which it leaves a section, and the travel of the cutter past it.
#[derive(Clone, Debug)]
pub struct Passage<'a> {
    section: &'a GroundSection,
    wheel: WheelSolid<'a>,
    travel: Travel,
    /// Length of the flutes from the tip.
    flute: Length,
}

impl<'a> Passage<'a> {
    /// The passage of a cutter with flutes of that length.
    pub fn new(
        section: &'a GroundSection,
        back: &WheelBack,
        travel: Travel,
        flute: Length,
    ) -> Self {
        let wheel = WheelSolid::new(section.setup().wheel(), *section.wheel_pose(), back);
        Self { section, wheel, travel, flute }
    }

    /// Where the flutes have stood along the cutter, from the rest's contact toward the tip, when
    /// the whole stroke is done.
    fn fluted(&self) -> (Length, Length) {
        (-self.travel.past_tip - self.flute, self.travel.from_tip)
    }

    /// How far from the tip the rest stands when a place first passes it, in this stroke, that lies
    /// so far from the rest toward the tip.
    pub fn rest_from_tip_at(&self, along: Length) -> Length {
        along.max(-self.travel.past_tip).min(self.travel.from_tip)
    }

    /// What comes nearest of the other teeth, each as `outline` shows it, and of which tooth: so
    /// many pitches heelward. None where no other tooth is there.
    pub fn other_teeth(&self, outline: &Outline) -> Option<(u32, Nearest)> {
        let setup = self.section.setup();
        let (from, to) = self.fluted();
        let ends_mm = (from.mm(), to.mm());
        let (flutes, screw) = (setup.flutes(), setup.screw());
        OtherTeeth { flutes, screw, outline, ends_mm }.nearest(&self.wheel)
    }

    /// What comes nearest of the far side of a cup's rim to the circle that the edges stand on, at
    /// a radius. None for a disc.
    pub fn far_side(&self, radius: Length) -> Option<Nearest> {
        if self.wheel.kind() == WheelKind::Disc {
            return None;
        }
        let (from, to) = self.fluted();
        Round { radius, from, to }.nearest(&self.wheel, Half::Far)
    }

    /// What comes nearest of a round part behind the flutes, which begins so far from the tip and
    /// goes on for a length.
    pub fn behind(&self, radius: Length, begins: Length, length: Length) -> Option<Nearest> {
        self.part(radius, begins, length).nearest(&self.wheel, Half::Whole)
    }

    /// All that such a part sweeps from one end of the stroke to the other.
    fn part(&self, radius: Length, begins: Length, length: Length) -> Round {
        let (from, to) = (-self.travel.past_tip - begins - length, self.travel.from_tip - begins);
        Round { radius, from, to }
    }

    /// The least distance from the tip at which a part of that radius may begin, and go on without
    /// end, if the wheel is to clear it by so much over the whole stroke.
    ///
    /// **Source** \[own-derivation\] the wheel only comes nearer as the part begins sooner: halving
    /// between a place that is proved to clear and one that is not, where a point of the wheel that
    /// is too near tells at once how much later the part must begin for its sake. **Departs**
    /// in asking for 0.01 mm more, which gaps may be told too large by. **Error** no more than 0.02
    /// mm of room beyond what was asked for, never less; the place itself may be farther off where
    /// the gap hardly changes with it. **Domain** any radius.
    pub fn may_begin(&self, radius: Length, clear: Length) -> Begin {
        let beyond_mm = 4.0 * self.wheel.reach_mm();
        let exact = Length::from_mm(2.0 * GAP_ERROR_MM);
        let cleared = |begins_mm: f64| {
            let begins = Length::from_mm(begins_mm);
            let part = self.part(radius, begins, Length::from_mm(ENDLESS_MM));
            part.cleared(&self.wheel, (clear + exact).mm())
        };
        // Ahead of every wheel the part lies beyond the tip: where it clears there, it always does.
        let mut tight_mm = -beyond_mm;
        match cleared(tight_mm) {
            Ok(()) => return Begin::Anywhere,
            Err(near) => tight_mm = tight_mm.max(self.asked_by(&near, radius, clear + exact)),
        }
        let mut begins_mm = (self.flute + self.travel.from_tip).mm() + beyond_mm;
        if cleared(begins_mm).is_err() {
            return Begin::Nowhere;
        }
        for halves in [true, false].into_iter().cycle() {
            let left_mm = begins_mm - tight_mm;
            if left_mm <= exact.mm() {
                break;
            }
            // By turns the middle, and as near as can be to what the points so far ask for.
            let next_mm = tight_mm + if halves { 0.5 * left_mm } else { exact.mm() };
            match cleared(next_mm) {
                Ok(()) => begins_mm = next_mm,
                Err(near) => tight_mm = next_mm.max(self.asked_by(&near, radius, clear + exact)),
            }
        }
        Begin::From(Length::from_mm(begins_mm))
    }

    /// How far from the tip a part must begin, at the least, for one point of the wheel.
    fn asked_by(&self, point: &Vector3<f64>, radius: Length, clear: Length) -> f64 {
        let outside_mm = (point.y.hypot(point.z) - radius.mm()).max(0.0);
        if outside_mm >= clear.mm() {
            return f64::NEG_INFINITY;
        }
        let before_mm = (clear.mm() * clear.mm() - outside_mm * outside_mm).sqrt();
        self.travel.from_tip.mm() - (point.x - before_mm)
    }

    /// What comes nearest of the finger on which the tooth rides.
    pub fn finger(&self, finger: &Finger) -> Nearest {
        let setting_rad = self.section.setup().stance().relief_setting.radians();
        finger.nearest(&self.wheel, self.section.circle_radius().mm(), setting_rad)
    }

    /// How far behind the edge a finger must end so that the wheel clears it by so much; None where
    /// no place on the face will do.
    pub fn finger_behind(&self, finger: Finger, clear: Length) -> Option<Length> {
        let mut behind_edge = finger.behind_edge;
        let deepest = self.section.circle_radius();
        for _ in 0..STEPS_MAX {
            let nearest = self.finger(&Finger { behind_edge, ..finger });
            let lacks = clear - nearest.gap;
            if lacks.mm() < GAP_ERROR_MM {
                return Some(behind_edge);
            }
            behind_edge += lacks;
            if behind_edge > deepest {
                return None;
            }
        }
        None
    }
}
