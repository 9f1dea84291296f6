//! The stance of wheel, rest and tooth: solved on the real section, then snapped to the machine.

use geometry::section::{GroundSection, Setup, Stance};
use geometry::solve::{
    Adjusted, EccentricWish, ReliefTarget, Sensitivities, eccentric_stance, sensitivities,
    solve_relief,
};
use geometry::wheel::{FaceToward, WheelBody, WheelKind};
use geometry::{Angle, Length};
use trade::PracticeItem;

use super::cone::{at_tip, check_kind};
use super::dial::{snapped_travel, system_of};
use super::held::{Held, check_crank};
use super::refusal::{check_next_tooth, old_edge_stands};
use super::rest::fine_rest_along;
use super::wanted::{ReliefKind, Wanted};
use crate::bridge;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::record::{Axis, AxisRole, Cutter, Finest, Machine};

/// How the relief is set on this machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ReliefBy {
    /// By the angle dial of the work fixture.
    Dial,
    /// By lowering the tooth rest below centre.
    RestHeight,
    /// By raising the wheel above centre, rest and tooth on centre.
    WheelAbove,
    /// By lowering a wheel head that carries the rest.
    HeadWithRest,
}

/// A stance as it should be and as this machine can set it.
#[derive(Clone, Debug)]
pub struct Stanced {
    /// Cutter and wheel in the stance as set.
    pub setup: Setup,
    /// The stance that meets the target exactly.
    pub ideal: Stance,
    /// How the relief is set.
    pub relief_by: ReliefBy,
    /// Relief wanted, and the distance over which it is meant.
    pub target: ReliefTarget,
    /// Relief over that distance with the settings as snapped.
    pub relief: Angle,
    /// Relief at the edge itself.
    pub edge_relief: Angle,
    /// What small errors cost.
    pub sensitivities: Sensitivities,
}

impl Stanced {
    /// The stance as set.
    pub fn stance(&self) -> &Stance {
        self.setup.stance()
    }

    /// Relief gained or lost by snapping to the machine's graduations.
    pub fn cost_of_snapping(&self) -> Angle {
        self.relief - self.target.relief
    }

    /// The section at a diameter.
    pub fn section(&self, diameter: Length) -> Result<GroundSection, ShopError> {
        Ok(self.setup.section(diameter)?)
    }
}

/// Everything that a stance is solved from.
pub(crate) struct StanceWish<'a> {
    pub(crate) ctx: &'a Ctx<'a>,
    pub(crate) cutter: &'a Cutter,
    pub(crate) machine: &'a Machine,
    pub(crate) wanted: &'a Wanted,
    pub(crate) body: WheelBody,
    pub(crate) kind: ReliefKind,
    pub(crate) way: ReliefWay<'a>,
    pub(crate) diameter: Length,
    pub(crate) sharp_diameter: Length,
    /// What the wheel comes nearer for each length that the dial is fed.
    pub(crate) dial_ratio: f64,
}

/// Share of the face's width beyond which the rest is not set in.
const INSET_SHARE_MAX: f64 = 0.4;

/// Steps of the head by which a cup may be leaned further to clear its far side.
const LEAN_STEPS_MAX: u32 = 6;

/// How far a cup's far side must stand clear of the old edge.
const FAR_SIDE_CLEAR_MM: f64 = 0.1;

/// Face that must remain beyond an eccentric contact on either side.
const ECCENTRIC_MARGIN_MM: f64 = 0.25;

/// Solves and snaps the primary's stance; gives it with its section at the wish's diameter.
pub(crate) fn primary(wish: &StanceWish<'_>) -> Result<(Stanced, GroundSection), ShopError> {
    let relief = at_tip(wish, wish.wanted.primary.value);
    let target = ReliefTarget { relief, over: Some(wish.wanted.over.value) };
    check_kind(wish)?;
    if wish.kind == ReliefKind::Eccentric {
        // An eccentric relief is the same at every point, so it is meant at the edge: a chord over
        // a distance would count the circle's own curvature in.
        return eccentric(wish, ReliefTarget { over: None, ..target });
    }
    let ReliefWay { axis, by: relief_by } = wish.way;
    let mut lean = first_lean(wish);
    for _ in 0..LEAN_STEPS_MAX {
        let base = Setup::new(bridge::flutes(wish.cutter), wish.body.clone(), base(wish, lean))?;
        let (stanced, section) = settle(wish.diameter, &base, target, axis, relief_by)?;
        if far_side_clears(wish, &section) {
            check_section(wish, &section)?;
            return Ok((stanced, section));
        }
        lean = lean + wish.machine.head_swivel().finest();
    }
    Err(ShopError::refused(
        "the far side of the cup must clear the cutter",
        "no small lean of the head clears it: use a smaller cup, or lean the head further by hand \
         and give the lean in a setting file",
    ))
}

/// The secondary's stance: the primary's, with only the relief set anew for a plane at
/// `secondary`.
pub(crate) fn secondary(wish: &StanceWish<'_>, primary: &Stanced) -> Result<Stanced, ShopError> {
    // A wide secondary curves along a helix; what counts is its angle just behind the land.
    let over = (wish.wanted.land.value * 2.0).min(wish.wanted.tooth_thickness.value * 0.8);
    let relief = at_tip(wish, wish.wanted.secondary.value);
    let target = ReliefTarget { relief, over: Some(over) };
    let ReliefWay { axis, by: relief_by } = wish.way;
    let mut stance = *primary.stance();
    if wish.kind == ReliefKind::Eccentric {
        // The secondary behind an eccentric primary is ground flat, on the leading corner.
        stance = base(wish, first_lean(wish));
    }
    let base = Setup::new(bridge::flutes(wish.cutter), wish.body.clone(), stance)?;
    Ok(settle(wish.diameter, &base, target, axis, relief_by)?.0)
}

/// The machine's ways of setting relief that work with this kind of wheel, the finest first,
/// measured by the relief that the smallest step makes at this diameter.
///
/// # Errors
/// `Refused` where there is none.
pub(crate) fn relief_ways<'a>(
    machine: &'a Machine,
    body: &WheelBody,
    (teeth, diameter): (u32, Length),
) -> Result<Vec<ReliefWay<'a>>, ShopError> {
    let held = Held::on(machine);
    let usable = |axis: &Axis| match axis.role() {
        AxisRole::ReliefDial => Some(ReliefBy::Dial),
        AxisRole::RestHeight if held.has_rest() => Some(ReliefBy::RestHeight),
        AxisRole::WheelHeadHeight if held == Held::RestOnHead => Some(ReliefBy::HeadWithRest),
        AxisRole::WheelHeadHeight if body.kind() == WheelKind::Disc => Some(ReliefBy::WheelAbove),
        _ => None,
    };
    let step_rad = |way: &ReliefWay<'_>| match (way.axis.finest(), way.by) {
        (Finest::Angle(step), _) => step.radians(),
        (Finest::Length(step), ReliefBy::WheelAbove) => step.mm() / body.radius_mm(),
        (Finest::Length(step), _) => 2.0 * (step / diameter),
    };
    let way = |axis: &'a Axis| usable(axis).map(|by| ReliefWay { axis, by });
    let mut ways: Vec<ReliefWay<'a>> = machine.relief_axes().filter_map(way).collect();
    ways.sort_by(|a, b| step_rad(a).total_cmp(&step_rad(b)));
    let against = ways.iter().find_map(|way| way.check_crank(machine, teeth).err());
    ways.retain(|way| way.check_crank(machine, teeth).is_ok());
    if let Some(error) = against.filter(|_| ways.is_empty()) {
        return Err(error);
    }
    if ways.is_empty() {
        if held == Held::ByPlate {
            return Err(ShopError::refused(
                "the machine must be able to set relief",
                "under an index head a cup gets its relief from the head's own turn: write an axis \
                 of role \"relief dial\" for it, one hole of its circle a division, or use a disc",
            ));
        }
        return Err(ShopError::refused(
            "the machine must be able to set relief",
            "raising the wheel sets no relief for a cup whose rest stands on the table: use a \
             disc, or a rest whose height can be set",
        ));
    }
    Ok(ways)
}

/// A way of setting relief on one machine.
#[derive(Clone, Copy)]
pub(crate) struct ReliefWay<'a> {
    axis: &'a Axis,
    pub(super) by: ReliefBy,
}

impl ReliefWay<'_> {
    /// Refuses the crank of an index head on whose circle the teeth do not come out.
    fn check_crank(&self, machine: &Machine, teeth: u32) -> Result<(), ShopError> {
        match self.by {
            ReliefBy::Dial => check_crank(machine, self.axis, teeth),
            _ => Ok(()),
        }
    }
}

fn first_lean(wish: &StanceWish<'_>) -> Angle {
    lean_by_practice(wish.ctx, wish.body.kind(), wish.cutter, wish.machine)
}

/// The lean that practice gives, up to the next mark of the head.
pub(crate) fn lean_by_practice(
    ctx: &Ctx<'_>,
    kind: WheelKind,
    cutter: &Cutter,
    machine: &Machine,
) -> Angle {
    if kind == WheelKind::Disc && cutter.is_straight() {
        return Angle::ZERO;
    }
    lean_of_practice(ctx, machine)
}

/// The same for any cutter that needs one.
pub(super) fn lean_of_practice(ctx: &Ctx<'_>, machine: &Machine) -> Angle {
    let finest = machine.head_swivel().finest();
    let practice = ctx
        .tables
        .practice(PracticeItem::CupHeadOffSquare)
        .and_then(|lookup| Some(lookup.chosen.value.amount?.angle()?.middle()));
    let wanted = practice.unwrap_or(finest);
    finest * (wanted / finest - 1e-9).ceil().max(1.0)
}

/// The face direction in which the leading corner does the cutting.
pub(crate) fn leading_cuts(cutter: &Cutter) -> FaceToward {
    if bridge::flutes(cutter).twist_rad_per_mm() < 0.0 {
        FaceToward::Shank
    } else {
        FaceToward::Tip
    }
}

fn base(wish: &StanceWish<'_>, lean: Angle) -> Stance {
    Stance {
        lean,
        face_toward: leading_cuts(wish.cutter),
        rest_inset: inset(wish),
        relief_setting: wish.wanted.primary.value,
        axis_above: Length::ZERO,
        tilt: Angle::ZERO,
    }
}

/// Rest inset: practice's middle, within the face, to the step of the rest's own scale.
pub(super) fn inset(wish: &StanceWish<'_>) -> Length {
    let face = Length::from_mm(wish.body.face_width_mm());
    inset_by_practice(wish.ctx, wish.machine, face)
}

/// The same for a face of some width.
pub(crate) fn inset_by_practice(ctx: &Ctx<'_>, machine: &Machine, face: Length) -> Length {
    let practice = ctx
        .tables
        .practice(PracticeItem::RestFromOutside)
        .and_then(|lookup| Some(lookup.chosen.value.amount?.length()?.middle()));
    let wanted = practice.unwrap_or(face * 0.2).min(face * INSET_SHARE_MAX);
    match fine_rest_along(machine).and_then(Axis::slide) {
        Some(scale) => snapped_travel(scale, wanted),
        None => wanted.snapped_to(by_eye(machine)),
    }
}

/// What a person sets against a rule or feeler where there is no dial.
fn by_eye(machine: &Machine) -> Length {
    match system_of(machine.cross_feed().graduation) {
        geometry::quantity::System::Inch => Length::from_thou(1.0),
        geometry::quantity::System::Millimetre => Length::from_mm(0.02),
    }
}

/// Solves the relief in a stance, snaps it to its axis and measures what came of it.
fn settle(
    diameter: Length,
    base: &Setup,
    target: ReliefTarget,
    axis: &Axis,
    relief_by: ReliefBy,
) -> Result<(Stanced, GroundSection), ShopError> {
    let (start, adjusted) = match relief_by {
        ReliefBy::Dial | ReliefBy::RestHeight => (base.clone(), Adjusted::ReliefSetting),
        ReliefBy::HeadWithRest => (base.clone(), Adjusted::RestWithAxis),
        ReliefBy::WheelAbove => {
            let on_centre = Stance { relief_setting: Angle::ZERO, ..*base.stance() };
            (base.with_stance(on_centre)?, Adjusted::AxisAbove)
        }
    };
    let ideal = solve_relief(&start, diameter, target, adjusted)?;
    let set = snapped(&ideal, diameter * 0.5, axis, relief_by)?;
    measured(base.with_stance(set)?, ideal, diameter, target, relief_by)
}

/// The stance of another set-up, such as for a tooth of another helix, with its relief solved and
/// snapped as in the wish.
pub(super) fn settled_with(
    wish: &StanceWish<'_>,
    base: &Setup,
    target: ReliefTarget,
) -> Result<(Stanced, GroundSection), ShopError> {
    settle(wish.diameter, base, target, wish.way.axis, wish.way.by)
}

pub(super) fn measured(
    setup: Setup,
    ideal: Stance,
    diameter: Length,
    target: ReliefTarget,
    relief_by: ReliefBy,
) -> Result<(Stanced, GroundSection), ShopError> {
    let section = setup.section(diameter)?;
    let (Some(relief), Some(edge_relief)) = (target.of(&section), section.edge_relief()) else {
        return Err(ShopError::refused(
            "the wheel must leave a surface",
            "the wheel leaves none at the distance over which the relief is meant",
        ));
    };
    let sensitivities = sensitivities(&setup, diameter, target);
    let stanced = Stanced { setup, ideal, relief_by, target, relief, edge_relief, sensitivities };
    Ok((stanced, section))
}

/// The stance with its relief at the nearest mark of the axis that sets it.
fn snapped(
    ideal: &Stance,
    radius: Length,
    axis: &Axis,
    relief_by: ReliefBy,
) -> Result<Stance, ShopError> {
    let mut set = *ideal;
    let below = |drop: Length| {
        let angle = (drop / radius).clamp(-1.0, 1.0).asin();
        Angle::from_radians(angle)
    };
    let drop = radius * ideal.relief_setting.sin();
    match (relief_by, axis.slide(), axis.swivel()) {
        (ReliefBy::Dial, _, Some(scale)) => {
            set.relief_setting = ideal.relief_setting.snapped_to(scale.finest());
        }
        (ReliefBy::RestHeight, Some(scale), _) => {
            set.relief_setting = below(snapped_travel(scale, drop));
        }
        (ReliefBy::WheelAbove, Some(scale), _) => {
            set.axis_above = snapped_travel(scale, ideal.axis_above);
        }
        (ReliefBy::HeadWithRest, Some(scale), _) => {
            let drop = snapped_travel(scale, drop);
            set.relief_setting = below(drop);
            set.axis_above = -drop;
        }
        _ => {
            let reason =
                "its scale does not fit what it is for: a relief dial turns, a height slides";
            return Err(ShopError::invalid(format!("axis {}", axis.name()), reason));
        }
    }
    Ok(set)
}

pub(super) fn far_side_clears(wish: &StanceWish<'_>, section: &GroundSection) -> bool {
    if !reaches_far_side(wish.cutter, section.setup()) {
        return true;
    }
    let old_edge = old_edge_stands(wish);
    let clears = |gap: Length| gap - old_edge > Length::from_mm(FAR_SIDE_CLEAR_MM);
    section.far_side_gap().is_none_or(clears)
}

/// Whether a cutter is so long that it comes before the far side of the cup's rim.
pub(crate) fn reaches_far_side(cutter: &Cutter, setup: &Setup) -> bool {
    let across = 2.0 * setup.wheel().radius_mm() - setup.wheel().face_width_mm();
    // A face that runs to the shank has its far side over the shank and the work head throughout.
    let to_shank = setup.stance().face_toward == FaceToward::Shank;
    to_shank || cutter.flute_length().mm() >= across
}

/// Refuses a section that drags its heel or meets the next tooth.
fn check_section(wish: &StanceWish<'_>, section: &GroundSection) -> Result<(), ShopError> {
    let land = wish.wanted.land.value;
    if let Some(from) = section.heel_drag_from().filter(|from| *from < land) {
        return Err(ShopError::refused(
            "the heel must clear",
            format!(
                "the heel would drag from {:.3} mm behind the edge, inside the land of {:.3} mm: \
                 ask for more relief or a narrower land",
                from.mm(),
                land.mm()
            ),
        ));
    }
    check_next_tooth(wish, section.next_tooth_gap(), "")
}

fn eccentric(
    wish: &StanceWish<'_>,
    target: ReliefTarget,
) -> Result<(Stanced, GroundSection), ShopError> {
    let flutes = bridge::flutes(wish.cutter);
    let base = Setup::new(flutes, wish.body.clone(), base(wish, Angle::ZERO))?;
    let land = wish.wanted.land.value;
    let margin = Length::from_mm(ECCENTRIC_MARGIN_MM);
    let ideal = eccentric_stance(&base, wish.diameter, EccentricWish { target, land, margin })?;
    let mut set = ideal;
    set.lean = ideal.lean.snapped_to(wish.machine.head_swivel().finest());
    let ReliefWay { axis, by: relief_by } = wish.way;
    let set = snapped(&set, wish.diameter * 0.5, axis, relief_by)?;
    let set = base.with_stance(set)?;
    let (stanced, section) = measured(set, ideal, wish.diameter, target, relief_by)?;
    check_section(wish, &section)?;
    Ok((stanced, section))
}
