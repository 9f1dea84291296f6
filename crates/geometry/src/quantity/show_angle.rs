//! Showing an angle to a person, in decimal degrees or in degrees and minutes.

use std::fmt;

use super::angle::Angle;
use super::show_length::{decimals_of_step, is_whole, plain_decimal, write_whole};

/// The decimals of a degree that are shown when nothing else is known.
const DECIMALS: usize = 2;

/// The decimals of a degree up to which a step is taken to be decimal.
const DECIMALS_OF_STEP: usize = 4;

/// An angle written for a person; [`Display`](fmt::Display) gives the text, padded as asked.
///
/// ```
/// use geometry::Angle;
///
/// let shown = Angle::from_degrees(9.25).show();
/// assert_eq!(shown.as_str(), "9.25 deg");
/// assert_eq!(format!("{shown:>10}"), "  9.25 deg");
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct ShownAngle {
    text: String,
}

impl ShownAngle {
    /// The text.
    pub fn as_str(&self) -> &str {
        &self.text
    }

    fn decimal(angle: Angle, decimals: usize) -> Self {
        let text = if angle.is_finite() {
            format!("{} deg", plain_decimal(angle.degrees(), decimals))
        } else {
            "no angle".to_owned()
        };
        Self { text }
    }
}

impl fmt::Display for ShownAngle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write_whole(&self.text, f)
    }
}

impl Angle {
    /// Shown in decimal degrees to 2 decimals.
    ///
    /// An angle that is no number or endless is shown as `no angle`.
    ///
    /// ```
    /// use geometry::Angle;
    ///
    /// assert_eq!(Angle::from_minutes(555.0).show().to_string(), "9.25 deg");
    /// assert_eq!(Angle::from_degrees(-0.001).show().to_string(), "0.00 deg");
    /// ```
    pub fn show(self) -> ShownAngle {
        ShownAngle::decimal(self, DECIMALS)
    }

    /// Shown as the nearest multiple of `step`, the smallest amount that a person can set.
    ///
    /// A step of whole minutes means a vernier in minutes, and gives degrees and minutes, unless
    /// it is a multiple of 0.1 or of 0.25 degrees. Any other step gives decimal degrees with the
    /// decimals that it needs. Without a positive step it is [`Angle::show`].
    ///
    /// ```
    /// use geometry::Angle;
    ///
    /// let angle = Angle::from_degrees(9.26);
    /// let shown_to = |step: Angle| angle.show_to(step).to_string();
    /// assert_eq!(shown_to(Angle::from_minutes(5.0)), "9 deg 15 min");
    /// assert_eq!(shown_to(Angle::from_degrees(0.25)), "9.25 deg");
    /// assert_eq!(shown_to(Angle::from_degrees(0.5)), "9.5 deg");
    /// assert_eq!(shown_to(Angle::from_degrees(0.1)), "9.3 deg");
    /// assert_eq!(shown_to(Angle::from_degrees(1.0)), "9 deg");
    /// ```
    pub fn show_to(self, step: Angle) -> ShownAngle {
        if !(step.is_finite() && step > Self::ZERO) {
            return self.show();
        }
        let snapped = self.snapped_to(step);
        if snapped.is_finite() && is_vernier(step) {
            return ShownAngle { text: degrees_and_minutes(snapped) };
        }
        ShownAngle::decimal(snapped, decimals_of_step(step.degrees(), DECIMALS_OF_STEP))
    }
}

/// Whether a dial with this step is marked in minutes: 0.1 deg is 6 minutes and 0.25 deg is 15,
/// and people call both by their degrees.
fn is_vernier(step: Angle) -> bool {
    let minutes = step.degrees() * 60.0;
    is_whole(minutes) && !is_whole(minutes / 6.0) && !is_whole(minutes / 15.0)
}

fn degrees_and_minutes(angle: Angle) -> String {
    let minutes = (angle.degrees() * 60.0).round();
    let sign = if minutes < 0.0 { "-" } else { "" };
    let degrees = (minutes.abs() / 60.0).floor();
    let minutes = minutes.abs() - degrees * 60.0;
    if degrees == 0.0 {
        // Nobody writes a degree that is minus zero, so the sign goes to the minutes.
        format!("{sign}{minutes} min")
    } else {
        format!("{sign}{degrees} deg {minutes} min")
    }
}
