//! What several outside checks share: the kernel asked the same question as the reference.

#![expect(clippy::panic, reason = "a comparison that cannot be made must stop the test")]

use checks::reference::setup::{Setup, Wheel};
use geometry::screw::{Flutes, Hand};
use geometry::section::{self, GroundSection, SectionError, Stance};
use geometry::wheel::{Corner, CupShape, DiscShape, FaceToward, WheelBody};
use geometry::{Angle, Length};

fn body(setup: &Setup) -> WheelBody {
    let (diameter_mm, face_width_mm) = (setup.diameter_mm, setup.face_width_mm);
    let (leading, trailing) = (Corner::round(setup.corner_radius_mm), Corner::Sharp);
    let (outer_wall_rad, inner_wall_rad) = (0.0, 0.0);
    let made = match setup.wheel {
        Wheel::Cup => WheelBody::cup(&CupShape {
            diameter_mm,
            face_width_mm,
            outer_wall_rad,
            inner_wall_rad,
            leading,
            trailing,
        }),
        Wheel::Disc => {
            WheelBody::disc(&DiscShape { diameter_mm, face_width_mm, leading, trailing })
        }
    };
    made.unwrap_or_else(|error| panic!("{error}: {setup:?}"))
}

/// The kernel's section of a reference set-up, on a cutter of so many teeth.
pub(crate) fn kernel(setup: &Setup, teeth: u32) -> GroundSection {
    asked(setup, teeth).unwrap_or_else(|error| panic!("{error}: {setup:?}"))
}

/// The same with what the kernel refuses.
pub(crate) fn asked(setup: &Setup, teeth: u32) -> Result<GroundSection, SectionError> {
    let flutes = Flutes {
        nominal_diameter: Length::from_mm(setup.nominal_diameter_mm),
        teeth,
        hand: Hand::Right,
        helix: Angle::from_radians(setup.helix_rad),
        helix_hand: if setup.same_hand { Hand::Right } else { Hand::Left },
    };
    let stance = Stance {
        lean: Angle::from_radians(setup.lean_rad),
        face_toward: if setup.toward_tip { FaceToward::Tip } else { FaceToward::Shank },
        rest_inset: Length::from_mm(setup.inset_mm),
        relief_setting: Angle::from_radians(setup.setting_rad),
        axis_above: Length::from_mm(setup.centre_above_mm),
        tilt: Angle::ZERO,
    };
    section::Setup::new(flutes, body(setup), stance)
        .and_then(|kernel| kernel.section(Length::from_mm(setup.new_diameter_mm)))
}
