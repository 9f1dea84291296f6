//! The answer of `toothrest study`.

use serde::Serialize;
use shop::plan::Quantity;
use shop::study::{
    Allowance, Cause, Causes, Closer, Habit, Measure, Scatter, Spread, Study, Widest,
};
use trade::StudiedSetting;

use super::parts::Amount;
use super::{Inputs, SCHEMA_VERSION};

/// A study.
#[derive(Serialize)]
pub(crate) struct StudyAnswer {
    schema: u32,
    program: &'static str,
    cutter: String,
    samples: u32,
    seed: u32,
    base: u32,
    searched: u32,
    held: f64,
    lost: u32,
    spreads: Vec<SpreadAnswer>,
    dangers: Vec<DangerAnswer>,
    causes: Vec<CausesAnswer>,
    settings: Vec<SettingAnswer>,
    set_better: Option<&'static str>,
    set_closer: Option<CloserAnswer>,
    remarks: Vec<String>,
    inputs: Inputs,
}

#[derive(Serialize)]
struct CloserAnswer {
    held: f64,
    settings: Vec<CloserSetting>,
}

#[derive(Serialize)]
struct CloserSetting {
    setting: &'static str,
    within: Amount,
}

#[derive(Serialize)]
struct SpreadAnswer {
    result: &'static str,
    unit: &'static str,
    planned: f64,
    below_5_percent: f64,
    median: f64,
    below_95_percent: f64,
    wanted: Option<BandAnswer>,
    within: Option<f64>,
    bars_from: f64,
    bars_to: f64,
    bars: Vec<f64>,
}

#[derive(Serialize)]
struct BandAnswer {
    least: f64,
    greatest: f64,
    source: String,
}

#[derive(Serialize)]
struct DangerAnswer {
    danger: &'static str,
    share: f64,
}

#[derive(Serialize)]
struct CausesAnswer {
    result: &'static str,
    unit: &'static str,
    deviation: f64,
    causes: Vec<CauseAnswer>,
}

#[derive(Serialize)]
struct CauseAnswer {
    setting: &'static str,
    first: f64,
    total: f64,
    total_error: f64,
    per_deviation: f64,
    linear: f64,
    agrees: bool,
}

#[derive(Serialize)]
struct SettingAnswer {
    setting: &'static str,
    deviation: Amount,
    scatter: &'static str,
    source: String,
    division: Option<Amount>,
    hand_within: Amount,
    hand_within_divisions: Option<f64>,
    limit: &'static str,
    may_be_within: Option<Amount>,
    may_be_within_divisions: Option<f64>,
    gain_if_twice_as_close: f64,
}

const fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Relief | Measure::EdgeRelief => "deg",
        Measure::Land | Measure::Diameter | Measure::Taper => "mm",
    }
}

const fn scatter(scatter: Scatter) -> &'static str {
    match scatter {
        Scatter::Normal => "normal",
        Scatter::OneSided => "one-sided",
        Scatter::Turning => "turning",
    }
}

fn spread(spread: &Spread) -> SpreadAnswer {
    let [below_5_percent, median, below_95_percent] = spread.quantiles;
    SpreadAnswer {
        result: spread.measure.name(),
        unit: unit(spread.measure),
        planned: spread.planned,
        below_5_percent,
        median,
        below_95_percent,
        wanted: spread.wanted.as_ref().map(|cited| BandAnswer {
            least: cited.value.0,
            greatest: cited.value.1,
            source: cited.source.clone(),
        }),
        within: spread.within,
        bars_from: spread.range.0,
        bars_to: spread.range.1,
        bars: spread.bars.to_vec(),
    }
}

fn causes(causes: &Causes) -> CausesAnswer {
    CausesAnswer {
        result: causes.measure.name(),
        unit: unit(causes.measure),
        deviation: causes.deviation,
        causes: causes.causes.iter().map(cause).collect(),
    }
}

fn cause(cause: &Cause) -> CauseAnswer {
    CauseAnswer {
        setting: cause.setting.name(),
        first: cause.share.first,
        total: cause.share.total,
        total_error: cause.share.total_error,
        per_deviation: cause.per_deviation,
        linear: cause.linear,
        agrees: cause.is_linear(),
    }
}

fn closer(closer: &Closer) -> CloserAnswer {
    let one = |(setting, within): &(StudiedSetting, Quantity)| CloserSetting {
        setting: setting.name(),
        within: (*within).into(),
    };
    CloserAnswer { held: closer.held, settings: closer.within.iter().map(one).collect() }
}

fn setting(habit: &Habit, allowance: &Allowance) -> SettingAnswer {
    let (limit, widest) = match allowance.widest {
        Widest::NotEvenExact => ("not even exact", None),
        Widest::NoLimit => ("none", None),
        Widest::Within(amount) => ("within", Some(amount)),
    };
    SettingAnswer {
        setting: habit.setting.name(),
        deviation: habit.deviation.into(),
        scatter: scatter(habit.scatter),
        source: habit.source.clone(),
        division: habit.division.map(Into::into),
        hand_within: habit.within().into(),
        hand_within_divisions: habit.divisions(habit.within()),
        limit,
        may_be_within: widest.map(Into::into),
        may_be_within_divisions: widest.and_then(|amount| habit.divisions(amount)),
        gain_if_twice_as_close: allowance.gain,
    }
}

/// The answer for a study, with what it was made from.
pub(crate) fn study(study: &Study, inputs: Inputs) -> StudyAnswer {
    let request = &study.request;
    let settings = study.habits.0.iter().filter_map(|habit| {
        let allowance = study.allowances.iter().find(|one| one.setting == habit.setting)?;
        Some(setting(habit, allowance))
    });
    StudyAnswer {
        schema: SCHEMA_VERSION,
        program: concat!("toothrest ", env!("CARGO_PKG_VERSION")),
        cutter: request.plan.request.cutter.number().to_owned(),
        samples: request.samples,
        seed: request.seed,
        base: study.base,
        searched: study.searched,
        held: study.held,
        lost: study.lost,
        spreads: study.spreads.iter().map(spread).collect(),
        dangers: study
            .dangers
            .iter()
            .map(|one| DangerAnswer { danger: one.danger.name(), share: one.share })
            .collect(),
        causes: study.causes.iter().map(causes).collect(),
        settings: settings.collect(),
        set_better: study.set_better().map(|one| one.setting.name()),
        set_closer: study.closer.as_ref().map(closer),
        remarks: study.remarks.clone(),
        inputs,
    }
}
