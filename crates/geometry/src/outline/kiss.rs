//! Where a wheel first touches an outline.

use super::straight::Straight;
use super::{Outline, OutlinePoint};
use crate::quantity::{Angle, Length};
use crate::search::dent;
use crate::section::{GroundSection, SectionError, Setup};

/// Steps in which a kiss is looked for; two or three will do on ordinary teeth.
const KISS_STEPS_MAX: u32 = 12;

/// The wheel stands at its kiss when nothing stands out by more feed.
const KISS_MM: f64 = 1e-6;

/// Where the steps do not suffice, a kiss counts as found if nothing stands out by more feed.
const KISS_MM_MAX: f64 = 1e-5;

/// Steps over one smooth stretch in which its highest place is first looked for.
const PEAK_STEPS: u32 = 8;

/// To what share of a stretch the place of its peak is told. A peak is level, so that its height is
/// far more exact than its place.
const PEAK_SHARE: f64 = 3e-4;

/// A point of an outline and the feed by which it stands out against a section.
#[derive(Clone, Copy, Debug)]
struct Standing {
    /// In millimetres; without end where backing off would not free the point.
    out_mm: f64,
    point: OutlinePoint,
}

/// The section of a wheel that is backed off until it only touches a point that stood out.
fn backed_off(
    setup: &Setup,
    from: &GroundSection,
    standing: Standing,
) -> Result<GroundSection, SectionError> {
    let Standing { out_mm, point } = standing;
    if out_mm.is_infinite() {
        let reason = "backing off does not free the tooth's back: bring the wheel nearer to centre \
                      height";
        return Err(SectionError::OutOfReach { reason: reason.to_owned() });
    }
    let touching = setup.section_touching(point.heelward, point.radius)?;
    let at = from.leading_corner_from_axis();
    if out_mm <= 0.0 || touching.leading_corner_from_axis() >= at {
        return Ok(touching);
    }
    // The wheel passes through the point at a nearer place as well, and was brought to that one.
    let farther = at + Length::from_mm(out_mm);
    setup.section_standing(farther, from.circle_radius())
}

/// Where a function that is smooth between two ends is highest; None where it is nowhere a number,
/// or by three of its values surely below a floor.
fn peak(height: impl Fn(f64) -> f64, (low, high): (f64, f64), floor: f64) -> Option<f64> {
    // The ends themselves belong to the neighbouring stretches too: a hair inside is this one.
    let hair = 1e-9 * (high - low);
    let place = |step: u32| {
        let share = f64::from(step) / f64::from(PEAK_STEPS);
        (low + (high - low) * share).clamp(low + hair, high - hair)
    };
    let coarse = [0, PEAK_STEPS / 2, PEAK_STEPS].map(|step| height(place(step)));
    // A parabola through the three bulges by an eighth of this above them at the most.
    let bend = (coarse[0] - 2.0 * coarse[1] + coarse[2]).abs();
    if coarse.into_iter().fold(f64::NEG_INFINITY, f64::max) + bend < floor {
        return None;
    }
    let heights = (0..=PEAK_STEPS).map(|step| (step, height(place(step))));
    let (best, highest) = heights.max_by(|a, b| a.1.total_cmp(&b.1))?;
    let ends = (place(best.saturating_sub(1)), place((best + 1).min(PEAK_STEPS)));
    let (at, below) = dent(|at| -height(at), ends, PEAK_SHARE * (high - low));
    let found = if -below > highest { (at, -below) } else { (place(best), highest) };
    (found.1 > f64::NEG_INFINITY).then_some(found.0)
}

impl Outline {
    /// The section of the wheel, in this set-up, when it just kisses the outline: it touches one
    /// point and cuts nothing.
    ///
    /// **Source** \[numerical-recipes\] Newton's method: the wheel is stood where it touches the
    /// point that stood out farthest, until no other stands out. **Departs** nowhere. **Error** the
    /// outline stands out nowhere by more feed than 1e-5 mm and the error of the section's curve.
    /// **Domain** outlines that the face can meet, wheels no smaller than the cutter.
    ///
    /// # Errors
    /// Where the wheel cannot touch the outline at all, or no such place is found.
    pub fn kissed_by(
        &self,
        setup: &Setup,
        near: &GroundSection,
    ) -> Result<GroundSection, SectionError> {
        let mut touching = backed_off(setup, near, self.standing_out(near).ok_or_else(unmet)?)?;
        for _ in 1..KISS_STEPS_MAX {
            let standing = self.standing_out(&touching).ok_or_else(unmet)?;
            if standing.out_mm < KISS_MM {
                return Ok(touching);
            }
            touching = backed_off(setup, &touching, standing)?;
        }
        let left_mm = self.standing_out(&touching).ok_or_else(unmet)?.out_mm;
        if left_mm < KISS_MM_MAX {
            return Ok(touching);
        }
        let reason = format!(
            "no place is found at which the wheel only touches the tooth's back: at the last \
             one {left_mm:.4} mm still stood out"
        );
        Err(SectionError::OutOfReach { reason })
    }

    /// The point that stands farthest out against a section, in terms of the feed that would bring
    /// the section to it: where the wheel kisses. It may lie anywhere along the outline, for a
    /// wheel bulges toward a straight stretch.
    pub fn highest_against(&self, section: &GroundSection) -> Option<OutlinePoint> {
        self.standing_out(section).map(|standing| standing.point)
    }

    fn standing_out(&self, section: &GroundSection) -> Option<Standing> {
        let mut search = Search { section, highest: None };
        // An end of the outline may stand out where the section has a gap beside it. The one that
        // stands farthest outside goes first, for what it shows need not be looked at.
        let outside = |point: &OutlinePoint| outside_mm(section, *point);
        let by_outside =
            |one: &&OutlinePoint, other: &&OutlinePoint| outside(one).total_cmp(&outside(other));
        if let Some(likeliest) = self.points.iter().max_by(by_outside) {
            search.look(*likeliest);
        }
        self.points.iter().for_each(|point| search.look(*point));
        self.points.windows(2).for_each(|pair| search.look_between(&pair[0], &pair[1]));
        search.highest
    }
}

/// A search for the point that stands farthest out.
struct Search<'a> {
    section: &'a GroundSection,
    highest: Option<Standing>,
}

impl Search<'_> {
    /// A point this little outside the section's curve, or inside it, cannot stand out farthest:
    /// what a point gains by backing off differs from place to place, but not by half. Where
    /// nothing stands out any more this is all that lies inside the curve.
    fn floor_mm(&self) -> f64 {
        let highest = self.highest.map(|standing| standing.out_mm);
        let shown = highest.filter(|out_mm| *out_mm > -KISS_MM && out_mm.is_finite());
        shown.map_or(f64::NEG_INFINITY, |out_mm| 0.5 * out_mm.max(0.0) - INSIDE_MM)
    }

    fn look(&mut self, point: OutlinePoint) {
        if outside_mm(self.section, point) < self.floor_mm() {
            return;
        }
        let Some(standing) = standing(self.section, point) else { return };
        if self.highest.is_none_or(|highest| standing.out_mm > highest.out_mm) {
            self.highest = Some(standing);
        }
    }

    /// Looks at the highest points of a straight stretch, one for every smooth piece of the section
    /// beside it.
    fn look_between(&mut self, from: &OutlinePoint, to: &OutlinePoint) {
        let (low, high) = (from.heelward.radians(), to.heelward.radians());
        if high - low < 1e-15 {
            return;
        }
        let (section, line) = (self.section, Straight::between(from, to));
        let point = |at_rad: f64| OutlinePoint {
            heelward: Angle::from_radians(at_rad),
            radius: Length::from_mm(1.0 / line.reciprocal(at_rad)),
        };
        let height = |at_rad: f64| outside_mm(section, point(at_rad));
        let mut turns = vec![low, high];
        turns.extend(section.turns_rad().filter(|at| (low..high).contains(at)));
        turns.sort_by(f64::total_cmp);
        for pair in turns.windows(2).filter(|pair| pair[0] < pair[1]) {
            if let Some(at_rad) = peak(height, (pair[0], pair[1]), self.floor_mm()) {
                self.look(point(at_rad));
            }
        }
    }
}

/// So far inside a section's curve a point surely is inside it, whatever the curve's own error.
const INSIDE_MM: f64 = 1e-4;

fn unmet() -> SectionError {
    let reason = "the outline lies outside what the face can meet".to_owned();
    SectionError::OutOfReach { reason }
}

/// How far a point stands outside a section's curve, in millimetres; far inside where the wheel
/// leaves no surface.
fn outside_mm(section: &GroundSection, point: OutlinePoint) -> f64 {
    let cut = section.radius_at(point.heelward);
    cut.map_or(f64::NEG_INFINITY, |cut| (point.radius - cut).mm())
}

/// How a point stands against the wheel itself; None where the wheel leaves no surface.
fn standing(section: &GroundSection, point: OutlinePoint) -> Option<Standing> {
    let contact = section.contact_at(point.heelward)?;
    let outside_mm = (point.radius - contact.radius).mm();
    let out_mm = if contact.per_backing_off > 0.0 {
        outside_mm / contact.per_backing_off
    } else if outside_mm > 0.0 {
        f64::INFINITY
    } else {
        outside_mm
    };
    Some(Standing { out_mm, point })
}
