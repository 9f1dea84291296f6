//! The parts by themselves: the solid, the slices, the least-value search, the random set-ups.

use super::super::minimise::{graded_grid, least};
use super::super::random::Splitmix;
use super::super::setup::{Setup, Wheel, random_setups};
use super::super::slices::Slicer;
use super::super::solid::Solid;
use super::{cup, disc};

#[test]
fn face_of_the_cup_runs_as_the_contract_says() {
    for toward_tip in [true, false] {
        let setup = Setup { toward_tip, lean_rad: 0.04, inset_mm: 0.7, ..cup() };
        let solid = Solid::new(&setup, 6.0);
        let corner_t = if toward_tip { -0.7 } else { 0.7 };
        for past in [0.01, 0.5, 1.0, 1.59] {
            let t = corner_t + setup.facing() * past * setup.lean_rad.cos();
            let face = 6.0 + (t - corner_t).abs() * setup.lean_rad.tan();
            assert!(solid.contains([t, face + 1e-9, 0.0]));
            assert!(!solid.contains([t, face - 1e-9, 0.0]));
        }
        let beyond = corner_t + setup.facing() * 1.61 * setup.lean_rad.cos();
        assert!(!solid.contains([beyond, 6.2, 0.0]), "the bore begins behind the face");
    }
}

#[test]
fn axis_of_the_disc_stands_where_the_contract_says() {
    // Half-lines from the stated point of the axis, square to the axis, run the wheel's radius.
    let setup = Setup { lean_rad: 0.05, centre_above_mm: 3.0, inset_mm: 2.0, ..disc() };
    let from_axis = 70.0;
    let solid = Solid::new(&setup, from_axis - setup.axis_behind_corner_mm());
    let (sin, cos) = setup.lean_rad.sin_cos();
    let start = [setup.corner_t_mm() + 0.5 * cos, from_axis + 0.5 * sin, 3.0];
    let along =
        |s: f64, [t, y, z]: [f64; 3]| [start[0] + s * t, start[1] + s * y, start[2] + s * z];
    for direction in [[0.0, 0.0, 1.0], [0.0, 0.0, -1.0], [sin, -cos, 0.0]] {
        let wheel = setup.wheel_radius_mm();
        // The point stands before the body's end where the lean carries it out of the width.
        assert!(!solid.contains(along(wheel + 1e-9, direction)));
        assert!(solid.contains(along(wheel - 1e-9, direction)), "{direction:?}");
    }
}

#[test]
fn first_hit_is_where_a_march_finds_the_body() {
    let mut draw = Splitmix::new(41);
    for setup in random_setups(17, 48) {
        let solid = Solid::new(&setup, 0.8 * setup.radius_mm());
        for _ in 0..30 {
            let past = draw.even(-0.5, 1.5) * setup.face_width_mm;
            let t = setup.corner_t_mm() + setup.facing() * past;
            let (sin, cos) = draw.even(-0.6, 0.6).sin_cos();
            let point = |s: f64| [t, s * cos, s * sin];
            let hit = solid.first_hit([t, 0.0, 0.0], [0.0, cos, sin]);
            if let Some(hit) = hit {
                assert!(solid.contains(point(hit + 1e-9)), "{hit}: {setup:?}");
                assert!(hit < 1e-9 || !solid.contains(point(hit - 1e-9)), "{hit}: {setup:?}");
            }
            let steps = (0..4000).map(|j| setup.reach_mm() * f64::from(j) / 4000.0);
            for inside in steps.filter(|&s| solid.contains(point(s))) {
                assert!(hit.unwrap() <= inside + 1e-12, "{hit:?} after {inside}: {setup:?}");
            }
        }
    }
}

#[test]
fn outlines_lie_on_the_wheel() {
    for setup in random_setups(29, 48) {
        let corner = 0.9 * setup.radius_mm();
        let slicer = Slicer::new(&setup, corner + setup.axis_behind_corner_mm());
        let solid = Solid::new(&setup, corner);
        let mut points = 0;
        for share in [-0.01, 0.05, 0.3, 0.9, 0.999] {
            let tau = share * setup.face_width_mm;
            let t = setup.corner_t_mm() + setup.facing() * tau;
            for outline in slicer.outlines(tau, 60) {
                assert!(doubled_area(&outline) >= 0.0, "runs clockwise: {setup:?}");
                let near = |point: &[f64; 2]| stands_on_surface(&setup, &solid, t, *point);
                assert!(outline.iter().all(near), "at {tau}: {setup:?}");
                points += outline.len();
            }
        }
        assert!(points > 0, "no slice cuts the wheel: {setup:?}");
    }
}

fn doubled_area(outline: &[[f64; 2]]) -> f64 {
    let next = outline.iter().skip(1).chain(outline.first());
    outline.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum()
}

/// True where a vertical half-line from above, or one from the height of the wheel's axis up,
/// meets the solid at the point's own height above that axis.
fn stands_on_surface(setup: &Setup, solid: &Solid, t: f64, [y, z]: [f64; 2]) -> bool {
    let above = (z - setup.centre_above_mm).abs();
    let far = 2.0 * setup.diameter_mm;
    // Squares are compared, because a height near nothing is a root of a small difference; and a
    // round corner starts square to the face, so that rounding in `y` counts by its root there.
    let within = 1e-6 * setup.wheel_radius_mm();
    // The ends of the outline lie in the wheel's end planes, where a half-line in that plane may
    // miss by rounding; so those beside it are asked too.
    [-1e-9, -1e-13, 0.0, 1e-13, 1e-9].into_iter().any(|beside| {
        let axis = [t, y + beside, setup.centre_above_mm];
        let top = [axis[0], axis[1], axis[2] + far];
        let outer = solid.first_hit(top, [0.0, 0.0, -1.0]).map(|way| far - way);
        let inner = solid.first_hit(axis, [0.0, 0.0, 1.0]);
        outer
            .into_iter()
            .chain(inner)
            .any(|height| (height * height - above * above).abs() < within)
    })
}

#[test]
fn least_value_is_found_at_kinks_and_borders() {
    let grid = graded_grid(&[(-1.0, 7), (0.0, 13)], 2.0);
    let kink = least(&grid, &|x| (x - 0.37).abs()).unwrap();
    assert!((kink.at - 0.37).abs() < 1e-10 && kink.value < 1e-10);
    // Falls toward a border beyond which there is nothing.
    let bordered = |x: f64| if x < 0.123 { f64::INFINITY } else { 1.0 + x };
    let border = least(&grid, &bordered).unwrap();
    assert!((border.value - 1.123).abs() < 1e-10);
    let two = |x: f64| ((x + 0.5).powi(2)).min((x - 1.5).powi(2) - 0.001);
    assert!((least(&grid, &two).unwrap().at - 1.5).abs() < 1e-6);
    assert!(least(&grid, &|_| f64::INFINITY).is_none());
}

#[test]
fn random_setups_repeat_and_cover_the_range() {
    let setups = random_setups(1, 400);
    assert_eq!(setups, random_setups(1, 400));
    assert_ne!(setups, random_setups(2, 400));
    let share = |test: &dyn Fn(&Setup) -> bool| {
        setups.iter().filter(|setup| test(setup)).count() as f64 / setups.len() as f64
    };
    assert!((0.4..0.6).contains(&share(&|s| s.wheel == Wheel::Cup)));
    assert!((0.4..0.6).contains(&share(&|s| s.same_hand)));
    assert!((0.4..0.6).contains(&share(&|s| s.toward_tip)));
    assert!((0.2..0.35).contains(&share(&|s| s.lean_rad == 0.0)));
    assert!((0.3..0.36).contains(&share(&|s| s.corner_radius_mm > 0.0)));
    assert!(share(&|s| s.helix_rad == 0.0) > 0.05);
    assert!(share(&|s| s.inset_mm == 0.0) > 0.03);
    assert!(share(&|s| s.inset_mm > 0.9 * s.face_width_mm) > 0.05);
    assert!(share(&|s| s.nominal_diameter_mm < 2.0) > 0.05);
    assert!(share(&|s| s.nominal_diameter_mm > 100.0) > 0.03);
    let within = |s: &Setup| {
        (1.0..=200.0).contains(&s.nominal_diameter_mm)
            && (50.0..=250.0).contains(&s.diameter_mm)
            && s.lean_rad <= 5.001_f64.to_radians()
            && s.helix_rad <= 60_f64.to_radians()
            && s.setting_rad <= 25_f64.to_radians()
    };
    assert!(setups.iter().all(within));
}
