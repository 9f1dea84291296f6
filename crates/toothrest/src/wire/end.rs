//! The end of a cutter in the answer of `toothrest plan`.

use geometry::{Angle, Length};
use serde::Serialize;
use shop::plan::{
    CornerGrind, EndGrind, EndPlan, GashPlan, RegrindPlan, Stops, Swung, chamfer_setup,
    end_secondary_setup, end_setup, gash_setup,
};

use super::parts::{CitedDeg, CitedMm, GrindAnswer, Line};
use super::round::RoundAnswer;

/// The plan of the end.
#[derive(Serialize)]
pub(crate) struct EndAnswer {
    off_mm: f64,
    off_why: CitedMm,
    cut_back_mm: f64,
    governing_tooth: Option<u32>,
    highest_tooth: Option<u32>,
    order: Vec<StepAnswer>,
    wanted: WantedAnswer,
    wheel: String,
    spindle_rpm: u32,
    primary: PlaneAnswer,
    setup: Vec<Line>,
    stops: StopsAnswer,
    grind: GrindAnswer,
    secondary: SecondaryAnswer,
    gash: GashAnswer,
    corner: Option<CornerAnswer>,
    corner_not_planned: Option<String>,
    expect: ExpectAnswer,
    remarks: Vec<String>,
    cautions: Vec<String>,
}

#[derive(Serialize)]
struct StepAnswer {
    what: String,
    why: String,
}

#[derive(Serialize)]
struct WantedAnswer {
    dish: CitedDeg,
    relief: CitedDeg,
    secondary: CitedDeg,
    land: CitedMm,
    ahead_of_centre_mm: f64,
    edges_end_from_axis_mm: f64,
    short_edges_end_from_axis_mm: f64,
}

#[derive(Serialize)]
struct PlaneAnswer {
    dish_deg: f64,
    relief_deg: f64,
    dish_cost_deg: f64,
    relief_cost_deg: f64,
    tooth_turned_deg: f64,
    axis_misses_deg: f64,
    other_ways: usize,
}

#[derive(Serialize)]
struct StopsAnswer {
    long_mm: f64,
    short_mm: f64,
    past_centre_mm: f64,
    reach_mm: f64,
    first_cut_tooth: Option<u32>,
    gap_mm: Option<f64>,
}

#[derive(Serialize)]
struct SecondaryAnswer {
    relief_deg: f64,
    setup: Vec<Line>,
    land_mm: f64,
    land_per_feed: Option<f64>,
}

#[derive(Serialize)]
struct GashAnswer {
    needed: bool,
    why: String,
    floor: CitedDeg,
    rake: CitedDeg,
    root: CitedMm,
    frees_edge_from_mm: f64,
    wheel: Option<String>,
    setup: Vec<Line>,
    depth_at_rim_mm: Option<f64>,
    gap_mm: Option<f64>,
    not_planned: Option<String>,
}

#[derive(Serialize)]
struct CornerAnswer {
    form: &'static str,
    width_mm: Option<f64>,
    radius_mm: Option<f64>,
    angle_deg: Option<f64>,
    relief_deg: f64,
    travel_mm: Option<f64>,
    setup: Vec<Line>,
    remarks: Vec<String>,
    round: Option<RoundAnswer>,
}

#[derive(Serialize)]
struct ExpectAnswer {
    heights_alike: CitedMm,
    dish: Vec<FeelerAnswer>,
    land_mm: f64,
    overall_length_mm: f64,
    length_band_mm: f64,
    tool_length_change_mm: f64,
    flute_length_mm: f64,
}

#[derive(Serialize)]
struct FeelerAnswer {
    from_axis_mm: f64,
    gap_mm: f64,
}

/// The answer for the plan of an end.
pub(crate) fn end(plan: &RegrindPlan, end: &EndPlan) -> EndAnswer {
    let (work, stock) = (&end.work, &end.stock);
    let order = end.order.iter();
    EndAnswer {
        off_mm: work.off.mm(),
        off_why: (&stock.off).into(),
        cut_back_mm: stock.cut_back.mm(),
        governing_tooth: stock.governing,
        highest_tooth: stock.highest,
        order: order
            .map(|step| StepAnswer { what: step.what.clone(), why: step.why.clone() })
            .collect(),
        wanted: WantedAnswer {
            dish: (&end.wanted.dish).into(),
            relief: (&end.wanted.relief).into(),
            secondary: (&end.wanted.secondary).into(),
            land: (&end.wanted.land).into(),
            ahead_of_centre_mm: end.wanted.ahead.mm(),
            edges_end_from_axis_mm: end.wanted.inner.value.mm(),
            short_edges_end_from_axis_mm: end.wanted.short.value.mm(),
        },
        wheel: end.wheel.wheel.number().to_owned(),
        spindle_rpm: end.wheel.speed.rpm,
        primary: plane(&work.primary),
        setup: end_setup(plan, end).iter().map(Into::into).collect(),
        stops: stops(&work.primary.stops),
        grind: (&work.grinding).into(),
        secondary: SecondaryAnswer {
            relief_deg: work.secondary.grind.made.relief().degrees(),
            setup: end_secondary_setup(end).iter().map(Into::into).collect(),
            land_mm: work.secondary.land.mm(),
            land_per_feed: work.secondary.land_per_feed,
        },
        gash: gash(end, &end.gash),
        corner: work.corner.as_ref().map(corner),
        corner_not_planned: work.corner_refused.clone(),
        expect: expect(end),
        remarks: end.remarks.iter().chain(&stock.remarks).cloned().collect(),
        cautions: end.cautions.iter().map(|caution| caution.text.value.clone()).collect(),
    }
}

fn plane(grind: &EndGrind) -> PlaneAnswer {
    let Swung { turn, miss, other_ways, .. } = &grind.swung;
    PlaneAnswer {
        dish_deg: grind.made.dish().degrees(),
        relief_deg: grind.made.relief().degrees(),
        dish_cost_deg: grind.dish_cost().degrees(),
        relief_cost_deg: grind.relief_cost().degrees(),
        tooth_turned_deg: turn.degrees(),
        axis_misses_deg: miss.degrees(),
        other_ways: *other_ways,
    }
}

fn stops(stops: &Stops) -> StopsAnswer {
    StopsAnswer {
        long_mm: stops.long.mm(),
        short_mm: stops.short.mm(),
        past_centre_mm: stops.past_centre.mm(),
        reach_mm: stops.reach.stop.mm(),
        first_cut_tooth: stops.reach.first_cut,
        gap_mm: stops.gap.map(|(_, gap)| gap.mm()),
    }
}

fn gash(end: &EndPlan, gash: &GashPlan) -> GashAnswer {
    let wanted = &end.wanted.gash;
    let grind = gash.grind.as_ref();
    GashAnswer {
        needed: gash.is_needed,
        why: gash.why.clone(),
        floor: (&wanted.floor).into(),
        rake: (&wanted.rake).into(),
        root: (&wanted.root).into(),
        frees_edge_from_mm: gash.left.as_ref().unwrap_or(&gash.gash).free_from().mm(),
        wheel: grind.map(|grind| grind.wheel.clone()),
        setup: grind.map(gash_setup).unwrap_or_default().iter().map(Into::into).collect(),
        depth_at_rim_mm: grind.map(|grind| grind.depth_at_rim.mm()),
        gap_mm: grind.and_then(|grind| Some(grind.gap?.1.mm())),
        not_planned: gash.refused.clone(),
    }
}

fn corner(corner: &CornerGrind) -> CornerAnswer {
    let degrees = |angle: Angle| angle.degrees();
    match corner {
        CornerGrind::Chamfer(chamfer) => CornerAnswer {
            form: "chamfer",
            width_mm: Some(chamfer.width.mm()),
            radius_mm: None,
            angle_deg: Some(degrees(-chamfer.made.dish())),
            relief_deg: degrees(chamfer.made.relief()),
            travel_mm: Some(chamfer.travel.mm()),
            setup: chamfer_setup(chamfer).iter().map(Into::into).collect(),
            remarks: Vec::new(),
            round: None,
        },
        CornerGrind::Round(round) => CornerAnswer {
            form: "radius",
            width_mm: None,
            radius_mm: Some(round.round.radius.mm()),
            angle_deg: None,
            relief_deg: degrees(round.relief.value),
            travel_mm: Some(round.grinding.travel.mm()),
            setup: round.lines.iter().map(Into::into).collect(),
            remarks: round.remarks.clone(),
            round: Some(round.as_ref().into()),
        },
    }
}

fn expect(end: &EndPlan) -> ExpectAnswer {
    let expected = &end.expected;
    let mm = |length: Length| length.mm();
    let feeler = |reading: &shop::plan::FeelerReading| FeelerAnswer {
        from_axis_mm: reading.from_axis.mm(),
        gap_mm: reading.gap.mm(),
    };
    ExpectAnswer {
        heights_alike: (&expected.heights_alike).into(),
        dish: expected.dish.iter().map(feeler).collect(),
        land_mm: mm(expected.land),
        overall_length_mm: mm(expected.overall_length),
        length_band_mm: mm(expected.length_band),
        tool_length_change_mm: mm(expected.tool_length_change),
        flute_length_mm: mm(expected.flute_length),
    }
}
