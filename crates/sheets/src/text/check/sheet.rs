//! The whole sheet, part by part.

use shop::check::Check;
use shop::plan::PlanStep;

use super::super::page::Page;
use super::super::sheet::{cautions, describe};
use super::super::show::Units;
use super::{apart, found, next, next_time, seen, verdict};

/// The check of a grind as one page of text.
pub fn check_sheet(check: &Check, units: Units) -> String {
    let mut page = Page::default();
    head(&mut page, check, units);
    verdict::part(&mut page, check, units);
    next::part(&mut page, check, units);
    cautions(&mut page, &check.request.plan, &[PlanStep::Check]);
    apart::part(&mut page, check, units);
    found::part(&mut page, check, units);
    found::set_aside(&mut page, check, units);
    seen::part(&mut page, check, units);
    next_time::part(&mut page, check, units);
    page.rule('=');
    page.finish(units)
}

fn head(page: &mut Page, check: &Check, units: Units) {
    let request = &check.request.plan.request;
    page.rule('=');
    let left = format!("CHECK SHEET  {}", request.cutter.number());
    let right = format!("{}, at {}", describe(&request.cutter, units), request.machine.name());
    page.spread(&left, &right);
    page.rule('=');
}
