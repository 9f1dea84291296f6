//! What was learned, with how sure it is and from where it comes.

use geometry::Length;
use geometry::fit::FitError;
use trade::{LearningItem, LearningRow, Row};

use super::shrink::{Beforehand, Entry, Shrunk, shrunk};
use crate::context::{Cited, Ctx};
use crate::error::ShopError;

/// Probability with which the bounds of a learned value hold the truth.
pub(super) const BAND: f64 = 0.9;

/// An entry that stands too far off the others to be believed.
#[derive(Clone, Debug, PartialEq)]
pub struct Wild<T> {
    /// The entry, as the book calls it.
    pub entry: String,
    /// How far it stands off what the others say; above zero where it is larger.
    pub off: T,
}

/// An entry that says nothing of the question.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// The entry, as the book calls it.
    pub entry: String,
    /// Why it says nothing.
    pub why: String,
}

/// A value learned from own entries, shrunk toward the table's.
#[derive(Clone, Debug, PartialEq)]
pub struct Learned<T> {
    /// The value.
    pub value: T,
    /// Standard deviation of the value.
    pub deviation: T,
    /// Lower bound: the truth lies between the bounds in 9 of 10 cases.
    pub least: T,
    /// Upper bound.
    pub greatest: T,
    /// Standard deviation from one case to the next.
    pub scatter: T,
    /// Degrees of freedom with which the scatter is known.
    pub degrees: f64,
    /// How many own cases speak.
    pub own: u32,
    /// As how many own cases the table counts beside them.
    pub table_counts_as: f64,
    /// What one case is called, for [`Self::words`].
    pub case: &'static str,
    /// The table's value.
    pub table: Cited<T>,
    /// Entries set aside.
    pub wild: Vec<Wild<T>>,
    /// Entries that disagree, though nothing says which of them is wild.
    pub doubtful: Vec<String>,
    /// Entries that say nothing of this.
    pub left_out: Vec<LeftOut>,
}

impl<T> Learned<T> {
    /// From where the value comes, in words: `3 grinds of its own, the table counts as 2`.
    pub fn words(&self) -> String {
        let plural = if self.own == 1 { "" } else { "s" };
        match self.own {
            0 => format!("no {} of its own yet: the table alone", self.case),
            own => {
                let weight = weight_words(self.table_counts_as);
                format!("{own} {}{plural} of its own, the table counts as {weight}", self.case)
            }
        }
    }

    /// The same with every value turned into another type.
    pub(super) fn map<U>(self, turn: impl Fn(T) -> U) -> Learned<U> {
        let wild = |wild: Wild<T>| Wild { entry: wild.entry, off: turn(wild.off) };
        Learned {
            value: turn(self.value),
            deviation: turn(self.deviation),
            least: turn(self.least),
            greatest: turn(self.greatest),
            scatter: turn(self.scatter),
            degrees: self.degrees,
            own: self.own,
            table_counts_as: self.table_counts_as,
            case: self.case,
            table: Cited { value: turn(self.table.value), source: self.table.source },
            wild: self.wild.into_iter().map(wild).collect(),
            doubtful: self.doubtful,
            left_out: self.left_out,
        }
    }
}

/// A weight as a hand would say it: to one decimal, whole where it is about whole or large.
fn weight_words(weight: f64) -> String {
    if weight < 0.05 {
        "less than a tenth of one".to_owned()
    } else if weight >= 1000.0 {
        "more than a thousand: its own say nothing sure".to_owned()
    } else if weight >= 20.0 {
        format!("{weight:.0}")
    } else {
        format!("{weight:.1}").trim_end_matches(".0").to_owned()
    }
}

/// The entries of one question: each with its name, or why it says nothing.
#[derive(Default)]
pub(super) struct Gathered {
    names: Vec<String>,
    entries: Vec<Entry>,
    left_out: Vec<LeftOut>,
}

impl Gathered {
    pub(super) fn put(&mut self, name: &str, found: Result<Entry, &str>) {
        match found {
            Ok(entry) => {
                self.names.push(name.to_owned());
                self.entries.push(entry);
            }
            Err(why) => {
                self.left_out.push(LeftOut { entry: name.to_owned(), why: why.to_owned() });
            }
        }
    }

    /// Learns from them, beside the table's value and under the table's trust in it.
    pub(super) fn learned(
        self,
        ctx: &Ctx<'_>,
        item: LearningItem,
        case: &'static str,
        table: Cited<f64>,
    ) -> Result<Learned<f64>, ShopError> {
        let held = ctx.tables.learning(item).ok_or_else(|| missing("learning"))?.chosen;
        let before = beforehand(held, table.value);
        let found = shrunk(&self.entries, &before).map_err(|error| refused(item, &error))?;
        self.told(found, case, table).map_err(|error| refused(item, &error))
    }

    fn told(
        self,
        found: Shrunk,
        case: &'static str,
        table: Cited<f64>,
    ) -> Result<Learned<f64>, FitError> {
        let band = found.band(BAND)?;
        let name = |at: usize| self.names.get(at).cloned().unwrap_or_default();
        let wild = found.set_aside.iter();
        // Nothing of its own leaves the table's value as it stands, to the last bit.
        let value = if found.own == 0 { table.value } else { found.value };
        Ok(Learned {
            value: value.max(0.0),
            deviation: found.deviation,
            least: band.least().max(0.0),
            greatest: band.greatest().max(0.0),
            scatter: found.scatter,
            degrees: found.degrees,
            own: found.own,
            table_counts_as: found.table_counts_as,
            case,
            table,
            wild: wild.map(|wild| Wild { entry: name(wild.reading), off: wild.shift }).collect(),
            doubtful: found.doubtful.iter().map(|at| name(*at)).collect(),
            left_out: self.left_out,
        })
    }
}

fn beforehand(row: &Row<LearningRow>, mean: f64) -> Beforehand {
    let LearningRow { between, within, worth, .. } = row.value;
    Beforehand {
        mean,
        between: mean * between.of_one(),
        within: mean * within.of_one(),
        worth: f64::from(worth),
    }
}

fn refused(item: LearningItem, error: &FitError) -> ShopError {
    ShopError::invalid(item.name(), error.to_string())
}

pub(super) fn missing(topic: &str) -> ShopError {
    ShopError::invalid(topic, "the table has no row for this: put one into the shop table")
}

/// In millimetres, for the kernel.
pub(super) fn in_mm(cited: &Cited<Length>) -> Cited<f64> {
    Cited::new(cited.value.mm(), &cited.source)
}
