//! How much of a cutter's diameter may go before it is worn out.

use crate::lookup::Lookup;
use crate::quantity::Share;
use crate::row::noun;
use crate::span::Span;
use crate::tables::Tables;
use geometry::Length;

noun! {
    /// How much of its nominal diameter a cutter may lose.
    pub struct ShrinkRow in Shrink / shrink {
        key {
            /// The nominal diameters.
            diameters: Span<Length>,
        }
        value {
            /// The share of the nominal diameter that may go.
            shrink: Share,
        }
    }
}

/// The smallest useful diameter of a cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct SmallestDiameter<'t> {
    /// The diameter.
    pub diameter: Length,
    /// The row that it comes from.
    pub lookup: Lookup<'t, ShrinkRow>,
}

impl Tables {
    /// The smallest useful diameter of a cutter with this nominal one. None for a cutter below the
    /// table: its source holds a regrind worth while from 1/4 in up only.
    ///
    /// **Source** \[tips-051302\] nominal diameter less its share. **Departs** between two printed
    /// ranges, where the nearer one answers and says so. **Error** half a percent of the nominal
    /// diameter, as the shares are printed whole. **Domain** from 1/4 in up, by end mills.
    pub fn smallest_diameter(&self, nominal: Length) -> Option<SmallestDiameter<'_>> {
        let lookup = self.shrink.pick_by_diameter(nominal, |row| row.diameters, |_| Some(false))?;
        let left = 1.0 - lookup.chosen.value.shrink.of_one();
        Some(SmallestDiameter { diameter: nominal * left, lookup })
    }
}
