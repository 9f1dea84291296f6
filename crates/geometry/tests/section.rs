//! The ground section against closed forms, against itself and against the wheel that left it, as
//! properties over random set-ups.

#[path = "section/cases.rs"]
mod cases;
#[path = "section/curve.rs"]
mod curve;
#[path = "section/funnel.rs"]
mod funnel;
#[path = "section/helical.rs"]
mod helical;
#[path = "section/land.rs"]
mod land;
#[path = "section/outline.rs"]
mod outline;
#[path = "section/refusal.rs"]
mod refusal;
#[path = "section/solid.rs"]
mod solid;
#[path = "section/solve.rs"]
mod solve;
#[path = "section/standing.rs"]
mod standing;
#[path = "section/straight.rs"]
mod straight;
#[path = "section/symmetry.rs"]
mod symmetry;
