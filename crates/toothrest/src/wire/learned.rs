//! What was learned from own grinds, in an answer.

use geometry::Length;
use serde::Serialize;
use shop::learn::{Learned, LeftOut, Lives};
use shop::plan::WheelKnown;

/// A learned length in millimetres.
#[derive(Serialize)]
pub(super) struct LearnedMm {
    mm: f64,
    least_mm: f64,
    greatest_mm: f64,
    table_mm: f64,
    table_source: String,
    own: u32,
    table_counts_as: f64,
    from: String,
    set_aside: Vec<WildMm>,
    doubtful: Vec<String>,
    left_out: Vec<LeftOutAnswer>,
}

#[derive(Serialize)]
struct WildMm {
    entry: String,
    off_mm: f64,
}

#[derive(Serialize)]
struct LeftOutAnswer {
    entry: String,
    why: String,
}

impl From<&LeftOut> for LeftOutAnswer {
    fn from(left_out: &LeftOut) -> Self {
        Self { entry: left_out.entry.clone(), why: left_out.why.clone() }
    }
}

impl From<&Learned<Length>> for LearnedMm {
    fn from(learned: &Learned<Length>) -> Self {
        let wild = learned.wild.iter();
        Self {
            mm: learned.value.mm(),
            least_mm: learned.least.mm(),
            greatest_mm: learned.greatest.mm(),
            table_mm: learned.table.value.mm(),
            table_source: learned.table.source.clone(),
            own: learned.own,
            table_counts_as: learned.table_counts_as,
            from: learned.words(),
            set_aside: wild
                .map(|wild| WildMm { entry: wild.entry.clone(), off_mm: wild.off.mm() })
                .collect(),
            doubtful: learned.doubtful.clone(),
            left_out: learned.left_out.iter().map(Into::into).collect(),
        }
    }
}

/// A learned ratio.
#[derive(Serialize)]
struct LearnedRatio {
    ratio: f64,
    least: f64,
    greatest: f64,
    own: u32,
    table_counts_as: f64,
    from: String,
    set_aside: Vec<WildRatio>,
    doubtful: Vec<String>,
    left_out: Vec<LeftOutAnswer>,
}

#[derive(Serialize)]
struct WildRatio {
    entry: String,
    off: f64,
}

impl From<&Learned<f64>> for LearnedRatio {
    fn from(learned: &Learned<f64>) -> Self {
        let wild = learned.wild.iter();
        Self {
            ratio: learned.value,
            least: learned.least,
            greatest: learned.greatest,
            own: learned.own,
            table_counts_as: learned.table_counts_as,
            from: learned.words(),
            set_aside: wild
                .map(|wild| WildRatio { entry: wild.entry.clone(), off: wild.off })
                .collect(),
            doubtful: learned.doubtful.clone(),
            left_out: learned.left_out.iter().map(Into::into).collect(),
        }
    }
}

/// What is known of the wheel.
#[derive(Serialize)]
pub(super) struct WheelKnownAnswer {
    dial_to_stock: LearnedRatio,
    reckoned_with: f64,
    wear_per_cutter: Option<LearnedMm>,
    remarks: Vec<String>,
}

impl From<&WheelKnown> for WheelKnownAnswer {
    fn from(known: &WheelKnown) -> Self {
        Self {
            dial_to_stock: (&known.ratio).into(),
            reckoned_with: known.trusted,
            wear_per_cutter: known.wear.as_ref().map(Into::into),
            remarks: known.remarks.clone(),
        }
    }
}

/// Regrinds left.
#[derive(Serialize)]
pub(super) struct LivesAnswer {
    expected: u32,
    least: u32,
    greatest: u32,
    room_mm: f64,
    from: String,
}

impl From<&Lives> for LivesAnswer {
    fn from(lives: &Lives) -> Self {
        Self {
            expected: lives.expected,
            least: lives.least,
            greatest: lives.greatest,
            room_mm: lives.room.mm(),
            from: lives.from.clone(),
        }
    }
}
