//! Fits of models that are not linear in their parameters.

mod descend;
mod model;
mod problem;

pub use model::{Model, central_jacobian, finer_jacobian};
pub use problem::{NonlinearFit, NonlinearProblem};
