//! What happens to papers, trays and people, and to entries themselves.

use super::Event;
use crate::book::id::Id;

/// A text was written: the first version or the next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// What the shop calls it.
    pub name: String,
    /// The whole text.
    pub text: String,
}

/// A tray was set out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrayOpened {
    /// What the shop calls it.
    pub name: String,
    /// Whose cutters lie in it.
    pub whose: Option<String>,
}

/// The cutters of a tray were put in the order in which they will be ground.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TrayOrdered {
    /// The cutters, first to last.
    pub cutters: Vec<Id>,
}

/// A person was entered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PersonEntered {
    /// Initials, by which entries name this person.
    pub initials: String,
    /// The name in full.
    pub name: String,
}

/// A person chose a secret to sign in with.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PinSet {
    /// Its hash, as whoever checks it wrote it. Never the secret itself.
    pub hash: String,
}

/// Something worth keeping, in words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Noted {
    /// The words.
    pub words: String,
}

/// The subject is done with: a scrapped cutter, a broken wheel, an empty tray, a machine that was
/// sold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Retired {
    /// Why.
    pub why: String,
}

/// An earlier entry of this history was wrong. It stays where it is; what it says counts no longer.
#[derive(Clone, Debug, PartialEq)]
pub struct Amended {
    /// The number of that entry.
    pub entry: u64,
    /// Why it was wrong.
    pub why: String,
    /// What counts instead, of the same kind; nothing where it is struck out.
    pub instead: Option<Box<Event>>,
}

/// An entry that this program cannot read, most often one of a newer program. It is kept, shown and
/// carried along, and counts for nothing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Foreign {
    /// Its kind, as it is stored.
    pub kind: String,
    /// The version of its body.
    pub version: u32,
    /// Its body, as it is stored.
    pub body: String,
    /// Why it cannot be read.
    pub why: String,
}
