//! What else the wheel comes near, against points by brute force (grade D): points all over the
//! wheel and all over the cutter at every stand of the table, no code shared.

#![allow(clippy::unwrap_used, reason = "a helper that stops a test is part of it")]

use checks::reference::random::Splitmix;
use checks::reference::space::{SpaceCutter, SpaceRound, SpaceWheel};
use geometry::clearance::{Begin, Finger, Passage, Travel, WheelBack};
use geometry::outline::WornTooth;
use geometry::screw::{Flutes, Hand};
use geometry::section::{GroundSection, Setup, Stance};
use geometry::wheel::{Corner, CupShape, DiscShape, FaceToward, WheelBody};
use geometry::{Angle, Length};

#[path = "common/page.rs"]
mod page;

const SEED: u64 = 20_261_130;

/// The kernel states 0.005 mm for a gap, 0.01 mm at a rounded corner; points stand a little farther
/// off than the bodies that they are taken from.
const GAP_MM: f64 = 0.015;

/// Where a part may begin the kernel leaves up to 0.02 mm more than was asked for, and points show
/// a little more again.
const BEGIN_MM: f64 = 0.03;

fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

fn deg(degrees: f64) -> Angle {
    Angle::from_degrees(degrees)
}

/// One set-up with the parts of its cutter.
#[derive(Clone, Copy, Debug)]
struct Case {
    is_cup: bool,
    wheel_mm: f64,
    face_mm: f64,
    walls_deg: (f64, f64),
    depth_mm: f64,
    worn_mm: f64,
    lean_deg: f64,
    toward: FaceToward,
    inset_mm: f64,
    setting_deg: f64,
    diameter_mm: f64,
    teeth: u32,
    helix_deg: f64,
    agree: bool,
    flute_mm: f64,
    shank_mm: f64,
    head_mm: f64,
}

fn ordinary(random: &mut Splitmix) -> Case {
    let is_cup = random.even(0.0, 1.0) < 0.7;
    let diameter_mm = random.by_size(6.0, 40.0);
    let agree = random.even(0.0, 1.0) < 0.8;
    let wall = random.even(0.0, 25.0);
    Case {
        is_cup,
        wheel_mm: random.even(60.0, 150.0),
        face_mm: random.even(1.0, 4.0),
        walls_deg: if is_cup { (wall, wall) } else { (0.0, 0.0) },
        depth_mm: random.even(20.0, 50.0),
        worn_mm: if random.once_in(3) { random.even(0.05, 0.3) } else { 0.0 },
        lean_deg: random.even(0.3, 3.0),
        toward: if agree { FaceToward::Tip } else { FaceToward::Shank },
        inset_mm: random.even(0.0, 0.6),
        setting_deg: random.even(4.0, 14.0),
        diameter_mm,
        teeth: 2 + (random.even(0.0, 5.0) as u32),
        helix_deg: random.even(0.0, 40.0),
        agree,
        flute_mm: diameter_mm * random.even(1.0, 3.0),
        shank_mm: diameter_mm * random.even(0.7, 1.0),
        head_mm: random.even(30.0, 70.0),
    }
}

impl Case {
    fn body(&self) -> WheelBody {
        let leading = match self.worn_mm {
            worn if worn > 0.0 => Corner::Worn { face_mm: worn, flank_mm: 0.6 * worn },
            _ => Corner::Sharp,
        };
        let (diameter_mm, face_width_mm) = (self.wheel_mm, self.face_mm);
        let trailing = Corner::Sharp;
        let (outer_wall_rad, inner_wall_rad) =
            (self.walls_deg.0.to_radians(), self.walls_deg.1.to_radians());
        let made = if self.is_cup {
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

    fn section(&self) -> Option<GroundSection> {
        let flutes = Flutes {
            nominal_diameter: mm(self.diameter_mm),
            teeth: self.teeth,
            hand: Hand::Right,
            helix: deg(self.helix_deg),
            helix_hand: if self.agree { Hand::Right } else { Hand::Left },
        };
        let stance = Stance {
            lean: deg(self.lean_deg),
            face_toward: self.toward,
            rest_inset: mm(self.inset_mm),
            relief_setting: deg(self.setting_deg),
            axis_above: Length::ZERO,
            tilt: Angle::ZERO,
        };
        let setup = Setup::new(flutes, self.body(), stance).ok()?;
        setup.section(mm(0.98 * self.diameter_mm)).ok()
    }

    fn facing(&self) -> f64 {
        if self.toward == FaceToward::Tip { 1.0 } else { -1.0 }
    }

    /// The half section by its corners, a worn corner cut off.
    fn half_section(&self) -> Vec<(f64, f64)> {
        let (outer, worn) = (0.5 * self.wheel_mm, self.worn_mm);
        if !self.is_cup {
            let leading = if worn > 0.0 {
                vec![(outer - 0.6 * worn, 0.0), (outer, worn)]
            } else {
                vec![(outer, 0.0)]
            };
            let mut corners = vec![(0.0, 0.0)];
            corners.extend(leading);
            corners.extend([(outer, self.face_mm), (0.0, self.face_mm)]);
            return corners;
        }
        let (inner, depth) = (outer - self.face_mm, self.depth_mm);
        let wall = |from: f64, angle: f64, deep: f64| from - deep * angle.to_radians().tan();
        let mut corners = vec![(wall(inner, self.walls_deg.1, depth), depth), (inner, 0.0)];
        if worn > 0.0 {
            let (sin, cos) = self.walls_deg.0.to_radians().sin_cos();
            corners.push((outer - worn, 0.0));
            corners.push((outer - 0.6 * worn * sin, 0.6 * worn * cos));
        } else {
            corners.push((outer, 0.0));
        }
        // The back of a cup is a plate over its hollow.
        corners.push((wall(outer, self.walls_deg.0, depth), depth));
        corners.push((0.0, depth));
        corners
    }

    fn space_wheel(&self, section: &GroundSection) -> SpaceWheel {
        let corner = [-self.facing() * self.inset_mm, section.leading_corner_from_axis().mm(), 0.0];
        let standing = (self.is_cup, self.lean_deg.to_radians(), self.facing());
        SpaceWheel::leaning(self.half_section(), standing, (corner, 0.5 * self.wheel_mm))
    }

    fn travel(&self) -> Travel {
        Travel { past_tip: mm(self.inset_mm + 0.1), from_tip: mm(self.flute_mm) }
    }

    fn tips(&self) -> (f64, f64) {
        (-self.inset_mm - 0.1, self.flute_mm)
    }

    fn tooth(&self) -> WornTooth {
        WornTooth {
            sharp_radius: mm(0.5 * self.diameter_mm),
            rake: deg(5.0),
            primary: deg(9.0),
            secondary: deg(20.0),
            land: mm(0.03 * self.diameter_mm),
            thickness: mm(0.35 * self.diameter_mm * 3.1 / f64::from(self.teeth)),
            wear_land: Length::ZERO,
        }
    }
}

/// The worst misses of some cases, and how often the wheel cut.
#[derive(Clone, Copy, Debug, Default)]
struct Worst {
    cases: usize,
    cuts: usize,
    teeth_mm: f64,
    far_mm: f64,
    shank_mm: f64,
    head_mm: f64,
    begins_mm: f64,
}

impl Worst {
    fn with(self, other: Self) -> Self {
        Self {
            cases: self.cases + other.cases,
            cuts: self.cuts + other.cuts,
            teeth_mm: self.teeth_mm.max(other.teeth_mm),
            far_mm: self.far_mm.max(other.far_mm),
            shank_mm: self.shank_mm.max(other.shank_mm),
            head_mm: self.head_mm.max(other.head_mm),
            begins_mm: self.begins_mm.max(other.begins_mm),
        }
    }
}

/// How long shank and head are taken to be.
const LONG_MM: f64 = 400.0;

/// All gaps of one case, told and seen.
fn miss(case: &Case) -> Option<Worst> {
    use std::f64::consts::{FRAC_PI_2, PI};
    let section = case.section()?;
    let back = WheelBack { depth: mm(case.depth_mm), spindle_diameter: None };
    let passage = Passage::new(&section, &back, case.travel(), mm(case.flute_mm));
    let wheel = case.space_wheel(&section);
    let (whole, far) = ((-PI, PI), (FRAC_PI_2, 3.0 * FRAC_PI_2));
    let radius_mm = 0.5 * case.diameter_mm;
    let mut worst = Worst { cases: 1, ..Worst::default() };
    let part =
        |begins_mm: f64, ends_mm: f64, radius_mm: f64| SpaceRound { begins_mm, ends_mm, radius_mm };
    if let Some(told) = passage.far_side(mm(radius_mm)) {
        // The rim alone, without the back of the cup.
        let mut rim = wheel.clone();
        rim.half_section.pop();
        let seen = rim.to_round(&part(0.0, case.flute_mm, radius_mm), case.tips(), far);
        worst.far_mm = (told.gap.mm() - seen).abs();
        worst.cuts += usize::from(seen < 0.0);
    }
    for (is_head, begins_mm, radius_mm) in [
        (false, case.flute_mm, 0.5 * case.shank_mm),
        (true, case.flute_mm + 10.0, 0.5 * case.head_mm),
    ] {
        let told = passage.behind(mm(radius_mm), mm(begins_mm), mm(LONG_MM))?.gap.mm();
        let seen =
            wheel.to_round(&part(begins_mm, begins_mm + LONG_MM, radius_mm), case.tips(), whole);
        let off = (told - seen).abs();
        if is_head {
            worst.head_mm = off
        } else {
            worst.shank_mm = off
        }
        worst.cuts += usize::from(seen < 0.0);
        // Where it may begin at the earliest, it clears by what was wanted and hardly more.
        let clear_mm = 0.5;
        if let Begin::From(begins) = passage.may_begin(mm(radius_mm), mm(clear_mm)) {
            let begins_mm = begins.mm();
            let part = part(begins_mm, begins_mm + 1000.0, radius_mm);
            let seen = wheel.to_round(&part, case.tips(), whole);
            assert!(seen >= clear_mm, "{seen} is left, {clear_mm} was asked for: {case:?}");
            worst.begins_mm = worst.begins_mm.max(seen - clear_mm);
        }
    }
    let outline = case.tooth().outline(mm(radius_mm));
    let twist = 2.0 * case.helix_deg.to_radians().tan() / case.diameter_mm;
    let cutter = SpaceCutter {
        flute_mm: case.flute_mm,
        tooth: outline.points().iter().map(|p| (p.heelward.radians(), p.radius.mm())).collect(),
        teeth: case.teeth,
        twist_per_mm: if case.agree { twist } else { -twist },
        setting_rad: case.setting_deg.to_radians(),
    };
    if let Some((_, told)) = passage.other_teeth(&outline) {
        let seen = wheel.to_teeth(&cutter, case.tips(), case.is_cup);
        worst.teeth_mm = (told.gap.mm() - seen).abs();
        worst.cuts += usize::from(seen < 0.0);
    }
    Some(worst)
}

/// A stratum: its name and how its cases are bent.
type Stratum = (&'static str, fn(Case, &mut Splitmix) -> Case);

const STRATA: [Stratum; 6] = [
    ("ordinary", |case, _| case),
    ("a level cup, far side in the cutter", |case, random| Case {
        is_cup: true,
        lean_deg: 0.0,
        flute_mm: random.even(80.0, 160.0),
        wheel_mm: random.even(60.0, 80.0),
        ..case
    }),
    ("face toward the shank", |case, random| Case {
        is_cup: true,
        toward: FaceToward::Shank,
        agree: false,
        lean_deg: random.even(0.3, 1.0),
        ..case
    }),
    ("a shank thicker than the cutter", |case, random| Case {
        shank_mm: case.diameter_mm * random.even(1.0, 1.5),
        ..case
    }),
    ("tooth gap nearly closed", |case, _| Case { teeth: 12, setting_deg: 4.0, ..case }),
    ("straight teeth under a disc", |case, _| Case {
        is_cup: false,
        walls_deg: (0.0, 0.0),
        helix_deg: 0.0,
        lean_deg: 0.0,
        ..case
    }),
];

fn stratum(seed: u64, count: usize, bend: impl Fn(Case, &mut Splitmix) -> Case) -> Worst {
    let mut random = Splitmix::new(SEED + seed);
    let mut worst = Worst::default();
    for _ in 0..10 * count {
        let case = ordinary(&mut random);
        let case = bend(case, &mut random);
        if let Some(found) = miss(&case) {
            worst = worst.with(found);
        }
        if worst.cases == count {
            break;
        }
    }
    assert_eq!(worst.cases, count, "too few of these set-ups have a section");
    worst
}

/// Source: own derivation, grade D. The table stands in docs/NUMBERS.md.
#[test]
fn what_the_wheel_comes_near_is_what_points_show() {
    let mut table = String::new();
    let mut all = Worst::default();
    for (seed, (name, bend)) in STRATA.iter().enumerate() {
        let worst = stratum(seed as u64, CASES, bend);
        table += &format!(
            "| {name} | {} | {} | {:.4} | {:.4} | {:.4} | {:.4} | {:.4} |\n",
            worst.cases,
            worst.cuts,
            worst.teeth_mm,
            worst.far_mm,
            worst.shank_mm,
            worst.head_mm,
            worst.begins_mm
        );
        all = all.with(worst);
    }
    println!("{table}");
    page::hold("clearance", &format!("{HEAD}{table}"));
    assert!(all.cuts > 20, "hardly anything is cut: {all:?}");
    let worst = [all.teeth_mm, all.far_mm, all.shank_mm, all.head_mm];
    assert!(worst.iter().all(|miss_mm| *miss_mm < GAP_MM), "{all:?}");
    assert!(all.begins_mm < BEGIN_MM, "{all:?}");
}

/// Set-ups of each stratum.
const CASES: usize = 6;

const HEAD: &str = "\
| set-ups | cases | gaps below zero | other teeth | far side | shank | head | room to spare where \
it may begin |
|---|---|---|---|---|---|---|---|
";

/// Source: own derivation, grade D: under a level cup on a straight tooth the face is a plane that
/// stands square to the feed, so a finger that ends b behind the edge clears it by b times the
/// cosine of the setting, less what the rake leans back.
#[test]
fn a_finger_clears_a_plane_by_what_it_is_set_back() {
    let mut random = Splitmix::new(SEED);
    let case = Case {
        is_cup: true,
        helix_deg: 0.0,
        lean_deg: 0.0,
        worn_mm: 0.0,
        setting_deg: 8.0,
        ..ordinary(&mut random)
    };
    let section = case.section().unwrap();
    let back = WheelBack { depth: mm(30.0), spindle_diameter: None };
    let passage = Passage::new(&section, &back, case.travel(), mm(case.flute_mm));
    for (behind, rake) in [(0.2_f64, 0.0_f64), (0.5, 10.0), (1.0, -5.0)] {
        let finger =
            Finger { width: mm(3.0), height: mm(10.0), behind_edge: mm(behind), rake: deg(rake) };
        let told = passage.finger(&finger).gap.mm();
        let turned = (8.0 + rake).to_radians();
        assert!((told - behind * turned.cos()).abs() < 0.011, "{behind} {rake}: {told}");
        let wanted = passage.finger_behind(finger, mm(told + 0.3)).unwrap().mm();
        assert!((wanted - behind - 0.3 / turned.cos()).abs() < 0.03, "{behind} {rake}: {wanted}");
    }
}
