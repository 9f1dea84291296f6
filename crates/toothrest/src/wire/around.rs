//! What a plan's answer adds where teeth are unalike or the cutter tapers.

use serde::Serialize;
use shop::plan::{ConeGrind, ConeStation, EachTooth, HelixGroup, UnlikeTeeth};

use super::parts::Line;

/// Teeth that stand or run unalike.
#[derive(Serialize)]
pub(super) struct UnlikeAnswer {
    teeth: Vec<ToothAnswer>,
    groups: Vec<GroupAnswer>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct ToothAnswer {
    tooth: u32,
    helix_deg: f64,
    least_gap_deg: Option<f64>,
    least_gap_from_tip_mm: Option<f64>,
    wheel_clear_mm: Option<f64>,
    relief_deg: f64,
    stands_out_mm: f64,
    land_mm: Option<f64>,
    measured_against: Option<u32>,
    micrometer_mm: Option<f64>,
}

#[derive(Serialize)]
struct GroupAnswer {
    helix_deg: f64,
    teeth: Vec<u32>,
    relief_deg: f64,
    nearer_mm: f64,
    setup: Line,
}

impl From<&UnlikeTeeth> for UnlikeAnswer {
    fn from(unlike: &UnlikeTeeth) -> Self {
        Self {
            teeth: unlike.teeth.iter().map(tooth).collect(),
            groups: unlike.groups.iter().map(group).collect(),
            remarks: unlike.remarks.clone(),
        }
    }
}

fn tooth(tooth: &EachTooth) -> ToothAnswer {
    ToothAnswer {
        tooth: tooth.tooth,
        helix_deg: tooth.helix.degrees(),
        least_gap_deg: tooth.least_gap.map(|(gap, _)| gap.degrees()),
        least_gap_from_tip_mm: tooth.least_gap.map(|(_, from_tip)| from_tip.mm()),
        wheel_clear_mm: tooth.clear.map(|clear| clear.mm()),
        relief_deg: tooth.relief.degrees(),
        stands_out_mm: tooth.stands_out.mm(),
        land_mm: tooth.land.map(|land| land.mm()),
        measured_against: tooth.over.map(|(other, _)| other),
        micrometer_mm: tooth.over.map(|(_, reading)| reading.mm()),
    }
}

fn group(group: &HelixGroup) -> GroupAnswer {
    GroupAnswer {
        helix_deg: group.helix.degrees(),
        teeth: group.teeth.clone(),
        relief_deg: group.relief.degrees(),
        nearer_mm: group.nearer.mm(),
        setup: (&group.relief_line).into(),
    }
}

/// The grinding of a taper.
#[derive(Serialize)]
pub(super) struct ConeAnswer {
    swivel_deg: f64,
    flat_face_swivel_deg: f64,
    taper_made_deg: f64,
    shift_mm: f64,
    stations: Vec<StationAnswer>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct StationAnswer {
    from_tip_mm: f64,
    diameter_mm: f64,
    off_straight_mm: f64,
    relief_deg: f64,
    normal_relief_deg: f64,
    land_mm: Option<f64>,
}

impl From<&ConeGrind> for ConeAnswer {
    fn from(cone: &ConeGrind) -> Self {
        let station = |station: &ConeStation| StationAnswer {
            from_tip_mm: station.from_tip.mm(),
            diameter_mm: station.diameter.mm(),
            off_straight_mm: station.off_straight.mm(),
            relief_deg: station.relief.degrees(),
            normal_relief_deg: station.normal_relief.degrees(),
            land_mm: station.land.map(|land| land.mm()),
        };
        Self {
            swivel_deg: cone.swivel.degrees(),
            flat_face_swivel_deg: cone.flat_face.degrees(),
            taper_made_deg: cone.made.degrees(),
            shift_mm: cone.shift.mm(),
            stations: cone.stations.iter().map(station).collect(),
            remarks: cone.remarks.clone(),
        }
    }
}
