//! Wheel shapes and the part of each that grinds.

use crate::lookup::Lookup;
use crate::row::noun;
use crate::table::same_key;
use crate::tables::Tables;
use crate::words::{GrindsOn, WheelBody};

noun! {
    /// A wheel shape.
    pub struct ShapeRow in Shapes / shapes {
        key {
            /// Its symbol: a type number for conventional wheels, ISO 6104 for superabrasive ones.
            symbol: String,
        }
        value {
            /// The standard that gives the symbol.
            standard: String,
            /// Its name.
            name: String,
            /// Whether the geometry takes it for a cup or a disc.
            body: WheelBody,
            /// The part that grinds.
            grinds_on: GrindsOn,
            /// What it is good for on a cutter grinder.
            good_for: String,
        }
    }
}

impl Tables {
    /// The shape of that symbol, such as `11V9`, `11` or `type 11`.
    pub fn shape(&self, symbol: &str) -> Option<Lookup<'_, ShapeRow>> {
        let symbol = symbol.trim();
        let symbol = symbol.strip_prefix("type ").unwrap_or(symbol);
        self.shapes.exact(|row| same_key(&row.symbol, symbol))
    }
}
