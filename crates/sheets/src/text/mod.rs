//! The set-up sheet and the check sheet as plain text: one A4 page of 100 columns each, to be read
//! at arm's length.

mod check;
mod end;
mod grind;
mod learned;
mod page;
mod proof;
mod setup;
mod sheet;
mod show;
mod wheel;

pub use check::{check_sheet, is_harmless};
pub use end::{end_not_planned, end_sheet};
pub use page::COLUMNS;
pub use sheet::{describe, plan_sheet};
pub use show::{Units, reading};
