//! The abrasive for each tool material.

use crate::lookup::Lookup;
use crate::material::{Abrasive, ToolMaterial};
use crate::row::noun;
use crate::tables::Tables;

noun! {
    /// The abrasive that grinds a tool material.
    pub struct AbrasiveRow in Abrasives / abrasives {
        key {
            /// The cutter's material.
            material: ToolMaterial,
        }
        value {
            /// The abrasive.
            abrasive: Abrasive,
            /// Why that one.
            why: String,
        }
    }
}

impl Tables {
    /// The abrasive for this material, with those that others would take.
    pub fn abrasive_for(&self, material: ToolMaterial) -> Option<Lookup<'_, AbrasiveRow>> {
        self.abrasives.exact(|row| row.material == material)
    }
}
