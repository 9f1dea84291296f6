//! How the tooth is held while it is ground, what then moves with what, and how the next tooth
//! comes up.

use geometry::closed_form::feed_turn;
use geometry::quantity::System;
use geometry::{Angle, Length};

use super::dial::{Quantity, system_of};
use super::setting::{SetupItem, SetupLine, line};
use crate::error::ShopError;
use crate::record::{Axis, Cutter, Division, Fixture, Machine, RestStand};

/// What holds the tooth against the wheel.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Held {
    /// A rest on the wheel head: it keeps its place at the wheel, and the tooth slides over it.
    RestOnHead,
    /// A rest on a table that stands still, while the work slides in its own fixture.
    RestBeforeWheel,
    /// A rest on the table that travels with the work: the tooth does not turn on its way.
    RestWithWork,
    /// An index head: nothing but the head holds the tooth, and it does not turn on its way.
    ByPlate,
}

impl Held {
    /// How a machine holds the teeth of its cutters.
    pub fn on(machine: &Machine) -> Self {
        match (machine.holding().fixture(), machine.rest().stands_on()) {
            (Fixture::IndexHead, _) => Self::ByPlate,
            (_, RestStand::WheelHead) => Self::RestOnHead,
            (Fixture::Centres, RestStand::Table) => Self::RestWithWork,
            (Fixture::AirSpindle { .. } | Fixture::ColletFixture, RestStand::Table) => {
                Self::RestBeforeWheel
            }
        }
    }

    /// Whether the tooth screws past the wheel, as a helix must.
    pub const fn lets_turn(self) -> bool {
        matches!(self, Self::RestOnHead | Self::RestBeforeWheel)
    }

    /// Whether a rest bears under the tooth.
    pub const fn has_rest(self) -> bool {
        !matches!(self, Self::ByPlate)
    }

    /// What a hand heeds through every stroke.
    pub(super) const fn through_the_stroke(self) -> &'static str {
        match self {
            Self::ByPlate => "the head locked through the whole stroke; clear before indexing",
            _ => "hold the tooth on its rest through the whole stroke, and clear before indexing",
        }
    }
}

/// Refuses a cutter that a machine cannot hold tooth by tooth.
pub(super) fn check_held(cutter: &Cutter, machine: &Machine) -> Result<(), ShopError> {
    let held = Held::on(machine);
    if !cutter.is_straight() && !held.lets_turn() {
        return Err(needs_turn(held, machine));
    }
    match machine.holding().fixture() {
        Fixture::Centres => check_centres(cutter, machine),
        Fixture::IndexHead => check_plate(cutter, machine),
        Fixture::AirSpindle { .. } | Fixture::ColletFixture => Ok(()),
    }
}

/// The refusal of a helix where nothing turns the tooth as it travels.
fn needs_turn(held: Held, machine: &Machine) -> ShopError {
    let fixture = machine.holding().fixture().name();
    if held == Held::ByPlate {
        let why = format!(
            "{fixture} holds the tooth fast while the table travels, and a helix has to turn by \
             its lead: use a fixture that turns freely, with the rest on the wheel head"
        );
        return ShopError::refused("a helix must turn as it travels", why);
    }
    let why = format!(
        "with {fixture} the table carries the rest along with the work, and a helical tooth would \
         not follow its helix: stand the rest on the wheel head, or use a fixture whose spindle \
         slides"
    );
    ShopError::refused("the rest must stand still before the wheel", why)
}

fn check_centres(cutter: &Cutter, machine: &Machine) -> Result<(), ShopError> {
    let (whole, longest) = (cutter.overall_length(), machine.holding().centres().longest);
    if let Some(longest) = longest.filter(|longest| whole > *longest) {
        let reason = format!(
            "{} does not go between the centres, which take {}: use a longer bench, or hold it by \
             the shank",
            whole.show_both(cutter.system()),
            longest.show_both(cutter.system())
        );
        return Err(ShopError::invalid("cutter.overall_length", reason));
    }
    Ok(())
}

/// Refuses teeth that an index head cannot bring up one after the other; nothing where another
/// fixture holds them.
pub(super) fn check_plate(cutter: &Cutter, machine: &Machine) -> Result<(), ShopError> {
    if machine.holding().fixture() != Fixture::IndexHead {
        return Ok(());
    }
    if !cutter.is_index_told() {
        return Err(ShopError::invalid(
            "cutter.unequal_index",
            "is not told, and an index head goes on by the same angle every time: look whether \
             the teeth stand equally, and write false or true",
        ));
    }
    if cutter.unequal_index() {
        return Err(ShopError::refused(
            "an index head needs equal teeth",
            "the teeth of this cutter stand unequally, and the head would take more off one than \
             off another: let each ride on a rest of its own height, in a fixture that turns \
             freely",
        ));
    }
    let (dividing, teeth) = (machine.holding().dividing(), cutter.teeth());
    if dividing.is_unknown() || dividing.divide(teeth).is_some() {
        return Ok(());
    }
    let ratio = dividing.ratio.unwrap_or(1);
    let holes = teeth / greatest_divisor(ratio, teeth);
    let why = format!(
        "nothing that {} lists divides by {teeth}: a circle whose holes are a multiple of {holes} \
         would, or a direct plate whose notches are one of {teeth}",
        machine.name()
    );
    Err(ShopError::refused("the index head must divide by the teeth", why))
}

fn greatest_divisor(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { greatest_divisor(b, a % b) }
}

/// The circle of holes that a dial of the work head is, where it is the crank of an index head
/// itself: a tooth that it turns must go on by that circle too, for the pin stands in its holes.
pub(super) fn crank_circle(machine: &Machine, axis: &Axis) -> Option<u32> {
    let is_head = machine.holding().fixture() == Fixture::IndexHead;
    machine.holding().dividing().circle_of_step(axis.swivel().filter(|_| is_head)?.finest())
}

/// How far a crank that is its own dial is turned for an angle, in turns and holes.
pub(super) fn crank_turned(machine: &Machine, axis: &Axis, angle: Angle) -> Option<String> {
    let circle = crank_circle(machine, axis)?;
    let step = axis.swivel()?.finest();
    let holes = (angle / step).round().abs() as u32;
    let counted = |count: u32, one: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        many => Some(format!("{many} {one}s")),
    };
    let parts = [counted(holes / circle, "turn"), counted(holes % circle, "hole")];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    (!parts.is_empty()).then(|| format!("{} on the circle of {circle}", parts.join(" and ")))
}

/// Refuses a dial that is the crank's own circle, where the teeth do not come out on that circle.
pub(super) fn check_crank(machine: &Machine, axis: &Axis, teeth: u32) -> Result<(), ShopError> {
    let dividing = machine.holding().dividing();
    let comes_out = |circle: u32| dividing.by_circle(teeth, circle).is_some();
    let Some(circle) = crank_circle(machine, axis).filter(|circle| !comes_out(*circle)) else {
        return Ok(());
    };
    let better = dividing.circles.iter().copied().filter(|circle| comes_out(*circle)).max();
    let right = match (better, dividing.ratio) {
        (Some(better), Some(ratio)) => format!(
            "use the circle of {better}: write graduation = \"{:.6} deg\" for it",
            360.0 / (f64::from(ratio) * f64::from(better))
        ),
        _ => "no circle listed does both: set the relief by the height of a disc".to_owned(),
    };
    let why = format!(
        "\"{}\" turns the tooth on the circle of {circle}, and {teeth} teeth do not come out on \
         that: {right}",
        axis.name()
    );
    Err(ShopError::refused("the crank must turn and index on one circle", why))
}

/// The lines that say how the tooth is held, what moves with what, and how the next one comes;
/// `by` is the dial that turns the tooth, where one does.
pub(super) fn held_lines(
    cutter: &Cutter,
    machine: &Machine,
    (diameter, setting): (Length, Angle),
    by: Option<&Axis>,
) -> Vec<SetupLine> {
    let held = Held::on(machine);
    let mut lines: Vec<SetupLine> = centres_line(cutter, machine).into_iter().collect();
    match held {
        Held::ByPlate => {
            lines.push(SetupLine {
                value: Some(Quantity::Length(Length::ZERO)),
                ..line(
                    SetupItem::Tooth,
                    "edge on centre by the centre gauge, head locked",
                    "nothing else holds it: the relief counts from there",
                )
            });
            lines.push(index_line(cutter, machine, by));
        }
        _ => lines.push(stand(held, cutter, machine, (diameter, setting))),
    }
    lines
}

/// The line of the centres, where these hold the cutter.
pub(super) fn centres_line(cutter: &Cutter, machine: &Machine) -> Option<SetupLine> {
    (machine.holding().fixture() == Fixture::Centres).then(|| centres(cutter, machine))
}

fn centres(cutter: &Cutter, machine: &Machine) -> SetupLine {
    let height = machine.holding().centres().height;
    let above = if height.is_some() { "; axis so far above the table" } else { "" };
    SetupLine {
        value: height.map(Quantity::Length),
        ..line(
            SetupItem::Centres,
            format!("holes clean, oiled, no shake{above}"),
            if cutter.centre_cutting() {
                "its end teeth reach the middle: see that it has a centre there, or hold the shank"
            } else {
                "the tooth falls onto its rest by itself"
            },
        )
    }
}

/// What stands where, and what the feed and a dressing then change.
fn stand(
    held: Held,
    cutter: &Cutter,
    machine: &Machine,
    (diameter, setting): (Length, Angle),
) -> SetupLine {
    let step = match system_of(machine.cross_feed().graduation) {
        System::Inch => Length::from_thou(1.0),
        System::Millimetre => Length::from_mm(0.02),
    };
    let turned = feed_turn(diameter, cutter.rake(), setting, step);
    let (how, why) = match held {
        Held::RestOnHead => (
            "on the head".to_owned(),
            format!(
                "{} of feed turns the tooth {}; reset when dressed",
                step.show(system_of(step)),
                turned.show()
            ),
        ),
        Held::RestBeforeWheel => (
            "on the table, which stands still; the work slides in its fixture".to_owned(),
            "after dressing only the feed begins anew".to_owned(),
        ),
        Held::RestWithWork | Held::ByPlate => (
            "on the table: it travels with the work, and the tooth does not turn".to_owned(),
            "for straight teeth alone; after dressing only the feed begins anew".to_owned(),
        ),
    };
    line(SetupItem::RestStand, how, why)
}

/// The line that says how an index head goes on from tooth to tooth; `by` is the dial that turns
/// the tooth, whose circle it then goes on by.
pub(super) fn index_line(cutter: &Cutter, machine: &Machine, by: Option<&Axis>) -> SetupLine {
    let (teeth, dividing) = (cutter.teeth(), machine.holding().dividing());
    let division = match by.and_then(|axis| crank_circle(machine, axis)) {
        Some(circle) => dividing.by_circle(teeth, circle),
        None => dividing.divide(teeth),
    };
    let how = match division {
        Some(Division::Direct { by: 1, plate }) => format!("1 notch on the plate of {plate}"),
        Some(Division::Direct { by, plate }) => format!("{by} notches on the plate of {plate}"),
        Some(Division::Crank { turns: 1, holes: 0, .. }) => {
            "1 whole turn of the crank, back into the same hole".to_owned()
        }
        Some(Division::Crank { turns, holes: 0, .. }) => {
            format!("{turns} whole turns of the crank, back into the same hole")
        }
        Some(Division::Crank { turns, holes, circle }) => {
            format!("{turns} turns and {holes} holes on the circle of {circle}")
        }
        None => "by its own plate; its circles are not in the machine's file".to_owned(),
    };
    SetupLine {
        value: Some(Quantity::Angle(Angle::from_degrees(360.0 / f64::from(teeth)))),
        ..line(
            SetupItem::Index,
            format!("{how}, from tooth to tooth"),
            "always the same way round, then lock the head",
        )
    }
}
