//! One case: a cutter, a grind with planted faults, its readings, and what the check says.

use std::f64::consts::TAU;

use checks::reference::random::Splitmix;
use geometry::Length;
use shop::Ctx;
use shop::check::{Check, CheckRegrind, Checked, Fault, Outcome, Question, check_regrind};
use shop::plan::RegrindPlan;
use shop::record::{Hand, LandStage, Readings};
use trade::Tables;

use super::bench::{Taken, normal, readings};
use super::grind::{Job, Planted};
use super::shop_floor;

/// What is planted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Kind {
    Nothing,
    Size,
    Taper,
    Runout,
    TiltedRunout,
    Drift,
    Slip,
    Clearance,
    Two,
}

impl Kind {
    pub(crate) const ALL: [Self; 9] = [
        Self::Nothing,
        Self::Size,
        Self::Taper,
        Self::Runout,
        Self::TiltedRunout,
        Self::Drift,
        Self::Slip,
        Self::Clearance,
        Self::Two,
    ];

    pub(crate) const fn name(self) -> &'static str {
        match self {
            Self::Nothing => "nothing",
            Self::Size => "size",
            Self::Taper => "taper",
            Self::Runout => "runout, parallel",
            Self::TiltedRunout => "runout, askew",
            Self::Drift => "drift",
            Self::Slip => "slipped tooth",
            Self::Clearance => "clearance",
            Self::Two => "two at once",
        }
    }
}

/// A planted fault with its true size in the check's own terms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Truth {
    pub(crate) fault: Fault,
    pub(crate) size: f64,
}

/// What came of one case.
#[derive(Clone, Debug)]
pub(crate) struct Came {
    pub(crate) truths: Vec<Truth>,
    pub(crate) check: Box<Check>,
}

/// A grind with what was planted in it, and how it is read.
pub(crate) struct Planned {
    pub(crate) draw: Splitmix,
    pub(crate) plan: RegrindPlan,
    pub(crate) planted: Planted,
    pub(crate) truths: Vec<Truth>,
    pub(crate) taken: Taken,
}

/// Draws a case from its seed; None where the cutter cannot be planned or the readings were asked
/// about.
pub(crate) fn case(seed: u64, kind: Kind, manner: Manner) -> Option<Came> {
    let Planned { mut draw, plan, planted, truths, taken } = planned(seed, kind, manner)?;
    let readings = readings(&mut draw, &Job::of(&plan), &planted, taken)?;
    let check = weighed(&plan, readings).unwrap_or_else(|asked| {
        panic!("seed {seed}, {kind:?}: {asked:?}");
    });
    Some(Came { truths, check })
}

/// What the check says of readings.
pub(crate) fn weighed(plan: &RegrindPlan, readings: Readings) -> Result<Box<Check>, Vec<Question>> {
    let tables = Tables::bundled().unwrap();
    let request = CheckRegrind { plan: plan.clone(), readings };
    match check_regrind(&Ctx { tables }, request).unwrap() {
        Checked::Weighed(check) => Ok(check),
        Checked::Asked(asked) => Err(asked),
    }
}

/// Draws a cutter, its plan and its faults from a seed.
pub(crate) fn planned(seed: u64, kind: Kind, manner: Manner) -> Option<Planned> {
    let mut draw = Splitmix::new(seed);
    let teeth = 2 + (seed % 7) as u32;
    let helical = !draw.once_in(3);
    let hand = if draw.once_in(2) { Hand::Left } else { Hand::Right };
    let mut plan = shop_floor::plan(shop_floor::cutter(&mut draw, teeth, helical, hand))?;
    if manner == Manner::SizeAsked {
        let largest = plan.peripheral.as_ref().unwrap().expected.diameter;
        let asked = largest - Length::from_mm(0.02);
        plan = shop_floor::plan_to(plan.request.cutter, Some(asked))?;
    }
    let (planted, truths) = plant(&mut draw, &Job::of(&plan), kind);
    let taken = taken(&mut draw, manner);
    Some(Planned { draw, plan, planted, truths, taken })
}

/// How the readings are taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Manner {
    /// As a careful hand does.
    Careful,
    /// With one land misread by 0.05 to 0.2 mm.
    Misread,
    /// Without noting which way the teeth are numbered.
    NotNoted,
    /// With the lands read after the secondary, which was ground without fault.
    AfterSecondary,
    /// On a plan to a size that was asked for.
    SizeAsked,
}

fn taken(draw: &mut Splitmix, manner: Manner) -> Taken {
    let misread = draw.by_size(0.05, 0.2);
    Taken {
        stage: match manner {
            Manner::AfterSecondary => LandStage::AfterSecondary,
            _ => LandStage::AfterPrimary,
        },
        places: if draw.once_in(3) { 3 } else { 2 },
        diameters: !draw.once_in(4),
        indicator: draw.once_in(2),
        drops: draw.once_in(2),
        shank: draw.once_in(2),
        missing_in: draw.once_in(3).then_some(8),
        misread_mm: (manner == Manner::Misread).then_some(misread),
        run_noted: manner != Manner::NotNoted,
    }
}

fn signed(draw: &mut Splitmix, low: f64, high: f64) -> f64 {
    let size = draw.by_size(low, high);
    if draw.once_in(2) { -size } else { size }
}

fn plant(draw: &mut Splitmix, job: &Job<'_>, kind: Kind) -> (Planted, Vec<Truth>) {
    // Nobody knows an old angle better than to a quarter of a degree.
    let old_secondary_deg = 0.25 * normal(draw);
    let mut planted = Planted { old_secondary_deg, ..Planted::default() };
    let mut truths = Vec::new();
    let singles = [Kind::Size, Kind::Taper, Kind::Runout, Kind::Drift, Kind::Slip, Kind::Clearance];
    let kinds: Vec<Kind> = match kind {
        Kind::Nothing => Vec::new(),
        Kind::Two => {
            let first = (draw.bits() % 6) as usize;
            let second = (first + 1 + (draw.bits() % 5) as usize) % 6;
            vec![singles[first], singles[second]]
        }
        single => vec![single],
    };
    for kind in kinds {
        truths.push(plant_one(draw, job, kind, &mut planted));
    }
    (planted, truths)
}

fn plant_one(draw: &mut Splitmix, job: &Job<'_>, kind: Kind, planted: &mut Planted) -> Truth {
    match kind {
        Kind::Size => {
            planted.size = signed(draw, 0.003, 0.05);
            Truth { fault: Fault::Size, size: planted.size }
        }
        Kind::Taper => {
            planted.taper = signed(draw, 0.003, 0.05);
            Truth { fault: Fault::Taper, size: planted.taper }
        }
        Kind::Drift => {
            planted.drift = draw.by_size(0.003, 0.03);
            Truth { fault: Fault::Drift, size: planted.drift }
        }
        Kind::Slip => {
            let tooth = 1 + (draw.bits() % u64::from(job.teeth)) as u32;
            let size = signed(draw, 0.003, 0.05);
            planted.slip = Some((tooth, size));
            Truth { fault: Fault::Slip(tooth), size }
        }
        Kind::Clearance => {
            planted.setting_deg = signed(draw, 0.2, 2.0);
            Truth { fault: Fault::Clearance, size: job.relief_off_deg(planted) }
        }
        Kind::Runout | Kind::TiltedRunout | Kind::Nothing | Kind::Two => {
            let angle = draw.even(0.0, TAU);
            let length = draw.by_size(0.003, 0.04);
            planted.offset = (length * angle.cos(), length * angle.sin());
            if kind == Kind::TiltedRunout {
                let angle = draw.even(0.0, TAU);
                let length = draw.by_size(0.005, 0.04);
                planted.tilt = (length * angle.cos(), length * angle.sin());
            }
            let (x, y) = (planted.offset.0 + planted.tilt.0, planted.offset.1 + planted.tilt.1);
            Truth { fault: Fault::Runout, size: length.max(x.hypot(y)) }
        }
    }
}

impl Came {
    /// Half of the band that the check states for this fault with these readings, with the fault
    /// that looks most like it not ruled out; None where it says that they cannot show it, or
    /// cannot tell it from that other one.
    fn stated(&self, fault: Fault) -> Option<f64> {
        let seen = self.check.seen.iter().find(|seen| seen.fault == fault)?;
        seen.apart_half_width
    }

    /// The planted faults above three times the band stated.
    pub(crate) fn plain(&self) -> impl Iterator<Item = &Truth> {
        let is_plain =
            |truth: &&Truth| self.stated(truth.fault).is_some_and(|w| truth.size.abs() >= 3.0 * w);
        self.truths.iter().filter(is_plain)
    }

    /// Whether this fault is named, and none that was not planted.
    pub(crate) fn names_right(&self, fault: Fault) -> bool {
        let found = self.check.findings.iter().any(|finding| finding.fault == fault);
        found && !self.names_wrong()
    }

    /// Whether a fault is named that was not planted.
    pub(crate) fn names_wrong(&self) -> bool {
        let planted = |fault: Fault| self.truths.iter().any(|truth| truth.fault == fault);
        self.check.findings.iter().any(|finding| !planted(finding.fault))
    }

    /// Whether every planted fault is named and no other.
    pub(crate) fn is_all_right(&self) -> bool {
        self.truths.iter().all(|truth| self.names_right(truth.fault))
    }

    /// For each planted fault of a case in which all are named: whether its size lies in the band
    /// that is stated with it.
    pub(crate) fn in_band(&self) -> Vec<bool> {
        let held = |truth: &Truth| {
            let finding = self.check.findings.iter().find(|f| f.fault == truth.fault)?;
            Some((finding.size.value - truth.size).abs() <= finding.size.half_width)
        };
        if self.is_all_right() { self.truths.iter().filter_map(held).collect() } else { Vec::new() }
    }

    /// Whether the check says that these readings cannot tell.
    pub(crate) fn is_unclear(&self) -> bool {
        self.check.outcome == Outcome::Unclear
    }
}
