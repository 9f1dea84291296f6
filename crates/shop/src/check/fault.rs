//! What can be wrong with a grind, and how large each may be taken to be before any reading.

/// What can be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Fault {
    /// Every edge stands off the planned size by the same amount.
    Size,
    /// The edges stand farther out toward one end.
    Taper,
    /// The teeth were ground round an axis that is not the shank's.
    Runout,
    /// The teeth grow round the cutter in the order of grinding.
    Drift,
    /// One tooth was off its rest, or slipped.
    Slip(u32),
    /// The relief is not the one that was set.
    Clearance,
    /// The wheel's leading corner is rounder than the plan takes it to be.
    Corner,
}

impl Fault {
    /// The words used on sheets.
    pub fn name(self) -> String {
        match self {
            Self::Size => "size".to_owned(),
            Self::Taper => "taper".to_owned(),
            Self::Runout => "runout".to_owned(),
            Self::Drift => "drift round the cutter".to_owned(),
            Self::Slip(tooth) => format!("tooth {tooth} slipped"),
            Self::Clearance => "clearance".to_owned(),
            Self::Corner => "wheel corner".to_owned(),
        }
    }

    /// The word for the kind of fault, the same for every tooth.
    pub const fn kind(self) -> &'static str {
        match self {
            Self::Size => "size",
            Self::Taper => "taper",
            Self::Runout => "runout",
            Self::Drift => "drift",
            Self::Slip(_) => "slip",
            Self::Clearance => "clearance",
            Self::Corner => "corner",
        }
    }

    /// Whether its size is an angle, in degrees; otherwise it is a length, in millimetres.
    pub const fn is_angle(self) -> bool {
        matches!(self, Self::Clearance)
    }

    /// The largest size that a grind can be off by before something else must be wrong: the wrong
    /// cutter, the wrong unit, a misread scale (own choice, no source).
    pub(super) const fn most(self) -> f64 {
        match self {
            Self::Size | Self::Taper | Self::Runout | Self::Slip(_) => 0.3,
            Self::Drift => 0.12,
            Self::Clearance => 5.0,
            Self::Corner => 0.8,
        }
    }

    /// How often it is met, beforehand, as a probability (own choice, no source). That of a slip
    /// is shared out over the teeth.
    pub(super) const fn chance(self) -> f64 {
        match self {
            Self::Size => 0.2,
            Self::Taper | Self::Runout => 0.12,
            Self::Drift | Self::Clearance => 0.08,
            Self::Slip(_) => 0.06,
            Self::Corner => 0.03,
        }
    }

    /// Standard deviation of its size where it is met, in its own unit (own choice, no source). It
    /// decides no more than how far a reading must stand off before the fault is believed.
    pub(super) const fn spread(self) -> f64 {
        match self {
            Self::Size => 0.04,
            Self::Taper | Self::Slip(_) => 0.03,
            Self::Runout => 0.02,
            Self::Drift => 0.015,
            Self::Clearance => 1.5,
            Self::Corner => 0.15,
        }
    }
}
