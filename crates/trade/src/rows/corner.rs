//! The corner between end and periphery.

use crate::lookup::{Bearing, Lookup};
use crate::row::noun;
use crate::span::Range;
use crate::tables::Tables;
use crate::words::{WorkGroup, named};
use geometry::{Angle, Length};

named! {
    /// How a corner is broken.
    pub enum CornerForm as "form of corner" {
        /// By a flat.
        Chamfer = "chamfer",
        /// By a round.
        Radius = "radius",
    }
}

noun! {
    /// The corner between end and periphery.
    pub struct CornerRow in Corner / corner {
        key {
            /// The form.
            form: CornerForm,
            /// What the cutter cuts.
            work: WorkGroup,
        }
        value {
            /// Its width, where the cutter does not settle it.
            width: Option<Range<Length>>,
            /// Its angle against the end, where it has one.
            angle: Option<Range<Angle>>,
            /// Its relief.
            relief: Range<Angle>,
        }
    }
}

impl Tables {
    /// The corner of this form on this work; the row for any work stands in where none speaks of
    /// it.
    pub fn corner(&self, form: CornerForm, work: WorkGroup) -> Option<Lookup<'_, CornerRow>> {
        self.corner.pick(|row| {
            let bears = row.form == form && work.is_covered_by(row.work);
            bears.then_some(Bearing::EXACT.or_general(row.work != work))
        })
    }
}
