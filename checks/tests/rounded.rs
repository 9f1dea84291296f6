//! A rounded corner swung about a pivot against what shares no code with it: every swing in small
//! steps, every ray of the tooth followed into the wheel (own derivation, grade D).

#![allow(clippy::unwrap_used, reason = "a helper that stops a test is part of it")]

use checks::reference::random::Splitmix;
use checks::reference::round::{RoundScene, RoundWheel};
use geometry::end::{
    RoundBy, RoundCorner, RoundCut, RoundEdge, RoundHold, RoundSetup, RoundStance,
};
use geometry::wheel::{Corner, CupShape, DiscShape, WheelBody};
use geometry::{Angle, Length};

#[path = "common/page.rs"]
mod page;

const SEED: u64 = 20_261_201;

/// What is left may differ by this from the swept wheel, whose steps cost a nanometre.
const LEFT_UM: f64 = 0.02;

/// Gaps may differ by this: the kernel states 0.004 mm, the points are 0.05 mm apart.
const GAP_MM: f64 = 0.012;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

/// One case.
#[derive(Clone, Copy, Debug)]
struct Case {
    wheel: RoundWheel,
    cutter_mm: f64,
    round_mm: f64,
    helix_deg: f64,
    hold: RoundHold,
    relief_deg: f64,
    over_mm: f64,
    teeth: u32,
}

fn body(wheel: &RoundWheel) -> WheelBody {
    let RoundWheel { is_cup, radius_mm, width_mm } = *wheel;
    let (leading, trailing) = (Corner::Sharp, Corner::Sharp);
    let (diameter_mm, face_width_mm) = (2.0 * radius_mm, width_mm);
    let made = if is_cup {
        let (outer_wall_rad, inner_wall_rad) = (0.0, 0.0);
        WheelBody::cup(&CupShape {
            diameter_mm,
            face_width_mm,
            outer_wall_rad,
            inner_wall_rad,
            leading,
            trailing,
        })
    } else {
        WheelBody::disc(&DiscShape { diameter_mm, face_width_mm, leading, trailing })
    };
    made.unwrap()
}

fn ordinary(random: &mut Splitmix) -> Case {
    let cutter_mm = random.even(2.0, 10.0);
    let round_mm = cutter_mm * random.even(0.1, 0.6);
    Case {
        wheel: RoundWheel {
            is_cup: true,
            radius_mm: random.even(40.0, 80.0),
            width_mm: random.even(1.0, 3.0),
        },
        cutter_mm,
        round_mm,
        helix_deg: 0.0,
        hold: RoundHold::Follows,
        relief_deg: random.even(5.0, 12.0),
        over_mm: round_mm * random.even(0.1, 0.3),
        teeth: 2,
    }
}

/// A stratum: its name and how its cases are bent.
type Stratum = (&'static str, fn(Case, &mut Splitmix) -> Case);

fn disc(random: &mut Splitmix) -> RoundWheel {
    RoundWheel {
        is_cup: false,
        radius_mm: random.even(50.0, 90.0),
        width_mm: random.even(2.0, 8.0),
    }
}

const STRATA: [Stratum; 6] = [
    ("corner, straight, cup", |case, _| case),
    ("corner, helix on a rest, cup", |case, random| Case {
        helix_deg: random.even(10.0, 40.0),
        ..case
    }),
    ("corner, helix locked, cup", |case, random| Case {
        helix_deg: random.even(10.0, 30.0),
        hold: RoundHold::Locked,
        ..case
    }),
    ("ball, straight, cup", |case, _| Case { round_mm: case.cutter_mm, ..case }),
    ("ball, helix on a rest, cup", |case, random| Case {
        round_mm: case.cutter_mm,
        helix_deg: random.even(10.0, 35.0),
        ..case
    }),
    ("corner, helix on a rest, disc", |case, random| Case {
        wheel: disc(random),
        helix_deg: random.even(10.0, 35.0),
        ..case
    }),
];

#[derive(Clone, Copy, Debug, Default)]
struct Worst {
    left_um: f64,
    form_um: f64,
    relief_deg: f64,
}

impl Worst {
    fn with(self, other: Self) -> Self {
        Self {
            left_um: self.left_um.max(other.left_um),
            form_um: self.form_um.max(other.form_um),
            relief_deg: self.relief_deg.max(other.relief_deg),
        }
    }
}

fn solved(case: &Case) -> RoundSetup {
    let tan = case.helix_deg.to_radians().tan();
    let edge = RoundEdge {
        round: RoundCorner::new(mm(case.round_mm), mm(2.0 * case.cutter_mm)).unwrap(),
        teeth: case.teeth,
        turn_per_mm: Angle::from_radians(tan / case.cutter_mm),
        rake: Angle::ZERO,
        inner: Length::ZERO,
        flute: mm(4.0 * case.cutter_mm),
    };
    let steepest = (case.relief_deg + 4.0).to_radians().tan();
    let stance = RoundStance {
        lean: Angle::from_radians((tan * steepest).atan()) + deg(0.5),
        axis_above_edge: Length::ZERO,
        wheel_tilt: Angle::ZERO,
    };
    let by = if case.wheel.is_cup { RoundBy::Tilt } else { RoundBy::Height };
    let level = RoundSetup::new(edge, case.hold, body(&case.wheel), stance).unwrap();
    level.relieved(deg(case.relief_deg), mm(case.over_mm), by).unwrap()
}

fn scene(case: &Case, setup: &RoundSetup, cut: &RoundCut<'_>) -> RoundScene {
    let stance = setup.stance();
    RoundScene {
        wheel: case.wheel,
        lean_rad: stance.lean.radians(),
        tilt_rad: stance.wheel_tilt.radians(),
        above_mm: stance.axis_above_edge.mm(),
        front_mm: cut.front().mm(),
        beside_mm: cut.pivot().beside.mm(),
        past_mm: cut.pivot().past.mm(),
        round_mm: case.round_mm,
        turn_per_mm: case.helix_deg.to_radians().tan() / case.cutter_mm,
        follows: case.hold == RoundHold::Follows,
    }
}

fn swings() -> (f64, f64) {
    (-1.0_f64.to_radians(), 91.0_f64.to_radians())
}

fn miss(case: &Case) -> Worst {
    let setup = solved(case);
    let cut = setup.blended().unwrap();
    let scene = scene(case, &setup, &cut);
    let mut worst = Worst::default();
    for degrees in [0.0_f64, 20.0, 45.0, 90.0] {
        let place = degrees.to_radians();
        let edge = scene.left_mm(place, 0.0, swings());
        let behind = scene.left_mm(place, case.over_mm, swings());
        let told = |heel: f64| cut.left_at(deg(degrees), mm(heel)).unwrap().mm();
        let missed = (edge - told(0.0)).abs().max((behind - told(case.over_mm)).abs());
        worst.left_um = worst.left_um.max(missed * 1e3);
        // The wanted circle stands the radius inside periphery and end.
        let x = scene.beside_mm + edge * place.sin() - (case.cutter_mm - case.round_mm);
        let y = case.round_mm - (scene.past_mm - edge * place.cos());
        if case.hold == RoundHold::Follows {
            worst.form_um = worst.form_um.max((x.hypot(y) - case.round_mm).abs() * 1e3);
        }
    }
    // Halfway the relief is that which was wanted: the place behind the edge, turned back into the
    // edge's plane, against the edge there, which is round on a rest.
    if case.hold == RoundHold::Follows {
        let half = 45.0_f64.to_radians();
        let behind = scene.left_mm(half, case.over_mm, swings());
        let out = (scene.beside_mm + behind * half.sin()).hypot(case.over_mm);
        let (x, y) = (out - scene.beside_mm, behind * half.cos());
        let relief = ((case.round_mm - x.hypot(y)) / case.over_mm).atan().to_degrees();
        worst.relief_deg = (relief - case.relief_deg).abs();
    }
    worst
}

/// Source: own derivation of high precision, grade D. The table stands in docs/NUMBERS.md.
#[test]
fn a_swung_round_is_left_as_the_plan_says() {
    const CASES: usize = 8;
    let mut table = String::from(HEAD);
    let mut all = Worst::default();
    for (seed, (name, bend)) in STRATA.iter().enumerate() {
        let mut random = Splitmix::new(SEED + seed as u64);
        let worst = (0..CASES).fold(Worst::default(), |worst, _| {
            let case = ordinary(&mut random);
            worst.with(miss(&bend(case, &mut random)))
        });
        table += &format!(
            "| {name} | {CASES} | {:.1e} um | {:.1e} um | {:.1e} deg |\n",
            worst.left_um, worst.form_um, worst.relief_deg
        );
        all = all.with(worst);
    }
    println!("{table}");
    assert!(all.left_um < LEFT_UM, "{all:?}");
    assert!(all.form_um < 0.05 && all.relief_deg < 1e-3, "{all:?}");
    page::hold("rounds", &table);
}

const HEAD: &str = "\
| rounds | cases | what is left | off the circle, on a rest | relief halfway |
|---|---|---|---|---|
";

/// Source: own derivation, grade D: points all along the next edge at every swing. Of a ball with
/// four teeth the tipped wheel cuts the next one near the middle; of two it does not.
#[test]
fn the_gap_to_the_next_edge_is_that_of_points() {
    for (teeth, helix_deg, round_mm) in [(2, 30.0, 3.0), (4, 30.0, 3.0), (4, 20.0, 1.0)] {
        let case = Case {
            wheel: RoundWheel { is_cup: true, radius_mm: 50.0, width_mm: 2.0 },
            cutter_mm: 3.0,
            round_mm,
            helix_deg,
            hold: RoundHold::Follows,
            relief_deg: 9.0,
            over_mm: 0.3,
            teeth,
        };
        let setup = solved(&case);
        let cut = setup.blended().unwrap();
        let scene = scene(&case, &setup, &cut);
        let beyond = 0.3_f64;
        let told = cut.gap_to_tooth(1, mm(beyond), RoundCut::swings().0).mm();
        let beside = case.cutter_mm - round_mm;
        let end = (0..200).map(|at| (beyond + 0.05 * f64::from(at), 0.0));
        let arc = (0..=900).map(|at| {
            let (sin, cos) = (f64::from(at) * 0.1_f64.to_radians()).sin_cos();
            (beside + round_mm * sin, round_mm * (1.0 - cos))
        });
        let side = (0..200).map(|at| (case.cutter_mm, round_mm + 0.05 * f64::from(at)));
        let edge: Vec<(f64, f64)> = end
            .filter(|&(out, _)| out < beside)
            .chain(arc.filter(|&(out, _)| out >= beyond))
            .chain(side)
            .collect();
        let turn = std::f64::consts::TAU / f64::from(teeth);
        let seen = scene.nearest_mm(&edge, turn, swings());
        assert!((told - seen).abs() < GAP_MM, "{teeth} {round_mm}: {told} told, {seen} seen");
        assert!((seen < 0.0) == (teeth == 4 && round_mm == 3.0), "{teeth} {round_mm}: {seen}");
    }
}
