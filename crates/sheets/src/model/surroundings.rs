//! The wheel and the finger of the tooth rest, where they stand.

use geometry::solid::{Mesh, block, revolution, wheel_half_section};
use geometry::wheel::Pose;
use geometry::{Angle, Length};
use nalgebra::Vector3;
use shop::plan::{Peripheral, Quantity, SetupItem};
use shop::record::Cutter;

use super::cutter::Body;
use super::part::{ModelPart, PartName, parts_of};

/// Width of a finger that the set-up does not name (own choice, no source).
const FINGER_MM: f64 = 3.0;

/// From the edge down the face to the finger's near and far side, as shares of the flute's depth
/// (own choice, no source).
const BEARING_SHARES: (f64, f64) = (0.08, 0.3);

/// How far below the axis the finger is drawn, in diameters.
const BELOW_DIAMETERS: f64 = 1.6;

/// Wheel and rest in the frame of a right-hand cutter, z from the tip.
pub(super) struct Surroundings<'a> {
    peripheral: &'a Peripheral,
    rest_mm: f64,
    twist_rad_per_mm: f64,
    rake: Angle,
    core: Length,
}

impl<'a> Surroundings<'a> {
    pub(super) fn new(body: &Body<'_>, peripheral: &'a Peripheral) -> Self {
        Self {
            peripheral,
            rest_mm: body.rest_from_tip.mm(),
            twist_rad_per_mm: body.flutes().twist_rad_per_mm(),
            rake: body.rake(),
            core: body.core_diameter(),
        }
    }

    pub(super) fn parts(
        &self,
        cutter: &Cutter,
        chord_error: Length,
        is_mirrored: bool,
    ) -> Vec<ModelPart> {
        let part = |name, mesh| parts_of(mesh, |_| name, is_mirrored);
        let wheel =
            self.wheel(chord_error).into_iter().flat_map(|mesh| part(PartName::Wheel, mesh));
        let mut parts: Vec<ModelPart> = wheel.collect();
        // An index head holds the tooth without one.
        if self.peripheral.direction.has_rest {
            parts.extend(part(PartName::Rest, self.finger(cutter.diameter())));
        }
        parts
    }

    /// The machine's point (along toward the tip, toward the wheel, up) in the model's frame.
    fn placed(&self, point: &Vector3<f64>) -> Vector3<f64> {
        Vector3::new(point.y, point.z, self.rest_mm - point.x)
    }

    fn wheel(&self, chord_error: Length) -> Option<Mesh> {
        let wheel = &self.peripheral.wheel.wheel;
        let body = self.peripheral.stanced.setup.wheel();
        let half = wheel_half_section(body, wheel.depth(), wheel.bore(), chord_error).ok()?;
        let stands = self.peripheral.section.wheel_pose();
        let turned = |way: &Vector3<f64>| Vector3::new(way.y, way.z, -way.x);
        let pose =
            Pose::new(self.placed(&stands.origin), turned(&stands.axis), turned(&stands.near))?;
        revolution(&half, &pose, chord_error).ok()
    }

    /// A blade under the face of the tooth on the rest, its top along the helix.
    fn finger(&self, diameter: Length) -> Mesh {
        let half_mm = 0.5 * self.finger_width_mm();
        let (near, far) = BEARING_SHARES;
        let top = [(-half_mm, far), (half_mm, far), (half_mm, near), (-half_mm, near)]
            .map(|(along_mm, share)| self.on_face(along_mm, share));
        let down_mm = -BELOW_DIAMETERS * diameter.mm();
        block(top.map(|corner| Vector3::new(corner.x, down_mm, corner.z)), top)
    }

    fn finger_width_mm(&self) -> f64 {
        let line = self.peripheral.setup.iter().find(|line| line.item == SetupItem::Finger);
        match line.and_then(|line| line.value) {
            Some(Quantity::Length(width)) => width.mm(),
            _ => FINGER_MM,
        }
    }

    /// A point of the face, from the edge inward by a share of the flute's depth, at a distance
    /// along the cutter from the rest.
    fn on_face(&self, along_mm: f64, share: f64) -> Vector3<f64> {
        let edge_mm = self.peripheral.section.circle_radius().mm();
        let down_mm = share * (edge_mm - 0.5 * self.core.mm());
        let setting_rad = self.peripheral.stanced.stance().relief_setting.radians();
        let at_rad = self.twist_rad_per_mm * along_mm - setting_rad;
        let (sin, cos) = at_rad.sin_cos();
        let (inward, heelward) = (down_mm * self.rake.cos(), down_mm * self.rake.sin());
        let (x, y) = (edge_mm - inward, heelward);
        Vector3::new(x * cos - y * sin, x * sin + y * cos, self.rest_mm + along_mm)
    }
}
