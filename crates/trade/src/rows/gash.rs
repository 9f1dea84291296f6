//! The gash in front of an end tooth.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::rows::EndTeeth;
use crate::span::Range;
use crate::tables::Tables;
use geometry::{Angle, Length};

noun! {
    /// The gash in front of end or side teeth.
    pub struct GashRow in Gash / gash {
        key {
            /// The teeth.
            teeth: EndTeeth,
        }
        value {
            /// How steeply the root falls outward, against the plane of the end.
            floor: Range<Angle>,
            /// How far the face leans back under the edge.
            rake: Range<Angle>,
            /// The radius in the root.
            root: Range<Length>,
        }
    }
}

impl Tables {
    /// The gash of these teeth.
    pub fn gash(&self, teeth: EndTeeth) -> Option<Lookup<'_, GashRow>> {
        self.gash.exact(|row| row.teeth == teeth)
    }
}
