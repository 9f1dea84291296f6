//! The study sheet: what holds, what spreads and why, and how loosely each setting may be set.

use shop::study::{HELD, Spread, Study};

use super::page::Page;
use super::sheet::describe;
use super::show::Units;
use super::study_words::{
    gain, listed, others, percent, shown, tolerance, usual, verdicts, wanted, widest,
};

/// The study of a plan as plain text.
pub fn study_sheet(study: &Study, units: Units) -> String {
    let mut page = Page::default();
    head(&mut page, study, units);
    verdict(&mut page, study, units);
    spreads(&mut page, study, units);
    dangers(&mut page, study);
    causes(&mut page, study, units);
    loosest(&mut page, study, units);
    page.part("");
    study.remarks.iter().for_each(|remark| page.hanging("* ", remark));
    page.text(&about(study));
    page.rule('=');
    page.finish(units)
}

fn head(page: &mut Page, study: &Study, units: Units) {
    let request = &study.request.plan.request;
    page.rule('=');
    let left = format!("STUDY SHEET  {}", request.cutter.number());
    let right = format!("{}, at {}", describe(&request.cutter, units), request.machine.name());
    page.spread(&left, &right);
    page.rule('=');
}

fn verdict(page: &mut Page, study: &Study, units: Units) {
    page.part("HOLDS");
    verdicts(study, units).iter().for_each(|line| page.text(line));
}

fn spreads(page: &mut Page, study: &Study, units: Units) {
    page.part("SPREAD");
    let heads = [("", 20), ("planned", 12), ("5 % below", 12), ("half", 12), ("95 % below", 12)];
    page.columns(&heads, "wanted");
    study.spreads.iter().for_each(|spread| one_spread(page, spread, units));
}

fn one_spread(page: &mut Page, spread: &Spread, units: Units) {
    let value = |value: f64| shown(spread.measure, value, units);
    let [low, middle, high] = spread.quantiles.map(value);
    let planned = value(spread.planned);
    let cells =
        [(spread.measure.name(), 20), (&planned, 12), (&low, 12), (&middle, 12), (&high, 12)];
    page.columns(&cells, &wanted(spread, units));
}

fn dangers(page: &mut Page, study: &Study) {
    page.part("MUST NOT");
    let each =
        study.dangers.iter().map(|one| format!("{}: {}", one.danger.name(), percent(one.share)));
    page.text(&each.collect::<Vec<_>>().join("; "));
}

fn causes(page: &mut Page, study: &Study, units: Units) {
    page.part("CAUSES");
    for causes in &study.causes {
        let deviation = tolerance(causes.measure.quantity(causes.deviation), units);
        let head = format!("{} ±{deviation}", causes.measure.name());
        page.columns(&[(&head, 32)], &listed(causes));
    }
}

fn loosest(page: &mut Page, study: &Study, units: Units) {
    page.part("LOOSEST");
    page.columns(&[("", 26), ("a hand is within", 26), ("it may be within", 26)], "gain");
    for one in &study.allowances {
        let Some(habit) = study.habits.habit(one.setting) else { continue };
        let [usual, widest] = [usual(habit, units), widest(habit, one, units)];
        let cells = [(one.setting.name(), 26), (&usual, 26), (&widest, 26)];
        page.columns(&cells, &gain(one.gain));
    }
}

fn about(study: &Study) -> String {
    let request = &study.request;
    let others = others(study);
    format!(
        "{} teeth through the real section, seed {}; shares from the first {}, limits from {}. A \
         hand is within: 95 % of the time, by the tables (topic habits). It may be within: so that \
         {} of teeth still hold relief and land, {others}. div.: finest \
         divisions of the dial.",
        request.samples,
        request.seed,
        study.base,
        study.searched,
        percent(HELD)
    )
}
