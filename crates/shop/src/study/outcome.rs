//! What is looked at on a finished tooth, and what is wanted of it.

use geometry::{Angle, Length};
use trade::Tables;

use crate::context::{Cited, Ctx};
use crate::plan::{
    LAND_OF_GREATEST, Peripheral, Quantity, RELIEF_SLACK_DEG, RegrindPlan, work_group,
};

/// A result that has a size.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Relief over the distance over which it is meant.
    Relief,
    /// Relief at the edge itself.
    EdgeRelief,
    /// Width of the finished land.
    Land,
    /// Diameter, as twice the radius of one edge.
    Diameter,
    /// Change of the diameter over the flute.
    Taper,
}

/// A result that is there or is not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Danger {
    /// The heel drags within the land.
    HeelDrag,
    /// The wheel meets a neighbouring tooth.
    NextTooth,
    /// The far side of a cup meets the cutter.
    FarSide,
}

impl Measure {
    /// Every one.
    pub const ALL: [Self; 5] =
        [Self::Relief, Self::EdgeRelief, Self::Land, Self::Diameter, Self::Taper];

    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Relief => "relief",
            Self::EdgeRelief => "relief at the edge",
            Self::Land => "land",
            Self::Diameter => "diameter",
            Self::Taper => "taper",
        }
    }

    /// A value of it, from degrees or millimetres.
    pub const fn quantity(self, value: f64) -> Quantity {
        match self {
            Self::Relief | Self::EdgeRelief => Quantity::Angle(Angle::from_degrees(value)),
            Self::Land | Self::Diameter | Self::Taper => Quantity::Length(Length::from_mm(value)),
        }
    }
}

impl Danger {
    /// Every one.
    pub const ALL: [Self; 3] = [Self::HeelDrag, Self::NextTooth, Self::FarSide];

    /// The words used on sheets.
    pub const fn name(self) -> &'static str {
        match self {
            Self::HeelDrag => "heel drags within the land",
            Self::NextTooth => "wheel meets the next tooth",
            Self::FarSide => "far side of the cup meets the cutter",
        }
    }
}

/// One finished tooth: results in degrees and millimetres, and dangers, in the order of their
/// lists.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Outcome {
    pub(super) results: [f64; Measure::ALL.len()],
    pub(super) dangers: [bool; Danger::ALL.len()],
}

impl Outcome {
    pub(super) const fn of(&self, result: Measure) -> f64 {
        self.results[result as usize]
    }
}

/// What is wanted of each result: least and greatest, in degrees or millimetres, with its source.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted(pub [Option<Cited<(f64, f64)>>; Measure::ALL.len()]);

/// A land may differ from the wanted one by this share where no table's range holds it (own choice,
/// no source).
const LAND_SLACK: f64 = 0.2;

/// What is said of a band that no table gives.
const OWN_CHOICE: &str = "own choice, no source";

impl Wanted {
    pub(super) fn of(ctx: &Ctx<'_>, plan: &RegrindPlan, work: &Peripheral) -> Self {
        let relief = relief(ctx.tables, plan, work);
        let land = land(ctx.tables, plan);
        Self([Some(relief), None, Some(land), Some(diameter(plan, work)), taper(plan, work)])
    }

    /// The band of one result.
    pub const fn band(&self, result: Measure) -> Option<&Cited<(f64, f64)>> {
        self.0[result as usize].as_ref()
    }

    /// Whether a value lies in its band; so does every value where there is none.
    pub(super) fn holds(&self, result: Measure, value: f64) -> bool {
        let within = |cited: &Cited<(f64, f64)>| value >= cited.value.0 && value <= cited.value.1;
        self.band(result).is_none_or(within)
    }

    /// Whether relief and land are both as wanted.
    pub(super) fn is_held(&self, outcome: &Outcome) -> bool {
        [Measure::Relief, Measure::Land].iter().all(|one| self.holds(*one, outcome.of(*one)))
    }
}

/// The tables' range where the relief that is planned lies in it, else half a degree about that.
fn relief(tables: &Tables, plan: &RegrindPlan, work: &Peripheral) -> Cited<(f64, f64)> {
    let cutter = &plan.request.cutter;
    let target = work.stanced.target.relief.degrees();
    let row = tables.relief(cutter.diameter(), cutter.material(), work_group(cutter));
    let range = row.map(|lookup| {
        let range = lookup.chosen.value.primary;
        Cited::new((range.least.degrees(), range.greatest.degrees()), &lookup.chosen.source)
    });
    let slack = || {
        let range = (target - RELIEF_SLACK_DEG, target + RELIEF_SLACK_DEG);
        Cited::new(range, OWN_CHOICE)
    };
    range.filter(|cited| holds_well(cited.value, target)).unwrap_or_else(slack)
}

/// Whether a range holds a value and leaves it room on either side.
fn holds_well((least, greatest): (f64, f64), value: f64) -> bool {
    value > least && value < greatest
}

fn land(tables: &Tables, plan: &RegrindPlan) -> Cited<(f64, f64)> {
    let cutter = &plan.request.cutter;
    let wanted = plan.wanted.land.value.mm();
    let range = tables.land(cutter.diameter(), work_group(cutter)).and_then(|lookup| {
        let span = lookup.chosen.value.land;
        let greatest = span.greatest?.mm();
        let least = span.least.map_or(LAND_OF_GREATEST * greatest, Length::mm);
        Some(Cited::new((least, greatest), &lookup.chosen.source))
    });
    let slack = || {
        let (less, more) = (wanted * (1.0 - LAND_SLACK), wanted * (1.0 + LAND_SLACK));
        Cited::new((less, more), OWN_CHOICE)
    };
    range.filter(|cited| holds_well(cited.value, wanted)).unwrap_or_else(slack)
}

/// The tolerance about a size that was asked for, else what the plan itself expects.
fn diameter(plan: &RegrindPlan, work: &Peripheral) -> Cited<(f64, f64)> {
    let expected = &work.expected;
    if let Some((asked, cited)) = plan.request.to_size.zip(expected.size.as_ref()) {
        let (above, below) = cited.value;
        return Cited::new(((asked - below).mm(), (asked + above).mm()), &cited.source);
    }
    let (less, more) = expected.diameter_band;
    let band = ((expected.diameter - less).mm(), (expected.diameter + more).mm());
    Cited::new(band, "the plan's own expectation")
}

fn taper(plan: &RegrindPlan, work: &Peripheral) -> Option<Cited<(f64, f64)>> {
    let cited = work.expected.taper.as_ref()?;
    let (most, over) = cited.value;
    let most_mm = most.mm() * (ground_flute(plan) / over);
    Some(Cited::new((-most_mm, most_mm), &cited.source))
}

/// The length of flute that is ground.
pub(super) fn ground_flute(plan: &RegrindPlan) -> Length {
    plan.request.cutter.flute_length() - plan.verdict.cut_back
}
