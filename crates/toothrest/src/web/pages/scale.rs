//! Pictures of a cutter as they stand on its pages.

use geometry::{Angle, Length, System};
use sheets::drawing::{cutter_view, dial_view, life_scale, tag_view, wheel_view};
use shop::book::{Entry, whole_history};
use shop::plan::{BenchStep, DialMark, Quantity, RegrindPlan};
use shop::record::{Axis, Cutter, Finest, Wheel};

use crate::desk::CutterAt;
use crate::paper;
use crate::web::fault::Fault;
use crate::web::visit::Visit;

/// The cutter from its side and from its end.
pub(super) fn cutter_picture(cutter: &Cutter, system: System) -> String {
    cutter_view(cutter, system).to_svg()
}

/// The life that is left, as a scale; nothing where no source gives a smallest useful size.
pub(super) async fn life_picture(
    visit: &Visit,
    cutter: &CutterAt,
    system: System,
) -> Result<String, Fault> {
    let tables = visit.desk.tables().await?;
    let record = &cutter.state.cutter;
    let history = whole_history(visit.desk.book(), &cutter.subject).await?;
    let life = paper::life(&tables, record, &history, &visit.zone);
    Ok(life.map(|life| life_scale(&life, system).to_svg()).unwrap_or_default())
}

/// The dial of a step as a hand sees it; nothing where the step sets none.
pub(super) fn dial_picture(plan: &RegrindPlan, step: &BenchStep) -> String {
    let Some(mark) = &step.dial else { return String::new() };
    let axes = plan.request.machine.axes();
    let axis = axes.iter().find(|axis| axis.name() == mark.axis);
    axis.map(|axis| dial_view(mark, axis.motion()).to_svg()).unwrap_or_default()
}

/// The tag, to be read from the picture or printed; nothing where its size is not settled.
pub(super) fn tag_picture(
    visit: &Visit,
    cutter: &CutterAt,
    history: &[Entry],
    system: System,
) -> String {
    let tag = paper::tag(&cutter.state, history, &visit.zone);
    tag.map(|tag| tag_view(&tag, system).to_svg()).unwrap_or_default()
}

/// A wheel in half section, as it is worn now.
pub(super) fn wheel_picture(wheel: &Wheel, system: System) -> String {
    wheel_view(wheel, system).to_svg()
}

/// The dial of a slide or the circle of a swivel.
pub(super) fn axis_picture(axis: &Axis) -> String {
    dial_view(&zero(axis), axis.motion()).to_svg()
}

/// The mark at nothing.
fn zero(axis: &Axis) -> DialMark {
    let (reading, finest) = match axis.finest() {
        Finest::Length(step) => (Quantity::Length(Length::ZERO), Quantity::Length(step)),
        Finest::Angle(step) => (Quantity::Angle(Angle::ZERO), Quantity::Angle(step)),
    };
    DialMark {
        axis: axis.name().to_owned(),
        reading,
        finest,
        on_diameter: false,
        positive: axis.positive().to_owned(),
    }
}
