//! What is asked about before anything is planned, and never refused.

use std::f64::consts::PI;

use geometry::Length;
use geometry::quantity::System;

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
