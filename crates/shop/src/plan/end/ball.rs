//! The plan of a ball: its round swung from the tip to the periphery, at the periphery's new size.

use geometry::Length;
use geometry::wheel::FaceToward;
use trade::Step;

use super::expect::KISS_ERROR_THOU;
use super::grind::EndJob;
use super::order::{EndStep, ball_order};
use super::plan::{check_worth, diameter};
use super::round::{RoundGrind, RoundJob};
use super::round_lines::round_steps;
use super::steps::numbered;
use super::stock::{EndStock, end_stock};
use super::wanted::{CornerWanted, EndWanted, wanted};
use crate::bridge;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::RegrindPlan;
use crate::plan::caution::{PlanCaution, end_cautions};
use crate::plan::clear::draw_clear;
use crate::plan::dial::snapped_up;
use crate::plan::held::{Held, check_plate};
use crate::plan::known::WheelKnown;
use crate::plan::refusal::{check_dust, check_holding, check_nut};
use crate::plan::rotation::{self, TurnDirection};
use crate::plan::steps::BenchStep;
use crate::plan::truing::{Truing, face_width, truing};
use crate::plan::wheel::{WheelChoice, ranked};
use crate::record::{EndForm, Wheel};

/// The plan of a ball.
#[derive(Clone, Debug)]
pub struct BallPlan {
    /// What is wanted of it.
    pub wanted: EndWanted,
    /// What comes off the length.
    pub stock: EndStock,
    /// What the dial's marks take off the length.
    pub off: Length,
    /// What is done in which order.
    pub order: Vec<EndStep>,
    /// The wheel and its speed.
    pub wheel: WheelChoice,
    /// Which way the wheel turns.
    pub direction: TurnDirection,
    /// Truing and dressing.
    pub truing: Truing,
    /// The round.
    pub round: RoundGrind,
    /// The readings that prove the work.
    pub expected: BallExpected,
    /// Cautions, in the order of the steps.
    pub cautions: Vec<PlanCaution>,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

/// What to read when the ball is done.
#[derive(Clone, Debug, PartialEq)]
pub struct BallExpected {
    /// Its radius, to be held against a gauge.
    pub radius: Length,
    /// How much that may miss: the dial's half mark and the kiss.
    pub radius_band: Length,
    /// Length of the whole cutter.
    pub overall_length: Length,
    /// What the machinist takes off the tool's length.
    pub tool_length_change: Length,
    /// Length of flute.
    pub flute_length: Length,
}

/// Plans the ball of a cutter whose regrind is planned. `off` is what is to come off the length,
/// where that is not left to the wear.
///
/// # Errors
/// `Invalid` where the records do not fit each other, `Refused` where a rule of safety or of
/// geometry forbids the work; both say what would be right.
pub fn plan_ball(
    ctx: &Ctx<'_>,
    plan: &RegrindPlan,
    off: Option<Length>,
) -> Result<BallPlan, ShopError> {
    let (cutter, machine) = (&plan.request.cutter, &plan.request.machine);
    if cutter.end() != EndForm::Ball {
        let why = format!("its file says end = \"{}\"", cutter.end().name());
        return Err(ShopError::invalid("end", format!("this cutter has no ball: {why}")));
    }
    check_worth(plan)?;
    check_holding(cutter, machine)?;
    check_plate(cutter, machine)?;
    check_dust(cutter, machine)?;
    let wanted = wanted(ctx, cutter, &plan.wanted)?;
    let stock = end_stock(ctx, cutter, &plan.verdict, off)?;
    let job = Job { ctx, plan, wanted: &wanted, stock: &stock };
    let ranked = ranked(ctx, cutter, machine, &plan.request.wheels, None);
    let (wheel, (round, off)) = ranked.first_that_works(ctx, machine, |wheel| {
        job.direction(wheel)?;
        job.with(wheel)
    })?;
    let cautions = end_cautions(ctx, cutter, machine, &wheel.wheel);
    Ok(BallPlan {
        order: ball_order(plan),
        direction: job.direction(&wheel.wheel)?,
        truing: truing(ctx, &wheel.wheel, face_width(ctx, &wheel.wheel, None)),
        expected: expected(plan, &stock, &round, off),
        remarks: stock.remarks.iter().chain(&round.remarks).cloned().collect(),
        wheel,
        round,
        off,
        cautions,
        wanted,
        stock,
    })
}

/// The ball before it is tried with a wheel.
struct Job<'a> {
    ctx: &'a Ctx<'a>,
    plan: &'a RegrindPlan,
    wanted: &'a EndWanted,
    stock: &'a EndStock,
}

impl Job<'_> {
    fn direction(&self, wheel: &Wheel) -> Result<TurnDirection, ShopError> {
        let request = &self.plan.request;
        let (cutter, kind) = (&request.cutter, bridge::kind(wheel));
        check_nut(rotation::direction(cutter, &request.machine, kind, FaceToward::Tip))
    }

    /// The round with a wheel, and what it takes off the length.
    fn with(&self, wheel: &Wheel) -> Result<(RoundGrind, Length), ShopError> {
        let request = &self.plan.request;
        let job = EndJob {
            ctx: self.ctx,
            cutter: &request.cutter,
            machine: &request.machine,
            wanted: self.wanted,
            diameter: diameter(self.plan),
            body: bridge::body(wheel, face_width(self.ctx, wheel, None).value)?,
        };
        let known = WheelKnown::of(self.ctx, wheel, &request.known.wheel(wheel.number()))?;
        // The feed counts from the tip, so that what comes off it is brought to a mark.
        let scale = request.machine.cross_feed();
        let off = snapped_up(scale, self.stock.off.value / known.trusted) * known.trusted;
        let on = RoundJob { job: &job, plan: self.plan, wheel, off };
        let relief = match &self.wanted.corner {
            CornerWanted::Round { relief, .. } => relief,
            _ => &self.wanted.relief,
        };
        Ok((on.round(job.diameter / 2.0, relief)?, off))
    }
}

fn expected(plan: &RegrindPlan, stock: &EndStock, round: &RoundGrind, off: Length) -> BallExpected {
    let shorter = stock.cut_back + off;
    let cutter = &plan.request.cutter;
    let half_mark = plan.request.machine.cross_feed().finest_travel() / 2.0;
    BallExpected {
        radius: round.round.radius,
        radius_band: half_mark + Length::from_thou(KISS_ERROR_THOU),
        overall_length: cutter.overall_length() - shorter,
        tool_length_change: -shorter,
        flute_length: cutter.flute_length() - shorter,
    }
}

/// The steps of a ball that come behind those of the periphery, in order.
pub fn ball_bench_steps(plan: &RegrindPlan, ball: &BallPlan) -> Vec<BenchStep> {
    let mut steps = vec![draw_clear("ball"), wheel(ball)];
    steps.extend(round_steps(
        "ball",
        &ball.round,
        Held::on(&plan.request.machine),
        plan.request.cutter.system(),
    ));
    numbered(steps)
}

fn wheel(ball: &BallPlan) -> BenchStep {
    let (wheel, speed) = (&ball.wheel.wheel, &ball.wheel.speed);
    let how = format!(
        "Mount {}; spindle {} rpm, {}. It is marked {} rpm: never faster. Dress its corner sharp",
        wheel.number(),
        speed.rpm,
        speed.belt,
        wheel.marked_rpm()
    );
    let why = "its corner makes the round alone".to_owned();
    BenchStep::plain("ball: wheel", "wheel for the ball", Step::Wheel, how, why)
}
