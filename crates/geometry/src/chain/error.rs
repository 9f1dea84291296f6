//! Why settings cannot be had.

use thiserror::Error;

use super::joint::Settings;
use crate::quantity::Angle;

/// Why no settings give what is wanted. Joints are counted from 0; messages count from 1.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum ChainError {
    /// A joint is named that is not there.
    #[error("there is no joint {}: the machine has {count}", .joint + 1)]
    NoSuchJoint {
        /// The joint named.
        joint: usize,
        /// How many there are.
        count: usize,
    },
    /// A joint is to decide a direction and cannot.
    #[error("joint {} turns nothing that is asked about", .joint + 1)]
    Idle {
        /// The joint.
        joint: usize,
    },
    /// Nothing is wanted, or nothing may move.
    #[error("name at least one relation and one free swivel")]
    Nothing,
    /// More swivels are free than the relations decide.
    #[error("{free} swivels are free and {decided} decide: hold the others where they stand")]
    Loose {
        /// How many are free.
        free: usize,
        /// How many the relations decide.
        decided: usize,
    },
    /// More swivels than can be searched at once.
    #[error("{free} swivels are free: at most {most} can be searched at once")]
    TooMany {
        /// How many are free.
        free: usize,
        /// How many can be.
        most: usize,
    },
    /// Two relations contradict each other, whatever the settings.
    #[error(
        "two directions stand at {first_deg:.3} deg to each other on one side and at \
         {second_deg:.3} deg on the other: no setting can bring both pairs together"
    )]
    Contradiction {
        /// The angle between them on one side.
        first_deg: f64,
        /// On the other.
        second_deg: f64,
    },
    /// The free swivels together cannot turn far enough, wherever their stops are.
    #[error(
        "the free swivels come no nearer than {:.3} deg",
        .short.degrees()
    )]
    OutOfReach {
        /// The free joints.
        free: Vec<usize>,
        /// By how much the best settings miss.
        short: Angle,
        /// The best settings.
        nearest: Settings,
    },
    /// There are settings, and each lies beyond a stop.
    #[error("joint {} would have to go {:.3} deg beyond its stop", .joint + 1, .by.degrees())]
    BeyondStop {
        /// The joint that stops the settings that lie the least beyond.
        joint: usize,
        /// How far beyond.
        by: Angle,
        /// Those settings.
        nearest: Settings,
    },
}
