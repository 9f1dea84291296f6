//! Cautions, each for a step of the job and for the circumstances it applies to.

use crate::cell::Cell;
use crate::fault::Fault;
use crate::lookup::Lookup;
use crate::material::{Abrasive, ToolMaterial};
use crate::row::noun;
use crate::tables::Tables;
use crate::words::{Step, named};

named! {
    /// A circumstance that is neither an abrasive nor a material.
    pub enum Circumstance as "circumstance" {
        /// Every job.
        Always = "always",
        /// Grinding without coolant.
        Dry = "dry",
        /// Grinding with coolant.
        Wet = "wet",
        /// Compressed air at the bench, for blowing off or for a fixture.
        CompressedAir = "compressed air",
        /// A rest under the tooth.
        Rest = "rest",
        /// An index head alone that holds the tooth.
        IndexHead = "index head",
        /// A wheel that grinds on its face.
        Cup = "cup",
        /// A wheel that grinds on its periphery.
        Disc = "disc",
        /// A wheel with a vitrified bond.
        Vitrified = "vitrified",
        /// Grinding the end teeth.
        EndTeeth = "end teeth",
    }
}

/// What a job is like, in so far as a caution hangs on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Tag {
    /// The wheel's abrasive, written `abrasive=diamond`.
    Abrasive(Abrasive),
    /// The cutter's material, written `material=carbide`.
    Material(ToolMaterial),
    /// Another circumstance, written by its name.
    Circumstance(Circumstance),
}

impl Cell for Tag {
    fn from_text(text: &str) -> Result<Self, Fault> {
        match text.trim().split_once('=') {
            Some(("abrasive", name)) => Abrasive::from_text(name).map(Self::Abrasive),
            Some(("material", name)) => ToolMaterial::from_text(name).map(Self::Material),
            Some((kind, _)) => Err(Fault::unknown("tag", kind, ["abrasive", "material"])),
            None => Circumstance::from_text(text).map(Self::Circumstance),
        }
    }
}

/// Tags that must all be there, joined by `and`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Condition(pub Vec<Tag>);

impl Condition {
    /// Whether a job with these tags meets it. Every job is one of `always`.
    pub fn is_met(&self, tags: &[Tag]) -> bool {
        let always = Tag::Circumstance(Circumstance::Always);
        self.0.iter().all(|tag| *tag == always || tags.contains(tag))
    }
}

impl Cell for Condition {
    fn from_text(text: &str) -> Result<Self, Fault> {
        text.split(" and ").map(Tag::from_text).collect::<Result<_, _>>().map(Self)
    }
}

noun! {
    /// A caution. A shop may say it otherwise, but not when it applies.
    pub struct CautionRow in Cautions / cautions {
        key {
            /// Its id, in words joined by hyphens.
            id: String,
        }
        settled {
            /// The step of the job at which to read it.
            step: Step,
            /// The conditions under which it applies; one is enough.
            applies: Vec<Condition>,
        }
        value {
            /// The caution, in the imperative.
            text: String,
            /// The same in a few words, for a sheet of one page.
            short: Option<String>,
        }
    }
}

impl Tables {
    /// The cautions at this step of a job with these tags, in the order of their file. Where a
    /// shop has its own wording, the trade's stands among the others of that look-up.
    pub fn cautions(&self, step: Step, tags: &[Tag]) -> Vec<Lookup<'_, CautionRow>> {
        let applies = |row: &CautionRow| {
            row.step == step && row.applies.iter().any(|condition| condition.is_met(tags))
        };
        let rows = self.cautions.rows().iter();
        rows.filter(|row| row.chosen && applies(&row.value))
            .filter_map(|row| self.cautions.exact(|other| other.id == row.value.id))
            .collect()
    }
}
