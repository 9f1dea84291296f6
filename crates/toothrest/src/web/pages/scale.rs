//! Pictures of a cutter as they stand on its pages.

use geometry::{Angle, Length, System};
use sheets::drawing::{
    GroundTo, Life, Tag, TagRadius, cutter_view, dial_view, life_scale, tag_view, wheel_view,
};
use shop::Ctx;
use shop::book::{Event, Moment, whole_history};
use shop::learn::cutter_history;
use shop::plan::{BenchStep, DialMark, Quantity, RegrindPlan, judge_cutter};
use shop::record::{Axis, Cutter, EndForm, Finest, Wheel};

use crate::desk::CutterAt;
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
    let own = cutter_history(&history).history;
    let Ok(judged) = judge_cutter(&Ctx { tables: &tables }, record, &own) else {
        return Ok(String::new());
    };
    let Some(smallest) = &judged.verdict.smallest else { return Ok(String::new()) };
    let ground = history.iter().filter_map(|entry| match &entry.event {
        Event::HandedBack(back) => Some(GroundTo {
            diameter: back.as_ground?.diameter,
            when: visit.zone.day(entry.stamp.at),
        }),
        _ => None,
    });
    let now = judged.stock.sharp_diameter.value;
    let lives = judged.lives_from(now);
    let range =
        lives.as_ref().map_or((0, 0, 0), |lives| (lives.least, lives.expected, lives.greatest));
    let life = Life {
        cutter: record.number().to_owned(),
        nominal: record.diameter(),
        ground: ground.collect(),
        now,
        smallest: smallest.value,
        per_grind: judged.stock.per_grind.value,
        least: range.0,
        expected: range.1,
        greatest: range.2,
    };
    Ok(life_scale(&life, system).to_svg())
}

/// The dial of a step as a hand sees it; nothing where the step sets none.
pub(super) fn dial_picture(plan: &RegrindPlan, step: &BenchStep) -> String {
    let Some(mark) = &step.dial else { return String::new() };
    let axes = plan.request.machine.axes();
    let axis = axes.iter().find(|axis| axis.name() == mark.axis);
    axis.map(|axis| dial_view(mark, axis.motion()).to_svg()).unwrap_or_default()
}

/// The tag, to be read from the picture or printed; nothing where it was never ground here.
pub(super) fn tag_picture(
    visit: &Visit,
    cutter: &CutterAt,
    at: Moment,
    by: &str,
    system: System,
) -> String {
    let record = &cutter.state.cutter;
    let Some(ground) = record.as_ground() else { return String::new() };
    let radius = match record.end() {
        EndForm::Square => None,
        EndForm::CornerRadius(radius) => Some(TagRadius { ground: radius, nominal: radius }),
        EndForm::Ball => {
            Some(TagRadius { ground: ground.diameter / 2.0, nominal: record.diameter() / 2.0 })
        }
    };
    let tag = Tag {
        number: record.number().to_owned(),
        nominal: record.diameter(),
        diameter: ground.diameter,
        radius,
        flute: record.flute_length(),
        regrind: record.regrinds(),
        date: visit.zone.day(at),
        initials: by.to_owned(),
    };
    tag_view(&tag, system).to_svg()
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
