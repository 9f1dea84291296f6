//! Outside checks of Toothrest: what its numbers are compared with, and nothing that it ships.
//!
//! [`mod@reference`] works out the ground section a second time, from the contract alone and in two
//! ways that share no code with the project's kernel.

pub mod reference;
