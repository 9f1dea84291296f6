//! What every use case may look at.

use trade::Tables;

/// The surroundings of a use case.
#[derive(Clone, Copy, Debug)]
pub struct Ctx<'a> {
    /// The trade tables, with the shop's own rows laid over them.
    pub tables: &'a Tables,
}

/// A value and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Cited<T> {
    /// The value.
    pub value: T,
    /// Id of its source in the bibliography, or what record it was read from.
    pub source: String,
}

impl<T> Cited<T> {
    /// A value with its source.
    pub fn new(value: T, source: impl Into<String>) -> Self {
        Self { value, source: source.into() }
    }
}

/// The source named for a value that the cutter's own record gives.
pub(crate) const OWN_RECORD: &str = "the cutter's own record";
