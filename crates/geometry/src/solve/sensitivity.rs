//! How much relief a small error of each setting costs.

use super::relief::ReliefTarget;
use crate::quantity::{Angle, Length};
use crate::section::{Setup, Stance};

/// Change of relief for a small change of each setting, from the real section on both sides.
/// A figure is None where the section has no relief on one side (the rest at the face's end).
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sensitivities {
    /// Degrees of relief per degree of relief setting.
    pub per_setting_degree: Option<f64>,
    /// Degrees of relief per millimetre by which the rest stands lower.
    pub per_rest_height_mm: Option<f64>,
    /// Degrees of relief per degree of lean.
    pub per_lean_degree: Option<f64>,
    /// Degrees of relief per millimetre of rest inset.
    pub per_inset_mm: Option<f64>,
    /// Degrees of relief per millimetre of wheel-axis height.
    pub per_axis_height_mm: Option<f64>,
}

/// Half-steps of the central differences: degrees and millimetres.
const STEP: f64 = 0.01;

/// Central differences on the real section.
///
/// **Source** \[own-derivation\] central difference of the relief over ±0.01 degree or ±0.01 mm.
/// **Departs** at a corner of the section, where the two sides differ: the figure is their mean.
/// **Error** below 1 % where the relief is smooth. **Domain** set-ups whose neighbours are
/// possible.
pub fn sensitivities(setup: &Setup, diameter: Length, target: ReliefTarget) -> Sensitivities {
    let relief = |stance: Stance| -> Option<f64> {
        let setup = setup.with_stance(stance).ok()?;
        target.at(&setup, diameter).ok()?.map(Angle::degrees)
    };
    let slope = |change: &dyn Fn(&mut Stance, f64)| -> Option<f64> {
        let at = |step: f64| {
            let mut stance = *setup.stance();
            change(&mut stance, step);
            relief(stance)
        };
        match (at(STEP), at(-STEP)) {
            (Some(more), Some(less)) => Some((more - less) / (2.0 * STEP)),
            // At the end of a range only one side exists.
            (Some(more), None) => Some((more - at(0.0)?) / STEP),
            (None, Some(less)) => Some((at(0.0)? - less) / STEP),
            (None, None) => None,
        }
    };
    let degree = |step: f64| Angle::from_degrees(step);
    let length = |step: f64| Length::from_mm(step);
    let setting =
        slope(&|stance, step| stance.relief_setting = stance.relief_setting + degree(step));
    let below = diameter * 0.5 * setup.stance().relief_setting.cos();
    Sensitivities {
        per_setting_degree: setting,
        per_rest_height_mm: setting.map(|per| per * (1.0 / below.mm()).to_degrees()),
        per_lean_degree: slope(&|stance, step| stance.lean = stance.lean + degree(step)),
        per_inset_mm: slope(&|stance, step| stance.rest_inset += length(step)),
        per_axis_height_mm: slope(&|stance, step| stance.axis_above += length(step)),
    }
}
