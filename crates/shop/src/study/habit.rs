//! How far off each setting of one plan ordinarily is.

use std::f64::consts::{FRAC_1_SQRT_2, PI};

use geometry::{Angle, Length};
use trade::{HabitRow, StudiedSetting};

use crate::context::Ctx;
use crate::plan::{Held, Peripheral, Quantity, RegrindPlan, ReliefBy, fine_rest_along};
use crate::record::{Axis, AxisRole, Finest, Machine};

/// How the error of a setting scatters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scatter {
    /// As a normal deviate, to either side.
    Normal,
    /// As the amount of a normal deviate, to one side only.
    OneSided,
    /// As one turn of something that runs out.
    Turning,
}

/// How far off one setting ordinarily is.
#[derive(Clone, Debug, PartialEq)]
pub struct Habit {
    /// The setting.
    pub setting: StudiedSetting,
    /// The finest division of its dial, as far as it has one: what the setting moves by it.
    pub division: Option<Quantity>,
    /// One deviation.
    pub deviation: Quantity,
    /// How the error scatters.
    pub scatter: Scatter,
    /// Where the deviation comes from.
    pub source: String,
}

/// The habits of a plan, in the order of the settings.
#[derive(Clone, Debug, PartialEq)]
pub struct Habits(pub Vec<Habit>);

/// Errors of all settings, in millimetres or radians, each at its setting's own place.
pub(super) type Errors = [f64; StudiedSetting::ALL.len()];

impl Habit {
    /// One deviation in millimetres or radians.
    pub(super) fn deviation(&self) -> f64 {
        raw(self.deviation)
    }

    /// The error at a coordinate between 0 and 1, whose normal deviate is also given.
    ///
    /// **Source** \[own-derivation\] σ z; σ |z|; and √2 σ cos(πu), which has the deviation σ too.
    /// **Departs** nowhere. **Error** rounding. **Domain** 0 < u < 1.
    pub(super) fn error(&self, coordinate: f64, normal: f64) -> f64 {
        let deviation = self.deviation();
        match self.scatter {
            Scatter::Normal => deviation * normal,
            Scatter::OneSided => deviation * normal.abs(),
            Scatter::Turning => deviation / FRAC_1_SQRT_2 * (PI * coordinate).cos(),
        }
    }

    /// Variance of the error, in squares of its unit.
    pub(super) fn variance(&self) -> f64 {
        let square = self.deviation().powi(2);
        match self.scatter {
            Scatter::Normal | Scatter::Turning => square,
            Scatter::OneSided => square * (1.0 - 2.0 / PI),
        }
    }

    /// The widest error that still belongs to the habit: within it lie 95 % of all, and all of
    /// what turns.
    pub fn within(&self) -> Quantity {
        let times = match self.scatter {
            Scatter::Normal | Scatter::OneSided => 2.0,
            Scatter::Turning => std::f64::consts::SQRT_2,
        };
        scaled(self.deviation, times)
    }

    /// How many of its dial's divisions an amount is.
    pub fn divisions(&self, amount: Quantity) -> Option<f64> {
        let division = raw(self.division?);
        (division > 0.0).then(|| raw(amount) / division)
    }
}

/// In millimetres or radians.
pub(super) const fn raw(quantity: Quantity) -> f64 {
    match quantity {
        Quantity::Length(length) => length.mm(),
        Quantity::Angle(angle) => angle.radians(),
    }
}

/// So many times an amount.
pub(super) fn scaled(quantity: Quantity, times: f64) -> Quantity {
    match quantity {
        Quantity::Length(length) => Quantity::Length(length * times),
        Quantity::Angle(angle) => Quantity::Angle(angle * times),
    }
}

impl Habits {
    /// The habits that bear on a plan's periphery.
    pub(super) fn of(ctx: &Ctx<'_>, plan: &RegrindPlan, work: &Peripheral) -> Self {
        let bearing = StudiedSetting::ALL.iter().filter(|setting| bears(**setting, plan, work));
        Self(bearing.filter_map(|setting| habit(ctx, *setting, plan, work)).collect())
    }

    /// The habit of a setting.
    pub fn habit(&self, setting: StudiedSetting) -> Option<&Habit> {
        self.0.iter().find(|habit| habit.setting == setting)
    }
}

/// Whether a setting is made at all in this plan.
fn bears(setting: StudiedSetting, plan: &RegrindPlan, work: &Peripheral) -> bool {
    let by = work.stanced.relief_by;
    match setting {
        StudiedSetting::SecondaryRelief | StudiedSetting::SecondaryFeed => {
            work.secondary.grinding.is_some()
        }
        StudiedSetting::RestOnCentre => by != ReliefBy::RestHeight,
        StudiedSetting::WheelOnCentre => {
            !matches!(by, ReliefBy::HeadWithRest | ReliefBy::WheelAbove)
        }
        StudiedSetting::Helix => !plan.request.cutter.is_straight(),
        // Under a tooth that does not turn on its way a rest may stand anywhere, or there is none.
        StudiedSetting::RestAlong => Held::on(&plan.request.machine).lets_turn(),
        _ => true,
    }
}

fn habit(
    ctx: &Ctx<'_>,
    setting: StudiedSetting,
    plan: &RegrindPlan,
    work: &Peripheral,
) -> Option<Habit> {
    let row = &ctx.tables.habit(setting)?.chosen;
    let dial = Dial::of(axis(setting, &plan.request.machine, work));
    let (value, source) = match own_runout(setting, plan) {
        Some(runout) => (runout.mm(), "the cutter's own record".to_owned()),
        None => (of_row(&row.value, &dial), row.source.clone()),
    };
    let (scatter, share) = match setting {
        StudiedSetting::Backlash | StudiedSetting::WheelCorner => (Scatter::OneSided, 1.0),
        // Of a full swing the edge stands out by half at most, and by 0.71 of that as a deviation.
        StudiedSetting::ShankRunout => (Scatter::Turning, 0.5 * FRAC_1_SQRT_2),
        _ => (Scatter::Normal, 1.0),
    };
    let is_angle = match setting {
        StudiedSetting::Squareness | StudiedSetting::Helix | StudiedSetting::HeadAngle => true,
        StudiedSetting::Relief | StudiedSetting::SecondaryRelief => {
            work.stanced.relief_by == ReliefBy::Dial
        }
        _ => false,
    };
    let deviation = quantity(value * share, is_angle);
    let division = dial.division.map(|step| quantity(step, is_angle));
    (value > 0.0).then_some(Habit { setting, division, deviation, scatter, source })
}

fn quantity(value: f64, is_angle: bool) -> Quantity {
    if is_angle {
        Quantity::Angle(Angle::from_radians(value))
    } else {
        Quantity::Length(Length::from_mm(value))
    }
}

/// The swing of the shank as the cutter's record gives it.
fn own_runout(setting: StudiedSetting, plan: &RegrindPlan) -> Option<Length> {
    let asked = setting == StudiedSetting::ShankRunout;
    plan.request.cutter.wear().filter(|_| asked)?.shank_runout()
}

/// One deviation of a row, in millimetres or radians.
///
/// **Source** \[jcgm-100\] 5.1: independent parts add by their squares. **Departs** nowhere.
/// **Error** rounding. **Domain** independent parts.
fn of_row(row: &HabitRow, dial: &Dial) -> f64 {
    let share = |share: Option<trade::Share>, of: Option<f64>| {
        share.zip(of).map_or(0.0, |(share, of)| share.of_one() * of)
    };
    let parts = [
        share(row.by_division, dial.division),
        share(row.by_backlash, dial.backlash),
        row.amount.map_or(0.0, Length::mm),
        row.angle.map_or(0.0, Angle::radians),
    ];
    parts.into_iter().map(|part| part * part).sum::<f64>().sqrt()
}

/// What a machine's dial gives, in millimetres or radians of what it moves.
struct Dial {
    division: Option<f64>,
    backlash: Option<f64>,
}

impl Dial {
    fn of(axis: Option<&Axis>) -> Self {
        let slide = axis.and_then(Axis::slide);
        let swivel = axis.and_then(Axis::swivel);
        let of_slide = slide.map(|scale| scale.travel(scale.backlash).mm());
        let of_swivel = swivel.map(|scale| scale.backlash.radians());
        let division = axis.map(|axis| match (axis.finest(), slide) {
            (Finest::Length(_), Some(scale)) => scale.finest_travel().mm(),
            (Finest::Length(step), None) => step.mm(),
            (Finest::Angle(step), _) => step.radians(),
        });
        Self { division, backlash: of_slide.or(of_swivel) }
    }
}

/// The axis on whose dial a setting is read.
fn axis<'a>(setting: StudiedSetting, machine: &'a Machine, work: &Peripheral) -> Option<&'a Axis> {
    let relief = match work.stanced.relief_by {
        ReliefBy::Dial => AxisRole::ReliefDial,
        ReliefBy::RestHeight => AxisRole::RestHeight,
        ReliefBy::WheelAbove | ReliefBy::HeadWithRest => AxisRole::WheelHeadHeight,
    };
    match setting {
        StudiedSetting::HeadAngle => machine.axis(AxisRole::HeadSwivel),
        StudiedSetting::Relief | StudiedSetting::SecondaryRelief => machine.axis(relief),
        StudiedSetting::WheelOnCentre => machine.axis(AxisRole::WheelHeadHeight),
        StudiedSetting::RestAlong => fine_rest_along(machine),
        StudiedSetting::FirstTouch
        | StudiedSetting::FeedMark
        | StudiedSetting::Backlash
        | StudiedSetting::SecondaryFeed => machine.axis(AxisRole::CrossFeed),
        _ => None,
    }
}
