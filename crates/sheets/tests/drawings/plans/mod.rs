//! Plans to draw: cutters, a machine and wheels of our own making, built through their records.

mod bench;

use std::sync::OnceLock;

use geometry::{Angle, Length};
use shop::Ctx;
use shop::learn::Known;
use shop::plan::{PlanRegrind, RegrindPlan, ReliefKind, plan_regrind};
use shop::record::{
    AsGround, Cutter, CutterDraft, EndForm, Hand, Profile, RestStand, ToothWear, WearDraft,
};
use trade::{Tables, ToolMaterial};

use bench::{cup, disc, machine};

/// A plan with its name.
pub(crate) struct Case {
    pub(crate) name: &'static str,
    pub(crate) plan: RegrindPlan,
}

/// Sizes and angles of a cutter, in millimetres and degrees.
struct Sizes {
    diameter: f64,
    teeth: u32,
    helix: f64,
    hand: Hand,
    primary: f64,
    secondary: f64,
    land: f64,
    wear_land: f64,
}

/// An ordinary right-hand half-inch cutter; the others differ from it.
const HALF_INCH: Sizes = Sizes {
    diameter: 12.7,
    teeth: 4,
    helix: 30.0,
    hand: Hand::Right,
    primary: 10.0,
    secondary: 20.0,
    land: 0.5,
    wear_land: 0.2,
};

fn cutter(sizes: &Sizes) -> Cutter {
    let Sizes { diameter, teeth, helix, hand, primary, secondary, land, wear_land } = *sizes;
    let mm = Length::from_mm;
    let draft = CutterDraft {
        number: "P-1".to_owned(),
        diameter: mm(diameter),
        teeth,
        hand,
        helix: Angle::from_degrees(helix),
        helix_hand: (helix > 0.0).then_some(hand),
        rake: Angle::from_degrees(8.0),
        material: ToolMaterial::HighSpeedSteel,
        end: EndForm::Square,
        profile: Profile::Plain,
        flute_length: mm(1.5 * diameter),
        overall_length: mm(80.0),
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
            primary: Angle::from_degrees(primary),
            secondary: Angle::from_degrees(secondary),
            land: mm(land),
            next_primary: None,
        }),
    };
    let tooth = |tooth| ToothWear { tooth, wear_land: mm(wear_land), ..ToothWear::default() };
    let wear = WearDraft { teeth: (1..=teeth).map(tooth).collect(), ..WearDraft::default() };
    draft.build().unwrap().with_wear(wear.build().unwrap()).unwrap()
}

fn case(
    name: &'static str,
    sizes: &Sizes,
    relief: Option<ReliefKind>,
    stands_on: RestStand,
) -> Case {
    let tables = Tables::bundled().unwrap();
    let request = PlanRegrind {
        cutter: cutter(sizes),
        machine: machine(stands_on),
        wheels: vec![cup(), disc()],
        relief,
        to_size: None,
        known: Known::default(),
    };
    let plan =
        plan_regrind(&Ctx { tables }, request).unwrap_or_else(|error| panic!("{name}: {error}"));
    Case { name, plan }
}

/// Plans of every kind that is drawn in its own way; planned once for all tests.
pub(crate) fn cases() -> &'static [Case] {
    static CASES: OnceLock<Vec<Case>> = OnceLock::new();
    CASES.get_or_init(plan_all)
}

fn plan_all() -> Vec<Case> {
    let (table, head) = (RestStand::Table, RestStand::WheelHead);
    let eighth = Sizes {
        diameter: 3.175,
        teeth: 2,
        primary: 16.0,
        secondary: 28.0,
        land: 0.2,
        wear_land: 0.08,
        ..HALF_INCH
    };
    let two_inch = Sizes {
        diameter: 50.8,
        teeth: 6,
        primary: 7.0,
        secondary: 15.0,
        land: 0.9,
        wear_land: 0.4,
        ..HALF_INCH
    };
    let left = Sizes { diameter: 10.0, hand: Hand::Left, land: 0.4, ..HALF_INCH };
    let straight = Sizes { diameter: 20.0, teeth: 6, helix: 0.0, land: 0.6, ..HALF_INCH };
    // A plane at 5 deg meets a circle of 20 mm again 1.7 mm behind the edge, well within 1.6 times
    // this land.
    let draggy = Sizes { primary: 5.0, secondary: 15.0, land: 1.3, ..straight };
    vec![
        case("half inch", &HALF_INCH, None, table),
        case("rest on the head", &HALF_INCH, None, head),
        case("eighth inch", &eighth, None, table),
        case("two inch", &two_inch, None, table),
        case("left hand", &left, None, table),
        case("straight, hollow", &straight, Some(ReliefKind::Hollow), table),
        case("straight, flat", &straight, None, table),
        case("eccentric", &HALF_INCH, Some(ReliefKind::Eccentric), table),
        case("heel drag", &draggy, None, table),
    ]
}

/// A cutter whose fine shape can only be sharpened on its faces: nothing to draw.
pub(crate) fn without_periphery() -> RegrindPlan {
    let tables = Tables::bundled().unwrap();
    let draft = CutterDraft { profile: Profile::FormRelieved, ..cutter(&HALF_INCH).draft() };
    let request = PlanRegrind {
        cutter: draft.build().unwrap(),
        machine: machine(RestStand::Table),
        wheels: vec![cup()],
        relief: None,
        to_size: None,
        known: Known::default(),
    };
    plan_regrind(&Ctx { tables }, request).unwrap()
}
