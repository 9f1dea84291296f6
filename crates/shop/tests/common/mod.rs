//! What the tests of the shop's reckoning share: a cutter, and random numbers that are the same on
//! every run.

use geometry::{Angle, Length};
use shop::record::{AsGround, Cutter, CutterDraft, EndForm, Hand, Profile};
use trade::ToolMaterial;

/// A half-inch end mill, ground with 10 degrees of relief.
#[allow(dead_code, reason = "not every test uses every part")]
pub(crate) fn half_inch() -> Cutter {
    let draft = CutterDraft {
        number: "R-1".to_owned(),
        diameter: Length::from_inches(0.5),
        teeth: 4,
        hand: Hand::Right,
        helix: Angle::from_degrees(30.0),
        helix_hand: Some(Hand::Right),
        rake: Angle::from_degrees(10.0),
        material: ToolMaterial::HighSpeedSteel,
        end: EndForm::Square,
        profile: Profile::Plain,
        flute_length: Length::from_inches(1.25),
        overall_length: Length::from_inches(3.25),
        shank_diameter: Length::from_inches(0.5),
        core_diameter: None,
        tooth_thickness: None,
        centre_cutting: true,
        coating: None,
        work: "any".to_owned(),
        regrinds: 0,
        unequal_index: None,
        special: shop::record::Special::default(),
        end_teeth: None,
        as_ground: Some(AsGround {
            diameter: Length::from_inches(0.5),
            primary: Angle::from_degrees(10.0),
            secondary: Angle::from_degrees(20.0),
            land: Length::from_inches(0.025),
            next_primary: None,
        }),
    };
    draft.build().expect("the cutter is sound")
}

/// Random numbers from a seed: a congruential generator after Knuth's constants, its upper bits
/// only.
pub(crate) struct Random(u64);

#[allow(dead_code, reason = "not every test uses every part")]
impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(2_862_933_555_777_941_757).wrapping_add(3_037_000_493))
    }

    fn next(&mut self) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 33
    }

    /// Between 0 and 1, never either.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() as f64 + 0.5) / (1_u64 << 31) as f64
    }

    /// Below `count`.
    pub(crate) fn below(&mut self, count: u32) -> u32 {
        (self.share() * f64::from(count)) as u32
    }

    /// A standard normal deviate, after Box and Muller.
    pub(crate) fn normal(&mut self) -> f64 {
        let (first, second) = (self.share(), self.share());
        (-2.0 * first.ln()).sqrt() * (std::f64::consts::TAU * second).cos()
    }
}
