//! A solid as GLB: glTF 2.0 in one file.

use serde_json::{Value, json};

use super::{Solid, SolidPart};

/// Kinds of values, by the numbers that glTF has for them.
const FLOATS: u32 = 5126;
const PLACES: u32 = 5125;
/// What the bytes are for, likewise.
const CORNERS: u32 = 34962;
const TRIANGLES: u32 = 34963;

/// glTF counts in metres; the corners are kept in millimetres and the node makes them smaller, so
/// that no digit is lost.
const METRES_PER_MM: f64 = 0.001;

/// The solid as GLB: one mesh with a primitive for each part, each with its normals and a plain
/// material.
pub fn solid_glb(solid: &Solid<'_>) -> Vec<u8> {
    let mut data = Vec::new();
    let mut views = Vec::new();
    let mut accessors = Vec::new();
    let mut primitives = Vec::new();
    for (material, part) in solid.parts.iter().enumerate() {
        let first = accessors.len();
        accessors.extend(accessors_of(part, first));
        add(part, &mut data, &mut views);
        primitives.push(json!({
            "attributes": { "POSITION": first, "NORMAL": first + 1 },
            "indices": first + 2,
            "material": material,
        }));
    }
    let scale = [METRES_PER_MM; 3];
    let document = json!({
        "asset": {
            "version": "2.0",
            "generator": "Toothrest",
            "extras": { "unit": "mm", "chord_error_mm": solid.chord_error_mm },
        },
        "scene": 0,
        "scenes": [{ "nodes": [0] }],
        "nodes": [{ "name": solid.title, "mesh": 0, "scale": scale }],
        "meshes": [{ "name": solid.title, "primitives": primitives }],
        "materials": solid.parts.iter().map(material).collect::<Vec<_>>(),
        "accessors": accessors,
        "bufferViews": views,
        "buffers": [{ "byteLength": data.len() }],
    });
    packed(document.to_string().into_bytes(), data)
}

/// Head, JSON filled up with blanks, data: each chunk a multiple of four bytes.
fn packed(mut text: Vec<u8>, mut data: Vec<u8>) -> Vec<u8> {
    text.resize(text.len().next_multiple_of(4), b' ');
    data.resize(data.len().next_multiple_of(4), 0);
    let whole = 12 + 8 + text.len() + 8 + data.len();
    let mut bytes = Vec::with_capacity(whole);
    bytes.extend(b"glTF");
    bytes.extend(2_u32.to_le_bytes());
    bytes.extend((whole as u32).to_le_bytes());
    for (name, chunk) in [(b"JSON", text), (b"BIN\0", data)] {
        bytes.extend((chunk.len() as u32).to_le_bytes());
        bytes.extend(name);
        bytes.extend(chunk);
    }
    bytes
}

fn accessors_of(part: &SolidPart<'_>, view: usize) -> [Value; 3] {
    let shaded = part.shaded;
    let bound = |pick: fn(f32, f32) -> f32, start: f32| {
        [0, 1, 2].map(|axis| shaded.positions.iter().map(|at| at[axis]).fold(start, pick))
    };
    let corners = shaded.positions.len();
    [
        json!({
            "bufferView": view, "componentType": FLOATS, "count": corners, "type": "VEC3",
            "min": bound(f32::min, f32::INFINITY), "max": bound(f32::max, f32::NEG_INFINITY),
        }),
        json!({
            "bufferView": view + 1, "componentType": FLOATS, "count": corners, "type": "VEC3",
        }),
        json!({
            "bufferView": view + 2, "componentType": PLACES,
            "count": 3 * shaded.triangles.len(), "type": "SCALAR",
        }),
    ]
}

fn add(part: &SolidPart<'_>, data: &mut Vec<u8>, views: &mut Vec<Value>) {
    let shaded = part.shaded;
    let floats = |values: &[[f32; 3]]| -> Vec<u8> {
        values.iter().flatten().flat_map(|value| value.to_le_bytes()).collect()
    };
    let places = shaded.triangles.iter().flatten().flat_map(|place| place.to_le_bytes()).collect();
    let all: [(Vec<u8>, u32); 3] = [
        (floats(&shaded.positions), CORNERS),
        (floats(&shaded.normals), CORNERS),
        (places, TRIANGLES),
    ];
    for (bytes, target) in all {
        views.push(json!({
            "buffer": 0, "byteOffset": data.len(), "byteLength": bytes.len(), "target": target,
        }));
        data.extend(bytes);
    }
}

/// Ground surfaces are bright, the others as steel that has been in use.
fn material(part: &SolidPart<'_>) -> Value {
    let (grey, rough) = match part.name {
        "primary" | "secondary" => (0.85, 0.25),
        "flutes" => (0.55, 0.5),
        _ => (0.45, 0.6),
    };
    json!({
        "name": part.name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [grey, grey, grey, 1.0],
            "metallicFactor": 0.9,
            "roughnessFactor": rough,
        },
    })
}
