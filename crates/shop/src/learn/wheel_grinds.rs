//! A wheel's own grinds, as the book kept them.

use geometry::Length;
use geometry::quantity::System;

use crate::error::ShopError;

/// Travels and depths beyond this are a slip of the unit (own choice, no source).
const DEPTH_MM_MAX: f64 = 10.0;

/// Least feed from which a ratio is taken: below it the reading of the size decides alone (own
/// choice, no source).
const FED_MM_MIN: f64 = 0.005;

/// What was read on one wheel over one cutter, or over several.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelGrind {
    /// What the book calls the entry.
    pub entry: String,
    /// What should have come off the radius for the way the slide was fed after the kiss: the feed
    /// times the plan's radius for each length of feed.
    pub fed: Option<Length>,
    /// What came off the radius.
    pub came_off: Option<Length>,
    /// What the grinding face lost, dressing left out.
    pub face_lost: Option<Length>,
    /// Over how many cutters it lost that.
    pub cutters: u32,
}

/// A wheel's own grinds, each checked.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WheelHistory {
    grinds: Vec<WheelGrind>,
}

impl WheelHistory {
    /// Takes the grinds, in any order.
    ///
    /// # Errors
    /// `Invalid` where an entry holds no length, a feed or a stock below zero, or counts no cutter.
    pub fn new(grinds: Vec<WheelGrind>) -> Result<Self, ShopError> {
        let mut history = Self::default();
        grinds.into_iter().try_for_each(|grind| history.push(grind))?;
        Ok(history)
    }

    /// Takes one grind more.
    ///
    /// # Errors
    /// `Invalid` where it cannot be; the history is then as it was.
    pub fn push(&mut self, grind: WheelGrind) -> Result<(), ShopError> {
        check(&grind, self.grinds.len())?;
        self.grinds.push(grind);
        Ok(())
    }

    /// The grinds.
    pub fn grinds(&self) -> &[WheelGrind] {
        &self.grinds
    }
}

impl WheelGrind {
    /// Feed and what came off, where both are known and the feed is long enough to tell.
    pub(super) fn fed_and_came_off(&self) -> Option<(Length, Length)> {
        let fed = self.fed.filter(|fed| fed.mm() >= FED_MM_MIN)?;
        Some((fed, self.came_off?))
    }
}

fn check(grind: &WheelGrind, at: usize) -> Result<(), ShopError> {
    let longest = Length::from_mm(DEPTH_MM_MAX);
    let depths = [("fed", grind.fed), ("came_off", grind.came_off), ("face_lost", grind.face_lost)];
    for (name, depth) in depths {
        // A face that was read twice may seem to have grown by a hair.
        let least = if name == "face_lost" { -longest } else { Length::ZERO };
        let is_sound = |depth: &Length| depth.is_finite() && *depth >= least && *depth <= longest;
        if let Some(wrong) = depth.filter(|depth| !is_sound(depth)) {
            let (shown, most) = (wrong.show_both(System::Inch), longest.show_both(System::Inch));
            let reason = format!("entry {}: {shown}, but it is from 0 to {most}", grind.entry);
            return Err(ShopError::invalid(format!("grinds[{at}].{name}"), reason));
        }
    }
    if grind.cutters == 0 {
        let reason = format!("entry {}: 0, but it was read over one cutter at least", grind.entry);
        return Err(ShopError::invalid(format!("grinds[{at}].cutters"), reason));
    }
    Ok(())
}
