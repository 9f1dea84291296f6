//! Small shapes that several answers share.

use geometry::Length;
use serde::Serialize;
use shop::plan::{DialMark, Grinding, Quantity, SetupLine};

/// A length in millimetres or an angle in degrees, under a key that says which.
#[derive(Serialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Amount {
    Mm(f64),
    Deg(f64),
}

impl From<Quantity> for Amount {
    fn from(quantity: Quantity) -> Self {
        match quantity {
            Quantity::Length(length) => Self::Mm(length.mm()),
            Quantity::Angle(angle) => Self::Deg(angle.degrees()),
        }
    }
}

/// What to set on one axis.
#[derive(Serialize)]
pub(super) struct Dial {
    axis: String,
    reading: Amount,
    finest: Amount,
    counts: &'static str,
    positive: String,
}

impl From<&DialMark> for Dial {
    fn from(mark: &DialMark) -> Self {
        Self {
            axis: mark.axis.clone(),
            reading: mark.reading.into(),
            finest: mark.finest.into(),
            counts: if mark.on_diameter { "diameter" } else { "travel" },
            positive: mark.positive.clone(),
        }
    }
}

/// One line of a set-up.
#[derive(Serialize)]
pub(super) struct Line {
    item: &'static str,
    value: Option<Amount>,
    dial: Option<Dial>,
    tolerance: Option<Amount>,
    how: String,
    why: String,
}

impl From<&SetupLine> for Line {
    fn from(line: &SetupLine) -> Self {
        Self {
            item: line.item.name(),
            value: line.value.map(Into::into),
            dial: line.dial.as_ref().map(Into::into),
            tolerance: line.tolerance.map(Into::into),
            how: line.how.clone(),
            why: line.why.clone(),
        }
    }
}

/// One pass.
#[derive(Serialize)]
struct PassAnswer {
    kind: &'static str,
    feed_mm: f64,
    dial: Dial,
}

/// The grinding of one relief.
#[derive(Serialize)]
pub(super) struct GrindAnswer {
    travel_mm: f64,
    exact_travel_mm: f64,
    dial_to_stock: f64,
    wheel_at_kiss_mm: f64,
    wheel_at_size_mm: f64,
    kiss_behind_edge_mm: f64,
    passes: Vec<PassAnswer>,
    pass_max_mm: f64,
    pass_max_source: String,
    first_round: Vec<u32>,
    second_round: Vec<u32>,
    back_off_to: Dial,
    come_in_to: Dial,
}

impl From<&Grinding> for GrindAnswer {
    fn from(grinding: &Grinding) -> Self {
        let pass = |pass: &shop::plan::GrindPass| PassAnswer {
            kind: pass.kind.name(),
            feed_mm: pass.feed.mm(),
            dial: (&pass.dial).into(),
        };
        Self {
            travel_mm: grinding.travel.mm(),
            exact_travel_mm: grinding.feed.travel().mm(),
            dial_to_stock: grinding.ratio,
            wheel_at_kiss_mm: grinding.feed.at_kiss.mm(),
            wheel_at_size_mm: grinding.feed.at_size.mm(),
            kiss_behind_edge_mm: grinding.feed.kiss_behind.mm(),
            passes: grinding.passes.iter().map(pass).collect(),
            pass_max_mm: grinding.pass_max.value.mm(),
            pass_max_source: grinding.pass_max.source.clone(),
            first_round: grinding.first_round.clone(),
            second_round: grinding.second_round.clone(),
            back_off_to: (&grinding.back_off_to).into(),
            come_in_to: (&grinding.come_in_to).into(),
        }
    }
}

/// A length in millimetres with its source.
#[derive(Serialize)]
pub(super) struct CitedMm {
    mm: f64,
    source: String,
}

impl From<&shop::Cited<Length>> for CitedMm {
    fn from(cited: &shop::Cited<Length>) -> Self {
        Self { mm: cited.value.mm(), source: cited.source.clone() }
    }
}

/// An angle in degrees with its source.
#[derive(Serialize)]
pub(super) struct CitedDeg {
    deg: f64,
    source: String,
}

impl From<&shop::Cited<geometry::Angle>> for CitedDeg {
    fn from(cited: &shop::Cited<geometry::Angle>) -> Self {
        Self { deg: cited.value.degrees(), source: cited.source.clone() }
    }
}
