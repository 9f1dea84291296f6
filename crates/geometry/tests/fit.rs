//! Fits: what they promise, tried by simulation and against brute force.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a simulation that cannot run must stop")]

#[path = "fit/evidence.rs"]
mod evidence;
#[path = "fit/linear.rs"]
mod linear;
#[path = "fit/nonlinear.rs"]
mod nonlinear;
#[path = "fit/null.rs"]
mod null;
#[path = "fit/random.rs"]
mod random;
#[path = "fit/refusals.rs"]
mod refusals;
#[path = "fit/robust.rs"]
mod robust;
#[path = "fit/subsets.rs"]
mod subsets;
