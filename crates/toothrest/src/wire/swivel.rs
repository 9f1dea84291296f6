//! The answer of `toothrest swivel`.

use geometry::Angle;
use serde::Serialize;
use shop::pose::{MachineChain, Moved, SetUp, SurfaceAngles};

use super::SCHEMA_VERSION;
use super::parts::Dial;
use crate::cli::SwivelWish;

/// The answer.
#[derive(Serialize)]
pub(crate) struct SwivelAnswer {
    schema: u32,
    machine: String,
    hand: &'static str,
    wanted: Wanted,
    /// How many set-ups there are in all.
    found: usize,
    set_ups: Vec<SetUpAnswer>,
}

#[derive(Serialize)]
struct Wanted {
    surface: Option<&'static str>,
    angles: Option<Angles>,
    spindles_deg: Option<f64>,
    along_travel: bool,
}

/// A surface's own angle and its relief.
#[derive(Serialize)]
struct Angles {
    #[serde(skip_serializing_if = "Option::is_none")]
    dish_deg: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    chamfer_deg: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    taper_deg: Option<f64>,
    relief_deg: f64,
}

#[derive(Serialize)]
struct SetUpAnswer {
    set: Vec<MovedAnswer>,
    leaves: Option<Angles>,
    /// By how much the marks miss what is wanted.
    miss_deg: f64,
    /// Degrees of the tooth for a degree of the swivels, where they move it least and most.
    gain_least: f64,
    gain_most: f64,
}

#[derive(Serialize)]
struct MovedAnswer {
    #[serde(flatten)]
    dial: Dial,
    exact_deg: f64,
}

pub(crate) fn swivel(
    wish: &SwivelWish,
    chain: &MachineChain,
    found: &[SetUp],
    count: usize,
) -> SwivelAnswer {
    SwivelAnswer {
        schema: SCHEMA_VERSION,
        machine: wish.machine.clone(),
        hand: wish.hand.name(),
        wanted: Wanted {
            surface: wish.surface.map(|one| one.surface.name()),
            angles: wish.surface.map(|one| angles(&one)),
            spindles_deg: wish.spindles.map(Angle::degrees),
            along_travel: wish.surface.is_some() && wish.carried_past,
        },
        found: count,
        set_ups: found.iter().map(|one| set_up(wish, chain, one)).collect(),
    }
}

fn set_up(wish: &SwivelWish, chain: &MachineChain, set_up: &SetUp) -> SetUpAnswer {
    SetUpAnswer {
        set: set_up.moved.iter().map(moved).collect(),
        leaves: wish.surface.map(|one| angles(&one.as_set(chain, &set_up.set))),
        miss_deg: set_up.miss.degrees(),
        gain_least: set_up.gain_least,
        gain_most: set_up.gain_most,
    }
}

fn moved(moved: &Moved) -> MovedAnswer {
    MovedAnswer { dial: Dial::from(&moved.mark), exact_deg: moved.exact.degrees() }
}

fn angles(of: &SurfaceAngles) -> Angles {
    // Adding nothing turns a minus nought into nought.
    let own = of.surface.angle().degrees() + 0.0;
    let named = |name: &str| (of.surface.angle_name() == name).then_some(own);
    Angles {
        dish_deg: named("dish"),
        chamfer_deg: named("chamfer"),
        taper_deg: named("taper"),
        relief_deg: of.relief.degrees() + 0.0,
    }
}
