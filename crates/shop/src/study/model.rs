//! The forward model: one regrind with every setting off by some amount, on the real sections.

use geometry::outline::{Outline, OutlinePoint, WornTooth};
use geometry::screw::Flutes;
use geometry::section::{GroundSection, Setup, Stance};
use geometry::wheel::WheelBody;
use geometry::{Angle, Length};
use trade::StudiedSetting;

use super::habit::{Errors, Habits};
use super::outcome::{Danger, Measure, Outcome, ground_flute};
use crate::bridge::{self, WorkingFace};
use crate::error::ShopError;
use crate::plan::{Peripheral, RegrindPlan, ReliefBy, Stanced, reaches_far_side};

/// The wheel stands where the dial brings it to within this, in mm; what is left of it moves a land
/// by some seven times as much at most.
const PLACE_MM: f64 = 2e-4;

/// So much farther than the tooth itself its section is followed, in radians.
const MARGIN_RAD: f64 = 0.02;

/// So many times as far out as the tooth itself its section is followed.
const REACH: f64 = 1.25;

/// Times the wheel is stood anew; twice is the rule.
const PLACES_MAX: u32 = 6;

/// One relief as it was planned.
struct Planned {
    stance: Stance,
    /// Leading corner from the axis at size, in mm.
    place_mm: f64,
    /// The same at first touch, by this model's own reckoning.
    kiss_mm: f64,
    /// Radius of the section's own circle, in mm.
    circle_mm: f64,
    /// How far each setting's error moves the place, per unit: a first guess, no more.
    guess: Errors,
}

/// The model of a plan.
pub(super) struct Model<'a> {
    plan: &'a RegrindPlan,
    work: &'a Peripheral,
    flute_mm: f64,
    far_side_counts: bool,
    primary: Planned,
    secondary: Option<Planned>,
    body: WheelBody,
    land: Length,
}

impl Planned {
    fn of(stanced: &Stanced, section: &GroundSection) -> Self {
        let place_mm = section.leading_corner_from_axis().mm();
        Self {
            stance: *stanced.stance(),
            place_mm,
            kiss_mm: place_mm,
            circle_mm: section.circle_radius().mm(),
            guess: [0.0; StudiedSetting::ALL.len()],
        }
    }
}

/// The tooth as the primary leaves it.
struct Ground {
    section: GroundSection,
    outline: Outline,
    /// The angle from which on the primary leaves the old back alone.
    leaves: Option<Angle>,
}

/// What is set off: the errors, of which the relief's belongs to one of the two grinds.
struct Off<'a> {
    errors: &'a Errors,
    relief: f64,
    feed_mm: f64,
}

const fn at(setting: StudiedSetting) -> usize {
    setting as usize
}

impl<'a> Model<'a> {
    /// The model of a plan's periphery.
    ///
    /// # Errors
    /// Where the planned set-up itself cannot be stood.
    pub(super) fn of(
        plan: &'a RegrindPlan,
        work: &'a Peripheral,
        habits: &Habits,
    ) -> Result<Self, ShopError> {
        let second = &work.secondary;
        let is_ground = second.grinding.is_some();
        let mut model = Self {
            plan,
            work,
            flute_mm: ground_flute(plan).mm(),
            far_side_counts: reaches_far_side(&plan.request.cutter, &work.stanced.setup),
            primary: Planned::of(&work.stanced, &work.section),
            secondary: is_ground.then(|| Planned::of(&second.stanced, &second.section)),
            body: work.stanced.setup.wheel().clone(),
            land: work.expected.land,
        };
        model.settle().ok_or_else(|| {
            ShopError::refused("a study starts from the plan", "its own set-up leaves no surface")
        })?;
        model.guess(habits);
        Ok(model)
    }

    /// Finds the first touches of the plan as it stands.
    fn settle(&mut self) -> Option<()> {
        let none = [0.0; StudiedSetting::ALL.len()];
        let (setup, outline) =
            (self.setup(&self.primary, &self.primary_off(&none))?, self.worn(0.0));
        let planned = &self.primary;
        let section = stood(&setup, &outline, planned.place_mm, planned.circle_mm)?;
        self.primary.kiss_mm = planned.place_mm + to_touch(&section, outline.points(), &outline)?;
        let ground = self.after(section, outline);
        if let Some(planned) = &self.secondary {
            let setup = self.setup(planned, &self.secondary_off(&none))?;
            let outline = &ground.outline;
            let section = stood(&setup, outline, planned.place_mm, planned.circle_mm)?;
            let kiss_mm = planned.place_mm + to_touch_ground(&section, &ground)?;
            if let Some(planned) = &mut self.secondary {
                planned.kiss_mm = kiss_mm;
            }
        }
        Some(())
    }

    /// How far each setting by itself moves the wheel's places.
    fn guess(&mut self, habits: &Habits) {
        for habit in &habits.0 {
            let (step, place) = (habit.deviation(), at(habit.setting));
            let mut errors = [0.0; StudiedSetting::ALL.len()];
            errors[place] = step;
            let Some(ground) = self.primary_ground(&errors) else { continue };
            let moved = ground.section.leading_corner_from_axis().mm() - self.primary.place_mm;
            let second = self.secondary.as_ref().and_then(|planned| {
                let section = self.secondary_ground(planned, &errors, &ground)?;
                Some(section.leading_corner_from_axis().mm() - planned.place_mm)
            });
            self.primary.guess[place] = moved / step;
            if let (Some(planned), Some(moved)) = (&mut self.secondary, second) {
                planned.guess[place] = moved / step;
            }
        }
    }

    /// The finished tooth; None where the wheel leaves no surface.
    pub(super) fn ground(&self, errors: &Errors) -> Option<Outcome> {
        let ground = self.primary_ground(errors)?;
        let section = &ground.section;
        let behind = match &self.secondary {
            Some(planned) => Some(self.secondary_ground(planned, errors, &ground)?),
            None => None,
        };
        let radius_mm = section.circle_radius().mm();
        let land_mm = self.land_mm(&ground, behind.as_ref());
        let taper_mm = 2.0 * self.flute_mm * errors[at(StudiedSetting::Squareness)].tan();
        let stands_mm = radius_mm + errors[at(StudiedSetting::ShankRunout)];
        let mut results = [0.0; Measure::ALL.len()];
        results[Measure::Relief as usize] = self.work.stanced.target.of(section)?.degrees();
        results[Measure::EdgeRelief as usize] = section.edge_relief()?.degrees();
        results[Measure::Land as usize] = land_mm;
        results[Measure::Diameter as usize] = 2.0 * stands_mm;
        results[Measure::Taper as usize] = taper_mm;
        let old_edge_mm = 0.5 * self.plan.stock.sharp_diameter.value.mm() - radius_mm;
        let mut dangers = [false; Danger::ALL.len()];
        dangers[Danger::HeelDrag as usize] =
            section.heel_drag_from().is_some_and(|from| from.mm() < land_mm);
        dangers[Danger::NextTooth as usize] = meets_next(section, behind.as_ref(), old_edge_mm);
        dangers[Danger::FarSide as usize] = self.far_side_counts
            && section.far_side_gap().is_some_and(|gap| gap.mm() <= old_edge_mm);
        Some(Outcome { results, dangers })
    }

    /// The land; where nothing ends it, it runs to the heel.
    fn land_mm(&self, ground: &Ground, behind: Option<&GroundSection>) -> f64 {
        let section = &ground.section;
        let old = ground.leaves.and_then(|at| chord_mm(section, at));
        let fresh = behind.and_then(|behind| {
            // The edge moves along the face of the tooth; the secondary stays where it is.
            let stand_mm = section.circle_radius().mm() - self.primary.circle_mm;
            let turned_rad = stand_mm * self.plan.request.cutter.rake().tan();
            let turned = Angle::from_radians(turned_rad / self.primary.circle_mm);
            section.land_before_near(behind, turned, self.land).map(Length::mm)
        });
        let heel_mm = self.plan.wanted.tooth_thickness.value.mm();
        [old, fresh].into_iter().flatten().fold(heel_mm, f64::min)
    }

    fn primary_ground(&self, errors: &Errors) -> Option<Ground> {
        let off = self.primary_off(errors);
        let setup = self.setup(&self.primary, &off)?;
        let outline = self.worn(errors[at(StudiedSetting::Diameter)]);
        let touch = |section: &GroundSection| to_touch(section, outline.points(), &outline);
        let section = fed((&setup, &outline), &self.primary, &off, touch)?;
        Some(self.after(section, outline))
    }

    fn after(&self, section: GroundSection, outline: Outline) -> Ground {
        let leaves = outline.leaves(&section);
        Ground { section, outline, leaves }
    }

    fn secondary_ground(
        &self,
        planned: &Planned,
        errors: &Errors,
        ground: &Ground,
    ) -> Option<GroundSection> {
        let off = self.secondary_off(errors);
        let setup = self.setup(planned, &off)?;
        let touch = |section: &GroundSection| to_touch_ground(section, ground);
        fed((&setup, &ground.outline), planned, &off, touch)
    }

    fn primary_off<'e>(&self, errors: &'e Errors) -> Off<'e> {
        // What is not taken up of the backlash leaves the wheel farther off.
        let feed_mm = errors[at(StudiedSetting::FirstTouch)]
            + errors[at(StudiedSetting::FeedMark)]
            + errors[at(StudiedSetting::Backlash)];
        Off { errors, relief: errors[at(StudiedSetting::Relief)], feed_mm }
    }

    fn secondary_off<'e>(&self, errors: &'e Errors) -> Off<'e> {
        Off {
            errors,
            relief: errors[at(StudiedSetting::SecondaryRelief)],
            feed_mm: errors[at(StudiedSetting::SecondaryFeed)],
        }
    }

    /// The tooth that the wheel touches first, where its diameter is off as measured.
    fn worn(&self, diameter_mm: f64) -> Outline {
        let worn = self.work.worn;
        let sharp_radius = worn.sharp_radius + Length::from_mm(0.5 * diameter_mm);
        let new_radius = Length::from_mm(self.primary.circle_mm);
        WornTooth { sharp_radius, ..worn }.outline(new_radius)
    }

    fn setup(&self, planned: &Planned, off: &Off<'_>) -> Option<Setup> {
        let body = self.body(off.errors)?;
        let stance = self.stance(&planned.stance, off, &body);
        Setup::new(self.flutes(off.errors), body, stance).ok()
    }

    fn flutes(&self, errors: &Errors) -> Flutes {
        let flutes = *self.work.stanced.setup.flutes();
        let helix = flutes.helix + Angle::from_radians(errors[at(StudiedSetting::Helix)]);
        Flutes { helix, ..flutes }
    }

    fn body(&self, errors: &Errors) -> Option<WheelBody> {
        let of = |setting| errors[at(setting)];
        let off = [StudiedSetting::WheelCorner, StudiedSetting::FaceWidth]
            .map(of)
            .into_iter()
            .chain([of(StudiedSetting::WheelDiameter)]);
        if off.clone().all(|error| error == 0.0) {
            return Some(self.body.clone());
        }
        let wheel = &self.work.wheel.wheel;
        let face = WorkingFace {
            diameter: wheel.diameter() + Length::from_mm(of(StudiedSetting::WheelDiameter)),
            face_width: self.work.truing.face_width.value
                + Length::from_mm(of(StudiedSetting::FaceWidth)),
            corner_radius: wheel.corner_radius() + Length::from_mm(of(StudiedSetting::WheelCorner)),
        };
        bridge::body_of(wheel, face).ok()
    }

    /// A stance with its settings off. A head that would lean the other way counts as square, and
    /// a finger that would stand off the face as standing at its end: a hand sees either.
    fn stance(&self, planned: &Stance, off: &Off<'_>, body: &WheelBody) -> Stance {
        let of = |setting| off.errors[at(setting)];
        let mut stance = *planned;
        let lean_rad = of(StudiedSetting::HeadAngle) + of(StudiedSetting::Squareness);
        stance.lean = Angle::from_radians((planned.lean.radians() + lean_rad).max(0.0));
        stance.axis_above += Length::from_mm(of(StudiedSetting::WheelOnCentre));
        let reach_mm = body.face_width_mm() * stance.lean.cos();
        let inset_mm = planned.rest_inset.mm() + of(StudiedSetting::RestAlong);
        stance.rest_inset = Length::from_mm(inset_mm.clamp(0.0, reach_mm));
        let mut lower_mm = of(StudiedSetting::RestOnCentre);
        match self.work.stanced.relief_by {
            ReliefBy::Dial => {
                stance.relief_setting = stance.relief_setting + Angle::from_radians(off.relief);
            }
            ReliefBy::RestHeight => lower_mm += off.relief,
            ReliefBy::WheelAbove => stance.axis_above += Length::from_mm(off.relief),
            ReliefBy::HeadWithRest => {
                lower_mm += off.relief;
                stance.axis_above -= Length::from_mm(off.relief);
            }
        }
        stance.relief_setting = lowered(stance.relief_setting, lower_mm, self.primary.circle_mm);
        stance
    }
}

/// The relief setting with the rest lower by some amount.
///
/// **Source** \[own-derivation\] the drop below centre is R sin a. **Departs** nowhere. **Error**
/// rounding. **Domain** drops below R; beyond, the tooth counts as hanging straight down.
fn lowered(setting: Angle, lower_mm: f64, radius_mm: f64) -> Angle {
    if lower_mm == 0.0 {
        return setting;
    }
    let sine = (setting.sin() + lower_mm / radius_mm).clamp(-1.0, 1.0);
    Angle::from_radians(sine.asin())
}

/// The section along the tooth itself, which is all that touches and lands ask for.
fn stood(setup: &Setup, along: &Outline, place_mm: f64, near_mm: f64) -> Option<GroundSection> {
    let margin = Angle::from_radians(MARGIN_RAD);
    let range = (along.points()[0].heelward - margin, along.heel().heelward + margin);
    let farthest = along.points().iter().map(|point| point.radius.mm()).fold(near_mm, f64::max);
    let within = (range, Length::from_mm(REACH * farthest));
    setup.section_standing_within(within, Length::from_mm(place_mm), Length::from_mm(near_mm)).ok()
}

/// The wheel fed from its own first touch as far as planned, and off by what the feed is off.
fn fed(
    (setup, along): (&Setup, &Outline),
    planned: &Planned,
    off: &Off<'_>,
    to_touch: impl Fn(&GroundSection) -> Option<f64>,
) -> Option<GroundSection> {
    let guess: f64 = planned.guess.iter().zip(off.errors).map(|(per, error)| per * error).sum();
    let mut place_mm = planned.place_mm + guess;
    for _ in 0..PLACES_MAX {
        let section = stood(setup, along, place_mm, planned.circle_mm)?;
        let kiss_mm = place_mm + to_touch(&section)?;
        let wanted_mm = planned.place_mm + (kiss_mm - planned.kiss_mm) + off.feed_mm;
        if (wanted_mm - place_mm).abs() <= PLACE_MM {
            return Some(section);
        }
        place_mm = wanted_mm;
    }
    None
}

/// How far the wheel must be backed off from a section to just touch a tooth.
fn to_touch(section: &GroundSection, points: &[OutlinePoint], outline: &Outline) -> Option<f64> {
    let between = points.windows(2).filter_map(|pair| {
        let heelward = (pair[0].heelward + pair[1].heelward) / 2.0;
        Some(OutlinePoint { heelward, radius: outline.radius_at(heelward)? })
    });
    points
        .iter()
        .copied()
        .chain(between)
        .filter_map(|point| feed_mm(section, point))
        .reduce(f64::max)
}

/// The same for a tooth on which the primary has been ground: the wheel touches it where the
/// primary ends, or behind that.
fn to_touch_ground(section: &GroundSection, ground: &Ground) -> Option<f64> {
    let from = ground.leaves.unwrap_or_else(|| ground.outline.heel().heelward);
    let radius = ground.section.radius_at(from)?;
    let mut points = vec![OutlinePoint { heelward: from, radius }];
    points.extend(ground.outline.points().iter().filter(|point| point.heelward > from));
    to_touch(section, &points, &ground.outline)
}

fn feed_mm(section: &GroundSection, point: OutlinePoint) -> Option<f64> {
    let contact = section.contact_at(point.heelward)?;
    Some((point.radius - contact.radius).mm() / contact.per_backing_off)
}

/// Chord from the edge to the section at an angle.
fn chord_mm(section: &GroundSection, at: Angle) -> Option<f64> {
    let (radius_mm, edge_mm) = (section.radius_at(at)?.mm(), section.circle_radius().mm());
    let width_mm = (edge_mm - radius_mm * at.cos()).hypot(radius_mm * at.sin());
    (at > Angle::ZERO).then_some(width_mm)
}

/// Whether the wheel comes into a neighbouring tooth: with the primary into its old edge, with the
/// secondary into its new one.
fn meets_next(section: &GroundSection, behind: Option<&GroundSection>, old_edge_mm: f64) -> bool {
    let pitch = Angle::from_radians(section.setup().flutes().pitch_rad());
    let circle = section.circle_radius();
    let comes_to = |section: &GroundSection, radius: Length| {
        section.comes_within(pitch, radius) || section.comes_within(-pitch, radius)
    };
    comes_to(section, circle + Length::from_mm(old_edge_mm))
        || behind.is_some_and(|behind| comes_to(behind, circle))
}
