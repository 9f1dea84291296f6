//! Set-ups in plain numbers, and the ways in which they are drawn.

use geometry::screw::{Flutes, Hand};
use geometry::section::{GroundSection, SectionError, Setup, Stance};
use geometry::wheel::{
    Corner, CupShape, DiscShape, FaceToward, ProfileError, WheelBody, WheelKind,
};
use geometry::{Angle, Length};
use proptest::prelude::*;
use proptest::test_runner::TestCaseError;

use crate::funnel::outside;
use crate::solid::Solid;

/// One set-up, every length in millimetres and every angle in degrees.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Case {
    pub(crate) nominal: f64,
    pub(crate) new: f64,
    pub(crate) teeth: u32,
    pub(crate) hand: Hand,
    pub(crate) helix_hand: Hand,
    pub(crate) helix: f64,
    pub(crate) kind: WheelKind,
    pub(crate) wheel: f64,
    pub(crate) face: f64,
    /// How far a cup's outer and inner wall draw in; a disc has none.
    pub(crate) walls: (f64, f64),
    pub(crate) leading: f64,
    pub(crate) trailing: f64,
    /// How much of face and flank a worn leading corner has lost; none where it is sharp or round.
    pub(crate) worn: (f64, f64),
    pub(crate) lean: f64,
    pub(crate) toward: FaceToward,
    pub(crate) inset: f64,
    pub(crate) setting: f64,
    pub(crate) above: f64,
    pub(crate) tilt: f64,
}

pub(crate) fn mm(value: f64) -> Length {
    Length::from_mm(value)
}

pub(crate) fn deg(value: f64) -> Angle {
    Angle::from_degrees(value)
}

/// A half-inch cutter of four right-hand teeth under a plain cup.
pub(crate) const PLAIN: Case = Case {
    nominal: 12.7,
    new: 12.6,
    teeth: 4,
    hand: Hand::Right,
    helix_hand: Hand::Right,
    helix: 30.0,
    kind: WheelKind::Cup,
    wheel: 100.0,
    face: 1.6,
    walls: (0.0, 0.0),
    leading: 0.0,
    trailing: 0.0,
    worn: (0.0, 0.0),
    lean: 0.75,
    toward: FaceToward::Tip,
    inset: 0.2,
    setting: 10.0,
    above: 0.0,
    tilt: 0.0,
};

impl Case {
    pub(crate) fn flutes(&self) -> Flutes {
        Flutes {
            nominal_diameter: mm(self.nominal),
            teeth: self.teeth,
            hand: self.hand,
            helix: deg(self.helix),
            helix_hand: self.helix_hand,
        }
    }

    pub(crate) fn body(&self) -> Result<WheelBody, ProfileError> {
        let (face_mm, flank_mm) = self.worn;
        let worn = Corner::Worn { face_mm, flank_mm };
        let leading = if face_mm > 0.0 { worn } else { Corner::round(self.leading) };
        let trailing = Corner::round(self.trailing);
        let (diameter_mm, face_width_mm) = (self.wheel, self.face);
        match self.kind {
            WheelKind::Disc => {
                WheelBody::disc(&DiscShape { diameter_mm, face_width_mm, leading, trailing })
            }
            WheelKind::Cup => WheelBody::cup(&CupShape {
                diameter_mm,
                face_width_mm,
                outer_wall_rad: self.walls.0.to_radians(),
                inner_wall_rad: self.walls.1.to_radians(),
                leading,
                trailing,
            }),
        }
    }

    pub(crate) fn stance(&self) -> Stance {
        Stance {
            lean: deg(self.lean),
            face_toward: self.toward,
            rest_inset: mm(self.inset),
            relief_setting: deg(self.setting),
            axis_above: mm(self.above),
            tilt: deg(self.tilt),
        }
    }

    pub(crate) fn setup(&self) -> Result<Setup, SectionError> {
        let body = self.body().expect("a drawn wheel is a wheel");
        Setup::new(self.flutes(), body, self.stance())
    }

    pub(crate) fn section(&self) -> Result<GroundSection, SectionError> {
        self.setup()?.section(mm(self.new))
    }

    /// The section, where there is one and the wheel does not reach the cutter's axis.
    pub(crate) fn made(&self) -> Result<GroundSection, TestCaseError> {
        let section = self.section().map_err(|_| outside("no section"))?;
        let solid = Solid::of(self, section.leading_corner_from_axis().mm());
        if solid.holds_axis() { Err(outside("the axis is ground away")) } else { Ok(section) }
    }

    /// What the interpolation may be off at an angle and a radius: 2e-5 mm at the cutting circle,
    /// more by the cube outside it, and some hundredfold well ahead of the edge.
    pub(crate) fn error(&self, heelward_rad: f64, radius_mm: f64) -> f64 {
        let ahead = if heelward_rad < -0.02 { 200.0 } else { 1.0 };
        2e-5 * ahead * (radius_mm / self.radius()).max(1.0).powi(3)
    }

    /// Radius of the new cutting circle.
    pub(crate) fn radius(&self) -> f64 {
        0.5 * self.new
    }

    /// From one tooth to the next, in radians.
    pub(crate) fn pitch(&self) -> f64 {
        std::f64::consts::TAU / f64::from(self.teeth)
    }

    /// Height of the edge at the rest under the wheel's axis.
    pub(crate) fn under_axis(&self) -> f64 {
        self.radius() * self.setting.to_radians().sin() + self.above
    }

    /// +1 where hand of cut and hand of helix agree.
    pub(crate) fn agree(&self) -> f64 {
        if self.hand == self.helix_hand { 1.0 } else { -1.0 }
    }

    /// Twist heelward in radians for each millimetre toward the tip: one turn in a lead.
    pub(crate) fn twist(&self) -> f64 {
        self.twist_of(self.helix)
    }

    /// The same for another helix.
    pub(crate) fn twist_of(&self, helix: f64) -> f64 {
        let lead = std::f64::consts::PI * self.nominal / helix.to_radians().tan();
        self.agree() * std::f64::consts::TAU / lead
    }

    /// +1 where the face runs to the tip.
    pub(crate) fn along(&self) -> f64 {
        if self.toward == FaceToward::Tip { 1.0 } else { -1.0 }
    }

    /// Every length `factor` times as long.
    pub(crate) fn scaled(mut self, factor: f64) -> Self {
        let Self { nominal, new, wheel, face, leading, trailing, inset, above, worn, .. } =
            &mut self;
        let (face_gone, flank_gone) = (&mut worn.0, &mut worn.1);
        let rest = [leading, trailing, inset, above, face_gone, flank_gone];
        for length in [nominal, new, wheel, face].into_iter().chain(rest) {
            *length *= factor;
        }
        self
    }
}

pub(crate) const fn turned(hand: Hand) -> Hand {
    match hand {
        Hand::Right => Hand::Left,
        Hand::Left => Hand::Right,
    }
}

pub(crate) fn hand() -> impl Strategy<Value = Hand> {
    prop_oneof![Just(Hand::Right), Just(Hand::Left)]
}

pub(crate) fn toward() -> impl Strategy<Value = FaceToward> {
    prop_oneof![Just(FaceToward::Tip), Just(FaceToward::Shank)]
}

pub(crate) fn kind() -> impl Strategy<Value = WheelKind> {
    prop_oneof![Just(WheelKind::Cup), Just(WheelKind::Disc)]
}

/// A number from a range, or one of its ends.
fn or_end(from: f64, to: f64) -> impl Strategy<Value = f64> {
    prop_oneof![4 => from..to, 1 => Just(from), 1 => Just(to)]
}

/// A number from zero up, with zero and the next to nothing often among them.
fn or_nearly_none(to: f64) -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => 0.0..to,
        1 => Just(0.0),
        1 => (-12.0..-2.0_f64).prop_map(|power| 10.0_f64.powf(power)),
        1 => Just(to),
    ]
}

/// None, as on most machines, or something to either side.
fn tilt(most: f64) -> impl Strategy<Value = f64> {
    prop_oneof![2 => Just(0.0), 1 => -most..=most]
}

type Cutting = (f64, f64, u32, Hand, Hand, f64);
type Wheeling = (WheelKind, f64, f64, (f64, f64), f64, f64);
type Standing = (f64, FaceToward, f64, f64, f64, f64);

/// Joins what was drawn: the face as a share of the wheel's radius and at most 25 mm, corners as
/// shares of the face, the inset as a share of what there is, the height as a share of the wheel's
/// radius.
fn joined((cutting, wheeling, standing): (Cutting, Wheeling, Standing)) -> Option<Case> {
    let (nominal, ground, teeth, hand, helix_hand, helix) = cutting;
    let (kind, wheel, face, walls, leading, trailing) = wheeling;
    let (lean, toward, inset, setting, above, tilt) = standing;
    let new = nominal * ground;
    let face = (face * 0.5 * wheel).min(25.0);
    // A rim whose outer wall drew in faster than its inner one would end in a point.
    let walls = if kind == WheelKind::Cup { (walls.0, walls.1.max(walls.0)) } else { (0.0, 0.0) };
    let corner = |share: f64| if share < 0.02 { 0.0 } else { share * face };
    let (leading, trailing) = (corner(leading), corner(trailing));
    // Every third of the small corners is worn to a flat of uneven sides instead.
    let is_worn = leading > 0.0 && leading < 0.14 * face;
    let worn = if is_worn { (leading, 0.6 * leading) } else { (0.0, 0.0) };
    let leading = if is_worn { 0.0 } else { leading };
    let inset = inset * face * lean.to_radians().cos();
    let above = above * 0.5 * wheel;
    let case = Case {
        nominal,
        new,
        teeth,
        hand,
        helix_hand,
        helix,
        kind,
        wheel,
        face,
        walls,
        leading,
        trailing,
        worn,
        lean,
        toward,
        inset,
        setting,
        above,
        tilt,
    };
    case.body().is_ok().then_some(case)
}

/// Set-ups such as stand on a bench.
pub(crate) fn bench() -> impl Strategy<Value = Case> {
    let cutting = (3.0..50.0_f64, 0.9..1.0_f64, 2..12_u32, hand(), hand(), or_end(0.0, 45.0));
    let walls = (0.0..30.0_f64, 0.0..30.0_f64);
    let wheeling =
        (kind(), 50.0..200.0_f64, 0.02..0.15_f64, walls, or_end(0.0, 0.4), or_end(0.0, 0.4));
    let standing = (
        or_end(0.0, 8.0),
        toward(),
        or_end(0.0, 1.0),
        or_end(2.0, 25.0),
        -0.05..0.1_f64,
        tilt(4.0),
    );
    (cutting, wheeling, standing).prop_filter_map("no such wheel", joined)
}

/// Set-ups from the whole domain of the kernel, its ends and its next-to-nothings included.
pub(crate) fn whole() -> impl Strategy<Value = Case> {
    let helix = prop_oneof![or_end(0.0, 60.0), or_nearly_none(60.0)];
    let lean = prop_oneof![or_end(0.0, 45.0), or_nearly_none(45.0)];
    let cutting = (or_end(1.0, 200.0), 0.5..1.0_f64, 2..41_u32, hand(), hand(), helix);
    let walls = (or_end(0.0, 85.0), or_end(0.0, 85.0));
    let wheeling =
        (kind(), or_end(2.0, 400.0), 0.001..1.0_f64, walls, or_end(0.0, 0.45), or_end(0.0, 0.45));
    let standing = (
        lean,
        toward(),
        or_end(0.0, 1.0),
        or_end(-30.0, 59.9),
        prop_oneof![Just(0.0), -0.9..=0.9],
        tilt(45.0),
    );
    (cutting, wheeling, standing).prop_filter_map("no such wheel", joined)
}
