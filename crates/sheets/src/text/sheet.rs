//! The whole sheet, part by part.

use geometry::System;
use shop::plan::{Peripheral, PlanCaution, PlanStep, RegrindPlan, Route, RouteView};
use shop::record::Cutter;

use super::page::Page;
use super::show::Units;
use super::{around, grind, learned, proof, setup, wheel};

/// The plan as one page of text.
pub fn plan_sheet(plan: &RegrindPlan, units: Units) -> String {
    let mut page = Page::default();
    head(&mut page, plan, units);
    verdict(&mut page, plan, units);
    cautions(&mut page, plan, &[PlanStep::Arrive]);
    if let Some(peripheral) = &plan.peripheral {
        peripheral_parts(&mut page, plan, peripheral, units);
    }
    cautions(&mut page, plan, &[PlanStep::HandBack]);
    page.rule('=');
    page.finish(units)
}

fn peripheral_parts(page: &mut Page, plan: &RegrindPlan, peripheral: &Peripheral, units: Units) {
    wheel::part(page, peripheral, units);
    cautions(page, plan, &[PlanStep::Wheel]);
    wheel::truing(page, peripheral, units);
    cautions(page, plan, &[PlanStep::True]);
    setup::part(page, plan, peripheral, units);
    cautions(page, plan, &[PlanStep::SetUp]);
    grind::part(page, peripheral, units);
    cautions(page, plan, &[PlanStep::Grind]);
    grind::secondary(page, plan, peripheral, units);
    around::part(page, peripheral, units);
    proof::part(page, peripheral, units);
    cautions(page, plan, &[PlanStep::Check]);
}

fn head(page: &mut Page, plan: &RegrindPlan, units: Units) {
    let cutter = &plan.request.cutter;
    page.rule('=');
    let left = format!("SET-UP SHEET  {}", cutter.number());
    let right = format!("{}, at {}", describe(cutter, units), plan.request.machine.name());
    page.spread(&left, &right);
    page.rule('=');
}

/// A cutter in one line: size, teeth, hand, helix and material.
pub fn describe(cutter: &Cutter, units: Units) -> String {
    let helix = match cutter.helix_hand() {
        Some(hand) => format!("{:.0} deg {hand} helix", cutter.helix().degrees()),
        None => "straight".to_owned(),
    };
    format!(
        "{}, {} teeth, {} hand, {helix}, {}",
        units.nominal(cutter.diameter()),
        cutter.teeth(),
        cutter.hand(),
        cutter.material().name()
    )
}

fn verdict(page: &mut Page, plan: &RegrindPlan, units: Units) {
    let (verdict, stock) = (&plan.verdict, &plan.stock);
    page.part("VERDICT");
    page.text(&verdict.route.name().to_uppercase());
    let routes = verdict
        .routes
        .iter()
        .filter(|view| view.route != Route::Scrap || view.route == verdict.route);
    routes.for_each(|view| route(page, view, view.route == verdict.route, units));
    let measured = if stock.dull_was_measured { "measured" } else { "worked out" };
    let smallest = verdict.smallest.as_ref().map_or_else(String::new, |smallest| {
        format!("; smallest useful {} [{}]", units.length(smallest.value), smallest.source)
    });
    page.text(&format!(
        "Original edge {}; over dull edges {} ({measured}); ordinarily {} comes off{smallest}.{}",
        units.length(stock.sharp_diameter.value),
        units.length(stock.dull_diameter),
        units.length(stock.ordinary.value),
        learned::lives(plan, units),
    ));
    learned::stock(page, plan, units);
    if verdict.cut_back.mm() > 0.0 {
        page.text(&format!("First cut {} off the end.", units.length(verdict.cut_back)));
    }
    let remarks = stock.remarks.iter().chain(&verdict.remarks).chain(&plan.wanted.remarks);
    remarks.for_each(|remark| page.hanging("* ", remark));
}

/// Why a part of the work is not planned, as a page of its own.
pub(super) fn not_planned(part: &'static str, why: &str) -> String {
    let mut page = Page::default();
    page.rule('=');
    page.part(part);
    page.text(&format!("Not planned: {why}"));
    page.rule('=');
    page.finish(Units { system: System::Inch, both: false })
}

/// One route: what it would leave, and why it can or cannot be taken.
fn route(page: &mut Page, view: &RouteView, is_chosen: bool, units: Units) {
    let mark = if is_chosen { "> " } else { "  " };
    let size = view.diameter_after.map(|size| units.length(size)).unwrap_or_default();
    let flute = view.flute_after.map(|flute| format!("flute {}", units.rough(flute)));
    let lives = view.lives_left.map(|lives| format!("{lives} more"));
    let name = format!("{mark}{}", view.route.short_name());
    if view.possible {
        let cells = [
            (name.as_str(), 12),
            (size.as_str(), if units.both { 24 } else { 12 }),
            (flute.as_deref().unwrap_or_default(), 16),
            (lives.as_deref().unwrap_or_default(), 8),
        ];
        page.columns(&cells, &view.reason);
    } else {
        page.columns(&[(name.as_str(), 12)], &format!("no: {}", view.reason));
    }
}

/// The cautions of some steps in a few words, run together so that the sheet stays one page.
pub(super) fn cautions(page: &mut Page, plan: &RegrindPlan, steps: &[PlanStep]) {
    these_cautions(page, &plan.cautions, steps);
}

/// The same of a list of cautions.
pub(super) fn these_cautions(page: &mut Page, cautions: &[PlanCaution], steps: &[PlanStep]) {
    let at_step = |caution: &&PlanCaution| steps.contains(&caution.step);
    let texts: Vec<&str> =
        cautions.iter().filter(at_step).filter_map(|caution| caution.short.as_deref()).collect();
    if !texts.is_empty() {
        page.hanging("! ", &texts.join(" "));
    }
}
