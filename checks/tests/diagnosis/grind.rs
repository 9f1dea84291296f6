//! A grind with planted faults: where each edge ends up, and what land the real section leaves.
//!
//! Nothing here is shared with the check: the edges' angles, the old tooth and the crossing of
//! land and back are worked out anew; only the ground section itself is the kernel's.

use std::f64::consts::TAU;

use geometry::section::{GroundSection, Setup};
use geometry::{Angle, Length};
use shop::plan::{Peripheral, RegrindPlan, ReliefBy};

/// What was planted, in millimetres of radius and degrees.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Planted {
    /// Every edge stands farther out by this.
    pub(crate) size: f64,
    /// The shank end of the flute stands farther out than the tip by this.
    pub(crate) taper: f64,
    /// The cutter lay off its axis by this vector at the tip.
    pub(crate) offset: (f64, f64),
    /// And by this more at the shank end.
    pub(crate) tilt: (f64, f64),
    /// The last tooth ground stands farther out than the first by this.
    pub(crate) drift: f64,
    /// One tooth stands farther out by this.
    pub(crate) slip: Option<(u32, f64)>,
    /// The relief setting is higher by this.
    pub(crate) setting_deg: f64,
    /// The old secondary is steeper than on record by this, which is no fault of the grind.
    pub(crate) old_secondary_deg: f64,
    /// The fresh secondary is deeper by this, which is no fault of the primary.
    pub(crate) fresh_deeper: f64,
}

/// A grind that the teeth have behind them: an edge stays where it was if a later wheel does not
/// reach it.
#[derive(Clone, Debug)]
pub(crate) struct Behind {
    pub(crate) radius_mm: f64,
    pub(crate) planted: Planted,
    pub(crate) order: Vec<u32>,
}

/// The job as the simulation sees it.
pub(crate) struct Job<'a> {
    /// What was ground before, where this is a corrective grind.
    pub(crate) behind: Option<Behind>,
    /// The only teeth that were gone over; all where it is empty.
    pub(crate) only: Vec<u32>,
    /// The fresh secondary, and the radius of the edge that it was placed from.
    pub(crate) fresh: (&'a GroundSection, f64),
    pub(crate) plan: &'a RegrindPlan,
    pub(crate) grinds: &'a Peripheral,
    pub(crate) teeth: u32,
    pub(crate) flute_mm: f64,
    pub(crate) radius_mm: f64,
    turn_per_mm: f64,
}

impl<'a> Job<'a> {
    pub(crate) fn of(plan: &'a RegrindPlan) -> Self {
        let cutter = &plan.request.cutter;
        let grinds = plan.peripheral.as_ref().unwrap();
        // Lead = π D / tan(helix); a helix whose hand agrees with the cut carries the edge toward
        // the heel as it goes up the flute.
        let agrees = cutter.helix_hand().is_none_or(|hand| hand == cutter.hand());
        let radius_mm = 0.5 * grinds.expected.diameter.mm();
        let per_mm = 2.0 * cutter.helix().degrees().to_radians().tan() / cutter.diameter().mm();
        Self {
            behind: None,
            only: Vec::new(),
            fresh: (&grinds.secondary.section, radius_mm),
            plan,
            grinds,
            teeth: cutter.teeth(),
            flute_mm: cutter.flute_length().mm() - plan.verdict.cut_back.mm(),
            radius_mm,
            turn_per_mm: if agrees { per_mm } else { -per_mm },
        }
    }

    /// How far out an edge stands.
    pub(crate) fn stand_mm(&self, planted: &Planted, order: &[u32], tooth: u32, z_mm: f64) -> f64 {
        let passed = self.only.is_empty() || self.only.contains(&tooth);
        let path = passed.then(|| self.path_mm(planted, order, tooth, z_mm));
        let Some(behind) = &self.behind else { return path.unwrap() };
        let before = self.path_mm(&behind.planted, &behind.order, tooth, z_mm);
        let before = before + behind.radius_mm - self.radius_mm;
        path.map_or(before, |path| path.min(before))
    }

    /// Where a wheel's way leaves an edge, whatever stood there before.
    pub(crate) fn path_mm(&self, planted: &Planted, order: &[u32], tooth: u32, z_mm: f64) -> f64 {
        let along = z_mm / self.flute_mm;
        let angle = TAU * f64::from(tooth - 1) / f64::from(self.teeth) + self.turn_per_mm * z_mm;
        let x = planted.offset.0 + along * planted.tilt.0;
        let y = planted.offset.1 + along * planted.tilt.1;
        let place = order.iter().position(|other| *other == tooth).unwrap() as f64;
        let slip = planted.slip.filter(|slip| slip.0 == tooth).map_or(0.0, |slip| slip.1);
        planted.size
            + planted.taper * along
            + x * angle.cos()
            + y * angle.sin()
            + planted.drift * place / (order.len() - 1) as f64
            + slip
    }

    /// The primary's set-up with its relief setting off.
    pub(crate) fn setup(&self, planted: &Planted) -> Setup {
        let mut stance = *self.grinds.stanced.stance();
        let more = Angle::from_degrees(planted.setting_deg);
        match self.grinds.stanced.relief_by {
            ReliefBy::WheelAbove => panic!("a cup's relief is not set so"),
            ReliefBy::HeadWithRest => {
                stance.relief_setting = stance.relief_setting + more;
                let down = self.radius_mm * stance.relief_setting.radians().sin();
                stance.axis_above = Length::from_mm(-down);
            }
            ReliefBy::Dial | ReliefBy::RestHeight => {
                stance.relief_setting = stance.relief_setting + more;
            }
        }
        self.grinds.stanced.setup.with_stance(stance).unwrap()
    }

    /// Degrees of relief that the planted setting really makes, over the distance it is meant at.
    pub(crate) fn relief_off_deg(&self, planted: &Planted) -> f64 {
        let target = &self.grinds.stanced.target;
        let of = |setup: &Setup| {
            let section = setup.section(Length::from_mm(2.0 * self.radius_mm)).unwrap();
            target.of(&section).unwrap().degrees()
        };
        of(&self.setup(planted)) - of(&self.grinds.stanced.setup)
    }

    /// The land of an edge that stands out by `stand_mm`, up to the old secondary or, `fresh`, up
    /// to the new one.
    pub(crate) fn land_mm(
        &self,
        setup: &Setup,
        planted: &Planted,
        stand_mm: f64,
        fresh: bool,
    ) -> Option<f64> {
        let radius_mm = self.radius_mm + stand_mm;
        let section = setup.section(Length::from_mm(2.0 * radius_mm)).ok()?;
        let steeper = Angle::from_degrees(planted.old_secondary_deg);
        let old = OldTooth::of(self.grinds, radius_mm, steeper);
        let rake = self.plan.request.cutter.rake().degrees().to_radians();
        let (behind, placed_from_mm) = self.fresh;
        let turned = (radius_mm - placed_from_mm) * rake.tan() / self.radius_mm;
        let back = |at: f64| {
            let new = || radius_at(behind, at - turned).map(|mm| mm - planted.fresh_deeper);
            let old = old.radius_mm(at);
            if fresh { Some(old.min(new().unwrap_or(f64::INFINITY))) } else { Some(old) }
        };
        crossing_mm(&section, radius_mm, back)
    }

    /// The drop at a distance.
    pub(crate) fn drop_mm(&self, setup: &Setup, distance_mm: f64) -> Option<f64> {
        let section = setup.section(Length::from_mm(2.0 * self.radius_mm)).ok()?;
        Some(self.radius_mm - radius_at(&section, distance_mm / self.radius_mm)?)
    }
}

pub(crate) fn radius_at(section: &GroundSection, at_rad: f64) -> Option<f64> {
    section.radius_at(Angle::from_radians(at_rad)).map(|radius| radius.mm())
}

/// The first place behind the edge at which the back lies inside the section, as a chord from it.
fn crossing_mm(
    section: &GroundSection,
    edge_mm: f64,
    back: impl Fn(f64) -> Option<f64>,
) -> Option<f64> {
    let outside = |at: f64| Some(back(at)? - radius_at(section, at)?);
    let step = 0.002;
    let mut at = step;
    while outside(at)? > 0.0 {
        at += step;
        if at > 1.0 {
            return None;
        }
    }
    let (mut low, mut high) = (at - step, at);
    while high - low > 1e-10 {
        let middle = 0.5 * (low + high);
        if outside(middle)? > 0.0 { low = middle } else { high = middle }
    }
    let radius = radius_at(section, low)?;
    (low > step)
        .then(|| (edge_mm * edge_mm + radius * radius - 2.0 * edge_mm * radius * low.cos()).sqrt())
}

/// The old tooth as two straight reliefs, in a frame with the new edge on the Y axis and the heel
/// toward +X.
struct OldTooth {
    heel_of_land: (f64, f64),
    along_secondary: (f64, f64),
    edge: (f64, f64),
}

impl OldTooth {
    fn of(grinds: &Peripheral, new_radius_mm: f64, steeper: Angle) -> Self {
        let worn = &grinds.worn;
        let (sin, cos) = worn.rake.degrees().to_radians().sin_cos();
        let sharp = worn.sharp_radius.mm();
        // From the new edge outward along the rake face to the circle of the old edge.
        let mut out = 0.0;
        for _ in 0..60 {
            let (x, y): (f64, f64) = (-out * sin, new_radius_mm + out * cos);
            out += sharp - x.hypot(y);
        }
        let edge = (-out * sin, new_radius_mm + out * cos);
        let length = edge.0.hypot(edge.1);
        let outward = (edge.0 / length, edge.1 / length);
        let heelward = (outward.1, -outward.0);
        let fallen = |angle: Angle, width: f64, from: (f64, f64)| {
            let drop = width * angle.degrees().to_radians().tan();
            let (x, y) = (from.0 + width * heelward.0, from.1 + width * heelward.1);
            (x - drop * outward.0, y - drop * outward.1)
        };
        let heel_of_land = fallen(worn.primary, worn.land.mm(), edge);
        let end = fallen(worn.secondary + steeper, 1.0, heel_of_land);
        let along_secondary = (end.0 - heel_of_land.0, end.1 - heel_of_land.1);
        Self { heel_of_land, along_secondary, edge }
    }

    /// The radius of the old back at an angle heelward of the new edge: the land, then the
    /// secondary. Wear has taken something off the land, but the wheel takes more.
    fn radius_mm(&self, at: f64) -> f64 {
        let ray = (at.sin(), at.cos());
        let meets = |from: (f64, f64), along: (f64, f64)| {
            let cross = along.0 * ray.1 - along.1 * ray.0;
            (from.1 * along.0 - from.0 * along.1) / cross
        };
        let land = (self.heel_of_land.0 - self.edge.0, self.heel_of_land.1 - self.edge.1);
        let on_land = meets(self.edge, land);
        let on_secondary = meets(self.heel_of_land, self.along_secondary);
        let heel_at = self.heel_of_land.0.atan2(self.heel_of_land.1);
        if at < heel_at { on_land } else { on_secondary }
    }
}
