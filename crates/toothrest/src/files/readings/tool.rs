//! With what a row of a CSV file was read.

use geometry::Length;
use shop::record::{Instrument, Named};

use super::cells::cell_path;
use super::column::Column;
use super::origins::Origins;

/// An instrument, and where in the file it is described.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tool {
    pub(super) instrument: Instrument,
    pub(super) anvil_width: Option<Length>,
    /// Where the resolution stands.
    pub(super) resolution_at: String,
    /// Where the repeatability stands, or would.
    pub(super) repeatability_at: String,
    /// Where the width of the anvils stands, or would.
    pub(super) anvil_width_at: String,
}

impl Tool {
    /// An instrument of which a line gives the resolution.
    pub(super) fn new(line: usize, resolution: Length) -> Self {
        Self {
            instrument: Instrument { resolution, repeatability: None },
            anvil_width: None,
            resolution_at: cell_path(Column::Resolution.name(), line),
            repeatability_at: cell_path(Column::Repeatability.name(), line),
            anvil_width_at: cell_path(Column::AnvilWidth.name(), line),
        }
    }

    /// The same, with what else a line says of it.
    pub(super) fn with(
        mut self,
        line: usize,
        repeatability: Option<Length>,
        anvil_width: Option<Length>,
    ) -> Self {
        if repeatability.is_some() {
            self.instrument.repeatability = repeatability;
            self.repeatability_at = cell_path(Column::Repeatability.name(), line);
        }
        if anvil_width.is_some() {
            self.anvil_width = anvil_width;
            self.anvil_width_at = cell_path(Column::AnvilWidth.name(), line);
        }
        self
    }

    /// Notes where the parts of a group's instrument were written.
    pub(super) fn note(&self, field: &str, origins: &mut Origins) {
        origins.note(format!("{field}.resolution"), &self.resolution_at);
        origins.note(format!("{field}.repeatability"), &self.repeatability_at);
        origins.note(format!("{field}.anvil_width"), &self.anvil_width_at);
    }
}
