//! The plan as a row of steps, one for each thing that a hand does before the next.

use geometry::quantity::System;
use geometry::{Angle, Length};
use trade::Step;

use super::clear::{READ_PRIMARY, draw_clear};
use super::dial::{DialMark, Quantity};
use super::group::HelixGroup;
use super::held::Held;
use super::pass::{GrindPass, Grinding, PassKind};
use super::regrind::{Peripheral, RegrindPlan};
use super::setting::{SetupItem, SetupLine};
use crate::check::DialChange;

/// One thing to do at the bench.
#[derive(Clone, Debug, PartialEq)]
pub struct BenchStep {
    /// Its name in this plan, which stays the same when the plan is made again.
    pub key: String,
    /// What it is, in a few words.
    pub title: String,
    /// What to do.
    pub how: String,
    /// Why, where there is more to say.
    pub why: String,
    /// The step of the job whose cautions belong to it.
    pub of: Step,
    /// The mark to set on a dial, where it sets one.
    pub dial: Option<DialMark>,
    /// How far a dial is to be moved from where it stands, where it is.
    pub change: Option<DialChange>,
    /// The true amount, where there is one.
    pub value: Option<Quantity>,
    /// What that amount is, where the title does not say it.
    pub figure: &'static str,
    /// How closely.
    pub tolerance: Option<Quantity>,
    /// Whether its dial is set to zero where it stands, so that there is nothing to read off.
    pub sets_zero: bool,
}

impl BenchStep {
    pub(super) fn plain(key: &str, title: &str, of: Step, how: String, why: String) -> Self {
        let (key, title) = (key.to_owned(), title.to_owned());
        let (dial, change, value, tolerance) = (None, None, None, None);
        let (figure, sets_zero) = ("", false);
        Self { key, title, how, why, of, dial, change, value, figure, tolerance, sets_zero }
    }

    /// Whether what its dial really stands at is worth writing down.
    pub fn is_read(&self) -> bool {
        self.dial.is_some() && !self.sets_zero
    }

    /// Whether the primary is read at it, before the secondary is ground.
    pub fn reads_primary(&self) -> bool {
        self.key == READ_PRIMARY_STEP
    }
}

/// The key of the step at which the primary is read.
pub const READ_PRIMARY_STEP: &str = "primary: read";

/// Which tooth the wheel meets first, counted from the marked one: the words of every sheet, page
/// and step.
pub fn first_touch(tooth: Option<u32>) -> String {
    match tooth {
        Some(1) => "tooth 1, the marked one, which the wheel meets first".to_owned(),
        Some(tooth) => format!("tooth {tooth} from the mark, which the wheel meets first"),
        None => "the highest tooth".to_owned(),
    }
}

/// The steps of a plan, in order; none where it grinds no periphery.
pub fn bench_steps(plan: &RegrindPlan) -> Vec<BenchStep> {
    let Some(peripheral) = &plan.peripheral else { return Vec::new() };
    let system = plan.request.cutter.system();
    let mut steps = vec![mount(peripheral), true_up(peripheral, system)];
    steps.extend(set_up("primary", &peripheral.setup, &[]));
    steps.push(kiss("primary", peripheral, &peripheral.grinding, system));
    let held = Held::on(&plan.request.machine);
    let groups = peripheral.unlike.iter().flat_map(|unlike| &unlike.groups);
    let groups: Vec<&HelixGroup> = groups.collect();
    if !groups.is_empty() {
        steps.extend(by_groups(peripheral, &groups, held, system));
        return steps;
    }
    steps.extend(passes("primary", &peripheral.grinding, held));
    if let Some(grinding) = &peripheral.secondary.grinding {
        steps.extend(between(plan, peripheral));
        steps.extend(set_up("secondary", &peripheral.secondary.lines, &peripheral.setup));
        steps.push(kiss("secondary", peripheral, grinding, system));
        steps.extend(to_land(
            passes("secondary", grinding, held),
            peripheral.secondary.land_after,
            system,
        ));
    }
    steps
}

/// What is done between primary and secondary, before a setting is touched.
pub(super) fn between(plan: &RegrindPlan, peripheral: &Peripheral) -> [BenchStep; 2] {
    [draw_clear("primary"), read_primary(plan, peripheral)]
}

/// The step that reads the primary while it can be read.
fn read_primary(plan: &RegrindPlan, peripheral: &Peripheral) -> BenchStep {
    let system = plan.request.cutter.system();
    let land = peripheral
        .secondary
        .land_before
        .map_or_else(String::new, |land| format!("; expect lands of {}", land.show_both(system)));
    let diameter = peripheral.expected.diameter.show_both(system);
    let place = if plan.request.cutter.taper() > Angle::ZERO {
        "at the tip, and farther up as the sheet says"
    } else {
        "near each end of the flute"
    };
    let how = format!(
        "Wheel still, cutter wiped: {READ_PRIMARY}{land} and a diameter of {diameter}, {place}; \
         leave open what you do not read"
    );
    let why = "lands after the primary tell depth, runout and taper; those after the secondary do \
               not show what both reliefs share";
    BenchStep::plain(READ_PRIMARY_STEP, "read the primary", Step::Check, how, why.to_owned())
}

/// The rounds of teeth that have set-ups of their own: every primary from the one zero, then every
/// secondary from a first touch of its own.
fn by_groups(
    peripheral: &Peripheral,
    groups: &[&HelixGroup],
    held: Held,
    system: System,
) -> Vec<BenchStep> {
    let mut steps = Vec::new();
    for (at, group) in groups.iter().enumerate() {
        let part = format!("primary, teeth {}", numbers(&group.teeth));
        steps.extend((at > 0).then(|| draw_clear(&part)));
        steps.push(of_line(&part, &group.relief_line));
        steps.extend(passes(&part, &group.grinding, held));
    }
    let mut stands = &peripheral.setup;
    for group in groups {
        let Some(grinding) = &group.secondary.grinding else { continue };
        let part = format!("secondary, teeth {}", numbers(&group.teeth));
        steps.push(draw_clear(&part));
        steps.extend(set_up(&part, &group.secondary.lines, stands));
        stands = &group.secondary.lines;
        steps.push(kiss(&part, peripheral, grinding, system));
        steps.extend(to_land(passes(&part, grinding, held), group.secondary.land_after, system));
    }
    steps
}

/// The passes of a secondary, which end at a land and not at a mark: where its first touch was
/// missed, the marks would lead past it.
fn to_land(mut steps: Vec<BenchStep>, land: Option<Length>, system: System) -> Vec<BenchStep> {
    let Some(land) = land else { return steps };
    for step in steps.iter_mut().filter(|step| step.dial.is_some()) {
        let land = land.show_both(system);
        step.how = format!(
            "Cutter drawn clear and wheel still, read the land: stop where it is {land}. Else {}",
            lower_first(&step.how)
        );
    }
    steps
}

/// A sentence that goes on behind a word.
fn lower_first(sentence: &str) -> String {
    let mut letters = sentence.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

fn mount(peripheral: &Peripheral) -> BenchStep {
    let (wheel, speed) = (&peripheral.wheel.wheel, &peripheral.wheel.speed);
    let how = format!(
        "Mount {}; spindle {} rpm, {}. It is marked {} rpm: never faster. Turn it {}",
        wheel.number(),
        speed.rpm,
        speed.belt,
        wheel.marked_rpm(),
        peripheral.direction.words()
    );
    let why = peripheral.wheel.why.value.clone();
    BenchStep::plain("wheel", "wheel on the spindle", Step::Wheel, how, why)
}

fn true_up(peripheral: &Peripheral, system: System) -> BenchStep {
    let truing = &peripheral.truing;
    let why = "the corner that cuts first must be sharp, and the face no wider than it need be";
    let how = format!(
        "{}; leave a working face of this width",
        truing.amounts_and_steps(|length| length.show_both(system).to_string())
    );
    let step = BenchStep::plain("truing", "true and dress", Step::True, how, why.to_owned());
    let value = Some(Quantity::Length(truing.face_width.value));
    BenchStep { value, figure: "width of the wheel's face to leave", ..step }
}

/// The lines of a set-up that differ from those already set.
pub(super) fn set_up(part: &str, lines: &[SetupLine], already: &[SetupLine]) -> Vec<BenchStep> {
    let stands = |line: &&SetupLine| !already.iter().any(|other| is_same(line, other));
    lines.iter().filter(stands).map(|line| of_line(part, line)).collect()
}

fn is_same(line: &SetupLine, other: &SetupLine) -> bool {
    line.item == other.item
        && line.value == other.value
        && line.dial == other.dial
        && line.how == other.how
}

pub(super) fn of_line(part: &str, line: &SetupLine) -> BenchStep {
    let key = format!("{part}: {}", line.item.name());
    let title = match line.item {
        SetupItem::Relief => format!("relief, {part}"),
        item => item.name().to_owned(),
    };
    BenchStep {
        dial: line.dial.clone(),
        value: line.value,
        figure: line.item.figure(),
        tolerance: line.tolerance,
        ..BenchStep::plain(&key, &title, Step::SetUp, line.how.clone(), line.why.clone())
    }
}

/// The first touch, at which the feed's dial is set to zero.
pub(super) fn kiss(
    part: &str,
    peripheral: &Peripheral,
    grinding: &Grinding,
    system: System,
) -> BenchStep {
    let key = format!("{part}: kiss");
    let tooth = peripheral.kissing_tooth;
    let (how, why) = if part.starts_with("primary") {
        let how = format!(
            "Start the spindle with the cutter clear. Bring the wheel in until it just sparks on \
             {}; set the dial to 0",
            first_touch(tooth)
        );
        (how, "every pass is counted from there".to_owned())
    } else {
        // Behind the land and often near the heel: whoever looks for sparks at the edge feeds on.
        let behind = grinding.feed.kiss_behind.show_both(system);
        let how = format!(
            "Start the spindle with the cutter clear. Bring the wheel in until it just touches the \
             tooth, some {behind} behind the edge; dial to 0 there"
        );
        (how, "the secondary is fed from its own first touch".to_owned())
    };
    let step = BenchStep::plain(&key, "first touch", Step::Grind, how, why);
    let dial = grinding.passes.first().map(|pass| pass.dial.at_zero());
    BenchStep { dial, sets_zero: true, ..step }
}

pub(super) fn passes(part: &str, grinding: &Grinding, held: Held) -> Vec<BenchStep> {
    let of = |(at, pass)| BenchStep {
        why: held.through_the_stroke().to_owned(),
        ..of_pass(part, at + 1, pass, grinding)
    };
    grinding.passes.iter().enumerate().map(of).collect()
}

fn of_pass(part: &str, number: usize, pass: &GrindPass, grinding: &Grinding) -> BenchStep {
    let key = format!("{part}: pass {number}");
    let count = grinding.passes.len();
    let title = format!("{part}, pass {number} of {count}: {}", pass.kind.name());
    let (how, dial) = match pass.kind {
        PassKind::SparkOut => {
            let teeth = numbers(&grinding.second_round);
            (format!("No feed: a last round over teeth {teeth}, until the sparks die away"), None)
        }
        PassKind::Stock | PassKind::Finish => {
            let teeth = numbers(&grinding.first_round);
            (format!("Feed to the mark, then a round over teeth {teeth}"), Some(pass.dial.clone()))
        }
    };
    BenchStep { dial, ..BenchStep::plain(&key, &title, Step::Grind, how, String::new()) }
}

pub(super) fn numbers(teeth: &[u32]) -> String {
    teeth.iter().map(u32::to_string).collect::<Vec<_>>().join(" ")
}
