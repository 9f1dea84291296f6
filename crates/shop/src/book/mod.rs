//! What a shop remembers: one history for each cutter, wheel, machine, paper, tray and person.
//!
//! A history is a list of entries that only grows. Where something stands now is folded from its
//! entries by [`Latest::of`], a pure function; whatever keeps the book behind the [`Store`] port
//! may keep the result of the fold for its lists, and can make it again at any time. An entry that
//! was wrong stays and is amended by a later one. Whoever writes says which entry they saw last, so
//! that two writers meet in a conflict and never in a lost update.
//!
//! Who is signed in stands beside the histories, behind the [`Sessions`] port, and is forgotten.

mod entry;
pub mod event;
mod id;
mod memory;
mod memory_session;
mod moment;
mod query;
mod session;
mod stamp;
mod state;
mod store;
mod subject;
mod text;

/// Lengths and angles, for whoever keeps entries and may not reach below this crate.
pub use geometry::{Angle, Length};

pub use entry::{Append, Entry, check_single};
pub use event::{Event, EventKind};
pub use id::{Id, Ids};
pub use memory::MemoryBook;
pub use moment::{Clock, Moment};
pub use query::{Cursor, Listed, Order, PAGE_MAX, Query, Span, WORDS_MAX, check_limit};
pub use session::{
    AHEAD_S, AttemptsOf, FailedAttempt, Failures, Session, Sessions, TokenHash, initials_key,
};
pub use stamp::{Initials, Stamp};
pub use state::{
    CutterState, DocumentState, Latest, PersonState, Remark, Stage, State, Summary, TrayState,
    WheelState, counting, judge,
};
pub use store::{Store, latest, whole_history, whole_list};
pub use subject::{Subject, SubjectKind};
pub use text::key;
