//! What can have a history.

use super::id::Id;
use crate::record::named;

named! {
    /// The kinds of things that have a history.
    SubjectKind {
        /// A milling cutter.
        Cutter = "cutter",
        /// A grinding wheel.
        Wheel = "wheel",
        /// A machine's file, version by version.
        Machine = "machine",
        /// The shop's own tables, version by version.
        Tables = "tables",
        /// A list of prices, version by version.
        Prices = "prices",
        /// A tray of cutters that came in together.
        Tray = "tray",
        /// A person who works here.
        Person = "person",
    }
}

impl SubjectKind {
    /// Whether its history is that of a text.
    pub const fn is_document(self) -> bool {
        matches!(self, Self::Machine | Self::Tables | Self::Prices)
    }
}

/// One thing that has a history.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Subject {
    /// Of what kind.
    pub kind: SubjectKind,
    /// Which one.
    pub id: Id,
}

impl Subject {
    /// The thing of this kind with this id.
    pub const fn new(kind: SubjectKind, id: Id) -> Self {
        Self { kind, id }
    }
}
