//! Fits that one bad reading cannot spoil: by naming it and setting it aside, or by giving every
//! reading less say the further off it stands.

mod heavy_tail;
mod outlier;

pub use heavy_tail::{HeavyTailFit, heavy_tail_fit};
pub use outlier::{OutlierRule, RobustFit, SetAside, set_aside};
