//! Normals.

use geometry::solid::{Surface, revolution};
use geometry::wheel::{Pose, ProfilePoint};
use geometry::{Angle, Length};
use nalgebra::Vector3;

use crate::made::{back, cutter};

#[test]
fn a_cylinder_is_smooth_round_its_side_and_sharp_at_its_ends() {
    let pose = Pose::new(Vector3::zeros(), Vector3::z(), Vector3::x()).unwrap();
    let half = [(0.0, 0.0), (20.0, 0.0), (20.0, 7.0), (0.0, 7.0)]
        .map(|(radius, axial)| ProfilePoint::new(radius, axial));
    let mesh = revolution(&half, &pose, Length::from_mm(0.05)).unwrap();
    let all = mesh.shaded(Angle::from_degrees(30.0));
    let [(Surface::Whole, shaded)] = &all[..] else { panic!("{} surfaces", all.len()) };
    // Each corner of the rims stands in two surfaces, each pole in one.
    assert_eq!(shaded.positions.len(), 2 * (mesh.points().len() - 2) + 2);
    for (at, normal) in shaded.positions.iter().zip(&shaded.normals) {
        let [x, y, z] = at.map(f64::from);
        let normal = Vector3::from(normal.map(f64::from));
        let is_flat = (normal.z.abs() - 1.0).abs() < 1e-6 && (normal.z > 0.0) == (z > 3.5);
        let is_round = (normal - Vector3::new(x, y, 0.0) / 20.0).norm() < 1e-2;
        assert!(is_flat || is_round, "{at:?} {normal:?}");
    }
}

#[test]
fn every_normal_of_a_cutter_is_a_unit_that_points_outward() {
    let back = back();
    let mesh = cutter(&back, 10.0).mesh(Length::from_mm(0.02)).unwrap();
    let mut triangles = 0;
    let all = mesh.shaded(Angle::from_degrees(30.0));
    assert_eq!(all.len(), 6);
    for (surface, shaded) in &all {
        triangles += shaded.triangles.len();
        for normal in &shaded.normals {
            let length = Vector3::from(normal.map(f64::from)).norm();
            assert!((length - 1.0).abs() < 1e-6, "{surface:?}: {normal:?}");
        }
        for triangle in &shaded.triangles {
            let [a, b, c] =
                triangle.map(|at| Vector3::from(shaded.positions[at as usize].map(f64::from)));
            let face = (b - a).cross(&(c - a));
            if face.norm() > 1e-5 {
                let normal = Vector3::from(shaded.normals[triangle[0] as usize].map(f64::from));
                assert!(face.dot(&normal) > 0.5 * face.norm(), "{surface:?}: {normal:?}");
            }
        }
    }
    assert_eq!(triangles, mesh.triangles().len());
}
