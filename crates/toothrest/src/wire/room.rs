//! How near the wheel comes to what it must not grind, as a plan's answer tells it.

use geometry::Length;
use geometry::clearance::Nearest;
use geometry::quantity::System;
use serde::Serialize;
use shop::plan::{Room, RoomFound};

use super::parts::CitedMm;

/// The room beside one thing. What was not found is null.
#[derive(Serialize)]
pub(super) struct RoomAnswer {
    beside: &'static str,
    found: &'static str,
    gap_mm: Option<f64>,
    nearest: Option<NearestAnswer>,
    may_begin_from_tip_mm: Option<f64>,
    hold_at_most_mm: Option<f64>,
    behind_edge_mm: Option<f64>,
    wanted: CitedMm,
    tight: bool,
    words: String,
}

/// Where the wheel comes nearest.
#[derive(Serialize)]
struct NearestAnswer {
    rest_from_tip_mm: f64,
    along_mm: f64,
    across_mm: f64,
    up_mm: f64,
    teeth_heelward: Option<u32>,
}

impl From<&Room> for RoomAnswer {
    fn from(room: &Room) -> Self {
        let mut answer = Self {
            beside: room.beside.name(),
            found: "gap",
            gap_mm: room.gap().map(Length::mm),
            nearest: None,
            may_begin_from_tip_mm: None,
            hold_at_most_mm: None,
            behind_edge_mm: None,
            wanted: (&room.wanted).into(),
            tight: room.is_tight(),
            words: room.words(|length| length.show_both(System::Millimetre).to_string()),
        };
        match &room.found {
            RoomFound::Gap { nearest, rest_from_tip, tooth } => {
                answer.nearest = Some(NearestAnswer::new(nearest, *rest_from_tip, *tooth));
            }
            RoomFound::MayBegin { from_tip, .. } => {
                answer.found = "may begin";
                answer.may_begin_from_tip_mm = Some(from_tip.mm());
            }
            RoomFound::HoldAtMost { from_tip, held } => {
                answer.found = "hold at most";
                answer.may_begin_from_tip_mm = Some(from_tip.mm());
                answer.hold_at_most_mm = Some(held.mm());
            }
            RoomFound::Free => answer.found = "free",
            RoomFound::Never => answer.found = "never",
            RoomFound::SetBack { behind_edge } => {
                answer.found = "set back";
                answer.behind_edge_mm = Some(behind_edge.mm());
            }
            RoomFound::NotChecked { .. } => answer.found = "not checked",
        }
        answer
    }
}

impl NearestAnswer {
    fn new(nearest: &Nearest, rest_from_tip: Length, teeth_heelward: Option<u32>) -> Self {
        Self {
            rest_from_tip_mm: rest_from_tip.mm(),
            along_mm: nearest.along.mm(),
            across_mm: nearest.across.mm(),
            up_mm: nearest.up.mm(),
            teeth_heelward,
        }
    }
}
