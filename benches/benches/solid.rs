//! How fast a cutter becomes a mesh of a hundred thousand triangles, and its wheel one for a
//! picture.

use std::hint::black_box;

use divan::Bencher;
use geometry::outline::{Outline, WornTooth};
use geometry::solid::{Fluted, Mesh, ToothForm, revolution, wheel_half_section};
use geometry::{Angle, Length};

use benches::{NEW_DIAMETER_MM, kernel_setup};

fn main() {
    divan::main();
}

/// Chord error at which the half-inch cutter of the benches has over 100 000 triangles.
const CUTTER_MM: f64 = 0.004;

/// Chord error of a wheel in a picture.
const WHEEL_MM: f64 = 0.01;

fn outline() -> Outline {
    let tooth = WornTooth {
        sharp_radius: Length::from_mm(6.35),
        rake: Angle::from_degrees(10.0),
        primary: Angle::from_degrees(10.0),
        secondary: Angle::from_degrees(20.0),
        land: Length::from_mm(0.5),
        thickness: Length::from_mm(3.5),
        wear_land: Length::ZERO,
    };
    tooth.outline(Length::from_mm(6.35))
}

fn cutter(outline: &Outline) -> Fluted<'_> {
    Fluted {
        tooth: ToothForm {
            back: outline.points(),
            land_end: outline.points()[1].heelward,
            rake: Angle::from_degrees(10.0),
            core_diameter: Length::from_mm(7.2),
        },
        flutes: *kernel_setup().flutes(),
        edge_at_end: Angle::ZERO,
        fluted_length: Length::from_mm(31.75),
        overall_length: Length::from_mm(82.55),
        shank_diameter: Length::from_mm(12.7),
    }
}

fn mesh() -> Mesh {
    let outline = outline();
    let mesh = cutter(&outline).mesh(Length::from_mm(CUTTER_MM)).expect("the cutter is sound");
    assert!(mesh.triangles().len() > 100_000, "{}", mesh.triangles().len());
    mesh
}

/// A half-inch cutter with shank, over 100 000 triangles.
#[divan::bench]
fn cutter_of_100_000_triangles(bencher: Bencher) {
    let outline = outline();
    let triangles = mesh().triangles().len();
    bencher.counter(divan::counter::ItemsCount::new(triangles)).bench_local(|| {
        black_box(cutter(&outline)).mesh(Length::from_mm(CUTTER_MM)).expect("the cutter is sound")
    });
}

/// The normals of all its surfaces.
#[divan::bench]
fn normals_of_100_000_triangles(bencher: Bencher) {
    let mesh = mesh();
    bencher.bench_local(|| black_box(&mesh).shaded(Angle::from_degrees(30.0)));
}

/// The wheel of the benches where it really stands, at the chord error of a picture.
#[divan::bench]
fn wheel_of_a_picture(bencher: Bencher) {
    let setup = kernel_setup();
    let section = setup.section(Length::from_mm(NEW_DIAMETER_MM)).expect("a section");
    let mm = Length::from_mm;
    let half = wheel_half_section(setup.wheel(), mm(40.0), mm(20.0), mm(WHEEL_MM))
        .expect("the wheel is sound");
    bencher.bench_local(|| {
        revolution(black_box(&half), section.wheel_pose(), mm(WHEEL_MM)).expect("a wheel")
    });
}
