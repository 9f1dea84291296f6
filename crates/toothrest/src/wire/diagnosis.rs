//! What the readings say, as it stands in an answer: faults, edges, judgements, and what could be
//! seen at all.

use geometry::Length;
use serde::Serialize;
use shop::check::{
    Edges, Explanation, Fault, Figure, Finding, Judgement, Offset, Quality, Rival, Seen, Standing,
};

use super::parts::Amount;

/// A size with the half-width of the band that holds the truth 95 times in 100.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Banded {
    Length { mm: f64, half_width_95_mm: f64 },
    Angle { deg: f64, half_width_95_deg: f64 },
}

impl Banded {
    pub(super) const fn length(figure: Figure) -> Self {
        Self::Length { mm: figure.value, half_width_95_mm: figure.half_width }
    }

    const fn angle(figure: Figure) -> Self {
        Self::Angle { deg: figure.value, half_width_95_deg: figure.half_width }
    }

    const fn of(fault: Fault, figure: Figure) -> Self {
        if fault.is_angle() { Self::angle(figure) } else { Self::length(figure) }
    }
}

#[derive(Serialize)]
pub(super) struct FindingAnswer {
    fault: &'static str,
    tooth: Option<u32>,
    size: Banded,
    probability: f64,
    offset: Option<OffsetAnswer>,
    shared_with_secondary: bool,
}

#[derive(Serialize)]
struct OffsetAnswer {
    toward_first: Banded,
    heelward: Banded,
    growth_toward_first: Banded,
    growth_heelward: Banded,
}

impl From<&Offset> for OffsetAnswer {
    fn from(offset: &Offset) -> Self {
        Self {
            toward_first: Banded::length(offset.toward_first),
            heelward: Banded::length(offset.heelward),
            growth_toward_first: Banded::length(offset.growth_toward_first),
            growth_heelward: Banded::length(offset.growth_heelward),
        }
    }
}

/// The tooth of a fault that is one tooth's.
pub(super) const fn tooth(fault: Fault) -> Option<u32> {
    match fault {
        Fault::Slip(tooth) => Some(tooth),
        _ => None,
    }
}

pub(super) fn finding(finding: &Finding) -> FindingAnswer {
    FindingAnswer {
        fault: finding.fault.kind(),
        tooth: tooth(finding.fault),
        size: Banded::of(finding.fault, finding.size),
        probability: finding.probability,
        offset: finding.offset.as_ref().map(Into::into),
        shared_with_secondary: finding.is_shared,
    }
}

#[derive(Serialize)]
pub(super) struct ExplanationAnswer {
    probability: f64,
    findings: Vec<FindingAnswer>,
}

pub(super) fn explanation(one: &Explanation) -> ExplanationAnswer {
    let findings = one.faults.iter().map(finding).collect();
    ExplanationAnswer { probability: one.probability, findings }
}

#[derive(Serialize)]
pub(super) struct EdgesAnswer {
    from_end_mm: f64,
    stands: Vec<StandAnswer>,
}

#[derive(Serialize)]
struct StandAnswer {
    tooth: u32,
    mm: f64,
    half_width_95_mm: f64,
}

pub(super) fn edges(edges: &Edges) -> Vec<EdgesAnswer> {
    let stand = |(tooth, figure): (u32, &Figure)| StandAnswer {
        tooth,
        mm: figure.value,
        half_width_95_mm: figure.half_width,
    };
    let at = |(place, stands): (&Length, &Vec<Figure>)| EdgesAnswer {
        from_end_mm: place.mm(),
        stands: (1..).zip(stands).map(stand).collect(),
    };
    edges.places.iter().zip(&edges.stands).map(at).collect()
}

#[derive(Serialize)]
pub(super) struct JudgementAnswer {
    quality: &'static str,
    found: Banded,
    allowed: Option<RangeAnswer>,
    standing: &'static str,
}

#[derive(Serialize)]
#[serde(untagged)]
enum RangeAnswer {
    Length { least_mm: f64, greatest_mm: f64, source: String },
    Angle { least_deg: f64, greatest_deg: f64, source: String },
}

pub(super) fn judgement(one: &Judgement) -> JudgementAnswer {
    let is_angle = one.quality == Quality::Relief;
    let range = |cited: &shop::Cited<(f64, f64)>| {
        let ((least, greatest), source) = (cited.value, cited.source.clone());
        if is_angle {
            RangeAnswer::Angle { least_deg: least, greatest_deg: greatest, source }
        } else {
            RangeAnswer::Length { least_mm: least, greatest_mm: greatest, source }
        }
    };
    JudgementAnswer {
        quality: one.quality.name(),
        found: if is_angle { Banded::angle(one.found) } else { Banded::length(one.found) },
        allowed: one.allowed.as_ref().map(range),
        standing: standing(one.standing),
    }
}

const fn standing(standing: Standing) -> &'static str {
    match standing {
        Standing::Within => "within",
        Standing::LikelyWithin => "likely within",
        Standing::NotSeen => "not seen",
        Standing::LikelyBeyond => "likely beyond",
        Standing::Beyond => "beyond",
        Standing::NotJudged => "not judged",
    }
}

#[derive(Serialize)]
pub(super) struct SeenAnswer {
    fault: &'static str,
    tooth: Option<u32>,
    half_width_95: Option<Amount>,
    apart_half_width_95: Option<Amount>,
    rival: Option<RivalAnswer>,
    advice: &'static str,
}

/// Another fault, or a reading that was misread.
#[derive(Serialize)]
struct RivalAnswer {
    fault: &'static str,
    tooth: Option<u32>,
}

fn rival(rival: Rival) -> RivalAnswer {
    match rival {
        Rival::Fault(fault) => RivalAnswer { fault: fault.kind(), tooth: tooth(fault) },
        Rival::Misread => RivalAnswer { fault: "misread", tooth: None },
    }
}

pub(super) fn seen(seen: &Seen) -> SeenAnswer {
    let is_angle = seen.fault.is_angle();
    let amount = |half: f64| if is_angle { Amount::Deg(half) } else { Amount::Mm(half) };
    SeenAnswer {
        fault: seen.fault.kind(),
        tooth: tooth(seen.fault),
        half_width_95: seen.half_width.map(amount),
        apart_half_width_95: seen.apart_half_width.map(amount),
        rival: seen.rival.map(rival),
        advice: seen.advice(),
    }
}
