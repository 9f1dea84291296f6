//! The face that a wheel leaves in a flute, how far the wheel reaches elsewhere, and the form
//! relief behind the face, by other means (grade D).
//!
//! The kernel crosses circles of the wheel with cylinders about the cutter, and bounds patches of
//! its surface. Here the wheel is a cloud of points, turned into place by plain rotations, carried
//! along the helix to one section and searched for the farthest.

#![expect(clippy::unwrap_used, reason = "a comparison that cannot be made must stop the test")]

use geometry::face::{FaceError, FaceSetup, FaceStance, FormRelief};
use geometry::screw::{Flutes, Hand};
use geometry::wheel::{Corner, CupShape, WheelBody};
use geometry::{Angle, Length};

/// A dish by its plain sizes.
#[derive(Clone, Copy)]
struct Dish {
    radius: f64,
    rim: f64,
    wall: f64,
}

impl Dish {
    fn body(self) -> WheelBody {
        WheelBody::cup(&CupShape {
            diameter_mm: 2.0 * self.radius,
            face_width_mm: self.rim,
            outer_wall_rad: self.wall,
            inner_wall_rad: 70_f64.to_radians(),
            leading: Corner::Sharp,
            trailing: Corner::Sharp,
        })
        .unwrap()
    }

    /// Points of its flat side and of its wall: so far from its axis, so far behind the side.
    fn profile(self, count: i32) -> Vec<(f64, f64)> {
        let share = |at: i32| f64::from(at) / f64::from(count);
        let flat = (0..=count).map(|at| (self.radius - share(at) * self.rim, 0.0));
        let long = 20.0;
        let wall = (0..=count).map(|at| {
            let down = share(at) * long;
            (self.radius - down * self.wall.sin(), down * self.wall.cos())
        });
        flat.chain(wall).collect()
    }
}

/// A point of the wheel where it stands in the tooth's own section.
struct Seen {
    heelward: f64,
    radius: f64,
    /// Along the cutter.
    along: f64,
    is_flat: bool,
}

/// A case in plain numbers.
#[derive(Clone, Copy)]
struct Case {
    dish: Dish,
    edge: f64,
    root: f64,
    helix: f64,
    agree: bool,
    offset: f64,
}

impl Case {
    fn twist(&self) -> f64 {
        let size = self.helix.tan() / self.edge;
        if self.agree { size } else { -size }
    }

    fn made(&self) -> Result<FaceSetup, FaceError> {
        let flutes = Flutes {
            nominal_diameter: Length::from_mm(2.0 * self.edge),
            teeth: 4,
            hand: Hand::Right,
            helix: Angle::from_radians(self.helix),
            helix_hand: if self.agree { Hand::Right } else { Hand::Left },
        };
        let swivel = Angle::from_radians((self.twist() * self.edge).atan());
        let (offset, root) = (Length::from_mm(self.offset), Length::from_mm(self.root));
        let stance = FaceStance { swivel, offset, root };
        FaceSetup::new(&flutes, &self.dish.body(), Length::from_mm(self.edge), stance)
    }

    fn kernel(&self) -> FaceSetup {
        self.made().unwrap()
    }

    /// The cloud: `count` places on each stretch of the profile, twice `places` round the wheel.
    /// The wheel is first stood with its flat side's rim at the height of the root, and then let
    /// down until the nearest of all points is as far from the axis as the root.
    fn cloud(&self, count: i32, places: i32) -> Vec<Seen> {
        let profile = self.dish.profile(count);
        let swivel = (self.twist() * self.edge).atan();
        let (sin, cos) = swivel.sin_cos();
        let mut points = Vec::new();
        for (index, (from_axis, behind)) in profile.iter().enumerate() {
            for at in -places..=places {
                let turn = 0.7 * f64::from(at) / f64::from(places);
                // In the wheel's own frame: along its rim, out of its side, up from its axis.
                let own = [from_axis * turn.sin(), -behind, -from_axis * turn.cos()];
                let t = own[0] * cos + own[1] * sin;
                let y = -own[0] * sin + own[1] * cos + self.offset;
                points.push((t, y, own[2] + self.dish.radius, index <= count as usize));
            }
        }
        // A point y beside the axis must stand √(root² − y²) above it: the highest such need wins.
        let need = |(_, y, up, _): &(f64, f64, f64, bool)| {
            (self.root * self.root - y * y).max(0.0).sqrt() - up
        };
        let height = points.iter().map(need).fold(f64::NEG_INFINITY, f64::max);
        let seen = points.into_iter().map(|(t, y, up, is_flat)| Seen {
            heelward: y.atan2(up + height) + self.twist() * t,
            radius: y.hypot(up + height),
            along: t,
            is_flat,
        });
        seen.collect()
    }
}

/// The farthest heelward point of a cloud within a thin shell of radius.
fn farthest(cloud: &[Seen], radius: f64, shell: f64) -> f64 {
    let near = cloud.iter().filter(|seen| (seen.radius - radius).abs() <= shell);
    near.map(|seen| seen.heelward).fold(f64::NEG_INFINITY, f64::max)
}

fn cases() -> Vec<Case> {
    let wide = Dish { radius: 50.0, rim: 2.0, wall: 45_f64.to_radians() };
    let small = Dish { radius: 30.0, rim: 1.0, wall: 60_f64.to_radians() };
    let steep = Dish { radius: 40.0, rim: 1.5, wall: 15_f64.to_radians() };
    let cases = [
        (wide, 20.0, 14.0, 0.0, true, 0.0),
        (wide, 20.0, 14.0, 0.0, true, 3.0),
        (small, 12.0, 9.0, 12.0, true, 1.0),
        (wide, 25.0, 21.0, 8.0, false, 2.0),
        (steep, 16.0, 9.0, 6.0, true, -1.0),
        (steep, 16.0, 11.0, 10.0, false, 4.0),
    ];
    let case = |(dish, edge, root, helix, agree, offset)| Case {
        dish,
        edge,
        root,
        helix: f64::to_radians(helix),
        agree,
        offset,
    };
    cases.into_iter().map(case).collect()
}

#[test]
fn a_cloud_of_points_leaves_the_same_face() {
    for case in cases() {
        let kernel = case.kernel();
        let cloud = case.cloud(240, 2_500);
        for share in [0.3, 0.7, 0.95] {
            let radius = case.root + share * (case.edge - case.root);
            let found = kernel.face_at(Length::from_mm(radius)).unwrap().radians();
            // The shell is 4 um thick, and the face runs at most as steep as one in one.
            let off_um = 1e3 * radius * (found - farthest(&cloud, radius, 0.004)).abs();
            let Case { edge, helix, .. } = case;
            assert!(off_um < 8.0, "{off_um} um at {radius} of {edge}, helix {helix}");
        }
    }
}

/// What the wheel reaches toward the tooth before is never told short of what any point of the
/// cloud reaches, and not much beyond: points stand 0.02 by 0.05 mm from each other at most.
#[test]
fn no_point_of_the_cloud_reaches_behind_what_is_told() {
    for case in cases() {
        let kernel = case.kernel();
        let cloud = case.cloud(1_200, 800);
        for share in [0.4, 0.8, 1.0] {
            let radius = case.root + share * (case.edge - case.root);
            let within = cloud.iter().filter(|seen| seen.radius <= radius);
            let seen = within.map(|seen| seen.heelward).fold(f64::INFINITY, f64::min);
            let told = kernel.back_within(Length::from_mm(radius)).unwrap().radians();
            let beyond_um = 1e3 * radius * (seen - told);
            let Case { edge, helix, .. } = case;
            let what = format!("{beyond_um} um at {radius} of {edge}, helix {helix}");
            assert!((-0.1..60.0).contains(&beyond_um), "{what}");
        }
    }
}

/// Where the cloud's flat side ends within the cutting circle is how far the table goes past the
/// end; and the wheel stands as high as the cloud, all of which stays off the root.
#[test]
fn the_overrun_is_where_the_flat_side_leaves_the_cutting_circle() {
    for case in cases() {
        let kernel = case.kernel();
        let cloud = case.cloud(60, 10_000);
        let flat = cloud.iter().filter(|seen| seen.is_flat && seen.radius <= case.edge);
        let seen = flat.map(|seen| seen.along.abs()).fold(0.0, f64::max);
        let told = kernel.overrun().mm();
        assert!((told - seen).abs() < 0.005, "{told} {seen}");
        let nearest = cloud.iter().map(|seen| seen.radius).fold(f64::INFINITY, f64::min);
        assert!((nearest - case.root).abs() < 1e-9, "{nearest}");
        let at_root = Length::from_mm(case.root - 1e-6);
        assert!(kernel.face_at(at_root).is_none() && kernel.back_within(at_root).is_none());
        // A wheel along the travel has a plain answer, worked by hand for these two cases.
        if case.helix == 0.0 {
            let up = |radius: f64| (radius * radius - case.offset * case.offset).sqrt();
            let deep = up(case.edge) - up(case.root);
            let chord = (deep * (2.0 * case.dish.radius - deep)).sqrt();
            assert!((told - chord).abs() < 1e-6, "{told} {chord}");
        }
    }
}

/// The relief of a form-relieved back at its edge, as the slope of a short chord of it against the
/// cutting circle's tangent; and the face taken off, as the distance of the new edge from the old
/// face's line, by vectors.
#[test]
fn a_form_relief_has_its_relief_and_loses_its_face_square() {
    for (radius, relief, rake, along) in
        [(40.0_f64, 10.0_f64, 0.0_f64, 0.6_f64), (8.0, 9.0, 8.0, 0.4), (25.0, 12.0, -5.0, 0.3)]
    {
        let g = rake.to_radians();
        let form =
            FormRelief { radius: Length::from_mm(radius), relief: Angle::from_degrees(relief) };
        let at = |behind: f64| {
            let out = form.radius_at(Angle::from_radians(behind)).mm();
            [out * behind.cos(), out * behind.sin()]
        };
        let near = at(1e-6);
        let slope = (radius - near[0]).atan2(near[1]).to_degrees();
        assert!((slope - relief).abs() < 1e-3, "{slope} {relief}");
        // It falls evenly: twice as far behind it has fallen twice as much.
        let behind = along / radius;
        let fallen = |at: [f64; 2]| radius - at[0].hypot(at[1]);
        assert!((fallen(at(behind)) - 2.0 * fallen(at(0.5 * behind))).abs() < 1e-12);
        // Distance from the old face's line, which passes the axis by R sin g.
        let [x, y] = at(behind);
        let way = [-g.cos(), g.sin()];
        let square = way[0] * y - way[1] * (x - radius);
        let thickness = form.thickness(Angle::from_radians(behind), Angle::from_degrees(rake)).mm();
        assert!((thickness - square.abs()).abs() < 1e-9, "{thickness} {square}");
    }
}

/// A back is turned against a plane until it meets it the wanted way behind its old edge; the turn
/// from where the old edge met that plane, by rotating points.
#[test]
fn a_tooth_is_turned_until_its_back_meets_the_flat_side() {
    let dish = Dish { radius: 50.0, rim: 2.0, wall: 45_f64.to_radians() };
    for (edge, root, offset) in [(20.0, 14.0, 3.0), (20.0, 14.0, -2.0), (20.0, 14.0, 0.0)] {
        let case = Case { dish, edge, root, helix: 0.0, agree: true, offset };
        let (old, behind) = (20.2_f64, 0.03_f64);
        let form = FormRelief { radius: Length::from_mm(old), relief: Angle::from_degrees(11.0) };
        // How far past the flat side a point of the tooth stands when it is turned back so far.
        let past = |radius: f64, at: f64, turned: f64| radius * (at - turned).sin() - offset;
        let turned_to = |radius: f64, at: f64| {
            let (mut low, mut high) = (-0.5, 0.5);
            for _ in 0..80 {
                let middle = 0.5 * (low + high);
                if past(radius, at, middle) > 0.0 { low = middle } else { high = middle }
            }
            0.5 * (low + high)
        };
        let back = old - old * 11_f64.to_radians().tan() * behind;
        let turn = turned_to(back, behind) - turned_to(old, 0.0);
        let told = form.turn(Angle::from_radians(behind), &case.kernel()).unwrap().radians();
        assert!((told - turn).abs() < 1e-9, "{told} {turn}");
    }
}

/// Stances that leave no face are refused with what is wrong of them.
#[test]
fn a_wheel_that_stands_beside_the_face_is_refused_as_such() {
    let dish = Dish { radius: 50.0, rim: 2.0, wall: 45_f64.to_radians() };
    let good = Case { dish, edge: 20.0, root: 14.0, helix: 0.0, agree: true, offset: 0.0 };
    let refused = |case: Case| case.made().unwrap_err();
    assert!(matches!(refused(Case { offset: 21.0, ..good }), FaceError::Offset { .. }));
    // The whole wheel stands more than the root before the axis, whatever its height.
    assert!(matches!(refused(Case { offset: -15.0, ..good }), FaceError::Offset { .. }));
    assert!(matches!(refused(Case { root: 20.5, ..good }), FaceError::Root { .. }));
    let dish = Dish { radius: 5.0, ..dish };
    assert!(matches!(refused(Case { dish, ..good }), FaceError::Small { .. }));
}
