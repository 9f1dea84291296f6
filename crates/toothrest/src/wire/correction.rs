//! What to do and what to read next, as it stands in an answer.

use geometry::Length;
use serde::Serialize;
use shop::check::{Correction, DialChange, Further, Trial, Worth};
use shop::plan::DialMark;

use super::diagnosis::tooth;
use super::observed::KindAnswer;
use super::parts::{Amount, Dial};

#[derive(Serialize)]
pub(super) struct CorrectionAnswer {
    action: &'static str,
    fault: &'static str,
    tooth: Option<u32>,
    how: String,
    dial: Option<ChangeAnswer>,
    worth: WorthAnswer,
}

#[derive(Serialize)]
struct ChangeAnswer {
    axis: String,
    by: Amount,
    exact: Amount,
    half_width_95: Amount,
    to: Option<Dial>,
    finest: Amount,
    counts: &'static str,
    way: String,
}

impl From<&DialChange> for ChangeAnswer {
    fn from(change: &DialChange) -> Self {
        let to: Option<&DialMark> = change.to.as_ref();
        Self {
            axis: change.axis.clone(),
            by: change.by.into(),
            exact: change.exact.into(),
            half_width_95: change.within.into(),
            to: to.map(Into::into),
            finest: change.finest.into(),
            counts: if change.on_diameter { "diameter" } else { "travel" },
            way: change.way.clone(),
        }
    }
}

#[derive(Serialize)]
struct WorthAnswer {
    verdict: &'static str,
    reason: Option<String>,
    source: Option<String>,
}

impl From<&Worth> for WorthAnswer {
    fn from(worth: &Worth) -> Self {
        match worth {
            Worth::Make => Self { verdict: "make", reason: None, source: None },
            Worth::GoodEnough(why) => Self {
                verdict: "good enough",
                reason: Some(why.value.clone()),
                source: Some(why.source.clone()),
            },
            Worth::TooSmall(why) => {
                Self { verdict: "too small", reason: Some(why.clone()), source: None }
            }
        }
    }
}

pub(super) fn correction(one: &Correction) -> CorrectionAnswer {
    CorrectionAnswer {
        action: one.action.name(),
        fault: one.fault.kind(),
        tooth: tooth(one.fault),
        how: one.how.clone(),
        dial: one.dial.as_ref().map(Into::into),
        worth: (&one.worth).into(),
    }
}

#[derive(Serialize)]
pub(super) struct FurtherAnswer {
    #[serde(flatten)]
    kind: KindAnswer,
    tooth: Option<u32>,
    from_end_mm: Option<f64>,
    tells_nats: f64,
    foretold_mm: Vec<f64>,
    words: String,
}

pub(super) fn further(further: &Further) -> FurtherAnswer {
    FurtherAnswer {
        kind: further.kind.into(),
        tooth: further.tooth,
        from_end_mm: further.from_end.map(Length::mm),
        tells_nats: further.tells,
        foretold_mm: further.foretold.iter().map(|length| length.mm()).collect(),
        words: further.words.clone(),
    }
}

#[derive(Serialize)]
pub(super) struct TrialAnswer {
    trial: &'static str,
    tooth: Option<u32>,
    words: String,
}

pub(super) fn trial(trial: Trial) -> TrialAnswer {
    let (name, tooth) = match trial {
        Trial::TurnShank => ("turn shank", None),
        Trial::RegrindTooth(tooth) => ("regrind tooth", Some(tooth)),
        Trial::HalfRound => ("half round", None),
        Trial::DressAndSpark => ("dress and spark", None),
        Trial::DressCorner => ("dress corner", None),
    };
    TrialAnswer { trial: name, tooth, words: trial.words() }
}
