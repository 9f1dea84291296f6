//! Cautions, at the step where they matter.

use geometry::wheel::WheelKind;
use trade::{Circumstance, Step, Tag};

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

/// The cautions that belong to this work, in the order of the steps.
pub(crate) fn cautions(
    ctx: &Ctx<'_>,
    cutter: &Cutter,
    machine: &Machine,
    wheel: Option<&Wheel>,
) -> Vec<PlanCaution> {
    let tags = tags(cutter, machine, wheel);
    let at = |step: Step| {
        ctx.tables.cautions(step, &tags).into_iter().map(move |lookup| PlanCaution {
            step,
            text: Cited::new(lookup.chosen.value.text.clone(), &lookup.chosen.source),
            short: lookup.chosen.value.short.clone(),
        })
    };
    Step::ALL.iter().copied().flat_map(at).collect()
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
    if let Some(wheel) = wheel {
        tags.push(Tag::Abrasive(wheel.abrasive()));
        let kind = bridge::kind(wheel);
        let face = if kind == WheelKind::Cup { Circumstance::Cup } else { Circumstance::Disc };
        tags.push(circumstance(face));
        if wheel.bond() == Bond::Vitrified {
            tags.push(circumstance(Circumstance::Vitrified));
        }
    }
    tags
}
