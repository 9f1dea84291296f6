//! Concentrations of superabrasives.

use crate::lookup::Lookup;
use crate::quantity::AbrasiveContent;
use crate::row::noun;
use crate::tables::Tables;

noun! {
    /// What a concentration number means, printed twice in different units by its source.
    pub struct ConcentrationRow in Concentrations / concentrations {
        key {
            /// The number.
            concentration: u32,
        }
        value {
            /// The content, printed in carats.
            carats: AbrasiveContent,
            /// The same content, printed in grams.
            grams: AbrasiveContent,
        }
    }
}

impl Tables {
    /// The meaning of that concentration number.
    pub fn concentration(&self, number: u32) -> Option<Lookup<'_, ConcentrationRow>> {
        self.concentrations.exact(|row| row.concentration == number)
    }
}
