//! The end of a cutter as it was last ground, as far as that is known.

use geometry::{Angle, Length};

use super::cutter::CutterDraft;
use super::faults::{Faults, degrees, fault, shown};
use super::form::EndForm;

/// The end teeth of a cutter; whatever nobody knows is left out, and the tables stand in.
///
/// Its fields are public because a value by itself proves nothing; [`CutterDraft::build`] checks
/// it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EndTeeth {
    /// How much the edges sink toward the centre.
    pub dish: Option<Angle>,
    /// Primary relief along the axis.
    pub relief: Option<Angle>,
    /// Secondary clearance along the axis, larger than the primary.
    pub secondary: Option<Angle>,
    /// Width of the primary land.
    pub land: Option<Length>,
    /// How far the edges run ahead of the centre; below zero behind it.
    pub ahead_of_centre: Option<Length>,
    /// Diameter in the middle of the end that no edge reaches.
    pub centre_hole: Option<Length>,
    /// How steeply the gash's root falls outward, against the plane of the end.
    pub gash_angle: Option<Angle>,
    /// How far the gash's face leans back under the edge.
    pub gash_rake: Option<Angle>,
    /// Radius in the gash's root.
    pub gash_root: Option<Length>,
    /// Where the gash's root comes out on the end, from the centre; below zero past it.
    pub gash_from_centre: Option<Length>,
    /// Width of the chamfer over the corner.
    pub corner_chamfer: Option<Length>,
    /// Angle of that chamfer against the end.
    pub corner_angle: Option<Angle>,
    /// Relief of the corner, chamfered or round.
    pub corner_relief: Option<Angle>,
}

/// Ranges of the angles of an end, in degrees: field, least, greatest.
const DISH_DEG: (f64, f64) = (0.0, 10.0);
const RELIEF_DEG: (f64, f64) = (0.5, 30.0);
const SECONDARY_DEG: (f64, f64) = (1.0, 50.0);
const GASH_DEG: (f64, f64) = (10.0, 70.0);
const RAKE_DEG: (f64, f64) = (-15.0, 25.0);
const CORNER_DEG: (f64, f64) = (10.0, 80.0);

impl EndTeeth {
    /// Whether nothing at all is known.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    fn angles(&self) -> [(&'static str, Option<Angle>, (f64, f64)); 7] {
        [
            ("end_teeth.dish", self.dish, DISH_DEG),
            ("end_teeth.relief", self.relief, RELIEF_DEG),
            ("end_teeth.secondary", self.secondary, SECONDARY_DEG),
            ("end_teeth.gash_angle", self.gash_angle, GASH_DEG),
            ("end_teeth.gash_rake", self.gash_rake, RAKE_DEG),
            ("end_teeth.corner_angle", self.corner_angle, CORNER_DEG),
            ("end_teeth.corner_relief", self.corner_relief, RELIEF_DEG),
        ]
    }
}

impl CutterDraft {
    pub(super) fn check_end_teeth(&self, end: &EndTeeth, faults: &mut Faults) {
        for (field, angle, (least, greatest)) in end.angles() {
            if let Some(angle) = angle {
                let ends = (Angle::from_degrees(least), Angle::from_degrees(greatest));
                faults.angle(field, angle, ends.0, ends.1);
            }
        }
        self.check_end_lengths(end, faults);
        if let (Some(primary), Some(secondary)) = (end.relief, end.secondary) {
            let blamed: (&str, &[&str]) = ("end_teeth.secondary", &["end_teeth.relief"]);
            faults.require_with(secondary > primary, blamed, degrees(secondary), || {
                let primary = degrees(primary);
                let fact =
                    format!("the secondary clears the primary's heel, and that is {primary}");
                fault(fact, format!("write an angle over {primary}"))
            });
        }
        let rounded = self.end != EndForm::Square;
        let both = rounded && end.corner_chamfer.is_some();
        let chamfer = end.corner_chamfer.unwrap_or(Length::ZERO);
        faults.require_with(!both, ("end_teeth.corner_chamfer", &["end"]), shown(chamfer), || {
            let fact = format!("the end is \"{}\" and has no chamfer", self.end.name());
            fault(fact, "leave it out, or write end = \"square\"")
        });
    }

    fn check_end_lengths(&self, end: &EndTeeth, faults: &mut Faults) {
        let half = self.diameter / 2.0;
        let ranges = [
            ("end_teeth.land", end.land, (Length::ZERO, half)),
            ("end_teeth.ahead_of_centre", end.ahead_of_centre, (-half * 0.5, half * 0.5)),
            ("end_teeth.centre_hole", end.centre_hole, (Length::ZERO, self.diameter * 0.9)),
            ("end_teeth.gash_root", end.gash_root, (Length::ZERO, half * 0.5)),
            ("end_teeth.gash_from_centre", end.gash_from_centre, (-half * 0.5, half * 0.9)),
            ("end_teeth.corner_chamfer", end.corner_chamfer, (Length::ZERO, half * 0.5)),
        ];
        for (field, length, (least, greatest)) in ranges {
            let Some(length) = length else { continue };
            let fits = length >= least && length <= greatest;
            faults.require_with(fits, (field, &["diameter"]), shown(length), || {
                let size = shown(self.diameter);
                let right = format!("write {} to {}", shown(least), shown(greatest));
                fault(format!("it does not fit the end of a cutter of {size}"), right)
            });
        }
    }
}
