//! The set-up sheet as plain text: one A4 page of 100 columns, to be read at arm's length.

mod grind;
mod page;
mod proof;
mod setup;
mod sheet;
mod show;
mod wheel;

pub use page::COLUMNS;
pub use sheet::plan_sheet;
pub use show::Units;
