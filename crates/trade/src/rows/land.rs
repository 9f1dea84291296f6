//! Widths of the primary land.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::Span;
use crate::tables::Tables;
use crate::words::WorkGroup;
use geometry::Length;

noun! {
    /// The width of the primary land.
    pub struct LandRow in Lands / lands {
        key {
            /// What the cutter cuts.
            work: WorkGroup,
            /// The cutter's diameters; a single one is a listed diameter.
            diameters: Span<Length>,
        }
        value {
            /// The width, from the edge to the secondary.
            land: Span<Length>,
        }
    }
}

impl Tables {
    /// The width of the land for a cutter of this diameter on this work; the row for any work
    /// stands in where none speaks of it. None beyond a factor of four outside the listed ones.
    pub fn land(&self, diameter: Length, work: WorkGroup) -> Option<Lookup<'_, LandRow>> {
        let general = |row: &LandRow| work.is_covered_by(row.work).then_some(row.work != work);
        self.lands.pick_by_diameter(diameter, |row| row.diameters, general)
    }
}
