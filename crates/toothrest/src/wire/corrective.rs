//! The plan of a corrective grind, as it stands beside the plan of the work after it.

use serde::Serialize;
use shop::plan::{
    Carried, Chosen, CorrectivePlan, FeedFrom, SecondaryNext, ToothFound, WhyLeft, corrective_steps,
};

use super::Inputs;
use super::correction::{CorrectionAnswer, correction};
use super::parts::Line;
use super::plan::{PlanAnswer, plan};

/// The answer: a plan of the work as it will stand, and what leads there.
#[derive(Serialize)]
pub(crate) struct AgainAnswer {
    corrective: CorrectiveAnswer,
    #[serde(flatten)]
    plan: PlanAnswer,
}

#[derive(Serialize)]
struct CorrectiveAnswer {
    corrections: Vec<ChosenAnswer>,
    found_diameter_mm: f64,
    found: Vec<FoundAnswer>,
    feed_from: &'static str,
    kissing_tooth: Option<u32>,
    first_round: Vec<u32>,
    second_round: Vec<u32>,
    set_anew: Vec<Line>,
    secondary: &'static str,
    secondary_why: Option<String>,
    steps: Vec<StepAnswer>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct ChosenAnswer {
    #[serde(flatten)]
    correction: CorrectionAnswer,
    carried_out: &'static str,
    left_because: Option<String>,
}

#[derive(Serialize)]
struct FoundAnswer {
    tooth: u32,
    tip_mm: f64,
    shank_mm: f64,
}

#[derive(Serialize)]
struct StepAnswer {
    key: String,
    title: String,
    how: String,
}

/// The answer for a corrective grind, with what it was made from.
pub(crate) fn again(corrective: &CorrectivePlan, inputs: Inputs) -> AgainAnswer {
    let (secondary, why) = match &corrective.secondary {
        SecondaryNext::Follows => ("follows", None),
        SecondaryNext::Again(why) => ("again", Some(why.clone())),
        SecondaryNext::Stays(why) => ("stays", Some(why.clone())),
    };
    let (feed_from, kissing_tooth) = match corrective.from {
        FeedFrom::Kiss(tooth) => ("kiss", Some(tooth)),
        FeedFrom::LastPass => ("last pass", None),
    };
    let [first_round, second_round] = corrective.rounds.clone();
    let steps = corrective_steps(corrective).into_iter();
    AgainAnswer {
        corrective: CorrectiveAnswer {
            corrections: corrective.chosen.iter().map(chosen).collect(),
            found_diameter_mm: corrective.found_diameter.mm(),
            found: corrective.teeth.iter().map(found).collect(),
            feed_from,
            kissing_tooth,
            first_round,
            second_round,
            set_anew: corrective.set_anew.iter().map(Into::into).collect(),
            secondary,
            secondary_why: why,
            steps: steps
                .map(|step| StepAnswer { key: step.key, title: step.title, how: step.how })
                .collect(),
            remarks: corrective.remarks.clone(),
        },
        plan: plan(&corrective.plan, inputs),
    }
}

fn chosen(one: &Chosen) -> ChosenAnswer {
    let (carried_out, left_because) = match &one.carried {
        Carried::Made => ("by the dial or by hand", None),
        Carried::ByIndicator(_) => ("by an indicator", None),
        Carried::Left(WhyLeft::ByHand) => ("left", Some("left as it is".to_owned())),
        Carried::Left(WhyLeft::ByCheck(why)) => ("left", Some(why.clone())),
        Carried::Left(WhyLeft::NothingToDo) => ("left", Some("nothing to grind".to_owned())),
    };
    ChosenAnswer { correction: correction(&one.correction), carried_out, left_because }
}

fn found(tooth: &ToothFound) -> FoundAnswer {
    FoundAnswer { tooth: tooth.tooth, tip_mm: tooth.tip.mm(), shank_mm: tooth.shank.mm() }
}
