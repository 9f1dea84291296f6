//! The answer of `toothrest check`.

use geometry::Length;
use serde::Serialize;
use shop::check::{Check, Question};
use shop::plan::NextClearance;
use shop::record::LandStage;

use super::correction::{CorrectionAnswer, FurtherAnswer, TrialAnswer, correction, further, trial};
use super::diagnosis::{
    Banded, EdgesAnswer, ExplanationAnswer, FindingAnswer, JudgementAnswer, SeenAnswer, edges,
    explanation, finding, judgement, seen,
};
use super::observed::{ObservedAnswer, observed};
use super::parts::CitedDeg;
use super::{Inputs, NamedText, SCHEMA_VERSION};

/// The answer where the readings were weighed.
#[derive(Serialize)]
pub(crate) struct CheckAnswer {
    schema: u32,
    program: &'static str,
    cutter: String,
    outcome: &'static str,
    findings: Vec<FindingAnswer>,
    explanations: Vec<ExplanationAnswer>,
    observed: Vec<ObservedAnswer>,
    contradicted: bool,
    noise_factor: f64,
    cuts_at: Option<Banded>,
    planned_lands: Vec<PlannedLand>,
    edges: Vec<EdgesAnswer>,
    judgements: Vec<JudgementAnswer>,
    corrections: Vec<CorrectionAnswer>,
    further: Option<FurtherAnswer>,
    trial: Option<TrialAnswer>,
    seen: Vec<SeenAnswer>,
    next_clearance: Option<NextAnswer>,
    remarks: Vec<String>,
    questions: Vec<QuestionAnswer>,
    inputs: CheckInputs,
}

/// The answer where something must be asked first.
#[derive(Serialize)]
pub(crate) struct QuestionsAnswer {
    schema: u32,
    program: &'static str,
    outcome: &'static str,
    questions: Vec<QuestionAnswer>,
}

/// Everything a check was made from.
#[derive(Serialize)]
struct CheckInputs {
    plan: Inputs,
    readings: NamedText,
}

#[derive(Serialize)]
struct PlannedLand {
    stage: String,
    land_mm: f64,
}

fn planned_land((stage, land): &(LandStage, Length)) -> PlannedLand {
    PlannedLand { stage: stage.to_string(), land_mm: land.mm() }
}

#[derive(Serialize)]
struct NextAnswer {
    now_deg: f64,
    next: CitedDeg,
    signs: Vec<String>,
    remark: String,
}

fn next(next: &NextClearance) -> NextAnswer {
    NextAnswer {
        now_deg: next.now.degrees(),
        next: (&next.next).into(),
        signs: next.signs.iter().map(ToString::to_string).collect(),
        remark: next.remark.clone(),
    }
}

#[derive(Serialize)]
struct QuestionAnswer {
    about: String,
    doubt: String,
    ask: String,
}

const PROGRAM: &str = concat!("toothrest ", env!("CARGO_PKG_VERSION"));

/// The answer for a check, with what it was made from.
pub(crate) fn check(check: &Check, plan: Inputs, readings: NamedText) -> CheckAnswer {
    CheckAnswer {
        schema: SCHEMA_VERSION,
        program: PROGRAM,
        cutter: check.request.plan.request.cutter.number().to_owned(),
        outcome: check.outcome.name(),
        findings: check.findings.iter().map(finding).collect(),
        explanations: check.explanations.iter().map(explanation).collect(),
        observed: observed(check),
        contradicted: check.contradicted,
        noise_factor: check.noise_factor,
        cuts_at: check.cuts_at.map(Banded::length),
        planned_lands: check.planned_lands.iter().map(planned_land).collect(),
        edges: edges(&check.edges),
        judgements: check.judgements.iter().map(judgement).collect(),
        corrections: check.corrections.iter().map(correction).collect(),
        further: check.further.as_ref().map(further),
        trial: check.trial.map(trial),
        seen: check.seen.iter().map(seen).collect(),
        next_clearance: check.next_clearance.as_ref().map(next),
        remarks: check.remarks.clone(),
        questions: Vec::new(),
        inputs: CheckInputs { plan, readings },
    }
}

/// The answer for readings that can hardly be meant.
pub(crate) fn questions(questions: &[Question]) -> QuestionsAnswer {
    let question = |one: &Question| QuestionAnswer {
        about: one.about.clone(),
        doubt: one.doubt.clone(),
        ask: one.ask.clone(),
    };
    QuestionsAnswer {
        schema: SCHEMA_VERSION,
        program: PROGRAM,
        outcome: "asked",
        questions: questions.iter().map(question).collect(),
    }
}
