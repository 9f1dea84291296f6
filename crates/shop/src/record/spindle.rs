//! The wheel spindle: its speeds, its directions and the nut that holds the wheel.

use geometry::Length;

use super::error::RecordErrors;
use super::faults::{Faults, fault};
use super::named::named;

/// Slowest and fastest wheel spindles of bench machines, in revolutions per minute.
const RPM: (u32, u32) = (200, 60_000);
/// Largest flange of a bench machine's spindle, in mm.
const FLANGE_MM_MAX: f64 = 300.0;

named! {
    /// A direction of rotation, seen by somebody who looks at the wheel's nut.
    Rotation {
        /// With the hands of a clock.
        Clockwise = "clockwise",
        /// Against the hands of a clock.
        CounterClockwise = "counterclockwise",
    }
}

impl Rotation {
    /// The other direction.
    pub const fn opposite(self) -> Self {
        match self {
            Self::Clockwise => Self::CounterClockwise,
            Self::CounterClockwise => Self::Clockwise,
        }
    }
}

named! {
    /// The thread of the nut that holds the wheel.
    NutThread {
        /// Right-hand thread: tightened clockwise.
        Right = "right",
        /// Left-hand thread: tightened counterclockwise.
        Left = "left",
        /// Keyed or collared, so that neither direction of rotation loosens it.
        Either = "either",
    }
}

/// One speed of the spindle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpindleSpeed {
    /// Revolutions per minute.
    pub rpm: u32,
    /// Where the belt lies or what the switch says for this speed.
    pub belt: String,
}

/// A spindle before it is checked.
#[derive(Clone, Debug, PartialEq)]
pub struct SpindleDraft {
    /// Its speeds, in any order.
    pub speeds: Vec<SpindleSpeed>,
    /// The directions it can turn.
    pub rotations: Vec<Rotation>,
    /// The thread of its nut.
    pub nut_thread: NutThread,
    /// Which end of the spindle carries the wheel, in words.
    pub nut_end: String,
    /// The greatest diameter of flange, nut and spindle beside the wheel.
    pub flange_diameter: Option<Length>,
}

/// A sound spindle.
#[derive(Clone, Debug, PartialEq)]
pub struct Spindle {
    facts: SpindleDraft,
}

impl SpindleDraft {
    /// Checks every fact and puts the speeds in rising order.
    ///
    /// # Errors
    /// All facts that are violated, each with its field and value.
    pub fn build(mut self) -> Result<Spindle, RecordErrors> {
        let mut faults = Faults::default();
        faults.require(!self.speeds.is_empty(), "speed", "none", || {
            fault("a spindle has at least one speed", "write a [[spindle.speed]] with its rpm")
        });
        for (index, speed) in self.speeds.iter().enumerate() {
            self.check_speed(index, speed, &mut faults);
        }
        self.check_rotations(&mut faults);
        faults.name("nut_end", &self.nut_end);
        if let Some(flange) = self.flange_diameter {
            faults.length_over_zero("flange_diameter", flange, Length::from_mm(FLANGE_MM_MAX));
        }
        faults.verdict().map(|()| {
            self.speeds.sort_by_key(|speed| speed.rpm);
            Spindle { facts: self }
        })
    }

    fn check_speed(&self, index: usize, speed: &SpindleSpeed, faults: &mut Faults) {
        let field = format!("speed[{index}].rpm");
        faults.count(&field, speed.rpm, RPM.0, RPM.1);
        faults.name(&format!("speed[{index}].belt"), &speed.belt);
        let single = self.speeds[..index].iter().all(|earlier| earlier.rpm != speed.rpm);
        faults.require(single, &field, speed.rpm, || {
            fault(format!("{} rpm stands twice", speed.rpm), "write each speed once")
        });
    }

    fn check_rotations(&self, faults: &mut Faults) {
        faults.require(!self.rotations.is_empty(), "rotation", "[]", || {
            fault(
                "a spindle turns one way at least",
                "write \"clockwise\", \"counterclockwise\" or both",
            )
        });
        for (index, rotation) in self.rotations.iter().enumerate() {
            let single = !self.rotations[..index].contains(rotation);
            faults.require(single, "rotation", format!("\"{rotation}\""), || {
                fault(format!("\"{rotation}\" stands twice"), "write each direction once")
            });
        }
    }
}

impl Spindle {
    /// Its speeds, slowest first; at least one.
    pub fn speeds(&self) -> &[SpindleSpeed] {
        &self.facts.speeds
    }

    /// The directions it can turn; at least one.
    pub fn rotations(&self) -> &[Rotation] {
        &self.facts.rotations
    }

    /// Whether it can turn this way.
    pub fn turns(&self, rotation: Rotation) -> bool {
        self.facts.rotations.contains(&rotation)
    }

    /// The thread of its nut.
    pub const fn nut_thread(&self) -> NutThread {
        self.facts.nut_thread
    }

    /// The greatest diameter of flange, nut and spindle beside the wheel, if known.
    pub const fn flange_diameter(&self) -> Option<Length> {
        self.facts.flange_diameter
    }

    /// Which end of the spindle carries the wheel, in words.
    pub fn nut_end(&self) -> &str {
        &self.facts.nut_end
    }
}
