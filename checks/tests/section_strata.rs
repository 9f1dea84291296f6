//! The kernel's section where it comes near to breaking down, against the dense scan of the wheel
//! (grade D), each kind of such set-ups by itself.

#![expect(clippy::panic, reason = "a comparison that cannot be made must stop the test")]
#![allow(clippy::unwrap_used, reason = "a helper that stops a test is part of it")]

use checks::reference::dense::DenseSection;
use checks::reference::random::{Splitmix, is_workable, random_setups};
use checks::reference::setup::{Setup, Wheel};
use geometry::{Angle, Length};

#[expect(dead_code, reason = "what is refused is counted here, and does not stop the test")]
mod common;
#[path = "common/page.rs"]
mod page;

use common::asked;

const SEED: u64 = 20_261_130;

/// Agreement of every ray with the dense scan, whose own error is stated as 0.05 µm.
const RAY_UM: f64 = 0.1;

/// Set-ups of each kind.
const CASES: usize = 30;

/// Rays compared besides the edge, as angles behind it.
const RAYS_RAD: [f64; 5] = [0.0, 0.01, 0.04, 0.1, 0.25];

/// Beyond this many radii the scan stops looking.
const RADII_COMPARED: f64 = 1.4;

/// A number that is next to nothing.
fn hair(random: &mut Splitmix) -> f64 {
    if random.once_in(4) { 0.0 } else { 10.0_f64.powf(random.even(-12.0, -4.0)) }
}

/// What the worst of a kind may miss the scan by: the wheel's place, the radius, the relief at the
/// edge, and the gap to the next tooth's edge where the kind is about that. Each stands some five
/// times above what was found, but for the radius, whose interpolation is allowed 0.02 µm.
#[derive(Clone, Copy, Debug)]
struct Allowed {
    place_um: f64,
    radius_um: f64,
    relief_deg: f64,
    gap_um: f64,
}

/// What holds where nothing breaks down.
const PLAIN: Allowed = Allowed { place_um: 5e-5, radius_um: 0.02, relief_deg: 3e-6, gap_um: 0.0 };

/// A kind: its name, what it may miss by, how its set-ups are bent, and how many teeth they have.
type Stratum = (&'static str, Allowed, fn(&mut Setup, &mut Splitmix) -> u32);

const STRATA: [Stratum; 9] = [
    ("as drawn", PLAIN, |_, _| 2),
    (
        "rest at the leading corner",
        Allowed { place_um: 1e-3, relief_deg: 7e-4, ..PLAIN },
        |setup, random| {
            setup.inset_mm = hair(random) * setup.face_width_mm;
            2
        },
    ),
    ("rest at the face's far end", PLAIN, |setup, random| {
        setup.inset_mm = (0.98 - hair(random)) * setup.face_width_mm;
        2
    }),
    ("lean of next to nothing", Allowed { place_um: 1e-3, ..PLAIN }, |setup, random| {
        setup.lean_rad = hair(random);
        2
    }),
    ("helix of next to nothing", PLAIN, |setup, random| {
        setup.helix_rad = hair(random);
        2
    }),
    (
        "lean and helix of next to nothing",
        Allowed { place_um: 5e-4, relief_deg: 2e-4, ..PLAIN },
        |setup, random| {
            (setup.lean_rad, setup.helix_rad) = (hair(random), hair(random));
            2
        },
    ),
    ("relief at the helix's limit", PLAIN, |setup, random| {
        setup.toward_tip = !setup.same_hand;
        setup.setting_rad = random.even(0.03, 0.15);
        let limit = (setup.setting_rad.tan() * setup.helix_rad.tan()).atan();
        setup.lean_rad =
            limit * (1.0 + if random.once_in(2) { hair(random) } else { -hair(random) });
        2
    }),
    (
        "tooth gap nearly closed",
        Allowed { place_um: 1e-2, gap_um: 5e-5, ..PLAIN },
        |setup, random| {
            // A plane through the edge meets the circle again at twice its angle.
            let teeth = 8 + (random.bits() % 30) as u32;
            let half_pitch = std::f64::consts::PI / f64::from(teeth);
            setup.wheel = Wheel::Cup;
            (setup.centre_above_mm, setup.corner_radius_mm) = (0.0, 0.0);
            setup.setting_rad = half_pitch * (1.0 - hair(random));
            setup.helix_rad = 0.0;
            setup.lean_rad = hair(random);
            teeth
        },
    ),
    (
        "corner worn round, a hair to the whole face",
        Allowed { place_um: 1e-2, relief_deg: 4e-3, ..PLAIN },
        |setup, random| {
            let share = if random.once_in(2) { 0.98 } else { 1e-3 * random.even(0.01, 1.0) };
            setup.corner_radius_mm = share * setup.face_width_mm;
            2
        },
    ),
];

/// The worst misses of one kind.
#[derive(Clone, Copy, Debug, Default)]
struct Worst {
    cases: usize,
    refused: usize,
    rays: usize,
    radius_um: f64,
    place_um: f64,
    relief_deg: f64,
    gap_um: f64,
}

/// Adds one set-up, of so many teeth, to the account.
fn miss(setup: &Setup, teeth: u32, worst: &mut Worst) {
    let Ok(ours) = asked(setup, teeth) else {
        worst.refused += 1;
        return;
    };
    let dense = DenseSection::new(setup).unwrap_or_else(|| panic!("no section: {setup:?}"));
    worst.cases += 1;
    let place_um = (ours.wheel_from_axis().mm() - dense.wheel_from_axis_mm()).abs() * 1e3;
    worst.place_um = worst.place_um.max(place_um);
    for at_rad in RAYS_RAD {
        let radius_mm = ours.radius_at(Angle::from_radians(at_rad)).map(Length::mm);
        let near = radius_mm.filter(|mm| *mm < RADII_COMPARED * setup.radius_mm());
        let Some((one, other)) = near.zip(dense.radius_mm(at_rad)) else { continue };
        worst.rays += 1;
        worst.radius_um = worst.radius_um.max((one - other).abs() * 1e3);
        assert!((one - other).abs() * 1e3 < RAY_UM, "{one} {other} at {at_rad}: {setup:?}");
    }
    if let Some((ours, theirs)) = ours.edge_relief().zip(dense.edge_relief())
        && theirs.spread_rad < 1e-5
    {
        let miss_deg = (ours.degrees() - theirs.relief_rad.to_degrees()).abs();
        worst.relief_deg = worst.relief_deg.max(miss_deg);
    }
    if teeth > 2
        && let Some(gap) = ours.next_tooth_gap()
    {
        let pitch_rad = std::f64::consts::TAU / f64::from(teeth);
        let seen = [pitch_rad, -pitch_rad].into_iter().filter_map(|at| dense.radius_mm(at));
        let seen_mm = seen.fold(f64::INFINITY, f64::min) - setup.radius_mm();
        worst.gap_um = worst.gap_um.max((gap.mm() - seen_mm).abs() * 1e3);
    }
}

fn stratum(seed: u64, bend: impl Fn(&mut Setup, &mut Splitmix) -> u32) -> Worst {
    let mut random = Splitmix::new(SEED + seed);
    let mut worst = Worst::default();
    for mut setup in random_setups(SEED + seed, 20 * CASES) {
        let teeth = bend(&mut setup, &mut random);
        if is_workable(&setup) {
            miss(&setup, teeth, &mut worst);
        }
        if worst.cases == CASES {
            break;
        }
    }
    worst
}

/// Source: own derivation of high precision, grade D. The table stands in docs/NUMBERS.md.
#[test]
fn sections_near_breaking_down_agree_with_a_dense_scan() {
    let all: Vec<Worst> = std::thread::scope(|scope| {
        let run = |(seed, (_, _, bend)): (usize, &Stratum)| stratum(seed as u64, bend);
        let (even, odd): (Vec<_>, Vec<_>) =
            STRATA.iter().enumerate().partition(|(index, _)| index % 2 == 0);
        let first = scope.spawn(move || even.into_iter().map(run).collect::<Vec<_>>());
        let second: Vec<Worst> = odd.into_iter().map(run).collect();
        let first = first.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        let mut second = second.into_iter();
        first.into_iter().flat_map(|one| std::iter::once(one).chain(second.next())).collect()
    });
    let mut table = String::new();
    for ((name, allowed, _), worst) in STRATA.iter().zip(&all) {
        let gap = if allowed.gap_um > 0.0 {
            format!("{:.1e} um", worst.gap_um)
        } else {
            "–".to_owned()
        };
        table += &format!(
            "| {name} | {} | {} | {} | {:.1e} um | {:.1e} um | {:.1e} deg | {gap} |\n",
            worst.cases,
            worst.refused,
            worst.rays,
            worst.place_um,
            worst.radius_um,
            worst.relief_deg,
        );
    }
    println!("{table}");
    page::hold("strata", &format!("{HEAD}{table}"));
    for ((name, allowed, _), worst) in STRATA.iter().zip(&all) {
        assert_eq!(worst.cases, CASES, "{name}: too few set-ups, {worst:?}");
        assert!(worst.refused <= CASES / 5, "{name}: too many are refused, {worst:?}");
        let misses = [
            (worst.place_um, allowed.place_um),
            (worst.radius_um, allowed.radius_um),
            (worst.relief_deg, allowed.relief_deg),
            (worst.gap_um, allowed.gap_um),
        ];
        let is_held = |(miss, most): &(f64, f64)| miss <= most;
        assert!(misses.iter().all(is_held), "{name}: {worst:?}, {allowed:?}");
    }
}

const HEAD: &str = "\
| set-ups | cases | refused | rays | wheel's place | radius | relief at the edge | next gap |
|---|---|---|---|---|---|---|---|
";
