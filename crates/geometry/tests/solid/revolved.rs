//! Bodies of revolution.

use std::f64::consts::PI;

use geometry::Length;
use geometry::solid::{Mesh, SolidError, block, revolution, wheel_half_section};
use geometry::wheel::{Corner, CupShape, DiscShape, Pose, ProfilePoint, WheelBody};
use nalgebra::Vector3;

use crate::{assert_closed, middles};

fn pose() -> Pose {
    let axis = Vector3::new(0.3, 1.0, -0.2);
    Pose::new(Vector3::new(5.0, -3.0, 11.0), axis, Vector3::new(1.0, 0.0, 0.0)).unwrap()
}

fn section(points: &[(f64, f64)]) -> Vec<ProfilePoint> {
    points.iter().map(|(radius, axial)| ProfilePoint::new(*radius, *axial)).collect()
}

fn turned(points: &[(f64, f64)], error_mm: f64) -> Mesh {
    let mesh = revolution(&section(points), &pose(), Length::from_mm(error_mm)).unwrap();
    assert_closed(&mesh);
    mesh
}

/// A chord error e takes from a circle of radius r at most the share 2 e / r of its area, a little
/// more than half of it at the least.
fn assert_volume(mesh: &Mesh, true_mm3: f64, share: f64) {
    let missing = 1.0 - mesh.volume_mm3() / true_mm3;
    assert!(missing > 0.0 && missing < share, "{missing} of {true_mm3} mm³ is missing");
}

#[test]
fn a_cylinder_is_base_times_height() {
    let mesh = turned(&[(0.0, 0.0), (20.0, 0.0), (20.0, 7.0), (0.0, 7.0)], 0.01);
    assert_volume(&mesh, PI * 400.0 * 7.0, 2.0 * 0.01 / 20.0);
}

#[test]
fn a_cone_is_a_third_of_its_cylinder() {
    let mesh = turned(&[(0.0, 0.0), (20.0, 0.0), (0.0, 9.0)], 0.01);
    assert_volume(&mesh, PI * 400.0 * 9.0 / 3.0, 2.0 * 0.01 / 20.0);
}

#[test]
fn a_ring_is_the_difference_of_two_cylinders() {
    let mesh = turned(&[(12.0, 0.0), (20.0, 0.0), (20.0, 7.0), (12.0, 7.0)], 0.01);
    assert_volume(&mesh, PI * (400.0 - 144.0) * 7.0, 2.0 * 0.01 / 20.0);
}

#[test]
fn pappus_theorem_holds() {
    // A triangle: its centroid is the mean of its corners.
    let corners = [(10.0, 0.0), (16.0, 1.0), (12.0, 5.0)];
    let area = 0.5 * (6.0 * 5.0 - 1.0 * 2.0);
    let centroid = (10.0 + 16.0 + 12.0) / 3.0;
    assert_volume(&turned(&corners, 0.005), 2.0 * PI * centroid * area, 2.0 * 0.005 / 16.0);
}

/// Distance of a point from a disc of radius 50 and width 6 with one rounded corner of 2 at axial
/// zero: negative within.
fn outside_disc(pose: &Pose, point: Vector3<f64>) -> f64 {
    let from = point - pose.origin;
    let axial = from.dot(&pose.axis);
    let radial = (from - pose.axis * axial).norm();
    if radial > 48.0 && axial < 2.0 {
        return (radial - 48.0).hypot(axial - 2.0) - 2.0;
    }
    (radial - 50.0).max(-axial).max(axial - 6.0)
}

#[test]
fn a_rounded_wheel_lies_within_its_chord_error() {
    let disc = DiscShape {
        diameter_mm: 100.0,
        face_width_mm: 6.0,
        leading: Corner::round(2.0),
        trailing: Corner::Sharp,
    };
    let body = WheelBody::disc(&disc).unwrap();
    let mm = Length::from_mm;
    let half = wheel_half_section(&body, mm(6.0), mm(20.0), mm(0.005)).unwrap();
    let mesh = revolution(&half, &pose(), mm(0.005)).unwrap();
    assert_closed(&mesh);
    let is_bore = |at: &Vector3<f64>| {
        let from = at - pose().origin;
        (from - pose().axis * from.dot(&pose().axis)).norm() < 10.1
    };
    let mut worst_mm = 0.0_f64;
    for triangle in mesh.triangles() {
        for middle in middles(&mesh, *triangle).iter().filter(|middle| !is_bore(middle)) {
            worst_mm = worst_mm.max(outside_disc(&pose(), *middle).abs());
        }
    }
    assert!(worst_mm > 0.002 && worst_mm <= 0.01, "{worst_mm} mm");
}

#[test]
fn cups_of_every_wall_are_closed() {
    for (outer_deg, inner_deg) in [(0.0_f64, 0.0_f64), (20.0, 20.0), (20.0, 70.0), (45.0, 80.0)] {
        let cup = CupShape {
            diameter_mm: 100.0,
            face_width_mm: 3.0,
            outer_wall_rad: outer_deg.to_radians(),
            inner_wall_rad: inner_deg.to_radians(),
            leading: Corner::round(0.3),
            trailing: Corner::Worn { face_mm: 0.2, flank_mm: 0.1 },
        };
        let body = WheelBody::cup(&cup).unwrap();
        let mm = Length::from_mm;
        let half = wheel_half_section(&body, mm(35.0), mm(20.0), mm(0.01)).unwrap();
        let deepest = half.iter().map(|point| point.axial_mm).fold(0.0, f64::max);
        assert!((deepest - 35.0).abs() < 1e-9, "{outer_deg}, {inner_deg}: {deepest} mm");
        let mesh = revolution(&half, &pose(), mm(0.01)).unwrap();
        assert_closed(&mesh);
        let cylinder_mm3 = PI * 2500.0 * 35.0;
        assert!((0.05..0.95).contains(&(mesh.volume_mm3() / cylinder_mm3)));
    }
}

#[test]
fn a_block_is_length_times_width_times_height() {
    let corner = |x: f64, y: f64, z: f64| Vector3::new(x, y, z);
    let foot = [corner(0., 0., 0.), corner(2., 0., 0.), corner(2., 3., 0.), corner(0., 3., 0.)];
    let top = foot.map(|at| at + corner(0.5, 0.0, 4.0));
    let mesh = block(foot, top);
    assert_closed(&mesh);
    assert!((mesh.volume_mm3() - 24.0).abs() < 1e-12);
}

#[test]
fn sections_that_are_none_are_refused() {
    let tries: [&[(f64, f64)]; 4] = [
        &[],
        &[(0.0, 0.0), (0.0, 1.0), (0.0, 2.0)],
        &[(-1.0, 0.0), (1.0, 0.0), (1.0, 1.0)],
        &[(1.0, f64::NAN), (2.0, 0.0), (2.0, 1.0)],
    ];
    for points in tries {
        let answer = revolution(&section(points), &pose(), Length::from_mm(0.01));
        assert!(matches!(answer, Err(SolidError::Invalid { field: "half_section", .. })));
    }
}
