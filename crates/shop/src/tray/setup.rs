//! The set-up that a cutter wants, and how long each change of it takes.

use geometry::{Angle, Length};
use trade::{Minutes, SetupChange};

use crate::context::Ctx;
use crate::cost::not_negative;
use crate::error::ShopError;
use crate::record::Hand;

/// How many parts a set-up has.
pub(super) const PARTS: usize = SetupChange::ALL.len();

/// The set-up that a cutter wants. Names are the shop's own: two that are written alike are one.
#[derive(Clone, Debug, PartialEq)]
pub struct TraySetup {
    /// The wheel.
    pub wheel: String,
    /// The collet, sleeve or pair of centres that holds the cutter.
    pub holding: String,
    /// The head's angle.
    pub head_angle: Angle,
    /// The finger of the tooth rest.
    pub rest_finger: String,
    /// Hand of cut.
    pub hand: Hand,
    /// The relief setting.
    pub relief_setting: Angle,
}

/// A cutter of the tray.
#[derive(Clone, Debug, PartialEq)]
pub struct TrayJob {
    /// The cutter's number.
    pub number: String,
    /// The set-up that it wants.
    pub setup: TraySetup,
    /// The diameter to which it is expected to be ground, by its wear or what practice takes.
    pub size_after: Option<Length>,
    /// Why it will not clean up, where it will not.
    pub will_not_clean_up: Option<String>,
    /// Whether the set-up is that of its kept plan, and not that of practice.
    pub by_plan: bool,
}

/// How long each change of the set-up takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChangeTimes {
    times: [Minutes; PARTS],
}

impl ChangeTimes {
    /// Each change with its time.
    ///
    /// # Errors
    /// `Invalid` where a time is no number or below zero.
    pub fn new(time: impl Fn(SetupChange) -> Minutes) -> Result<Self, ShopError> {
        let mut times = [Minutes::default(); PARTS];
        for (slot, change) in times.iter_mut().zip(SetupChange::ALL) {
            *slot = time(*change);
            not_negative(change.name(), slot.minutes())?;
        }
        Ok(Self { times })
    }

    /// The times of the table, which a shop's own go above.
    ///
    /// # Errors
    /// `Invalid` where the table has no row for a change.
    pub fn of_tables(ctx: &Ctx<'_>) -> Result<Self, ShopError> {
        let time = |change| ctx.tables.minutes(change).map(|row| row.chosen.value.minutes);
        if let Some(change) = SetupChange::ALL.iter().find(|change| time(**change).is_none()) {
            let reason = format!("the table has no row for {change}: put one into the shop table");
            return Err(ShopError::invalid("minutes", reason));
        }
        Self::new(|change| time(change).unwrap_or_default())
    }

    /// In whole seconds, so that sums are exact.
    pub(super) fn seconds(&self) -> [u32; PARTS] {
        self.times.map(|time| (time.minutes() * 60.0).round() as u32)
    }
}

/// One part of a set-up, made comparable: a name, or an angle in steps.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Part {
    Name(String),
    Steps(i64),
}

impl TraySetup {
    /// Its parts in the order of the changes, angles in whole steps.
    pub(super) fn parts(&self, step: Angle) -> [Part; PARTS] {
        let steps = |angle: Angle| Part::Steps((angle / step).round() as i64);
        let name = |name: &str| Part::Name(name.trim().to_owned());
        let part = |change: &SetupChange| match change {
            SetupChange::Wheel => name(&self.wheel),
            SetupChange::Holding => name(&self.holding),
            SetupChange::HeadAngle => steps(self.head_angle),
            SetupChange::RestFinger => name(&self.rest_finger),
            SetupChange::Hand => name(self.hand.name()),
            SetupChange::ReliefSetting => steps(self.relief_setting),
        };
        std::array::from_fn(|at| SetupChange::ALL.get(at).map_or(Part::Steps(0), part))
    }

    pub(super) fn check(&self, number: &str) -> Result<(), ShopError> {
        let angles = [("head_angle", self.head_angle), ("relief_setting", self.relief_setting)];
        match angles.iter().find(|(_, angle)| !angle.is_finite()) {
            None => Ok(()),
            Some((name, _)) => {
                let reason = format!("cutter {number}: it is no angle");
                Err(ShopError::invalid(*name, reason))
            }
        }
    }
}
