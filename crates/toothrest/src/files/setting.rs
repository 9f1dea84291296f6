//! Setting files: a wheel, a cutter and how they are set, for predicting what the wheel leaves.
//!
//! A setting file says just enough for one prediction. Its cutter and wheel are not the records
//! a shop keeps: there is no number, no maker's mark, and no history in it.

use geometry::wheel::FaceToward;
use geometry::{Angle, Length};
use shop::record::{Hand, Named};

use super::problem::FileProblems;
use super::reading::Reading;
use super::section::Section;
use super::value::{Readable, wrong};

/// Everything a setting file says.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingFile {
    /// The cutter.
    pub cutter: SettingCutter,
    /// The wheel.
    pub wheel: SettingWheel,
    /// How one is set against the other.
    pub setting: Settings,
    /// Distances behind the edge, along the new cutting circle, to report drops at; may be empty.
    pub distances: Vec<Length>,
}

/// The cutter of a setting file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettingCutter {
    /// Nominal diameter, which fixes the lead.
    pub diameter: Length,
    /// Number of teeth.
    pub teeth: u32,
    /// Hand of cut.
    pub hand: Hand,
    /// Helix angle; 0 is a straight tooth.
    pub helix: Angle,
    /// Hand of helix; of a straight tooth it equals the hand of cut and has no effect.
    pub helix_hand: Hand,
    /// Radial rake at the edge; 0 where the file does not say.
    pub rake: Angle,
}

/// What a wheel grinds with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GrindsWith {
    /// A cup: the face of its rim.
    Face,
    /// A disc: its periphery.
    Periphery,
}

/// The wheel of a setting file.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SettingWheel {
    /// What it grinds with.
    pub shape: GrindsWith,
    /// Diameter now.
    pub diameter: Length,
    /// Width of the face that grinds.
    pub face_width: Length,
    /// Radius worn on the leading corner; 0 where the file does not say.
    pub corner_radius: Length,
    /// Radius worn on the trailing corner; 0 where the file does not say.
    pub trailing_corner_radius: Length,
}

/// How wheel and cutter are set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Settings {
    /// Between spindle axis and table travel: a cup works near 90 degrees, a disc near 0.
    pub head_angle: Angle,
    /// Where the face extends from the leading corner.
    pub face_toward: FaceToward,
    /// From the leading corner, along the cutter, into the face, to the rest's contact.
    pub rest_inset: Length,
    /// How far below centre the tooth at the rest is turned.
    pub relief_setting: Angle,
    /// Wheel axis above cutter axis; 0 where the file does not say.
    pub centre_above: Length,
    /// How far the wheel is tipped toward the cutter at its top; 0 where the file does not say.
    pub head_tilt: Angle,
    /// Diameter of the circle on which the new edge will stand.
    pub new_diameter: Length,
}

impl Named for GrindsWith {
    const ALL: &'static [Self] = &[Self::Face, Self::Periphery];

    fn name(self) -> &'static str {
        match self {
            Self::Face => "cup",
            Self::Periphery => "disc",
        }
    }
}

/// Reads a setting file. Whether a wheel set so can touch the cutter is for the prediction to
/// say; the reader asks only that each value can be what it claims to be.
///
/// # Errors
/// Everything wrong with the file.
pub fn read_setting(file: &str, text: &str) -> Result<SettingFile, FileProblems> {
    let reading = Reading::open(file, text);
    let top = reading.top();
    let setting = SettingFile {
        cutter: cutter(top.section("cutter")),
        wheel: wheel(top.section("wheel")),
        setting: settings(top.section("setting")),
        distances: top.maybe_section("report").map(distances).unwrap_or_default(),
    };
    top.close();
    reading.finish(Some(setting))
}

fn cutter(section: Section<'_, '_>) -> SettingCutter {
    let hand = section.choose("hand", "a hand of cut", Hand::Right);
    let helix: Angle = section.need("helix");
    let helix_hand = section.may_choose("helix_hand", "a hand of helix");
    let cutter = SettingCutter {
        diameter: above_zero(&section, "diameter"),
        teeth: section.need("teeth"),
        hand,
        helix,
        helix_hand: helix_hand.unwrap_or(hand),
        rake: section.maybe("rake").unwrap_or(Angle::ZERO),
    };
    section
        .require("teeth", cutter.teeth >= 1, || wrong("a cutter has a tooth", "write 1 or more"));
    within_degrees(&section, "helix", helix, 0.0, 60.0);
    within_degrees(&section, "rake", cutter.rake, -60.0, 60.0);
    let straight = helix == Angle::ZERO || section.is_doubted("helix");
    section.require("helix_hand", straight || section.has("helix_hand"), || {
        wrong("a helix needs its hand", "write \"right\" or \"left\"")
    });
    section.close();
    cutter
}

fn wheel(section: Section<'_, '_>) -> SettingWheel {
    let wheel = SettingWheel {
        shape: section.choose("shape", "a shape of wheel", GrindsWith::Face),
        diameter: above_zero(&section, "diameter"),
        face_width: above_zero(&section, "face_width"),
        corner_radius: zero_or_more(&section, "corner_radius"),
        trailing_corner_radius: zero_or_more(&section, "trailing_corner_radius"),
    };
    section.close();
    wheel
}

fn settings(section: Section<'_, '_>) -> Settings {
    let settings = Settings {
        head_angle: section.need("head_angle"),
        face_toward: section.choose("face_toward", "an end of the cutter", FaceToward::Tip),
        rest_inset: section.need("rest_inset"),
        relief_setting: section.need("relief_setting"),
        centre_above: section.maybe("centre_above").unwrap_or(Length::ZERO),
        head_tilt: section.maybe("head_tilt").unwrap_or(Angle::ZERO),
        new_diameter: above_zero(&section, "new_diameter"),
    };
    within_degrees(&section, "head_angle", settings.head_angle, -180.0, 180.0);
    within_degrees(&section, "relief_setting", settings.relief_setting, -30.0, 60.0);
    section.close();
    settings
}

fn distances(section: Section<'_, '_>) -> Vec<Length> {
    let distances = section.many("distances", |value| {
        let distance = Length::read(value)?;
        if distance >= Length::ZERO {
            Ok(distance)
        } else {
            Err(wrong("distances run from the edge toward the heel", "write 0 mm or more"))
        }
    });
    section.close();
    distances
}

fn above_zero(section: &Section<'_, '_>, key: &'static str) -> Length {
    let length: Length = section.need(key);
    section
        .require(key, length > Length::ZERO, || wrong("not more than 0", "write a length over 0"));
    length
}

fn zero_or_more(section: &Section<'_, '_>, key: &'static str) -> Length {
    let length = section.maybe(key).unwrap_or(Length::ZERO);
    section.require(key, length >= Length::ZERO, || {
        wrong("less than 0", "write 0 mm or a length over 0")
    });
    length
}

fn within_degrees(section: &Section<'_, '_>, key: &'static str, angle: Angle, low: f64, high: f64) {
    section.require(key, (low..=high).contains(&angle.degrees()), || {
        let fact = if angle.degrees() < low { "less than" } else { "more than" };
        let end = if angle.degrees() < low { low } else { high };
        wrong(format!("{fact} {end} deg"), format!("write an angle from {low} deg to {high} deg"))
    });
}
