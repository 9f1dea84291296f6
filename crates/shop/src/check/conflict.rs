//! Readings of two kinds that contradict each other until a column is turned round.

use geometry::fit::FitError;
use geometry::fit::evidence::{Search, weigh};

use super::design::Design;
use super::observed::{Observed, ReadingKind};
use super::plausible::Question;
use super::weighing::{NOISE_SCALES, Weighing};

/// The logarithm of the odds by which a turned column must explain the readings better before it
/// is asked about (own choice: three thousand to one, no source).
const LOG_ODDS_MIN: f64 = 8.0;

/// A shallow search is enough to compare.
const SEARCH: Search = Search { most: 3, width: 8 };

/// A way of turning the lands round, given the number of teeth.
type Turn = fn(&[Observed], u32) -> Vec<Observed>;

/// The question to ask, if the lands fit the other readings far better with their places, or their
/// teeth, in the opposite order. Readings that agree are not examined.
pub(super) fn question(
    design: &Design<'_>,
    weighing: &Weighing,
) -> Result<Option<Question>, FitError> {
    let best = weighing.best();
    let at_odds = best.noise_factor > 1.0 || !best.bad.is_empty() || best.faults.len() > 2;
    let is_land = |one: &Observed| matches!(one.kind, ReadingKind::Land(_));
    let has_both = design.observed.iter().any(is_land) && !design.observed.iter().all(is_land);
    if !at_odds || !has_both {
        return Ok(None);
    }
    let plain = log_evidence(design, design.observed)?;
    let turns: [(&str, Turn); 2] =
        [("places along the flute", with_places_turned), ("teeth", with_teeth_turned)];
    for (what, turn) in turns {
        let turned = turn(design.observed, design.teeth.count());
        if turned == design.observed {
            continue;
        }
        if log_evidence(design, &turned)? - plain > LOG_ODDS_MIN {
            return Ok(Some(Question {
                about: "lands against the other readings".to_owned(),
                doubt: format!("they agree only if the {what} are in the opposite order"),
                ask: "have columns or rows changed places?".to_owned(),
            }));
        }
    }
    Ok(None)
}

/// The logarithm of the evidence over all sets of causes, up to a constant.
fn log_evidence(design: &Design<'_>, observed: &[Observed]) -> Result<f64, FitError> {
    let runs = design.runs.clone();
    let turned = Design {
        observed,
        runs,
        turns: design.turns.clone(),
        direction: design.direction.clone(),
        ..*design
    };
    let problem = turned.problem()?;
    let weighed = weigh(&problem.linear, &problem.always, &problem.causes, &NOISE_SCALES, SEARCH)?;
    Ok(weighed.log_sum)
}

/// The lands with the first place's figures at the last, and so on.
fn with_places_turned(observed: &[Observed], _: u32) -> Vec<Observed> {
    let is_land = |one: &&Observed| matches!(one.kind, ReadingKind::Land(_));
    let mut places: Vec<f64> = Vec::new();
    for one in observed.iter().filter(is_land) {
        let at = one.from_end.map_or(0.0, |at| at.mm());
        if !places.contains(&at) {
            places.push(at);
        }
    }
    places.sort_by(f64::total_cmp);
    let mirrored = |at: f64| {
        let place = places.iter().position(|other| *other == at);
        place.map_or(at, |place| places[places.len() - 1 - place])
    };
    let turned = |one: &Observed| {
        let mut one = one.clone();
        if is_land(&&one) {
            one.sight.touched.iter_mut().for_each(|t| t.from_end_mm = mirrored(t.from_end_mm));
        }
        one
    };
    observed.iter().map(turned).collect()
}

/// The lands with the teeth counted the other way round from the first.
fn with_teeth_turned(observed: &[Observed], teeth: u32) -> Vec<Observed> {
    let turned = |one: &Observed| {
        let mut one = one.clone();
        if matches!(one.kind, ReadingKind::Land(_)) {
            one.sight.touched.iter_mut().for_each(|t| t.tooth = (teeth + 1 - t.tooth) % teeth + 1);
        }
        one
    };
    observed.iter().map(turned).collect()
}
