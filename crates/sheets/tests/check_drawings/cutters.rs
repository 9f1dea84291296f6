//! Cutters of our own making with their plans, from two teeth to twenty.

use geometry::{Angle, Length};
use shop::Ctx;
use shop::learn::Known;
use shop::plan::{PlanRegrind, RegrindPlan, plan_regrind};
use shop::record::{
    AsGround, Cutter, CutterDraft, EndForm, Hand, Profile, RestStand, ToothWear, WearDraft,
};
use trade::{Tables, ToolMaterial};

use crate::bench::{cup, disc, machine};

/// Sizes and angles of a cutter, in millimetres and degrees.
#[derive(Clone, Copy)]
pub(crate) struct Sizes {
    pub(crate) diameter: f64,
    pub(crate) teeth: u32,
    pub(crate) helix: f64,
    pub(crate) hand: Hand,
    pub(crate) helix_hand: Hand,
    pub(crate) land: f64,
    /// The size to grind to, where one is asked for.
    pub(crate) to_size: Option<f64>,
}

/// A right-hand half-inch cutter with four helical teeth; the others differ from it.
pub(crate) const HALF_INCH: Sizes = Sizes {
    diameter: 12.7,
    teeth: 4,
    helix: 30.0,
    hand: Hand::Right,
    helix_hand: Hand::Right,
    land: 0.5,
    to_size: None,
};

fn cutter(sizes: &Sizes) -> Cutter {
    let Sizes { diameter, teeth, helix, hand, helix_hand, land, .. } = *sizes;
    let mm = Length::from_mm;
    let draft = CutterDraft {
        number: "P-1".to_owned(),
        diameter: mm(diameter),
        teeth,
        hand,
        helix: Angle::from_degrees(helix),
        helix_hand: (helix > 0.0).then_some(helix_hand),
        rake: Angle::from_degrees(8.0),
        material: ToolMaterial::HighSpeedSteel,
        end: EndForm::Square,
        profile: Profile::Plain,
        flute_length: mm(2.0 * diameter),
        overall_length: mm(60.0 + 2.0 * diameter),
        shank_diameter: mm(10.0),
        core_diameter: Some(mm(0.57 * diameter)),
        tooth_thickness: None,
        centre_cutting: true,
        coating: None,
        work: "any".to_owned(),
        regrinds: 0,
        unequal_index: None,
        special: shop::record::Special::default(),
        end_teeth: None,
        as_ground: Some(AsGround {
            diameter: mm(diameter),
            primary: Angle::from_degrees(9.0),
            secondary: Angle::from_degrees(20.0),
            land: mm(land),
            next_primary: None,
        }),
    };
    let tooth = |tooth| ToothWear { tooth, wear_land: mm(0.3), ..ToothWear::default() };
    let wear = WearDraft { teeth: (1..=teeth).map(tooth).collect(), ..WearDraft::default() };
    draft.build().unwrap().with_wear(wear.build().unwrap()).unwrap()
}

/// The plan of a regrind of a cutter.
pub(crate) fn plan(sizes: &Sizes) -> RegrindPlan {
    let request = PlanRegrind {
        cutter: cutter(sizes),
        machine: machine(RestStand::Table),
        wheels: vec![cup(), disc()],
        relief: None,
        to_size: sizes.to_size.map(Length::from_mm),
        known: Known::default(),
    };
    plan_regrind(&context(), request).unwrap_or_else(|error| panic!("{error}"))
}

/// What plans and checks look things up in.
pub(crate) fn context() -> Ctx<'static> {
    Ctx { tables: Tables::bundled().unwrap() }
}
