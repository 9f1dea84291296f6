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
