//! What lands read after the secondary cannot tell from a fault of the primary: where the secondary
//! itself stands.

use geometry::{Length, System};

use super::design::Design;
use super::fault::Fault;
use super::land::LandCurve;
use super::observed::{Beside, Extra, Observed};
use super::term::Term;
use super::weighing::Model;
use crate::record::LandStage;

/// A reading that a unit of a fault moves by less than this share of a unit says nothing of it.
const MOVED_MIN: f64 = 1e-6;

/// A word on a secondary that would leave the same lands, where a fault is shown by lands read
/// behind it and by nothing else: a misread dial of the second feed is as ordinary as anything
/// that can be wrong with the first, and asks for another remedy.
pub(super) fn by_secondary(
    beside: &Beside<'_>,
    design: &Design<'_>,
    best: &Model,
    system: System,
) -> Option<String> {
    [(Fault::Size, Term::Size), (Fault::Clearance, Term::Clearance)]
        .into_iter()
        .filter(|(fault, _)| best.faults.contains(fault))
        .find_map(|(fault, term)| {
            let deeper = alike(beside, design, best, term)?;
            Some(words(fault, deeper, system))
        })
}

/// How much deeper the secondary would have to be; none where another reading shows the fault too.
///
/// **Source** \[own-derivation\] an edge that stands farther out over a secondary that stays, and a
/// secondary that is so much deeper under an edge that stays, leave the same land. **Departs** in
/// taking the depth along the radius. **Error** that of the lands, an eighth of theirs. **Domain**
/// lands that end at the fresh secondary.
fn alike(beside: &Beside<'_>, design: &Design<'_>, best: &Model, term: Term) -> Option<Length> {
    let indexed = || design.observed.iter().enumerate();
    let is_behind =
        |one: &Observed| matches!(one.sight.extra, Extra::Back(LandStage::AfterSecondary));
    let shows = |(at, one): (usize, &Observed)| {
        !is_behind(one) && design.effect(term, at, one).abs() > MOVED_MIN
    };
    if indexed().any(shows) {
        return None;
    }
    let curve = LandCurve::of(beside.plan, beside.plan, LandStage::AfterSecondary)?;
    let kept = indexed().filter(|(at, one)| is_behind(one) && !best.bad.contains(at));
    let stands: Vec<f64> = kept
        .filter_map(|(_, one)| curve.stand(one.measured.mm()))
        .map(|stand| stand.stand_mm)
        .collect();
    let mean_mm = stands.iter().sum::<f64>() / stands.len().max(1) as f64;
    // What a diameter showed of the edges is no part of the secondary's.
    let of_edges_mm = if term == Term::Size { 0.0 } else { best.value(Term::Size).unwrap_or(0.0) };
    (!stands.is_empty()).then(|| Length::from_mm(mean_mm - of_edges_mm))
}

fn words(fault: Fault, deeper: Length, system: System) -> String {
    let side = if deeper > Length::ZERO { "deeper" } else { "less deep" };
    let amount = match system {
        System::Inch => format!("{:.4} in", deeper.abs().inches()),
        System::Millimetre => format!("{:.3} mm", deeper.abs().mm()),
    };
    let (name, apart, before) = match fault {
        Fault::Size => ("size", "measure the diameter", "anything is fed"),
        _ => ("relief", "read a drop behind the edge", "the relief is set anew"),
    };
    format!(
        "lands read after the secondary are all that shows this {name}, and a secondary about \
         {amount} {side} than planned leaves the same: see what its dial stood at, and {apart}, \
         before {before}"
    )
}
