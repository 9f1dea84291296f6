//! The face that a wheel leaves in a flute, and the form relief behind it, by other means (grade
//! D).
//!
//! The kernel crosses circles of the wheel with cylinders about the cutter. Here the wheel is a
//! cloud of points, turned into place by plain rotations, carried along the helix to one section
//! and searched for the farthest in a thin shell.

#![expect(clippy::unwrap_used, reason = "a comparison that cannot be made must stop the test")]

use geometry::face::{FaceSetup, FaceStance, FormRelief};
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
    fn profile(self) -> Vec<(f64, f64)> {
        let count = 240;
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

/// A case in plain numbers.
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

    fn kernel(&self) -> FaceSetup {
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
        FaceSetup::new(&flutes, &self.dish.body(), Length::from_mm(self.edge), stance).unwrap()
    }

    /// The farthest heelward point of the cloud within a thin shell of radius.
    fn farthest(&self, radius: f64, shell: f64) -> f64 {
        // The flat side goes up from the point at which it meets the root.
        let rim = [self.offset, (self.root * self.root - self.offset * self.offset).sqrt()];
        let swivel = (self.twist() * self.edge).atan();
        let mut best = f64::NEG_INFINITY;
        for (from_axis, behind) in self.dish.profile() {
            let places = 4_000;
            for at in -places..=places {
                let turn = 0.6 * f64::from(at) / f64::from(places);
                // In the wheel's own frame: along its rim, out of its side, up from its axis.
                let own = [from_axis * turn.sin(), -behind, -from_axis * turn.cos()];
                let (sin, cos) = swivel.sin_cos();
                let t = own[0] * cos + own[1] * sin;
                let y = -own[0] * sin + own[1] * cos + rim[0];
                let z = own[2] + rim[1] + self.dish.radius;
                if (y.hypot(z) - radius).abs() <= shell {
                    best = best.max(y.atan2(z) + self.twist() * t);
                }
            }
        }
        best
    }
}

#[test]
fn a_cloud_of_points_leaves_the_same_face() {
    let wide = Dish { radius: 50.0, rim: 2.0, wall: 45_f64.to_radians() };
    let small = Dish { radius: 30.0, rim: 1.0, wall: 60_f64.to_radians() };
    let cases = [
        (wide, 20.0, 14.0, 0.0, true, 0.0),
        (wide, 20.0, 14.0, 0.0, true, 3.0),
        (small, 12.0, 9.0, 12.0, true, 1.0),
        (wide, 25.0, 21.0, 8.0, false, 2.0),
    ];
    for (dish, edge, root, helix, agree, offset) in cases {
        let helix = f64::to_radians(helix);
        let case = Case { dish, edge, root, helix, agree, offset };
        let kernel = case.kernel();
        for share in [0.3, 0.7, 0.95] {
            let radius = root + share * (edge - root);
            let found = kernel.face_at(Length::from_mm(radius)).unwrap().radians();
            let cloud = case.farthest(radius, 0.004);
            // The shell is 4 um thick, and the face runs at most as steep as one in one.
            let off_um = 1e3 * radius * (found - cloud).abs();
            assert!(off_um < 8.0, "{off_um} um at {radius} of {edge}, helix {helix}");
        }
    }
}

/// The new edge by marching along the old back in small steps until the wanted thickness of face
/// is gone, against the closed forms.
#[test]
fn the_edge_after_a_face_is_where_the_spiral_meets_it() {
    for (radius, relief, rake, along) in
        [(40.0_f64, 10.0_f64, 0.0_f64, 0.6_f64), (8.0, 9.0, 8.0, 0.4), (25.0, 12.0, -5.0, 0.3)]
    {
        let (a, g) = (relief.to_radians(), rake.to_radians());
        let form =
            FormRelief { radius: Length::from_mm(radius), relief: Angle::from_degrees(relief) };
        let behind = along / radius;
        let steps = 20_000;
        let mut point = radius;
        for _ in 0..steps {
            point -= radius * a.tan() * behind / f64::from(steps);
        }
        let found = form.radius_at(Angle::from_radians(behind)).mm();
        assert!((found - point).abs() < 1e-9);
        // Distance from the old face's line, which passes the axis by R sin g.
        let at = [point * behind.cos(), point * behind.sin()];
        let edge = [radius, 0.0];
        let way = [-g.cos(), g.sin()];
        let square = way[0] * (at[1] - edge[1]) - way[1] * (at[0] - edge[0]);
        let thickness = form.thickness(Angle::from_radians(behind), Angle::from_degrees(rake)).mm();
        assert!((thickness - square.abs()).abs() < 1e-9, "{thickness} {square}");
    }
}
