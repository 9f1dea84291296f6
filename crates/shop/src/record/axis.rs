//! One axis of a machine: what it is for, which side it moves and how it is read.

use geometry::{Angle, Length};

use super::counting::{Grows, ReadsZero, grows, reads_zero};
use super::error::RecordErrors;
use super::faults::{Faults, fault, quoted};
use super::named::{Named, named};
use super::scale::{SlideScale, SwivelScale};

named! {
    /// What an axis is for.
    AxisRole {
        /// Brings wheel and cutter together; on most machines the infeed.
        CrossFeed = "cross feed",
        /// Carries the cutter along past the wheel.
        TableTravel = "table travel",
        /// Carries the cutter along past the wheel by a fine screw.
        LongFeed = "long feed",
        /// Raises the wheel.
        WheelHeadHeight = "wheel head height",
        /// Swings the column that carries the wheel head in the horizontal plane.
        ColumnSwivel = "column swivel",
        /// Swings the wheel spindle in the horizontal plane.
        HeadSwivel = "head swivel",
        /// Tips the wheel spindle out of the horizontal plane.
        HeadTilt = "head tilt",
        /// Swings the table top, for taper.
        TableSwivel = "table swivel",
        /// Swings the work head in the horizontal plane.
        WorkHeadSwivel = "work head swivel",
        /// Tips the work head out of the horizontal plane.
        WorkHeadTilt = "work head tilt",
        /// Swings the work spindle on a work head that tips, in the plane that is level where the
        /// tilt reads level.
        WorkHeadUpperSwivel = "work head upper swivel",
        /// Turns the tooth below centre by a dial on the fixture.
        ReliefDial = "relief dial",
        /// Raises or lowers the tooth rest.
        RestHeight = "rest height",
        /// Moves the tooth rest along the cutter.
        RestAlong = "rest along",
        /// Turns the cutter about its own axis by a graduated dial.
        SpindleDial = "spindle dial",
        /// Turns the cutter from tooth to tooth.
        WorkSpindleIndex = "work spindle index",
    }
}

impl AxisRole {
    /// Whether this axis turns; otherwise it slides.
    pub const fn turns(self) -> bool {
        !matches!(
            self,
            Self::CrossFeed
                | Self::TableTravel
                | Self::LongFeed
                | Self::WheelHeadHeight
                | Self::RestHeight
                | Self::RestAlong
        )
    }

    /// Whether a machine may have more than one of these on one side.
    pub const fn may_stand_twice(self) -> bool {
        matches!(
            self,
            Self::HeadTilt
                | Self::TableSwivel
                | Self::WorkHeadSwivel
                | Self::WorkHeadTilt
                | Self::WorkHeadUpperSwivel
        )
    }

    /// Whether relief can be set by this axis.
    pub const fn sets_relief(self) -> bool {
        matches!(self, Self::ReliefDial | Self::RestHeight | Self::WheelHeadHeight)
    }
}

named! {
    /// What an axis moves.
    Side {
        /// The wheel.
        Wheel = "wheel",
        /// The work.
        Work = "work",
    }
}

named! {
    /// Where the head swivel's circle reads 0.
    HeadZero {
        /// 0 where the spindle lies along the table travel, so a cup at work reads near 90.
        ParallelToTravel = "parallel to travel",
        /// 0 where the spindle stands square to the table travel, so a cup reads near 0.
        SquareToTravel = "square to travel",
    }
}

/// How an axis moves and how it is read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Motion {
    /// A straight way with a dial or a rule.
    Slide(SlideScale),
    /// A pivot with a graduated circle.
    Swivel(SwivelScale),
}

/// The smallest amount a person can set on an axis, as its scale counts it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Finest {
    /// Of a slide.
    Length(Length),
    /// Of a swivel.
    Angle(Angle),
}

/// An axis before it is checked.
#[derive(Clone, Debug, PartialEq)]
pub struct AxisDraft {
    /// What people at this machine call it.
    pub name: String,
    /// What it is for.
    pub role: AxisRole,
    /// What it moves.
    pub side: Side,
    /// How it moves and how it is read.
    pub motion: Motion,
    /// Where it reads 0, in words, best one of [`AxisRole::zero_phrases`]; of the head swivel one
    /// of the names of [`HeadZero`].
    pub zero: String,
    /// Which way its reading grows, in words, best one of [`AxisRole::growing_phrases`].
    pub positive: String,
}

/// A sound axis.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    facts: AxisDraft,
}

impl AxisDraft {
    /// Checks every fact.
    ///
    /// # Errors
    /// All facts that are violated, each with its field and value.
    pub fn build(self) -> Result<Axis, RecordErrors> {
        let mut faults = Faults::default();
        faults.name("name", &self.name);
        faults.name("zero", &self.zero);
        faults.name("positive", &self.positive);
        self.check_motion(&mut faults);
        self.check_head_zero(&mut faults);
        faults.verdict().map(|()| Axis { facts: self })
    }

    fn check_motion(&self, faults: &mut Faults) {
        let (turns, motion) = match &self.motion {
            Motion::Slide(scale) => {
                scale.check(faults);
                (false, "slide")
            }
            Motion::Swivel(scale) => {
                scale.check(faults);
                (true, "swivel")
            }
        };
        let (role, fits) = (self.role, turns == self.role.turns());
        faults.require_with(fits, ("motion", &["role"]), quoted(motion), || {
            let right = if role.turns() { "swivel" } else { "slide" };
            fault(format!("a {role} is a {right}"), format!("write \"{right}\""))
        });
    }

    fn check_head_zero(&self, faults: &mut Faults) {
        let known = self.role != AxisRole::HeadSwivel || HeadZero::from_name(&self.zero).is_some();
        faults.require_with(known, ("zero", &["role"]), quoted(&self.zero), || {
            let [along, across] = [HeadZero::ParallelToTravel, HeadZero::SquareToTravel];
            fault(
                "the head swivel's zero must be one that settings can be counted from",
                format!("write \"{along}\" or \"{across}\""),
            )
        });
    }
}

impl Axis {
    /// What people at this machine call it.
    pub fn name(&self) -> &str {
        &self.facts.name
    }

    /// What it is for.
    pub const fn role(&self) -> AxisRole {
        self.facts.role
    }

    /// What it moves.
    pub const fn side(&self) -> Side {
        self.facts.side
    }

    /// How it moves and how it is read.
    pub const fn motion(&self) -> &Motion {
        &self.facts.motion
    }

    /// Its dial, if it slides.
    pub const fn slide(&self) -> Option<&SlideScale> {
        match &self.facts.motion {
            Motion::Slide(scale) => Some(scale),
            Motion::Swivel(_) => None,
        }
    }

    /// Its circle, if it turns.
    pub const fn swivel(&self) -> Option<&SwivelScale> {
        match &self.facts.motion {
            Motion::Swivel(scale) => Some(scale),
            Motion::Slide(_) => None,
        }
    }

    /// Where it reads 0, in words.
    pub fn zero(&self) -> &str {
        &self.facts.zero
    }

    /// Which way its reading grows, in words.
    pub fn positive(&self) -> &str {
        &self.facts.positive
    }

    /// Which way its reading grows; none where the words are none of the list's.
    pub fn grows(&self) -> Option<Grows> {
        grows(self.facts.role, &self.facts.positive)
    }

    /// Where it reads 0; none where the words are none of the list's.
    pub fn reads_zero(&self) -> Option<ReadsZero> {
        reads_zero(self.facts.role, &self.facts.zero)
    }

    /// Where the head swivel reads 0; none for any other axis.
    pub fn head_zero(&self) -> Option<HeadZero> {
        match self.facts.role {
            AxisRole::HeadSwivel => HeadZero::from_name(&self.facts.zero),
            _ => None,
        }
    }

    /// The smallest amount a person can set: a vernier's division or else a division, halved
    /// where this person sets half divisions by eye.
    pub fn finest(&self) -> Finest {
        match &self.facts.motion {
            Motion::Slide(scale) => Finest::Length(scale.finest()),
            Motion::Swivel(scale) => Finest::Angle(scale.finest()),
        }
    }
}
