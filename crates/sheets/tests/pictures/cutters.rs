//! Cutters to draw, of our own making: each is there for what is drawn in its own way.

use geometry::{Angle, Length};
use shop::record::{
    AsGround, Cutter, CutterDraft, EndForm, Hand, Profile, ToothWear, WearDraft, WearSign,
};
use trade::ToolMaterial;

pub(crate) const fn mm(mm: f64) -> Length {
    Length::from_mm(mm)
}

/// Sizes and form of a cutter, in millimetres and degrees.
#[derive(Clone)]
struct Sizes {
    number: &'static str,
    diameter: f64,
    ground: Option<f64>,
    teeth: u32,
    helix: f64,
    hands: (Hand, Hand),
    end: EndForm,
    flute: f64,
    overall: f64,
    shank: f64,
}

const HALF_INCH: Sizes = Sizes {
    number: "K-117",
    diameter: 12.7,
    ground: Some(12.62),
    teeth: 4,
    helix: 30.0,
    hands: (Hand::Right, Hand::Right),
    end: EndForm::Square,
    flute: 25.4,
    overall: 82.55,
    shank: 12.7,
};

fn draft(sizes: &Sizes) -> CutterDraft {
    let as_ground = sizes.ground.map(|diameter| AsGround {
        diameter: mm(diameter),
        primary: Angle::from_degrees(10.0),
        secondary: Angle::from_degrees(20.0),
        land: mm(0.04 * diameter),
        next_primary: None,
    });
    CutterDraft {
        number: sizes.number.to_owned(),
        diameter: mm(sizes.diameter),
        teeth: sizes.teeth,
        hand: sizes.hands.0,
        helix: Angle::from_degrees(sizes.helix),
        helix_hand: (sizes.helix > 0.0).then_some(sizes.hands.1),
        rake: Angle::from_degrees(10.0),
        material: ToolMaterial::HighSpeedSteel,
        end: sizes.end,
        profile: Profile::Plain,
        flute_length: mm(sizes.flute),
        overall_length: mm(sizes.overall),
        shank_diameter: mm(sizes.shank),
        core_diameter: None,
        tooth_thickness: None,
        centre_cutting: true,
        coating: None,
        work: "steel".to_owned(),
        regrinds: 2,
        unequal_index: None,
        special: shop::record::Special::default(),
        end_teeth: None,
        as_ground,
    }
}

fn worn(cutter: CutterDraft, signs: &[WearSign], teeth: Vec<ToothWear>) -> Cutter {
    let wear = WearDraft {
        measured_diameter: Some(cutter.diameter - mm(0.2)),
        shank_runout: Some(mm(0.01)),
        signs: signs.to_vec(),
        teeth,
    };
    cutter.build().unwrap().with_wear(wear.build().unwrap()).unwrap()
}

fn tooth(tooth: u32, wear_land_mm: f64) -> ToothWear {
    ToothWear { tooth, wear_land: mm(wear_land_mm), ..ToothWear::default() }
}

fn chipped(number: u32, deep_mm: f64, from_end_mm: f64) -> ToothWear {
    let (chip_depth, chip_from_end) = (mm(deep_mm), mm(from_end_mm));
    ToothWear { chip_depth, chip_from_end, ..tooth(number, 0.2) }
}

fn cornered(number: u32, corner_mm: f64) -> ToothWear {
    ToothWear { corner_wear: mm(corner_mm), ..tooth(number, 0.3) }
}

const LEFT: (Hand, Hand) = (Hand::Left, Hand::Left);

fn plain_ones() -> Vec<(&'static str, Cutter)> {
    let eighth = Sizes {
        number: "K-101",
        diameter: 3.175,
        ground: Some(3.17),
        teeth: 2,
        flute: 9.525,
        overall: 58.7375,
        shank: 9.525,
        ..HALF_INCH
    };
    let left = Sizes {
        number: "K-134",
        diameter: 10.0,
        ground: Some(9.98),
        hands: LEFT,
        flute: 22.0,
        overall: 72.0,
        shank: 10.0,
        ..HALF_INCH
    };
    let fifty = Sizes {
        number: "K-152",
        diameter: 50.0,
        ground: Some(49.6),
        teeth: 6,
        flute: 75.0,
        overall: 147.0,
        shank: 32.0,
        ..HALF_INCH
    };
    let straight =
        Sizes { number: "K-145", diameter: 19.05, ground: None, teeth: 6, helix: 0.0, ..HALF_INCH };
    let mixed = Sizes { number: "K-160", hands: (Hand::Right, Hand::Left), ..HALF_INCH };
    let cases = [
        ("eighth inch", eighth),
        ("half inch", HALF_INCH),
        ("left hand", left),
        ("fifty mm", fifty),
        ("straight", straight),
        ("left helix, right cut", mixed),
    ];
    cases.map(|(name, sizes)| (name, draft(&sizes).build().unwrap())).to_vec()
}

fn ended_ones() -> Vec<(&'static str, Cutter)> {
    let ball = Sizes {
        number: "K-156",
        diameter: 9.525,
        ground: Some(9.5),
        teeth: 2,
        end: EndForm::Ball,
        flute: 20.0,
        overall: 70.0,
        shank: 9.525,
        ..HALF_INCH
    };
    let corner = Sizes { number: "K-121", end: EndForm::CornerRadius(mm(1.5)), ..HALF_INCH };
    let needle = Sizes {
        number: "A very long number, WWW-0.5",
        diameter: 0.5,
        ground: Some(0.49),
        teeth: 2,
        flute: 1.5,
        overall: 38.0,
        shank: 3.0,
        ..HALF_INCH
    };
    let shell = Sizes {
        number: "K-170",
        diameter: 100.0,
        ground: Some(99.0),
        teeth: 40,
        helix: 15.0,
        flute: 40.0,
        overall: 40.0,
        shank: 27.0,
        ..HALF_INCH
    };
    let long = Sizes { number: "K-171", overall: 320.0, flute: 100.0, ..HALF_INCH };
    let cases =
        [("ball", ball), ("corner", corner), ("needle", needle), ("shell", shell), ("long", long)];
    cases.map(|(name, sizes)| (name, draft(&sizes).build().unwrap())).to_vec()
}

fn worn_ones() -> Vec<(&'static str, Cutter)> {
    let two_inch = Sizes {
        number: "K-130",
        diameter: 50.8,
        ground: Some(50.4),
        teeth: 6,
        flute: 50.8,
        overall: 114.3,
        shank: 31.75,
        ..HALF_INCH
    };
    let signs = [WearSign::Chipped, WearSign::EdgeRounded];
    let chip = worn(draft(&two_inch), &signs, vec![tooth(1, 0.18), chipped(4, 1.1, 19.05)]);
    let corners = (1..=4).map(|number| cornered(number, 0.8)).collect();
    let gone = worn(draft(&HALF_INCH), &[WearSign::CornerGone], corners);
    let of_many = Sizes { teeth: 12, diameter: 63.0, ground: Some(62.0), ..two_inch };
    let every = (1..=12).map(|n| chipped(n, 0.3, 3.0 * f64::from(n))).collect();
    let rougher = CutterDraft { profile: Profile::Rougher, ..draft(&HALF_INCH) };
    let unequal = CutterDraft { unequal_index: Some(true), ..rougher };
    vec![
        ("chipped two inch", chip),
        ("corners gone", gone),
        ("every tooth chipped", worn(draft(&of_many), &signs, every)),
        ("rougher", worn(unequal, &[], vec![chipped(2, 0.5, 8.0), cornered(3, 1.0)])),
    ]
}

/// Every cutter with a name.
pub(crate) fn cutters() -> Vec<(&'static str, Cutter)> {
    [plain_ones(), ended_ones(), worn_ones()].concat()
}
