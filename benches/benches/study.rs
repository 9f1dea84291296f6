//! The study of a plan: ten thousand finished teeth, and a whole study with causes and limits.

use std::hint::black_box;
use std::ops::ControlFlow;

use divan::Bencher;
use shop::Ctx;
use shop::plan::plan_regrind;
use shop::study::{StudyProgress, StudyRegrind, study_regrind};
use trade::Tables;

fn main() {
    divan::main();
}

fn study(bencher: Bencher, samples: u32, is_whole: bool) {
    let tables = Tables::bundled().expect("the tables are sound");
    let ctx = Ctx { tables };
    let plan = plan_regrind(&ctx, benches::request()).expect("a plan");
    bencher.bench_local(|| {
        let request = StudyRegrind { plan: plan.clone(), samples, seed: 1 };
        // The first block that is not of the teeth themselves ends what is to be measured.
        study_regrind(&ctx, black_box(request), &mut |progress: StudyProgress| {
            match is_whole || progress.doing == "teeth" {
                true => ControlFlow::Continue(()),
                false => ControlFlow::Break(()),
            }
        })
        .is_ok()
    });
}

/// Ten thousand teeth through the real section, and one block of what follows.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn ten_thousand_teeth(bencher: Bencher) {
    study(bencher, 10_000, false);
}

/// The study that the command asks for.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn the_whole_study(bencher: Bencher) {
    study(bencher, 8192, true);
}
