//! Set-ups from wanted reliefs: the section computed backwards.

mod eccentric;
mod relief;
mod sensitivity;

pub use eccentric::{EccentricWish, eccentric_stance};
pub use relief::{Adjusted, ReliefTarget, SolveError, solve_relief};
pub use sensitivity::{Sensitivities, sensitivities};
