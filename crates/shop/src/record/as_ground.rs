//! The cutter when it was last sharp, and what a diameter over its edges can be.

use geometry::{Angle, Length};

use super::cutter::CutterDraft;
use super::faults::{Faults, degrees, fault, shown};

/// How far above its nominal size a cutter may have been ground or measured, as a ratio.
const OVERSIZE_RATIO: f64 = 1.02;

/// The cutter when it was last sharp.
///
/// Its fields are public because a value by itself proves nothing; [`CutterDraft::build`] checks
/// it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AsGround {
    /// Diameter over the sharp edges.
    pub diameter: Length,
    /// Primary relief angle.
    pub primary: Angle,
    /// Secondary clearance angle, larger than the primary.
    pub secondary: Angle,
    /// Width of the primary land.
    pub land: Length,
    /// Primary relief to give at the next regrind, where the last check asked for another.
    pub next_primary: Option<Angle>,
}

impl CutterDraft {
    pub(super) fn check_as_ground(&self, ground: &AsGround, faults: &mut Faults) {
        self.check_diameter_over_edges("as_ground.diameter", ground.diameter, faults);
        let (least, greatest) = (Angle::from_degrees(0.5), Angle::from_degrees(45.0));
        faults.angle("as_ground.primary", ground.primary, least, greatest);
        faults.angle("as_ground.secondary", ground.secondary, least, Angle::from_degrees(60.0));
        let larger = ground.secondary > ground.primary;
        let blamed: (&str, &[&str]) = ("as_ground.secondary", &["as_ground.primary"]);
        faults.require_with(larger, blamed, degrees(ground.secondary), || {
            let primary = degrees(ground.primary);
            let fact = format!("the secondary clears the primary's heel, and that is {primary}");
            fault(fact, format!("write an angle over {primary}"))
        });
        if let Some(next) = ground.next_primary {
            let field = "as_ground.next_primary";
            faults.angle(field, next, least, greatest);
            let blamed: (&str, &[&str]) = (field, &["as_ground.secondary"]);
            faults.require_with(next < ground.secondary, blamed, degrees(next), || {
                let secondary = degrees(ground.secondary);
                let fact =
                    format!("the secondary clears the primary's heel, and that is {secondary}");
                fault(fact, format!("write an angle under {secondary}"))
            });
        }
        let (room, others) = self.back_of_tooth();
        let fits = ground.land > Length::ZERO && ground.land <= room;
        faults.require_with(fits, ("as_ground.land", others), shown(ground.land), || {
            let fact = format!("a land lies on the tooth's back, {} wide", shown(room));
            fault(fact, format!("write a width over 0 and up to {}", shown(room)))
        });
    }

    /// A diameter over the edges lies over the core and not far above nominal.
    pub(super) fn check_diameter_over_edges(
        &self,
        field: &str,
        diameter: Length,
        faults: &mut Faults,
    ) {
        let core = self.core_diameter.unwrap_or(Length::ZERO);
        let greatest = self.diameter * OVERSIZE_RATIO;
        let fits = diameter > core && diameter <= greatest;
        let others: &[&str] = &["diameter", "core_diameter"];
        faults.require_with(fits, (field, others), shown(diameter), || {
            let fact = if diameter > greatest {
                format!("more than the nominal {} allows", shown(self.diameter))
            } else if core > Length::ZERO {
                format!("no larger than the core, {}", shown(core))
            } else {
                "not more than 0".to_owned()
            };
            fault(
                fact,
                format!("write a diameter over {} and up to {}", shown(core), shown(greatest)),
            )
        });
    }

    /// The room a land has, and the fields that decide it.
    fn back_of_tooth(&self) -> (Length, &'static [&'static str]) {
        match self.tooth_thickness {
            Some(back) => (back, &["tooth_thickness"]),
            None => (self.pitch(), &["diameter", "teeth"]),
        }
    }
}
