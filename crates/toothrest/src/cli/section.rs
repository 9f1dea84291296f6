//! `toothrest section`.

use geometry::Angle;
use geometry::screw::Flutes;
use geometry::section::{GroundSection, SectionError, Setup, Stance};
use geometry::wheel::{Corner, CupShape, DiscShape, ProfileError, WheelBody};

use super::args::SectionArguments;
use super::failure::Failure;
use crate::files::{GrindsWith, SettingFile, load, read_setting};
use crate::wire;

pub(super) fn run(arguments: &SectionArguments) -> Result<String, Failure> {
    let (file, text) = load(&arguments.file, |name, text| {
        read_setting(name, text).map(|file| (file, text.to_owned()))
    })?;
    let name = arguments.file.display().to_string();
    let section = section(&file).map_err(|error| refused(&name, &text, error))?;
    let answer = wire::section(&file, &section).ok_or_else(|| {
        let reason = "the wheel leaves no surface at the edge; set the rest inside the face";
        Failure::File { file: name, reason: reason.to_owned() }
    })?;
    if arguments.json {
        Ok(serde_json::to_string_pretty(&answer)? + "\n")
    } else {
        Ok(answer.as_text())
    }
}

/// A refusal that names the file and, where one value is to blame, its line, key and value.
fn refused(file: &str, text: &str, error: SectionError) -> Failure {
    match error {
        SectionError::Invalid { field, reason } => {
            Failure::about(file, text, &key_of(field), reason)
        }
        SectionError::OutOfReach { reason } => Failure::File { file: file.to_owned(), reason },
    }
}

/// The key under which a setting file carries one of the kernel's values.
fn key_of(field: &str) -> String {
    let section = match field {
        "diameter" | "teeth" | "helix" => "cutter",
        "face_width" | "corner_radius" => "wheel",
        "wheel" => return "wheel".to_owned(),
        _ => "setting",
    };
    format!("{section}.{field}")
}

/// The section that a setting file describes.
pub(crate) fn section(file: &SettingFile) -> Result<GroundSection, SectionError> {
    let wheel = body(file).map_err(|error| {
        let field = match error {
            ProfileError::Size { what: "face width", .. } => "face_width",
            ProfileError::Size { .. } => "wheel",
            ProfileError::CornerTooLarge { .. } => "corner_radius",
        };
        SectionError::Invalid { field, reason: error.to_string() }
    })?;
    Setup::new(flutes(file), wheel, stance(file))?.section(file.setting.new_diameter)
}

const fn flutes(file: &SettingFile) -> Flutes {
    Flutes {
        nominal_diameter: file.cutter.diameter,
        teeth: file.cutter.teeth,
        hand: file.cutter.hand,
        helix: file.cutter.helix,
        helix_hand: file.cutter.helix_hand,
    }
}

fn body(file: &SettingFile) -> Result<WheelBody, ProfileError> {
    let wheel = &file.wheel;
    let (diameter_mm, face_width_mm) = (wheel.diameter.mm(), wheel.face_width.mm());
    let leading = Corner::round(wheel.corner_radius.mm());
    let trailing = Corner::round(wheel.trailing_corner_radius.mm());
    let (outer_wall_rad, inner_wall_rad) = (0.0, 0.0);
    match wheel.shape {
        GrindsWith::Face => WheelBody::cup(&CupShape {
            diameter_mm,
            face_width_mm,
            outer_wall_rad,
            inner_wall_rad,
            leading,
            trailing,
        }),
        GrindsWith::Periphery => {
            WheelBody::disc(&DiscShape { diameter_mm, face_width_mm, leading, trailing })
        }
    }
}

fn stance(file: &SettingFile) -> Stance {
    let setting = &file.setting;
    let lean = match file.wheel.shape {
        GrindsWith::Face => Angle::from_degrees(90.0) - setting.head_angle,
        GrindsWith::Periphery => setting.head_angle,
    };
    Stance {
        // A head angle of exactly 90 must not come out as a lean of minus nothing.
        lean: if lean.degrees().abs() < 1e-9 { Angle::ZERO } else { lean },
        face_toward: setting.face_toward,
        rest_inset: setting.rest_inset,
        relief_setting: setting.relief_setting,
        axis_above: setting.centre_above,
        tilt: setting.head_tilt,
    }
}
