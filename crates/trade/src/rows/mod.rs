//! The row types, one file a noun.

mod abrasive;
mod caution;
mod concentration;
mod dressing;
mod end_teeth;
mod grit;
mod infeed;
mod land;
mod practice;
mod relief;
mod secondary;
mod shape;
mod shrink;
mod speed;
mod stock;
mod tolerance;
mod wear;

pub use abrasive::AbrasiveRow;
pub use caution::{CautionRow, Circumstance, Condition, Tag};
pub use concentration::ConcentrationRow;
pub use dressing::{DressingRow, DressingStep};
pub use end_teeth::{DishRow, EndReliefRow, EndTeeth};
pub use grit::{GritRow, MeshPair};
pub use infeed::{InfeedRow, Mesh, Pass, PassRow};
pub use land::LandRow;
pub use practice::{PracticeItem, PracticeRow};
pub use relief::{AnyOr, ReliefRow};
pub use secondary::{Secondary, SecondaryRow};
pub use shape::ShapeRow;
pub use shrink::{ShrinkRow, SmallestDiameter};
pub use speed::SpeedRow;
pub use stock::{StockItem, StockRow, WheelWearRow};
pub use tolerance::{ToleranceKind, ToleranceRow};
pub use wear::{WearKind, WearRow};
