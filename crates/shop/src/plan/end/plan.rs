//! The whole plan of the end.

use geometry::Length;
use geometry::end::{EndPlane, EndTeeth};

use super::corner::{CornerGrind, corner};
use super::expect::{EndExpected, expected};
use super::gash::{GashPlan, gash};
use super::grind::{EndGrind, EndJob, no_surface};
use super::order::{EndStep, order};
use super::round::RoundJob;
use super::secondary::{EndSecondary, secondary};
use super::stock::{EndStock, end_stock};
use super::swivels::swung;
use super::wanted::{EndWanted, wanted};
use crate::bridge;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::caution::{PlanCaution, end_cautions};
use crate::plan::dial::snapped_up;
use crate::plan::feed::Feed;
use crate::plan::held::check_plate;
use crate::plan::known::WheelKnown;
use crate::plan::part::grinds_end;
use crate::plan::pass::{DialFeed, Grinding, grinding};
use crate::plan::refusal::{check_dust, check_holding, check_nut};
use crate::plan::rotation::{self, TurnDirection};
use crate::plan::truing::{Truing, face_width, truing};
use crate::plan::wheel::{WheelChoice, ranked};
use crate::plan::{RegrindPlan, Route};
use crate::record::{EndForm, Profile, Wheel};
use geometry::wheel::FaceToward;

/// The plan of the end.
#[derive(Clone, Debug)]
pub struct EndPlan {
    /// The wanted end.
    pub wanted: EndWanted,
    /// What comes off the length.
    pub stock: EndStock,
    /// What is done in which order.
    pub order: Vec<EndStep>,
    /// The wheel and its speed.
    pub wheel: WheelChoice,
    /// The work.
    pub work: EndWork,
    /// Which way the wheel turns.
    pub direction: TurnDirection,
    /// Truing and dressing.
    pub truing: Truing,
    /// The gash.
    pub gash: GashPlan,
    /// The readings that prove the work.
    pub expected: EndExpected,
    /// Cautions, in the order of the steps.
    pub cautions: Vec<PlanCaution>,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

/// The work of one wheel at the end.
#[derive(Clone, Debug)]
pub struct EndWork {
    /// The end teeth as they will be.
    pub teeth: EndTeeth,
    /// The primary.
    pub primary: EndGrind,
    /// Its passes.
    pub grinding: Grinding,
    /// What they take off the length.
    pub off: Length,
    /// The secondary.
    pub secondary: EndSecondary,
    /// The corner; none where it stays sharp or is refused.
    pub corner: Option<CornerGrind>,
    /// Why the corner is not planned, where it is not.
    pub corner_refused: Option<String>,
}

/// Whether a plan's own verdict asks for the end.
pub fn asks_for_end(plan: &RegrindPlan) -> bool {
    grinds_end(plan.verdict.route)
}

/// Plans the end of a cutter whose regrind is planned. `off` is what is to come off the length,
/// where that is not left to the corners.
///
/// # Errors
/// `Invalid` where the records do not fit each other, `Refused` where a rule of safety or of
/// geometry forbids the work; both say what would be right.
pub fn plan_end(
    ctx: &Ctx<'_>,
    plan: &RegrindPlan,
    off: Option<Length>,
) -> Result<EndPlan, ShopError> {
    let (cutter, machine) = (&plan.request.cutter, &plan.request.machine);
    check_form(plan)?;
    check_holding(cutter, machine)?;
    check_plate(cutter, machine)?;
    check_dust(cutter, machine)?;
    let wanted = wanted(ctx, cutter, &plan.wanted)?;
    let stock = end_stock(ctx, cutter, &plan.verdict, off)?;
    // What the swivels cannot reach they cannot reach with any wheel.
    swung(machine, cutter, (wanted.dish.value, wanted.relief.value), None)?;
    let job = Job { ctx, plan, wanted: &wanted, stock: &stock, diameter: diameter(plan) };
    let ranked = ranked(ctx, cutter, machine, &plan.request.wheels, None);
    let (wheel, work) = ranked.first_that_works(ctx, machine, |wheel| {
        job.direction(wheel)?;
        job.with(wheel)
    })?;
    let made = (work.primary.made, work.secondary.land, work.off);
    let expected = expected(ctx, plan, &wanted, &stock, &work.teeth, made)?;
    let body = bridge::body(&wheel.wheel, face_width(ctx, &wheel.wheel, None).value)?;
    let end_job = job.end_job(body);
    let gash = gash(&end_job, plan, work.primary.made, &stock, &work.teeth)?;
    let steps = order(plan, gash.is_needed, &wanted.corner);
    let remarks = remarks(plan, &wanted, &work);
    let cautions = end_cautions(ctx, cutter, machine, &wheel.wheel);
    Ok(EndPlan {
        order: steps,
        direction: job.direction(&wheel.wheel)?,
        truing: truing(ctx, &wheel.wheel, face_width(ctx, &wheel.wheel, None)),
        wheel,
        work,
        gash,
        expected,
        cautions,
        remarks,
        wanted,
        stock,
    })
}

/// Refuses an end that a straight stroke cannot make.
fn check_form(plan: &RegrindPlan) -> Result<(), ShopError> {
    let cutter = &plan.request.cutter;
    if cutter.end() == EndForm::Ball {
        let why = "its edge is the round itself: it is planned as a ball";
        return Err(ShopError::refused("a ball has no end teeth to square", why));
    }
    check_worth(plan)
}

/// Refuses an end on a cutter that is not ground.
pub(super) fn check_worth(plan: &RegrindPlan) -> Result<(), ShopError> {
    if matches!(plan.verdict.route, Route::Scrap | Route::Reflute) {
        let why = format!("the verdict is: {}", plan.verdict.in_words());
        return Err(ShopError::refused("no end is ground on a cutter that is not", why));
    }
    Ok(())
}

/// The size that the corner will stand on.
pub(super) fn diameter(plan: &RegrindPlan) -> Length {
    let ground = plan.peripheral.as_ref().map(|peripheral| peripheral.expected.diameter);
    ground.unwrap_or(plan.stock.sharp_diameter.value)
}

/// The end before it is tried with a wheel.
struct Job<'a> {
    ctx: &'a Ctx<'a>,
    plan: &'a RegrindPlan,
    wanted: &'a EndWanted,
    stock: &'a EndStock,
    diameter: Length,
}

impl<'a> Job<'a> {
    fn end_job(&self, body: geometry::wheel::WheelBody) -> EndJob<'a> {
        let request = &self.plan.request;
        EndJob {
            ctx: self.ctx,
            cutter: &request.cutter,
            machine: &request.machine,
            wanted: self.wanted,
            diameter: self.diameter,
            body,
        }
    }

    /// Which way a wheel turns.
    fn direction(&self, wheel: &Wheel) -> Result<TurnDirection, ShopError> {
        let request = &self.plan.request;
        let (cutter, kind) = (&request.cutter, bridge::kind(wheel));
        check_nut(rotation::direction(cutter, &request.machine, kind, FaceToward::Tip))
    }

    /// Tries the end with a wheel.
    fn with(&self, wheel: &Wheel) -> Result<EndWork, ShopError> {
        let body = bridge::body(wheel, face_width(self.ctx, wheel, None).value)?;
        let job = self.end_job(body);
        let wanted = self.wanted;
        let wished = EndPlane::new(wanted.dish.value, wanted.relief.value)?;
        let primary = job.grind(wished, wanted.land.value)?;
        let (off, grinding) = self.fed(wheel, &primary)?;
        let secondary = secondary(&job, &primary)?;
        let on = RoundJob { job: &job, plan: self.plan, wheel, off };
        let (corner, corner_refused) = match corner(&on, &primary.swung) {
            Ok(corner) => (corner, None),
            Err(error) => (None, Some(error.to_string())),
        };
        let teeth = job.teeth(primary.made)?;
        Ok(EndWork { teeth, primary, grinding, off, secondary, corner, corner_refused })
    }

    /// The feed from the first touch to size, up to the next mark that cleans the worst corner.
    fn fed(&self, wheel: &Wheel, primary: &EndGrind) -> Result<(Length, Grinding), ShopError> {
        let request = &self.plan.request;
        let (machine, scale) = (&request.machine, request.machine.cross_feed());
        let known = WheelKnown::of(self.ctx, wheel, &request.known.wheel(wheel.number()))?;
        let per_feed = primary.section.length_per_feed().ok_or_else(no_surface)?;
        let exact = self.stock.off.value / per_feed;
        let travel = snapped_up(scale, exact / known.trusted).max(scale.finest_travel());
        let fed = travel * known.trusted;
        let feed = Feed {
            at_kiss: fed,
            at_size: Length::ZERO,
            radius_per_feed: per_feed,
            kiss_behind: Length::ZERO,
        };
        let dial = DialFeed { feed, travel, ratio: known.trusted };
        let grinding = grinding(self.ctx, machine, wheel, request.cutter.teeth(), dial)
            .ok_or_else(|| ShopError::invalid("machine", "it has no cross feed with a dial"))?;
        Ok((fed * per_feed, grinding))
    }
}

/// A dish that came out by so much else than wanted is worth a word, in degrees.
const WORTH_A_WORD_DEG: f64 = 0.2;

fn remarks(plan: &RegrindPlan, wanted: &EndWanted, work: &EndWork) -> Vec<String> {
    let cutter = &plan.request.cutter;
    let mut remarks = wanted.remarks.clone();
    remarks.extend(work.corner_refused.iter().map(|why| format!("corner: {why}")));
    let (dish, relief) = (work.primary.dish_cost(), work.primary.relief_cost());
    if dish.degrees().abs() > WORTH_A_WORD_DEG || relief.degrees().abs() > WORTH_A_WORD_DEG {
        remarks.push(format!(
            "the swivels' marks are coarse here: dish {} and relief {} off what is wanted; set \
             between two marks, or by an indicator over a sine",
            dish.show(),
            relief.show()
        ));
    }
    if cutter.unequal_index() {
        let remark = "unequal index: bring each tooth up by its own edge";
        remarks.push(remark.to_owned());
    }
    if cutter.profile() == Profile::Rougher {
        remarks.push("a rougher's end is ground like any other; its waves stay".to_owned());
    }
    let past = work.primary.stops.past_centre;
    if wanted.inner.value == Length::ZERO && past < Length::from_thou(2.0) {
        remarks.push(format!(
            "the stroke can go only {} past the centre: see that no point is left standing there",
            past.show_both(cutter.system())
        ));
    }
    remarks
}
