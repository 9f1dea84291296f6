//! The face in the answer of `toothrest plan`.

use serde::Serialize;
use shop::plan::{FacePlan, RegrindPlan, face_setup};

use super::parts::{CitedDeg, CitedMm, Line};

/// A regrind on the face.
#[derive(Serialize)]
pub(crate) struct FaceAnswer {
    governing_tooth: Option<u32>,
    off_face_mm: f64,
    edge_goes_back_mm: f64,
    relief: CitedDeg,
    sharp_diameter_mm: f64,
    wheel: String,
    spindle_rpm: u32,
    setup: Vec<Line>,
    rake_deg: f64,
    rake_to_root_deg: f64,
    offset_mm: f64,
    next_offset_mm: f64,
    wheel_clear_mm: Option<f64>,
    turn_deg: f64,
    passes: Vec<PassAnswer>,
    pass_max: CitedMm,
    first_round: Vec<u32>,
    second_round: Vec<u32>,
    expect: ExpectAnswer,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct PassAnswer {
    kind: &'static str,
    turned_deg: f64,
}

#[derive(Serialize)]
struct ExpectAnswer {
    diameter_mm: f64,
    lost_mm: f64,
    back_mm: f64,
    lives_left: u32,
    runout: Option<CitedMm>,
}

/// The answer for the plan of a face.
pub(crate) fn face(plan: &RegrindPlan, face: &FacePlan) -> FaceAnswer {
    let (stock, grind, expected) = (&face.stock, &face.grind, &face.expected);
    let pass = |pass: &shop::plan::FacePass| PassAnswer {
        kind: pass.kind.name(),
        turned_deg: pass.turned.degrees(),
    };
    FaceAnswer {
        governing_tooth: stock.governing,
        off_face_mm: stock.off_face.mm(),
        edge_goes_back_mm: stock.behind.mm(),
        relief: (&stock.relief).into(),
        sharp_diameter_mm: stock.sharp_diameter.mm(),
        wheel: face.wheel.wheel.number().to_owned(),
        spindle_rpm: face.wheel.speed.rpm,
        setup: face_setup(plan, face).iter().map(Into::into).collect(),
        rake_deg: grind.rake.degrees(),
        rake_to_root_deg: grind.rake_to_root.degrees(),
        offset_mm: grind.setup.stance().offset.mm(),
        next_offset_mm: grind.next_offset.mm(),
        wheel_clear_mm: grind.clear.map(|clear| clear.mm()),
        turn_deg: grind.turn.degrees(),
        passes: face.passes.iter().map(pass).collect(),
        pass_max: (&face.pass_max).into(),
        first_round: face.rounds[0].clone(),
        second_round: face.rounds[1].clone(),
        expect: ExpectAnswer {
            diameter_mm: expected.diameter.mm(),
            lost_mm: expected.lost.mm(),
            back_mm: expected.back.mm(),
            lives_left: expected.lives,
            runout: expected.runout.as_ref().map(Into::into),
        },
        remarks: face.remarks.clone(),
    }
}
