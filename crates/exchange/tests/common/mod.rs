//! A cutter to try things on. Invented.
#![allow(dead_code, reason = "each test uses its part of this")]

use geometry::{Angle, Length};
use shop::record::{AsGround, Cutter, CutterDraft, EndForm, Hand, Profile, ToolMaterial};

pub(crate) fn draft(number: &str) -> CutterDraft {
    CutterDraft {
        number: number.to_owned(),
        diameter: Length::from_inches(0.5),
        teeth: 4,
        hand: Hand::Right,
        helix: Angle::from_degrees(30.0),
        helix_hand: Some(Hand::Right),
        rake: Angle::from_degrees(10.0),
        material: ToolMaterial::CobaltHighSpeedSteel,
        end: EndForm::CornerRadius(Length::from_mm(1.0)),
        profile: Profile::Plain,
        flute_length: Length::from_inches(1.25),
        overall_length: Length::from_inches(3.25),
        shank_diameter: Length::from_inches(0.5),
        core_diameter: Some(Length::from_inches(0.29)),
        tooth_thickness: None,
        centre_cutting: true,
        coating: Some("grey, thin".to_owned()),
        work: "steel".to_owned(),
        regrinds: 2,
        unequal_index: None,
        special: shop::record::Special::default(),
        end_teeth: None,
        as_ground: Some(AsGround {
            diameter: Length::from_inches(0.494),
            primary: Angle::from_degrees(10.0),
            secondary: Angle::from_degrees(20.0),
            land: Length::from_inches(0.02),
            next_primary: None,
        }),
    }
}

pub(crate) fn cutter(number: &str) -> Cutter {
    draft(number).build().unwrap()
}
