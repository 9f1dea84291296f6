//! What a wheel leaves on an end tooth, by brute force: the wheel's points swept along the travel,
//! the work head turned by matrices, the surface found point by point along the cutter's axis.
//!
//! The machine's frame is X along the travel, Y toward the wheel, Z up; the tooth's is x outward, y
//! heelward, z toward the shank. Everything is in millimetres and radians.

/// A wheel: a cup that grinds on its face, or a disc whose axis lies along the travel.
#[derive(Clone, Copy, Debug)]
pub enum EndWheel {
    /// Radius over the face, and the radius of its outer corner.
    Cup {
        /// Radius over the face.
        radius_mm: f64,
        /// Radius of the corner.
        corner_mm: f64,
    },
    /// Radius of the rim.
    Disc {
        /// Radius of the rim.
        radius_mm: f64,
    },
}

/// A set-up: the wheel against the edge, the work head against the machine.
#[derive(Clone, Copy, Debug)]
pub struct EndScene {
    /// The wheel.
    pub wheel: EndWheel,
    /// How far a cup leans, its side nearest the centre toward the cutter.
    pub lean_rad: f64,
    /// How far the wheel's axis stands above the edge.
    pub above_mm: f64,
    /// Swing of the work head, which carries its tilt.
    pub swing_rad: f64,
    /// Tilt of the work head, the tip down.
    pub tilt_rad: f64,
    /// Turn of the cutter about its own axis, heelward.
    pub turn_rad: f64,
    /// The corner in the tooth's frame: how far outward, and how far ahead of the centre.
    pub corner_mm: (f64, f64),
}

/// A point or direction.
pub type Triple = [f64; 3];

/// Steps in which a corner's round is scanned, and halvings by which a surface is closed in on.
const SCAN: usize = 60;
const HALVINGS: usize = 60;

impl EndScene {
    /// How far toward the wheel the swept wheel's surface lies at a height over the edge, up to a
    /// constant.
    fn swept_mm(&self, height_mm: f64) -> f64 {
        let from_axis_mm = height_mm - self.above_mm;
        match self.wheel {
            EndWheel::Disc { radius_mm } => {
                -(radius_mm * radius_mm - from_axis_mm * from_axis_mm).sqrt()
            }
            EndWheel::Cup { radius_mm, corner_mm } => {
                let (sin, cos) = self.lean_rad.sin_cos();
                let at = |round_rad: f64| {
                    let ring_mm = radius_mm - corner_mm + corner_mm * round_rad.sin();
                    let back_mm = corner_mm - corner_mm * round_rad.cos();
                    let square = ring_mm * ring_mm - from_axis_mm * from_axis_mm;
                    back_mm * cos - sin * square.max(0.0).sqrt()
                };
                least_of(at, 0.0, std::f64::consts::FRAC_PI_2)
            }
        }
    }

    /// A point of the tooth in the machine, up to a shift.
    fn turned(&self, [x, y, z]: Triple) -> Triple {
        let (sin, cos) = self.turn_rad.sin_cos();
        let (x, y) = (x * cos - y * sin, x * sin + y * cos);
        // The tip looks at the wheel, the heel is up.
        let (along, toward, up) = (x, -z, y);
        let (sin, cos) = self.tilt_rad.sin_cos();
        let (toward, up) = (toward * cos + up * sin, up * cos - toward * sin);
        let (sin, cos) = self.swing_rad.sin_cos();
        [along * cos + toward * sin, toward * cos - along * sin, up]
    }

    /// How far toward the shank the ground surface lies at a place of the end, counted from the
    /// corner, through which it passes.
    pub fn surface_mm(&self, x_mm: f64, y_mm: f64) -> f64 {
        let corner = self.turned([self.corner_mm.0, -self.corner_mm.1, 0.0]);
        let touch_mm = self.swept_mm(0.0);
        let outside = |z_mm: f64| {
            let point = self.turned([x_mm, y_mm, z_mm]);
            let surface_mm = self.swept_mm(point[2] - corner[2]) - touch_mm;
            point[1] - corner[1] - surface_mm
        };
        let (mut high, mut low) = (60.0, -60.0);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if outside(middle) > 0.0 { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }
}

/// The least of a function of one dent: scanned, then closed in on.
fn least_of(at: impl Fn(f64) -> f64, from: f64, to: f64) -> f64 {
    let step = (to - from) / SCAN as f64;
    let place = |count: usize| from + step * count as f64;
    let best = (0..=SCAN).min_by(|&a, &b| at(place(a)).total_cmp(&at(place(b)))).unwrap_or(0);
    let (mut low, mut high) = (place(best.saturating_sub(1)), place((best + 1).min(SCAN)));
    for _ in 0..HALVINGS {
        let (a, b) = (low + (high - low) / 3.0, high - (high - low) / 3.0);
        if at(a) < at(b) { high = b } else { low = a }
    }
    at(0.5 * (low + high))
}

/// Least distance from points to a cup with sharp corners and upright walls, over the places at
/// which it stands on its way, by trying points all over its face and its outer wall.
pub fn nearest_by_points_mm(
    points: &[Triple],
    ring: impl Fn(f64, f64, f64) -> Triple,
    places_mm: &[f64],
    (turns, depths): (&[f64], &[f64]),
) -> f64 {
    let mut least = f64::INFINITY;
    for &place in places_mm {
        for &turn in turns {
            for &depth in depths {
                let at = ring(place, turn, depth);
                for point in points {
                    let square: f64 = (0..3).map(|axis| (at[axis] - point[axis]).powi(2)).sum();
                    least = least.min(square);
                }
            }
        }
    }
    least.sqrt()
}
