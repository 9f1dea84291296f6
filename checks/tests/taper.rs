//! Tapered cutters and unlike teeth against a solver that shares nothing with the plan (grade D).
//!
//! The plan takes a tapered cutter at each place for a cylinder of that radius. Here the real thing
//! is moved: an axis that stands aslant to the travel, a cone on it whose edge lies on a fixed
//! rest, and the face of a cup or a disc as circles of points. Each point is carried to the place
//! in question, and the lowest wins.

#![expect(clippy::unwrap_used, reason = "a comparison that cannot be made must stop the test")]

use checks::reference::random::Splitmix;
use geometry::{Angle, Length};
use shop::plan::{Peripheral, Quantity, RegrindPlan, SetupLine};
use shop::record::{Cutter, Hand, Special, Wheel, WheelShape};

#[path = "diagnosis/shop_floor.rs"]
#[expect(dead_code, reason = "the diagnosis grinds to sizes, and under one wheel")]
mod shop_floor;

#[path = "taper/aslant.rs"]
mod aslant;

use aslant::Aslant;

const SEED: u64 = 20_261_130;
const CUTTERS: u32 = 40;

/// How far the plan's cylinders may be from the cone: the edge's radius at each place when it is
/// right at the tip, the relief over the plan's distance, and the land when it is right at the tip.
/// docs/NUMBERS.md says what was found.
struct Allowed {
    radius_um: f64,
    relief_deg: f64,
    land_um: f64,
}

const ALLOWED: Allowed = Allowed { radius_um: 0.2, relief_deg: 0.06, land_um: 3.0 };

fn tapered(draw: &mut Splitmix) -> Cutter {
    let teeth = 2 + (draw.bits() % 4) as u32;
    let helical = draw.even(0.0, 1.0) < 0.7;
    let hand = if draw.even(0.0, 1.0) < 0.5 { Hand::Right } else { Hand::Left };
    let plain = shop_floor::cutter(draw, teeth, helical, hand);
    let wear = plain.wear().unwrap().clone();
    let taper = Angle::from_degrees(draw.even(0.5, 5.0));
    let mut draft = plain.draft();
    draft.special = Special { taper, ..Special::default() };
    draft.build().unwrap().with_wear(wear).unwrap()
}

/// A straight wheel that grinds on its periphery.
fn disc() -> Wheel {
    let mut draft = shop_floor::wheel().draft();
    draft.shape = WheelShape::Type1;
    draft.diameter = Length::from_mm(150.0);
    draft.face_width = Length::from_mm(6.0);
    draft.depth = Length::from_mm(6.0);
    draft.rim_width = None;
    draft.build().unwrap()
}

/// What a line's dial was set to.
fn swivel_of(line: &SetupLine) -> f64 {
    let Some(Quantity::Angle(set)) = line.dial.as_ref().map(|dial| dial.reading) else {
        return f64::NAN;
    };
    set.radians().abs()
}

/// The machine as it stands for the primary, or for the secondary behind it.
fn aslant(plan: &RegrindPlan, work: &Peripheral, is_behind: bool) -> Aslant {
    let cone = work.cone.as_ref().unwrap();
    let stanced = if is_behind { &work.secondary.stanced } else { &work.stanced };
    let line = cone.secondary_line.as_ref().filter(|_| is_behind).unwrap_or(&cone.line);
    let (cutter, stance) = (&plan.request.cutter, stanced.stance());
    let radii = cone.stations.each_ref().map(|place| 0.5 * place.diameter.mm());
    let sign = cutter.helix_sign();
    Aslant {
        is_disc: work.wheel.wheel.shape() == WheelShape::Type1,
        swivel_rad: swivel_of(line),
        height_mm: radii[0] * stance.relief_setting.sin(),
        inset_mm: stance.rest_inset.mm(),
        lean_rad: stance.lean.radians(),
        axis_above_mm: stance.axis_above.mm(),
        wheel_mm: 0.5 * work.wheel.wheel.diameter().mm(),
        face_mm: work.truing.face_width.value.mm(),
        twist_per_mm: sign * 2.0 * cutter.helix().tan() / cutter.diameter().mm(),
        length_mm: cone.stations[2].from_tip.mm(),
        radii_mm: radii,
    }
}

/// The worst misses over the tapers of one wheel.
#[derive(Clone, Copy, Debug, Default)]
struct Worst {
    tapers: u32,
    /// Stations at which lands were compared.
    lands: u32,
    radius_um: f64,
    relief_deg: f64,
    land_um: f64,
}

impl Worst {
    /// Every station's edge and relief, with the wheel where the edge is right at the tip.
    fn add(&mut self, plan: &RegrindPlan, machine: &Aslant, corner_mm: f64) {
        let work = plan.peripheral.as_ref().unwrap();
        let over_mm = work.stanced.target.over.map_or(0.0, Length::mm);
        self.tapers += 1;
        for place in &work.cone.as_ref().unwrap().stations {
            let (at_mm, radius_mm) = (place.from_tip.mm(), 0.5 * place.diameter.mm());
            let edge_mm = machine.radius_at(corner_mm, at_mm, 0.0);
            let theta = over_mm / edge_mm;
            let behind_mm = machine.radius_at(corner_mm, at_mm, theta);
            let rise = edge_mm - behind_mm * theta.cos();
            let relief = rise.atan2(behind_mm * theta.sin()).to_degrees();
            self.radius_um = self.radius_um.max(1e3 * (edge_mm - radius_mm).abs());
            self.relief_deg = self.relief_deg.max((relief - place.relief.degrees()).abs());
        }
    }

    /// The lands beyond the tip, with the secondary's wheel where the land at the tip is right.
    fn add_lands(&mut self, plan: &RegrindPlan, machine: &Aslant, corner_mm: f64) {
        let work = plan.peripheral.as_ref().unwrap();
        let behind = aslant(plan, work, true);
        let [tip, rest @ ..] = &work.cone.as_ref().unwrap().stations;
        let Some(land) = tip.land else { return };
        let primary = |at_mm: f64, theta: f64| machine.radius_at(corner_mm, at_mm, theta);
        let chord = |at_mm: f64, theta: f64| {
            let (edge, end) = (primary(at_mm, 0.0), primary(at_mm, theta));
            (edge - end * theta.cos()).hypot(end * theta.sin())
        };
        let end = halved(|theta| chord(0.0, theta) < land.mm());
        let corner_behind_mm = behind.corner_for((0.0, end), primary(0.0, end));
        for place in rest {
            let Some(land) = place.land else { continue };
            let at_mm = place.from_tip.mm();
            let end = halved(|theta| {
                behind.radius_at(corner_behind_mm, at_mm, theta) > primary(at_mm, theta)
            });
            self.lands += 1;
            self.land_um = self.land_um.max(1e3 * (chord(at_mm, end) - land.mm()).abs());
        }
    }
}

/// The angle behind an edge up to which something holds.
fn halved(holds: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (1e-4, 0.35);
    for _ in 0..22 {
        let middle = 0.5 * (low + high);
        if holds(middle) { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

fn tapers_under(wheel: &Wheel) -> Worst {
    let mut draw = Splitmix::new(SEED);
    let mut worst = Worst::default();
    for _ in 0..CUTTERS {
        let plan = shop_floor::plan_under(tapered(&mut draw), None, wheel.clone());
        let Some(plan) = plan else { continue };
        let machine = aslant(&plan, plan.peripheral.as_ref().unwrap(), false);
        let corner_mm = machine.corner_for((0.0, 0.0), machine.radii_mm[0]);
        worst.add(&plan, &machine, corner_mm);
        // A land takes some two hundred sweeps of the face.
        if worst.tapers.is_multiple_of(4) {
            worst.add_lands(&plan, &machine, corner_mm);
        }
    }
    worst
}

fn check(worst: Worst) {
    assert!(worst.tapers >= 20 && worst.lands >= 8, "too few could be planned: {worst:?}");
    let is_held = worst.radius_um <= ALLOWED.radius_um && worst.relief_deg <= ALLOWED.relief_deg;
    assert!(is_held && worst.land_um <= ALLOWED.land_um, "{worst:?}");
}

#[test]
fn sizes_reliefs_and_lands_along_a_taper_are_those_of_the_cone() {
    let worst = tapers_under(&shop_floor::wheel());
    println!("cup: {worst:?}");
    check(worst);
}

/// A level disc over a straight tooth cuts with all of its face, while the rest bears on narrower
/// and wider places of the taper.
#[test]
fn so_they_are_under_a_disc() {
    let worst = tapers_under(&disc());
    println!("disc: {worst:?}");
    check(worst);
}

/// The table is turned by each swivel, by plain rotation, and the edge must then lie along the
/// travel: over its whole length where the tooth does not turn, at the place itself where it slides
/// over a rest of one height.
#[test]
fn the_swivels_of_both_rests_lay_the_edge_along_the_travel() {
    for (taper, setting) in [(1.0_f64, 5.0_f64), (3.0, 12.0), (7.0, 20.0)] {
        let radius = |along: f64| 6.0 + along * taper.to_radians().tan();
        let (slope, turned) = (Angle::from_degrees(taper), Angle::from_degrees(setting));
        let across = |swivel: Angle, along: f64, toward: f64| {
            let (sin, cos) = (swivel.sin(), swivel.cos());
            toward * cos - along * sin
        };
        // The edge is a line of the cone, turned below centre about the axis.
        let held = geometry::cone::swivel_held(slope, turned);
        let places = [0.0, 15.0, 40.0];
        let stood = places.map(|at| across(held, at, radius(at) * setting.to_radians().cos()));
        assert!(stood.iter().all(|other| (other - stood[0]).abs() < 1e-12), "{stood:?}");
        // Each circle of the cone is looked at where it comes down to the rest's height.
        let height = 6.0 * setting.to_radians().sin();
        let over = geometry::cone::swivel_over_rest(slope, turned);
        let on_rest = |along: f64| {
            let (mut low, mut high) = (0.0, 2.0 * radius(along));
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                if middle.hypot(height) < radius(along) { low = middle } else { high = middle }
            }
            across(over, along, 0.5 * (low + high))
        };
        let slant = (on_rest(1e-3) - on_rest(-1e-3)) / 2e-3;
        assert!(slant.abs() < 1e-8, "{slant}");
    }
}

/// The plane that touches the relief at the edge, cut square to the axis and square to the side's
/// line, by vectors: it holds the edge's own direction, along a helix too.
#[test]
fn the_two_reliefs_of_a_side_are_sections_of_one_plane() {
    for (relief, taper, helix) in
        [(8.0_f64, 1.0_f64, 0.0_f64), (12.0, 5.0, 0.0), (10.0, 5.0, 30.0), (25.0, 10.0, -40.0)]
    {
        let (a, t) = (relief.to_radians(), taper.to_radians());
        // Outward, heelward, along the axis: the edge, which runs heelward by the helix for each
        // length along the axis, and the way back from it square to the axis.
        let edge = [t.tan(), helix.to_radians().tan(), 1.0];
        let back = [-a.tan(), 1.0, 0.0];
        let normal = [
            edge[1] * back[2] - edge[2] * back[1],
            edge[2] * back[0] - edge[0] * back[2],
            edge[0] * back[1] - edge[1] * back[0],
        ];
        // Square to the side's line: outward is (cos t, 0, -sin t), back is (0, 1, 0).
        let outward = normal[0] * t.cos() - normal[2] * t.sin();
        let slope = (normal[1] / outward).atan().to_degrees();
        let found = geometry::cone::normal_relief(
            Angle::from_degrees(relief),
            Angle::from_degrees(taper),
            Angle::from_degrees(helix),
        );
        assert!((found.degrees() - slope).abs() < 1e-9, "{found:?} {slope}");
    }
}

/// A tooth is turned until the line of its face passes a point of the rest, once where the rest
/// stands and once where it stood before the feed: the plain difference of the two turns.
#[test]
fn a_feed_turns_a_tooth_by_its_rest_and_the_lean_of_its_face() {
    for (radius, rake, setting, feed) in [
        (6.0_f64, 10.0_f64, 0.0_f64, 0.1_f64),
        (6.0, 10.0, 9.0, 0.1),
        (25.0, -5.0, 7.0, 0.3),
        (3.0, 20.0, 14.0, 0.05),
        (10.0, 0.0, 8.0, 0.2),
        (10.0, 8.0, -6.0, 0.2),
    ] {
        let (g, a) = (rake.to_radians(), setting.to_radians());
        // How far the rest lies below the face's line when the edge stands so far below centre.
        let beside = |below: f64, rest: [f64; 2]| {
            let edge = [radius * below.cos(), -radius * below.sin()];
            // Inward along the face: against the radius, leaning heelward (up) by the rake.
            let way = [-(below + g).cos(), (below + g).sin()];
            (rest[0] - edge[0]) * way[1] - (rest[1] - edge[1]) * way[0]
        };
        let turned = |rest: [f64; 2]| {
            let (mut low, mut high) = (a - 0.3, a + 0.3);
            let rises = beside(high, rest) > beside(low, rest);
            for _ in 0..80 {
                let middle = 0.5 * (low + high);
                if (beside(middle, rest) > 0.0) == rises { high = middle } else { low = middle }
            }
            0.5 * (low + high)
        };
        let rest = [radius * a.cos(), -radius * a.sin()];
        let lowered = turned(rest) - turned([rest[0] + feed, rest[1]]);
        let found = geometry::closed_form::feed_turn(
            Length::from_mm(2.0 * radius),
            Angle::from_degrees(rake),
            Angle::from_degrees(setting),
            Length::from_mm(feed),
        );
        assert!((found.radians() - lowered).abs() < 1e-12, "{found:?} {lowered}");
    }
}

/// The chord over two teeth, from the distance of two points on a circle.
#[test]
fn a_micrometer_over_two_teeth_reads_their_distance() {
    for apart in [116.0_f64, 122.0, 180.0, 92.0] {
        let (sin, cos) = apart.to_radians().sin_cos();
        let distance = (10.0 - 10.0 * cos).hypot(10.0 * sin);
        let found =
            geometry::closed_form::pair_reading(Length::from_mm(20.0), Angle::from_degrees(apart));
        assert!((found.mm() - distance).abs() < 1e-12);
    }
}
