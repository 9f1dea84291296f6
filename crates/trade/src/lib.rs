//! What the trade knows, as data: reliefs, lands, wheels, speeds, limits, cautions, each row with
//! its source and how that source was read. Tables hold no branches.
//!
//! [`Tables::bundled`] gives the tables that travel with the program and [`Tables::with_shop`]
//! puts a shop's own rows above them. A look-up answers with a [`Lookup`]: the chosen row, the
//! conflicting and more general rows beside it, and how well the chosen one fits the question.
//! [`Tables::listing`] gives any topic as texts, with the source of every row.
//!
//! ```
//! use geometry::Length;
//! use trade::{Tables, ToolMaterial, WorkGroup};
//!
//! let tables = Tables::bundled()?;
//! let diameter = Length::from_inches(0.25);
//! let relief = tables.relief(diameter, ToolMaterial::HighSpeedSteel, WorkGroup::Any);
//! let recommended = relief.map(|relief| relief.chosen.value.recommended().degrees().round());
//! assert_eq!(recommended, Some(12.0));
//!
//! let shop = tables.with_shop(r#"
//!     [[relief]]
//!     key = "any material, any work, 1/4 in"
//!     primary = "11 deg"
//! "#)?;
//! let relief = shop.relief(diameter, ToolMaterial::HighSpeedSteel, WorkGroup::Any);
//! assert_eq!(relief.map(|relief| relief.chosen.source.clone()).as_deref(), Some("shop"));
//! # Ok::<(), trade::TableError>(())
//! ```

mod bibliography;
mod cell;
mod fault;
mod lookup;
mod material;
mod quantity;
mod reader;
mod row;
mod rows;
mod span;
mod table;
mod tables;
mod words;

pub use bibliography::{Bibliography, Source, SourceUse};
pub use fault::{Fault, Place, TableError};
pub use lookup::{Fit, Lookup, Nearest};
pub use material::{Abrasive, ToolMaterial};
pub use quantity::{AbrasiveContent, Minutes, Pressure, Quantity, Share, SurfaceSpeed};
pub use row::{Noun, Row, SHOP};
pub use rows::*;
pub use span::{Amount, Range, Span};
pub use table::Table;
pub use tables::{ListedRow, Tables, Topic};
pub use words::{Coolant, GrindsOn, HowRead, Step, WheelBody, WheelFamily, WorkGroup};
