//! The end as a row of steps, one for each thing that a hand does before the next.

use std::collections::BTreeMap;

use geometry::Length;
use geometry::quantity::System;
use trade::Step;

use super::corner::CornerGrind;
use super::lines::{chamfer_setup, end_secondary_setup, end_setup, gash_setup};
use super::plan::EndPlan;
use super::round_lines::round_steps;
use crate::plan::RegrindPlan;
use crate::plan::clear::draw_clear;
use crate::plan::dial::{DialMark, Quantity};
use crate::plan::held::Held;
use crate::plan::steps::{BenchStep, passes, set_up};

/// Whether a step of this key is done to the end: its own steps, the gash's and the corner's.
pub fn is_end_step(key: &str) -> bool {
    ["end", "gash", "corner", "ball"].iter().any(|part| key.starts_with(part))
}

/// Whether a step of this key takes metal off the end. That stays done behind a corrective grind
/// of the periphery; a wheel that was mounted and a setting that was made do not.
pub fn cuts_end(key: &str) -> bool {
    let cuts = [": pass ", ": grind", ": cut off"].iter().any(|step| key.contains(step));
    is_end_step(key) && cuts
}

/// The steps without those of the parts of the end that are finished: a part of which every step
/// that takes metal off is done need not be set up again. Secondary and corner stand on the
/// primary's set-up, which stays while one of them is open; where all are done, the wheel need not
/// be mounted either. Where some passes of a part are done, its new first touch stands at the mark
/// of the last of them and not at zero.
pub fn without_finished_end(
    steps: Vec<BenchStep>,
    is_done: impl Fn(&str) -> bool,
) -> Vec<BenchStep> {
    let part = |key: &str| key.split(':').next().unwrap_or_default().to_owned();
    let cuts = steps.iter().filter(|step| cuts_end(&step.key) && !is_done(&step.key));
    // What is cut off is no part that is set up.
    let open: Vec<String> =
        cuts.filter(|step| step.key != CUT_OFF).map(|step| part(&step.key)).collect();
    let is_open = |name: &str| open.iter().any(|part| part == name);
    let stands_on_it = |name: &str| match name {
        "end" => ["end secondary", "corner", "corner secondary"].into_iter().any(is_open),
        _ => is_open(&format!("{name} secondary")),
    };
    let stays = |step: &BenchStep| match step.key.as_str() {
        CUT_OFF => !is_done(CUT_OFF),
        key if !is_end_step(key) => true,
        key if is_open(&part(key)) => true,
        key => stands_on_it(&part(key)) && !cuts_end(key) && !key.ends_with(": kiss"),
    };
    let reached: BTreeMap<String, DialMark> = steps
        .iter()
        .filter(|step| step.key.contains(": pass ") && is_done(&step.key))
        .filter_map(|step| Some((part(&step.key), step.dial.clone()?)))
        .collect();
    let steps = steps.into_iter().filter(stays);
    let resumed = |step: BenchStep| match reached.get(&part(&step.key)) {
        Some(mark) if step.key.ends_with(": kiss") => resumed(step, mark),
        _ => step,
    };
    steps.map(resumed).collect()
}

/// The first touch of a part of which some passes are done.
fn resumed(step: BenchStep, mark: &DialMark) -> BenchStep {
    let how = "Bring the cutter in until the wheel just sparks on the tooth that stands out \
               farthest; set the dial to this mark, not to 0";
    let why = "the passes down to it are done: the rest count on from there";
    let (how, why) = (how.to_owned(), why.to_owned());
    BenchStep { how, why, dial: Some(mark.clone()), ..step }
}

const CUT_OFF: &str = "end: cut off";
const KISS: &str = "end: kiss";

/// What is done to the end before the periphery is ground: it is cut off and squared, and gashed.
pub fn end_first_steps(end: &EndPlan) -> Vec<BenchStep> {
    let mut steps = Vec::new();
    if end.stock.cut_back > Length::ZERO {
        let how = "Cut this much off, and square the end".to_owned();
        let why = "all lengths count from a square end".to_owned();
        let value = Some(Quantity::Length(end.stock.cut_back));
        let figure = "off the length";
        steps.push(BenchStep { value, figure, ..plain(CUT_OFF, "cut off", how, why) });
    }
    if let Some(gash) = &end.gash.grind {
        steps.extend(set_up("gash", &gash_setup(gash), &[]));
        let how = "Gash every tooth: down until the root comes out at the centre".to_owned();
        steps.push(plain("gash: grind", "gash", how, end.gash.why.clone()));
        steps.push(draw_clear("gash"));
    } else if let Some(why) = &end.gash.refused {
        let how = format!("Gash every tooth elsewhere, for it is not planned here: {why}");
        steps.push(plain("gash: grind", "gash", how, end.gash.why.clone()));
    }
    numbered(steps)
}

/// The steps of an end that come behind those of the periphery, in order.
pub fn end_bench_steps(plan: &RegrindPlan, end: &EndPlan) -> Vec<BenchStep> {
    let setup = end_setup(plan, end);
    let mut steps = Vec::new();
    steps.extend(plan.peripheral.as_ref().map(|_| draw_clear("end")));
    steps.push(wheel(end));
    steps.extend(set_up("end", &setup, &[]));
    steps.push(kiss(end));
    steps.extend(passes("end", &end.work.grinding, Held::on(&plan.request.machine)));
    steps.push(draw_clear("end secondary"));
    steps.extend(set_up("end secondary", &end_secondary_setup(end), &setup));
    steps.push(secondary(end, plan.request.cutter.system()));
    steps.extend(corner(plan, end));
    numbered(steps)
}

/// A line that stands twice, such as a stop for long teeth and one for short, gets a number, so
/// that no two steps have one name.
pub(super) fn numbered(mut steps: Vec<BenchStep>) -> Vec<BenchStep> {
    for at in 0..steps.len() {
        let key = steps[at].key.clone();
        let mut alike = steps[at + 1..].iter_mut().filter(|step| step.key == key);
        for (number, step) in (2..).zip(alike.by_ref()) {
            step.key = format!("{key} {number}");
        }
    }
    steps
}

fn plain(key: &str, title: &str, how: String, why: String) -> BenchStep {
    BenchStep::plain(key, title, Step::Grind, how, why)
}

fn wheel(end: &EndPlan) -> BenchStep {
    let (wheel, speed) = (&end.wheel.wheel, &end.wheel.speed);
    let how = format!(
        "Mount {}; spindle {} rpm, {}. It is marked {} rpm: never faster. Dress its corner sharp. \
         Turn it {}",
        wheel.number(),
        speed.rpm,
        speed.belt,
        wheel.marked_rpm(),
        end.direction.words()
    );
    let why = "its corner cuts the end alone".to_owned();
    BenchStep::plain("end: wheel", "wheel for the end", Step::Wheel, how, why)
}

fn kiss(end: &EndPlan) -> BenchStep {
    let tooth = end.stock.highest.map_or_else(
        || "the tooth that stands out farthest".to_owned(),
        |tooth| format!("tooth {tooth}"),
    );
    let how = format!("Bring the end in until the wheel just sparks on {tooth}; set the dial to 0");
    let why = "what comes off the length is counted from there".to_owned();
    let dial = end.work.grinding.passes.first().map(|pass| pass.dial.at_zero());
    BenchStep { dial, sets_zero: true, ..plain(KISS, "first touch, end", how, why) }
}

fn secondary(end: &EndPlan, system: System) -> BenchStep {
    let land = end.work.secondary.land;
    let how = format!(
        "Kiss the back of the land, then feed every tooth until its land reads {}",
        land.show_both(system)
    );
    let why = "the land tells the depth, magnified".to_owned();
    let value = Some(Quantity::Length(land));
    let figure = "land at which to stop";
    BenchStep { value, figure, ..plain("end secondary: grind", "end secondary", how, why) }
}

fn corner(plan: &RegrindPlan, end: &EndPlan) -> Vec<BenchStep> {
    let chamfer = match &end.work.corner {
        None => return Vec::new(),
        Some(CornerGrind::Round(round)) => {
            let held = Held::on(&plan.request.machine);
            let clear = std::iter::once(draw_clear("corner"));
            return clear
                .chain(round_steps("corner", round, held, plan.request.cutter.system()))
                .collect();
        }
        Some(CornerGrind::Chamfer(chamfer)) => chamfer,
    };
    let how = "Kiss the sharp corner, set the dial to 0, and feed this far on every tooth";
    let why = "its size counts from both finished edges".to_owned();
    let step = plain("corner: grind", "corner", how.to_owned(), why);
    let mut steps = vec![draw_clear("corner")];
    steps.extend(set_up("corner", &chamfer_setup(chamfer), &[]));
    let (value, figure) = (Some(Quantity::Length(chamfer.travel)), "feed from the first touch");
    steps.push(BenchStep { value, figure, ..step });
    steps
}
