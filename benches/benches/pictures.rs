//! The pictures of a plan: drawn, their words placed, and written.

use std::hint::black_box;

use benches::request;
use divan::Bencher;
use geometry::System;
use sheets::drawing::{drop_run, end_view, tooth_section};
use sheets::scene::Scene;
use shop::Ctx;
use shop::plan::{RegrindPlan, plan_regrind};
use trade::Tables;

fn main() {
    divan::main();
}

/// The plan of the bundled example.
fn plan() -> RegrindPlan {
    let tables = Tables::bundled().expect("the tables are sound");
    plan_regrind(&Ctx { tables }, request()).expect("the example can be planned")
}

fn drawn(bencher: Bencher, draw: fn(&RegrindPlan, System) -> Option<Scene>) {
    let plan = plan();
    bencher.bench_local(|| draw(black_box(&plan), System::Inch).expect("it grinds the periphery"));
}

#[divan::bench]
fn section_of_the_tooth(bencher: Bencher) {
    drawn(bencher, tooth_section);
}

#[divan::bench]
fn view_of_the_end(bencher: Bencher) {
    drawn(bencher, end_view);
}

#[divan::bench]
fn run_of_the_drop(bencher: Bencher) {
    drawn(bencher, drop_run);
}

/// All three as SVG.
#[divan::bench]
fn written_as_svg(bencher: Bencher) {
    let plan = plan();
    let draws = [tooth_section, end_view, drop_run];
    let scenes: Vec<Scene> =
        draws.iter().filter_map(|draw| draw(&plan, System::Inch)).collect();
    bencher.bench_local(|| {
        black_box(&scenes).iter().map(|scene| scene.to_svg().len()).sum::<usize>()
    });
}
