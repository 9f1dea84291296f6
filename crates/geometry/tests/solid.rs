//! Solids: closed, right side out, within their chord error, and as large as closed formulas say.
//!
//! The formulas are those of any handbook of mathematics: the cylinder, the ring, Pappus' theorem
//! (the volume of a body of revolution is its section's area times the way of the centroid), and
//! Cavalieri's principle (twisting a bar does not change its volume).

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    reason = "a body that cannot be made must stop its test"
)]

#[path = "solid/fluted.rs"]
mod fluted;
#[path = "solid/made.rs"]
mod made;
#[path = "solid/revolved.rs"]
mod revolved;
#[path = "solid/shaded.rs"]
mod shaded;

use geometry::solid::Mesh;
use nalgebra::Vector3;

/// Middle of a triangle and of each of its edges.
fn middles(mesh: &Mesh, triangle: [u32; 3]) -> [Vector3<f64>; 4] {
    let [a, b, c] = mesh.corners(triangle);
    [(a + b + c) / 3.0, (a + b) / 2.0, (b + c) / 2.0, (c + a) / 2.0]
}

fn assert_closed(mesh: &Mesh) {
    assert!(!mesh.triangles().is_empty());
    assert_eq!(mesh.open_edges(), 0);
    assert!(mesh.points().iter().all(|point| point.iter().all(|value| value.is_finite())));
    assert!(mesh.volume_mm3() > 0.0);
}
