//! What a cutter of a tray asks for.

use geometry::Angle;
use geometry::quantity::System;

use super::setup::{TrayJob, TraySetup};
use crate::context::Ctx;
use crate::plan::{PlannedSetup, RoughSetup, in_words, rough_setup};
use crate::record::{Cutter, Fixture, Machine, Wheel};

/// Where a tray is ground.
#[derive(Clone, Copy, Debug)]
pub struct TrayBench<'a> {
    /// The machine.
    pub machine: &'a Machine,
    /// The wheels to choose among.
    pub wheels: &'a [Wheel],
}

/// What the kept plan of a cutter says of its set-up.
#[derive(Clone, Copy, Debug)]
pub struct KeptPlan<'a> {
    /// The number of its wheel.
    pub wheel: &'a str,
    /// Its set-up on the machine of the tray; none where it was made for another one, or where it
    /// was kept before set-ups were.
    pub setup: Option<&'a PlannedSetup>,
}

/// What a dull cutter asks for: the set-up of its kept plan, where there is one whose wheel may
/// still be used, else one by records and tables alone. No section is computed, so that ten
/// thousand take a second or two: head and relief are then what practice gives and what is wanted,
/// and a plan may move them by a mark.
///
/// A cutter that takes another route than to be ground on its periphery, or that cannot be ground
/// here, says so in `will_not_clean_up`, for someone must decide on it first.
pub fn tray_job(
    ctx: &Ctx<'_>,
    bench: TrayBench<'_>,
    cutter: &Cutter,
    kept: Option<KeptPlan<'_>>,
) -> TrayJob {
    let number = cutter.number().to_owned();
    let wheel = kept.map(|kept| kept.wheel);
    let (setup, size_after, will_not_clean_up, by_plan) =
        match rough_setup(ctx, cutter, bench.machine, bench.wheels, wheel) {
            Ok(Ok(rough)) => {
                let kept = kept.filter(|kept| kept.wheel == rough.wheel);
                let planned = kept.and_then(|kept| kept.setup);
                let rough = planned.map_or(rough.clone(), |planned| of_plan(rough, planned));
                let size = rough.size_after;
                (setup(cutter, bench.machine, rough), size, None, planned.is_some())
            }
            Ok(Err(verdict)) => (no_setup(cutter), None, Some(verdict), false),
            Err(error) => (no_setup(cutter), None, Some(in_words(error)), false),
        };
    TrayJob { number, setup, size_after, will_not_clean_up, by_plan }
}

/// The set-up that was planned, instead of that of practice.
fn of_plan(rough: RoughSetup, planned: &PlannedSetup) -> RoughSetup {
    RoughSetup {
        head_angle: planned.head_angle,
        relief: planned.relief_setting,
        finger: planned.finger.clone(),
        ..rough
    }
}

fn setup(cutter: &Cutter, machine: &Machine, rough: RoughSetup) -> TraySetup {
    TraySetup {
        wheel: rough.wheel,
        holding: holding(cutter, machine),
        head_angle: rough.head_angle,
        rest_finger: rough.finger.unwrap_or_default(),
        hand: cutter.hand(),
        relief_setting: rough.relief,
    }
}

/// The set-up of a cutter that is not ground.
fn no_setup(cutter: &Cutter) -> TraySetup {
    TraySetup {
        wheel: String::new(),
        holding: String::new(),
        head_angle: Angle::ZERO,
        rest_finger: String::new(),
        hand: cutter.hand(),
        relief_setting: Angle::ZERO,
    }
}

/// The fixture with the size of its collet or sleeve; centres take any.
fn holding(cutter: &Cutter, machine: &Machine) -> String {
    let fixture = machine.holding().fixture();
    match fixture {
        Fixture::Centres => fixture.name().to_owned(),
        _ => {
            let shank = cutter.shank_diameter().show_both(System::Millimetre);
            format!("{}, shank {shank}", fixture.name())
        }
    }
}
