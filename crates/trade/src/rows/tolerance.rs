//! Tolerances of a reground cutter.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::Span;
use crate::tables::Tables;
use crate::words::named;
use geometry::Length;

named! {
    /// What a tolerance bounds.
    pub enum ToleranceKind as "kind of tolerance" {
        /// The diameter of a finishing cutter.
        FinisherDiameter = "finisher diameter",
        /// The total indicator reading over the edges of a finishing cutter.
        FinisherRunout = "finisher runout",
        /// The same of a roughing cutter.
        RougherRunout = "rougher runout",
        /// The taper, smaller toward the shank.
        BackTaper = "back taper",
    }
}

noun! {
    /// A tolerance.
    pub struct ToleranceRow in Tolerances / tolerances {
        key {
            /// What it bounds.
            kind: ToleranceKind,
            /// The cutter's diameters.
            diameters: Span<Length>,
        }
        value {
            /// How far above the size, where it bounds a size.
            above: Option<Length>,
            /// How far below the size, where it bounds a size.
            below: Option<Length>,
            /// The greatest value, where it bounds an error.
            at_most: Option<Length>,
            /// The length over which that value is allowed, where it is a taper.
            over_length: Option<Length>,
        }
    }
}

impl Tables {
    /// The tolerance of this kind for a cutter of this diameter.
    pub fn tolerance(
        &self,
        kind: ToleranceKind,
        diameter: Length,
    ) -> Option<Lookup<'_, ToleranceRow>> {
        let of_kind = |row: &ToleranceRow| (row.kind == kind).then_some(false);
        self.tolerances.pick_by_diameter(diameter, |row| row.diameters, of_kind)
    }
}
