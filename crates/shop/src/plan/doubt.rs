//! What is asked about before anything is planned, and never refused.

use std::f64::consts::PI;

use geometry::Length;
use geometry::quantity::System;

use super::regrind::RegrindPlan;
use crate::context::Ctx;
use crate::record::Cutter;

/// Why a count of teeth can hardly be meant on a cutter of its size; none where it can.
///
/// **Source** \[own-derivation\] the pitch along the circle is π D / z.
/// **Departs** in taking the teeth as equally spaced.
/// **Error** none that matters: the bounds are wide.
/// **Domain** diameters for which the tables have a pitch.
pub fn teeth_doubt(ctx: &Ctx<'_>, cutter: &Cutter) -> Option<String> {
    let (diameter, teeth) = (cutter.diameter(), cutter.teeth());
    let found = ctx.tables.pitch_of_teeth(diameter)?.chosen;
    let bounds = found.value.pitch;
    let circle = diameter * PI;
    let pitch = circle / f64::from(teeth);
    if bounds.contains(pitch) {
        return None;
    }
    let system = cutter.system();
    let shown = |length: Length| length.show_to(system, coarse(system)).to_string();
    let least = (circle / bounds.greatest).ceil().max(1.0);
    let most = (circle / bounds.least).floor();
    Some(format!(
        "{teeth} teeth would stand {} apart round {}; cutters of that size have {least:.0} to \
         {most:.0} (tables, teeth): count them again",
        shown(pitch),
        shown(diameter)
    ))
}

/// A step fine enough to talk about a pitch.
fn coarse(system: System) -> Length {
    match system {
        System::Inch => Length::from_inches(0.001),
        System::Millimetre => Length::from_mm(0.01),
    }
}

/// A feed gone wrong by as much as was planned, and by this on the radius at least, is believed of
/// a hand; farther off it is more likely a slip of the pen (own choice, no source).
const FED_WRONG_MM: f64 = 0.25;

/// Two readings of one size may differ by this much (own choice, no source).
const READING_SLACK_MM: f64 = 0.05;

/// The sizes over the edges that a grind can leave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SizesLeft {
    planned: Length,
    least: Length,
    most: Length,
}

impl SizesLeft {
    /// By the size that was planned and what was to come off the radius.
    pub fn of(planned: Length, stock: Length) -> Self {
        let stock = stock.max(Length::ZERO);
        let wrong = stock.max(Length::from_mm(FED_WRONG_MM));
        let slack = Length::from_mm(READING_SLACK_MM);
        Self { planned, least: planned - wrong * 2.0, most: planned + stock * 2.0 + slack }
    }

    /// Of a plan that grinds the periphery; a size before the grind is the largest there can be.
    pub fn of_plan(plan: &RegrindPlan) -> Option<Self> {
        let work = plan.peripheral.as_ref()?;
        let feed = &work.grinding.feed;
        let stock = feed.travel() * feed.radius_per_feed;
        let left = Self::of(work.expected.diameter, stock);
        let dull = plan.stock.dull_diameter + Length::from_mm(READING_SLACK_MM);
        Some(Self { most: left.most.max(dull), ..left })
    }

    /// Whether a size is among them.
    pub fn has(&self, size: Length) -> bool {
        (self.least..=self.most).contains(&size)
    }

    /// Why a size can hardly be meant; none where it can.
    pub fn doubt(&self, size: Length, system: System) -> Option<String> {
        let shown = |length: Length| length.show(system).to_string();
        let coarse = |length: Length| length.show_to(system, coarse(system)).to_string();
        (!self.has(size)).then(|| {
            format!(
                "{} can hardly be meant: the plan leaves {}, and a feed gone wrong some {} to {}. \
                 Measure again, and look at the decimal point and the unit",
                shown(size),
                shown(self.planned),
                coarse(self.least),
                coarse(self.most)
            )
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_size_with_its_point_in_the_wrong_place_is_doubted() {
        let mm = Length::from_mm;
        let left = SizesLeft::of(mm(11.82), mm(0.089));
        assert!(left.has(mm(11.79)) && left.has(mm(11.99)) && left.has(mm(11.5)));
        for wrong in [1.182, 118.2, 12.3, 10.8] {
            assert!(!left.has(mm(wrong)), "{wrong}");
        }
        let words = left.doubt(mm(1.182), System::Millimetre).unwrap_or_default();
        assert!(words.contains("1.182 mm") && words.contains("11.820 mm"), "{words}");
        assert_eq!(left.doubt(mm(11.8), System::Millimetre), None);
    }
}
