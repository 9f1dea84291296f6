//! Lengths and angles as value types, so that a meaningless sum does not compile.
//!
//! A [`Length`] is kept in millimetres and an [`Angle`] in radians; the unit is named wherever a
//! raw number goes in or comes out.
//!
//! # Reading
//!
//! Both are read from the way people write them, always with a unit. Nothing is guessed: what
//! could mean two things is refused, and the [`QuantityError`] says what to write instead.
//!
//! | written | read as |
//! |---|---|
//! | `12.7 mm`, `12.7mm`, `+.5 mm` | millimetres |
//! | `5 um`, `5 µm` | micrometres |
//! | `0.5 in`, `0.5 inch`, `0.5"`, `0.5″`, `.5 in.` | inches |
//! | `5 thou` | thousandths of an inch |
//! | `3/8 in`, `1-3/8 in`, `1 3/8"`, `⅜ in`, `1⅜ in` | inches and parts |
//! | `0.5000 in (12.700 mm)` | one length in both, checked to agree |
//! | `30 deg`, `30°`, `½ deg`, `89-1/2 deg` | degrees |
//! | `5 min`, `5′`, `1 deg 30 min`, `1° 30′ 20″` | degrees, minutes and seconds of arc |
//! | `0.5 rad` | radians |
//!
//! A sign stands once, at the front, and holds for the whole: `-1-3/8 in` is 1.375 in below zero.
//!
//! ```
//! use geometry::{Angle, Length};
//!
//! let shank: Length = "1-3/8 in".parse()?;
//! assert!((shank.mm() - 34.925).abs() < 1e-9);
//!
//! let head: Angle = "89 deg 15 min".parse()?;
//! assert!((head.degrees() - 89.25).abs() < 1e-9);
//!
//! let slip = "12,7 mm".parse::<Length>().unwrap_err();
//! assert_eq!(slip.to_string(), "\"12,7 mm\" has a comma: write 12.7 mm, with a point");
//! # Ok::<(), geometry::QuantityError>(())
//! ```
//!
//! # Showing
//!
//! Every shown form reads back to the same value within half of its last place, as long as it is
//! within [`LONGEST`] or [`WIDEST`].
//!
//! ```
//! use geometry::{Angle, Length, System};
//!
//! let offset: Length = "1.1024 mm".parse()?;
//! assert_eq!(offset.show(System::Inch).to_string(), "0.0434 in");
//! assert_eq!(offset.show_both(System::Inch).to_string(), "0.0434 in (1.102 mm)");
//!
//! // A dial with marks of half a thou can be set to 0.0435 in, not to 0.0434 in.
//! let mark = Length::from_inches(0.0005);
//! assert_eq!(offset.show_to(System::Inch, mark).to_string(), "0.0435 in");
//!
//! // A vernier that reads to 5 minutes is set in minutes.
//! let head = Angle::from_degrees(89.26);
//! assert_eq!(head.show_to(Angle::from_minutes(5.0)).to_string(), "89 deg 15 min");
//! # Ok::<(), geometry::QuantityError>(())
//! ```

mod angle;
mod angle_text;
mod error;
mod length;
mod length_text;
mod number;
mod shorten;
mod show_angle;
mod show_length;
mod slips;

pub use angle::Angle;
pub use angle_text::WIDEST;
pub use error::QuantityError;
pub use length::{Length, MM_PER_INCH};
pub use length_text::LONGEST;
pub use shorten::shortened;
pub use show_angle::ShownAngle;
pub use show_length::{ShownLength, System};
