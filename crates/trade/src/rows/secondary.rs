//! Secondary relief, behind the primary land.

use crate::cell::Cell;
use crate::fault::Fault;
use crate::lookup::{Bearing, Lookup};
use crate::row::noun;
use crate::span::Range;
use crate::tables::Tables;
use crate::words::WorkGroup;
use geometry::Angle;

/// A secondary relief as sources give it: by itself, or as so much more than the primary.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Secondary {
    /// The angle itself.
    Angle(Range<Angle>),
    /// What it has above the primary.
    AbovePrimary(Range<Angle>),
}

impl Secondary {
    /// The secondary relief that belongs to this primary.
    pub fn for_primary(self, primary: Angle) -> Range<Angle> {
        match self {
            Self::Angle(range) => range,
            Self::AbovePrimary(more) => {
                Range { least: primary + more.least, greatest: primary + more.greatest }
            }
        }
    }
}

impl Cell for Secondary {
    fn from_text(text: &str) -> Result<Self, Fault> {
        match text.trim().strip_prefix("primary plus ") {
            Some(more) => Range::from_text(more).map(Self::AbovePrimary),
            None => Range::from_text(text).map(Self::Angle),
        }
    }
}

noun! {
    /// Secondary relief.
    pub struct SecondaryRow in Secondary / secondary {
        key {
            /// What the cutter cuts.
            work: WorkGroup,
        }
        value {
            /// The secondary relief.
            secondary: Secondary,
        }
    }
}

impl Tables {
    /// The secondary relief on this work; the row for any work stands in where none speaks of it.
    pub fn secondary(&self, work: WorkGroup) -> Option<Lookup<'_, SecondaryRow>> {
        self.secondary.pick(|row| {
            let bears = work.is_covered_by(row.work);
            bears.then_some(Bearing::EXACT.or_general(row.work != work))
        })
    }
}
