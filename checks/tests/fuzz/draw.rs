//! Set-ups drawn from the kernel's whole domain, its ends often among them, and some beyond it.

use checks::reference::random::Splitmix;
use geometry::outline::WornTooth;
use geometry::screw::{Flutes, Hand};
use geometry::section::{SectionError, Setup, Stance};
use geometry::wheel::{Corner, CupShape, DiscShape, FaceToward, ProfileError, WheelBody};
use geometry::{Angle, Length};

/// One drawn set-up, before anything was asked about it.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Drawn {
    pub(crate) flutes: Flutes,
    pub(crate) wheel: Shape,
    pub(crate) stance: Stance,
    pub(crate) diameter: Length,
    pub(crate) tooth: WornTooth,
}

/// A wheel that may be none.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Shape {
    Cup(CupShape),
    Disc(DiscShape),
}

/// A number between two ends; often an end, sometimes a hair from one.
fn between(random: &mut Splitmix, low: f64, high: f64) -> f64 {
    match random.bits() % 8 {
        0 => low,
        1 => high,
        2 => low + (high - low) * 10.0_f64.powf(random.even(-15.0, -2.0)),
        3 => high - (high - low) * 10.0_f64.powf(random.even(-15.0, -2.0)),
        _ => random.even(low, high),
    }
}

/// A size whose order of magnitude is drawn; often an end.
fn size(random: &mut Splitmix, low: f64, high: f64) -> f64 {
    match random.bits() % 8 {
        0 => low,
        1 => high,
        _ => random.by_size(low, high),
    }
}

fn corner(random: &mut Splitmix, face_mm: f64) -> Corner {
    match random.bits() % 4 {
        0 => Corner::Sharp,
        1 => Corner::Worn {
            face_mm: between(random, 0.0, 0.5) * face_mm,
            flank_mm: between(random, 0.0, 0.5) * face_mm,
        },
        _ => Corner::round(between(random, 0.0, 0.6) * face_mm),
    }
}

fn wheel(random: &mut Splitmix) -> Shape {
    let diameter_mm = size(random, 2.0, 400.0);
    // Narrow faces as on a bench, and faces up to the whole radius.
    let widest_mm = if random.once_in(3) { 0.5 * diameter_mm } else { 0.05 * diameter_mm };
    let face_width_mm = size(random, 1e-3 * widest_mm, widest_mm);
    let (leading, trailing) = (corner(random, face_width_mm), corner(random, face_width_mm));
    if random.once_in(2) {
        return Shape::Disc(DiscShape { diameter_mm, face_width_mm, leading, trailing });
    }
    let mut wall = || between(random, 0.0, 85.0).to_radians();
    let (outer_wall_rad, inner_wall_rad) = (wall(), wall());
    Shape::Cup(CupShape {
        diameter_mm,
        face_width_mm,
        outer_wall_rad,
        inner_wall_rad: inner_wall_rad.max(outer_wall_rad),
        leading,
        trailing,
    })
}

fn hand(random: &mut Splitmix) -> Hand {
    if random.once_in(2) { Hand::Right } else { Hand::Left }
}

impl Shape {
    pub(crate) fn body(&self) -> Result<WheelBody, ProfileError> {
        match self {
            Self::Cup(shape) => WheelBody::cup(shape),
            Self::Disc(shape) => WheelBody::disc(shape),
        }
    }

    const fn face_mm(&self) -> f64 {
        match self {
            Self::Cup(shape) => shape.face_width_mm,
            Self::Disc(shape) => shape.face_width_mm,
        }
    }

    const fn diameter_mm(&self) -> f64 {
        match self {
            Self::Cup(shape) => shape.diameter_mm,
            Self::Disc(shape) => shape.diameter_mm,
        }
    }
}

impl Drawn {
    pub(crate) fn new(random: &mut Splitmix) -> Self {
        let nominal_mm = size(random, 1.0, 200.0);
        let flutes = Flutes {
            nominal_diameter: Length::from_mm(nominal_mm),
            teeth: between(random, 1.0, 60.0).round() as u32,
            hand: hand(random),
            helix: Angle::from_degrees(between(random, 0.0, 60.0)),
            helix_hand: hand(random),
        };
        let wheel = wheel(random);
        let lean = Angle::from_degrees(if random.once_in(2) {
            between(random, 0.0, 45.0)
        } else {
            between(random, 0.0, 3.0)
        });
        let tilt_deg = if random.once_in(3) { between(random, -45.0, 45.0) } else { 0.0 };
        let above = if random.once_in(3) { between(random, -0.45, 0.45) } else { 0.0 };
        let setting_deg = if random.once_in(3) {
            between(random, -30.0, 60.0)
        } else {
            between(random, 0.0, 25.0)
        };
        let stance = Stance {
            lean,
            face_toward: if random.once_in(2) { FaceToward::Tip } else { FaceToward::Shank },
            rest_inset: Length::from_mm(between(random, 0.0, wheel.face_mm() * lean.cos())),
            relief_setting: Angle::from_degrees(setting_deg),
            axis_above: Length::from_mm(above * wheel.diameter_mm()),
            tilt: Angle::from_degrees(tilt_deg),
        };
        let diameter_mm = nominal_mm * between(random, 0.6, 1.05);
        Self {
            flutes,
            wheel,
            stance,
            diameter: Length::from_mm(diameter_mm),
            tooth: tooth(random, diameter_mm, flutes.teeth),
        }
    }

    pub(crate) fn setup(&self, body: WheelBody) -> Result<Setup, SectionError> {
        Setup::new(self.flutes, body, self.stance)
    }
}

/// A tooth with more or less of everything, nothing among it.
fn tooth(random: &mut Splitmix, diameter_mm: f64, teeth: u32) -> WornTooth {
    let radius_mm = 0.5 * diameter_mm;
    let pitch_mm = std::f64::consts::TAU * radius_mm / f64::from(teeth.max(1));
    let primary_deg = between(random, 0.0, 20.0);
    let share = |random: &mut Splitmix, most: f64| {
        Length::from_mm(between(random, 0.0, most) * radius_mm.min(pitch_mm))
    };
    WornTooth {
        sharp_radius: Length::from_mm(radius_mm * between(random, 1.0, 1.05)),
        rake: Angle::from_degrees(between(random, -10.0, 25.0)),
        primary: Angle::from_degrees(primary_deg),
        secondary: Angle::from_degrees(primary_deg + between(random, 0.0, 20.0)),
        land: share(random, 0.2),
        thickness: share(random, 0.7),
        wear_land: share(random, 0.05),
    }
}
