//! The sheet of a corrective grind: what changes, and nothing else.

use geometry::Length;
use shop::plan::{
    Carried, Chosen, CorrectivePlan, FeedFrom, Peripheral, PlanStep, SecondaryNext, WhyLeft,
};

use super::check::dial;
use super::grind::{numbers, passes};
use super::page::Page;
use super::show::Units;
use super::{grind, proof, sheet};

/// A corrective grind as one page of text.
pub fn corrective_sheet(corrective: &CorrectivePlan, units: Units) -> String {
    written(corrective, units).finish(units)
}

/// The same, to be set on paper.
pub(crate) fn written(corrective: &CorrectivePlan, units: Units) -> Page {
    let mut page = Page::default();
    let plan = &corrective.plan;
    page.rule('=');
    let left = format!("CORRECTIVE GRIND  {}", plan.request.cutter.number());
    let right = format!(
        "{}, at {}",
        sheet::describe(&plan.request.cutter, units),
        plan.request.machine.name()
    );
    page.spread(&left, &right);
    page.rule('=');
    as_found(&mut page, corrective, units);
    set_anew(&mut page, corrective);
    sheet::cautions(&mut page, plan, &[PlanStep::Wheel, PlanStep::True, PlanStep::SetUp]);
    if let Some(peripheral) = &plan.peripheral {
        again(&mut page, corrective, peripheral, units);
        sheet::cautions(&mut page, plan, &[PlanStep::Grind]);
        secondary(&mut page, corrective, peripheral, units);
        proof::part(&mut page, peripheral, units);
        let lands = (1..=plan.request.cutter.teeth()).map(|tooth| format!("land, tooth {tooth}"));
        page.boxes(["diameter", "taper"].map(str::to_owned).into_iter().chain(lands));
    }
    sheet::cautions(&mut page, plan, &[PlanStep::Check, PlanStep::HandBack]);
    page.rule('=');
    page
}

fn as_found(page: &mut Page, corrective: &CorrectivePlan, units: Units) {
    page.part("AS FOUND");
    let halfway = units.length(corrective.found_diameter);
    let highest = corrective.cuts_at.map(|highest| units.length(highest));
    page.text(&match highest.filter(|highest| *highest != halfway) {
        Some(highest) => format!(
            "The last pass left {halfway} over the edges, as the mean along the flute; the highest \
             edge cuts at {highest}, by which the check names the size."
        ),
        None => format!("The last pass left {halfway} over the edges, as the check found it."),
    });
    if corrective.teeth.is_empty() {
        page.text("No reading told tooth from tooth: all are taken to stand alike.");
        return;
    }
    let stands = |stands: Length| {
        let (figure, none) = (units.length(stands.abs()), units.length(Length::ZERO));
        match figure {
            figure if figure == none => "on the planned circle".to_owned(),
            figure if stands < Length::ZERO => format!("{figure} deep"),
            figure => format!("{figure} out"),
        }
    };
    for one in &corrective.teeth {
        let tooth = format!("tooth {}", one.tooth);
        page.columns(
            &[(tooth.as_str(), 13)],
            &format!("stands {} at the tip, {} at the shank", stands(one.tip), stands(one.shank)),
        );
    }
}

fn set_anew(page: &mut Page, corrective: &CorrectivePlan) {
    page.part("SET ANEW");
    page.hanging("! ", &format!("{}.", corrective.draw_clear()));
    let (made, left): (Vec<&Chosen>, Vec<&Chosen>) =
        corrective.chosen.iter().partition(|one| one.carried.is_made());
    for (number, one) in (1..).zip(&made) {
        page.hanging(&format!("{number}. "), &carried_out(one));
    }
    page.boxes(made.iter().map(|one| format!("{}, as set", set_on(one))));
    for one in left {
        page.hanging("- ", &format!("{}: left. {}", one.correction.fault.name(), why_left(one)));
    }
    corrective.set_anew.iter().for_each(|line| page.setup(line));
    let rest = if corrective.set_anew.is_empty() { "The set-up" } else { "Every other setting" };
    page.text(&format!("{rest} stays as it stands."));
    corrective.remarks.iter().for_each(|remark| page.hanging("* ", remark));
}

fn carried_out(one: &Chosen) -> String {
    let action = one.correction.action.name().to_uppercase();
    let how = &one.correction.how;
    match (&one.carried, &one.correction.dial) {
        (Carried::ByIndicator(words), _) => format!("{action}: {how} Not by the dial: {words}."),
        (_, Some(change)) => format!("{action}: {}. {how}", dial(change)),
        (_, None) => format!("{action}: {how}"),
    }
}

/// What a correction is set on.
fn set_on(one: &Chosen) -> String {
    let dial = one.correction.dial.as_ref().map(|change| change.axis.clone());
    dial.unwrap_or_else(|| one.correction.action.name().to_owned())
}

fn why_left(one: &Chosen) -> String {
    match &one.carried {
        Carried::Left(WhyLeft::ByCheck(why)) => format!("{}.", why.trim_end_matches('.')),
        Carried::Left(WhyLeft::NothingToDo) => one.correction.how.clone(),
        _ => "As you chose.".to_owned(),
    }
}

fn again(page: &mut Page, corrective: &CorrectivePlan, peripheral: &Peripheral, units: Units) {
    page.part("AGAIN");
    let from = match corrective.from {
        FeedFrom::Kiss(tooth) => format!("Kiss tooth {tooth}, dial to zero."),
        FeedFrom::LastPass => {
            "Leave the wheel where the last pass stood, backlash taken up; dial to zero.".to_owned()
        }
    };
    let [first, second] = &corrective.rounds;
    let grinding = &peripheral.grinding;
    if grinding.travel == Length::ZERO {
        page.text(&format!(
            "{from} No feed: over teeth {}, until the sparks die away; clear before indexing.",
            numbers(first)
        ));
        return;
    }
    page.text(&format!("{from} Then, a round of the teeth at each: {}.", passes(grinding, units)));
    page.marks(grinding);
    page.text(&format!(
        "Teeth {}; last round with no feed: {}. Every tooth must spark; where the lowest does not, \
         feed one mark more and write it down.",
        numbers(first),
        numbers(second)
    ));
}

fn secondary(page: &mut Page, corrective: &CorrectivePlan, peripheral: &Peripheral, units: Units) {
    match &corrective.secondary {
        SecondaryNext::Follows => grind::secondary(page, &corrective.plan, peripheral, units),
        SecondaryNext::Again(why) => {
            grind::secondary(page, &corrective.plan, peripheral, units);
            page.hanging("* ", &format!("the secondary is gone over again: {why}"));
        }
        SecondaryNext::Stays(why) => {
            page.part("SECONDARY");
            page.text(&format!("Leave it: {why}."));
        }
    }
}
