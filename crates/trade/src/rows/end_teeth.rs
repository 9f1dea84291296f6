//! End and side teeth: how much they dish toward the centre, and their relief.

use crate::lookup::{Bearing, Lookup};
use crate::row::noun;
use crate::rows::Secondary;
use crate::span::{Amount, Range};
use crate::tables::Tables;
use crate::words::{WorkGroup, named};
use geometry::Angle;

named! {
    /// The teeth that are not on the periphery.
    pub enum EndTeeth as "kind of teeth" {
        /// The end teeth of an end mill.
        EndMill = "end mill",
        /// The side teeth of a side, face or shell mill.
        SideMill = "side mill",
    }
}

noun! {
    /// The dish of end or side teeth: lower at the centre than at the corner.
    pub struct DishRow in Dish / dish {
        key {
            /// The teeth.
            teeth: EndTeeth,
        }
        value {
            /// The dish, as an angle or as the depth at the centre.
            dish: Amount,
        }
    }
}

noun! {
    /// The relief of end or side teeth.
    pub struct EndReliefRow in EndRelief / end_relief {
        key {
            /// The teeth.
            teeth: EndTeeth,
            /// What the cutter cuts.
            work: WorkGroup,
        }
        value {
            /// The relief angle.
            relief: Range<Angle>,
        }
    }
}

noun! {
    /// The secondary relief of end or side teeth.
    pub struct EndSecondaryRow in EndSecondary / end_secondary {
        key {
            /// The teeth.
            teeth: EndTeeth,
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
    /// The secondary relief of these teeth on this work; the row for any work stands in where none
    /// speaks of it.
    pub fn end_secondary(
        &self,
        teeth: EndTeeth,
        work: WorkGroup,
    ) -> Option<Lookup<'_, EndSecondaryRow>> {
        self.end_secondary.pick(|row| {
            let bears = row.teeth == teeth && work.is_covered_by(row.work);
            bears.then_some(Bearing::EXACT.or_general(row.work != work))
        })
    }

    /// The dish of these teeth.
    pub fn dish(&self, teeth: EndTeeth) -> Option<Lookup<'_, DishRow>> {
        self.dish.exact(|row| row.teeth == teeth)
    }

    /// The relief of these teeth on this work; the row for any work stands in where none speaks
    /// of it.
    pub fn end_relief(&self, teeth: EndTeeth, work: WorkGroup) -> Option<Lookup<'_, EndReliefRow>> {
        self.end_relief.pick(|row| {
            let bears = row.teeth == teeth && work.is_covered_by(row.work);
            bears.then_some(Bearing::EXACT.or_general(row.work != work))
        })
    }
}
