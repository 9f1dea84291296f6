//! A closed mesh of triangles.

use std::collections::HashMap;
use std::ops::Range;

use nalgebra::Vector3;

/// Which surface of a solid a triangle belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Surface {
    /// The land behind the edge.
    Land,
    /// The back of the tooth behind the land, up to the heel.
    Back,
    /// The gullet from heel to face, and the face.
    Flute,
    /// Where the flutes run out.
    Runout,
    /// The flat end.
    End,
    /// The shank with its own end.
    Shank,
    /// All of a solid whose surfaces are not told apart.
    Whole,
}

/// A mesh of triangles, in millimetres, grouped by surface.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    points: Vec<Vector3<f64>>,
    triangles: Vec<[u32; 3]>,
    groups: Vec<(Surface, Range<usize>)>,
}

impl Mesh {
    pub(super) fn with_points(points: Vec<Vector3<f64>>) -> Self {
        Self { points, triangles: Vec::new(), groups: Vec::new() }
    }

    /// Makes room for triangles that are known to come.
    pub(super) fn reserve(&mut self, triangles: usize) {
        self.triangles.reserve(triangles);
    }

    /// Adds triangles that belong to one surface.
    pub(super) fn add(&mut self, surface: Surface, triangles: impl IntoIterator<Item = [u32; 3]>) {
        let from = self.triangles.len();
        self.triangles.extend(triangles);
        let to = self.triangles.len();
        match self.groups.last_mut().filter(|group| group.0 == surface) {
            Some(group) => group.1.end = to,
            None if to > from => self.groups.push((surface, from..to)),
            None => {}
        }
    }

    /// The corners, in millimetres.
    pub fn points(&self) -> &[Vector3<f64>] {
        &self.points
    }

    /// The triangles, each by the places of its corners among the points.
    pub fn triangles(&self) -> &[[u32; 3]] {
        &self.triangles
    }

    /// The triangles of one surface.
    pub fn triangles_of(&self, surface: Surface) -> impl Iterator<Item = [u32; 3]> + Clone {
        let groups = self.groups.iter().filter(move |group| group.0 == surface);
        groups.flat_map(|group| self.triangles[group.1.clone()].iter().copied())
    }

    pub(super) fn groups(&self) -> &[(Surface, Range<usize>)] {
        &self.groups
    }

    /// The three corners of a triangle.
    pub fn corners(&self, triangle: [u32; 3]) -> [Vector3<f64>; 3] {
        triangle.map(|corner| self.points[corner as usize])
    }

    /// The mirror image in z, turned right side out.
    pub fn mirrored(mut self) -> Self {
        self.points.iter_mut().for_each(|point| point.z = -point.z);
        self.triangles.iter_mut().for_each(|triangle| triangle.swap(1, 2));
        self
    }

    /// The volume within, in cubic millimetres; positive where the mesh is right side out.
    ///
    /// **Source** \[own-derivation\] the divergence theorem: a sixth of the sum of the triple
    /// products of the triangles' corners. **Departs** nowhere. **Error** rounding. **Domain**
    /// closed meshes.
    pub fn volume_mm3(&self) -> f64 {
        let triple = |triangle: &[u32; 3]| {
            let [a, b, c] = self.corners(*triangle);
            a.dot(&b.cross(&c))
        };
        self.triangles.iter().map(triple).sum::<f64>() / 6.0
    }

    /// How many edges do not lie between exactly two triangles that run along them in opposite
    /// ways; none where the mesh is closed.
    pub fn open_edges(&self) -> usize {
        let mut edges: HashMap<(u32, u32), (u32, u32)> = HashMap::new();
        for [a, b, c] in &self.triangles {
            for (from, to) in [(*a, *b), (*b, *c), (*c, *a)] {
                let times = edges.entry((from.min(to), from.max(to))).or_default();
                if from < to { times.0 += 1 } else { times.1 += 1 }
            }
        }
        edges.values().filter(|times| **times != (1, 1)).count()
    }
}
