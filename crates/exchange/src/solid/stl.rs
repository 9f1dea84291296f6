//! A solid as binary STL.

use super::Solid;

/// Bytes of the head, which holds words.
const HEAD_BYTES: usize = 80;

/// The solid as binary STL, in millimetres: a head of 80 bytes that says so, the count of facets,
/// and for each its normal, its three corners and two bytes of nothing, all little-endian.
pub fn solid_stl(solid: &Solid<'_>) -> Vec<u8> {
    let facets: usize = solid.parts.iter().map(|part| part.shaded.triangles.len()).sum();
    let mut bytes = head(solid);
    bytes.reserve(4 + 50 * facets);
    bytes.extend((facets as u32).to_le_bytes());
    for part in &solid.parts {
        let corners =
            |triangle: &[u32; 3]| triangle.map(|corner| part.shaded.positions[corner as usize]);
        part.shaded.triangles.iter().map(corners).for_each(|facet| add(&facet, &mut bytes));
    }
    bytes
}

/// A head must not begin with the word by which the form in letters is known.
fn head(solid: &Solid<'_>) -> Vec<u8> {
    let words = format!("mm, chord error {:.4}, {}", solid.chord_error_mm, solid.title);
    let plain = words.chars().map(|letter| if letter.is_ascii() { letter as u8 } else { b'?' });
    let mut head: Vec<u8> = plain.take(HEAD_BYTES).collect();
    head.resize(HEAD_BYTES, b' ');
    head
}

fn add(facet: &[[f32; 3]; 3], bytes: &mut Vec<u8>) {
    let values = [normal(facet)].into_iter().chain(*facet).flatten();
    bytes.extend(values.flat_map(f32::to_le_bytes));
    bytes.extend([0, 0]);
}

/// The unit normal of a facet; nothing where it has no surface.
fn normal([a, b, c]: &[[f32; 3]; 3]) -> [f32; 3] {
    let way = |to: &[f32; 3]| [0, 1, 2].map(|axis| f64::from(to[axis]) - f64::from(a[axis]));
    let (u, v) = (way(b), way(c));
    let cross = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    let length = cross.iter().map(|part| part * part).sum::<f64>().sqrt();
    if length > 0.0 { cross.map(|part| (part / length) as f32) } else { [0.0; 3] }
}
