//! Grit sizes of superabrasives.

use crate::cell::Cell;
use crate::fault::Fault;
use crate::lookup::Lookup;
use crate::row::noun;
use crate::tables::Tables;
use geometry::Length;

/// The two sieves between which a grit falls, in meshes to the inch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MeshPair {
    /// The coarser sieve, which the grit passes.
    pub passes: u32,
    /// The finer sieve, which holds it.
    pub held_by: u32,
}

impl Cell for MeshPair {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let pair = text.split_once('/').and_then(|(passes, held_by)| {
            Some(Self { passes: passes.parse().ok()?, held_by: held_by.parse().ok()? })
        });
        pair.ok_or_else(|| Fault::unreadable(text, "two meshes belong here, such as 120/140"))
    }
}

noun! {
    /// A grit size.
    pub struct GritRow in Grits / grits {
        key {
            /// The number of the designation: 126 in D126 and B126.
            designation: u32,
        }
        value {
            /// The opening of the upper sieve, which the grit passes.
            upper_sieve: Length,
            /// The opening of the lower sieve, which holds it.
            lower_sieve: Length,
            /// The meshes of the same two sieves.
            mesh: MeshPair,
        }
    }
}

impl Tables {
    /// The grit of that designation, such as `D126`, `B126` or `126`.
    pub fn grit(&self, designation: &str) -> Option<Lookup<'_, GritRow>> {
        let letters = |letter: char| letter.is_ascii_alphabetic();
        let number: u32 = designation.trim().trim_start_matches(letters).trim().parse().ok()?;
        self.grits.exact(|row| row.designation == number)
    }
}
