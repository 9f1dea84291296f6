//! The check sheet as plain text: what is wrong, what to do next, and what that rests on.

mod apart;
mod as_found;
mod doubt;
mod found;
mod next;
mod next_time;
mod seen;
mod sheet;
mod table;
mod verdict;
mod words;

pub use as_found::size_for_tag;
pub use doubt::is_harmless;
pub(super) use next::dial;
pub use next::is_tagged;
pub use next::moved_by;
pub use sheet::check_sheet;
