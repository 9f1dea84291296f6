//! The routes that a dull cutter can take.

use geometry::Length;

use crate::learn::Lives;

/// What can be done with a dull cutter.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Route {
    /// Regrind the relief on the periphery: the diameter shrinks.
    Diameter,
    /// Regrind the rake face: the size is nearly kept.
    Face,
    /// Regrind the end teeth only: the length shrinks.
    EndOnly,
    /// Cut off the bad end, then regrind end and periphery.
    CutBack,
    /// Grind new flutes.
    Reflute,
    /// Not worth more work.
    Scrap,
}

impl Route {
    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Diameter => "regrind on the diameter",
            Self::Face => "regrind on the face",
            Self::EndOnly => "regrind the end only",
            Self::CutBack => "cut back, then regrind on the diameter",
            Self::Reflute => "reflute",
            Self::Scrap => "scrap",
        }
    }

    /// The words used in a table of routes.
    pub const fn short_name(self) -> &'static str {
        match self {
            Self::Diameter => "diameter",
            Self::Face => "face",
            Self::EndOnly => "end only",
            Self::CutBack => "cut back",
            Self::Reflute => "reflute",
            Self::Scrap => "scrap",
        }
    }

    /// Whether the periphery is ground on this route.
    pub const fn grinds_periphery(self) -> bool {
        matches!(self, Self::Diameter | Self::CutBack)
    }
}

/// What one route would make of the cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct RouteView {
    /// The route.
    pub route: Route,
    /// Whether it can be taken.
    pub possible: bool,
    /// Diameter afterwards.
    pub diameter_after: Option<Length>,
    /// Length of flute afterwards.
    pub flute_after: Option<Length>,
    /// Ordinary regrinds left after this one.
    pub lives_left: Option<u32>,
    /// The same with its range and where it comes from, on routes that live on the diameter.
    pub lives: Option<Lives>,
    /// Why it can or cannot be taken, and what it costs.
    pub reason: String,
}

impl RouteView {
    pub(crate) fn no(route: Route, reason: impl Into<String>) -> Self {
        Self {
            route,
            possible: false,
            diameter_after: None,
            flute_after: None,
            lives_left: None,
            lives: None,
            reason: reason.into(),
        }
    }
}
