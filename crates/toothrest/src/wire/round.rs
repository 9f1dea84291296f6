//! A rounded corner and a ball in the answer of `toothrest plan`.

use serde::Serialize;
use shop::plan::{BallPlan, RoundGrind, RoundPlace, RoundRelief, RoundSet, pivot_readings};

use super::parts::{Amount, CitedDeg, CitedMm, Dial, GrindAnswer, Line};
use geometry::end::{RoundBy, RoundCut, RoundHold};

/// The grinding of a round.
#[derive(Serialize)]
pub(super) struct RoundAnswer {
    radius_mm: f64,
    relief: CitedDeg,
    secondary: CitedDeg,
    held: &'static str,
    axis_beside_pivot_mm: f64,
    end_past_pivot_mm: f64,
    head_leans_deg: f64,
    relief_set: SetAnswer,
    secondary_set: SetAnswer,
    relief_halfway: MadeAnswer,
    secondary_halfway: MadeAnswer,
    swing_from_deg: f64,
    swing_to_deg: f64,
    first_touch_deg: f64,
    grind: GrindAnswer,
    radius_left_over_mm: f64,
    places: Vec<PlaceAnswer>,
    worst_form_mm: f64,
    rest_off_corner_costs: Option<f64>,
    land_mm: f64,
    land_per_feed: Option<f64>,
    gap_mm: Option<f64>,
    setup: Vec<Line>,
    secondary_setup: Vec<Line>,
    pivot_readings: Vec<PivotAnswer>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct SetAnswer {
    by: &'static str,
    exact: Amount,
    dial: Option<Dial>,
}

#[derive(Serialize)]
struct MadeAnswer {
    as_set_deg: f64,
    at_edge_deg: f64,
}

#[derive(Serialize)]
struct PlaceAnswer {
    swing_deg: f64,
    stock_mm: f64,
    form_mm: f64,
    relief_deg: f64,
    land_mm: Option<f64>,
}

#[derive(Serialize)]
struct PivotAnswer {
    at: &'static str,
    rises: &'static str,
    falls: &'static str,
}

impl From<&RoundRelief> for MadeAnswer {
    fn from(made: &RoundRelief) -> Self {
        Self { as_set_deg: made.as_set.degrees(), at_edge_deg: made.at_edge.degrees() }
    }
}

impl From<&RoundPlace> for PlaceAnswer {
    fn from(place: &RoundPlace) -> Self {
        Self {
            swing_deg: place.swing.degrees(),
            stock_mm: place.stock.mm(),
            form_mm: place.form.mm(),
            relief_deg: place.relief.degrees(),
            land_mm: place.land.map(|land| land.mm()),
        }
    }
}

impl From<&RoundSet> for SetAnswer {
    fn from(set: &RoundSet) -> Self {
        let by = match set.by {
            RoundBy::Tilt => "wheel tilt",
            RoundBy::Height => "wheel height",
        };
        Self { by, exact: set.exact.into(), dial: set.mark.as_ref().map(Into::into) }
    }
}

impl From<&RoundGrind> for RoundAnswer {
    fn from(round: &RoundGrind) -> Self {
        let lines = |lines: &[shop::plan::SetupLine]| lines.iter().map(Into::into).collect();
        let held = match round.hold {
            RoundHold::Locked => "locked",
            RoundHold::Follows => "follows the rest",
        };
        let readings = pivot_readings().into_iter();
        Self {
            radius_mm: round.round.radius.mm(),
            relief: (&round.relief).into(),
            secondary: (&round.secondary).into(),
            held,
            axis_beside_pivot_mm: round.pivot.beside.mm(),
            end_past_pivot_mm: round.pivot.past.mm(),
            head_leans_deg: round.lean.degrees(),
            relief_set: (&round.primary).into(),
            secondary_set: (&round.behind).into(),
            relief_halfway: (&round.relief_made).into(),
            secondary_halfway: (&round.secondary_made).into(),
            swing_from_deg: round.from.degrees(),
            swing_to_deg: RoundCut::swings().1.degrees(),
            first_touch_deg: round.touch.degrees(),
            grind: (&round.grinding).into(),
            radius_left_over_mm: round.left_over.mm(),
            places: round.places.iter().map(Into::into).collect(),
            worst_form_mm: round.worst_form().mm(),
            rest_off_corner_costs: round.rest_miss,
            land_mm: round.land.mm(),
            land_per_feed: round.land_per_feed,
            gap_mm: round.gap.map(|(_, gap)| gap.mm()),
            setup: lines(&round.lines),
            secondary_setup: lines(&round.behind_lines),
            pivot_readings: readings
                .map(|reading| PivotAnswer {
                    at: reading.at,
                    rises: reading.rises,
                    falls: reading.falls,
                })
                .collect(),
            remarks: round.remarks.clone(),
        }
    }
}

/// The plan of a ball.
#[derive(Serialize)]
pub(crate) struct BallAnswer {
    off_mm: f64,
    off_why: CitedMm,
    cut_back_mm: f64,
    governing_tooth: Option<u32>,
    order: Vec<OrderAnswer>,
    wheel: String,
    spindle_rpm: u32,
    round: RoundAnswer,
    expect: BallExpectAnswer,
    remarks: Vec<String>,
    cautions: Vec<String>,
}

#[derive(Serialize)]
struct OrderAnswer {
    what: String,
    why: String,
}

#[derive(Serialize)]
struct BallExpectAnswer {
    radius_mm: f64,
    radius_band_mm: f64,
    overall_length_mm: f64,
    tool_length_change_mm: f64,
    flute_length_mm: f64,
}

/// The answer for the plan of a ball.
pub(crate) fn ball(ball: &BallPlan) -> BallAnswer {
    let expected = &ball.expected;
    let order = ball.order.iter();
    BallAnswer {
        off_mm: ball.off.mm(),
        off_why: (&ball.stock.off).into(),
        cut_back_mm: ball.stock.cut_back.mm(),
        governing_tooth: ball.stock.governing,
        order: order
            .map(|step| OrderAnswer { what: step.what.clone(), why: step.why.clone() })
            .collect(),
        wheel: ball.wheel.wheel.number().to_owned(),
        spindle_rpm: ball.wheel.speed.rpm,
        round: (&ball.round).into(),
        expect: BallExpectAnswer {
            radius_mm: expected.radius.mm(),
            radius_band_mm: expected.radius_band.mm(),
            overall_length_mm: expected.overall_length.mm(),
            tool_length_change_mm: expected.tool_length_change.mm(),
            flute_length_mm: expected.flute_length.mm(),
        },
        remarks: ball.remarks.clone(),
        cautions: ball.cautions.iter().map(|caution| caution.text.value.clone()).collect(),
    }
}
