//! The section that a wheel really leaves on a tooth.

mod contact;
mod cubic;
mod envelope;
mod ground;
mod measure;
mod piece;
mod place;
mod setup;
mod trace;

pub use ground::{Contact, GroundSection};
pub use piece::{Piece, PieceKind};
pub use setup::{SectionError, Setup, Stance};
