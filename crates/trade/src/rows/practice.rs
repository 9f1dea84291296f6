//! Practice in setting up a cutter grinder.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::Amount;
use crate::tables::Tables;
use crate::words::named;

named! {
    /// A point of practice.
    pub enum PracticeItem as "point of practice" {
        /// How far from square a cup's head is swivelled.
        CupHeadOffSquare = "cup head off square",
        /// How far inside the outside of the wheel's face the tooth rest stands.
        RestFromOutside = "rest from outside of face",
        /// How wide the grinding face of the wheel may be.
        GreatestFace = "greatest face width",
        /// The supply of an air-floated spindle fixture.
        AirSupply = "air supply",
        /// Which pulley a small wheel wants.
        PulleyForSmallWheel = "pulley for small wheel",
        /// What to do after feeding too far.
        Overfed = "overfed",
        /// What to do about the wheel's wear from tooth to tooth.
        TeethGrow = "teeth grow",
        /// What metal built up on the primary says of the clearance.
        MetalBuiltUp = "metal built up on land",
        /// What an edge broken down says of the clearance.
        EdgeBrokenDown = "edge broken down",
        /// What an edge rounded over but whole says of the clearance.
        EdgeRounded = "edge rounded",
        /// What a rubbed heel says of the clearance.
        HeelRubbed = "heel rubbed",
        /// What chipping says of the clearance.
        Chipped = "chipped",
        /// What worn or broken corners say of the clearance.
        CornerGone = "corner gone",
        /// How far the wheel stays from the teeth that are not being ground, and from the shank.
        WheelFromTeeth = "wheel from other teeth",
        /// How far the wheel, its flange and its spindle stay from the work head.
        WheelFromHead = "wheel from work head",
        /// How far the finger of the tooth rest stays from the wheel.
        FingerFromWheel = "finger from wheel",
    }
}

noun! {
    /// A point of practice.
    pub struct PracticeRow in Practice / practice {
        key {
            /// The point.
            item: PracticeItem,
        }
        value {
            /// How much, where it has a measure.
            amount: Option<Amount>,
            /// The measure that must never be passed, where there is one.
            never_over: Option<Amount>,
            /// What to do.
            advice: String,
        }
    }
}

impl Tables {
    /// That point of practice.
    pub fn practice(&self, item: PracticeItem) -> Option<Lookup<'_, PracticeRow>> {
        self.practice.exact(|row| row.item == item)
    }
}
