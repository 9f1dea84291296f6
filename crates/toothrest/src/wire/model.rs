//! A model as bytes, for the page's viewer and for other programs.
//!
//! All numbers are little-endian. In order:
//!
//! | Bytes | What |
//! |---|---|
//! | 4 | the letters `TRM1` |
//! | 4 | length of the head in bytes, a multiple of 4 |
//! | the head | JSON, filled up with blanks |
//! | the rest | the data of the parts, one after another |
//!
//! Of each part its positions (three 32-bit floats a corner, in millimetres), its normals (as
//! many), its triangles (three 32-bit whole numbers each, places among the part's own corners, as
//! seen from outside counter-clockwise). The head tells where each begins, counted in bytes from
//! the end of the head. Same model, same bytes.

use serde::Serialize;
use sheets::model::{Model, ModelPart, View};

/// The letters that the bytes begin with; the last is the version of their order.
const LETTERS: [u8; 4] = *b"TRM1";

/// Version of the head; it grows when a key changes its meaning or goes away.
const HEAD_VERSION: u32 = 1;

#[derive(Serialize)]
struct Head<'a> {
    version: u32,
    unit: &'static str,
    title: &'a str,
    chord_error_mm: f64,
    centre_mm: [f32; 3],
    reach_mm: f32,
    views: Vec<ViewHead>,
    parts: Vec<PartHead>,
}

/// From where to look: unit vectors toward the eye, and up; how much nearer than `reach_mm` says.
#[derive(Serialize)]
struct ViewHead {
    name: &'static str,
    eye: [f32; 3],
    up: [f32; 3],
    zoom: f32,
}

/// A part, and where its data begin.
#[derive(Serialize)]
struct PartHead {
    name: &'static str,
    corners: usize,
    triangles: usize,
    positions_at: usize,
    normals_at: usize,
    triangles_at: usize,
}

/// A model as bytes.
pub fn model_bytes(model: &Model) -> Vec<u8> {
    let (parts, data_length) = part_heads(&model.parts);
    let head = Head {
        version: HEAD_VERSION,
        unit: "mm",
        title: &model.title,
        chord_error_mm: model.chord_error.mm(),
        centre_mm: model.focus.centre_mm,
        reach_mm: model.focus.reach_mm,
        views: model.views.iter().map(view_head).collect(),
        parts,
    };
    // Plain words and numbers always become JSON.
    let mut text = serde_json::to_vec(&head).unwrap_or_default();
    text.resize(text.len().next_multiple_of(4), b' ');
    let mut bytes = Vec::with_capacity(8 + text.len() + data_length);
    bytes.extend(LETTERS);
    bytes.extend((text.len() as u32).to_le_bytes());
    bytes.extend(text);
    model.parts.iter().for_each(|part| add_data(part, &mut bytes));
    bytes
}

fn view_head(view: &View) -> ViewHead {
    ViewHead { name: view.name.name(), eye: view.eye, up: view.up, zoom: view.zoom }
}

/// The heads of the parts, and how long their data are.
fn part_heads(parts: &[ModelPart]) -> (Vec<PartHead>, usize) {
    let mut at = 0;
    let mut place = |values: usize| {
        let from = at;
        at += 4 * values;
        from
    };
    let heads = parts
        .iter()
        .map(|part| {
            let (corners, triangles) = (part.shaded.positions.len(), part.shaded.triangles.len());
            PartHead {
                name: part.name.name(),
                corners,
                triangles,
                positions_at: place(3 * corners),
                normals_at: place(3 * corners),
                triangles_at: place(3 * triangles),
            }
        })
        .collect();
    (heads, at)
}

fn add_data(part: &ModelPart, bytes: &mut Vec<u8>) {
    let floats = part.shaded.positions.iter().chain(&part.shaded.normals).flatten();
    bytes.extend(floats.flat_map(|value| value.to_le_bytes()));
    bytes.extend(part.shaded.triangles.iter().flatten().flat_map(|place| place.to_le_bytes()));
}

#[cfg(test)]
mod tests {
    use geometry::Length;
    use geometry::solid::Shaded;
    use serde_json::Value;
    use sheets::model::{Focus, PartName, ViewName};

    use super::*;

    fn triangle() -> Model {
        let shaded = Shaded {
            positions: vec![[0.0, 0.0, 0.0], [1.5, 0.0, 0.0], [0.0, -2.0, 0.0]],
            normals: vec![[0.0, 0.0, 1.0]; 3],
            triangles: vec![[0, 2, 1]],
        };
        let part = |name| ModelPart { name, shaded: shaded.clone() };
        Model {
            title: "Cutter \"ü\"".to_owned(),
            chord_error: Length::from_mm(0.01),
            parts: vec![part(PartName::Primary), part(PartName::Wheel)],
            focus: Focus { centre_mm: [0.0, 0.0, 9.0], reach_mm: 16.0 },
            views: vec![View {
                name: ViewName::End,
                eye: [0.0, 0.0, -1.0],
                up: [0.0, 1.0, 0.0],
                zoom: 2.0,
            }],
        }
    }

    fn four(bytes: &[u8], at: usize) -> [u8; 4] {
        [bytes[at], bytes[at + 1], bytes[at + 2], bytes[at + 3]]
    }

    #[test]
    fn bytes_are_read_back_by_the_head() {
        let bytes = model_bytes(&triangle());
        assert_eq!(&bytes[..4], b"TRM1");
        let length = u32::from_le_bytes(four(&bytes, 4)) as usize;
        assert_eq!(length % 4, 0);
        let head: Value = serde_json::from_slice(&bytes[8..8 + length]).unwrap();
        assert_eq!(head["version"], 1);
        assert_eq!(head["title"], "Cutter \"ü\"");
        assert_eq!(head["views"][0]["eye"][2], -1.0);
        let data = 8 + length;
        for (part, name) in ["primary", "wheel"].into_iter().enumerate() {
            let told = &head["parts"][part];
            assert_eq!(told["name"], name);
            let at = |key: &str, value: usize| {
                four(&bytes, data + told[key].as_u64().unwrap() as usize + 4 * value)
            };
            assert_eq!(f32::from_le_bytes(at("positions_at", 3)), 1.5);
            assert_eq!(f32::from_le_bytes(at("positions_at", 7)), -2.0);
            assert_eq!(f32::from_le_bytes(at("normals_at", 2)), 1.0);
            assert_eq!(u32::from_le_bytes(at("triangles_at", 1)), 2);
        }
        assert_eq!(bytes.len(), data + 2 * 4 * (9 + 9 + 3));
    }

    #[test]
    fn the_viewer_reads_this_version() {
        let script = include_str!("../web/static/view3d.js");
        let letters = String::from_utf8(LETTERS.to_vec()).unwrap();
        assert!(script.contains(&format!("\"{letters}\"")));
        let keys = ["centre_mm", "reach_mm", "positions_at", "normals_at", "triangles_at"];
        keys.into_iter().for_each(|key| assert!(script.contains(key), "{key}"));
    }
}
