//! The answer of `toothrest plan`.

use geometry::Length;
use serde::Serialize;
use shop::plan::{
    Expected, Fastening, Hold, Peripheral, RegrindPlan, SecondaryGrind, Stanced, Stock, Verdict,
};

use super::around::{ConeAnswer, UnlikeAnswer};
use super::end::EndAnswer;
use super::face::FaceAnswer;
use super::learned::{LearnedMm, LivesAnswer, WheelKnownAnswer};
use super::parts::{CitedDeg, CitedMm, GrindAnswer, Line};
use super::room::RoomAnswer;
use super::round::BallAnswer;
use super::{Inputs, SCHEMA_VERSION};

/// The answer.
#[derive(Serialize)]
pub(crate) struct PlanAnswer {
    schema: u32,
    program: &'static str,
    verdict: VerdictAnswer,
    stock: StockAnswer,
    wanted: WantedAnswer,
    peripheral: Option<PeripheralAnswer>,
    end: Option<EndAnswer>,
    end_not_planned: Option<String>,
    ball: Option<BallAnswer>,
    ball_not_planned: Option<String>,
    face: Option<FaceAnswer>,
    face_not_planned: Option<String>,
    cautions: Vec<CautionAnswer>,
    inputs: Inputs,
}

impl PlanAnswer {
    /// The same answer with the plan of the end, or with why there is none.
    pub(crate) fn with_end(self, end: Option<EndAnswer>, not_planned: Option<String>) -> Self {
        Self { end, end_not_planned: not_planned, ..self }
    }

    /// The same answer with the plan of a ball, or with why there is none.
    pub(crate) fn with_ball(self, ball: Option<BallAnswer>, not_planned: Option<String>) -> Self {
        Self { ball, ball_not_planned: not_planned, ..self }
    }

    /// The same answer with the plan of the face, or with why there is none.
    pub(crate) fn with_face(self, face: Option<FaceAnswer>, not_planned: Option<String>) -> Self {
        Self { face, face_not_planned: not_planned, ..self }
    }
}

#[derive(Serialize)]
struct VerdictAnswer {
    route: &'static str,
    routes: Vec<RouteAnswer>,
    smallest_useful: Option<CitedMm>,
    cut_back_mm: f64,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct RouteAnswer {
    route: &'static str,
    possible: bool,
    diameter_after_mm: Option<f64>,
    flute_after_mm: Option<f64>,
    lives_left: Option<u32>,
    lives: Option<LivesAnswer>,
    reason: String,
}

#[derive(Serialize)]
struct StockAnswer {
    sharp_diameter: CitedMm,
    dull_diameter_mm: f64,
    dull_was_measured: bool,
    governing_tooth: Option<u32>,
    clean_diameter_mm: f64,
    allowance: CitedMm,
    ordinary: CitedMm,
    per_grind: LearnedMm,
    beyond_wear: LearnedMm,
    expected_mm: Option<f64>,
    teeth: Vec<ToothAnswer>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct ToothAnswer {
    tooth: u32,
    original_radius_mm: f64,
    wear_depth_mm: f64,
    chip_depth_mm: f64,
    whole_radius_mm: f64,
}

#[derive(Serialize)]
struct WantedAnswer {
    primary: CitedDeg,
    over: CitedMm,
    secondary: CitedDeg,
    land: CitedMm,
    tooth_thickness: CitedMm,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct PeripheralAnswer {
    wheel: WheelAnswer,
    wheel_known: WheelKnownAnswer,
    relief_kind: &'static str,
    kissing_tooth: Option<u32>,
    truing_pass: Option<CitedMm>,
    truing_finish: Option<CitedMm>,
    truing: Vec<String>,
    face_width: CitedMm,
    relief: ReliefAnswer,
    setup: Vec<Line>,
    room: Vec<RoomAnswer>,
    grind: GrindAnswer,
    secondary: SecondaryAnswer,
    expect: ExpectAnswer,
    unlike_teeth: Option<UnlikeAnswer>,
    taper: Option<ConeAnswer>,
}

#[derive(Serialize)]
struct WheelAnswer {
    number: String,
    why: String,
    source: String,
    spindle_rpm: u32,
    belt: String,
    surface_m_per_s: f64,
    marked_rpm: u32,
    rotation_from_nut: Option<String>,
    holds_tooth_down: bool,
    nut: &'static str,
    passed_over: Vec<PassedOver>,
}

#[derive(Serialize)]
struct PassedOver {
    wheel: String,
    reason: String,
}

#[derive(Serialize)]
struct ReliefAnswer {
    wanted_deg: f64,
    over_mm: Option<f64>,
    set_deg: f64,
    at_edge_deg: f64,
    snapping_costs_deg: f64,
    per_setting_degree: Option<f64>,
    per_rest_height_mm: Option<f64>,
    per_lean_degree: Option<f64>,
    per_inset_mm: Option<f64>,
    per_axis_height_mm: Option<f64>,
}

#[derive(Serialize)]
struct SecondaryAnswer {
    relief: ReliefAnswer,
    setup: Vec<Line>,
    land_before_mm: Option<f64>,
    land_after_mm: Option<f64>,
    land_per_feed: Option<f64>,
    grind: Option<GrindAnswer>,
}

#[derive(Serialize)]
struct ExpectAnswer {
    diameter_mm: f64,
    smaller_by_mm: f64,
    larger_by_mm: f64,
    flat_anvils_mm: Option<f64>,
    vee_anvil_deg: Option<f64>,
    land_mm: f64,
    land_band_mm: f64,
    drops: Vec<DropAnswer>,
    runout: Option<CitedMm>,
    ink: String,
}

#[derive(Serialize)]
struct DropAnswer {
    distance_mm: f64,
    drop_mm: f64,
    ideal_plane_mm: f64,
}

#[derive(Serialize)]
struct CautionAnswer {
    step: &'static str,
    text: String,
    source: String,
}

/// The answer for a plan, with what it was made from.
pub(crate) fn plan(plan: &RegrindPlan, inputs: Inputs) -> PlanAnswer {
    PlanAnswer {
        schema: SCHEMA_VERSION,
        program: concat!("toothrest ", env!("CARGO_PKG_VERSION")),
        verdict: verdict(&plan.verdict),
        stock: stock(&plan.stock),
        wanted: WantedAnswer {
            primary: (&plan.wanted.primary).into(),
            over: (&plan.wanted.over).into(),
            secondary: (&plan.wanted.secondary).into(),
            land: (&plan.wanted.land).into(),
            tooth_thickness: (&plan.wanted.tooth_thickness).into(),
            remarks: plan.wanted.remarks.clone(),
        },
        peripheral: plan.peripheral.as_ref().map(peripheral),
        end: None,
        end_not_planned: None,
        ball: None,
        ball_not_planned: None,
        face: None,
        face_not_planned: None,
        cautions: plan
            .cautions
            .iter()
            .map(|caution| CautionAnswer {
                step: caution.step.name(),
                text: caution.text.value.clone(),
                source: caution.text.source.clone(),
            })
            .collect(),
        inputs,
    }
}

fn verdict(verdict: &Verdict) -> VerdictAnswer {
    let route = |view: &shop::plan::RouteView| RouteAnswer {
        route: view.route.name(),
        possible: view.possible,
        diameter_after_mm: view.diameter_after.map(Length::mm),
        flute_after_mm: view.flute_after.map(Length::mm),
        lives_left: view.lives_left,
        lives: view.lives.as_ref().map(Into::into),
        reason: view.reason.clone(),
    };
    VerdictAnswer {
        route: verdict.route.name(),
        routes: verdict.routes.iter().map(route).collect(),
        smallest_useful: verdict.smallest.as_ref().map(Into::into),
        cut_back_mm: verdict.cut_back.mm(),
        remarks: verdict.remarks.clone(),
    }
}

fn stock(stock: &Stock) -> StockAnswer {
    let tooth = |tooth: &shop::plan::ToothStock| ToothAnswer {
        tooth: tooth.tooth,
        original_radius_mm: tooth.original_radius.mm(),
        wear_depth_mm: tooth.wear_depth.mm(),
        chip_depth_mm: tooth.chip_depth.mm(),
        whole_radius_mm: tooth.whole_radius().mm(),
    };
    StockAnswer {
        sharp_diameter: (&stock.sharp_diameter).into(),
        dull_diameter_mm: stock.dull_diameter.mm(),
        dull_was_measured: stock.dull_was_measured,
        governing_tooth: stock.governing,
        clean_diameter_mm: stock.clean_diameter.mm(),
        allowance: (&stock.allowance).into(),
        ordinary: (&stock.ordinary).into(),
        per_grind: (&stock.per_grind).into(),
        beyond_wear: (&stock.beyond_wear).into(),
        expected_mm: stock.expected.map(Length::mm),
        teeth: stock.teeth.iter().map(tooth).collect(),
        remarks: stock.remarks.clone(),
    }
}

fn peripheral(peripheral: &Peripheral) -> PeripheralAnswer {
    PeripheralAnswer {
        wheel: wheel(peripheral),
        wheel_known: (&peripheral.known).into(),
        relief_kind: peripheral.kind.name(),
        kissing_tooth: peripheral.kissing_tooth,
        truing_pass: peripheral.truing.pass.as_ref().map(Into::into),
        truing_finish: peripheral.truing.finish.as_ref().map(Into::into),
        truing: peripheral.truing.steps.iter().map(|step| step.value.clone()).collect(),
        face_width: (&peripheral.truing.face_width).into(),
        relief: relief(&peripheral.stanced),
        setup: peripheral.setup.iter().map(Into::into).collect(),
        room: peripheral.room.iter().map(Into::into).collect(),
        grind: (&peripheral.grinding).into(),
        secondary: secondary(&peripheral.secondary),
        expect: expect(&peripheral.expected),
        unlike_teeth: peripheral.unlike.as_ref().map(Into::into),
        taper: peripheral.cone.as_ref().map(Into::into),
    }
}

fn wheel(peripheral: &Peripheral) -> WheelAnswer {
    let (choice, direction) = (&peripheral.wheel, &peripheral.direction);
    WheelAnswer {
        number: choice.wheel.number().to_owned(),
        why: choice.why.value.clone(),
        source: choice.why.source.clone(),
        spindle_rpm: choice.speed.rpm,
        belt: choice.speed.belt.clone(),
        surface_m_per_s: choice.surface_m_per_s,
        marked_rpm: choice.wheel.marked_rpm(),
        rotation_from_nut: direction.seen_from_nut.map(|rotation| rotation.to_string()),
        holds_tooth_down: direction.hold == Hold::Down,
        nut: match direction.fastening {
            Fastening::Tightens => "tightens",
            Fastening::Loosens => "loosens",
            Fastening::Held => "held",
            Fastening::Unknown => "unknown",
        },
        passed_over: choice
            .passed_over
            .iter()
            .map(|refusal| PassedOver {
                wheel: refusal.wheel.clone(),
                reason: refusal.reason.clone(),
            })
            .collect(),
    }
}

fn relief(stanced: &Stanced) -> ReliefAnswer {
    let found = &stanced.sensitivities;
    ReliefAnswer {
        wanted_deg: stanced.target.relief.degrees(),
        over_mm: stanced.target.over.map(Length::mm),
        set_deg: stanced.relief.degrees(),
        at_edge_deg: stanced.edge_relief.degrees(),
        snapping_costs_deg: stanced.cost_of_snapping().degrees(),
        per_setting_degree: found.per_setting_degree,
        per_rest_height_mm: found.per_rest_height_mm,
        per_lean_degree: found.per_lean_degree,
        per_inset_mm: found.per_inset_mm,
        per_axis_height_mm: found.per_axis_height_mm,
    }
}

fn secondary(secondary: &SecondaryGrind) -> SecondaryAnswer {
    SecondaryAnswer {
        relief: relief(&secondary.stanced),
        setup: secondary.lines.iter().map(Into::into).collect(),
        land_before_mm: secondary.land_before.map(Length::mm),
        land_after_mm: secondary.land_after.map(Length::mm),
        land_per_feed: secondary.land_per_feed,
        grind: secondary.grinding.as_ref().map(Into::into),
    }
}

fn expect(expected: &Expected) -> ExpectAnswer {
    let drop = |drop: &shop::plan::ExpectedDrop| DropAnswer {
        distance_mm: drop.distance.mm(),
        drop_mm: drop.drop.mm(),
        ideal_plane_mm: drop.handbook.mm(),
    };
    ExpectAnswer {
        diameter_mm: expected.diameter.mm(),
        smaller_by_mm: expected.diameter_band.0.mm(),
        larger_by_mm: expected.diameter_band.1.mm(),
        flat_anvils_mm: expected.flat_anvils.map(Length::mm),
        vee_anvil_deg: expected.vee_anvil.map(geometry::Angle::degrees),
        land_mm: expected.land.mm(),
        land_band_mm: expected.land_band.mm(),
        drops: expected.drops.iter().map(drop).collect(),
        runout: expected.runout.as_ref().map(Into::into),
        ink: expected.ink.clone(),
    }
}
