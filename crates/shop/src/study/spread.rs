//! How a result spreads over all the teeth of a study.

use geometry::sampling::quantile;

use super::design::values;
use super::outcome::{Danger, Measure, Outcome, Wanted};
use crate::context::Cited;

/// So many bars a distribution is drawn with.
pub const BINS: usize = 32;

/// The ends of what is drawn: this share of the teeth lies beyond either.
const BEYOND: f64 = 0.002;

/// How one result spreads, in degrees or millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The result.
    pub measure: Measure,
    /// As planned.
    pub planned: f64,
    /// The values below which 5, 50 and 95 % of the teeth lie.
    pub quantiles: [f64; 3],
    /// Least and greatest that is wanted, with its source.
    pub wanted: Option<Cited<(f64, f64)>>,
    /// Share of the teeth within that.
    pub within: Option<f64>,
    /// Where the bars begin and end.
    pub range: (f64, f64),
    /// Share of the teeth in each bar; what lies beyond the ends is in the outermost.
    pub bars: [f64; BINS],
}

/// How often something happens that must not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Endangered {
    /// What.
    pub danger: Danger,
    /// On what share of the teeth.
    pub share: f64,
}

impl Spread {
    /// The spreads of all results that spread at all.
    pub(super) fn of_all(outcomes: &[Outcome], planned: &Outcome, wanted: &Wanted) -> Vec<Self> {
        let one = |measure: &Measure| Self::of(*measure, outcomes, planned, wanted);
        Measure::ALL.iter().filter_map(one).collect()
    }

    fn of(
        measure: Measure,
        outcomes: &[Outcome],
        planned: &Outcome,
        wanted: &Wanted,
    ) -> Option<Self> {
        let mut sorted = values(outcomes, measure);
        sorted.sort_by(f64::total_cmp);
        let at = |share: f64| quantile(&sorted, share);
        let quantiles = [at(0.05)?, at(0.5)?, at(0.95)?];
        let range = (at(BEYOND)?, at(1.0 - BEYOND)?);
        let band = wanted.band(measure).cloned();
        let within = band.as_ref().map(|_| {
            let held = sorted.iter().filter(|value| wanted.holds(measure, **value)).count();
            held as f64 / sorted.len() as f64
        });
        let bars = bars(&sorted, range);
        let planned = planned.of(measure);
        (range.1 > range.0).then_some(Self {
            measure,
            planned,
            quantiles,
            wanted: band,
            within,
            range,
            bars,
        })
    }
}

fn bars(sorted: &[f64], (from, to): (f64, f64)) -> [f64; BINS] {
    let mut bars = [0.0; BINS];
    let each = 1.0 / sorted.len().max(1) as f64;
    for value in sorted {
        let place = ((value - from) / (to - from) * BINS as f64).floor();
        // Where nothing spreads the place is no number, which counts as the first bar.
        bars[(place.max(0.0) as usize).min(BINS - 1)] += each;
    }
    bars
}

impl Endangered {
    pub(super) fn of_all(outcomes: &[Outcome]) -> Vec<Self> {
        let share = |danger: &Danger| {
            let hit = outcomes.iter().filter(|outcome| outcome.dangers[*danger as usize]).count();
            Self { danger: *danger, share: hit as f64 / outcomes.len().max(1) as f64 }
        };
        Danger::ALL.iter().map(share).collect()
    }
}
