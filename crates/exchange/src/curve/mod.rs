//! Curves as drawings for other programs (DXF).

mod dxf;
mod outline;
mod shape;
mod tooth;

pub use dxf::{Drawing, Layer, drawing_dxf};
pub use outline::outline_drawing;
pub use shape::{Point, Shape};
pub use tooth::tooth_drawing;
