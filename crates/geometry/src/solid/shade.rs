//! What a picture needs of a mesh: corners with normals.

use nalgebra::Vector3;

use super::mesh::{Mesh, Surface};
use crate::quantity::Angle;

/// One surface of a mesh with its normals, in the numbers that screens take.
///
/// A corner stands here once for each smooth surface that meets in it, so that edges stay sharp.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shaded {
    /// Corners, in millimetres.
    pub positions: Vec<[f32; 3]>,
    /// Unit normals, outward, one for each corner.
    pub normals: Vec<[f32; 3]>,
    /// Triangles, by the places of their corners.
    pub triangles: Vec<[u32; 3]>,
}

/// Normals this near to each other are the same: the cosine between them.
const SAME_NORMAL: f64 = 1.0 - 1e-6;

/// No place yet.
const NONE: u32 = u32::MAX;

impl Mesh {
    /// Every surface with smooth normals, in the mesh's order. Neighbours that meet at more than
    /// `crease` meet in an edge; so do land and back, however flat the edge between them is.
    pub fn shaded(&self, crease: Angle) -> Vec<(Surface, Shaded)> {
        let faces: Vec<Face> = self.faces();
        let around = Around::new(self.points().len(), self.triangles());
        let smooth = Smooth { faces: &faces, crease_cos: crease.cos() };
        let mut all: Vec<(Surface, Shading)> = Vec::new();
        for (at, triangle) in self.triangles().iter().enumerate() {
            let surface = faces[at].surface;
            let found = all.iter().position(|one| one.0 == surface).unwrap_or_else(|| {
                all.push((surface, Shading::new(self.points().len())));
                all.len() - 1
            });
            let shading = &mut all[found].1;
            let placed = triangle.map(|corner| {
                let normal = smooth.normal(at, around.of(corner));
                shading.place(corner, self.points()[corner as usize], normal)
            });
            shading.shaded.triangles.push(placed);
        }
        all.into_iter().map(|(surface, shading)| (surface, shading.shaded)).collect()
    }

    fn faces(&self) -> Vec<Face> {
        let of_group = |(surface, range): &(Surface, std::ops::Range<usize>)| {
            let surface = *surface;
            let own = self.triangles()[range.clone()].iter();
            own.map(move |triangle| Face::new(surface, &self.corners(*triangle)))
        };
        self.groups().iter().flat_map(of_group).collect()
    }
}

/// A triangle's unit normal and its angles at its corners.
struct Face {
    surface: Surface,
    normal: Vector3<f64>,
    angles_rad: [f64; 3],
}

impl Face {
    fn new(surface: Surface, [a, b, c]: &[Vector3<f64>; 3]) -> Self {
        let doubled_area = (b - a).cross(&(c - a));
        let length = doubled_area.norm();
        // A facet without area is seen by nobody and counts for nothing.
        let normal = if length > 1e-300 { doubled_area / length } else { Vector3::zeros() };
        let angle = |at: &Vector3<f64>, one: &Vector3<f64>, other: &Vector3<f64>| {
            length.atan2((one - at).dot(&(other - at)))
        };
        Self { surface, normal, angles_rad: [angle(a, b, c), angle(b, c, a), angle(c, a, b)] }
    }
}

/// The triangles round each corner, each as three times its place and which of its corners it is.
struct Around {
    starts: Vec<u32>,
    places: Vec<u32>,
}

impl Around {
    fn new(points: usize, triangles: &[[u32; 3]]) -> Self {
        let mut starts = vec![0_u32; points + 1];
        let corners = || triangles.iter().flatten();
        corners().for_each(|corner| starts[*corner as usize + 1] += 1);
        (0..points).for_each(|at| starts[at + 1] += starts[at]);
        let mut free = starts.clone();
        let mut places = vec![0; triangles.len() * 3];
        for (at, corner) in corners().enumerate() {
            let place = &mut free[*corner as usize];
            places[*place as usize] = at as u32;
            *place += 1;
        }
        Self { starts, places }
    }

    fn of(&self, corner: u32) -> &[u32] {
        let at = corner as usize;
        &self.places[self.starts[at] as usize..self.starts[at + 1] as usize]
    }
}

struct Smooth<'a> {
    faces: &'a [Face],
    crease_cos: f64,
}

impl Smooth<'_> {
    /// The normal of a face at one of its corners: that of all that meet it there without an edge,
    /// each by its angle there, so that it does not matter how a surface was taken apart.
    fn normal(&self, face: usize, around: &[u32]) -> Vector3<f64> {
        let own = &self.faces[face];
        let share = |place: &u32| {
            let other = &self.faces[*place as usize / 3];
            let is_flat = other.normal.dot(&own.normal) >= self.crease_cos;
            (is_flat && !meet_in_edge(own.surface, other.surface))
                .then(|| other.normal * other.angles_rad[*place as usize % 3])
        };
        let sum: Vector3<f64> = around.iter().filter_map(share).sum();
        sum.try_normalize(1e-12).unwrap_or(Vector3::z())
    }
}

/// Whether two surfaces meet in an edge at whatever angle.
fn meet_in_edge(one: Surface, other: Surface) -> bool {
    matches!((one, other), (Surface::Land, Surface::Back) | (Surface::Back, Surface::Land))
}

struct Shading {
    shaded: Shaded,
    /// For each corner of the mesh the first that was made of it.
    firsts: Vec<u32>,
    /// For each that was made the next of the same corner.
    nexts: Vec<u32>,
}

impl Shading {
    fn new(points: usize) -> Self {
        Self { shaded: Shaded::default(), firsts: vec![NONE; points], nexts: Vec::new() }
    }

    fn place(&mut self, corner: u32, at: Vector3<f64>, normal: Vector3<f64>) -> u32 {
        let mut found = self.firsts[corner as usize];
        while found != NONE {
            let [x, y, z] = self.shaded.normals[found as usize].map(f64::from);
            if normal.dot(&Vector3::new(x, y, z)) > SAME_NORMAL {
                return found;
            }
            found = self.nexts[found as usize];
        }
        let made = self.shaded.positions.len() as u32;
        self.shaded.positions.push([at.x as f32, at.y as f32, at.z as f32]);
        self.shaded.normals.push([normal.x as f32, normal.y as f32, normal.z as f32]);
        self.nexts.push(self.firsts[corner as usize]);
        self.firsts[corner as usize] = made;
        made
    }
}
