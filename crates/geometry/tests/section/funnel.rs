//! The one way in for every property, so that each runs on the same seed and says the same things.

use proptest::prelude::*;
use proptest::test_runner::{Config, RngSeed, TestCaseError, TestRunner};

/// What a property says of one case.
pub(crate) type Outcome = Result<(), TestCaseError>;

/// The number of cases that stands in proptest's configuration when nothing was asked for.
const UNASKED: u32 = 256;

/// Holds a law against `cases` random cases. The seed is fixed, so that every run is the same;
/// `PROPTEST_RNG_SEED` and `PROPTEST_CASES` in the environment widen the search.
pub(crate) fn check<S: Strategy>(cases: u32, strategy: S, law: impl Fn(S::Value) -> Outcome) {
    let asked = Config::default();
    let cases = if asked.cases == UNASKED { cases } else { asked.cases };
    let rng_seed = match asked.rng_seed {
        RngSeed::Random => RngSeed::Fixed(1),
        fixed @ RngSeed::Fixed(_) => fixed,
    };
    let max_global_rejects = 20 * cases;
    let config = Config { cases, rng_seed, max_global_rejects, failure_persistence: None, ..asked };
    let verdict = TestRunner::new(config).run(&strategy, law);
    assert!(verdict.is_ok(), "{}", verdict.err().map_or_else(String::new, |why| why.to_string()));
}

/// Two numbers agree to `within`.
pub(crate) fn near(what: &str, got: f64, wanted: f64, within: f64) -> Outcome {
    let miss = (got - wanted).abs();
    // Written so that a number that is none fails too.
    holds(miss <= within, || format!("{what}: {got} not {wanted}, off by {miss:e} > {within:e}"))
}

/// Something is as it must be.
pub(crate) fn holds(is_so: bool, what: impl FnOnce() -> String) -> Outcome {
    if is_so { Ok(()) } else { Err(TestCaseError::fail(what())) }
}

/// A value that must be there.
pub(crate) fn some<T>(what: &str, value: Option<T>) -> Result<T, TestCaseError> {
    value.ok_or_else(|| TestCaseError::fail(format!("{what} is missing")))
}

/// A value that must be good.
pub(crate) fn good<T, E: std::fmt::Display>(
    what: &str,
    value: Result<T, E>,
) -> Result<T, TestCaseError> {
    value.map_err(|error| TestCaseError::fail(format!("{what}: {error}")))
}

/// The case is outside what the law speaks of.
pub(crate) fn outside(why: &'static str) -> TestCaseError {
    TestCaseError::reject(why)
}
