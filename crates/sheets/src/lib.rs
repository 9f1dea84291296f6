//! Pictures and paper. One scene in millimetres serves screen and sheet; the set-up sheet also
//! comes as plain text, and the cutter with wheel and rest as a model to turn about.

pub mod drawing;
pub mod model;
pub mod scene;
pub mod text;
