//! The cutter of a model: its tooth's section and its lengths.

use geometry::outline::{OutlinePoint, WornTooth};
use geometry::screw::{Flutes, Hand};
use geometry::solid::{Fluted, Mesh, ToothForm};
use geometry::{Angle, Length};
use shop::plan::{Peripheral, RegrindPlan};
use shop::record::Cutter;

use super::view::{Focus, View};
use crate::drawing::profile::{Polar, Profile, core_diameter};

/// Share of the pitch that a tooth's back takes where its width is not on record, and at most (own
/// choice, no source).
const BACK_SHARE: f64 = 0.35;
const BACK_SHARE_MAX: f64 = 0.85;

/// What stands for a cutter's last grind where it is not on record: primary and secondary in
/// degrees, the land as a share of the diameter (own choice, no source).
const STAND_IN: (f64, f64, f64) = (10.0, 20.0, 0.04);

/// Where along the flutes the rest stands in the picture, from the tip.
const REST_SHARE: f64 = 0.5;

/// Share of the flutes' length, and diameters, that a view shows on either side of the rest.
const REACH: (f64, f64) = (0.62, 1.1);

/// How much of a diameter the view from the end shows on either side of the axis.
const END_REACH: f64 = 0.8;

/// A cutter to be drawn.
pub(super) struct Body<'a> {
    cutter: &'a Cutter,
    flutes: Flutes,
    back: Vec<OutlinePoint>,
    land_end: Angle,
    edge_at_end: Angle,
    cut_back: Length,
    /// Place of the rest along the cutter, from the tip.
    pub(super) rest_from_tip: Length,
    /// Whether it is a left-hand cutter, drawn as the mirror image of a right-hand one.
    pub(super) is_mirrored: bool,
}

impl<'a> Body<'a> {
    /// The cutter after a plan, turned so that the tooth on the rest stands as it is ground.
    pub(super) fn planned(plan: &'a RegrindPlan, peripheral: &Peripheral) -> Self {
        let cutter = &plan.request.cutter;
        let flutes = *peripheral.stanced.setup.flutes();
        let heel = peripheral.outline_before.heel().heelward.radians();
        let heel_rad = heel.min(BACK_SHARE_MAX * flutes.pitch_rad());
        let profile = Profile::to(peripheral, peripheral.section.circle_radius() * heel_rad);
        let back: Vec<OutlinePoint> =
            profile.points(Profile::after).into_iter().map(outline_point).collect();
        let land_end = profile.land_end().map(outline_point);
        let rest_from_tip = (cutter.flute_length() - plan.verdict.cut_back) * REST_SHARE;
        // From the rest back to the tip the edge runs with the helix.
        let twist_rad = flutes.twist_rad_per_mm() * rest_from_tip.mm();
        let setting = peripheral.stanced.stance().relief_setting;
        Self {
            cutter,
            flutes,
            land_end: land_end.map_or(Angle::from_radians(heel_rad), |end| end.heelward),
            back,
            edge_at_end: Angle::from_radians(-twist_rad) - setting,
            cut_back: plan.verdict.cut_back,
            rest_from_tip,
            is_mirrored: flutes.hand == Hand::Left,
        }
    }

    /// The cutter as it came in, dull all round as the tooth that the wheel touches first.
    pub(super) fn dull(plan: &'a RegrindPlan, peripheral: &Peripheral) -> Self {
        let planned = Self::planned(plan, peripheral);
        let outline = peripheral.outline_before.points();
        // Its own edge stands at zero here, where the new one does after the grind.
        let edge = outline[0].heelward;
        let own = |point: &OutlinePoint| OutlinePoint { heelward: point.heelward - edge, ..*point };
        let mut back: Vec<OutlinePoint> = outline.iter().map(own).collect();
        back.dedup_by(|a, b| (a.heelward - b.heelward).radians() < 1e-9);
        let land_end = back[back.len().min(2) - 1].heelward;
        let edge_at_end = planned.edge_at_end + edge;
        let cut_back = Length::ZERO;
        Self { back, land_end, edge_at_end, cut_back, ..planned }
    }

    /// The cutter of a record.
    pub(super) fn recorded(cutter: &'a Cutter) -> Self {
        let outline = recorded_tooth(cutter);
        let land_end = outline[outline.len().min(2) - 1].heelward;
        Self {
            cutter,
            flutes: recorded_flutes(cutter),
            land_end,
            back: outline,
            edge_at_end: Angle::ZERO,
            cut_back: Length::ZERO,
            rest_from_tip: cutter.flute_length() * REST_SHARE,
            is_mirrored: cutter.hand() == Hand::Left,
        }
    }

    /// The mesh of a right-hand cutter, z toward the shank from the tip.
    pub(super) fn mesh(&self, chord_error: Length) -> Option<Mesh> {
        let tooth = ToothForm {
            back: &self.back,
            land_end: self.land_end,
            rake: self.cutter.rake(),
            core_diameter: self.core_diameter(),
        };
        let body = Fluted {
            tooth,
            flutes: self.flutes,
            edge_at_end: self.edge_at_end,
            fluted_length: self.cutter.flute_length() - self.cut_back,
            overall_length: self.cutter.overall_length() - self.cut_back,
            shank_diameter: self.cutter.shank_diameter(),
        };
        body.mesh(chord_error).ok()
    }

    pub(super) fn core_diameter(&self) -> Length {
        core_diameter(self.cutter)
    }

    /// How the flutes run.
    pub(super) const fn flutes(&self) -> &Flutes {
        &self.flutes
    }

    /// Radial rake.
    pub(super) const fn rake(&self) -> Angle {
        self.cutter.rake()
    }

    /// What to look at: the middle of the flutes.
    pub(super) fn focus(&self) -> Focus {
        let along = if self.is_mirrored { -self.rest_from_tip } else { self.rest_from_tip };
        let reach_mm = self.reach_mm() as f32;
        Focus { centre_mm: [0.0, 0.0, along.mm() as f32], reach_mm }
    }

    fn reach_mm(&self) -> f64 {
        let flutes_mm = REACH.0 * self.cutter.flute_length().mm();
        flutes_mm.max(REACH.1 * self.cutter.diameter().mm())
    }

    /// From where to look; from the end so near that the cutter fills the picture.
    pub(super) fn views(&self, has_wheel: bool) -> Vec<View> {
        let end_zoom = self.reach_mm() / (END_REACH * self.cutter.diameter().mm());
        View::all(self.is_mirrored, has_wheel, end_zoom as f32)
    }
}

fn outline_point(point: Polar) -> OutlinePoint {
    OutlinePoint {
        heelward: Angle::from_radians(point.heelward_rad),
        radius: Length::from_mm(point.radius_mm),
    }
}

fn recorded_flutes(cutter: &Cutter) -> Flutes {
    Flutes {
        nominal_diameter: cutter.diameter(),
        teeth: cutter.teeth(),
        hand: cutter.hand(),
        helix: cutter.helix(),
        helix_hand: cutter.helix_hand().unwrap_or(cutter.hand()),
    }
}

/// The back of a tooth as it was last ground.
fn recorded_tooth(cutter: &Cutter) -> Vec<OutlinePoint> {
    let ground = cutter.as_ground();
    let (primary_deg, secondary_deg, land_share) = STAND_IN;
    let radius = ground.map_or(cutter.diameter(), |ground| ground.diameter) / 2.0;
    let pitch = cutter.pitch();
    let thickness = cutter.tooth_thickness().unwrap_or(pitch * BACK_SHARE);
    let thickness = thickness.min(pitch * BACK_SHARE_MAX);
    let land = ground.map_or(cutter.diameter() * land_share, |ground| ground.land);
    let tooth = WornTooth {
        sharp_radius: radius,
        rake: cutter.rake(),
        primary: ground.map_or(Angle::from_degrees(primary_deg), |ground| ground.primary),
        secondary: ground.map_or(Angle::from_degrees(secondary_deg), |ground| ground.secondary),
        land: land.min(thickness * 0.9),
        thickness,
        wear_land: Length::ZERO,
    };
    tooth.outline(radius).points().to_vec()
}
