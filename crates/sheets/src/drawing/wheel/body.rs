//! The half section of a wheel, from its record and, where that says nothing, from custom.

use shop::record::{Wheel, WheelForm};

/// Thickness of the back of a cup, as a share of its depth, and of a dish (own choice, no source:
/// no record says it and nothing is computed from it).
const CUP_BACK_SHARE: f64 = 0.3;
const DISH_BACK_SHARE: f64 = 0.45;

/// Lean of a wall on whose record none stands (own choice, no source: only the look depends on
/// it), and of the inner side of a dish.
const FLARE_DEG: f64 = 20.0;
const DISH_INNER_DEG: f64 = 70.0;

/// How much of a wheel's body must be left between its hole and its wall, in radii of the hole.
const BACK_OVER_BORE: f64 = 1.3;

/// How far a rim falls away beside a face that is narrower, in the breadth that it falls over.
const BEVEL: f64 = 0.5;

/// The sizes of a wheel's half section in millimetres: back from its front, up from its axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Body {
    form: WheelForm,
    pub(super) radius_mm: f64,
    pub(super) depth_mm: f64,
    /// Radius of the hole.
    pub(super) bore_mm: f64,
    pub(super) face_mm: f64,
    rim_mm: f64,
    wall_rad: f64,
    pub(super) is_cup: bool,
    /// Whether its wall leans by an angle that is on no record.
    pub(super) has_taken_wall: bool,
}

impl Body {
    pub(super) fn of(wheel: &Wheel) -> Self {
        let form = wheel.shape().form();
        let taken = if form.has_leaning_wall() { FLARE_DEG.to_radians() } else { 0.0 };
        let is_cup = form.grinds_on_face();
        let room_mm = if is_cup { 0.5 * wheel.diameter().mm() } else { wheel.depth().mm() };
        let face_mm = wheel.face_width().mm();
        Self {
            form,
            radius_mm: 0.5 * wheel.diameter().mm(),
            depth_mm: wheel.depth().mm(),
            bore_mm: 0.5 * wheel.bore().mm(),
            face_mm,
            rim_mm: wheel.rim_width().map_or(face_mm, |rim| rim.mm()).clamp(face_mm, room_mm),
            wall_rad: wheel.wall_angle().map_or(taken, |angle| angle.radians()),
            is_cup,
            has_taken_wall: form.has_leaning_wall() && wheel.wall_angle().is_none(),
        }
    }

    /// Outer radius of a cup at a distance back from its front.
    pub(super) fn wall_mm(&self, back_mm: f64) -> f64 {
        let leaning = self.radius_mm - back_mm * self.wall_rad.tan();
        leaning.max(BACK_OVER_BORE * self.bore_mm).min(self.radius_mm)
    }

    /// Where the wall has drawn in as far as it does, and runs straight from there on.
    fn wall_ends_mm(&self) -> f64 {
        let draws_in = self.radius_mm - BACK_OVER_BORE * self.bore_mm;
        let run = draws_in.max(0.0) / self.wall_rad.tan().max(1e-9);
        run.min(self.depth_mm)
    }

    /// From where on the hole runs to the back.
    pub(super) fn hole_from_mm(&self) -> f64 {
        let share = match self.form {
            WheelForm::Straight => return 0.0,
            WheelForm::Dish => DISH_BACK_SHARE,
            _ => CUP_BACK_SHARE,
        };
        // A wall that leans far reaches the hole before it reaches the back.
        let room_mm = (self.radius_mm - self.rim_mm - self.bore_mm).max(0.0);
        (self.depth_mm * (1.0 - share)).min(room_mm / self.inner_rad().tan().max(1e-9))
    }

    /// How far the inner wall draws in.
    fn inner_rad(&self) -> f64 {
        match self.form {
            WheelForm::Dish => DISH_INNER_DEG.to_radians(),
            _ => self.wall_rad,
        }
    }

    /// The half section's corners.
    pub(super) fn section_mm(&self) -> Vec<(f64, f64)> {
        if self.is_cup { self.cup_mm() } else { self.disc_mm() }
    }

    fn disc_mm(&self) -> Vec<(f64, f64)> {
        let (depth, radius, bore) = (self.depth_mm, self.radius_mm, self.bore_mm);
        // A narrower face stands at the front, and the rest of the periphery falls away behind it.
        let fall = (BEVEL * (depth - self.face_mm)).min(0.3 * (radius - bore));
        let mut corners = vec![(0.0, bore), (0.0, radius), (self.face_mm, radius)];
        if fall > 1e-9 {
            corners.push((depth, radius - fall));
        }
        corners.push((depth, bore));
        corners
    }

    fn cup_mm(&self) -> Vec<(f64, f64)> {
        let (depth, radius, bore) = (self.depth_mm, self.radius_mm, self.bore_mm);
        let (hollow, back_end) = (self.hole_from_mm(), self.wall_ends_mm());
        let mut corners = vec![(0.0, radius)];
        if back_end < depth - 1e-9 {
            corners.push((back_end, self.wall_mm(depth)));
        }
        corners.extend([(depth, self.wall_mm(depth)), (depth, bore), (hollow, bore)]);
        corners.extend(self.hollow_mm(hollow));
        let fall = (BEVEL * (self.rim_mm - self.face_mm)).min(0.5 * hollow);
        corners.push((fall, (radius - self.rim_mm).max(bore)));
        corners.push((0.0, (radius - self.face_mm).max(bore)));
        corners
    }

    /// The inner wall's foot, where it meets the back.
    fn hollow_mm(&self, hollow: f64) -> Option<(f64, f64)> {
        let inner = self.radius_mm - self.rim_mm - hollow * self.inner_rad().tan();
        (inner > self.bore_mm + 1e-9).then_some((hollow, inner))
    }

    /// The outline from outside, from the axis at the front round to the axis at the back.
    pub(super) fn outside_mm(&self) -> Vec<(f64, f64)> {
        let mut corners = vec![(0.0, 0.0)];
        let section = self.section_mm();
        let outer = section.iter().filter(|(back, up)| self.is_outer(*back, *up));
        corners.extend(outer.copied());
        corners.push((self.depth_mm, 0.0));
        corners
    }

    fn is_outer(&self, back: f64, up: f64) -> bool {
        if !self.is_cup {
            return up > self.bore_mm + 1e-9;
        }
        up >= self.wall_mm(back) - 1e-6
    }
}
