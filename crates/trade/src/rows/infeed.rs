//! Depths of cut: the greatest that a superabrasive grit bears, and what is ordinary.

use crate::cell::Cell;
use crate::fault::Fault;
use crate::lookup::Lookup;
use crate::row::noun;
use crate::span::Range;
use crate::tables::Tables;
use crate::words::named;
use geometry::Length;

/// A grit as a mesh number, written `#170`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Mesh(pub u32);

impl Cell for Mesh {
    fn from_text(text: &str) -> Result<Self, Fault> {
        let number = text.trim().trim_start_matches('#').parse();
        number.map(Self).map_err(|_| Fault::unreadable(text, "a mesh belongs here, such as #170"))
    }
}

noun! {
    /// The greatest depth of cut that a superabrasive grit bears.
    pub struct InfeedRow in Infeeds / infeeds {
        key {
            /// The grit.
            mesh: Mesh,
        }
        value {
            /// The greatest depth of one pass.
            greatest: Length,
        }
    }
}

named! {
    /// A kind of pass.
    pub enum Pass as "kind of pass" {
        /// A pass that takes stock.
        Ordinary = "ordinary",
        /// A pass that leaves the edge.
        Finish = "finish",
    }
}

noun! {
    /// The depth of a pass.
    pub struct PassRow in Passes / passes {
        key {
            /// The kind of pass.
            pass: Pass,
        }
        value {
            /// The depth.
            depth: Range<Length>,
        }
    }
}

impl Tables {
    /// The greatest depth of cut for a grit of this mesh. Between two listed grits the finer one
    /// answers, because its depth is the smaller; beyond the finest, the finest.
    pub fn infeed(&self, mesh: u32) -> Option<Lookup<'_, InfeedRow>> {
        let listed = || self.infeeds.rows().iter().map(|row| row.value.mesh);
        let finer = listed().filter(|listed| *listed >= Mesh(mesh)).min();
        let answers = finer.or_else(|| listed().max())?;
        self.infeeds.exact(|row| row.mesh == answers)
    }

    /// The depth of a pass of that kind.
    pub fn pass(&self, pass: Pass) -> Option<Lookup<'_, PassRow>> {
        self.passes.exact(|row| row.pass == pass)
    }
}
