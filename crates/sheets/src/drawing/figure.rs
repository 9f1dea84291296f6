//! Figures and names, as they are written on drawings.

use geometry::{Angle, Length, System};
use shop::plan::RegrindPlan;
use shop::record::Hand;

/// A length with its unit.
pub(super) fn length(value: Length, system: System) -> String {
    value.show(system).to_string()
}

/// An angle to a tenth of a degree.
pub(super) fn angle(value: Angle) -> String {
    let tenths = (value.degrees() * 10.0).round() / 10.0;
    // Adding zero turns a minus zero round.
    format!("{:.1}°", tenths + 0.0)
}

/// The end of the cutter from which both views across its axis are seen.
pub(super) fn seen_from(plan: &RegrindPlan) -> &'static str {
    match plan.request.cutter.hand() {
        Hand::Right => "seen from the shank end",
        Hand::Left => "seen from the tip end",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn angles_are_short() {
        let shown = |degrees: f64| angle(Angle::from_degrees(degrees));
        assert_eq!([10.04, -0.01, 7.25].map(shown), ["10.0°", "0.0°", "7.3°"]);
    }
}
