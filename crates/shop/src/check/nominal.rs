//! What the planned set-up leaves, and what small changes of it make of each reading.

use geometry::outline::WornTooth;
use geometry::section::{GroundSection, Setup, Stance};
use geometry::wheel::WheelBody;
use geometry::{Angle, Length};

use crate::bridge;
use crate::error::ShopError;
use crate::plan::{Peripheral, RegrindPlan, ReliefBy, Stanced};
use crate::record::{Cutter, LandStage};

/// The step of relief over which slopes are taken, in degrees.
const RELIEF_STEP_DEG: f64 = 0.25;

/// The step of the wheel's corner over which slopes are taken, in mm.
const CORNER_STEP_MM: f64 = 0.05;

/// The planned primary with a fault of the wheel or of its setting.
struct Variant {
    setup: Setup,
    /// What it is a unit of: degrees of relief, or millimetres of corner.
    amount: f64,
}

/// What the forward model is taken about: nothing at first, then what was found, because a land
/// grows faster with the stand where there is more relief.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Shift {
    /// Degrees of relief more than planned.
    pub(super) relief_deg: f64,
    /// Millimetres by which the wheel's corner is rounder.
    pub(super) corner_mm: f64,
}

/// The forward model of a plan.
pub(super) struct Nominal<'a> {
    pub(super) cutter: &'a Cutter,
    pub(super) peripheral: &'a Peripheral,
    pub(super) shift: Shift,
    radius_mm: f64,
    setup: Setup,
    relief: Option<Variant>,
    corner: Option<Variant>,
}

impl<'a> Nominal<'a> {
    /// The model of a plan.
    ///
    /// # Errors
    /// Where the plan does not grind the periphery: then there is nothing to check.
    pub(super) fn of(plan: &'a RegrindPlan) -> Result<Self, ShopError> {
        let peripheral = plan.peripheral.as_ref().ok_or_else(|| {
            let reason = "it does not grind the periphery: there is nothing to read";
            ShopError::invalid("plan", reason)
        })?;
        let setup = peripheral.stanced.setup.clone();
        Ok(Self::about(&plan.request.cutter, peripheral, setup, Shift::default()))
    }

    fn about(cutter: &'a Cutter, peripheral: &'a Peripheral, setup: Setup, shift: Shift) -> Self {
        let radius_mm = peripheral.section.circle_radius().mm();
        let stanced = &peripheral.stanced;
        let relief = relief_variant(stanced, &setup, radius_mm);
        let corner = corner_variant(peripheral, &setup, shift.corner_mm + CORNER_STEP_MM);
        Self { cutter, peripheral, shift, radius_mm, setup, relief, corner }
    }

    /// The same model about a shifted set-up; None where that is impossible.
    pub(super) fn shifted(&self, shift: Shift) -> Option<Self> {
        let stanced = &self.peripheral.stanced;
        let per_setting = self.relief_per_setting()?;
        let degrees = shift.relief_deg / per_setting;
        let turned = changed_relief(stanced, &stanced.setup, self.radius_mm, degrees)?;
        let setup = if shift.corner_mm > 0.0 {
            corner_variant(self.peripheral, &turned, shift.corner_mm)?.setup
        } else {
            turned
        };
        setup.section(self.diameter(0.0)).ok()?;
        Some(Self::about(self.cutter, self.peripheral, setup, shift))
    }

    /// Radius of the planned edge, in mm.
    pub(super) const fn radius_mm(&self) -> f64 {
        self.radius_mm
    }

    /// Width of a land whose edge stands `stand_mm` farther out than planned; None where nothing
    /// ends it.
    pub(super) fn land_mm(&self, stage: LandStage, stand_mm: f64) -> Option<f64> {
        self.land_with(&self.setup, stage, stand_mm)
    }

    /// Land gained per degree of relief, per millimetre of the wheel's corner.
    pub(super) fn land_slopes(&self, stage: LandStage) -> [f64; 2] {
        let slope = |variant: &Option<Variant>| {
            let variant = variant.as_ref()?;
            let changed = self.land_with(&variant.setup, stage, 0.0)?;
            Some((changed - self.land_mm(stage, 0.0)?) / variant.amount)
        };
        [&self.relief, &self.corner].map(|variant| slope(variant).unwrap_or(0.0))
    }

    /// The drop at a distance, in mm.
    pub(super) fn drop_mm(&self, distance: Length) -> Option<f64> {
        Some(self.setup.section(self.diameter(0.0)).ok()?.drop_at(distance)?.mm())
    }

    /// Drop gained per degree of relief, per millimetre of the wheel's corner.
    pub(super) fn drop_slopes(&self, distance: Length) -> [f64; 2] {
        let slope = |variant: &Option<Variant>| {
            let variant = variant.as_ref()?;
            let section = variant.setup.section(self.diameter(0.0)).ok()?;
            Some((section.drop_at(distance)?.mm() - self.drop_mm(distance)?) / variant.amount)
        };
        [&self.relief, &self.corner].map(|variant| slope(variant).unwrap_or(0.0))
    }

    /// Degrees of relief for each degree of its setting.
    pub(super) fn relief_per_setting(&self) -> Option<f64> {
        Some(self.relief.as_ref()?.amount / RELIEF_STEP_DEG)
    }

    fn diameter(&self, stand_mm: f64) -> Length {
        Length::from_mm(2.0 * (self.radius_mm + stand_mm))
    }

    fn land_with(&self, setup: &Setup, stage: LandStage, stand_mm: f64) -> Option<f64> {
        let section = setup.section(self.diameter(stand_mm)).ok()?;
        // What wear took off the old land does not change where the fresh one ends.
        let sharp = WornTooth { wear_land: Length::ZERO, ..self.peripheral.worn };
        let outline = sharp.outline(self.diameter(stand_mm) / 2.0);
        let old = outline.land_left_by(&section);
        let width = match stage {
            LandStage::AfterPrimary => old?,
            LandStage::AfterSecondary => {
                // The edge moves along the face of the tooth; the secondary stays where it is.
                let turned = stand_mm * self.cutter.rake().tan() / self.radius_mm;
                let behind = &self.peripheral.secondary.section;
                let fresh = section.land_before_turned(behind, Angle::from_radians(turned));
                match (old, fresh) {
                    (Some(old), Some(fresh)) => old.min(fresh),
                    (old, fresh) => old.or(fresh)?,
                }
            }
        };
        Some(width.mm())
    }
}

/// The set-up of a plan with this much more relief, in degrees, and a wheel's corner so much
/// rounder, in mm.
///
/// # Errors
/// `Refused` where no such set-up leaves a surface.
pub(crate) fn set_up_as(
    plan: &RegrindPlan,
    relief_deg: f64,
    corner_mm: f64,
) -> Result<Setup, ShopError> {
    let nominal = Nominal::of(plan)?;
    if relief_deg == 0.0 && corner_mm == 0.0 {
        return Ok(nominal.setup);
    }
    let shifted = nominal.shifted(Shift { relief_deg, corner_mm });
    shifted.map(|moved| moved.setup).ok_or_else(|| {
        let why = format!(
            "{relief_deg:+.2} deg of relief and {corner_mm:.3} mm of the wheel's corner off the \
             plan leave none: set up anew, and plan anew"
        );
        ShopError::refused("the wheel must leave a surface", why)
    })
}

/// The setting that makes a little more relief, with how much it really makes.
fn relief_variant(stanced: &Stanced, base: &Setup, radius_mm: f64) -> Option<Variant> {
    let setup = changed_relief(stanced, base, radius_mm, RELIEF_STEP_DEG)?;
    let before = stanced.target.of(&section_of(base, radius_mm)?)?;
    let after = stanced.target.of(&section_of(&setup, radius_mm)?)?;
    let amount = (after - before).degrees();
    (amount.abs() > 1e-6).then_some(Variant { setup, amount })
}

fn section_of(setup: &Setup, radius_mm: f64) -> Option<GroundSection> {
    setup.section(Length::from_mm(2.0 * radius_mm)).ok()
}

/// A set-up with its relief set higher by this many degrees of the setting, in the way in which
/// the machine sets it.
pub(super) fn changed_relief(
    stanced: &Stanced,
    base: &Setup,
    radius_mm: f64,
    degrees: f64,
) -> Option<Setup> {
    let mut stance: Stance = *base.stance();
    let more = Angle::from_degrees(degrees);
    match stanced.relief_by {
        ReliefBy::Dial | ReliefBy::RestHeight => {
            stance.relief_setting = stance.relief_setting + more;
        }
        ReliefBy::HeadWithRest => {
            stance.relief_setting = stance.relief_setting + more;
            stance.axis_above = Length::from_mm(-radius_mm * stance.relief_setting.sin());
        }
        ReliefBy::WheelAbove => {
            let wheel_mm = base.wheel().radius_mm();
            stance.axis_above += Length::from_mm(wheel_mm * more.sin());
        }
    }
    base.with_stance(stance).ok()
}

/// A set-up with the wheel's leading corner rounder than planned by this.
fn corner_variant(peripheral: &Peripheral, base: &Setup, corner_mm: f64) -> Option<Variant> {
    let mut draft = peripheral.wheel.wheel.draft();
    draft.corner_radius += Length::from_mm(corner_mm);
    let wheel = draft.build().ok()?;
    let body: WheelBody = bridge::body(&wheel, peripheral.truing.face_width.value).ok()?;
    let setup = Setup::new(*base.flutes(), body, *base.stance()).ok()?;
    Some(Variant { setup, amount: CORNER_STEP_MM })
}
