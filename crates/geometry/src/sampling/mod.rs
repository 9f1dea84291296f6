//! Even samples of many uncertain quantities at once, and what each of them causes.

mod points;
mod quantile;
mod shares;

pub use points::{POINTS_MAX, Points};
pub use quantile::quantile;
pub use shares::{Share, Shares};
