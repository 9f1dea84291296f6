//! Truing and dressing of wheels.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::Amount;
use crate::tables::Tables;
use crate::words::{WheelFamily, named};

named! {
    /// A step of truing and dressing, in its order.
    pub enum DressingStep as "dressing step" {
        /// Bringing the face true.
        True = "true",
        /// The last passes.
        Finish = "finish",
        /// Passes without further feed.
        SparkOut = "spark out",
        /// Which way to go across the face.
        Direction = "direction",
        /// How wide to leave the face.
        FaceWidth = "face width",
        /// Opening the face so that it cuts.
        Dress = "dress",
    }
}

noun! {
    /// A step of truing and dressing.
    pub struct DressingRow in Dressing / dressing {
        key {
            /// The family of wheel.
            family: WheelFamily,
            /// The step.
            step: DressingStep,
        }
        value {
            /// How much, where the step has a measure.
            amount: Option<Amount>,
            /// What to do.
            advice: String,
        }
    }
}

impl Tables {
    /// One step for wheels of that family; none where the family has no such step.
    pub fn dressing(
        &self,
        family: WheelFamily,
        step: DressingStep,
    ) -> Option<Lookup<'_, DressingRow>> {
        self.dressing.exact(|row| row.family == family && row.step == step)
    }
}
