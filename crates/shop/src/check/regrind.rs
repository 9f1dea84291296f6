//! The whole check of one regrind.

use geometry::Length;
use geometry::fit::FitError;

use super::correction::Correction;
use super::design::{Design, Direction, turns};
use super::fault::Fault;
use super::finding::{Edges, Explanation, Figure, Finding};
use super::further::{Further, Trial};
use super::judgement::Judgement;
use super::land::LandCurve;
use super::nominal::{Nominal, Shift};
use super::observed::{Beside, Observed, ReadingKind};
use super::plausible::{Question, Written, questions, stage_remark};
use super::sight::Seen;
use super::teeth::Teeth;
use super::term::Term;
use super::told::Told;
use super::weighing::Weighing;
use crate::context::Ctx;
use crate::error::ShopError;
use crate::plan::{NextClearance, RegrindPlan, next_clearance};
use crate::record::{LandStage, Readings, TeethRun};

/// What is asked for: a plan, made anew from what it was made from, and what was read.
#[derive(Clone, Debug)]
pub struct CheckRegrind {
    /// The plan.
    pub plan: RegrindPlan,
    /// The readings.
    pub readings: Readings,
}

/// The answer.
#[derive(Clone, Debug)]
pub enum Checked {
    /// Some readings can hardly be meant: nothing was fitted.
    Asked(Vec<Question>),
    /// The readings were weighed.
    Weighed(Box<Check>),
}

/// How far the readings tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// They show nothing wrong.
    Sound,
    /// They show what is wrong.
    Named,
    /// Something is wrong, and they do not tell which of several things.
    Unclear,
    /// Nothing but signs of wear was given.
    NotRead,
}

impl Outcome {
    /// The word used in answers.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Sound => "sound",
            Self::Named => "named",
            Self::Unclear => "unclear",
            Self::NotRead => "not read",
        }
    }
}

/// A reading that was set aside because the others speak against it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetAsideReading {
    /// Its place among the observed.
    pub reading: usize,
    /// What the others say it would be.
    pub others_say: Length,
}

/// What the readings say.
#[derive(Clone, Debug)]
pub struct Check {
    /// What was asked.
    pub request: CheckRegrind,
    /// How far they tell.
    pub outcome: Outcome,
    /// The faults that are sure.
    pub findings: Vec<Finding>,
    /// The explanations that are left, the most probable first; one where all is clear.
    pub explanations: Vec<Explanation>,
    /// Every reading beside the plan.
    pub observed: Vec<Observed>,
    /// What the best explanation makes of each reading.
    pub fitted: Vec<Length>,
    /// Readings that were set aside.
    pub set_aside: Vec<SetAsideReading>,
    /// Whether nothing that can be wrong with a grind explains the readings.
    pub contradicted: bool,
    /// By how much the readings scatter more than their instruments say.
    pub noise_factor: f64,
    /// The stands of the edges at both ends of the flute, by the best explanation.
    pub edges: Edges,
    /// The part of these stands that each sure fault has.
    pub by_fault: Vec<(Fault, Edges)>,
    /// The diameter that it cuts, that of the highest edge; None where no reading shows the size.
    pub cuts_at: Option<Figure>,
    /// What each land is planned to be: by stage.
    pub planned_lands: Vec<(LandStage, Length)>,
    /// What is allowed, and how the grind stands to it.
    pub judgements: Vec<Judgement>,
    /// What to do.
    pub corrections: Vec<Correction>,
    /// The reading that would tell, where these do not.
    pub further: Option<Further>,
    /// The trial that would tell.
    pub trial: Option<Trial>,
    /// What these readings could show.
    pub seen: Vec<Seen>,
    /// What the wear seen in use asks for next time.
    pub next_clearance: Option<NextClearance>,
    /// What a reader should know.
    pub remarks: Vec<String>,
}

/// Checks one regrind.
///
/// # Errors
/// `Invalid` where the plan grinds no periphery, or the readings leave the range of numbers.
pub fn check_regrind(ctx: &Ctx<'_>, request: CheckRegrind) -> Result<Checked, ShopError> {
    request.plan.check_alike()?;
    let plan = Nominal::of(&request.plan)?;
    let teeth = Teeth::of(plan.cutter);
    let curves = curves(&plan, &plan, &request.readings);
    let written = written(&plan, &teeth, &curves, &request.readings);
    let asked = questions(&written);
    if !asked.is_empty() && !request.readings.looked_again() {
        return Ok(Checked::Asked(asked));
    }
    let round = Round { ctx, request: &request, plan: &plan, teeth: &teeth };
    let mut checked = round.about(&plan, ROUNDS_MAX).map_err(beyond_range)?;
    if let Checked::Weighed(check) = &mut checked {
        let stage = stage_remark(&written);
        if let Some(doubt) = stage.clone().filter(|_| check.contradicted) {
            let (about, ask) = ("lands".to_owned(), "write the stage that was meant".to_owned());
            if !request.readings.looked_again() {
                return Ok(Checked::Asked(vec![Question { about, doubt, ask }]));
            }
        }
        check.remarks.extend(stage);
    }
    Ok(checked)
}

/// The land's curve at each stage at which lands were read.
fn curves(plan: &Nominal<'_>, nominal: &Nominal<'_>, readings: &Readings) -> Vec<LandCurve> {
    let stages = [LandStage::AfterPrimary, LandStage::AfterSecondary];
    let is_read = |stage: &LandStage| readings.lands().iter().any(|group| group.stage == *stage);
    let read = stages.into_iter().filter(is_read);
    read.filter_map(|stage| LandCurve::of(plan, nominal, stage)).collect()
}

fn beyond_range(error: FitError) -> ShopError {
    ShopError::invalid("readings", error.to_string())
}

/// The readings as written, for the questions that come before any fit.
fn written(
    nominal: &Nominal<'_>,
    teeth: &Teeth,
    curves: &[LandCurve],
    readings: &Readings,
) -> Vec<Written> {
    let mut all: Vec<Written> = Vec::new();
    for group in readings.lands() {
        let Some(curve) = curves.iter().find(|curve| curve.stage == group.stage) else { continue };
        let expected = Length::from_mm(curve.planned_mm());
        let kind = ReadingKind::Land(group.stage);
        let other = match group.stage {
            LandStage::AfterPrimary => LandStage::AfterSecondary,
            LandStage::AfterSecondary => LandStage::AfterPrimary,
        };
        let otherwise = nominal.land_mm(other, 0.0).map(Length::from_mm);
        let one = |land: &crate::record::LandReading| {
            let measured = land.width;
            Written { kind, measured, expected, otherwise }
        };
        all.extend(group.readings.iter().map(one));
    }
    let others = Beside::of([nominal, nominal], teeth, &[], readings).observed;
    all.extend(others.iter().map(Written::from));
    all
}

fn design<'a>(
    request: &CheckRegrind,
    nominal: &Nominal<'a>,
    teeth: &'a Teeth,
    beside: &'a Beside<'a>,
) -> Design<'a> {
    let readings = &request.readings;
    let planned = &nominal.peripheral.grinding.second_round;
    let order = readings.ground_order().unwrap_or(planned);
    let both = [TeethRun::Heelward, TeethRun::Edgeward];
    let runs = match readings.teeth_run() {
        Some(run) => vec![run],
        None if teeth.is_helical() && teeth.count() > 2 => both.to_vec(),
        None => vec![TeethRun::Heelward],
    };
    Design {
        teeth,
        flute_mm: flute(request).mm(),
        turns: turns(order),
        observed: &beside.observed,
        rounds: beside.rounds,
        is_back_known: request.plan.request.cutter.as_ground().is_some(),
        runs,
        direction: Direction::default(),
    }
}

/// The flute that is left when the end has been cut back.
pub(super) fn flute(request: &CheckRegrind) -> Length {
    flute_of(&request.plan)
}

/// The flute that a plan grinds.
pub(crate) fn flute_of(plan: &RegrindPlan) -> Length {
    plan.request.cutter.flute_length() - plan.verdict.cut_back
}

/// The forward model is taken anew about what was found at most this often.
const ROUNDS_MAX: u32 = 3;

/// A relief or a corner that was found moves the model by this much before it is taken anew.
const MOVED_DEG: f64 = 0.1;
const MOVED_CORNER_MM: f64 = 0.02;

/// One go of weighing.
struct Round<'a> {
    ctx: &'a Ctx<'a>,
    request: &'a CheckRegrind,
    plan: &'a Nominal<'a>,
    teeth: &'a Teeth,
}

impl Round<'_> {
    /// Weighs with the forward model taken about a shifted set-up, and again where what was found
    /// lies far from it.
    fn about(&self, nominal: &Nominal<'_>, rounds: u32) -> Result<Checked, FitError> {
        let readings = &self.request.readings;
        let curves = curves(self.plan, nominal, readings);
        let beside = Beside::of([self.plan, nominal], self.teeth, &curves, readings);
        let mut design = design(self.request, nominal, self.teeth, &beside);
        if design.observed.is_empty() {
            let unread = unread(self.ctx, self.request, &beside);
            return Ok(Checked::Weighed(Box::new(unread)));
        }
        let (weighing, problem) = Weighing::of(&mut design)?;
        if let Some(moved) = self.moved(nominal.shift, &weighing).filter(|_| rounds > 0) {
            return self.about(&moved, rounds - 1);
        }
        let question = super::conflict::question(&design, &weighing)?;
        if let Some(question) = question.filter(|_| !readings.looked_again()) {
            return Ok(Checked::Asked(vec![question]));
        }
        let told = Told {
            ctx: self.ctx,
            request: self.request,
            nominal,
            beside: &beside,
            design: &design,
            weighing: &weighing,
            problem: &problem,
        };
        Ok(Checked::Weighed(Box::new(told.check())))
    }

    /// The model about what was found; None where it is there already.
    fn moved(&self, shift: Shift, weighing: &Weighing) -> Option<Nominal<'_>> {
        let best = weighing.best();
        let found = |term: Term, most: f64| best.value(term).unwrap_or(0.0).clamp(-most, most);
        let wanted = Shift {
            relief_deg: found(Term::Clearance, 4.0),
            corner_mm: found(Term::Corner, 0.5).max(0.0),
        };
        let is_far = (wanted.relief_deg - shift.relief_deg).abs() > MOVED_DEG
            || (wanted.corner_mm - shift.corner_mm).abs() > MOVED_CORNER_MM;
        if is_far { self.plan.shifted(wanted) } else { None }
    }
}

/// The answer to signs of wear alone.
fn unread(ctx: &Ctx<'_>, request: &CheckRegrind, beside: &Beside<'_>) -> Check {
    Check {
        request: request.clone(),
        outcome: Outcome::NotRead,
        findings: Vec::new(),
        explanations: Vec::new(),
        observed: Vec::new(),
        fitted: Vec::new(),
        set_aside: Vec::new(),
        contradicted: false,
        noise_factor: 1.0,
        edges: Edges { places: Vec::new(), stands: Vec::new() },
        by_fault: Vec::new(),
        cuts_at: None,
        planned_lands: Vec::new(),
        judgements: Vec::new(),
        corrections: Vec::new(),
        further: None,
        trial: None,
        seen: Vec::new(),
        next_clearance: next(ctx, request),
        remarks: beside.remarks.clone(),
    }
}

pub(super) fn next(ctx: &Ctx<'_>, request: &CheckRegrind) -> Option<NextClearance> {
    next_clearance(ctx, &request.plan, request.readings.signs())
}
