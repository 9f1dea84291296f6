//! The kernel's section against two methods that share no code with it: a dense scan of the wheel
//! (grade D) and 2-D polygon booleans with a general library, i_overlay (grade C).
//!
//! Seeded random set-ups cover cups and discs, both hands, leaning heads and square ones, rests at
//! the corner and deep in the face, worn corners, eccentric set-ups and set-ups whose heel drags.

#![expect(clippy::panic, reason = "a comparison that cannot be made must stop the test")]

use checks::reference::dense::DenseSection;
use checks::reference::polygons::polygon_section;
use checks::reference::setup::{Setup, random_setups};
use geometry::section::GroundSection;
use geometry::{Angle, Length};

mod common;

use common::kernel;

const SEED: u64 = 20_261_125;

/// Agreement with the dense scan, whose own error is stated as 0.05 µm.
const DENSE_UM: f64 = 0.1;
const DENSE_DEG: f64 = 0.005;

/// Rays on which sections are compared: from the edge over the land and beyond it.
const RAYS_RAD: [f64; 6] = [0.0, 0.01, 0.03, 0.08, 0.16, 0.3];

/// Beyond this many radii the two independent methods stop looking.
const RADII_COMPARED: f64 = 1.4;

/// What one set-up adds to the account.
#[derive(Clone, Copy, Debug, Default)]
struct Account {
    rays: usize,
    worst_um: f64,
    worst_deg: f64,
}

impl Account {
    fn with(self, other: Self) -> Self {
        Self {
            rays: self.rays + other.rays,
            worst_um: self.worst_um.max(other.worst_um),
            worst_deg: self.worst_deg.max(other.worst_deg),
        }
    }
}

/// Compares many set-ups on both cores; the account is the same for any number of threads.
fn check(setups: &[Setup], compare: impl Fn(&Setup) -> Account + Sync) -> Account {
    let half = setups.len() / 2;
    let fold =
        |setups: &[Setup]| setups.iter().map(&compare).fold(Account::default(), Account::with);
    std::thread::scope(|scope| {
        let first = scope.spawn(|| fold(&setups[..half]));
        let second = fold(&setups[half..]);
        first.join().map_or_else(|panic| std::panic::resume_unwind(panic), |it| it.with(second))
    })
}

/// The rays on which a set-up is compared, with the kernel's radius.
fn compared_rays(setup: &Setup, kernel: &GroundSection) -> Vec<(f64, f64)> {
    let radius = |at: f64| kernel.radius_at(Angle::from_radians(at)).map(Length::mm);
    let near = |radius: &f64| *radius < RADII_COMPARED * setup.radius_mm();
    RAYS_RAD.into_iter().filter_map(|at| radius(at).filter(near).map(|mm| (at, mm))).collect()
}

fn against_dense(setup: &Setup) -> Account {
    let kernel = kernel(setup, 2);
    let dense = DenseSection::new(setup).unwrap_or_else(|| panic!("no section: {setup:?}"));
    let place_um = (kernel.wheel_from_axis().mm() - dense.wheel_from_axis_mm()).abs() * 1000.0;
    assert!(place_um <= DENSE_UM, "wheel off by {place_um} um: {setup:?}");
    let mut account = Account::default();
    for (at, radius_mm) in compared_rays(setup, &kernel) {
        let other_mm = dense.radius_mm(at).unwrap_or_else(|| panic!("no ray {at}: {setup:?}"));
        let miss_um = (radius_mm - other_mm).abs() * 1000.0;
        assert!(miss_um <= DENSE_UM, "{miss_um} um at {at} rad: {setup:?}");
        account = account.with(Account { rays: 1, worst_um: miss_um, worst_deg: 0.0 });
    }
    let (Some(ours), Some(theirs)) = (kernel.edge_relief(), dense.edge_relief()) else {
        panic!("no relief at the edge: {setup:?}");
    };
    if theirs.spread_rad < 1e-5 {
        let miss_deg = (ours.degrees() - theirs.relief_rad.to_degrees()).abs();
        assert!(miss_deg <= DENSE_DEG, "relief off by {miss_deg} deg: {setup:?}");
        account = account.with(Account { worst_deg: miss_deg, ..Account::default() });
    }
    account
}

#[test]
fn sections_agree_with_a_dense_scan() {
    let setups = random_setups(SEED, 400);
    let account = check(&setups, against_dense);
    assert!(account.rays > 1800, "only {} rays were compared", account.rays);
    let drags = setups.iter().filter(|setup| kernel(setup, 2).edge_relief() < Some(Angle::ZERO));
    assert!(drags.count() > 20, "the set-ups hardly cover heel drag");
    assert!(
        account.worst_um > 0.0,
        "an agreement without any rounding compares a thing with itself"
    );
}

/// Slices and chords of the polygon route in the test; its error bound comes with each ray.
const SLICES: usize = 1500;
const CHORDS: usize = 160;

/// Polygons stand outside the true section by their bound and never inside it by more than this.
const POLYGON_INSIDE_UM: f64 = 0.1;

fn against_polygons(setup: &Setup) -> Account {
    let kernel = kernel(setup, 2);
    let rays = compared_rays(setup, &kernel);
    let angles: Vec<f64> = rays.iter().map(|(at, _)| *at).collect();
    let wheel_mm = kernel.wheel_from_axis().mm();
    let polygons = polygon_section(setup, wheel_mm, &angles, SLICES, CHORDS);
    let mut account = Account::default();
    let found = polygons.radii_mm.iter().zip(&polygons.bounds_mm);
    for ((at, radius_mm), (other_mm, bound_mm)) in rays.into_iter().zip(found) {
        let other_mm = other_mm.unwrap_or_else(|| panic!("no ray {at}: {setup:?}"));
        let outside_um = (other_mm - radius_mm) * 1000.0;
        let bound_um = (bound_mm + polygons.sagitta_mm) * 1000.0 + POLYGON_INSIDE_UM;
        let span = -POLYGON_INSIDE_UM..=bound_um;
        assert!(span.contains(&outside_um), "{outside_um} um at {at}, {bound_um}: {setup:?}");
        account = account.with(Account { rays: 1, worst_um: outside_um, worst_deg: 0.0 });
    }
    account
}

#[test]
fn sections_agree_with_polygon_booleans() {
    let setups = random_setups(SEED + 1, 200);
    let account = check(&setups, against_polygons);
    assert!(account.rays > 900, "only {} rays were compared", account.rays);
    assert!(account.worst_um < 20.0, "polygons so coarse ({account:?}) prove little");
}
