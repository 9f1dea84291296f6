//! The section, its inverse, the whole plan, and the polygon-boolean route beside them, all in one
//! run so that their ratios can be trusted.

use std::hint::black_box;

use benches::{LAST_RAD, NEW_DIAMETER_MM, RAYS, kernel_setup, rays_rad, reference_setup, request};
use checks::reference::polygons::section_by_polygons;
use divan::Bencher;
use geometry::solve::{Adjusted, ReliefTarget, solve_relief};
use geometry::{Angle, Length};
use shop::Ctx;
use shop::plan::plan_regrind;
use trade::Tables;

fn main() {
    divan::main();
}

/// Placing the wheel and tracing the section, then 400 rays, to 0.02 µm.
#[divan::bench]
fn section_of_400_rays(bencher: Bencher) {
    let setup = kernel_setup();
    let mut radii_mm = [0.0; RAYS];
    bencher.bench_local(|| {
        let section =
            black_box(&setup).section(Length::from_mm(NEW_DIAMETER_MM)).expect("a section");
        section.fill_radii_mm(Angle::ZERO, Angle::from_radians(LAST_RAD), &mut radii_mm);
        radii_mm[RAYS - 1]
    });
}

/// The relief setting for 9 degrees over half a millimetre.
#[divan::bench]
fn solve_for_a_relief(bencher: Bencher) {
    let setup = kernel_setup();
    let relief = Angle::from_degrees(9.0);
    let target = ReliefTarget { relief, over: Some(Length::from_mm(0.5)) };
    let diameter = Length::from_mm(NEW_DIAMETER_MM);
    bencher.bench_local(|| {
        solve_relief(black_box(&setup), diameter, target, Adjusted::ReliefSetting).expect("solved")
    });
}

/// The whole plan of the bundled example.
#[divan::bench]
fn whole_plan(bencher: Bencher) {
    let tables = Tables::bundled().expect("the tables are sound");
    bencher.with_inputs(request).bench_values(|request| {
        plan_regrind(&Ctx { tables }, request).expect("the example can be planned")
    });
}

/// The same 400 rays by 2-D polygon booleans with a general library, to about 1 µm.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn section_by_polygon_booleans(bencher: Bencher) {
    let (setup, rays) = (reference_setup(), rays_rad());
    let wheel_mm = kernel_setup()
        .section(Length::from_mm(NEW_DIAMETER_MM))
        .expect("a section")
        .wheel_from_axis()
        .mm();
    bencher.bench_local(|| section_by_polygons(&setup, wheel_mm, &rays, 1500, 200));
}
