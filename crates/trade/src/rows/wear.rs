//! Wear lands at which to pull a cutter.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::Span;
use crate::tables::Tables;
use crate::words::named;
use geometry::Length;

named! {
    /// What a limit of wear is meant for.
    pub enum WearKind as "kind of wear" {
        /// A finishing cutter in production.
        Finishing = "finishing",
        /// Even wear along the edge, at the end of a tool-life test.
        Uniform = "uniform",
        /// Wear at one place, at the end of a tool-life test.
        Localised = "localised",
    }
}

noun! {
    /// The wear land at which to pull a cutter.
    pub struct WearRow in Wear / wear {
        key {
            /// What the limit is meant for.
            kind: WearKind,
            /// The cutter's diameters.
            diameters: Span<Length>,
        }
        value {
            /// The width of the wear land.
            wear_land: Length,
        }
    }
}

impl Tables {
    /// The wear land of this kind at which to pull a cutter of this diameter; none where the
    /// source stops short of it.
    pub fn wear_limit(&self, kind: WearKind, diameter: Length) -> Option<Lookup<'_, WearRow>> {
        let of_kind = |row: &WearRow| (row.kind == kind).then_some(false);
        self.wear.pick_by_diameter(diameter, |row| row.diameters, of_kind)
    }
}
