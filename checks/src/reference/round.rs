//! What a wheel leaves of a rounded corner that swings about a pivot, by brute force: every swing
//! in small steps, every ray of the tooth followed until it lies inside the wheel.
//!
//! The machine's frame has its origin on the pivot, level with the edge: X along the travel toward
//! where the shank swings, Y toward the wheel, Z up. Everything is in millimetres and radians.

/// A wheel with straight walls and sharp corners.
#[derive(Clone, Copy, Debug)]
pub struct RoundWheel {
    /// Whether it grinds on its face; else on its rim.
    pub is_cup: bool,
    /// Its radius.
    pub radius_mm: f64,
    /// The width of its face.
    pub width_mm: f64,
}

/// A wheel before a cutter that swings.
#[derive(Clone, Copy, Debug)]
pub struct RoundScene {
    /// The wheel.
    pub wheel: RoundWheel,
    /// How far it leans, its corner in front of the pivot leading.
    pub lean_rad: f64,
    /// How far it is then tipped, its upper side toward the cutter.
    pub tilt_rad: f64,
    /// How far its axis stood above the edge before that.
    pub above_mm: f64,
    /// How far its corner stands in front of the pivot.
    pub front_mm: f64,
    /// How far the cutter's axis stands beside the pivot.
    pub beside_mm: f64,
    /// How far its end stands past the pivot.
    pub past_mm: f64,
    /// Radius of the round.
    pub round_mm: f64,
    /// How much the flute turns heelward for each millimetre toward the shank.
    pub turn_per_mm: f64,
    /// Whether the tooth turns back as it swings, so that its round stays level.
    pub follows: bool,
}

/// Coarse and fine steps of the swing, in radians.
const COARSE_RAD: f64 = 2e-3;
const FINE_RAD: f64 = 2e-6;
/// Steps in which a ray is looked along, and halvings by which it is closed in on.
const LOOK_MM: f64 = 0.02;
const HALVINGS: usize = 50;

impl RoundScene {
    /// A point of the machine in the wheel's own half section: distance from the wheel's axis, and
    /// along it.
    fn section_mm(&self, [x, y, z]: [f64; 3]) -> (f64, f64) {
        let (sin, cos) = self.tilt_rad.sin_cos();
        let y = y - self.front_mm;
        let (y, z) = (y * cos + z * sin, z * cos - y * sin - self.above_mm);
        let (sin, cos) = self.lean_rad.sin_cos();
        // A disc's corner stands in front of the pivot at the edge's height, not at its axis'.
        let (r, up) = (self.wheel.radius_mm, self.above_mm);
        let x = if self.wheel.is_cup { x } else { x - sin * (r - (r * r - up * up).sqrt()) };
        let (face, back) = (x * cos + y * sin, y * cos - x * sin);
        let radius_mm = self.wheel.radius_mm;
        if self.wheel.is_cup {
            ((face - radius_mm).hypot(z), back)
        } else {
            ((back - radius_mm).hypot(z), face)
        }
    }

    fn distance_mm(&self, point: [f64; 3]) -> f64 {
        let (from_axis, along) = self.section_mm(point);
        let RoundWheel { is_cup, radius_mm, width_mm } = self.wheel;
        let sides = if is_cup {
            // The face at 0, the body behind it.
            [from_axis - radius_mm, radius_mm - width_mm - from_axis, -along]
        } else {
            [from_axis - radius_mm, -along, along - width_mm]
        };
        let [a, b, c] = sides;
        let outside = |sides: &[f64]| sides.iter().map(|s| s.max(0.0).powi(2)).sum::<f64>().sqrt();
        let deepest = a.max(b).max(c);
        if deepest > 0.0 { outside(&[a, b, c]) } else { deepest }
    }

    fn turned_rad(&self, swing_rad: f64) -> f64 {
        let level = if self.follows { swing_rad } else { std::f64::consts::FRAC_PI_4 };
        self.turn_per_mm * self.round_mm * (1.0 - level.cos())
    }

    /// A point of the cutter, turned about its axis against the level face, with the cutter swung.
    fn swung(&self, (out, heel, end): (f64, f64, f64), by_rad: f64, swing_rad: f64) -> [f64; 3] {
        let turn = by_rad - self.turned_rad(swing_rad);
        let level = out * turn.cos() - heel * turn.sin();
        let up = out * turn.sin() + heel * turn.cos();
        let (x, y) = (level - self.beside_mm, self.past_mm - end);
        let (far, at) = (x.hypot(y), x.atan2(y) - swing_rad);
        [far * at.sin(), far * at.cos(), up]
    }

    fn met_mm(&self, place_rad: f64, heel_mm: f64, swing_rad: f64) -> f64 {
        let is_inside = |far_mm: f64| {
            let out = self.beside_mm + far_mm * place_rad.sin();
            let end = self.past_mm - far_mm * place_rad.cos();
            let point = self.swung((out, heel_mm, end), self.turn_per_mm * end, swing_rad);
            self.distance_mm(point) <= 0.0
        };
        let (from, to) = (0.4 * self.front_mm, 2.0 * self.front_mm + 0.5 + self.above_mm.abs());
        let steps = ((to - from) / LOOK_MM) as usize;
        let looks = (0..=steps).map(|step| from + LOOK_MM * step as f64);
        let Some(mut high) = looks.into_iter().find(|&far| is_inside(far)) else {
            return f64::INFINITY;
        };
        let mut low = high - LOOK_MM;
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            *(if is_inside(middle) { &mut high } else { &mut low }) = middle;
        }
        high
    }

    /// How far from the pivot the tooth is left at a place round the corner, so far heelward of its
    /// face, when the cutter has swung between two ends.
    pub fn left_mm(&self, place_rad: f64, heel_mm: f64, (first, last): (f64, f64)) -> f64 {
        let least = |from: f64, to: f64, step: f64| {
            let steps = ((to - from) / step) as usize;
            let swings = (0..=steps).map(|at| (from + step * at as f64).min(last));
            let met = swings.map(|swing| (swing, self.met_mm(place_rad, heel_mm, swing)));
            met.fold((from, f64::INFINITY), |best, next| if next.1 < best.1 { next } else { best })
        };
        let from = first.max(place_rad - 0.3);
        let (near, seen) = least(from, last.min(place_rad + 0.3), COARSE_RAD);
        let (near, finer) =
            least((near - COARSE_RAD).max(first), (near + COARSE_RAD).min(last), COARSE_RAD * 0.02);
        let step = COARSE_RAD * 0.02;
        let (_, finest) = least((near - step).max(first), (near + step).min(last), FINE_RAD * 0.1);
        seen.min(finer).min(finest)
    }

    /// How near the wheel comes to points of another edge, told by distance from the axis and from
    /// the end, that stands turned heelward by an angle.
    pub fn nearest_mm(&self, edge: &[(f64, f64)], turn: f64, (first, last): (f64, f64)) -> f64 {
        let steps = 2000;
        let swings = (0..=steps).map(|at| first + (last - first) * f64::from(at) / 2000.0);
        let nearest = |swing: f64| {
            let gap = |&(out, end): &(f64, f64)| {
                let by = turn + self.turn_per_mm * end;
                self.distance_mm(self.swung((out, 0.0, end), by, swing))
            };
            edge.iter().map(gap).fold(f64::INFINITY, f64::min)
        };
        swings.map(nearest).fold(f64::INFINITY, f64::min)
    }
}
