//! Pictures and paper. One scene in millimetres serves screen and sheet; the set-up sheet also
//! comes as plain text.

pub mod drawing;
pub mod scene;
pub mod text;
