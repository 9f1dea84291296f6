//! Truing and dressing before the wheel meets the cutter.

use geometry::Length;
use trade::{DressingStep, WheelFamily};

use crate::context::{Cited, Ctx};
use crate::record::Wheel;

/// How to true and dress.
#[derive(Clone, Debug, PartialEq)]
pub struct Truing {
    /// Feed of each truing pass; None where the wheel is not trued with a diamond.
    pub pass: Option<Cited<Length>>,
    /// Feed of the last passes.
    pub finish: Option<Cited<Length>>,
    /// Width of working face to leave.
    pub face_width: Cited<Length>,
    /// What to do, in order, each with its source.
    pub steps: Vec<Cited<String>>,
}

impl Truing {
    /// How much a pass takes and what to do, in order; lengths as `show` writes them.
    pub fn amounts_and_steps(&self, show: impl Fn(Length) -> String) -> String {
        let amount = |cited: &Option<Cited<Length>>, what: &str| {
            cited.as_ref().map(|cited| format!("{} {what}", show(cited.value)))
        };
        let amounts =
            [amount(&self.pass, "a pass until it is true"), amount(&self.finish, "at the last")];
        let amounts: Vec<String> = amounts.into_iter().flatten().collect();
        let amounts = (!amounts.is_empty()).then(|| amounts.join(", "));
        let steps = self.steps.iter().map(|step| step.value.clone());
        amounts.into_iter().chain(steps).collect::<Vec<_>>().join("; ")
    }
}

/// The width of face to work with: the wheel's own where it is narrow enough, else what practice
/// leaves; `at_least` is what the kind of relief needs.
pub(crate) fn face_width(ctx: &Ctx<'_>, wheel: &Wheel, at_least: Option<Length>) -> Cited<Length> {
    let own = wheel.face_width();
    let practice = ctx
        .tables
        .dressing(family(wheel), DressingStep::FaceWidth)
        .and_then(|lookup| Some((lookup.chosen.value.amount?.length()?, &lookup.chosen.source)));
    match (practice, at_least) {
        (_, Some(needed)) => Cited::new(own.max(needed.min(own)), "what this relief needs"),
        (Some((width, source)), None) if own > width.greatest => Cited::new(width.greatest, source),
        _ => Cited::new(own, "the wheel's own record"),
    }
}

const fn family(wheel: &Wheel) -> WheelFamily {
    if wheel.abrasive().is_super() { WheelFamily::Superabrasive } else { WheelFamily::Conventional }
}

/// The truing and dressing of one wheel.
pub(crate) fn truing(ctx: &Ctx<'_>, wheel: &Wheel, face_width: Cited<Length>) -> Truing {
    let family = family(wheel);
    let amount = |step: DressingStep| {
        let lookup = ctx.tables.dressing(family, step)?;
        let range = lookup.chosen.value.amount?.length()?;
        Some(Cited::new(range.greatest, &lookup.chosen.source))
    };
    let advice = |step: DressingStep| {
        let lookup = ctx.tables.dressing(family, step)?;
        Some(Cited::new(lookup.chosen.value.advice.clone(), &lookup.chosen.source))
    };
    let sentence = |step: DressingStep, amount: Option<&Cited<Length>>| {
        advice(step).filter(|_| amount.is_none() || wheel.abrasive().is_super())
    };
    let (pass, finish) = (amount(DressingStep::True), amount(DressingStep::Finish));
    let steps = [
        sentence(DressingStep::Direction, None).filter(|_| wheel.shape().form().grinds_on_face()),
        sentence(DressingStep::True, pass.as_ref()),
        sentence(DressingStep::Finish, finish.as_ref()),
        sentence(DressingStep::SparkOut, None),
        sentence(DressingStep::Dress, None),
    ];
    Truing { pass, finish, face_width, steps: steps.into_iter().flatten().collect() }
}

/// The same for a dish that cuts with the flat side of its rim.
pub(super) fn flat_truing(ctx: &Ctx<'_>, wheel: &Wheel, face_width: Cited<Length>) -> Truing {
    let mut truing = truing(ctx, wheel, face_width);
    let outside_in = ctx.tables.dressing(family(wheel), DressingStep::Direction);
    let outside_in = outside_in.map(|lookup| lookup.chosen.value.advice.as_str());
    truing.steps.retain(|step| Some(step.value.as_str()) != outside_in);
    let flat = "true the rim's flat side, which lies to the face of the tooth, and its corner last";
    truing.steps.insert(0, Cited::new(flat.to_owned(), "common practice, no source"));
    truing
}
