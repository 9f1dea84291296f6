//! Seeded random set-ups over the range of the work, and some beyond it.

use super::setup::{Setup, Wheel};

/// Greatest turn of the tooth over the face's width, in radians; beyond it the wheel would meet
/// the same tooth twice.
const TWIST_OVER_FACE_MAX_RAD: f64 = 2.5;

/// Steepest machine angle at which the leading corner is asked to cut, in radians.
const CORNER_ANGLE_MAX_RAD: f64 = 0.7;

/// Greatest share of the wheel's radius at which the edge stands from the wheel's own centre.
const HEIGHT_SHARE_MAX: f64 = 0.5;

/// What a set-up is drawn for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Purpose {
    /// Whatever the ranges give.
    Plain,
    /// A lean of exactly nothing.
    Square,
    /// A rest so far into the face that the leading corner cuts above centre: heel drag.
    Drag,
    /// A face leaning so that it leaves the eccentric relief along the helix.
    Eccentric,
}

const PURPOSES: [Purpose; 4] = [Purpose::Plain, Purpose::Square, Purpose::Drag, Purpose::Eccentric];

/// The splitmix64 generator: small, seeded, the same on every machine.
#[derive(Clone, Debug)]
pub struct Splitmix(u64);

impl Splitmix {
    /// A generator that starts from `seed`.
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// A number from `low` to `high`, evenly spread.
    pub fn even(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A number from `low` to `high`, its logarithm evenly spread; both must be positive.
    pub fn by_size(&mut self, low: f64, high: f64) -> f64 {
        self.even(low.ln(), high.ln()).exp()
    }

    /// True once in `count` draws.
    pub fn once_in(&mut self, count: u64) -> bool {
        self.bits().is_multiple_of(count)
    }
}

/// `count` sound set-ups from `seed`: the same seed gives the same set-ups.
///
/// They take turns through both wheels, both senses of the helix, both ways the face may run,
/// the four purposes (plain, no lean, heel drag, eccentric) and corners of which a third are
/// round. Cutters 1 to 200 mm; helix 0 to 60 deg; lean 0 to 5 deg; wheels 50 to 250 mm; settings
/// 2 to 25 deg, less where a big cutter would reach past its wheel, and nothing for some discs.
pub fn random_setups(seed: u64, count: usize) -> Vec<Setup> {
    let mut draw = Splitmix::new(seed);
    (0..count).map(|turn| one_setup(&mut draw, turn)).collect()
}

fn one_setup(draw: &mut Splitmix, turn: usize) -> Setup {
    loop {
        let setup = attempt(draw, turn);
        if is_workable(&setup) {
            return setup;
        }
    }
}

fn attempt(draw: &mut Splitmix, turn: usize) -> Setup {
    let purpose = PURPOSES[(turn / 8) % 4];
    let mut setup = cutter_and_wheel(draw, turn, purpose);
    angles(draw, &mut setup, purpose);
    setup.face_width_mm = face_width(draw, &setup);
    if turn % 3 == 1 {
        let most = (0.3 * setup.face_width_mm).min(0.5);
        setup.corner_radius_mm = draw.by_size(0.01 * most, most);
    }
    setup.inset_mm = inset(draw, &setup, purpose);
    setup
}

fn cutter_and_wheel(draw: &mut Splitmix, turn: usize, purpose: Purpose) -> Setup {
    let wheel = if turn.is_multiple_of(2) { Wheel::Cup } else { Wheel::Disc };
    let nominal = draw.by_size(1.0, 200.0);
    let same_hand = turn & 2 == 0;
    let straight = matches!(purpose, Purpose::Plain | Purpose::Square) && draw.once_in(5);
    // The eccentric relief and the heel drag each need the face to run one way along the helix.
    let toward_tip = match purpose {
        Purpose::Drag => same_hand,
        Purpose::Eccentric => !same_hand,
        Purpose::Plain | Purpose::Square => turn & 4 == 0,
    };
    Setup {
        wheel,
        diameter_mm: draw.even(50.0, 250.0),
        face_width_mm: 1.0,
        corner_radius_mm: 0.0,
        nominal_diameter_mm: nominal,
        new_diameter_mm: nominal * draw.even(0.9, 1.0),
        helix_rad: if straight { 0.0 } else { draw.even(1.0, 60.0).to_radians() },
        same_hand,
        lean_rad: 0.0,
        toward_tip,
        inset_mm: 0.0,
        setting_rad: 0.0,
        centre_above_mm: 0.0,
    }
}

/// Chooses setting, height of the wheel and lean.
fn angles(draw: &mut Splitmix, setup: &mut Setup, purpose: Purpose) {
    setup.setting_rad = draw.even(2.0, 25.0).to_radians();
    if setup.wheel == Wheel::Disc {
        if draw.once_in(6) {
            setup.setting_rad = 0.0;
        }
        if !draw.once_in(3) {
            let share = draw.even(-0.05, 0.25);
            setup.centre_above_mm = share * setup.wheel_radius_mm();
        }
    }
    let tangent = setup.helix_rad.tan();
    setup.lean_rad = match purpose {
        Purpose::Square => 0.0,
        Purpose::Plain | Purpose::Drag => draw.even(0.05, 5.0).to_radians(),
        Purpose::Eccentric => {
            let most = (5.0_f64.to_radians().tan() / tangent).atan().to_degrees().min(20.0);
            let relief = draw.even(0.3 * most, most).to_radians();
            let beside = draw.even(-1.0, 1.0).to_radians();
            setup.setting_rad = (relief + beside).max(2.0_f64.to_radians());
            (relief.tan() * tangent).atan()
        }
    };
}

fn face_width(draw: &mut Splitmix, setup: &Setup) -> f64 {
    let wanted = match setup.wheel {
        Wheel::Cup => draw.by_size(0.3, 12.0),
        Wheel::Disc => draw.by_size(0.5, 20.0),
    };
    let twist = setup.twist_per_mm().abs().max(1e-9);
    wanted.min(TWIST_OVER_FACE_MAX_RAD / twist)
}

fn inset(draw: &mut Splitmix, setup: &Setup, purpose: Purpose) -> f64 {
    let past_centre = draw.even(0.5, 8.0).to_radians() + setup.setting_rad;
    match purpose {
        Purpose::Drag => past_centre / setup.twist_per_mm().abs(),
        _ if draw.once_in(8) => 0.0,
        _ if draw.once_in(4) => 0.98 * setup.face_width_mm,
        _ => draw.even(0.0, 0.95) * setup.face_width_mm,
    }
}

/// True for a set-up that a hand could stand up on a machine: the rest on the face, the corner
/// not far round the cutter, and the edge well within the height of the wheel, also where the
/// rim curves away from the corner at the edge's height.
pub fn is_workable(setup: &Setup) -> bool {
    let radius = setup.radius_mm();
    let wheel = setup.wheel_radius_mm();
    let most = HEIGHT_SHARE_MAX * wheel;
    let angle = |t: f64| setup.machine_angle_rad(0.0, t);
    let height = |t: f64| (radius * angle(t).sin() - setup.centre_above_mm).abs();
    let corner = setup.corner_t_mm();
    if !setup.is_sound() || height(corner) > most || height(0.0) > most {
        return false;
    }
    let fall = wheel - (wheel * wheel - height(corner).powi(2)).sqrt();
    let beside = corner + setup.facing() * 2.0 * fall;
    let near_centre = |t: f64| angle(t).abs() <= CORNER_ANGLE_MAX_RAD;
    setup.inset_mm <= 0.98 * setup.face_width_mm
        && near_centre(corner)
        && (setup.wheel == Wheel::Disc || (near_centre(beside) && height(beside) <= most))
}
