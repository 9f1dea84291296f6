//! Pictures of a cutter as they stand on its page.

use geometry::System;
use shop::record::{Axis, Cutter, Wheel};

use crate::desk::CutterAt;
use crate::web::fault::Fault;
use crate::web::visit::Visit;

/// The cutter from its side and from its end.
pub(super) fn cutter_picture(_cutter: &Cutter, _system: System) -> String {
    String::new()
}

/// The life that is left, as a scale.
pub(super) async fn life_picture(
    _visit: &Visit,
    _cutter: &CutterAt,
    _system: System,
) -> Result<String, Fault> {
    Ok(String::new())
}

/// The dial of a step as a hand sees it.
pub(super) fn dial_picture(
    _plan: &shop::plan::RegrindPlan,
    _step: &shop::plan::BenchStep,
    _system: System,
) -> String {
    String::new()
}

/// The tag, to be read from the picture or printed.
pub(super) fn tag_picture(
    _visit: &Visit,
    _cutter: &CutterAt,
    _at: shop::book::Moment,
    _system: System,
) -> String {
    String::new()
}

/// A wheel in half section, as it is worn now.
pub(super) fn wheel_picture(_wheel: &Wheel, _system: System) -> String {
    String::new()
}

/// The dial of a slide or the circle of a swivel.
pub(super) fn axis_picture(_axis: &Axis) -> String {
    String::new()
}
