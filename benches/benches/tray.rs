//! The order of a tray of ten thousand cutters: as a shop has them, a few hundred set-ups in all,
//! and as hard as can be, hardly two alike.

use std::hint::black_box;
use std::ops::ControlFlow;

use divan::Bencher;
use geometry::Angle;
use shop::Ctx;
use shop::record::Hand;
use shop::tray::{ChangeTimes, OrderTray, TrayJob, TraySetup, order_tray};
use trade::Tables;

const CUTTERS: u64 = 10_000;

fn main() {
    divan::main();
}

/// Below `count`, from a place in the tray and what is drawn there.
fn drawn(at: u64, what: u64, count: u64) -> u64 {
    let mut mixed = (at * 64 + what + 1).wrapping_mul(0x9e37_79b9_7f4a_7c15);
    mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    (mixed >> 33) % count
}

/// A tray with so many reliefs, head angles and collets.
fn tray([reliefs, heads, collets]: [u64; 3]) -> OrderTray {
    let setup = |at: u64| TraySetup {
        wheel: format!("W-{}", drawn(at, 0, 6)),
        holding: format!("collet {}", drawn(at, 1, collets)),
        head_angle: Angle::from_degrees(88.0 + 0.25 * drawn(at, 2, heads) as f64),
        rest_finger: format!("finger {}", drawn(at, 3, 2)),
        hand: if drawn(at, 4, 10) == 0 { Hand::Left } else { Hand::Right },
        relief_setting: Angle::from_degrees(5.0 + 0.02 * drawn(at, 5, reliefs) as f64),
    };
    let job = |at: u64| {
        let (number, setup) = (format!("K-{at}"), setup(at));
        TrayJob { number, setup, will_not_clean_up: None, by_plan: false, size_after: None }
    };
    let tables = Tables::bundled().expect("the tables are sound");
    OrderTray {
        jobs: (0..CUTTERS).map(job).collect(),
        now: None,
        times: ChangeTimes::of_tables(&Ctx { tables }).expect("every change has its minutes"),
        angle_step: Angle::from_degrees(0.01),
    }
}

fn order(bencher: Bencher, tray: &OrderTray) {
    bencher.bench_local(|| {
        order_tray(black_box(tray), &mut |_| ControlFlow::Continue(())).expect("an order")
    });
}

/// A few hundred set-ups.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn as_a_shop_has_them(bencher: Bencher) {
    order(bencher, &tray([4, 1, 6]));
}

/// A few thousand set-ups.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn of_all_kinds(bencher: Bencher) {
    order(bencher, &tray([12, 4, 10]));
}

/// Hardly two alike.
#[divan::bench(sample_count = 5, sample_size = 1)]
fn hardly_two_alike(bencher: Bencher) {
    order(bencher, &tray([500, 8, 12]));
}
