//! Which of several models the readings speak for, and which further reading would say more.

mod belief;
mod compare;
mod discriminate;
mod marginal;
mod subsets;

pub use belief::Belief;
pub use compare::{Comparison, compare};
pub use discriminate::{Discrimination, Predictive, discriminate, expected_separation};
pub use marginal::Evidence;
pub use subsets::{Cause, NoiseScale, Search, Weighed, WeighedSets, weigh};
