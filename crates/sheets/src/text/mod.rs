//! The set-up sheet and the check sheet as plain text: one A4 page of 100 columns each, to be read
//! at arm's length.

mod around;
mod ball;
mod check;
mod corrective;
mod end;
mod face;
mod grind;
mod learned;
mod page;
mod proof;
mod round;
mod setup;
mod sheet;
mod show;
mod study;
pub mod study_words;
mod wheel;

pub use around::{each_tooth as unlike_in_words, group_in_words, taper as taper_in_words};
pub use ball::{ball_not_planned, ball_sheet};
pub use check::{check_sheet, is_harmless, is_tagged, moved_by, size_for_tag};
pub use corrective::corrective_sheet;
pub use end::{end_not_planned, end_sheet};
pub use face::{face_not_planned, face_sheet};
pub use grind::between as between_in_words;
pub use page::COLUMNS;
pub use setup::{room as room_in_words, tight as tight_in_words};
pub use sheet::{describe, plan_sheet};
pub use show::{Units, reading};
pub use study::study_sheet;

pub(crate) use ball::written as ball_written;
pub(crate) use corrective::written as corrective_written;
pub(crate) use end::written as end_written;
pub(crate) use face::written as face_written;
pub(crate) use grind::{by_group, changed, group_primary, group_secondary, land_rule, numbers};
pub(crate) use page::Item;
pub(crate) use proof::{
    drops as drops_in_words, limits as limits_in_words, size as size_in_words,
    size_band as size_band_in_words,
};
pub(crate) use setup::{clearance as clearance_in_words, relief as relief_in_words};
pub(crate) use wheel::in_words as wheel_in_words;
