//! The set-up of the end, line by line, in the machine's own marks.

use geometry::wheel::WheelKind;
use geometry::{Angle, Length};

use super::corner::ChamferGrind;
use super::gash::GashGrind;
use super::grind::EndGrind;
use super::plan::EndPlan;
use super::swivels::{Swung, SwungMark};
use crate::plan::RegrindPlan;
use crate::plan::dial::{DialMark, Quantity};
use crate::plan::head::grows_clockwise;
use crate::plan::held::index_line;
use crate::plan::setting::{RELIEF_SLACK_DEG, SetupItem, SetupLine, line};
use crate::record::{AxisRole, Cutter, Fixture, Hand, HeadZero, Machine};

/// A table scale coarser than this sets no stop; the wheel's corner and the eye do (own choice).
const STOP_STEP_MM_MAX: f64 = 0.1;

/// How far outside the corner the wheel starts, so that a tooth can be indexed (own choice).
const CLEAR_MM: f64 = 6.0;

/// The lines of the primary.
pub fn end_setup(plan: &RegrindPlan, end: &EndPlan) -> Vec<SetupLine> {
    let request = &plan.request;
    let (cutter, machine) = (&request.cutter, &request.machine);
    let grind = &end.work.primary;
    let setup = grind.section.setup();
    let (lean, kind) = (setup.stance().lean, setup.wheel().kind());
    let mut lines = vec![head(cutter, machine, kind, lean)];
    lines.extend(swivels(&grind.swung, OF_TEETH));
    lines.push(held(cutter, machine));
    lines.push(level());
    lines.push(height(machine, grind));
    lines.extend(stops(machine, end));
    lines
}

/// The lines of the secondary that differ from the primary's.
pub fn end_secondary_setup(end: &EndPlan) -> Vec<SetupLine> {
    swivels(&end.work.secondary.grind.swung, OF_TEETH)
}

/// The lines of a chamfer.
pub fn chamfer_setup(chamfer: &ChamferGrind) -> Vec<SetupLine> {
    let mut lines = swivels(&chamfer.swung, ("the chamfer's angle", "its relief"));
    lines.push(SetupLine {
        value: Some(Quantity::Length(Length::ZERO)),
        dial: chamfer.level_mark.clone(),
        ..line(SetupItem::WheelHeight, "wheel axis level with the corner's edge", "a flat relief")
    });
    lines
}

/// The lines of a gash.
pub fn gash_setup(gash: &GashGrind) -> Vec<SetupLine> {
    let mut lines = vec![SetupLine {
        value: Some(Quantity::Length(gash.corner)),
        ..line(SetupItem::WheelCorner, "dress the corner that runs in the root", "no sharp root")
    }];
    lines.extend(swivels(&gash.swung, (ALONG_THE_ROOT, ALONG_THE_ROOT)));
    let side = if gash.wheel_below { "below" } else { "above" };
    let how =
        format!("tooth's face upright, toward the wheel's side; wheel {side} it, spindle square");
    lines.push(line(SetupItem::Level, how, "the side makes the face, the rim the root"));
    lines.extend(gash_feed(gash));
    lines
}

/// How deep the rim goes across the travel, and how far along it.
fn gash_feed(gash: &GashGrind) -> [SetupLine; 2] {
    let length = |length: Length| Some(Quantity::Length(length));
    let way = if gash.wheel_below { "raised" } else { "lowered" };
    let how = match gash.fed_mark {
        Some(_) => format!("wheel {way} from its rim's touch of the tooth's corner"),
        None => {
            format!("wheel {way} from its touch of the corner; no scale for it on this machine")
        }
    };
    let depth = SetupLine {
        value: length(gash.fed),
        dial: gash.fed_mark.clone(),
        ..line(SetupItem::WheelHeight, how, "the root then runs along the travel")
    };
    let stop = SetupLine {
        value: length(gash.along),
        ..line(
            SetupItem::StopCentre,
            "from the wheel's lowest point at the corner, inward",
            "the root comes out there",
        )
    };
    [depth, stop]
}

/// What swing and tilt are for.
type Purposes = (&'static str, &'static str);

const ALONG_THE_ROOT: &str = "the root along the travel";

const OF_TEETH: Purposes = ("end to the wheel, and its dish", "relief along the axis");

fn swivels(swung: &Swung, purposes: Purposes) -> Vec<SetupLine> {
    swung.marks.iter().map(|mark| swivel(mark, purposes)).collect()
}

fn swivel(mark: &SwungMark, (swing, tilt): Purposes) -> SetupLine {
    let (item, why) = match mark.role {
        AxisRole::WorkHeadTilt => (SetupItem::WorkTilt, tilt),
        _ => (SetupItem::WorkSwing, swing),
    };
    let how = format!("exactly {}", mark.exact.show());
    // What the tilt misses the relief misses.
    let slack = Quantity::Angle(Angle::from_degrees(RELIEF_SLACK_DEG));
    SetupLine {
        value: Some(Quantity::Angle(mark.exact)),
        dial: Some(mark.mark.clone()),
        tolerance: (item == SetupItem::WorkTilt && why != ALONG_THE_ROOT).then_some(slack),
        ..line(item, how, why)
    }
}

/// The head, leaning so that the corner nearest the centre cuts alone.
pub(super) fn head(cutter: &Cutter, machine: &Machine, kind: WheelKind, lean: Angle) -> SetupLine {
    let square = Angle::from_degrees(90.0);
    let axis = machine.axis(AxisRole::HeadSwivel);
    // Seen from above, a right-hand cutter's tooth lies to the right of the centre, and the left
    // side of the wheel, which comes to the centre first, is leaned toward it.
    let leans_clockwise = cutter.hand() == Hand::Left;
    let grows = axis
        .and_then(|axis| grows_clockwise(axis, cutter.hand()))
        .map(|clockwise| clockwise == leans_clockwise);
    let sign = if grows == Some(false) { -1.0 } else { 1.0 };
    let upright = match (machine.head_zero(), kind) {
        (HeadZero::ParallelToTravel, WheelKind::Cup)
        | (HeadZero::SquareToTravel, WheelKind::Disc) => square,
        _ => Angle::ZERO,
    };
    let reading = upright + lean * sign;
    let dial = axis.and_then(|axis| Some(DialMark::swivel(axis, axis.swivel()?, reading)));
    let side = if leans_clockwise { "right" } else { "left" };
    let how = match (kind, grows) {
        (WheelKind::Disc, _) if lean == Angle::ZERO => "spindle along the travel".to_owned(),
        (_, Some(_)) => format!("the wheel's {side} side leads"),
        (_, None) => {
            let other = upright - lean * sign;
            format!("or {}, so that the wheel's {side} side leads", other.show())
        }
    };
    let head = match kind {
        WheelKind::Cup => square - lean,
        WheelKind::Disc => lean,
    };
    SetupLine {
        value: Some(Quantity::Angle(head)),
        dial,
        ..line(SetupItem::Head, how, "it alone cuts, and comes to the centre first")
    }
}

/// What holds the tooth from one stroke to the next.
fn held(cutter: &Cutter, machine: &Machine) -> SetupLine {
    let side = if cutter.hand() == Hand::Right { "right" } else { "left" };
    let how = if machine.holding().fixture() == Fixture::IndexHead {
        let index = index_line(cutter, machine, None).how;
        format!("tooth level on the {side}, heel up, head locked; then {index}")
    } else {
        format!("tooth level on the {side}, heel up; each on the rest, under its own edge")
    };
    line(SetupItem::Tooth, how, "the spindle locked lengthways: length is the size here")
}

fn level() -> SetupLine {
    let how = "indicate along the edge in the table's travel, or sight it along a square";
    line(SetupItem::Level, how, "out of level turns relief into dish, and dish into relief")
}

fn height(machine: &Machine, grind: &EndGrind) -> SetupLine {
    let above = grind.section.setup().stance().axis_above_edge;
    let axis = machine.axis(AxisRole::WheelHeadHeight);
    let dial = axis.and_then(|axis| Some(DialMark::slide(axis, axis.slide()?, above)));
    let (how, why) = if above < Length::ZERO {
        ("wheel axis below the edge, counted from level with it", "its round clears the next tooth")
    } else {
        ("wheel axis level with the edge", "the relief counts from it")
    };
    SetupLine {
        value: Some(Quantity::Length(above)),
        dial,
        ..line(SetupItem::WheelHeight, how, why)
    }
}

fn stops(machine: &Machine, end: &EndPlan) -> Vec<SetupLine> {
    let stops = &end.work.primary.stops;
    let axis = machine.axis(AxisRole::TableTravel);
    let fine = axis.filter(|axis| {
        axis.slide().is_some_and(|scale| scale.finest_travel().mm() <= STOP_STEP_MM_MAX)
    });
    let mark = |travel: Length| {
        let axis = fine?;
        Some(DialMark::slide(axis, axis.slide()?, travel))
    };
    let stop = |item, travel: Length, how: &str, why: &str| SetupLine {
        value: Some(Quantity::Length(travel)),
        dial: mark(travel),
        ..line(item, how, why)
    };
    let mut lines = vec![stop(
        SetupItem::StopCentre,
        stops.long,
        "from the wheel's corner at the tooth's corner, inward",
        "farther cuts another tooth",
    )];
    if stops.short < stops.long - Length::from_um(1.0) {
        let how = "the same on the teeth that stop short of the centre";
        lines.push(stop(SetupItem::StopCentre, stops.short, how, "they leave room at the centre"));
    }
    let clear = Length::from_mm(CLEAR_MM);
    let why = "clear of the wheel before you index";
    lines.push(stop(SetupItem::StopClear, clear, "from the centre stop outward", why));
    lines
}
