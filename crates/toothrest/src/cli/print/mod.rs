//! Sheets for the printer: how they are asked for, and how a file of them is written.

mod args;
mod deliver;
mod tag;

use std::io;
use std::path::Path;

use geometry::quantity::System;
use sheets::paper::{Imprint, Pages};
use shop::book::Clock;

use super::failure::Failure;
use super::file;
use crate::paper;
use crate::surroundings::{SystemClock, Zone};

pub(super) use args::{DeliverArguments, PaperArguments, TagArguments};
pub(super) use deliver::run as deliver;
pub(super) use tag::run as tag;

impl PaperArguments {
    /// Whether pages are asked for.
    pub(super) const fn is_asked(&self) -> bool {
        self.pdf.is_some()
    }

    /// Writes the pages where they are asked for; `pages` makes them for what they carry.
    pub(super) fn write(
        &self,
        record: &str,
        revision: String,
        system: System,
        pages: impl FnOnce(&Imprint) -> Pages,
    ) -> Result<(), Failure> {
        let Some(path) = &self.pdf else { return Ok(()) };
        let paper = self.paper.map(|paper| paper.paper());
        let imprint = paper::imprint(paper, record, revision, self.date()?, system);
        write_pages(path, &pages(&imprint))
    }

    /// The date on the sheet: the one that was given, else that of today.
    fn date(&self) -> Result<String, Failure> {
        date(self.date.as_deref())
    }
}

/// A date as it was given, else that of today.
fn date(given: Option<&str>) -> Result<String, Failure> {
    let zone = Zone::of_system();
    let Some(given) = given else { return Ok(zone.day(SystemClock.now())) };
    let day = zone.local_day(given).map(|day| day.date);
    day.ok_or_else(|| Failure::Argument {
        argument: "--date",
        value: format!("{given:?}"),
        message: "not a date; write year, month and day, such as 2031-03-05".to_owned(),
    })
}

/// Puts the whole PDF together before its file is touched.
fn write_pages(path: &Path, pages: &Pages) -> Result<(), Failure> {
    let bytes = pages.to_pdf();
    let bytes = bytes.map_err(|error| file::failed(path)(io::Error::other(error.to_string())))?;
    file::write_pdf(path, &bytes)
}
