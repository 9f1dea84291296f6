//! Pictures and paper. One scene in millimetres serves screen and sheet, as SVG and as PDF; the
//! set-up sheet also comes as plain text, and the cutter with wheel and rest as a model to turn
//! about.

pub mod drawing;
pub mod label;
pub mod model;
pub mod paper;
pub mod scene;
pub mod text;
