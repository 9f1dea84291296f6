//! Fits: parameters from readings, with what they are worth.
//!
//! A [`LinearProblem`] holds readings, how well they are known, the rows that say how each
//! parameter moves each reading, and priors where there are any. Its [`LinearFit`] gives the
//! parameters with their covariance, and says what the readings leave open. Fits that a bad reading
//! cannot spoil stand in [`robust`]; choosing among models, and the reading that would tell them
//! apart, in [`evidence`]; models that are not linear in [`nonlinear`].
//!
//! Numbers here are plain: each parameter and each reading keeps the unit it came in.

mod band;
mod error;
pub mod evidence;
mod linear;
pub mod nonlinear;
mod null;
mod problem;
pub mod quantile;
pub mod robust;
mod singular;

pub use band::Band;
pub use error::FitError;
pub use linear::LinearFit;
pub use null::NullDirection;
pub use problem::{LinearProblem, Noise, Prior, RANK_TOLERANCE};
