//! The sheet of a ball.

use geometry::Length;
use shop::plan::{BallPlan, DRAW_CLEAR, PlanStep, RegrindPlan};

use super::page::Page;
use super::show::Units;
use super::{round, sheet, wheel};

/// The plan of a ball as a page of its own.
pub fn ball_sheet(plan: &RegrindPlan, ball: &BallPlan, units: Units) -> String {
    written(plan, ball, units).finish(units)
}

/// Why a ball that is asked for is not planned, as a page of its own.
pub fn ball_not_planned(why: &str) -> String {
    sheet::not_planned("THE BALL", why)
}

/// The same, to be set on paper.
pub(crate) fn written(plan: &RegrindPlan, ball: &BallPlan, units: Units) -> Page {
    let mut page = Page::default();
    let cutter = &plan.request.cutter;
    page.rule('=');
    let left = format!("THE BALL  {}", cutter.number());
    let right = format!("{}, at {}", sheet::describe(cutter, units), plan.request.machine.name());
    page.spread(&left, &right);
    page.rule('=');
    length(&mut page, ball, units);
    wheel::choice(&mut page, &ball.wheel, &ball.direction, units);
    page.hanging("! ", &format!("{DRAW_CLEAR}."));
    sheet::these_cautions(&mut page, &ball.cautions, &[PlanStep::Wheel]);
    wheel::truing_of(&mut page, &ball.truing, units);
    sheet::these_cautions(&mut page, &ball.cautions, &[PlanStep::True]);
    page.part("ROUND");
    round::primary(&mut page, &ball.round, units);
    sheet::these_cautions(&mut page, &ball.cautions, &[PlanStep::SetUp, PlanStep::Grind]);
    page.part("SECONDARY");
    round::secondary(&mut page, &ball.round, units);
    expect(&mut page, ball, units);
    page.rule('=');
    page
}

fn length(page: &mut Page, ball: &BallPlan, units: Units) {
    page.part("LENGTH");
    if ball.stock.cut_back > Length::ZERO {
        let cut = units.length(ball.stock.cut_back);
        page.text(&format!("First cut {cut} off, and gash and rough the ball anew."));
    }
    page.text(&format!(
        "{} comes off the tip ({}). Overall {} afterwards, {} of flute.",
        units.length(ball.off),
        ball.stock.off.source,
        units.length(ball.expected.overall_length),
        units.rough(ball.expected.flute_length),
    ));
    ball.stock.remarks.iter().for_each(|remark| page.hanging("* ", remark));
    let steps: Vec<String> =
        ball.order.iter().map(|step| format!("{} ({})", step.what, step.why)).collect();
    page.part("ORDER");
    page.text(&format!("{}.", steps.join("; ")));
}

fn expect(page: &mut Page, ball: &BallPlan, units: Units) {
    let expected = &ball.expected;
    page.part("EXPECT");
    round::proof(page, &ball.round, units);
    page.text(
        "Turn the cutter half round and swing to the other side: half of the difference is how far \
         its axis stands beside the pivot.",
    );
    page.text(&format!(
        "Radius {} ±{}. Land {} halfway. Overall {}. Tell the machinist: tool length {}.",
        units.length(expected.radius),
        units.length(expected.radius_band),
        units.length(ball.round.land),
        units.length(expected.overall_length),
        units.length(expected.tool_length_change),
    ));
    page.result(format!("Radius {}", units.length(expected.radius)));
    page.result(format!("Land {} halfway", units.length(ball.round.land)));
    page.result(format!("Overall {}", units.length(expected.overall_length)));
    let teeth = ball.round.primary.setup.edge().teeth;
    let whole = ["radius", "over the round", "overall length"].map(str::to_owned);
    page.boxes(whole.into_iter().chain((1..=teeth).map(|tooth| format!("land, tooth {tooth}"))));
    sheet::these_cautions(page, &ball.cautions, &[PlanStep::Check]);
}
