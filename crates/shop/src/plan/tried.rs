//! What the wheel would leave if a setting stood otherwise than planned.

use geometry::section::Stance;
use geometry::{Angle, Length};

use super::regrind::RegrindPlan;
use super::stance::Stanced;
use crate::error::ShopError;

/// How far settings stand from where the plan has them; nothing by default.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct SetOtherwise {
    /// The head leans further by this much.
    pub lean: Angle,
    /// The rest stands further inside the face by this much.
    pub rest_inset: Length,
    /// The tooth at the rest stands further below centre by this much.
    pub relief_setting: Angle,
}

/// What a primary would be with other settings, at the plan's own diameter.
#[derive(Clone, Debug)]
pub struct Tried {
    /// The plan with the primary's surfaces as they would be.
    pub plan: RegrindPlan,
    /// Relief over the distance over which it is meant.
    pub relief: Angle,
    /// How much that is off the relief wanted.
    pub off_by: Angle,
    /// Where the heel would drag, behind the edge.
    pub heel_drag_from: Option<Length>,
    /// Land that would be left in front of the old secondary, before the new one is ground.
    pub land_before: Option<Length>,
    /// Gap between the wheel and the next tooth's new edge; below zero the wheel cuts it.
    pub next_tooth_gap: Option<Length>,
}

impl SetOtherwise {
    /// Whether every setting stands as planned.
    pub fn is_as_planned(&self) -> bool {
        *self == Self::default()
    }
}

/// Sets the primary of a plan otherwise and looks at what the wheel would leave.
///
/// # Errors
/// `Invalid` where the plan grinds no periphery or a setting leaves its range, `Refused` where the
/// wheel would leave no surface.
pub fn tried(plan: &RegrindPlan, otherwise: &SetOtherwise) -> Result<Tried, ShopError> {
    let none = || ShopError::invalid("plan", "it grinds no periphery, so nothing can be set");
    let planned = plan.peripheral.as_ref().ok_or_else(none)?;
    let stance = *planned.stanced.stance();
    let stance = Stance {
        lean: stance.lean + otherwise.lean,
        rest_inset: stance.rest_inset + otherwise.rest_inset,
        relief_setting: stance.relief_setting + otherwise.relief_setting,
        ..stance
    };
    let setup = planned.stanced.setup.with_stance(stance)?;
    let section = setup.section(planned.section.circle_radius() * 2.0)?;
    let target = planned.stanced.target;
    let found = target.of(&section).zip(section.edge_relief());
    let (relief, edge_relief) = found.ok_or_else(|| {
        ShopError::refused("the wheel must leave a surface", "so set it leaves none at the edge")
    })?;
    let mut plan = plan.clone();
    let (heel_drag_from, next_tooth_gap) = (section.heel_drag_from(), section.next_tooth_gap());
    let mut land_before = None;
    if let Some(peripheral) = &mut plan.peripheral {
        land_before = peripheral.outline_before.land_left_by(&section);
        peripheral.outline_primary = peripheral.outline_before.cut_by(&section);
        peripheral.outline_after = peripheral.outline_primary.cut_by(&peripheral.secondary.section);
        peripheral.section = section;
        peripheral.stanced = Stanced { setup, relief, edge_relief, ..peripheral.stanced.clone() };
    }
    let off_by = relief - target.relief;
    Ok(Tried { plan, relief, off_by, heel_drag_from, land_before, next_tooth_gap })
}
