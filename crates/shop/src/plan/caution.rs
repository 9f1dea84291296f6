//! Cautions, at the step where they matter.

use geometry::wheel::WheelKind;
use trade::{Circumstance, Step, Tag};

use super::held::Held;
use crate::bridge;
use crate::context::{Cited, Ctx};
use crate::record::{Bond, Coolant, Cutter, Fixture, Machine, Wheel};

/// The step of the job that a caution stands at.
pub type PlanStep = Step;

/// One caution.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanCaution {
    /// Where it stands.
    pub step: PlanStep,
    /// What it says, with its source.
    pub text: Cited<String>,
    /// The same in a few words, where the sheet of one page carries it.
    pub short: Option<String>,
}

/// The cautions that belong to a wheel before it runs, whatever it is going to grind.
pub fn wheel_cautions(ctx: &Ctx<'_>, wheel: &Wheel) -> Vec<PlanCaution> {
    let always = Tag::Circumstance(Circumstance::Always);
    let tags: Vec<Tag> = std::iter::once(always).chain(wheel_tags(wheel)).collect();
    at_step(ctx, Step::Wheel, &tags)
}

/// The cautions that belong to this work, in the order of the steps.
pub(crate) fn cautions(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    wheel: Option<&Wheel>,
) -> Vec<PlanCaution> {
    let tags = tags(cutter, machine, wheel);
    Step::ALL.iter().flat_map(|step| at_step(ctx, *step, &tags)).collect()
}

/// The cautions of the work at the end, in the order of the steps.
pub(crate) fn end_cautions(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    wheel: &Wheel,
) -> Vec<PlanCaution> {
    let mut tags = tags(cutter, machine, Some(wheel));
    tags.push(Tag::Circumstance(Circumstance::EndTeeth));
    Step::ALL.iter().flat_map(|step| at_step(ctx, *step, &tags)).collect()
}

fn at_step(ctx: &Ctx<'_>, step: Step, tags: &[Tag]) -> Vec<PlanCaution> {
    let found = ctx.tables.cautions(step, tags).into_iter();
    let caution = |lookup: trade::Lookup<'_, trade::CautionRow>| PlanCaution {
        step,
        text: Cited::new(lookup.chosen.value.text.clone(), &lookup.chosen.source),
        short: lookup.chosen.value.short.clone(),
    };
    found.map(caution).collect()
}

fn tags(cutter: &Cutter, machine: &Machine, wheel: Option<&Wheel>) -> Vec<Tag> {
    let circumstance = |circumstance| Tag::Circumstance(circumstance);
    let mut tags = vec![circumstance(Circumstance::Always), Tag::Material(cutter.material())];
    tags.push(circumstance(match machine.coolant() {
        Coolant::Wet => Circumstance::Wet,
        Coolant::Dry => Circumstance::Dry,
    }));
    if matches!(machine.holding().fixture(), Fixture::AirSpindle { .. }) {
        tags.push(circumstance(Circumstance::CompressedAir));
    }
    tags.push(circumstance(match Held::on(machine).has_rest() {
        true => Circumstance::Rest,
        false => Circumstance::IndexHead,
    }));
    tags.extend(wheel.into_iter().flat_map(wheel_tags));
    tags
}

fn wheel_tags(wheel: &Wheel) -> Vec<Tag> {
    let is_cup = bridge::kind(wheel) == WheelKind::Cup;
    let face = if is_cup { Circumstance::Cup } else { Circumstance::Disc };
    let mut tags = vec![Tag::Abrasive(wheel.abrasive()), Tag::Circumstance(face)];
    if wheel.bond() == Bond::Vitrified {
        tags.push(Tag::Circumstance(Circumstance::Vitrified));
    }
    tags
}
