//! How far a hand is ordinarily off with each setting.

use crate::lookup::Lookup;
use crate::quantity::Share;
use crate::row::noun;
use crate::tables::Tables;
use crate::words::named;
use geometry::{Angle, Length};

named! {
    /// A setting or a measurement that can be off.
    pub enum StudiedSetting as "setting" {
        /// The head's swivel.
        HeadAngle = "head angle",
        /// The relief of the primary, by whatever sets it.
        Relief = "relief setting",
        /// The relief of the secondary.
        SecondaryRelief = "secondary relief setting",
        /// The rest's height, where it is set to centre.
        RestOnCentre = "rest on centre",
        /// The wheel's height, where it is set to centre.
        WheelOnCentre = "wheel on centre",
        /// The rest along the cutter, from the wheel's corner.
        RestAlong = "rest along",
        /// The work fixture, square to the travel.
        Squareness = "fixture squareness",
        /// The first touch, from which the feed is counted.
        FirstTouch = "first touch",
        /// The mark to which the wheel is fed.
        FeedMark = "feed mark",
        /// Lost motion of the cross feed that is not taken up.
        Backlash = "backlash",
        /// First touch and mark of the secondary.
        SecondaryFeed = "secondary feed",
        /// Full swing of the shank in its fixture.
        ShankRunout = "shank runout",
        /// The wheel's corner, rounder than it was trued.
        WheelCorner = "wheel corner",
        /// The face as dressed.
        FaceWidth = "face width",
        /// The wheel's diameter as measured.
        WheelDiameter = "wheel diameter",
        /// The cutter's helix as measured.
        Helix = "helix",
        /// The cutter's diameter as measured.
        Diameter = "diameter",
    }
}

noun! {
    /// How far a hand is ordinarily off: one standard deviation, of three independent parts.
    pub struct HabitRow in Habits / habits {
        key {
            /// The setting.
            setting: StudiedSetting,
        }
        value {
            /// The part that goes with the finest division of its dial.
            by_division: Option<Share>,
            /// The part that goes with the backlash of its dial.
            by_backlash: Option<Share>,
            /// The part that no dial shows, of a length.
            amount: Option<Length>,
            /// The part that no dial shows, of an angle.
            angle: Option<Angle>,
        }
    }
}

impl Tables {
    /// How far a hand is ordinarily off with that setting.
    pub fn habit(&self, setting: StudiedSetting) -> Option<Lookup<'_, HabitRow>> {
        self.habits.exact(|row| row.setting == setting)
    }
}
