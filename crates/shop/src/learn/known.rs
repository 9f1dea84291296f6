//! What a shop knows of a cutter and of its wheels before it plans.

use std::collections::BTreeMap;

use super::grinds::CutterHistory;
use super::wheel_grinds::WheelHistory;

/// What is known beforehand, from the book or from a file. The default is that nothing is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Known {
    /// The cutter's own grinds.
    pub cutter: CutterHistory,
    /// The wheels' own grinds, each under the wheel's number.
    pub wheels: BTreeMap<String, WheelHistory>,
}

impl Known {
    /// What is known of the wheel of this number; an empty history where nothing is.
    pub fn wheel(&self, number: &str) -> WheelHistory {
        self.wheels.get(number).cloned().unwrap_or_default()
    }

    /// Whether nothing at all is known.
    pub fn is_empty(&self) -> bool {
        let none_of_wheels = self.wheels.values().all(|history| history.grinds().is_empty());
        self.cutter.grinds().is_empty() && none_of_wheels
    }
}
