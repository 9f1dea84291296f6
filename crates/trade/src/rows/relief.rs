//! Primary relief on peripheral teeth.

use crate::cell::Cell;
use crate::fault::Fault;
use crate::lookup::Lookup;
use crate::material::ToolMaterial;
use crate::row::noun;
use crate::span::{Range, Span};
use crate::tables::Tables;
use crate::words::WorkGroup;
use geometry::{Angle, Length};

/// Either any one, written `any …`, or this one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AnyOr<T> {
    /// Any one.
    Any,
    /// This one.
    One(T),
}

impl<T: PartialEq> AnyOr<T> {
    /// Whether it takes in that one.
    pub fn takes_in(&self, other: &T) -> bool {
        match self {
            Self::Any => true,
            Self::One(one) => one == other,
        }
    }
}

impl Cell for AnyOr<ToolMaterial> {
    fn from_text(text: &str) -> Result<Self, Fault> {
        if text == "any material" {
            Ok(Self::Any)
        } else {
            ToolMaterial::from_text(text).map(Self::One)
        }
    }
}

noun! {
    /// Primary relief, with the indicator drop that checks it where the source prints one.
    pub struct ReliefRow in Relief / relief {
        key {
            /// The cutter's material.
            material: AnyOr<ToolMaterial>,
            /// What the cutter cuts.
            work: WorkGroup,
            /// The cutter's diameters; a single one is a listed diameter.
            diameters: Span<Length>,
        }
        value {
            /// The primary relief angle.
            primary: Range<Angle>,
            /// The checking distance behind the edge.
            distance: Option<Length>,
            /// The least and greatest indicator drop over that distance.
            drop: Option<Range<Length>>,
            /// The greatest width of land.
            greatest_land: Option<Length>,
        }
    }
}

impl ReliefRow {
    /// The relief to plan with: the middle of the row's range.
    ///
    /// **Source** \[common-practice\] half-way between the printed ends. **Departs** nowhere.
    /// **Error** up to half of the printed range: 2 degrees in the bundled rows, and 3.5 in the one
    /// for stainless. **Domain** any row.
    pub fn recommended(&self) -> Angle {
        self.primary.middle()
    }
}

impl Tables {
    /// The primary relief for a cutter of this diameter and material on this work. Where no row
    /// speaks of that work, the row for any work stands in; where no row lists the diameter, the
    /// nearest by ratio. None beyond a factor of four outside the listed diameters.
    pub fn relief(
        &self,
        diameter: Length,
        material: ToolMaterial,
        work: WorkGroup,
    ) -> Option<Lookup<'_, ReliefRow>> {
        let general = |row: &ReliefRow| {
            let bears = row.material.takes_in(&material) && work.is_covered_by(row.work);
            bears.then_some(row.work != work)
        };
        self.relief.pick_by_diameter(diameter, |row| row.diameters, general)
    }
}

impl WorkGroup {
    /// Whether a row for `row` says anything about this work.
    pub(crate) fn is_covered_by(self, row: Self) -> bool {
        row == self || row == Self::Any
    }
}
