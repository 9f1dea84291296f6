//! What a wheel leaves of a tooth that swings past it about a pivot.

use nalgebra::Vector3;

use super::corner::RoundCorner;
use super::error::EndError;
use super::round::{RoundHold, RoundPivot, RoundSetup, missed};
use super::stroke::distance_mm;
use crate::quantity::{Angle, Length};
use crate::search::least;
use crate::wheel::Pose;

/// A wheel in front of the pivot and a cutter over it.
///
/// A place of the tooth is named by its swing, from the end to the periphery, by its distance from
/// the pivot there, and by how far heelward of the face it lies.
#[derive(Clone, Debug)]
pub struct RoundCut<'a> {
    setup: &'a RoundSetup,
    pivot: RoundPivot,
    front: Length,
    pose: Pose,
}

/// How far beyond the end and the periphery the cutter swings, in degrees: what lies behind an edge
/// is met a little to the side of it. On a straight edge that costs the radius times 0.00015.
const BEYOND_DEG: f64 = 1.0;

/// Swings that are looked at before the nearest is closed in on.
const LOOKS: u32 = 24;

/// Steps that close in on the swing that cuts deepest.
const CLOSINGS: usize = 34;

/// Steps of a ray toward the wheel.
const STEPS: usize = 200;

/// A ray this near the wheel has met it.
const MET_MM: f64 = 1e-9;

/// How exactly gaps are told.
const GAP_ERROR_MM: f64 = 2e-3;

/// The first width at which the end of a land is looked for, as a share of the round's radius, and
/// by how much each further one is wider.
const FIRST_LAND_SHARE: f64 = 0.125;
const LAND_GROWS: f64 = 1.5;

const QUARTER_RAD: f64 = std::f64::consts::FRAC_PI_2;
const FIRST_RAD: f64 = -BEYOND_DEG * std::f64::consts::PI / 180.0;
const LAST_RAD: f64 = QUARTER_RAD - FIRST_RAD;

impl<'a> RoundCut<'a> {
    pub(super) fn new(setup: &'a RoundSetup, pivot: RoundPivot, front: Length) -> Self {
        Self { setup, pivot, front, pose: setup.pose(front.mm()) }
    }

    /// The round that is wanted.
    pub const fn round(&self) -> RoundCorner {
        self.setup.edge().round
    }

    /// The first and the last swing: a little beyond the end and beyond the periphery.
    pub const fn swings() -> (Angle, Angle) {
        (Angle::from_radians(FIRST_RAD), Angle::from_radians(LAST_RAD))
    }

    /// Where the cutter stands over the pivot.
    pub const fn pivot(&self) -> RoundPivot {
        self.pivot
    }

    /// How far the wheel stands in front of the pivot, on the feed.
    pub const fn front(&self) -> Length {
        self.front
    }

    /// The same with the wheel farther off by a feed.
    pub fn backed_off(&self, by: Length) -> Self {
        Self::new(self.setup, self.pivot, self.front + by)
    }

    /// The same with the cutter elsewhere over the pivot.
    pub fn over(&self, pivot: RoundPivot) -> Self {
        Self::new(self.setup, pivot, self.front)
    }

    /// Distance from the axis and from the end, of what is so far from the pivot at a swing.
    fn place_mm(&self, swing_rad: f64, radius_mm: f64) -> (f64, f64) {
        let (sin, cos) = swing_rad.sin_cos();
        (self.pivot.beside.mm() + radius_mm * sin, self.pivot.past.mm() - radius_mm * cos)
    }

    /// How far the cutter is turned back about its own axis at a swing, so that its face lies level
    /// where the wheel meets it.
    fn turned_rad(&self, swing_rad: f64) -> f64 {
        let level_rad = match self.setup.hold() {
            RoundHold::Locked => std::f64::consts::FRAC_PI_4,
            RoundHold::Follows => swing_rad,
        };
        let round = self.setup.edge().round;
        let (sin, cos) = level_rad.sin_cos();
        let radius_mm = round.radius.mm();
        let from_axis_mm = round.axis_beside_pivot().mm() + radius_mm * sin;
        self.setup.edge().face_rad(from_axis_mm, radius_mm * (1.0 - cos))
    }

    /// A point of the cutter, with the cutter swung: from the axis along the level edge and
    /// heelward, and from the end.
    fn swung(&self, [out_mm, heel_mm, end_mm]: [f64; 3], swing_rad: f64) -> Vector3<f64> {
        let (sin, cos) = swing_rad.sin_cos();
        let (x, y) = (out_mm - self.pivot.beside.mm(), self.pivot.past.mm() - end_mm);
        Vector3::new(x * cos - y * sin, x * sin + y * cos, heel_mm)
    }

    /// A point so far out from the axis along the face and heelward of it, turned by an angle.
    fn turned([out_mm, heel_mm, end_mm]: [f64; 3], by_rad: f64) -> [f64; 3] {
        let (sin, cos) = by_rad.sin_cos();
        [out_mm * cos - heel_mm * sin, out_mm * sin + heel_mm * cos, end_mm]
    }

    fn gap_mm(&self, point: [f64; 3], swing_rad: f64) -> f64 {
        let body = self.setup.wheel();
        distance_mm(body, &self.pose, &self.swung(point, swing_rad))
    }

    /// How far from the pivot a ray of the tooth first meets the wheel while the cutter stands at
    /// one swing; beyond how far it is followed, by how far it passes by, where it misses.
    fn met_mm(&self, ray: &Ray, swing_rad: f64) -> f64 {
        let turned_rad = self.turned_rad(swing_rad);
        let gap_mm = |radius_mm: f64| {
            let (out_mm, end_mm) = self.place_mm(ray.swing_rad, radius_mm);
            let face_rad = self.setup.edge().face_rad(out_mm, end_mm);
            let point = Self::turned([out_mm, ray.heel_mm, end_mm], face_rad - turned_rad);
            self.gap_mm(point, swing_rad)
        };
        let (far_mm, share) = (self.far_mm(), 1.0 / self.steepness());
        let (mut at_mm, mut off_mm) = (0.0, gap_mm(0.0));
        let mut before: Option<(f64, f64)> = None;
        let mut passes_by_mm = off_mm;
        for _ in 0..STEPS {
            if off_mm.abs() < MET_MM {
                return at_mm;
            }
            let slow_mm = at_mm + off_mm * share;
            // Near the wheel its surface is all but flat, and a secant meets it at once.
            let quick_mm = before.filter(|_| off_mm.abs() < 1e-2).and_then(|(was_mm, was)| {
                let step_mm = off_mm * (at_mm - was_mm) / (was - off_mm);
                (step_mm.abs() < 4.0 * off_mm.abs()).then_some(at_mm + step_mm)
            });
            before = Some((at_mm, off_mm));
            at_mm = quick_mm.unwrap_or(slow_mm);
            if at_mm > far_mm {
                break;
            }
            off_mm = gap_mm(at_mm);
            passes_by_mm = passes_by_mm.min(off_mm);
        }
        far_mm + passes_by_mm.max(0.0)
    }

    /// How far a ray is followed.
    fn far_mm(&self) -> f64 {
        3.0 * self.front.mm() + 1.0 + self.setup.stance().axis_above_edge.abs().mm()
    }

    /// How much faster than its distance from the pivot a place of a face can move.
    fn steepness(&self) -> f64 {
        let edge = self.setup.edge();
        let turn = edge.turn_per_mm.radians() * edge.round.cutter.mm();
        1.0 + turn.abs() + edge.rake.tan().abs()
    }

    /// How far from the pivot the wheel leaves the tooth: the least over all swings.
    ///
    /// **Source** \[own-derivation\] each swing cuts along the ray as far as where the ray first
    /// meets the wheel; what is left is the least. **Departs** nowhere. **Error** 1e-7 mm where one
    /// dent holds the least. **Domain** swings from a little beyond the end to a little beyond the
    /// periphery.
    fn left_mm(&self, ray: &Ray) -> Option<f64> {
        let step_rad = (LAST_RAD - FIRST_RAD) / f64::from(LOOKS);
        let met = |swing_rad: f64| self.met_mm(ray, swing_rad);
        let looks = (0..=LOOKS).map(|look| {
            let swing_rad = FIRST_RAD + f64::from(look) * step_rad;
            (swing_rad, met(swing_rad))
        });
        let (near_rad, seen_mm) = looks.min_by(|a, b| a.1.total_cmp(&b.1))?;
        let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
        let mut low = (near_rad - step_rad).max(FIRST_RAD);
        let mut high = (near_rad + step_rad).min(LAST_RAD);
        let (mut a, mut b) = (high - golden * (high - low), low + golden * (high - low));
        let (mut at_a, mut at_b) = (met(a), met(b));
        for _ in 0..CLOSINGS {
            if at_a < at_b {
                (high, b, at_b) = (b, a, at_a);
                a = high - golden * (high - low);
                at_a = met(a);
            } else {
                (low, a, at_a) = (a, b, at_b);
                b = low + golden * (high - low);
                at_b = met(b);
            }
        }
        let left_mm = at_a.min(at_b).min(seen_mm);
        (left_mm < self.far_mm()).then_some(left_mm)
    }

    /// How far from the pivot the edge is left at a swing; None where the wheel misses it.
    pub fn radius_at(&self, swing: Angle) -> Option<Length> {
        self.left_at(swing, Length::ZERO)
    }

    /// How far from the pivot the tooth is left at a swing, so far heelward of its face.
    pub fn left_at(&self, swing: Angle, heelward: Length) -> Option<Length> {
        let ray = Ray { swing_rad: swing.radians(), heel_mm: heelward.mm() };
        self.left_mm(&ray).map(Length::from_mm)
    }

    /// How far the edge at a swing lies outside the wanted round, whose middle stands the radius
    /// inside both finished edges; below zero inside it.
    pub fn form_at(&self, swing: Angle) -> Option<Length> {
        let round = self.setup.edge().round;
        let (out_mm, end_mm) = self.place_mm(swing.radians(), self.radius_at(swing)?.mm());
        let radius_mm = round.radius.mm();
        let beside_mm = out_mm - round.axis_beside_pivot().mm();
        Some(Length::from_mm(beside_mm.hypot(radius_mm - end_mm) - radius_mm))
    }

    /// How far the tooth has fallen inside the surface that its own edge sweeps as it turns, so far
    /// heelward of the edge.
    ///
    /// **Source** \[own-derivation\] what lies heelward stands farther from the axis than the edge
    /// at the same place did: turned back to the edge's plane it is compared with the edge there.
    /// **Departs** from the section square to the edge by that turn, which eats relief at the
    /// middle of a ball and at the periphery. **Error** that of the rays. **Domain** distances well
    /// below the radius of the cutter.
    pub fn drop_at(&self, swing: Angle, heelward: Length) -> Option<Length> {
        let left_mm = self.left_at(swing, heelward)?.mm();
        let (out_mm, end_mm) = self.place_mm(swing.radians(), left_mm);
        let from_axis_mm = out_mm.hypot(heelward.mm());
        let x = from_axis_mm - self.pivot.beside.mm();
        let y = self.pivot.past.mm() - end_mm;
        let faced = Angle::from_radians(x.atan2(y).clamp(0.0, QUARTER_RAD));
        Some(self.radius_at(faced)? - Length::from_mm(x.hypot(y)))
    }

    /// The mean relief at a swing, over a distance heelward of the edge.
    pub fn relief_at(&self, swing: Angle, over: Length) -> Option<Angle> {
        Some(Angle::from_tangent(self.drop_at(swing, over)? / over))
    }

    /// The wheel of another set-up of the same edge, fed until it passes through the back of this
    /// one's land in the middle of the round.
    ///
    /// # Errors
    /// Where it misses the round.
    pub fn behind<'b>(
        &self,
        other: &'b RoundSetup,
        land: Length,
    ) -> Result<RoundCut<'b>, EndError> {
        let half = Angle::from_degrees(45.0);
        let back = self.left_at(half, land).ok_or_else(missed)?;
        let mut cut = RoundCut::new(other, self.pivot, self.front);
        for _ in 0..20 {
            let miss = cut.left_at(half, land).ok_or_else(missed)? - back;
            cut = cut.backed_off(-miss);
            if miss.abs().mm() < 1e-8 {
                break;
            }
        }
        Ok(cut)
    }

    /// Width of the land at a swing that a cut behind this one leaves; None where it leaves none.
    ///
    /// **Source** \[own-derivation\] the land ends where the cut behind first lies lower, seen from
    /// the edge heelward. **Departs** nowhere. **Error** that of the rays, and 1e-9 of the land.
    /// **Domain** lands no wider than what both wheels leave of the round: farther heelward on a
    /// small round both pass through its pivot, and nothing is left to compare.
    pub fn land_before(&self, behind: &RoundCut<'_>, swing: Angle) -> Option<Length> {
        let higher = |heelward: Length| {
            Some(behind.left_at(swing, heelward)? - self.left_at(swing, heelward)?)
        };
        if higher(Length::ZERO)? <= Length::ZERO {
            return None;
        }
        let edge = self.setup.edge();
        let (mut low, mut high) = (Length::ZERO, edge.round.radius * FIRST_LAND_SHARE);
        while higher(high)? > Length::ZERO {
            (low, high) = (high, high * LAND_GROWS);
            if high > edge.round.cutter {
                return None;
            }
        }
        for _ in 0..30 {
            let middle = (low + high) / 2.0;
            *(if higher(middle)? > Length::ZERO { &mut low } else { &mut high }) = middle;
        }
        Some(low)
    }

    /// Least distance between the wheel and the edge of another tooth, so many pitches heelward,
    /// while the cutter swings from `from` to the periphery; below zero it is cut so deep. Of the
    /// edge counts what stands farther than `beyond` from the axis. Tooth 0 is that being ground,
    /// of which the periphery counts, from where the round ends.
    pub fn gap_to_tooth(&self, tooth: u32, beyond: Length, from: Angle) -> Length {
        let edge = self.setup.edge();
        let pitch_rad = std::f64::consts::TAU / f64::from(edge.teeth.max(1));
        let turn_rad = pitch_rad * f64::from(tooth);
        let path = EdgePath::new(self, beyond, tooth == 0);
        let arm_mm = self.steepness() * (2.0 * edge.round.cutter.mm() + path.length_mm());
        let at = |along_mm: f64| {
            let (out_mm, end_mm) = path.place_mm(along_mm);
            let face_rad = edge.face_rad(out_mm, end_mm) + turn_rad;
            let gap = |swung_mm: f64| {
                let swing_rad = swung_mm / arm_mm;
                let by_rad = face_rad - self.turned_rad(swing_rad);
                self.gap_mm(Self::turned([out_mm, 0.0, end_mm], by_rad), swing_rad)
            };
            least(gap, from.radians() * arm_mm, LAST_RAD * arm_mm, GAP_ERROR_MM)
        };
        let slope = self.steepness();
        let far_mm = path.length_mm() * slope;
        Length::from_mm(least(|along| at(along / slope), 0.0, far_mm, 2.0 * GAP_ERROR_MM))
    }

    /// The least such distance over the other teeth, with the tooth; None where there is but one.
    pub fn gap_to_others(&self, beyond: Length, from: Angle) -> Option<(u32, Length)> {
        (1..self.setup.edge().teeth)
            .map(|tooth| (tooth, self.gap_to_tooth(tooth, beyond, from)))
            .min_by(|a, b| a.1.mm().total_cmp(&b.1.mm()))
    }
}

/// A ray of the tooth out from the pivot.
struct Ray {
    swing_rad: f64,
    heel_mm: f64,
}

/// The way along an edge: the end from inside out, the round, a stretch of the periphery.
struct EdgePath {
    beyond_mm: f64,
    beside_mm: f64,
    radius_mm: f64,
    from_rad: f64,
    parts_mm: [f64; 3],
}

impl EdgePath {
    fn new(cut: &RoundCut<'_>, beyond: Length, periphery_only: bool) -> Self {
        let edge = cut.setup.edge();
        let round = edge.round;
        let (beside_mm, radius_mm) = (round.axis_beside_pivot().mm(), round.radius.mm());
        let beyond_mm = beyond.max(edge.inner).mm();
        let from_rad = ((beyond_mm - beside_mm) / radius_mm).clamp(0.0, 1.0).asin();
        let side_mm = edge.flute.mm().min(2.0 * round.cutter.mm() + cut.setup.wheel().radius_mm());
        let side_mm = (side_mm - radius_mm).max(0.0);
        let parts_mm = if periphery_only {
            [0.0, 0.0, side_mm]
        } else {
            let end_mm = (beside_mm - beyond_mm).max(0.0);
            [end_mm, (QUARTER_RAD - from_rad) * radius_mm, side_mm]
        };
        Self { beyond_mm, beside_mm, radius_mm, from_rad, parts_mm }
    }

    fn length_mm(&self) -> f64 {
        self.parts_mm.iter().sum()
    }

    /// Distance from the axis and from the end.
    fn place_mm(&self, along_mm: f64) -> (f64, f64) {
        let [end_mm, round_mm, _] = self.parts_mm;
        if along_mm < end_mm {
            return (self.beyond_mm + along_mm, 0.0);
        }
        let over_mm = along_mm - end_mm;
        if over_mm < round_mm {
            let (sin, cos) = (self.from_rad + over_mm / self.radius_mm).sin_cos();
            return (self.beside_mm + self.radius_mm * sin, self.radius_mm * (1.0 - cos));
        }
        (self.beside_mm + self.radius_mm, self.radius_mm + over_mm - round_mm)
    }
}
