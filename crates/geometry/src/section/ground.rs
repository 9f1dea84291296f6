//! A ground section: the curve that the wheel leaves, and how it stands to the wheel.

use super::contact::Touch;
use super::envelope::{Owned, cursor};
use super::place::Traced;
use super::setup::Setup;
use crate::quantity::{Angle, Length};
use crate::search::crossing;
use crate::wheel::{Part, Pose, WheelKind};

/// The section that a wheel leaves on a tooth, at one place of the wheel.
///
/// Angles run heelward from the new edge, radii from the cutter's axis. The curve is held as
/// cubics in the reciprocal radius with an interpolation error below 0.02 µm at the cutting circle
/// (it grows with the cube of the radius
/// outside it, and is a hundred times that from a tenth of a radian ahead of the edge).
#[derive(Clone)]
pub struct GroundSection {
    pub(super) setup: Setup,
    pub(super) traced: Traced,
    backed_off_mm: f64,
    pub(super) circle_mm: f64,
}

impl std::fmt::Debug for GroundSection {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("GroundSection")
            .field("setup", &self.setup)
            .field("backed_off_mm", &self.backed_off_mm)
            .field("circle_mm", &self.circle_mm)
            .finish_non_exhaustive()
    }
}

/// Where on the wheel a point of the section was cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The part of the wheel.
    pub part: Part,
    /// Place along the cutter from the rest's contact, toward the tip.
    pub along: Length,
    /// Distance from the cutter's axis toward the wheel.
    pub across: Length,
    /// Height above the cutter's axis.
    pub up: Length,
    /// Radius in the section.
    pub radius: Length,
    /// Slope of the section there, millimetres of radius per radian heelward.
    pub slope_mm_per_rad: f64,
    /// Radius gained per length by which the wheel is backed off.
    pub per_backing_off: f64,
}

/// How closely a ray is met by a point of the contact curve, in radians.
const TOUCH_MISS_RAD: f64 = 1e-14;

impl Traced {
    /// The point of one run at an angle that it covers, from the contact curve itself, and its
    /// parameter there.
    pub(super) fn touch(&self, run: usize, at_rad: f64) -> (Touch, f64) {
        let run = &self.runs[run];
        let stretch = &run.stretches[cursor(run, at_rad)];
        let turned_rad = at_rad + run.turn_rad;
        let curve = &self.curves[run.curve];
        let (low, high) = stretch.parameters;
        let (from_rad, to_rad) = (stretch.cubic.from_rad, stretch.cubic.to_rad);
        let mut found = (self.meeting.at(curve, low), low);
        let miss_rad = |parameter: f64| {
            found = (self.meeting.at(curve, parameter), parameter);
            found.0.heelward_rad - turned_rad
        };
        let ends = [(low, from_rad - at_rad), (high, to_rad - at_rad)];
        crossing(miss_rad, ends[0], ends[1], TOUCH_MISS_RAD);
        found
    }
}

impl GroundSection {
    pub(super) fn new(setup: Setup, traced: Traced, backed_off_mm: f64, circle_mm: f64) -> Self {
        Self { setup, traced, backed_off_mm, circle_mm }
    }

    /// The set-up that it comes from.
    pub const fn setup(&self) -> &Setup {
        &self.setup
    }

    /// Radius of the circle that the wheel was brought to.
    pub const fn circle_radius(&self) -> Length {
        Length::from_mm(self.circle_mm)
    }

    /// Distance from the cutter's axis, along y, to the nearest point of the leading corner (the
    /// true corner, before it is rounded or worn).
    pub const fn leading_corner_from_axis(&self) -> Length {
        Length::from_mm(self.backed_off_mm)
    }

    /// Distance along y from the cutter's axis: for a cup to its leading corner's plane, for a
    /// disc to the wheel's axis where it passes the leading corner's nearest point.
    pub fn wheel_from_axis(&self) -> Length {
        let stance = self.setup.stance();
        match self.setup.wheel().kind() {
            WheelKind::Cup => self.leading_corner_from_axis(),
            WheelKind::Disc => {
                let pose = &self.traced.meeting.pose;
                let corner_t_mm = -stance.face_toward.sign() * stance.rest_inset.mm();
                let along = (corner_t_mm - pose.origin.x) / pose.axis.x;
                Length::from_mm(pose.origin.y + along * pose.axis.y)
            }
        }
    }

    /// Where the wheel stands that left this section, in machine coordinates.
    pub const fn wheel_pose(&self) -> &Pose {
        &self.traced.meeting.pose
    }

    pub(super) fn owner(&self, at_rad: f64) -> Option<&Owned> {
        let owned = &self.traced.owned;
        let after = owned.partition_point(|piece| piece.to_rad <= at_rad);
        let owner = owned.get(after).filter(|piece| piece.from_rad <= at_rad)?;
        let run = &self.traced.runs[owner.run];
        let value = run.stretches[cursor(run, at_rad)].cubic.value(at_rad);
        self.is_followed(value).then_some(owner)
    }

    /// The angles at which one part of the wheel takes over from another, or the section ends: it
    /// is smooth in between.
    pub(crate) fn turns_rad(&self) -> impl Iterator<Item = f64> {
        self.traced.owned.iter().flat_map(|piece| [piece.from_rad, piece.to_rad])
    }

    /// Whether a point of this reciprocal radius is near enough for every curve to have been
    /// followed there; farther out nothing can be said.
    fn is_followed(&self, reciprocal: f64) -> bool {
        reciprocal * self.traced.followed_mm >= 1.0
    }

    /// Reciprocal radius at an angle heelward of the edge; None where the wheel leaves no surface.
    pub(super) fn reciprocal(&self, at_rad: f64) -> Option<f64> {
        let owner = self.owner(at_rad)?;
        let run = &self.traced.runs[owner.run];
        Some(run.stretches[cursor(run, at_rad)].cubic.value(at_rad))
    }

    /// Radius at an angle heelward of the edge; None where the wheel leaves no surface.
    pub fn radius_at(&self, heelward: Angle) -> Option<Length> {
        self.reciprocal(heelward.radians()).map(|value| Length::from_mm(1.0 / value))
    }

    /// Where on the wheel the section at an angle was cut, computed from the wheel itself and not
    /// from the interpolation; None where the wheel leaves no surface.
    pub fn contact_at(&self, heelward: Angle) -> Option<Contact> {
        let at_rad = heelward.radians();
        let owner = self.owner(at_rad)?;
        let (touch, _) = self.traced.touch(owner.run, at_rad);
        let part = self.traced.curves[self.traced.runs[owner.run].curve].part;
        Some(Contact {
            part,
            along: Length::from_mm(touch.point.x),
            across: Length::from_mm(touch.point.y),
            up: Length::from_mm(touch.point.z),
            radius: Length::from_mm(touch.radius_mm),
            slope_mm_per_rad: touch.slope_mm_per_rad,
            per_backing_off: touch.per_backing_off,
        })
    }

    /// Fills `radii_mm` with the radius at each of `count` angles, evenly from `from` to `to`; not
    /// a number where the wheel leaves no surface. This is the fast way to many rays.
    pub fn fill_radii_mm(&self, from: Angle, to: Angle, radii_mm: &mut [f64]) {
        let mut rays = self.rays(from, to, radii_mm.len());
        radii_mm.iter_mut().for_each(|radius_mm| *radius_mm = rays.next_mm());
    }

    /// So many rays from an angle to another, in turn.
    pub(super) fn rays(&self, from: Angle, to: Angle, count: usize) -> Rays<'_> {
        let steps = count.saturating_sub(1).max(1) as f64;
        let step_rad = (to.radians() - from.radians()) / steps;
        let from_rad = from.radians();
        Rays { section: self, from_rad, step_rad, index: 0, cursor: Cursor::default() }
    }
}

/// Rays of a section at even steps, each computed when it is asked for.
pub(super) struct Rays<'a> {
    section: &'a GroundSection,
    from_rad: f64,
    step_rad: f64,
    index: usize,
    cursor: Cursor,
}

impl Rays<'_> {
    /// Radius of the next ray; not a number where the wheel leaves no surface.
    pub(super) fn next_mm(&mut self) -> f64 {
        let at_rad = self.from_rad + self.step_rad * self.index as f64;
        self.index += 1;
        if self.step_rad < 0.0 {
            // The cursor only walks forward; rays in falling order begin anew each time.
            self.cursor = Cursor::default();
        }
        let found = self.cursor.reciprocal(&self.section.traced, at_rad);
        let followed = found.filter(|value| self.section.is_followed(*value));
        followed.map_or(f64::NAN, |value| 1.0 / value)
    }
}

/// Walks along the section, for rays in rising order.
#[derive(Default)]
struct Cursor {
    owned: usize,
    stretch: usize,
}

impl Cursor {
    fn reciprocal(&mut self, traced: &Traced, at_rad: f64) -> Option<f64> {
        while traced.owned.get(self.owned)?.to_rad < at_rad {
            self.owned += 1;
            self.stretch = 0;
        }
        let piece = &traced.owned[self.owned];
        if piece.from_rad > at_rad {
            return None;
        }
        let stretches = &traced.runs[piece.run].stretches;
        while self.stretch + 1 < stretches.len() && stretches[self.stretch].cubic.to_rad < at_rad {
            self.stretch += 1;
        }
        Some(stretches[self.stretch].cubic.value(at_rad))
    }
}
