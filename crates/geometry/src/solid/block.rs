//! A block of eight corners.

use nalgebra::Vector3;

use super::mesh::{Mesh, Surface};

/// The twelve triangles of a block: its foot, its top, its four sides.
const TRIANGLES: [[u32; 3]; 12] = [
    [0, 2, 1],
    [0, 3, 2],
    [4, 5, 6],
    [4, 6, 7],
    [0, 1, 5],
    [0, 5, 4],
    [1, 2, 6],
    [1, 6, 5],
    [2, 3, 7],
    [2, 7, 6],
    [3, 0, 4],
    [3, 4, 7],
];

/// A block between a foot and a top of four corners each, in millimetres, both counter-clockwise
/// as seen from the top's side. A side whose corners lie in no plane is folded along a diagonal.
pub fn block(foot: [Vector3<f64>; 4], top: [Vector3<f64>; 4]) -> Mesh {
    let mut mesh = Mesh::with_points([foot, top].concat());
    mesh.add(Surface::Whole, TRIANGLES);
    mesh
}
