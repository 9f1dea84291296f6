//! What a cutter of a tray asks for.

use geometry::Angle;
use geometry::quantity::System;

use super::setup::{TrayJob, TraySetup};
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::{RoughSetup, rough_setup};
use crate::record::{Cutter, Fixture, Machine, Wheel};

/// Where a tray is ground.
#[derive(Clone, Copy, Debug)]
pub struct TrayBench<'a> {
    /// The machine.
    pub machine: &'a Machine,
    /// The wheels to choose among.
    pub wheels: &'a [Wheel],
}

/// What a dull cutter asks for: the set-up by the wheel of its kept plan, where there is one that
/// may still be used, else by records and tables alone. No section is computed, so that ten
/// thousand take a second or two: head and relief are what practice gives and what is wanted, and a
/// plan may move them by a mark.
///
/// A cutter that takes another route than to be ground on its periphery, or that cannot be ground
/// here, says so in `will_not_clean_up`, for someone must decide on it first.
pub fn tray_job(
    ctx: &Ctx<'_>,
    bench: TrayBench<'_>,
    cutter: &Cutter,
    planned_wheel: Option<&str>,
) -> TrayJob {
    let number = cutter.number().to_owned();
    let rough = rough_setup(ctx, cutter, bench.machine, bench.wheels, planned_wheel);
    let (setup, will_not_clean_up) = match rough {
        Ok(Ok(rough)) => (setup(cutter, bench.machine, rough), None),
        Ok(Err(verdict)) => (no_setup(cutter), Some(verdict)),
        Err(error) => (no_setup(cutter), Some(in_words(error))),
    };
    TrayJob { number, setup, will_not_clean_up }
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

/// Why it cannot be ground here: the rule first.
fn in_words(error: ShopError) -> String {
    match error {
        ShopError::Refused { rule, why } => format!("{rule}: {why}"),
        other => other.to_string(),
    }
}
