//! What a wheel comes near while a flute passes it, by brute force: points all over the wheel
//! against the cutter's round parts, points all over the other teeth against the wheel, at every
//! stand of the table. Nothing is solved; the finest grid lies about the nearest coarse point.
//!
//! The frame is that of [`crate::reference`]: `t` toward the tip from the rest, `y` toward the
//! wheel, `z` up. Everything is in millimetres and radians.

use super::solid::Vector;

/// A wheel in its place, its half section a closed polygon of (radius, depth behind the face).
#[derive(Clone, Debug)]
pub struct SpaceWheel {
    /// Corners of the half section, in order.
    pub half_section: Vec<(f64, f64)>,
    /// The middle of the wheel in the plane of its face.
    pub centre: Vector,
    /// Unit direction of the axis, from the face into the body.
    pub axis: Vector,
    /// Unit direction from the axis to the leading corner.
    pub near: Vector,
}

/// The cutter's parts as they stand when its tip is at `t` = 0.
#[derive(Clone, Debug)]
pub struct SpaceCutter {
    /// Length of the flutes.
    pub flute_mm: f64,
    /// Corners of one tooth's section: (heelward angle, radius).
    pub tooth: Vec<(f64, f64)>,
    /// Number of teeth.
    pub teeth: u32,
    /// Turn heelward for each millimetre toward the tip.
    pub twist_per_mm: f64,
    /// How far the tooth at the rest is turned below centre.
    pub setting_rad: f64,
}

/// A part on the cutter's axis: where it begins and ends behind the tip, and its radius.
#[derive(Clone, Copy, Debug)]
pub struct SpaceRound {
    /// From the tip to where it begins.
    pub begins_mm: f64,
    /// From the tip to where it ends.
    pub ends_mm: f64,
    /// Its radius.
    pub radius_mm: f64,
}

/// Which turns of the wheel are looked at, as angles from the leading corner.
pub type Turns = (f64, f64);

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

impl SpaceWheel {
    /// A cup or disc that leans, its leading corner, as it was before it wore, at a place and a
    /// radius. `facing` is +1 where the face runs toward the tip. A cup's half section has that
    /// corner at depth 0, and so has a disc's, at its end.
    pub fn leaning(
        half_section: Vec<(f64, f64)>,
        (is_cup, lean_rad, facing): (bool, f64, f64),
        (corner, radius): (Vector, f64),
    ) -> Self {
        let (sin, cos) = lean_rad.sin_cos();
        let face = [facing * cos, sin, 0.0];
        let back = [-facing * sin, cos, 0.0];
        let (axis, inward) = if is_cup { (back, face) } else { (face, back) };
        let centre = [0, 1, 2].map(|k| corner[k] + inward[k] * radius);
        Self { half_section, centre, axis, near: inward.map(|part| -part) }
    }

    fn side(&self) -> Vector {
        let ([a, b, c], [x, y, z]) = (self.axis, self.near);
        [b * z - c * y, c * x - a * z, a * y - b * x]
    }

    fn point(&self, (radius, depth): (f64, f64), turn: f64) -> Vector {
        let (sin, cos) = turn.sin_cos();
        let side = self.side();
        [0, 1, 2].map(|k| {
            self.centre[k] + self.axis[k] * depth + radius * (self.near[k] * cos + side[k] * sin)
        })
    }

    /// The point of the half section that lies a share of the way along one of its sides.
    fn along(&self, side: usize, share: f64) -> (f64, f64) {
        let (a, b) =
            (self.half_section[side], self.half_section[(side + 1) % self.half_section.len()]);
        (a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share)
    }

    /// Least signed distance of the wheel's points to a round part at one stand of the tip.
    fn to_round_at(&self, part: &SpaceRound, tip_mm: f64, turns: Turns, best: &mut Best) {
        let sides = self.half_section.len();
        for side in 0..sides {
            let (a, b) = (self.along(side, 0.0), self.along(side, 1.0));
            let parts = ((b.0 - a.0).hypot(b.1 - a.1) / COARSE_MM).ceil().max(1.0);
            for step in 0..=parts as u32 {
                let share = f64::from(step) / parts;
                for turn in 0..=TURNS {
                    let turn = turns.0 + (turns.1 - turns.0) * f64::from(turn) / f64::from(TURNS);
                    let gap = part.distance(self.point(self.along(side, share), turn), tip_mm);
                    best.offer(gap, (side, share, turn, tip_mm));
                }
            }
        }
    }

    /// Least signed distance between the wheel and a round part over all stands of the tip between
    /// two; below zero the deepest point of the wheel's skin inside the part.
    pub fn to_round(&self, part: &SpaceRound, tips: (f64, f64), turns: Turns) -> f64 {
        let mut best = Best::default();
        for stand in 0..=STANDS {
            let tip = tips.0 + (tips.1 - tips.0) * f64::from(stand) / f64::from(STANDS);
            self.to_round_at(part, tip, turns, &mut best);
        }
        // Ever finer about the best.
        let (side, ..) = best.at;
        let (mut wide, mut swing) = (0.1, (turns.1 - turns.0) / f64::from(TURNS) * 2.0);
        let mut reach = (tips.1 - tips.0) / f64::from(STANDS);
        for _ in 0..12 {
            let (_, share, turn, tip) = best.at;
            for i in -6..=6 {
                let share = (share + wide * f64::from(i) / 6.0).clamp(0.0, 1.0);
                for j in -6..=6 {
                    let turn = (turn + swing * f64::from(j) / 6.0).clamp(turns.0, turns.1);
                    for k in -2..=2 {
                        let tip = (tip + reach * f64::from(k) / 2.0).clamp(tips.0, tips.1);
                        let gap = part.distance(self.point(self.along(side, share), turn), tip);
                        best.offer(gap, (side, share, turn, tip));
                    }
                }
            }
            (wide, swing, reach) = (wide * 0.4, swing * 0.4, reach * 0.4);
        }
        best.gap
    }

    /// Signed distance from a point to the wheel's body, below zero inside.
    pub fn distance(&self, point: Vector) -> f64 {
        let from = [0, 1, 2].map(|k| point[k] - self.centre[k]);
        let depth = dot(from, self.axis);
        let radius = (dot(from, from) - depth * depth).max(0.0).sqrt();
        let mut nearest = f64::INFINITY;
        let mut inside = false;
        for side in 0..self.half_section.len() {
            let (a, b) = (self.along(side, 0.0), self.along(side, 1.0));
            let (dr, dd) = (b.0 - a.0, b.1 - a.1);
            let share = ((radius - a.0) * dr + (depth - a.1) * dd) / (dr * dr + dd * dd);
            let share = share.clamp(0.0, 1.0);
            nearest = nearest.min((radius - a.0 - share * dr).hypot(depth - a.1 - share * dd));
            if (a.1 > depth) != (b.1 > depth) && radius < a.0 + (depth - a.1) / dd * dr {
                inside = !inside;
            }
        }
        if inside { -nearest } else { nearest }
    }

    /// Least distance of the other teeth's points, edges and backs, over all stands of the tip; of
    /// them counts what stands on the leading side of the wheel's axis along the cutter.
    pub fn to_teeth(&self, cutter: &SpaceCutter, tips: (f64, f64), cup: bool) -> f64 {
        let mut best = f64::INFINITY;
        let leads = if self.near[0] < 0.0 { -1.0 } else { 1.0 };
        for stand in 0..=STANDS {
            let tip = tips.0 + (tips.1 - tips.0) * f64::from(stand) / f64::from(STANDS);
            let count = (cutter.flute_mm / TOOTH_MM).ceil();
            for step in 0..=count as u32 {
                let t = tip - cutter.flute_mm * f64::from(step) / count;
                if cup && leads * (t - self.centre[0]) < 0.0 {
                    continue;
                }
                for (angle, radius) in cutter.points() {
                    let turn = angle - cutter.setting_rad - cutter.twist_per_mm * t;
                    best = best.min(self.distance([t, radius * turn.cos(), radius * turn.sin()]));
                }
            }
        }
        best
    }
}

/// Steps of the coarse grids.
const COARSE_MM: f64 = 0.8;
const TURNS: u32 = 360;
const STANDS: u32 = 6;
const TOOTH_MM: f64 = 0.05;
const TOOTH_PARTS: u32 = 12;

/// The least distance and where: side of the half section, share along it, turn, tip.
#[derive(Clone, Copy)]
struct Best {
    gap: f64,
    at: (usize, f64, f64, f64),
}

impl Default for Best {
    fn default() -> Self {
        Self { gap: f64::INFINITY, at: (0, 0.0, 0.0, 0.0) }
    }
}

impl Best {
    fn offer(&mut self, gap: f64, at: (usize, f64, f64, f64)) {
        if gap < self.gap {
            *self = Self { gap, at };
        }
    }
}

impl SpaceRound {
    fn distance(&self, point: Vector, tip_mm: f64) -> f64 {
        let out = point[1].hypot(point[2]) - self.radius_mm;
        let behind = tip_mm - point[0];
        let beside = (self.begins_mm - behind).max(behind - self.ends_mm);
        if out > 0.0 && beside > 0.0 { out.hypot(beside) } else { out.max(beside) }
    }
}

impl SpaceCutter {
    /// Points of the sections of all teeth but the one on the rest: (heelward angle, radius).
    fn points(&self) -> Vec<(f64, f64)> {
        let pitch = std::f64::consts::TAU / f64::from(self.teeth);
        let mut points = Vec::new();
        for tooth in 1..self.teeth {
            for pair in self.tooth.windows(2) {
                let flat = pair.iter().map(|(at, r)| (r * at.cos(), r * at.sin()));
                let ends: Vec<(f64, f64)> = flat.collect();
                for part in 0..=TOOTH_PARTS {
                    let share = f64::from(part) / f64::from(TOOTH_PARTS);
                    let x = ends[0].0 + (ends[1].0 - ends[0].0) * share;
                    let y = ends[0].1 + (ends[1].1 - ends[0].1) * share;
                    points.push((y.atan2(x) + pitch * f64::from(tooth), x.hypot(y)));
                }
            }
        }
        points
    }
}
