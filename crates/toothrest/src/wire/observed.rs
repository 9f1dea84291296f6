//! Readings beside the plan, as they stand in an answer.

use geometry::Length;
use serde::Serialize;
use shop::check::{Check, Observed, ReadingKind};

/// What a reading is of.
#[derive(Serialize)]
pub(super) struct KindAnswer {
    kind: &'static str,
    how: Option<String>,
    distance_mm: Option<f64>,
}

impl From<ReadingKind> for KindAnswer {
    fn from(kind: ReadingKind) -> Self {
        let (kind, how, distance) = match kind {
            ReadingKind::Land(stage) => ("land", Some(stage.to_string()), None),
            ReadingKind::Diameter(over) => ("diameter", Some(over.to_string()), None),
            ReadingKind::Height(held) => ("indicator", Some(held.to_string()), None),
            ReadingKind::Runout(of) => ("runout", Some(of.to_string()), None),
            ReadingKind::Drop(distance) => ("drop", None, Some(distance)),
        };
        Self { kind, how, distance_mm: distance.map(Length::mm) }
    }
}

#[derive(Serialize)]
pub(super) struct ObservedAnswer {
    #[serde(flatten)]
    kind: KindAnswer,
    tooth: Option<u32>,
    from_end_mm: Option<f64>,
    measured_mm: f64,
    expected_mm: f64,
    fitted_mm: Option<f64>,
    deviation_mm: f64,
    set_aside: bool,
}

/// Every reading, with what the best explanation makes of it.
pub(super) fn observed(check: &Check) -> Vec<ObservedAnswer> {
    let of = |(at, one): (usize, &Observed)| ObservedAnswer {
        kind: one.kind.into(),
        tooth: one.tooth,
        from_end_mm: one.from_end.map(Length::mm),
        measured_mm: one.measured.mm(),
        expected_mm: one.expected.mm(),
        fitted_mm: check.fitted.get(at).map(|length| length.mm()),
        deviation_mm: one.deviation.mm(),
        set_aside: check.set_aside.iter().any(|aside| aside.reading == at),
    };
    check.observed.iter().enumerate().map(of).collect()
}
