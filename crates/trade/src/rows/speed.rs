//! Surface speeds of wheels.

use crate::lookup::Lookup;
use crate::material::Abrasive;
use crate::quantity::SurfaceSpeed;
use crate::row::noun;
use crate::span::Range;
use crate::tables::Tables;
use crate::words::Coolant;

noun! {
    /// The surface speed of a wheel. The speed marked on the wheel goes before any of these.
    pub struct SpeedRow in Speeds / speeds {
        key {
            /// The abrasive.
            abrasive: Abrasive,
            /// Wet or dry.
            coolant: Coolant,
        }
        value {
            /// The speed; none where the source advises against running so at all.
            speed: Option<Range<SurfaceSpeed>>,
            /// What the source advises besides.
            advice: Option<String>,
        }
    }
}

impl Tables {
    /// The surface speed for this abrasive, wet or dry.
    pub fn surface_speed(&self, abrasive: Abrasive, wet: bool) -> Option<Lookup<'_, SpeedRow>> {
        let coolant = if wet { Coolant::Wet } else { Coolant::Dry };
        self.speeds.exact(|row| row.abrasive == abrasive && row.coolant == coolant)
    }
}
