//! Solids and drawings, read back by general-purpose libraries: `stl_io`, `gltf` and `dxf`.

#![expect(clippy::unwrap_used, reason = "a test that cannot make its case must stop")]

mod common;

use std::collections::HashMap;
use std::io::Cursor;

use common::{cutter, draft};
use dxf::entities::EntityType;
use exchange::curve::{Drawing, drawing_dxf, outline_drawing};
use exchange::solid::{Solid, SolidPart, solid_glb, solid_stl};
use geometry::outline::WornTooth;
use geometry::quantity::System;
use geometry::screw::Flutes;
use geometry::solid::{Fluted, Mesh, Shaded, ToothForm};
use geometry::{Angle, Length};
use shop::record::{CutterDraft, EndForm, Hand};

/// A fluted body of known sizes: 12 mm over the edges, 40 mm long on a 10 mm shank.
fn body() -> Mesh {
    let (radius, degrees) = (Length::from_mm(6.0), Angle::from_degrees);
    let tooth = WornTooth {
        sharp_radius: radius,
        rake: degrees(8.0),
        primary: degrees(9.0),
        secondary: degrees(20.0),
        land: Length::from_mm(0.5),
        thickness: Length::from_mm(3.0),
        wear_land: Length::ZERO,
    };
    let outline = tooth.outline(radius);
    let form = ToothForm {
        back: outline.points(),
        land_end: outline.points()[1].heelward,
        rake: degrees(8.0),
        core_diameter: Length::from_mm(6.6),
    };
    let flutes = Flutes {
        nominal_diameter: Length::from_mm(12.0),
        teeth: 4,
        hand: Hand::Right,
        helix: degrees(30.0),
        helix_hand: Hand::Right,
    };
    let body = Fluted {
        tooth: form,
        flutes,
        edge_at_end: Angle::ZERO,
        fluted_length: Length::from_mm(20.0),
        overall_length: Length::from_mm(40.0),
        shank_diameter: Length::from_mm(10.0),
    };
    body.mesh(Length::from_mm(0.02)).unwrap()
}

fn parts(mesh: &Mesh) -> Vec<Shaded> {
    let shaded = mesh.shaded(Angle::from_degrees(30.0)).into_iter();
    shaded.map(|(_, shaded)| shaded).collect()
}

fn solid(parts: &[Shaded]) -> Solid<'_> {
    let parts = parts.iter().map(|shaded| SolidPart { name: "part", shaded }).collect();
    Solid { title: "A ⌀ 12 body".to_owned(), chord_error_mm: 0.02, parts }
}

type Corner = [f64; 3];

/// Volume by the divergence theorem and the count of edges that two facets do not share, from the
/// corners alone.
fn measured(facets: &[[Corner; 3]]) -> (f64, usize) {
    let mut volume = 0.0;
    let mut edges: HashMap<[[u64; 3]; 2], i32> = HashMap::new();
    for [a, b, c] in facets {
        volume += (a[0] * (b[1] * c[2] - b[2] * c[1])
            + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0]))
            / 6.0;
        for (from, to) in [(a, b), (b, c), (c, a)] {
            let [from, to] = [from, to].map(|corner| corner.map(|value| (value + 0.0).to_bits()));
            if from < to {
                *edges.entry([from, to]).or_default() += 1;
            } else {
                *edges.entry([to, from]).or_default() -= 1;
            }
        }
    }
    (volume, edges.values().filter(|sum| **sum != 0).count())
}

fn widest_mm(facets: &[[Corner; 3]]) -> f64 {
    facets.iter().flatten().map(|at| at[0].hypot(at[1])).fold(0.0, f64::max)
}

#[test]
fn stl_is_closed_and_as_large_as_the_body() {
    let mesh = body();
    let parts = parts(&mesh);
    let bytes = solid_stl(&solid(&parts));
    assert!(!bytes.starts_with(b"solid") && bytes.starts_with(b"mm, chord error 0.0200"));
    let read = stl_io::read_stl(&mut Cursor::new(&bytes)).unwrap();
    let facet = |face: &stl_io::IndexedTriangle| {
        face.vertices.map(|at| {
            let corner = read.vertices[at];
            [corner[0], corner[1], corner[2]].map(f64::from)
        })
    };
    let facets: Vec<[Corner; 3]> = read.faces.iter().map(facet).collect();
    assert_eq!(facets.len(), mesh.triangles().len());
    let (volume, open) = measured(&facets);
    assert_eq!(open, 0);
    assert!((volume / mesh.volume_mm3() - 1.0).abs() < 1e-5, "{volume}");
    assert!((widest_mm(&facets) - 6.0).abs() < 1e-5);
    let long = facets.iter().flatten().map(|at| at[2]).fold(0.0, f64::max);
    assert!((long - 40.0).abs() < 1e-5);
}

#[test]
fn glb_is_closed_and_in_metres() {
    let mesh = body();
    let parts = parts(&mesh);
    let bytes = solid_glb(&solid(&parts));
    let (document, buffers) = {
        let whole = gltf::Gltf::from_slice(&bytes).unwrap();
        let blob = whole.blob.clone().unwrap();
        (whole.document, blob)
    };
    let node = document.nodes().next().unwrap();
    let (_, _, scale) = node.transform().decomposed();
    assert_eq!(scale, [0.001; 3]);
    let mut facets: Vec<[Corner; 3]> = Vec::new();
    for primitive in node.mesh().unwrap().primitives() {
        let reader = primitive.reader(|_| Some(&buffers));
        let corners: Vec<Corner> =
            reader.read_positions().unwrap().map(|at| at.map(f64::from)).collect();
        assert_eq!(reader.read_normals().unwrap().count(), corners.len());
        let places: Vec<usize> =
            reader.read_indices().unwrap().into_u32().map(|at| at as usize).collect();
        facets.extend(places.chunks(3).map(|at| [corners[at[0]], corners[at[1]], corners[at[2]]]));
        let bounds = primitive.bounding_box();
        assert!(bounds.max[2] <= 40.0 + 1e-4 && bounds.min[2] >= -1e-4);
    }
    let (volume, open) = measured(&facets);
    assert_eq!(open, 0);
    assert!((volume / mesh.volume_mm3() - 1.0).abs() < 1e-5);
}

fn loaded(drawing: &Drawing, system: System) -> dxf::Drawing {
    let text = drawing_dxf(drawing, system);
    assert!(text.is_ascii());
    dxf::Drawing::load(&mut Cursor::new(text.into_bytes())).unwrap()
}

#[test]
fn an_outline_has_the_sizes_of_its_record() {
    let ground = 0.494 * 25.4 / 2.0;
    for (system, per_mm) in [(System::Millimetre, 1.0), (System::Inch, 1.0 / 25.4)] {
        let read = loaded(&outline_drawing(&cutter("K-1")), system);
        assert_eq!(read.header.version, dxf::enums::AcadVersion::R12);
        let mut most = [0.0_f64; 2];
        let mut arcs = Vec::new();
        for entity in read.entities() {
            match &entity.specific {
                EntityType::Line(line) => {
                    for point in [&line.p1, &line.p2] {
                        most = [most[0].max(point.x), most[1].max(point.y)];
                    }
                }
                EntityType::Arc(arc) => arcs.push(arc.radius),
                _ => {}
            }
        }
        assert!((most[0] - 82.55 * per_mm).abs() < 1e-5, "{most:?}");
        assert!((most[1] - 6.35 * per_mm).abs() < 1e-5, "the shank is the larger: {most:?}");
        assert_eq!(arcs.len(), 2);
        assert!(arcs.iter().all(|radius| (radius - per_mm).abs() < 1e-5), "{arcs:?}");
        let ext = &read.header.maximum_drawing_extents;
        assert!((ext.x - 82.55 * per_mm).abs() < 1e-5);
    }
    let ball = CutterDraft { end: EndForm::Ball, ..draft("K-2") }.build().unwrap();
    let read = loaded(&outline_drawing(&ball), System::Millimetre);
    let radius = read.entities().find_map(|entity| match &entity.specific {
        EntityType::Arc(arc) => Some(arc.radius),
        _ => None,
    });
    assert!((radius.unwrap() - ground).abs() < 1e-5, "a ball has the radius it was ground to");
}

/// A round that lies against tip and side has its centre one radius from both lines (own
/// derivation: the distance of a point from a line).
#[test]
fn the_side_of_a_taper_leans_and_its_corner_lies_against_it() {
    let special =
        shop::record::Special { taper: geometry::Angle::from_degrees(3.0), ..Default::default() };
    let shank_diameter = geometry::Length::from_inches(0.75);
    for (end, radius) in
        [(EndForm::CornerRadius(geometry::Length::from_mm(1.0)), Some(1.0)), (EndForm::Ball, None)]
    {
        let taper = CutterDraft { end, special: special.clone(), shank_diameter, ..draft("K-3") };
        let read = loaded(&outline_drawing(&taper.build().unwrap()), System::Millimetre);
        let slope = 3_f64.to_radians().tan();
        let side = read.entities().find_map(|entity| match &entity.specific {
            EntityType::Line(line) if line.p1.y > 0.0 => {
                let leans = (line.p2.y - line.p1.y) / (line.p2.x - line.p1.x);
                ((leans - slope).abs() < 1e-5).then(|| (line.p1.clone(), line.p2.clone()))
            }
            _ => None,
        });
        let (from, to) = side.expect("a side leans by the taper");
        assert!((to.x - 31.75).abs() < 1e-5, "it ends with the flutes");
        // Drawn on to the tip's plane, it stands at the radius to which the cutter was ground.
        let at_tip = from.y - from.x * slope;
        assert!((at_tip - 0.494 * 25.4 / 2.0).abs() < 1e-4, "{at_tip}");
        let arc = read.entities().find_map(|entity| match &entity.specific {
            EntityType::Arc(arc) => Some(arc.clone()),
            _ => None,
        });
        let arc = arc.expect("a round corner");
        let away = (slope * arc.center.x - arc.center.y + at_tip) / slope.hypot(1.0);
        assert!((away - arc.radius).abs() < 1e-4, "{away} from the side, {} round", arc.radius);
        assert!((arc.center.x - arc.radius).abs() < 1e-5, "the tip's plane");
        match radius {
            Some(radius) => assert!((arc.radius - radius).abs() < 1e-5),
            None => assert!(arc.center.y.abs() < 1e-5, "a ball's centre lies on the axis"),
        }
    }
}
