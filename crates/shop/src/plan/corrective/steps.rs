//! A corrective grind as a row of steps at the bench.

use trade::Step;

use super::made::Carried;
use super::{Chosen, CorrectivePlan, FeedFrom, SecondaryNext};
use crate::check::{Action, Correction};
use crate::plan::clear::{DRAW_CLEAR, DRAW_CLEAR_ALONG, draw_clear, draw_clear_along};
use crate::plan::dial::DialMark;
use crate::plan::held::Held;
use crate::plan::pass::{GrindPass, PassKind};
use crate::plan::setting::{SetupItem, SetupLine};
use crate::plan::steps::{BenchStep, between, first_touch, numbers, of_line, passes, set_up};

/// The steps of a corrective grind, in order: only what changes.
pub fn corrective_steps(plan: &CorrectivePlan) -> Vec<BenchStep> {
    let Some(peripheral) = plan.peripheral() else { return Vec::new() };
    let by_hand = plan.chosen.iter().filter(is_step).map(correction);
    // The cutter was read where it stands, and the wheel may still run beside it.
    let mut steps = vec![match plan.from {
        FeedFrom::Kiss(_) => draw_clear("correct"),
        FeedFrom::LastPass => draw_clear_along("correct"),
    }];
    steps.extend(by_hand);
    steps.extend(plan.set_anew.iter().map(|line| line_anew(plan, line)));
    steps.push(start(plan, peripheral.grinding.passes.first()));
    let count = peripheral.grinding.passes.len();
    let numbered = (1..).zip(&peripheral.grinding.passes);
    steps.extend(numbered.map(|(number, pass)| one_pass(plan, pass, (number, count))));
    if let (SecondaryNext::Again(_) | SecondaryNext::Follows, Some(grinding)) =
        (&plan.secondary, &peripheral.secondary.grinding)
    {
        steps.extend(between(&plan.plan, peripheral));
        steps.extend(set_up("secondary", &peripheral.secondary.lines, &peripheral.setup));
        steps.push(crate::plan::steps::kiss(
            "secondary",
            peripheral,
            grinding,
            plan.plan.request.cutter.system(),
        ));
        let held = Held::on(&plan.plan.request.machine);
        steps.extend(passes("secondary", grinding, held));
    }
    steps
}

impl CorrectivePlan {
    /// What is done before anything is set anew.
    pub const fn draw_clear(&self) -> &'static str {
        match self.from {
            FeedFrom::Kiss(_) => DRAW_CLEAR,
            FeedFrom::LastPass => DRAW_CLEAR_ALONG,
        }
    }
}

/// What is done by itself, before the set-up and the feed.
fn is_step(one: &&Chosen) -> bool {
    let own = [Action::Reseat, Action::Dress, Action::Swivel, Action::SecondRound];
    one.carried.is_made() && own.contains(&one.correction.action)
}

fn correction(one: &Chosen) -> BenchStep {
    let Correction { fault, action, dial, how, .. } = &one.correction;
    let of = if *action == Action::Dress { Step::True } else { Step::SetUp };
    let key = format!("correct: {}", fault.kind());
    let title = format!("{}: {}", fault.name(), action.name());
    let mut how = how.clone();
    let mut moved = None;
    match (&one.carried, dial) {
        (Carried::ByIndicator(words), _) => how = format!("{how} Not by the dial: {words}"),
        (_, Some(change)) => {
            moved = Some(change.clone());
            how = format!("\"{}\" by this much, {}: {how}", change.axis, change.way);
        }
        _ => {}
    }
    let why = "the check found it".to_owned();
    BenchStep { change: moved, ..BenchStep::plain(&key, &title, of, how, why) }
}

/// A line of the set-up that is set anew; the relief with by how many divisions.
fn line_anew(plan: &CorrectivePlan, line: &SetupLine) -> BenchStep {
    let mut step = of_line("primary", line);
    let is_made =
        |one: &&Chosen| one.correction.action == Action::SetRelief && one.carried == Carried::Made;
    if line.item == SetupItem::Relief
        && let Some(one) = plan.chosen.iter().find(is_made)
        && let Some(change) = &one.correction.dial
    {
        step.how = format!("{} ({})", one.correction.how, change.way);
        step.why = "the check found the relief off by what this takes out".to_owned();
    }
    step
}

fn start(plan: &CorrectivePlan, first: Option<&GrindPass>) -> BenchStep {
    let (title, how) = match plan.from {
        FeedFrom::Kiss(tooth) => (
            "first touch",
            format!(
                "Bring the wheel in until it just sparks on {}; set the dial to 0",
                first_touch(Some(tooth))
            ),
        ),
        FeedFrom::LastPass => (
            "where the last pass stood",
            "Leave the cross feed where the last pass stood, backlash taken up; set the dial to 0"
                .to_owned(),
        ),
    };
    let why = "every pass is counted from there".to_owned();
    let dial = first.map(|pass| DialMark::at_zero(&pass.dial));
    BenchStep { dial, ..BenchStep::plain("primary: kiss", title, Step::Grind, how, why) }
}

fn one_pass(plan: &CorrectivePlan, pass: &GrindPass, (number, count): (u32, usize)) -> BenchStep {
    let key = format!("primary: pass {number}");
    let title = format!("primary, pass {number} of {count}: {}", pass.kind.name());
    let [first, second] = &plan.rounds;
    let (how, dial) = match pass.kind {
        PassKind::SparkOut if first.len() == second.len() && first == second => {
            let how = format!("No feed: over teeth {}, until the sparks die away", numbers(first));
            (how, None)
        }
        PassKind::SparkOut => {
            let teeth = numbers(second);
            (format!("No feed: a last round over teeth {teeth}, until the sparks die away"), None)
        }
        PassKind::Stock | PassKind::Finish => {
            let how = format!("Feed to the mark, then a round over teeth {}", numbers(first));
            (how, Some(pass.dial.clone()))
        }
    };
    let why = Held::on(&plan.plan.request.machine).through_the_stroke();
    BenchStep { dial, ..BenchStep::plain(&key, &title, Step::Grind, how, why.to_owned()) }
}
